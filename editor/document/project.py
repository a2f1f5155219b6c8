"""A project: the pattern as it was bought, the wearers, and the rounds of each; frozen values without files."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TypeVar

from geometry.alterations.replay import Record, Replay, replay
from geometry.checks.limits import DEFAULT_LIMITS, Limits
from geometry.errors import MissingPartError
from geometry.fitting.body import Hand
from geometry.fitting.ease import NO_OWN_EASE, GarmentEase
from geometry.fitting.levels import SizeBlend
from geometry.fitting.size_chart import SizeChart
from geometry.fitting.size_choice import Bones
from geometry.identity import Same
from geometry.model.pattern import Nest, Pattern
from geometry.units import Unit

Part = TypeVar("Part", "Wearer", "Round")


@dataclass(frozen=True, slots=True)
class Base:
    """The pattern as imported; nothing ever changes it.

    Attributes:
        source_name: Name of the drawing file it came from, without folders.
        source_bytes: That file, byte for byte.
        unit: The unit it was drawn in.
        nest: Its pieces in all sizes.
    """

    source_name: str
    source_bytes: bytes
    unit: Unit
    nest: Nest


@dataclass(frozen=True, slots=True)
class Measurement:
    """One length taken of a wearer on one day; earlier ones are kept beside it."""

    name: str
    length_mm: float
    date: str = ""
    taken_by: str = ""
    hand: Hand = Hand.BOTH


@dataclass(frozen=True, slots=True)
class FitNote:
    """What was seen on a toile, and where on a piece; without a piece it is about the whole.

    Attributes:
        text: What was seen.
        piece: Name of the piece, "" for the whole.
        x: Where on it, in mm.
        y: Where on it, in mm.
        is_on_base: Whether the place is one of the piece before any step, from where every step takes it along like
            whatever is marked on the cloth. If not, it stays where it was seen.
    """

    text: str
    piece: str = ""
    x: float = 0.0
    y: float = 0.0
    is_on_base: bool = False


@dataclass(frozen=True, slots=True)
class Round:
    """One toile or the final garment: the steps that lead to it.

    Attributes:
        id: Stable name, unique among the wearer's rounds.
        name: What it is called, for example "toile 1".
        date: Year, month and day as 2026-05-17, "" where none was noted.
        records: The journal.
        notes: What was seen when it was tried on.
        photos: Names of the project's members that show it.
    """

    id: str
    name: str
    date: str = ""
    records: tuple[Record, ...] = ()
    notes: tuple[FitNote, ...] = ()
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wearer:
    """Someone the pattern is altered for.

    Attributes:
        id: Stable name, unique in the project.
        name: What she or he is called.
        size: Name of the size the rounds start from.
        rounds: Oldest first.
        measurements: In the order they were taken.
        sizes: The size at every level where they are blended, ``None`` for ``size`` throughout.
        bones: What decides between two sizes.
    """

    id: str
    name: str
    size: str
    rounds: tuple[Round, ...] = ()
    measurements: tuple[Measurement, ...] = ()
    sizes: SizeBlend | None = None
    bones: Bones = Bones.UNKNOWN

    def round(self, round_id: str) -> Round:
        """The round of that id; ``MissingPartError`` if there is none."""
        return _part(self.rounds, round_id, f'round of "{self.name}"')

    def with_round(self, changed: Round) -> Wearer:
        """The wearer with the round of the same id replaced, or added as the last one."""
        return replace(self, rounds=_with_part(self.rounds, changed))


@dataclass(frozen=True, slots=True)
class Unread:
    """What another program or a later hand wrote into a project file: kept as it is and written back.

    Attributes:
        fields: For each unknown field its place (names, list entries by id or number) and its JSON text.
        members: Names and bytes of the unknown files in the container.
    """

    fields: tuple[tuple[tuple[str | int, ...], bytes], ...] = ()
    members: tuple[tuple[str, bytes], ...] = ()


@dataclass(frozen=True, slots=True)
class Project:
    """The pattern as bought and everyone it is altered for.

    Attributes:
        base: The pattern.
        wearers: In the order they were added.
        unread: What was in the file and is not known here.
        forgotten_seams: Ids of seams that were proposed and are not sewn.
        limits: What the checks let pass.
        chart: The size chart of the pattern, ``None`` where nobody gave one.
        ease: The ease asked for in this garment, where it is not the usual.
    """

    base: Base
    wearers: tuple[Wearer, ...] = ()
    unread: Unread = Unread()
    forgotten_seams: tuple[str, ...] = ()
    limits: Limits = DEFAULT_LIMITS
    chart: SizeChart | None = None
    ease: GarmentEase = NO_OWN_EASE

    def wearer(self, wearer_id: str) -> Wearer:
        """The wearer of that id; ``MissingPartError`` if there is none."""
        return _part(self.wearers, wearer_id, "wearer")

    def with_wearer(self, changed: Wearer) -> Project:
        """The project with the wearer of the same id replaced, or added as the last one."""
        return replace(self, wearers=_with_part(self.wearers, changed))

    def with_records(self, wearer_id: str, round_id: str, records: tuple[Record, ...]) -> Project:
        """The project with the journal of one round replaced."""
        wearer = self.wearer(wearer_id)
        return self.with_wearer(wearer.with_round(replace(wearer.round(round_id), records=records)))

    def start(self, wearer_id: str) -> Pattern:
        """The bought pattern in the wearer's size, or in the sizes blended for that wearer."""
        return start_of(self.base.nest, self.wearer(wearer_id))

    def replayed(self, wearer_id: str, round_id: str) -> Replay:
        """The pattern of one round: the bought one with the journal carried out on it."""
        return replay(self.start(wearer_id), self.wearer(wearer_id).round(round_id).records)


def start_of(nest: Nest, wearer: Wearer) -> Pattern:
    """The pattern that a wearer's rounds start from; the very same each time."""
    return nest.pattern(wearer.size) if wearer.sizes is None else _blended(Same(nest), wearer.sizes)


@lru_cache(maxsize=64)
def _blended(nest: Same[Nest], sizes: SizeBlend) -> Pattern:
    from geometry.fitting.blending import blend  # most wearers have one size

    return blend(nest.value, sizes).pattern


def new_project(base: Base, *, wearer: str = "wearer 1", date: str = "") -> Project:
    """A project for a pattern just imported: one wearer in its sample size, one round without steps."""
    first = Wearer("1", wearer, base.nest.sample_size, (Round("1", "toile 1", date),))
    return Project(base, (first,))


def next_id(taken: Iterable[str]) -> str:
    """The number after the largest number among ids, as text: the id for one more wearer, round or record."""
    return str(max((int(name) for name in taken if name.isascii() and name.isdigit()), default=0) + 1)


def _part(parts: tuple[Part, ...], part_id: str, kind: str) -> Part:
    for part in parts:
        if part.id == part_id:
            return part
    names = ", ".join(f'"{part.id}"' for part in parts) or "none"
    raise MissingPartError(f'There is no {kind} with the id "{part_id}"; there is {names}.', code="no-such-part")


def _with_part(parts: tuple[Part, ...], changed: Part) -> tuple[Part, ...]:
    if any(part.id == changed.id for part in parts):
        return tuple(changed if part.id == changed.id else part for part in parts)
    return parts + (changed,)
