"""What the slash tool can be in the middle of, as frozen values."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from editor.tools.snapping import Snap, SnapKind
from geometry.affine import Affine, Point, Points, as_point, distance_mm, frozen_points, midpoint, unit_vector
from geometry.alterations.anchors import resolve
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut, side_of
from geometry.alterations.trueing import DEFAULT_REACH_MM
from geometry.curves import polyline
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class Idle:
    """Nothing is begun; ``over`` is what a press would catch, on which piece."""

    piece: str = ""
    over: Snap | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """A finished slash line on a piece; the first place is on the outline."""

    points: tuple[Snap, ...]

    @property
    def chain(self) -> Points:
        """Its places, in the piece's coordinates."""
        return frozen_points([snap.at for snap in self.points])

    @property
    def ends(self) -> tuple[Point, Point]:
        """Its two ends, in the piece's coordinates."""
        return self.points[0].at, self.points[-1].at

    @property
    def ends_inside(self) -> bool:
        """Whether it stops at a point inside the piece."""
        return not self.points[-1].on_outline


def line_of(points: tuple[Snap, ...]) -> Line:
    """The line through places, turned so that it starts on the outline where one end does."""
    if not points[0].on_outline and points[-1].on_outline:
        return Line(points[::-1])
    return Line(points)


@dataclass(frozen=True, slots=True)
class Further:
    """Another cut of the step than the one in hand; without an opening it opens or closes as the others make it."""

    line: Line
    opening_mm: float | None = None
    hinge: Hinge = Hinge.NONE
    moving: Side = Side.LEFT

    @property
    def cut(self) -> SlashCut:
        """The cut as it stands in the step."""
        return SlashCut(tuple(snap.anchor for snap in self.line.points), self.opening_mm, self.hinge, self.moving)


@dataclass(frozen=True, slots=True)
class Grip:
    """A side of the cut held with the mouse: where it was taken, how far the cut was open, whether it has moved."""

    at: Point
    opening_mm: float
    side: Side
    moved: bool = False


@dataclass(frozen=True, slots=True)
class Opening:
    """A line is drawn and is being opened.

    Attributes:
        piece: Name of the piece.
        line: The line.
        hinge: The end that stays joined.
        moving: The side that moves.
        opening_mm: How far it opens; negative folds out.
        further: The other cuts of the same step, in their order.
        grip: What is held with the mouse.
        record: The journal's record that is being opened again, "" for a new one.
        place: How many of the further cuts come before this one; the first that opens says what stays.
        reach_mm: How far the step is trued beside a cut.
    """

    piece: str
    line: Line
    hinge: Hinge
    moving: Side
    opening_mm: float = 0.0
    further: tuple[Further, ...] = ()
    grip: Grip | None = None
    record: str = ""
    place: int = 0
    reach_mm: float = DEFAULT_REACH_MM

    @property
    def step(self) -> Slash:
        """The step as it would be done."""
        return Slash(self.piece, tuple(each.cut for each in self.cuts), self.reach_mm)

    @property
    def cuts(self) -> tuple[Further, ...]:
        """All cuts of the step in their order, the one in hand among them."""
        own = Further(self.line, self.opening_mm, self.hinge, self.moving)
        return (*self.further[: self.place], own, *self.further[self.place :])

    @property
    def openings(self) -> tuple[int, ...]:
        """Places in the step of the cuts that have an opening of their own."""
        return tuple(place for place, each in enumerate(self.cuts) if each.opening_mm is not None)

    def with_in_hand(self, place: int) -> Opening:
        """The same step with another cut in hand; as it is, where that one has no opening of its own."""
        cuts = self.cuts
        each = cuts[place]
        if each.opening_mm is None:
            return self
        return replace(
            self,
            line=each.line,
            hinge=each.hinge,
            moving=each.moving,
            opening_mm=each.opening_mm,
            further=cuts[:place] + cuts[place + 1 :],
            grip=None,
            place=place,
        )

    def beside(self, by: int) -> Opening:
        """The next (+1) or previous (-1) cut with an opening in hand, round and round."""
        openings = self.openings
        return self.with_in_hand(openings[(openings.index(self.place) + by) % len(openings)])

    def place_at(self, at: Point, *, reach_mm: float) -> int:
        """Place in the step of the cut with an opening that is nearest; the one in hand, where none is near enough."""
        cuts = self.cuts
        gaps = {place: polyline.nearest(cuts[place].line.chain, at)[1] for place in self.openings}
        nearest = min(gaps, key=lambda place: (gaps[place], place != self.place))
        return nearest if gaps[nearest] <= reach_mm else self.place

    @property
    def pivot(self) -> Point | None:
        """The hinge's place, ``None`` without one."""
        start, end = self.line.ends
        return {Hinge.NONE: None, Hinge.START: start, Hinge.END: end}[self.hinge]

    @property
    def pulled(self) -> Point:
        """Direction in which the moving side goes when the cut opens."""
        ux, uy = unit_vector(*self.line.ends)
        return (uy, -ux) if self.moving is Side.RIGHT else (-uy, ux)

    @property
    def motion(self) -> Affine:
        """How the moving side lies against where it lay; the left one, where either goes half the way."""
        return self._moved_by(1.0 / self._sides)

    @property
    def rest(self) -> Affine:
        """How the other side lies against where it lay: as it did, unless either goes half the way."""
        return self._moved_by(1.0 / self._sides - 1.0)

    def _moved_by(self, share: float) -> Affine:
        if self.pivot is None:
            nx, ny = self.pulled
            return Affine.moved(nx * self.opening_mm * share, ny * self.opening_mm * share)
        sine = max(-1.0, min(1.0, self.opening_mm / (2 * self._radius_mm)))
        return Affine.turned(2 * math.asin(sine) * self._turning * share, self.pivot)

    @property
    def _sides(self) -> int:
        """How many sides move: with both, only the first cut that opens shares the way between them."""
        return 2 if self.moving is Side.BOTH and self.place == self.openings[0] else 1

    @property
    def handle(self) -> Point:
        """Where the handle of the moving side is: at the open end, or in the middle of a cut without a hinge."""
        return self.motion.point(self._grasp)

    @property
    def handle_direction(self) -> Point:
        """Unit direction in which the handle goes when the cut opens."""
        if self.pivot is None:
            return self.pulled
        ux, uy = unit_vector(self.pivot, self.handle)
        return (-uy * self._turning, ux * self._turning)

    @property
    def _grasp(self) -> Point:
        start, end = self.line.ends
        if self.pivot is not None:
            return end if self.hinge is Hinge.START else start
        return polyline.point_at(self.line.chain, polyline.length_mm(self.line.chain) / 2)

    @property
    def _radius_mm(self) -> float:
        return max(distance_mm(*self.line.ends), 1.0)

    @property
    def _turning(self) -> float:
        """+1 where opening turns the moving side counter-clockwise about the hinge."""
        left = self.moving is not Side.RIGHT
        return 1.0 if left is (self.hinge is Hinge.START) else -1.0

    def gripped(self, at: Point, side: Side) -> Opening:
        """The same with a side taken hold of; once it is dragged it is the side that moves."""
        return replace(self, grip=Grip(at, self.opening_mm, side))

    def dragged(self, to: Point, *, round_mm: float) -> Opening:
        """The same with the held side brought to a place, the amount rounded to what the view can show."""
        if self.grip is None:
            return self
        if self.moving is not self.grip.side:
            return replace(self, moving=self.grip.side).dragged(to, round_mm=round_mm)
        nx, ny = self.pulled
        pivot = self.pivot
        if pivot is None:
            pull = (to[0] - self.grip.at[0]) * nx + (to[1] - self.grip.at[1]) * ny
            opening_mm = self.grip.opening_mm + pull * self._sides
        else:
            opening_mm = self._opening_turned_to(pivot, self.grip, to)
        rounded_mm = round(opening_mm / round_mm) * round_mm + 0.0
        return replace(self, opening_mm=rounded_mm, grip=replace(self.grip, moved=True))

    def _opening_turned_to(self, pivot: Point, grip: Grip, to: Point) -> float:
        (ax, ay), (bx, by) = (
            (grip.at[0] - pivot[0], grip.at[1] - pivot[1]),
            (to[0] - pivot[0], to[1] - pivot[1]),
        )
        turn = math.atan2(ax * by - ay * bx, ax * bx + ay * by) * self._turning * self._sides
        before = 2 * math.asin(max(-1.0, min(1.0, grip.opening_mm / (2 * self._radius_mm))))
        angle = max(-math.pi / 2, min(math.pi / 2, before + turn))
        return 2 * self._radius_mm * math.sin(angle / 2)

    def side_of(self, place: Point) -> Side:
        """The side of the cut a place lies on."""
        points = self.line.chain
        gaps = [polyline.nearest(points[i : i + 2], place)[1] for i in range(len(points) - 1)]
        i = int(np.argmin(gaps))
        return side_of(place, as_point(points[i]), as_point(points[i + 1]))


@dataclass(frozen=True, slots=True)
class Drawing:
    """A line is being drawn on a piece.

    Attributes:
        piece: Name of the piece.
        points: The places set so far.
        loose: Where the next one would be.
        beside: The cut this line is to be added to, ``None`` for the first line of a step.
    """

    piece: str
    points: tuple[Snap, ...] = ()
    loose: Snap | None = None
    beside: Opening | None = None

    @property
    def last(self) -> Point | None:
        """The place the loose end hangs on."""
        return self.points[-1].at if self.points else None


def reopened(record: str, step: Slash, piece: Piece) -> Opening | None:
    """A recorded slash with its first cut that opens in hand; ``None`` where none does.

    Raises:
        PatternError: a place of a cut is not on the piece.
    """
    cuts = tuple(Further(_recorded_line(piece, cut), cut.opening_mm, cut.hinge, cut.moving) for cut in step.cuts)
    for place, each in enumerate(cuts):
        if each.opening_mm is not None:
            rest = cuts[:place] + cuts[place + 1 :]
            fresh = Opening(step.piece, each.line, each.hinge, each.moving, each.opening_mm, rest)
            return replace(fresh, record=record, place=place, reach_mm=step.reach_mm)
    return None


def _recorded_line(piece: Piece, cut: SlashCut) -> Line:
    return Line(tuple(Snap(resolve(piece, anchor), anchor, SnapKind.FREE, anchor.name) for anchor in cut.line))


def opened(piece: Piece, line: Line) -> Opening:
    """A line that was just finished, not open yet. The side with the fold stays, else the one with the grain line."""
    hinge = Hinge.END if line.ends_inside else Hinge.NONE
    fresh = Opening(piece.name, line, hinge, Side.LEFT)
    kept = fresh.side_of(_anchored(piece))
    return replace(fresh, moving=Side.RIGHT if kept is Side.LEFT else Side.LEFT)


def _anchored(piece: Piece) -> Point:
    if piece.fold is not None:
        fold = piece.edge(piece.fold)
        return fold.point_at(fold.length_mm / 2)
    if piece.grain is not None:
        return midpoint(piece.grain.start, piece.grain.end)
    x0, y0, x1, y1 = piece.bounds_mm
    return midpoint((x0, y0), (x1, y1))
