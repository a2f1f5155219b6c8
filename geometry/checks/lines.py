"""Edges by themselves: no corner where none was meant, no hollow that was not there, centre lines straight."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache

from geometry.affine import Point, as_point
from geometry.checks.limits import Limits
from geometry.checks.line_shape import Bend, bends, dip_mm, folded_line, open_mm, peak_mm
from geometry.checks.subject import Check, Subject
from geometry.checks.wording import mm
from geometry.curves import polyline
from geometry.curves.corners import CORNER_DEG
from geometry.findings import Finding, Level
from geometry.model.edge import Edge, EdgeRole
from geometry.model.piece import Piece
from geometry.tolerance import DOUBLED_POINT_MM, FLOAT_MM, STRAIGHT_MM

_HOLLOW = (EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.WAIST, EdgeRole.CROTCH)
"""Edges that may be hollow as well as round."""

_SAME_PLACE = 0.08
"""A corner that moved along its edge by less than this share of it is the one that was there before; own choice."""


def edge_empty(subject: Subject) -> Iterator[Finding]:
    """Edges without length."""
    for piece in subject.pieces:
        for edge in piece.edges:
            if edge.length_mm <= DOUBLED_POINT_MM:
                text = (
                    f'The {edge.id} of "{piece.name}" has no length left, so nothing can be sewn to it and the piece '
                    "was not checked further; make the last change smaller, or take it back."
                )
                yield Finding("edge-empty", Level.STOP, text, piece.name, edge.start, 0.0, about=(edge.id,))


def edge_kinked(subject: Subject) -> Iterator[Finding]:
    """Corners inside an edge, darts folded: a hinge not yet smoothed, a dart not trued. The sharpest of each edge.

    A corner of ``CORNER_DEG`` or more was designed so if there is no base to say otherwise, and so was every corner
    that the base has. The finding is about (edge, share of its length).
    """
    least_rad = _turn_rad(subject.limits)
    for piece in subject.whole:
        base = subject.bases.get(piece.name)
        for edge in piece.edges:
            found = _new_bends(piece, base, edge, least_rad)
            worst = max(found, key=lambda bend: abs(bend.extra_rad), default=None)
            if worst is not None:
                yield _kink(piece, edge, worst, subject.limits)


def curve_turned(subject: Subject) -> Iterator[Finding]:
    """Edges without darts that became hollow and were not so before; the place is the deepest."""
    for base, was, piece, edge in _changed(subject):
        if edge.role in _HOLLOW or piece.darts_on(edge.id) or base.darts_on(was.id):
            continue
        dip, index = dip_mm(edge.points)
        before, _ = dip_mm(was.points)
        if before <= subject.limits.hollow_mm / 2 and dip - before > subject.limits.hollow_mm:
            text = (
                f'The {edge.id} of "{piece.name}" was not hollow and is now by {mm(dip)}; draw it straight or '
                "rounded as it was, or it will strain there."
            )
            place = as_point(edge.points[index])
            yield Finding("curve-turned", Level.WARN, text, piece.name, place, dip, before, (edge.id,))


def centre_bent(subject: Subject) -> Iterator[Finding]:
    """Centre lines off the fold that were straight and are not any more."""
    for _, was, piece, edge in _changed(subject):
        if edge.id == piece.fold or edge.role not in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK):
            continue
        bend_mm = polyline.offset_from_chord_mm(edge.points)
        is_new = polyline.offset_from_chord_mm(was.points) <= STRAIGHT_MM
        if is_new and bend_mm > subject.limits.fold_stop_mm + FLOAT_MM:
            text = (
                f'The {edge.id} of "{piece.name}" was straight and now leaves the straight line by {mm(bend_mm)}; '
                "draw it straight and take the width up beside it, or shape the seam on purpose."
            )
            yield Finding("centre-bent", Level.WARN, text, piece.name, _furthest(edge), bend_mm, 0.0, (edge.id,))


def edge_added(subject: Subject) -> Iterator[Finding]:
    """Seam edges moved out by more than is good without a slash: what is marked beside them stayed where it was."""
    most_mm = subject.limits.edge_added_mm
    for base, was, piece, edge in _changed(subject):
        if edge.role not in (EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.UNDERARM):
            continue
        added_mm, place = _moved_out(was, edge)
        if added_mm > most_mm + FLOAT_MM and _is_rest_still(base, piece, was):
            text = (
                f'The {edge.id} of "{piece.name}" was let out by {mm(added_mm)} at its edge; more than {mm(most_mm)} '
                "there changes the shape, so slash and spread inside the piece instead, or start from a larger size."
            )
            yield Finding("edge-added", Level.WARN, text, piece.name, place, added_mm, most_mm, (edge.id,))


def _changed(subject: Subject) -> Iterator[tuple[Piece, Edge, Piece, Edge]]:
    """Each edge that is not as it was, with its piece, after what both were before."""
    for piece in subject.whole:
        base = subject.bases.get(piece.name)
        if base is None or base is piece:
            continue
        before = {edge.id: edge for edge in base.edges}
        for edge in piece.edges:
            was = before.get(edge.id)
            if was is not None and was.points is not edge.points:
                yield base, was, piece, edge


def _turn_rad(limits: Limits) -> float:
    """The turn whose peak is just as high as may be."""
    return 2 * math.asin(min(1.0, 2 * limits.peak_mm / max(limits.peak_reach_mm, FLOAT_MM)))


def _new_bends(piece: Piece, base: Piece | None, edge: Edge, least_rad: float) -> list[Bend]:
    """The corners of an edge that were neither drawn so nor there before."""
    found = _bends_of(piece, least_rad).get(edge.id)
    if found is None or base is piece:
        return []
    if base is None or all(each.id != edge.id for each in base.edges):
        return [bend for bend in found if abs(bend.turn_rad) < math.radians(CORNER_DEG)]
    old_mm, total_mm = base.sewn_length_mm(edge.id), piece.sewn_length_mm(edge.id)
    shares = [bend.at_mm / old_mm for bend in _bends_of(base, least_rad).get(edge.id, ())]
    return [bend for bend in found if all(abs(bend.at_mm / total_mm - share) > _SAME_PLACE for share in shares)]


@lru_cache(maxsize=256)
def _bends_of(piece: Piece, least_rad: float) -> dict[str, tuple[Bend, ...]]:
    """The corners of those edges that have some, darts folded; most pieces are as they were a moment ago."""
    rows = ((edge.id, bends(folded_line(piece, edge.id), least_rad=least_rad)) for edge in piece.edges)
    return {name: found for name, found in rows if found}


def _kink(piece: Piece, edge: Edge, bend: Bend, limits: Limits) -> Finding:
    high_mm = peak_mm(bend.extra_rad, limits.peak_reach_mm)
    at_mm = open_mm(piece, edge.id, bend.at_mm)
    folded = " with its darts folded" if piece.darts_on(edge.id) else ""
    turn_deg = math.degrees(bend.extra_rad)
    text = (
        f'The {edge.id} of "{piece.name}"{folded} has a corner of {abs(turn_deg):.0f} degrees where none was meant: it '
        f"{'stands out' if turn_deg > 0 else 'dips in'} by {mm(high_mm)}; blend it into a smooth line."
    )
    about = (edge.id, repr(at_mm / edge.length_mm))
    return Finding("edge-kinked", Level.WARN, text, piece.name, edge.point_at(at_mm), high_mm, 0.0, about)


def _furthest(edge: Edge) -> Point:
    dip, index = dip_mm(edge.points)
    back, other = dip_mm(edge.points[::-1])
    return as_point(edge.points[index] if dip >= back else edge.points[::-1][other])


def _moved_out(was: Edge, edge: Edge) -> tuple[float, Point]:
    """The least that the middle part of an edge moved outwards, square to it, and the place half-way along."""
    moved = []
    for share in (0.3, 0.5, 0.7):
        (x, y), (ux, uy) = was.point_at(share * was.length_mm), polyline.direction_at(was.points, share * was.length_mm)
        at_mm, gap_mm = polyline.nearest(edge.points, (x, y))
        nx, ny = edge.point_at(at_mm)
        moved.append(gap_mm if (nx - x) * uy - (ny - y) * ux > 0 else 0.0)
    return min(moved), edge.point_at(edge.length_mm / 2)


def _is_rest_still(base: Piece, piece: Piece, was: Edge) -> bool:
    """Whether what is marked inside a piece, nearest to an edge, stayed where it was."""
    known = {**{line.id: as_point(line.points[-1]) for line in piece.inner_lines}, **_places(piece)}
    witnesses = {**{line.id: as_point(line.points[-1]) for line in base.inner_lines}, **_places(base)}
    shared = [name for name in witnesses if name in known]
    if not shared:
        return False
    nearest = min(shared, key=lambda name: polyline.nearest(was.points, witnesses[name])[1])
    (x0, y0), (x1, y1) = witnesses[nearest], known[nearest]
    return math.hypot(x1 - x0, y1 - y0) <= STRAIGHT_MM


def _places(piece: Piece) -> dict[str, Point]:
    """Marks and dart tips by a name of their own."""
    return {
        **{f"mark {mark.id}": mark.at for mark in piece.marks},
        **{f"dart {dart.id}": dart.tip for dart in piece.darts},
    }


CHECKS = (
    Check("edge-empty", "Every edge has a length", edge_empty, rule="closed-form"),
    Check("edge-kinked", "No edge has a corner where none was meant", edge_kinked, ("peak_mm", "peak_reach_mm")),
    Check(
        "curve-turned",
        "No edge became hollow that was not",
        curve_turned,
        ("hollow_mm",),
        "the edge of a gore must never become hollow: an early dressmaking text (fashion-design-drawing.com)",
    ),
    Check("centre-bent", "Centre seams that were straight are straight", centre_bent, ("fold_stop_mm",)),
    Check("edge-added", "Not too much was added at an edge alone", edge_added, ("edge_added_mm",)),
)
