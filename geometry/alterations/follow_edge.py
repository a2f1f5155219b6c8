"""Facings, linings, collars and bands that follow the edge they are sewn to once that was altered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from typing import ClassVar, Protocol

import numpy as np

from geometry.affine import IDENTITY, Affine, Point, Points, as_point, distance_mm, frozen_points, unit_vector
from geometry.alterations.edge_steps import old_edges
from geometry.alterations.notch_steps import with_notch_at
from geometry.alterations.redrawn_edges import with_edge
from geometry.alterations.seam_steps import seam_between
from geometry.alterations.sewn_side import (
    OVER,
    SewnSide,
    at_shares,
    end_turn_rad,
    gap_mm,
    laid_on,
    misfit_mm,
    sewn_side,
    shares_of,
    stays_at_end,
)
from geometry.alterations.step import OnOnePiece, Outcome, piece_outcome
from geometry.checks.pairing import seams_of
from geometry.checks.walking import StopKind, side_mm, walk
from geometry.curves import polyline
from geometry.errors import PatternError, StepError
from geometry.model.garment import layer_of
from geometry.model.marks import InnerLine, Label, Mark
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamKind
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM, NOTABLE_MM, SAME_POINT_MM, STRAIGHT_MM, WARN_MM

_ROUNDS = 30
"""Most rounds in which a gently curved edge is drawn out to a length; a straight one takes two."""


class Carry(Protocol):
    """Where places go; with a share given, all of them with that place of the edge."""

    def __call__(self, points: Points, share: float | None = None, /) -> Points:
        """The places, shape (n, 2)."""


@dataclass(frozen=True, slots=True)
class FollowEdge(OnOnePiece):
    """Let an edge follow what it is sewn to: take on its shape, or only its length.

    The piece keeps its depth: what lies behind the edge goes along with the place on the edge nearest to it. The end
    at the fold or centre line stays where it is; at the other end the neighbour keeps its length and turns as the
    garment's does. Notches that have a partner go to where it lands.

    Attributes:
        piece: Name of the facing, collar or band.
        edge: Id of its edge.
        other_piece: Name of a piece it is sewn to.
        other_edge: Id of the edge there; where the edge is sewn to several, one of them.
        in_shape: Whether it takes on the shape, darts folded shut; a straight band takes the length alone.
        amount_mm: By how much it stays longer, for its overlap, where it takes the length alone.
    """

    kind: ClassVar[str] = "follow-edge"

    piece: str
    edge: str
    other_piece: str
    other_edge: str
    in_shape: bool = True
    amount_mm: float = 0.0

    def with_amount_mm(self, amount_mm: float) -> FollowEdge:
        """The same with another overlap; the step itself where it takes on the shape, and with it the length."""
        return self if self.in_shape else replace(self, amount_mm=amount_mm)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the edge like what it is sewn to; the very same if it is."""
        piece, ref = pattern.piece(self.piece), EdgeRef(self.piece, self.edge)
        seam = seam_between(pattern, ref, EdgeRef(self.other_piece, self.other_edge))
        mine, other = seam.sides if ref in seam.first else seam.sides[::-1]
        if mine.refs != (ref,) or not mine.stretches[0].is_whole or piece.darts_on(self.edge):
            raise StepError(
                f'The edge "{self.edge}" of "{piece.name}" has darts, or is only a part of its side of the seam; alter '
                "it by hand, or follow with each edge by itself."
            )
        own, at_end = sewn_side(pattern, mine), stays_at_end(piece, mine)
        if self.in_shape:
            wanted = laid_on(sewn_side(pattern, other), own, at_end=at_end)
        else:
            wanted = _drawn_out(own, side_mm(pattern, other) + self.amount_mm, at_end=at_end)
        after = piece
        if gap_mm(own.chain, wanted.chain) > FLOAT_MM:
            after = _redrawn(piece, self.edge, mine.backward[0], own, wanted, at_end=at_end)
        after = _with_met_notches(pattern.with_piece(after), seam, ref, at_end=at_end)
        return piece_outcome(pattern, piece, after, chalk=old_edges(piece, after))


def follow_steps(pattern: Pattern, seam: Seam) -> tuple[FollowEdge, ...]:
    """The step that lets a facing, collar or band follow its seam: none for another seam, or one it cannot do."""
    if seam.kind not in (SeamKind.FACING, SeamKind.BAND) or len(seam.first) != 1:
        return ()
    (mine,), other = seam.first, seam.second[0]
    ease_mm = side_mm(pattern, seam.sides[0]) - side_mm(pattern, seam.sides[1])
    over_mm = min(max(ease_mm, seam.ease_mm[0]), seam.ease_mm[1])
    in_shape = seam.kind is SeamKind.FACING
    return (FollowEdge(mine.piece, mine.edge, other.piece, other.edge, in_shape, 0.0 if in_shape else over_mm),)


def following(before: Pattern, after: Pattern) -> Iterator[FollowEdge]:
    """Steps for the facings that lay right on their garment edge before and were left behind when it was altered."""
    if all(layer_of(piece) != "facing" for piece in after.pieces):
        return
    seams = seams_of(after)
    for seam in seams:
        try:
            left = seam.kind is SeamKind.FACING and _is_left_behind(before, after, seam)
        except PatternError:
            continue
        if left:
            yield from follow_steps(after, seam)


def _is_left_behind(before: Pattern, after: Pattern, seam: Seam) -> bool:
    facing = seam.first[0].piece
    if before.piece(facing) is not after.piece(facing) or seam.first[0].piece in {ref.piece for ref in seam.second}:
        return False
    return misfit_mm(before, seam) <= WARN_MM and misfit_mm(after, seam) > NOTABLE_MM


def _drawn_out(own: SewnSide, length_mm: float, *, at_end: bool) -> SewnSide:
    """A line drawn out, or pushed together, along its chord until it has a length; one of its ends stays."""
    start, end = as_point(own.chain[0]), as_point(own.chain[-1])
    if distance_mm(start, end) <= SAME_POINT_MM:
        raise StepError("The edge of a band is closed to a ring; cut it open at a seam first.")
    ux, uy = unit_vector(end, start) if at_end else unit_vector(start, end)
    left = 1.0 - shares_of(own.chain) if at_end else shares_of(own.chain)

    def drawn(by_mm: float) -> Points:
        return frozen_points(own.chain + left[:, None] * by_mm * np.array([ux, uy]))

    by_mm = 0.0
    for _ in range(_ROUNDS):
        missing_mm = length_mm - polyline.length_mm(drawn(by_mm))
        if abs(missing_mm) <= FLOAT_MM:
            break
        by_mm += missing_mm
    return replace(own, chain=drawn(by_mm))


def _redrawn(piece: Piece, edge_id: str, backward: bool, own: SewnSide, wanted: SewnSide, *, at_end: bool) -> Piece:
    """The piece with the edge drawn as wanted and everything else brought along."""
    over = OVER if backward else IDENTITY
    turn = end_turn_rad(own, wanted, at_end=not at_end)
    carry = _carried(own.chain, wanted.chain, turn, over, stays_at_end=at_end)
    drawn = frozen_points(over.points(wanted.chain)[::-1] if backward else wanted.chain)
    old_mm, new_mm = piece.edge(edge_id).length_mm, polyline.length_mm(drawn)
    number, count = [edge.id for edge in piece.edges].index(edge_id), len(piece.edges)
    ids = [piece.edges[(number + 1 + each) % count].id for each in range(count - 1)]
    behind = {name: carry(piece.edge(name).points) for name in ids}
    for name, at, share in ((ids[-1], -1, float(backward)), (ids[0], 0, float(not backward))):
        behind[name] = _with_end(carry(piece.edge(name).points, share), at, drawn[0 if at else -1])
    for one, other in pairwise(ids):
        moved_first = other == ids[-1] and one != ids[0]
        if moved_first:
            behind[one] = _with_end(behind[one], -1, behind[other][0])
        else:
            behind[other] = _with_end(behind[other], 0, behind[one][-1])
    moved = with_edge(piece, edge_id, drawn, lambda at_mm: at_mm * new_mm / old_mm)
    for name, chain in behind.items():
        moved = with_edge(moved, name, chain, partial(_station_mm, piece.edge(name).points, chain))
    return replace(
        moved,
        inner_lines=tuple(InnerLine(e.id, carry(e.points), e.kind, e.closed) for e in piece.inner_lines),
        marks=tuple(Mark(mark.id, _point(carry, mark.at), mark.kind) for mark in piece.marks),
        labels=tuple(Label(label.text, _point(carry, label.at)) for label in piece.labels),
    )


def _station_mm(old: Points, new: Points, at_mm: float) -> float:
    """Where a length along a line lies once its points were moved."""
    return float(np.interp(at_mm, polyline.stations_mm(old), polyline.stations_mm(new)))


def _carried(old: Points, new: Points, turn_rad: float, over: Affine, *, stays_at_end: bool) -> Carry:
    """Where places of a piece go: with the nearest place of its edge, turned the more the nearer the end that moves."""
    total_mm = polyline.length_mm(old)

    def carry(points: Points, share: float | None = None) -> Points:
        placed = over.points(frozen_points(points))
        nearest = (polyline.nearest(old, as_point(place))[0] / total_mm for place in placed)
        shares = np.array(list(nearest)) if share is None else np.full(len(placed), share)
        angles = turn_rad * ((1.0 - shares) if stays_at_end else shares)
        foot, to = at_shares(old, shares), at_shares(new, shares)
        x, y = (placed - foot).T
        turned = np.column_stack([np.cos(angles) * x - np.sin(angles) * y, np.sin(angles) * x + np.cos(angles) * y])
        return over.points(frozen_points(to + turned))

    return carry


def _point(carry: Carry, place: Point) -> Point:
    return as_point(carry(frozen_points([place]))[0])


def _with_end(chain: Points, at: int, corner: Points) -> Points:
    exact = np.array(chain)
    exact[at] = corner
    return frozen_points(exact)


def _with_met_notches(pattern: Pattern, seam: Seam, ref: EdgeRef, *, at_end: bool) -> Piece:
    """The piece with the notches of an edge put where their partners land, walked from the end that stays."""
    piece, is_first = pattern.piece(ref.piece), ref in seam.first
    backward = seam.sides[0 if is_first else 1].backward[0]
    length_mm = piece.edge(ref.edge).length_mm
    for meeting in walk(pattern, seam).meetings:
        mine, other = (meeting.first, meeting.second) if is_first else (meeting.second, meeting.first)
        if mine is None or other is None or mine.kind is not StopKind.NOTCH:
            continue
        from_start_mm = length_mm - other.from_end_mm if at_end else other.from_start_mm
        at_mm = min(max(length_mm - from_start_mm if backward else from_start_mm, 0.0), length_mm)
        if abs(at_mm - piece.notch(mine.id).at_mm) > STRAIGHT_MM:
            piece = with_notch_at(piece, piece.notch(mine.id), at_mm)
    return piece
