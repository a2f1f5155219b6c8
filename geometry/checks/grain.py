"""Grain and fold: known, straight, parallel to what they were parallel to."""

from __future__ import annotations

import math
from collections.abc import Iterator

from geometry.affine import Point, distance_mm, midpoint
from geometry.checks.limits import level_beyond
from geometry.checks.subject import Check, Subject
from geometry.checks.wording import mm
from geometry.curves import polyline
from geometry.findings import Finding, Level
from geometry.model.edge import Edge, EdgeRole
from geometry.model.piece import Piece


def grain_missing(subject: Subject) -> Iterator[Finding]:
    """Pieces without a grain line."""
    for piece in subject.pieces:
        if piece.grain is None or distance_mm(piece.grain.start, piece.grain.end) == 0:
            text = f'"{piece.name}" has no grain line; draw one, or the piece cannot be laid straight on the cloth.'
            yield Finding("grain-missing", Level.WARN, text, piece.name)


def grain_turned(subject: Subject) -> Iterator[Finding]:
    """Grain lines that left the fold or centre edge they were parallel to."""
    before = {piece.name: piece for piece in subject.base.pieces} if subject.base else {}
    for piece in subject.pieces:
        base = before.get(piece.name)
        was, now = _turn_deg(base) if base else None, _turn_deg(piece)
        largest = subject.limits.grain_turn_deg
        if piece.grain and was is not None and now is not None and was <= largest < now:
            length_mm = distance_mm(piece.grain.start, piece.grain.end)
            lean_mm, allowed_mm = (length_mm * math.sin(math.radians(angle)) for angle in (now, largest))
            text = (
                f'The grain line of "{piece.name}" was parallel to its centre and now leans {mm(lean_mm)} over its '
                f"length of {mm(length_mm)} ({now:.1f} degrees); draw it parallel again on the part that hangs."
            )
            where = midpoint(piece.grain.start, piece.grain.end)
            yield Finding("grain-turned", Level.WARN, text, piece.name, where, lean_mm, allowed_mm)


def fold_bent(subject: Subject) -> Iterator[Finding]:
    """Edges on the fold that are not one straight line; the place is where they leave it furthest."""
    for piece in subject.pieces:
        if piece.fold is None:
            continue
        edge = piece.edge(piece.fold)
        bend_mm = polyline.offset_from_chord_mm(edge.points)
        level = level_beyond(bend_mm, subject.limits.fold_warn_mm, subject.limits.fold_stop_mm)
        if level is not None:
            text = (
                f'The {edge.id} of "{piece.name}" lies on the fold but leaves the straight line by {mm(bend_mm)}; '
                "straighten it, or cut the piece whole instead of on the fold."
            )
            yield Finding("fold-bent", level, text, piece.name, _furthest(edge), bend_mm, 0.0)


def _furthest(edge: Edge) -> Point:
    """The point of an edge furthest from the line between its ends."""
    return max(((float(x), float(y)) for x, y in edge.points), key=lambda place: _off_mm(edge.start, edge.end, place))


def _off_mm(a: Point, b: Point, place: Point) -> float:
    length_mm = distance_mm(a, b)
    if length_mm == 0:
        return distance_mm(a, place)
    return abs((b[0] - a[0]) * (place[1] - a[1]) - (b[1] - a[1]) * (place[0] - a[0])) / length_mm


def _turn_deg(piece: Piece) -> float | None:
    """Angle between a piece's grain and its fold (else centre edge), 0 to 90; ``None`` without one of them."""
    centre = next((edge for edge in piece.edges if edge.id == piece.fold), None) or next(
        (edge for edge in piece.edges if edge.role in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)), None
    )
    if piece.grain is None or centre is None:
        return None
    lines = ((piece.grain.start, piece.grain.end), (centre.start, centre.end))
    grain, edge = (math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in lines)
    turn = abs(math.degrees(grain - edge)) % 180
    return min(turn, 180 - turn)


CHECKS = (
    Check("grain-missing", "Every piece has a grain line", grain_missing, rule="common practice, no source"),
    Check("grain-turned", "The grain is parallel to what it was parallel to", grain_turned, ("grain_turn_deg",)),
    Check("fold-bent", "Edges on the fold are straight", fold_bent, ("fold_warn_mm", "fold_stop_mm")),
)
