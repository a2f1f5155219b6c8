"""From tags to what the file is made of: header variables, blocks, and entities with their parts.

Missing closers (SEQEND, ENDBLK, ENDSEC, EOF) and doubled block names are mended here, so that both
readers start from the same sound structure. A file that was cut off is refused.
"""

import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from editor.formats.dxf_container import Tags
from geometry.errors import PatternError

READ_ON_END = frozenset(("OBJECTS", "THUMBNAILIMAGE", "ACDSDATA"))
"""Sections behind all drawn things: a file that ends inside them has lost nothing of the drawing."""

_LAYOUT = re.compile(r"[*$](model|paper)_space", re.IGNORECASE)
_PARTS = {"POLYLINE": "VERTEX", "INSERT": "ATTRIB"}
_NEEDED = {"LINE": (10, 20, 11, 21), "TEXT": (10, 20, 1), "POINT": (10, 20), "INSERT": (2,)}


class Entity(NamedTuple):
    """One entity: its type and where its tags stand, [start, body_end) its own, [body_end, end) its parts."""

    type: str
    start: int
    body_end: int
    end: int


@dataclass(slots=True)
class RawBlock:
    """One BLOCK of the file: its unique name, the name as written, and its entities."""

    name: str
    written: str
    head: Entity
    entities: list[Entity] = field(default_factory=list)


@dataclass(slots=True)
class Contents:
    """Everything drawn in a file, by block and outside blocks (``model``).

    ``targets`` says which block an INSERT places where several blocks have the same name, by the
    INSERT's start. ``strays`` belong to no block and no polyline, or to a paper layout. ``counts`` are
    those of the entity types in the raw tags, for proof that nothing was lost.
    """

    tags: Tags
    header: dict[str, str] = field(default_factory=dict)
    blocks: list[RawBlock] = field(default_factory=list)
    model: list[Entity] = field(default_factory=list)
    strays: list[Entity] = field(default_factory=list)
    counts: Counter[str] = field(default_factory=Counter)
    by_name: dict[str, RawBlock] = field(default_factory=dict)
    targets: dict[int, RawBlock] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def pairs(self, entity: Entity) -> list[tuple[int, str]]:
        """Return the entity's own tags, without those of its parts."""
        own = slice(entity.start + 1, entity.body_end)
        return list(zip(self.tags.codes[own], self.tags.values[own], strict=True))

    def value(self, entity: Entity, code: int, default: str = "") -> str:
        """Return the entity's first value with this group code, stripped."""
        for at in range(entity.start + 1, entity.body_end):
            if self.tags.codes[at] == code:
                return self.tags.values[at].strip()
        return default

    def placed_by(self, insert: Entity) -> RawBlock | None:
        """Return the block an INSERT places, None if the file has no such block."""
        return self.targets.get(insert.start) or self.by_name.get(block_key(self.value(insert, 2)))


def block_key(written: str) -> str:
    """Return what makes two block names the same one: case and outer blanks do not count."""
    return written.strip().casefold()


def read_structure(tags: Tags) -> Contents:
    """Take the tags apart into blocks and entities.

    Raises:
        PatternError: If the file was cut off.
    """
    contents = _Scan(tags).contents
    _refuse_lost_blocks(contents)
    _empty_layout_blocks(contents)
    _name_blocks(contents)
    return contents


class _Scan:
    """One pass over the entities of a file; knows the open section and the open block."""

    def __init__(self, tags: Tags) -> None:
        self.tags = tags
        self.contents = Contents(tags, notes=list(tags.notes))
        self.section: str | None = None
        self.sections: list[str] = []
        self.block: RawBlock | None = None
        self.last: Entity | None = None
        self.open_run = False
        self.mended: Counter[str] = Counter()
        self.starts = np.flatnonzero(tags.code_array == 0).tolist()
        written = [tags.values[at] for at in self.starts]
        kinds = {word: word.strip().upper() for word in set(written)}
        self.types = [kinds[word] for word in written]
        self.turns = [at for at, (kind, after) in enumerate(pairwise(self.types), start=1) if kind != after]
        self.starts.append(len(tags.codes))
        self.contents.counts.update(self.types[: self.types.index("EOF")] if "EOF" in self.types else self.types)
        ended = self._walk()
        if not ended:
            self._refuse_if_cut()
            self.mended["the end mark of the file"] += 1
        self.contents.notes += [
            f"{what} was missing{f' ({count} times)' if count > 1 else ''} and was put in."
            for what, count in _told(self.mended)
        ]

    def _walk(self) -> bool:
        """Take every entity in turn; tell whether the end mark was met."""
        at = 0
        while at < len(self.types):
            kind = self.types[at]
            if kind == "EOF":
                self._close_section(mended=self.section is not None)
                return True
            at = self._step(at, kind)
        return False

    def _step(self, at: int, kind: str) -> int:
        """Take one entity with its parts; return the index of the next."""
        entity = Entity(kind, self.starts[at], self.starts[at + 1], self.starts[at + 1])
        if kind == "SECTION":
            self._close_section(mended=self.section is not None)
            self.section = self.contents.value(entity, 2).upper()
            self.sections.append(self.section)
            if self.section == "HEADER":
                self._read_header(entity)
        elif kind == "ENDSEC":
            self._close_section(mended=False)
        elif kind == "BLOCK" and self.section == "BLOCKS":
            self._close_block(mended=self.block is not None)
            self.block = RawBlock("", self.contents.value(entity, 2), entity)
            self.contents.blocks.append(self.block)
        elif kind == "ENDBLK":
            self._close_block(mended=False)
        elif self.section in ("BLOCKS", "ENTITIES"):
            return self._take_entity(at, entity)
        return at + 1

    def _take_entity(self, at: int, entity: Entity) -> int:
        part = _PARTS.get(entity.type)
        at += 1
        if entity.type == "POLYLINE" or (part and self.types[at : at + 1] == [part]):
            if self.types[at : at + 1] == [part]:
                at = self._end_of_run(at)
            entity = entity._replace(end=self.starts[at])
            closed = self.types[at : at + 1] == ["SEQEND"]
            self.open_run = not closed
            self.mended["SEQEND, the end mark of a polyline,"] += not closed
            at += closed
        if entity.type != "SEQEND":
            self._home(entity).append(entity)
            self.last = entity
        return at

    def _end_of_run(self, at: int) -> int:
        """The index of the next entity of another type."""
        turn = bisect_right(self.turns, at)
        return self.turns[turn] if turn < len(self.turns) else len(self.types)

    def _home(self, entity: Entity) -> list[Entity]:
        """Return the list an entity belongs to; a lone VERTEX and what is on paper or between blocks are strays."""
        if entity.type == "VERTEX":
            return self.contents.strays
        if self.section == "ENTITIES":
            on_paper = self.contents.value(entity, 67) == "1"
            return self.contents.strays if on_paper else self.contents.model
        return self.block.entities if self.block else self.contents.strays

    def _read_header(self, entity: Entity) -> None:
        name = ""
        for code, value in self.contents.pairs(entity):
            if code == 9:
                name = value.strip().upper()
            elif name:
                self.contents.header.setdefault(name, value.strip())

    def _close_block(self, *, mended: bool) -> None:
        self.mended["ENDBLK, the end mark of a block,"] += mended
        self.block = None

    def _close_section(self, *, mended: bool) -> None:
        self._close_block(mended=self.block is not None)
        self.mended["ENDSEC, the end mark of a section,"] += mended
        self.section = None

    def _refuse_if_cut(self) -> None:
        inside = self.section is not None and self.section not in READ_ON_END
        in_drawing = inside and self.section == "ENTITIES"
        lost_tail = inside and (self.tags.cut_short or self.open_run or self._last_is_short())
        if (inside and not in_drawing) or lost_tail or not {"BLOCKS", "ENTITIES"} & set(self.sections):
            raise self._cut_off()
        self.section = None

    def _last_is_short(self) -> bool:
        if self.last is None:
            return False
        present = {code for code, _ in self.contents.pairs(self.last)}
        return not present.issuperset(_NEEDED.get(self.last.type, ()))

    def _cut_off(self) -> PatternError:
        whole = [block.written for block in self.contents.blocks if block is not self.block]
        place = f" after block '{whole[-1]}'" if whole else ""
        sentence = f"{self.tags.source} is cut off{place}, so pieces may be missing; copy or export it again."
        return PatternError(sentence, code="cut-off")


def _told(mended: Counter[str]) -> list[tuple[str, int]]:
    return [(what[0].upper() + what[1:], count) for what, count in mended.items() if count]


# ---- blocks ----


def _refuse_lost_blocks(contents: Contents) -> None:
    """Count the BLOCK tags of the file itself against the blocks found."""
    there = contents.counts["BLOCK"]
    if there != len(contents.blocks):
        sentence = (
            f"{contents.tags.source} has {there} blocks but only {len(contents.blocks)} could be read; export it again."
        )
        raise PatternError(sentence, code="incomplete")


def _empty_layout_blocks(contents: Contents) -> None:
    """Take the blocks that stand for the drawing itself and for its paper layouts out of the list."""
    blocks = contents.blocks
    contents.blocks = []
    for block in blocks:
        if _LAYOUT.match(block.written):
            home = contents.model if "model" in block.written.lower() else contents.strays
            home.extend(block.entities)
        else:
            contents.blocks.append(block)


def _name_blocks(contents: Contents) -> None:
    """Give every block a name of its own; the n-th INSERT of a doubled name places its n-th block."""
    same: dict[str, list[RawBlock]] = {}
    for block in contents.blocks:
        same.setdefault(block_key(block.written), []).append(block)
    taken = set(same)
    for key, blocks in same.items():
        for number, block in enumerate(blocks, start=1):
            block.name = block.written or "unnamed"
            while number > 1 and block_key(block.name) in taken:
                block.name = f"{block.written or 'unnamed'}_{number}"
                number += 1
            taken.add(block_key(block.name))
            contents.by_name.setdefault(block_key(block.name), block)
        if len(blocks) > 1:
            contents.notes.append(_doubled_note(blocks))
            _share_out(contents, key, blocks)
        elif not key:
            contents.notes.append("A block without a name was called 'unnamed'.")


def _doubled_note(blocks: Sequence[RawBlock]) -> str:
    names = ", ".join(f"'{block.name}'" for block in blocks[1:])
    return f"{len(blocks)} blocks are called '{blocks[0].written}'; the later ones are now {names}."


def _share_out(contents: Contents, key: str, blocks: Sequence[RawBlock]) -> None:
    inserts = [entity for entity in contents.model if entity.type == "INSERT"]
    same = [insert for insert in inserts if block_key(contents.value(insert, 2)) == key]
    if len(same) == len(blocks):
        contents.targets.update((insert.start, block) for insert, block in zip(same, blocks, strict=True))
