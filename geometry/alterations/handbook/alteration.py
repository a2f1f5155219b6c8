"""An alteration of the handbook as a recorded step."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.cutting_marks import holes_left
from geometry.alterations.edge_steps import SquareCorner
from geometry.alterations.follow_edge import following
from geometry.alterations.handbook.bench import Bench, ChalkLine, Handle, NamedPlace
from geometry.alterations.handbook.carried import carried, ground
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.facings import left_behind
from geometry.alterations.handbook.panels import role_of
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.step import EdgeChange, Outcome, Step, WithAmount, edge_changes
from geometry.alterations.trued_corners import aim_steps, corner_steps, square_steps
from geometry.errors import PatternError, StepError
from geometry.findings import Finding, Level
from geometry.model.garment import unhanded
from geometry.model.pattern import Pattern
from geometry.regions import is_simple


@dataclass(frozen=True, slots=True)
class Layout:
    """An alteration laid out on a pattern before it is settled.

    Attributes:
        pieces: Names of the pieces it touches.
        ground: The pattern it is seen to work on: before its first step, with pieces cut single where it does that.
        handles: The places it takes hold of, in the order they are used; a repeated name is one handle.
        chalk: The cuts, as they lie on the pieces in the end.
        steps: The steps it is made of, each for the pattern as the ones before left it.
        cautions: What should be told before the amount is settled.
        trouble: Why it cannot be done as asked, "" if it can; the handles up to there are given.
    """

    pieces: tuple[str, ...]
    ground: Pattern
    handles: tuple[Handle, ...]
    chalk: tuple[ChalkLine, ...]
    steps: tuple[Step, ...]
    cautions: tuple[str, ...]
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class Alteration(WithAmount):
    """An entry of the handbook carried out on all the pieces that belong together.

    Attributes:
        entry: Its code, for example "D01".
        amount_mm: Its amount; negative does the inverse.
        variant: The name of the way it is done; "" takes the first.
        pieces: Names of the pieces it may touch; empty finds them by what they are.
        places: Places that were dragged away from where the entry puts them.
    """

    kind: ClassVar[str] = "alteration"

    entry: str
    amount_mm: float
    variant: str = ""
    pieces: tuple[str, ...] = ()
    places: tuple[NamedPlace, ...] = ()

    def __post_init__(self) -> None:
        entry_of(self.entry).variant(self.variant)

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The pieces it was limited to; empty where it finds them in the pattern (see ``laid_out``)."""
        return self.pieces

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with every step of the entry carried out; by nothing, the very same pattern."""
        entry = entry_of(self.entry)
        if self.amount_mm == 0.0:
            return Outcome(pattern)
        entry.refuse_amount(self.amount_mm)
        bench = self._bench(pattern)
        _carry_out(entry, bench, pattern)
        told = tuple(_caution(text) for text in entry.amount.cautions_at(self.amount_mm))
        chalk = tuple(line.points for line in bench.chalk)
        findings = (*told, *_once(bench.findings), *left_behind(pattern, bench.pattern))
        return Outcome(bench.pattern, _changes(pattern, bench.pattern), findings, chalk)

    def parts(self, pattern: Pattern) -> tuple[Step, ...]:
        """The steps it is made of on a pattern, to be recorded one by one and edited freely."""
        if self.amount_mm == 0.0:
            return ()
        entry_of(self.entry).refuse_amount(self.amount_mm)
        bench = self._bench(pattern)
        _carry_out(entry_of(self.entry), bench, pattern)
        return tuple(bench.steps)

    def laid_out(self, pattern: Pattern) -> Layout:
        """What it would do on a pattern: handles, cuts and cautions, as far as it can be done."""
        entry = entry_of(self.entry)
        bench, trouble = self._bench(pattern), ""
        try:
            entry.refuse_amount(self.amount_mm)
            _carry_out(entry, bench, pattern)
        except PatternError as error:
            trouble = error.sentence
        named = {(handle.place.piece, handle.place.name): handle for handle in reversed(bench.handles)}
        touched = {name for step in bench.steps for name in step.piece_names} | {piece for piece, _ in named}
        steps = tuple(bench.steps)
        handles, chalk = carried(pattern, steps[: bench.cut_steps], reversed(named.values()), tuple(bench.chalk))
        return Layout(
            pieces=tuple(piece.name for piece in pattern.pieces if piece.name in touched),
            ground=ground(pattern, steps),
            handles=handles,
            chalk=chalk,
            steps=steps,
            cautions=entry.amount.cautions_at(self.amount_mm),
            trouble=trouble,
        )

    def with_place(self, place: NamedPlace) -> Alteration:
        """The same alteration with a place dragged to somewhere else."""
        kept = tuple(old for old in self.places if (old.piece, old.name) != (place.piece, place.name))
        return replace(self, places=(*kept, place))

    def _bench(self, pattern: Pattern) -> Bench:
        variant = entry_of(self.entry).variant(self.variant)
        return Bench(pattern, self.amount_mm, variant=variant, only=self.pieces, places=self.places)


def alteration(entry: Entry, amount_mm: float | None = None, variant: str = "") -> Alteration:
    """An entry as a step, by its default amount if none is given."""
    return Alteration(entry.code, entry.amount.default_mm if amount_mm is None else amount_mm, variant)


def _carry_out(entry: Entry, bench: Bench, before: Pattern) -> None:
    entry.plan(bench)
    bench.refuse_unknown_places()
    for aim in aim_steps(before, bench.pattern):
        with suppress(StepError):  # a dart that cannot be pointed there is told by the checks
            bench.do(aim)
    bench.true_darts(before)
    cuts = tuple(bench.chalk)
    bench.cut_steps = len(bench.steps)
    bench.do(*holes_left(before, bench.pattern))
    corners: list[JoinCorner | SquareCorner] = []
    if not bench.is_limited:
        corners += [*square_steps(before, bench.pattern), *corner_steps(before, bench.pattern)]
    for corner in corners:
        if not _is_kept(entry, bench.pattern, corner):
            with suppress(StepError):  # a corner that cannot be drawn so is told by the checks
                bench.do(corner)
    bench.do(*(() if bench.is_limited else following(before, bench.pattern)))
    bench.chalk = list(cuts)  # what is mended in the end is no cut
    _refuse_crossing(before, bench.pattern)


def _is_kept(entry: Entry, pattern: Pattern, corner: JoinCorner | SquareCorner) -> bool:
    """Whether an entry promises that an edge a corner would draw anew is left alone, or agrees with its neighbour."""
    kept = {(each.piece, each.edge) for each in entry.keeps}
    ends = [(corner.piece, corner.edge)]
    if isinstance(corner, JoinCorner):
        ends.append((corner.other_piece, corner.other_edge))
    pieces = ((pattern.piece(name), edge) for name, edge in ends)
    roles = [(role_of(piece), piece.edge(edge).role) for piece, edge in pieces]
    return any(each in kept or each[1] in entry.matches for each in roles)


def _changes(before: Pattern, after: Pattern) -> tuple[EdgeChange, ...]:
    """The change of every edge of every piece that is not the same object any more, from first to last."""
    known = {piece.name: piece for piece in before.pieces}
    return tuple(
        change
        for piece in after.pieces
        if piece is not known.get(piece.name)
        for change in edge_changes(known.get(piece.name) or known.get(unhanded(piece.name), piece), piece)
    )


def _refuse_crossing(before: Pattern, after: Pattern) -> None:
    known = {piece.name: piece for piece in before.pieces}
    for piece in after.pieces:
        old = known.get(piece.name)
        if piece is not old and not is_simple(piece.outline) and (old is None or is_simple(old.outline)):
            raise StepError(f'The outline of "{piece.name}" would cross itself by so much; give a smaller amount.')


def _once(findings: list[Finding]) -> tuple[Finding, ...]:
    return tuple(dict.fromkeys(findings))


def _caution(text: str) -> Finding:
    return Finding("amount-caution", Level.WARN, text)
