"""Steps as the small forms begin them: places found on the piece by what its edges are. No Qt."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from geometry.alterations.anchors import Anchor, On, anchor_at, on_edge, resolve
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.full_bust import FullBust
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.upper_arm import UpperArm
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece

ARMHOLE_SHARE: Final = 1 / 3
"""The slash of a full bust meets the armhole about a third up from the underarm (common practice)."""


def suits(kind: str, piece: Piece) -> bool:
    """Whether a kind of step can be offered for a piece."""
    needed: dict[str, Callable[[], bool]] = {
        "dart-transfer": lambda: bool(piece.darts),
        "full-bust": lambda: _has(piece, EdgeRole.ARMHOLE, EdgeRole.SIDE, EdgeRole.WAIST, EdgeRole.CENTRE_FRONT),
        "upper-arm": lambda: _has(piece, EdgeRole.CAP, EdgeRole.HEM),
        "split-dart": lambda: bool(piece.darts),
        "release-dart": lambda: bool(piece.darts),
    }
    return needed.get(kind, lambda: True)()


def suitable(kind: str, pattern: Pattern) -> tuple[str, ...]:
    """Names of the pieces a kind of step can be offered for."""
    return tuple(piece.name for piece in pattern.pieces if suits(kind, piece))


def slash_between(
    piece: Piece, start: Anchor, end: Anchor, amount_mm: float, *, hinge: Hinge, moving: Side = Side.LEFT
) -> Slash:
    """A slash along a straight line from edge to edge."""
    return Slash(piece.name, (SlashCut((start, end), amount_mm, hinge, moving),))


def moving_part(piece: Piece, start: Anchor, end: Anchor) -> Side:
    """The side of a cut that should move: without the fold, or where nothing is folded without the grain line."""
    a, b = resolve(piece, start), resolve(piece, end)
    if piece.fold is not None:
        fold = piece.edge(piece.fold)
        still = fold.point_at(fold.length_mm / 2)
    elif piece.grain is not None:
        still = ((piece.grain.start[0] + piece.grain.end[0]) / 2, (piece.grain.start[1] + piece.grain.end[1]) / 2)
    else:
        return Side.LEFT
    turn = (b[0] - a[0]) * (still[1] - a[1]) - (b[1] - a[1]) * (still[0] - a[0])
    return Side.RIGHT if turn > 0 else Side.LEFT


def transfer_to(piece: Piece, dart: str, place: Anchor, share: float) -> DartTransfer:
    """A dart moved to another place on the outline."""
    return DartTransfer(piece.name, dart, (place,), share)


def full_bust_on(piece: Piece, amount_mm: float, *, armhole_share: float = ARMHOLE_SHARE) -> FullBust:
    """A full bust with its lines where they usually go.

    Args:
        piece: A half front.
        amount_mm: Spread per half front.
        armhole_share: How far up the armhole from the underarm the piece stays joined.

    Raises:
        StepError: the piece lacks what is needed; the sentence says what.
    """
    armhole, side, waist = (_edge(piece, role) for role in (EdgeRole.ARMHOLE, EdgeRole.SIDE, EdgeRole.WAIST))
    centre = _edge(piece, EdgeRole.CENTRE_FRONT)
    bust = _bust_point(piece)
    bust_at = piece.landmark(bust.name) if bust.on is On.LANDMARK else piece.dart(bust.name).apex
    share = armhole_share if _touches(armhole.start, side) else 1 - armhole_share
    waist_at = _middle_of_dart(piece, waist) or anchor_at(piece, (bust_at[0], _nearest_y(waist, bust_at)))
    side_at = _middle_of_dart(piece, side) or on_edge(
        side.id, polyline.nearest(side.points, bust_at)[0] / side.length_mm
    )
    level = polyline.nearest(centre.points, bust_at)[0]
    low = polyline.nearest(centre.points, _corner_near(centre, waist))[0]
    return FullBust(
        piece.name, amount_mm, bust, on_edge(armhole.id, share), side_at, waist_at,
        on_edge(centre.id, (level + low) / 2 / centre.length_mm),
    )  # fmt: skip


def upper_arm_on(piece: Piece, amount_mm: float) -> UpperArm:
    """A full upper arm with its cross from the top of the cap to the hem and from underarm to underarm."""
    cap, hem = _edge(piece, EdgeRole.CAP), _edge(piece, EdgeRole.HEM)
    landmarks = {mark.id for mark in piece.marks if mark.kind is MarkKind.LANDMARK}
    top = Anchor(On.LANDMARK, "cap top") if "cap top" in landmarks else on_edge(cap.id, 0.5)
    front, back = on_edge(cap.id, 0.0), on_edge(cap.id, 1.0)
    if any("front" in edge.id for edge in piece.edges if _touches(cap.end, edge) and edge.id != cap.id):
        front, back = back, front
    return UpperArm(piece.name, amount_mm, top, on_edge(hem.id, 0.5), front, back)


def _has(piece: Piece, *roles: EdgeRole) -> bool:
    return all(piece.edges_with_role(role) for role in roles)


def _edge(piece: Piece, role: EdgeRole) -> Edge:
    edges = piece.edges_with_role(role)
    if not edges:
        raise StepError(f'On "{piece.name}" no edge is known as the {role.value}; choose another piece.')
    return edges[0]


def _bust_point(piece: Piece) -> Anchor:
    for mark in piece.marks:
        if mark.kind is MarkKind.LANDMARK and "bust" in mark.id.lower():
            return Anchor(On.LANDMARK, mark.id)
    aimed = next((dart for dart in piece.darts if dart.aim is not None), None)
    if aimed is None:
        raise StepError(
            f'On "{piece.name}" the bust point is not marked and no dart aims at one; choose another piece.'
        )
    return Anchor(On.AIM, aimed.id)


def _middle_of_dart(piece: Piece, edge: Edge) -> Anchor | None:
    """The middle of the mouth of the widest dart on an edge."""
    darts = piece.darts_on(edge.id)
    if not darts:
        return None
    dart = max(darts, key=lambda each: each.to_mm - each.from_mm)
    return on_edge(edge.id, (dart.from_mm + dart.to_mm) / 2 / edge.length_mm)


def _touches(corner: tuple[float, float], edge: Edge) -> bool:
    return corner in (edge.start, edge.end)


def _corner_near(edge: Edge, other: Edge) -> tuple[float, float]:
    return edge.start if _touches(edge.start, other) else edge.end


def _nearest_y(edge: Edge, place: tuple[float, float]) -> float:
    return edge.point_at(polyline.nearest(edge.points, place)[0])[1]


def at_share(piece: Piece, edge_id: str, share: float) -> Anchor:
    """A place on an edge; in the mouth of a dart the nearest leg is taken."""
    edge = piece.edge(edge_id)
    at_mm = min(max(share, 0.0), 1.0) * edge.length_mm
    for dart in piece.darts_on(edge_id):
        if dart.from_mm < at_mm < dart.to_mm:
            at_mm = dart.from_mm if at_mm - dart.from_mm <= dart.to_mm - at_mm else dart.to_mm
    return on_edge(edge_id, at_mm / edge.length_mm)
