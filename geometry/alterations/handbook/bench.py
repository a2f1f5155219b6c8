"""The bench on which an entry is carried out: it holds the pattern, does the steps and keeps what they say."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass

from geometry.affine import Point, Points, angle_between
from geometry.alterations.anchors import Anchor
from geometry.alterations.dart_truing import TrueDart
from geometry.alterations.drawn_cuts import cuts
from geometry.alterations.handbook.panels import Panel, PieceRole, hands_of, role_of
from geometry.alterations.step import Step
from geometry.errors import StepError
from geometry.findings import Finding, Level
from geometry.model.dart import Dart
from geometry.model.garment import hand_in
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import STRAIGHT_MM


@dataclass(frozen=True, slots=True)
class NamedPlace:
    """A place of an entry that was dragged away from where it is by default.

    Attributes:
        piece: Name of the piece.
        name: Name of the place on that piece, as the entry calls it.
        anchor: Where it is now.
    """

    piece: str
    name: str
    anchor: Anchor


@dataclass(frozen=True, slots=True, eq=False)
class Handle:
    """A place that an entry takes hold of, to be shown and dragged.

    Attributes:
        place: Its piece, name and anchor.
        at: Where it lies on that piece as the entry leaves it, in mm; until that is known, as it was found.
        piece: The piece as the place was found on it, after the steps before.
        found_at: Where it was found there.
    """

    place: NamedPlace
    at: Point
    piece: Piece
    found_at: Point


@dataclass(frozen=True, slots=True, eq=False)
class ChalkLine:
    """A cut on a piece, along the part that does not move: a chain of shape (n, 2), mm."""

    piece: str
    points: Points


class Bench:
    """A pattern being altered, one step after another; used once, by one entry's plan.

    Attributes:
        pattern: The pattern as the steps so far left it.
        amount_mm: The amount asked for.
        variant: The name of the variant asked for, "" where there is only one.
        hand: "left" or "right" where only that half of the body is altered.
        cut_steps: How many of its steps are the entry's own; what follows mends corners, holes and facings. ``None``
            while the entry's plan is at work.
    """

    def __init__(
        self,
        pattern: Pattern,
        amount_mm: float,
        *,
        variant: str = "",
        only: tuple[str, ...] = (),
        places: tuple[NamedPlace, ...] = (),
    ) -> None:
        for name in only:
            pattern.piece(name)
        self.pattern = pattern
        self.amount_mm = amount_mm
        self.variant = variant
        self.hand = ""
        self.steps: list[Step] = []
        self.cut_steps: int | None = None
        self.handles: list[Handle] = []
        self.chalk: list[ChalkLine] = []
        self.findings: list[Finding] = []
        self._only = frozenset(only)
        self._places = {(place.piece, place.name): place.anchor for place in places}

    @property
    def is_limited(self) -> bool:
        """Whether it may touch the named pieces only."""
        return bool(self._only)

    def panels(self, *roles: PieceRole) -> tuple[Panel, ...]:
        """The pieces of some roles as they are now, in the order of the roles; may be empty.

        A piece that holds both halves of the body, its edges called left and right, gives a panel for each half. With
        ``hand`` set only the panels of that hand are given, and pieces that go for either.
        """
        return tuple(
            Panel(piece, hand)
            for role in roles
            for piece in self.pattern.pieces
            if role_of(piece) is role and (not self._only or piece.name in self._only)
            for hand in hands_of(piece)
            if self.hand in ("", hand or hand_in(piece.name) or self.hand)
        )

    def needed(self, *roles: PieceRole) -> tuple[Panel, ...]:
        """The pieces of some roles, at least one of them.

        Raises:
            StepError: there is none.
        """
        panels = self.panels(*roles)
        if not panels:
            words = " or ".join(f'"{role.value}"' for role in roles)
            raise StepError(f"There is no piece to alter that is known as {words}; give the piece a name that says so.")
        return panels

    def now(self, panel: Panel) -> Panel:
        """A panel as the steps so far left its piece."""
        return Panel(self.pattern.piece(panel.name), panel.hand)

    def place(self, panel: Panel, name: str, default: Anchor) -> Anchor:
        """A place by its name: where it was dragged to, else where it is by default. It becomes a handle."""
        anchor = self._places.get((panel.name, name), default)
        at = panel.point(anchor)
        self.handles.append(Handle(NamedPlace(panel.name, name, anchor), at, panel.piece, at))
        return anchor

    def refuse_unknown_places(self) -> None:
        """Raises ``StepError`` for a place that was dragged but is not one of the entry's."""
        known = {(handle.place.piece, handle.place.name) for handle in self.handles}
        for piece, name in self._places.keys() - known:
            names = ", ".join(f'"{own}"' for on, own in sorted(known) if on == piece) or "none"
            raise StepError(f'This alteration has no place called "{name}" on "{piece}"; it has {names} there.')

    def do(self, *steps: Step) -> None:
        """Carry out steps, one after the other."""
        for step in steps:
            outcome = step.apply(self.pattern)
            for name in step.piece_names:
                self._refuse_turned_darts(name, outcome.pattern)
            self.pattern = outcome.pattern
            self.steps.append(step)
            self.findings += outcome.findings
            if cuts(step):
                self.chalk += [ChalkLine(step.piece_names[0], line) for line in outcome.chalk]

    def say(
        self, level: Level, code: str, text: str, *, piece: str | None = None, measured_mm: float | None = None
    ) -> None:
        """Keep something the person should know."""
        self.findings.append(Finding(code, level, text, piece, measured_mm=measured_mm))

    def true_darts(self, before: Pattern) -> None:
        """Draw darts with equal legs again where the steps so far left them crooked."""
        known = {piece.name: piece for piece in before.pieces}
        for piece in self.pattern.pieces:
            old = known.get(piece.name)
            if piece is old:
                continue
            were = {dart.id: dart for dart in old.darts} if old else {}
            for dart in piece.darts:
                if _is_crooked(piece, dart) and not (old and dart.id in were and _is_crooked(old, were[dart.id])):
                    with suppress(StepError):  # a mouth that cannot be drawn so is told by the checks
                        self.do(TrueDart(piece.name, dart.id))

    def _refuse_turned_darts(self, name: str, after: Pattern) -> None:
        """A dart that was closed by more than its width would lap over itself."""
        before = self.pattern.piece(name)
        known = {dart.id: dart for dart in before.darts}
        for piece in after.pieces:
            if piece.name != name or piece is before:
                continue
            for dart in piece.darts:
                old = known.get(dart.id)
                if old is not None and _opens(before, old) * _opens(piece, dart) <= 0:
                    raise StepError(
                        f'The dart "{dart.id}" on "{name}" is {before.intake_mm(old):.0f} mm wide and would close by '
                        "more than that; give a smaller amount."
                    )


def _is_crooked(piece: Piece, dart: Dart) -> bool:
    one, other = piece.legs_mm(dart)
    return abs(one - other) > STRAIGHT_MM


def _opens(piece: Piece, dart: Dart) -> float:
    return angle_between(dart.apex, *piece.mouth(dart))
