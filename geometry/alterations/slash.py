"""Slash and spread, fold out: the one operation everything else is built on."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import ClassVar

from geometry.affine import IDENTITY, Affine, Point, distance_mm, unit_vector
from geometry.alterations.anchors import Anchor, resolve
from geometry.alterations.one_piece import Altered, outcome_on
from geometry.alterations.parts import Line, Parts, cut_apart
from geometry.alterations.rejoin import Rejoined, rejoined
from geometry.alterations.step import OnOnePiece, Outcome
from geometry.alterations.trueing import DEFAULT_REACH_MM, trued
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


class Hinge(StrEnum):
    """Where a cut stays joined."""

    NONE = "none"
    START = "start"
    END = "end"


class Side(StrEnum):
    """A side of a cut, seen from its start."""

    LEFT = "left"
    RIGHT = "right"
    BOTH = "both"


def side_of(place: Point, start: Point, end: Point) -> Side:
    """The side of a straight cut from start to end on which a place lies; the left for one in its line."""
    turn = (end[0] - start[0]) * (place[1] - start[1]) - (end[1] - start[1]) * (place[0] - start[0])
    return Side.LEFT if turn >= 0 else Side.RIGHT


@dataclass(frozen=True, slots=True)
class SlashCut:
    """One cut and how far it opens.

    Attributes:
        line: Two or more places, the first on an edge; the last on an edge, or inside where another cut meets it.
        opening_mm: How far its open end opens (measured straight across); negative folds out. For a cut without
            a hinge the distance the parts move apart, square to the line from its start to its end. ``None`` lets
            the cut open or close as the others make it.
        hinge: The end that stays joined.
        moving: The side that moves; the other stays where it is. With both, either goes half the way: of several cuts
            that open the first may say so, for the others it means the left.
    """

    line: tuple[Anchor, ...]
    opening_mm: float | None
    hinge: Hinge = Hinge.NONE
    moving: Side = Side.LEFT


@dataclass(frozen=True, slots=True)
class Slash(OnOnePiece):
    """Cut a piece and spread it, or fold it out, along one or more cuts at once."""

    kind: ClassVar[str] = "slash"

    piece: str
    cuts: tuple[SlashCut, ...]
    reach_mm: float = DEFAULT_REACH_MM

    @property
    def amount_mm(self) -> float:
        """The opening of the first cut that has one."""
        return next((cut.opening_mm for cut in self.cuts if cut.opening_mm is not None), 0.0)

    def with_amount_mm(self, amount_mm: float) -> Slash:
        """The same slash opened by another amount; several cuts keep their shares."""
        old = self.amount_mm

        def opening(cut: SlashCut) -> float | None:
            return None if cut.opening_mm is None else amount_mm * (cut.opening_mm / old if old else 1.0)

        return replace(self, cuts=tuple(replace(cut, opening_mm=opening(cut)) for cut in self.cuts))

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the piece cut, moved, put together and trued."""
        return outcome_on(pattern, self.piece, self, _altered)


def _altered(piece: Piece, step: Slash) -> Altered:
    parts, joined = slashed(piece, step.cuts)
    after, findings = trued(piece, joined, reach_mm=step.reach_mm)
    return Altered(after, findings, parts.chains)


def slashed(piece: Piece, cuts: tuple[SlashCut, ...]) -> tuple[Parts, Rejoined]:
    """The piece cut apart, and put together again before trueing: here every law of the operation is exact.

    Raises:
        StepError: a cut does not part the piece, leaves it, or cannot open as far as asked.
        MissingPartError: a place a cut points at is not there.
    """
    if not cuts:
        raise StepError(f'There is no slash line on "{piece.name}"; draw one from edge to edge.')
    lines = tuple(tuple(resolve(piece, anchor) for anchor in cut.line) for cut in cuts)
    parts = cut_apart(piece, lines)
    return parts, rejoined(parts, _motions(parts, cuts))


def _motions(parts: Parts, cuts: tuple[SlashCut, ...]) -> tuple[Affine, ...]:
    """One motion per part: the cuts link the parts; each link moves what lies beyond it as seen from the part kept."""
    links: dict[int, list[tuple[int, Affine]]] = {index: [] for index in range(len(parts.rings))}
    moving = set()
    for number, (cut, line, (left, right)) in enumerate(zip(cuts, parts.lines, parts.sides, strict=True)):
        if cut.opening_mm is None:
            continue
        if left == right:
            raise StepError(
                f'Slash line {number + 1} on "{parts.piece.name}" stops inside the piece, so the paper cannot open '
                "flat; take it on to another edge, or let a second line or a dart meet it there."
            )
        links[right].append((left, _opened(parts.piece, line, cut, Side.LEFT)))
        links[left].append((right, _opened(parts.piece, line, cut, Side.RIGHT)))
        moving.add(right if cut.moving is Side.RIGHT else left)
    still = [index for index in links if index not in moving]
    first_cut = next((index for index, cut in enumerate(cuts) if cut.opening_mm is not None), None)
    if first_cut is None:
        return (IDENTITY,) * len(parts.rings)
    left, right = parts.sides[first_cut]
    other = left if cuts[first_cut].moving is Side.RIGHT else right
    root = other if other in still or not still else still[0]
    motions = {root: IDENTITY}
    if cuts[first_cut].moving is Side.BOTH:
        root = right
        motions = {root: _half_opened(parts.piece, parts.lines[first_cut], cuts[first_cut])}
    queue = [root]
    while queue:
        part = queue.pop(0)
        for beyond, link in links[part]:
            if beyond not in motions:
                motions[beyond] = link.then(motions[part])
                queue.append(beyond)
    return tuple(motions.get(index, IDENTITY) for index in range(len(parts.rings)))


def _opened(piece: Piece, line: Line, cut: SlashCut, side: Side) -> Affine:
    """How one side of a cut moves while the other stays."""
    opening_mm = cut.opening_mm or 0.0
    if opening_mm == 0.0:
        return IDENTITY
    start, end = line[0], line[-1]
    sign = 1.0 if side is Side.LEFT else -1.0
    if cut.hinge is Hinge.NONE:
        ux, uy = unit_vector(start, end)
        return Affine.moved(-uy * opening_mm * sign, ux * opening_mm * sign)
    angle = wedge_angle_rad(opening_mm, distance_mm(start, end), piece.name)
    pivot: Point = start if cut.hinge is Hinge.START else end
    return Affine.turned(angle * sign * (1.0 if cut.hinge is Hinge.START else -1.0), pivot)


def _half_opened(piece: Piece, line: Line, cut: SlashCut) -> Affine:
    """How the right side of a cut moves where each side goes half the way."""
    opening_mm = cut.opening_mm or 0.0
    if cut.hinge is not Hinge.NONE:
        radius_mm = distance_mm(line[0], line[-1])
        opening_mm = 2 * radius_mm * math.sin(wedge_angle_rad(opening_mm, radius_mm, piece.name) / 4)
        return _opened(piece, line, replace(cut, opening_mm=opening_mm), Side.RIGHT)
    return _opened(piece, line, replace(cut, opening_mm=opening_mm / 2), Side.RIGHT)


def wedge_angle_rad(opening_mm: float, radius_mm: float, piece_name: str) -> float:
    """The angle of a wedge that opens by ``opening_mm``, measured straight, at ``radius_mm`` from its hinge.

    Opening = 2 r sin(angle / 2); negative openings give negative angles.

    Raises:
        StepError: a wedge of that length cannot open so far.
    """
    if abs(opening_mm) >= 2 * radius_mm:
        raise StepError(
            f'A slash of {radius_mm:.0f} mm on "{piece_name}" cannot open by {opening_mm:.0f} mm at its end; '
            "give a smaller amount or draw a longer line."
        )
    return 2 * math.asin(opening_mm / (2 * radius_mm))
