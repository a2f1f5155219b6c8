"""The cutting line round a piece, from the allowance of each edge; and back, where only a cutting line is known."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

import numpy as np

from geometry import regions
from geometry.affine import Point, Points, as_point, distance_mm, frozen_points
from geometry.curves import polyline
from geometry.curves.corner_cuts import mirrored, reversed_sides, squared
from geometry.curves.crossing import crossings
from geometry.curves.mitre import Cut, cornered_ring
from geometry.curves.parallel import Parallel, parallel, without_loops
from geometry.dart_cap import capped
from geometry.findings import Finding, Level
from geometry.identity import Same
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import CornerCut, Edge, EdgeRole
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM

SEAM_MM = 15.0
"""The home standard of 5/8 in for seams (Wikipedia, "Seam allowance")."""

HEM_MM = 40.0
"""About 1 1/2 in for the hem of a flared skirt; from memory."""

_KEPT = 256
"""Of how many pieces cutting lines are kept: a piece is asked for its own by several checks and by what draws it."""


def with_allowances(piece: Piece, *, seam_mm: float, hem_mm: float) -> Piece:
    """The piece with every edge given the seam allowance, hems theirs, and none on the fold (all mm)."""

    def width(edge: Edge) -> float:
        return 0.0 if edge.id == piece.fold else hem_mm if edge.role is EdgeRole.HEM else seam_mm

    return replace(piece, edges=tuple(replace(edge, allowance_mm=width(edge)) for edge in piece.edges))


def cutting_line(piece: Piece) -> Points:
    """The cutting line of a piece: a counter-clockwise ring of shape (n, 2), mm, its first point not repeated.

    Each edge's parallel at its allowance, measured square to the stitching line, mitred at corners (cut square
    at very sharp corners) unless its edges say otherwise, with the cap of every dart on an edge that has
    an allowance. An edge without allowance is its own cutting line. Where an allowance is wider than a bend
    allows it is trimmed, so the ring has no loops; ``allowance_findings`` says where.

    Raises:
        MissingPartError: a dart names an edge that the piece does not have.
    """
    ring = _ring(cutting_chains(piece))
    return ring if regions.is_simple(ring) else without_loops(ring)[0]


def cutting_chains(piece: Piece) -> tuple[Points, ...]:
    """The cutting line of each edge in ring order, each starting where the one before ends; loops not yet cut."""
    return _cutting_chains(Same(piece))


@lru_cache(maxsize=_KEPT)
def _cutting_chains(key: Same[Piece]) -> tuple[Points, ...]:
    piece = key.value
    sides = [_cut_edge(piece, edge) for edge in piece.edges]
    widths = [edge.allowance_mm for edge in piece.edges]
    cuts = {index: cut for index in range(len(piece.edges)) if (cut := _corner_cut(piece, index)) is not None}
    return cornered_ring(sides, widths, tuple(edge.end for edge in piece.edges), cuts)


def _corner_cut(piece: Piece, index: int) -> Cut | None:
    """How the corner at the end of an edge is cut if it is not mitred; a turned-up hem goes before a squared seam."""
    before, after = piece.edges[index], piece.edges[(index + 1) % len(piece.edges)]
    reach_mm = max(before.allowance_mm, after.allowance_mm)
    ends = ((before, before.end_cut, after), (after, after.start_cut, before))
    for shape in (CornerCut.MIRRORED, CornerCut.SQUARED):
        for edge, wanted, other in ends:
            if wanted is shape and edge.allowance_mm > 0 and piece.fold not in (edge.id, other.id):
                return _shaped(edge, shape, reach_mm, at_end=edge is before)
    return None


def _shaped(edge: Edge, shape: CornerCut, reach_mm: float, *, at_end: bool) -> Cut:
    """The cut of a corner for the allowance of an edge that ends there, or starts there and is seen backwards."""
    chain = edge.points if at_end else frozen_points(edge.points[::-1])
    corner, ahead = as_point(chain[-1]), polyline.direction_at(chain, math.inf)
    width_mm = edge.allowance_mm if at_end else -edge.allowance_mm

    def seen(before: Points, after: Points) -> tuple[Points, Points] | None:
        if shape is CornerCut.MIRRORED:
            return mirrored(before, after, corner, ahead, reach_mm)
        return squared(before, after, corner, ahead, width_mm, reach_mm)

    if at_end:
        return seen
    return lambda before, after: reversed_sides(seen(frozen_points(after[::-1]), frozen_points(before[::-1])))


@lru_cache(maxsize=4 * _KEPT)
def _beside(chain: Same[Points], width_mm: float) -> Parallel:
    return parallel(chain.value, width_mm)


def _ring(chains: tuple[Points, ...]) -> Points:
    ring = polyline.without_doubled_points(polyline.joined((*chains, chains[0][:1])))
    return frozen_points(ring[:-1])


def allowance_findings(piece: Piece) -> tuple[Finding, ...]:
    """A warning for each edge whose allowance is wider than its bends allow, and for each loop that was cut off."""
    findings = []
    for edge in piece.edges:
        lost = _truly_lost(_beside(Same(edge.points), edge.allowance_mm), edge.allowance_mm)
        if len(lost):
            findings.append(_too_wide(piece, edge, as_point(lost[len(lost) // 2])))
    ring = _ring(cutting_chains(piece))
    if not regions.is_simple(ring):
        for place in without_loops(ring)[1]:
            edge = min(piece.edges, key=lambda edge: polyline.nearest(edge.points, as_point(place))[1])
            findings.append(_too_wide(piece, edge, as_point(place)))
    return tuple(findings)


def _truly_lost(side: Parallel, width_mm: float) -> Points:
    """The places that the parallel really misses; cutting off a segment of a hair's length changes nothing."""
    gaps = [polyline.nearest(side.points, as_point(place))[1] for place in side.lost]
    return side.lost[np.abs(np.array(gaps) - abs(width_mm)) > ON_EDGE_MM] if gaps else side.lost


def _too_wide(piece: Piece, edge: Edge, place: Point) -> Finding:
    return Finding(
        "allowance-trimmed",
        Level.WARN,
        f'On the piece "{piece.name}" the allowance of {edge.allowance_mm:g} mm on the edge "{edge.id}" is wider than '
        "its bend has room for and was trimmed there; make it narrower or cut that part by eye.",
        piece=piece.name,
        where=place,
        measured_mm=edge.allowance_mm,
        about=(edge.id,),
    )


def stitching_from_cutting(piece: Piece, allowances_mm: Mapping[str, float]) -> tuple[Piece, tuple[Finding, ...]]:
    """A piece whose edges were drawn as its cutting line, with the stitching line derived inwards.

    Each edge moves inwards by its allowance; corners are where neighbours meet. Darts keep their tip and legs and
    open where these cross the new edge, which runs straight between; notches and marked points that lie on an edge go
    to the nearest place on it. The rest stays where it is.

    Args:
        piece: Its edges are the cutting line.
        allowances_mm: Allowance by edge id; an edge that is not named has none.

    Returns:
        The piece with its allowances set, and a warning for each edge whose bend was too tight.
    """
    widths = [allowances_mm.get(edge.id, 0.0) for edge in piece.edges]
    inner = [parallel(edge.points, -width) for edge, width in zip(piece.edges, widths, strict=True)]
    chains = cornered_ring([side.points for side in inner], widths, tuple(edge.end for edge in piece.edges))
    mouths = [_mouth_on(chains[_index(piece, dart.edge)], piece, dart) for dart in piece.darts]
    straight = [
        _straight_across(chain, [row for row, dart in zip(mouths, piece.darts, strict=True) if dart.edge == edge.id])
        for chain, edge in zip(chains, piece.edges, strict=True)
    ]
    edges = tuple(
        replace(edge, points=chain, allowance_mm=width)
        for edge, chain, width in zip(piece.edges, straight, widths, strict=True)
    )
    moved = replace(
        piece,
        edges=edges,
        darts=tuple(
            _opening_at(dart, edges[_index(piece, dart.edge)], chains[_index(piece, dart.edge)], mouth)
            for dart, mouth in zip(piece.darts, mouths, strict=True)
        ),
        notches=tuple(
            replace(
                notch,
                at_mm=polyline.nearest(edges[_index(piece, notch.edge)].points, piece.notch_point(notch))[0],
            )
            for notch in piece.notches
        ),
        marks=tuple(replace(mark, at=_carried_inwards(mark.at, piece, edges)) for mark in piece.marks),
    )
    return moved, _inward_findings(moved, inner)


def _inward_findings(piece: Piece, inner: list[Parallel]) -> tuple[Finding, ...]:
    findings = []
    for edge, side in zip(piece.edges, inner, strict=True):
        lost = _truly_lost(side, edge.allowance_mm)
        if len(lost):
            findings.append(_too_wide(piece, edge, as_point(lost[len(lost) // 2])))
    return tuple(findings)


def _index(piece: Piece, edge_id: str) -> int:
    return next(index for index, edge in enumerate(piece.edges) if edge.id == edge_id)


def _mouth_on(chain: Points, piece: Piece, dart: Dart) -> tuple[float, float]:
    """Lengths along a chain where the legs of a dart cross it."""
    from_mm, to_mm = (_leg_meets(chain, dart.tip, mouth) for mouth in piece.mouth(dart))
    return from_mm, to_mm


def _straight_across(chain: Points, mouths: list[tuple[float, float]]) -> Points:
    """The chain with nothing but a straight line between the ends of each mouth."""
    parts: list[Points] = []
    done_mm = 0.0
    for from_mm, to_mm in sorted(mouths):
        parts.append(polyline.part_between(chain, done_mm, from_mm))
        done_mm = to_mm
    return polyline.joined((*parts, polyline.part_between(chain, done_mm, polyline.length_mm(chain))))


def _opening_at(dart: Dart, edge: Edge, chain: Points, mouth: tuple[float, float]) -> Dart:
    """The dart measured along its new edge; ``mouth`` is measured along the chain that edge was made from."""
    from_mm, to_mm = (polyline.nearest(edge.points, polyline.point_at(chain, at_mm))[0] for at_mm in mouth)
    return replace(dart, from_mm=from_mm, to_mm=to_mm)


def _carried_inwards(place: Point, piece: Piece, edges: tuple[Edge, ...]) -> Point:
    """Where a marked point goes: with the edge or corner it lies on; one inside the piece stays."""
    for old, new in zip(piece.edges, edges, strict=True):
        if distance_mm(place, old.start) <= ON_EDGE_MM:
            return new.start
    for old, new in zip(piece.edges, edges, strict=True):
        if polyline.nearest(old.points, place)[1] <= ON_EDGE_MM:
            return new.point_at(polyline.nearest(new.points, place)[0])
    return place


def _leg_meets(chain: Points, tip: Point, mouth: Point) -> float:
    """Length along the chain where a dart leg crosses it; the nearest place where none does."""
    found = crossings(frozen_points([tip, mouth]), chain)
    return found[-1].second_mm if found else polyline.nearest(chain, mouth)[0]


def uncapped_darts(piece: Piece) -> tuple[Dart, ...]:
    """The darts on edges with an allowance past which the cutting line runs without a cap."""
    return tuple(
        dart for edge in piece.edges if piece.darts_on(edge.id) for dart in _capped(Same(piece), Same(edge))[1]
    )


def _cut_edge(piece: Piece, edge: Edge) -> Points:
    """The parallel of one edge with the caps of its darts; across a mouth without cap it runs straight."""
    return polyline.joined(_capped(Same(piece), Same(edge))[0])


@lru_cache(maxsize=4 * _KEPT)
def _capped(its_piece: Same[Piece], its_edge: Same[Edge]) -> tuple[tuple[Points, ...], tuple[Dart, ...]]:
    """The parts of that line in order, and the darts without a cap."""
    piece, edge = its_piece.value, its_edge.value
    width = edge.allowance_mm
    wanted = piece.darts_on(edge.id) if width > 0 else ()
    darts = _darts_with_room(piece, edge) if wanted else []
    stops = [0.0, *(stop for dart in darts for stop in (dart.from_mm, dart.to_mm)), edge.length_mm]
    sides = [
        _beside(Same(polyline.part_between(edge.points, start, stop)), width).points
        for start, stop in zip(stops[::2], stops[1::2], strict=True)
    ]
    done: list[Points] = []
    missing = [dart for dart in wanted if dart not in darts]
    side = sides[0]
    for dart, after in zip(darts, sides[1:], strict=True):
        cap = _cap(piece, dart, side, after)
        *before, side = cap or (side, after)
        done.extend(before)
        missing += [] if cap else [dart]
    return (*done, side), tuple(missing)


def _darts_with_room(piece: Piece, edge: Edge) -> list[Dart]:
    """The darts of an edge that leave a stretch of it on both sides of their mouths."""
    found: list[Dart] = []
    from_mm = 0.0
    for dart in piece.darts_on(edge.id):
        if dart.from_mm - from_mm > SAME_POINT_MM and edge.length_mm - dart.to_mm > SAME_POINT_MM:
            found.append(dart)
            from_mm = dart.to_mm
    return found


def _cap(piece: Piece, dart: Dart, before: Points, after: Points) -> tuple[Points, Points, Points] | None:
    start, end = piece.mouth(dart)
    if dart.pressed is Pressed.TO_START:
        return capped(before, after, start, end, dart.tip)
    turned = capped(after[::-1], before[::-1], end, start, dart.tip)
    return None if turned is None else (turned[2][::-1], turned[1][::-1], turned[0][::-1])
