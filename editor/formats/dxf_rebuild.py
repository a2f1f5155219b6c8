"""A sound, small DXF text for the full reader: header, blocks and entities with every tag looked at.

Tables, handles, colours and the like carry nothing for a pattern and are where files are most often
broken, so they stay behind. Layers and blocks get numbers for names: no name the general library
refuses can lose a file. Numbers that are none, and coordinates far out, are refused here with the block named.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from editor.formats.dxf_container import is_number_code
from editor.formats.dxf_content import LARGEST_COORDINATE, layer_of
from editor.formats.dxf_structure import Contents, Entity, RawBlock
from geometry.errors import PatternError

Pairs = list[tuple[int, str]]

_SUBCLASS = {
    "LWPOLYLINE": "AcDbPolyline",
    "SPLINE": "AcDbSpline",
    "MTEXT": "AcDbMText",
    "ELLIPSE": "AcDbEllipse",
}
_NEEDED = {
    "LINE": (10, 20, 11, 21),
    "POINT": (10, 20),
    "VERTEX": (10, 20),
    "TEXT": (10, 20, 1),
    "ATTRIB": (1,),
    "MTEXT": (10, 20),
    "ARC": (10, 20, 40, 50, 51),
    "CIRCLE": (10, 20, 40),
    "ELLIPSE": (10, 20, 11, 21, 40),
    "LWPOLYLINE": (10, 20),
    "SPLINE": (71,),
    "POLYLINE": (),
    "INSERT": (2,),
}
"""The entities that are read, and the tags without which they say nothing."""

_DROPPED = frozenset((5, 6, 7, 8, 62, 66, 100, 105, 310, 330, 340, 347, 348, 360, 370, 390, 420, 430, 440))
_SMALLEST_XDATA = 1000
_EMBEDDED = 101
_GROUP = 102


@dataclass(slots=True)
class Rebuilt:
    """The sound text, the names behind its numbers, and what was left out of it."""

    lines: list[str] = field(default_factory=list)
    layers: list[str] = field(default_factory=list)
    blocks: list[str] = field(default_factory=list)
    types: list[list[str]] = field(default_factory=list)
    unused: Counter[tuple[str, str]] = field(default_factory=Counter)
    taken: Counter[str] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)

    def text(self) -> str:
        """Return the whole DXF text."""
        return "\n".join(self.lines) + "\n"


def rebuild(contents: Contents) -> Rebuilt:
    """Write the contents anew, entity by entity; ``types`` tells per block, then for the model, what was written.

    Raises:
        PatternError: If a number is none, or a coordinate lies too far out.
    """
    return _Rebuilder(contents).run()


class _Rebuilder:
    def __init__(self, contents: Contents) -> None:
        self.contents = contents
        self.out = Rebuilt()
        self.layer_numbers: dict[str, int] = {}
        self.block_numbers = {block.name: number for number, block in enumerate(contents.blocks)}

    def run(self) -> Rebuilt:
        self._put((0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1015"), (0, "ENDSEC"))
        self._put((0, "SECTION"), (2, "BLOCKS"))
        for block in self.contents.blocks:
            self.out.blocks.append(block.name)
            self._put((0, "BLOCK"), (8, "0"), *self._block_head(block))
            self._write_all(block.entities, f"block '{block.name}'")
            self._put((0, "ENDBLK"), (8, "0"))
        self._put((0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES"))
        self._write_all(self.contents.model, "the drawing outside blocks")
        self._put((0, "ENDSEC"), (0, "EOF"))
        return self.out

    def _put(self, *pairs: tuple[int, str]) -> None:
        for code, value in pairs:
            self.out.lines += (str(code), value)

    def _block_head(self, block: RawBlock) -> Pairs:
        place = f"block '{block.name}'"
        base = [(code, value) for code, value in self._sound(block.head, place) if code in (10, 20)]
        name = f"B{self.block_numbers[block.name]}"
        return [(2, name), (70, "0"), *base, (30, "0"), (3, name)]

    def _write_all(self, entities: Sequence[Entity], place: str) -> None:
        written: list[str] = []
        self.out.types.append(written)
        for entity in entities:
            self.out.taken[entity.type] += 1
            pairs = self._sound(entity, place) if entity.type in _NEEDED and entity.type != "ATTRIB" else []
            target = self.contents.placed_by(entity) if entity.type == "INSERT" else None
            if entity.type == "INSERT" and target is not None:
                pairs = [(2, f"B{self.block_numbers[target.name]}") if code == 2 else (code, v) for code, v in pairs]
                pairs += [(code, "0") for code in (10, 20) if code not in dict(pairs)]
            if not pairs or not self._complete(entity.type, pairs) or (entity.type == "INSERT" and target is None):
                self._leave(entity)
                continue
            written.append(entity.type)
            self._write(entity, pairs, place)

    def _write(self, entity: Entity, pairs: Pairs, place: str) -> None:
        parts = list(self._sound_parts(entity, place))
        self._put((0, entity.type), *self._marked(entity.type, pairs))
        if parts:
            self._put((66, "1"))
        for kind, part in parts:
            self._put((0, kind), *part)
        if parts or entity.type == "POLYLINE":
            self._put((0, "SEQEND"))

    @staticmethod
    def _marked(kind: str, pairs: Pairs) -> Pairs:
        """Put the marks around the layer that newer entities need."""
        subclass = _SUBCLASS.get(kind)
        return [(100, "AcDbEntity"), pairs[0], (100, subclass), *pairs[1:]] if subclass else pairs

    def _sound_parts(self, entity: Entity, place: str) -> Iterator[tuple[str, Pairs]]:
        for part in self._parts(entity):
            self.out.taken[part.type] += 1
            pairs = self._sound(part, place)
            if self._complete(part.type, pairs):
                yield part.type, pairs
            else:
                line = self.contents.tags.line_of(part.start)
                self.out.notes.append(f"A {part.type} in {place} (line {line}) has no place and was left out.")

    def _parts(self, entity: Entity) -> Iterator[Entity]:
        codes = self.contents.tags.codes
        starts = [at for at in range(entity.body_end, entity.end) if codes[at] == 0]
        for start, end in pairwise([*starts, entity.end]):
            yield Entity(self.contents.tags.values[start].strip().upper(), start, end, end)

    @staticmethod
    def _complete(kind: str, pairs: Pairs) -> bool:
        return {code for code, _ in pairs}.issuperset(_NEEDED[kind])

    def _leave(self, entity: Entity) -> None:
        self.out.unused[entity.type, self._layer(entity)] += 1
        self.out.taken["VERTEX"] += sum(part.type == "VERTEX" for part in self._parts(entity))

    def _layer(self, entity: Entity) -> str:
        return layer_of(self.contents.value(entity, 8))

    def _layer_number(self, entity: Entity) -> int:
        key = self._layer(entity)
        if key not in self.layer_numbers:
            self.layer_numbers[key] = len(self.out.layers)
            self.out.layers.append(key)
        return self.layer_numbers[key]

    def _sound(self, entity: Entity, place: str) -> Pairs:
        """Return the layer's number and the tags that matter, numbers looked at."""
        kept: Pairs = [(8, f"L{self._layer_number(entity)}")]
        in_group = False
        for at in range(entity.start + 1, entity.body_end):
            code, value = self.contents.tags.codes[at], self.contents.tags.values[at]
            if code == _GROUP:
                in_group = value.strip().startswith("{")
            elif code == _EMBEDDED or code >= _SMALLEST_XDATA:
                break
            elif code not in _DROPPED and not in_group:
                kept.append((code, self._sound_value(at, code, value, place)))
        return kept

    def _sound_value(self, at: int, code: int, value: str, place: str) -> str:
        if is_number_code(code):
            number = self._number(at, value, place)
            if code < 40 and abs(number) > LARGEST_COORDINATE:
                raise self._refuse(at, f"the coordinate {value.strip()} is impossibly large", place)
            return value.strip()
        if 60 <= code <= 79 or 90 <= code <= 99 or 170 <= code <= 179 or 270 <= code <= 289:
            return str(int(self._number(at, value, place)))
        return value

    def _number(self, at: int, value: str, place: str) -> float:
        try:
            number = float(value)
        except ValueError:
            number = math.nan
        if not math.isfinite(number):
            raise self._refuse(at, f"'{value.strip()}' is not a number", place)
        return number

    def _refuse(self, at: int, what: str, place: str) -> PatternError:
        tags = self.contents.tags
        sentence = f"{tags.source}, line {tags.line_of(at)}, in {place}: {what}; correct or export the file again."
        return PatternError(sentence, code="bad-number")
