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
from geometry.model.garment import Part, part_of
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


def grain_missing(subject: Subject) -> Iterator[Finding]:
    """Pieces without a grain line."""
    for piece in subject.pieces:
        if not has_grain(piece):
            text = f'"{piece.name}" has no grain line; draw one, or the piece cannot be laid straight on the cloth.'
            yield Finding("grain-missing", Level.WARN, text, piece.name)


def grain_turned(subject: Subject) -> Iterator[Finding]:
    """Grain lines that left the line they kept to: fold or centre edge, else the hem or the longest edge."""
    largest = subject.limits.grain_turn_deg
    for piece in subject.pieces:
        base = subject.bases.get(piece.name)
        if base is None or base is piece or not has_grain(piece) or not has_grain(base):
            continue
        beside = _beside(piece, base)
        if beside is None:
            continue
        (now, was), is_centre = beside
        turned = abs(now - was) if not is_centre else now
        if (
            turned > largest
            and (not is_centre or was <= largest)
            and (is_centre or _own_turn_deg(piece, base) > largest)
        ):
            yield _turned(piece, base, turned, largest)


def fold_off_grain(subject: Subject) -> Iterator[Finding]:
    """Pieces on the fold whose grain runs neither along nor square to it, and did so from the start."""
    largest = subject.limits.grain_turn_deg
    for piece in subject.pieces:
        if piece.fold is None or not has_grain(piece):
            continue
        base = subject.bases.get(piece.name)
        turn = _turn_deg(piece, piece.edge(piece.fold))
        was = _turn_deg(base, base.edge(base.fold)) if base and base.fold and has_grain(base) else turn
        if min(turn, 90 - turn) > largest and was > largest and abs(turn - 45) > largest:
            text = (
                f'The grain of "{piece.name}" leans {turn:.1f} degrees against its {piece.fold}, which lies on the '
                "fold; cloth is folded along its grain, so draw the grain line parallel to the fold."
            )
            where = midpoint(*_grain_ends(piece))
            yield Finding("fold-off-grain", Level.WARN, text, piece.name, where, about=(piece.fold,))


def crease_off(subject: Subject) -> Iterator[Finding]:
    """Trouser legs whose grain ran through the middle of the hem and does not any more."""
    limit_mm = subject.limits.crease_mm
    for piece in subject.pieces:
        base = subject.bases.get(piece.name)
        if base is None or base is piece or part_of(piece) is not Part.TROUSERS:
            continue
        now, was = _crease(piece), _crease(base)
        if now and was and was[0] <= limit_mm < now[0] - FLOAT_MM:
            text = (
                f'The crease of "{piece.name}", which is its grain, misses the middle of the hem by {mm(now[0])}; move '
                "the leg below the knee or the grain line, so that it runs through knee and hem."
            )
            yield Finding("crease-off", Level.WARN, text, piece.name, now[1], now[0], 0.0)


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
            yield Finding("fold-bent", level, text, piece.name, _furthest(edge), bend_mm, 0.0, (edge.id,))


def _furthest(edge: Edge) -> Point:
    """The point of an edge furthest from the line between its ends."""
    return max(((float(x), float(y)) for x, y in edge.points), key=lambda place: _off_mm(edge.start, edge.end, place))


def _off_mm(a: Point, b: Point, place: Point) -> float:
    length_mm = distance_mm(a, b)
    if length_mm == 0:
        return distance_mm(a, place)
    return abs((b[0] - a[0]) * (place[1] - a[1]) - (b[1] - a[1]) * (place[0] - a[0])) / length_mm


def has_grain(piece: Piece) -> bool:
    """Whether a piece has a grain line with a length."""
    return piece.grain is not None and distance_mm(piece.grain.start, piece.grain.end) > 0


def _grain_ends(piece: Piece) -> tuple[Point, Point]:
    assert piece.grain is not None
    return piece.grain.start, piece.grain.end


def _turned(piece: Piece, base: Piece, turned_deg: float, largest_deg: float) -> Finding:
    """The finding; about the edge that the grain keeps to and the angle to it that it had."""
    start, end = _grain_ends(piece)
    length_mm = distance_mm(start, end)
    lean_mm, allowed_mm = (length_mm * math.sin(math.radians(angle)) for angle in (turned_deg, largest_deg))
    text = (
        f'The grain line of "{piece.name}" turned against the piece and now leans {mm(lean_mm)} over its length of '
        f"{mm(length_mm)} ({turned_deg:.1f} degrees); draw it as it was, on the part that hangs."
    )
    edge = _kept_to(base)
    heading, ahead = (math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in (_grain_ends(base), (edge.start, edge.end)))
    about = (edge.id, f"{math.degrees(heading - ahead):.6f}")
    return Finding("grain-turned", Level.WARN, text, piece.name, midpoint(start, end), lean_mm, allowed_mm, about)


def _beside(piece: Piece, base: Piece) -> tuple[tuple[float, float], bool] | None:
    """Angles now and before between the grain and the edge it keeps to, and whether that is a centre edge."""
    edge = _kept_to(base)
    now = next((each for each in piece.edges if each.id == edge.id), None)
    is_centre = edge.id == base.fold or edge.role in _CENTRES
    return None if now is None else ((_turn_deg(piece, now), _turn_deg(base, edge)), is_centre)


def _kept_to(piece: Piece) -> Edge:
    for wanted in (
        [edge for edge in piece.edges if edge.id == piece.fold],
        [edge for edge in piece.edges if edge.role in _CENTRES],
        [edge for edge in piece.edges if edge.role is EdgeRole.HEM],
    ):
        if wanted:
            return wanted[0]
    return max(piece.edges, key=lambda edge: edge.length_mm)


def _turn_deg(piece: Piece, edge: Edge) -> float:
    """Angle between a piece's grain and the line between the ends of an edge, 0 to 90."""
    return _between_deg(_grain_ends(piece), (edge.start, edge.end))


def _own_turn_deg(piece: Piece, base: Piece) -> float:
    """By how much the grain line turned on the table."""
    return _between_deg(_grain_ends(piece), _grain_ends(base))


def _between_deg(one: tuple[Point, Point], other: tuple[Point, Point]) -> float:
    first, second = (math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in (one, other))
    turn = abs(math.degrees(first - second)) % 180
    return min(turn, 180 - turn)


def _crease(piece: Piece) -> tuple[float, Point] | None:
    """How far the grain, taken on, misses the middle of the hem, and that middle."""
    hems = piece.edges_with_role(EdgeRole.HEM)
    if not hems or not has_grain(piece):
        return None
    middle = midpoint(hems[0].start, hems[0].end)
    return _off_mm(*_grain_ends(piece), middle), middle


CHECKS = (
    Check("grain-missing", "Every piece has a grain line", grain_missing, rule="common practice, no source"),
    Check("grain-turned", "The grain is parallel to what it was parallel to", grain_turned, ("grain_turn_deg",)),
    Check(
        "fold-off-grain",
        "What lies on the fold lies on the grain",
        fold_off_grain,
        ("grain_turn_deg",),
        "a fold at an angle changes the piece: class handout Pattern Symbols (paperzz.com)",
    ),
    Check(
        "crease-off",
        "The crease of trousers runs through the middle of the hem",
        crease_off,
        ("crease_mm",),
        "common practice, from memory",
    ),
    Check("fold-bent", "Edges on the fold are straight", fold_bent, ("fold_warn_mm", "fold_stop_mm")),
)
