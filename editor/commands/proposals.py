"""Steps as the small forms begin them: places found on the piece by what its edges are. No Qt."""

from __future__ import annotations

from collections.abc import Callable

from geometry.alterations.anchors import Anchor, on_edge, resolve
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


def suits(kind: str, piece: Piece) -> bool:
    """Whether a kind of step can be offered for a piece."""
    needed: dict[str, Callable[[], bool]] = {
        "dart-transfer": lambda: bool(piece.darts),
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


def at_share(piece: Piece, edge_id: str, share: float) -> Anchor:
    """A place on an edge; in the mouth of a dart the nearest leg is taken."""
    edge = piece.edge(edge_id)
    at_mm = min(max(share, 0.0), 1.0) * edge.length_mm
    for dart in piece.darts_on(edge_id):
        if dart.from_mm < at_mm < dart.to_mm:
            at_mm = dart.from_mm if at_mm - dart.from_mm <= dart.to_mm - at_mm else dart.to_mm
    return on_edge(edge_id, at_mm / edge.length_mm)
