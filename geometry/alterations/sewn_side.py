"""A side of a seam laid out as it is sewn: darts folded shut, its pieces laid together along the seams between them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import reduce

import numpy as np

from geometry.affine import Affine, Point, Points, as_point, frozen_points
from geometry.alterations.folded_edge import fold
from geometry.curves import polyline
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamSide, Stretch
from geometry.model.piece import Piece

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)

OVER = Affine(a=-1.0)
"""Turns a piece over, so that the body is on the left of an edge walked against its ring."""


@dataclass(frozen=True, slots=True, eq=False)
class SewnSide:
    """A side of a seam as one line, walked from the start of the seam, the body of its pieces on the left.

    Attributes:
        chain: The line, shape (n, 2), mm.
        starts_on: Unit direction of the edge met at its start, away from the line; ``None`` where it is no corner.
        ends_on: The same at its end.
        start_edge: That edge at the start, ``None`` where it is no corner.
        end_edge: That at the end.
    """

    chain: Points
    starts_on: Point | None
    ends_on: Point | None
    start_edge: Edge | None
    end_edge: Edge | None

    def moved(self, motion: Affine) -> SewnSide:
        """The same line carried by a motion that does not turn it over."""
        starts, ends = (None if way is None else _turned(motion, way) for way in (self.starts_on, self.ends_on))
        return SewnSide(motion.points(self.chain), starts, ends, self.start_edge, self.end_edge)


def sewn_side(pattern: Pattern, side: SeamSide) -> SewnSide:
    """A side of a seam laid out; ``MissingPartError`` if a piece, an edge or a notch it ends at is lost."""
    parts = [_part(pattern.piece(ref.piece), ref, backward, stretch) for ref, backward, stretch in side.parts]
    return reduce(_joined, parts)


def laid_on(side: SewnSide, other: SewnSide, *, at_end: bool) -> SewnSide:
    """A side laid on another one at one of their ends: corner on corner, the edges met there along each other.

    Where the edges met there are not the same on the garment, the lines themselves are laid along each other.
    """
    at = -1 if at_end else 0
    ours, theirs = (each.ends_on if at_end else each.starts_on for each in (side, other))
    edges = (each.end_edge if at_end else each.start_edge for each in (side, other))
    if ours is None or theirs is None or not _are_alike(*edges):
        ours, theirs = (_along(each.chain, at_end=at_end) for each in (side, other))
    turn = Affine.turned(turn_rad(ours, theirs), as_point(side.chain[at]))
    (x, y), (u, v) = as_point(side.chain[at]), as_point(other.chain[at])
    return side.moved(turn.then(Affine.moved(u - x, v - y)))


def end_turn_rad(side: SewnSide, other: SewnSide, *, at_end: bool) -> float:
    """How far the edge met at an end must be turned to lie along that of another side; 0 where they are not alike."""
    ours, theirs = (each.ends_on if at_end else each.starts_on for each in (side, other))
    edges = (each.end_edge if at_end else each.start_edge for each in (side, other))
    return turn_rad(ours, theirs) if ours is not None and theirs is not None and _are_alike(*edges) else 0.0


def turn_rad(one: Point, other: Point) -> float:
    """The angle from one direction to another, radians, counter-clockwise positive, -pi to pi."""
    return math.atan2(one[0] * other[1] - one[1] * other[0], one[0] * other[0] + one[1] * other[1])


def misfit_mm(pattern: Pattern, seam: Seam) -> float:
    """How far a facing is off the edge it lies on, laid together at the fold or centre, mm."""
    mine, other = (sewn_side(pattern, side) for side in seam.sides)
    at_end = stays_at_end(pattern.piece(seam.first[0].piece), seam.sides[0])
    return gap_mm(mine.chain, laid_on(other, mine, at_end=at_end).chain)


def stays_at_end(piece: Piece, side: SeamSide) -> bool:
    """Whether the end of the walk is the one that stays: at the fold, else at a centre line; else the start does."""
    number = [edge.id for edge in piece.edges].index(side.refs[0].edge)
    before, after = piece.edges[number - 1], piece.edges[(number + 1) % len(piece.edges)]
    start, end = (after, before) if side.backward[0] else (before, after)
    if piece.fold in (start.id, end.id):
        return end.id == piece.fold and start.id != piece.fold
    return end.role in _CENTRES and start.role not in _CENTRES


def gap_mm(one: Points, other: Points) -> float:
    """The largest distance between places at the same share of two lines."""
    shares = np.unique(np.concatenate([shares_of(one), shares_of(other)]))
    return float(np.hypot(*(at_shares(one, shares) - at_shares(other, shares)).T).max())


def shares_of(chain: Points) -> Points:
    """The share of its length at which each point of a line lies, shape (n,)."""
    return polyline.stations_mm(chain) / polyline.length_mm(chain)


def at_shares(chain: Points, shares: Points) -> Points:
    """The places at shares of the length of a line, shape (m, 2)."""
    known = shares_of(chain)
    return np.column_stack([np.interp(shares, known, chain[:, 0]), np.interp(shares, known, chain[:, 1])])


def _are_alike(one: Edge | None, other: Edge | None) -> bool:
    return one is not None and other is not None and one.role is other.role


def _part(piece: Piece, ref: EdgeRef, backward: bool, stretch: Stretch) -> SewnSide:
    """One edge of a side, its body on the left."""
    folded = fold(piece, ref.edge)
    low_mm, high_mm = stretch.bounds_mm(piece, ref.edge)
    chain = polyline.part_between(folded.chain, folded.folded_mm(low_mm), folded.folded_mm(high_mm))
    number = [edge.id for edge in piece.edges].index(ref.edge)
    before, after = piece.edges[number - 1], piece.edges[(number + 1) % len(piece.edges)]
    starts = polyline.direction_at(frozen_points(before.points[::-1]), 0.0), before
    ends = _turned(folded.motions[-1], polyline.direction_at(after.points, 0.0)), after
    start = starts if stretch.start.at_corner(at_end=False) else (None, None)
    end = ends if stretch.end.at_corner(at_end=True) else (None, None)
    if not backward:
        return SewnSide(chain, start[0], end[0], start[1], end[1])
    first, last = (None if way is None else _turned(OVER, way) for way in (end[0], start[0]))
    return SewnSide(frozen_points(OVER.points(chain)[::-1]), first, last, end[1], start[1])


def _joined(one: SewnSide, after: SewnSide) -> SewnSide:
    """Two parts laid together along the seam between them."""
    ours = one.ends_on if after.starts_on is not None else None
    if ours is None or after.starts_on is None:
        turn = turn_rad(_along(after.chain, at_end=False), _along(one.chain, at_end=True))
    else:
        turn = turn_rad(after.starts_on, ours)
    motion = Affine.turned(turn, as_point(after.chain[0]))
    (x, y), (u, v) = as_point(after.chain[0]), as_point(one.chain[-1])
    laid = after.moved(motion.then(Affine.moved(u - x, v - y)))
    chain = frozen_points(np.vstack([one.chain, laid.chain[1:]]))
    return SewnSide(chain, one.starts_on, laid.ends_on, one.start_edge, laid.end_edge)


def _along(chain: Points, *, at_end: bool) -> Point:
    return polyline.direction_at(chain, polyline.length_mm(chain) if at_end else 0.0)


def _turned(motion: Affine, way: Point) -> Point:
    """A direction carried by a motion."""
    return (motion.a * way[0] + motion.b * way[1], motion.c * way[0] + motion.d * way[1])
