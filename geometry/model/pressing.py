"""Which way darts are usually pressed."""

from __future__ import annotations

import math

from geometry.affine import Point, distance_mm, midpoint, unit_vector
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import EdgeRole
from geometry.model.piece import Piece

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


def usual_pressed(piece: Piece, dart: Dart) -> Pressed:
    """Towards the centre for a dart that runs along the grain, down for one that runs across it.

    Common practice, no source. Without a grain line the drawing's y counts as the grain; on a piece without a
    centre edge a dart along the grain is pressed towards the start of its edge.
    """
    start, end = piece.mouth(dart)
    grain = (0.0, 1.0)
    if piece.grain is not None and distance_mm(piece.grain.start, piece.grain.end) > 0:
        grain = unit_vector(piece.grain.start, piece.grain.end)
        grain = grain if (grain[1], grain[0]) > (0.0, 0.0) else (-grain[0], -grain[1])
    ux, uy = unit_vector(midpoint(start, end), dart.tip)
    if abs(ux * grain[0] + uy * grain[1]) < math.sqrt(0.5):
        lower = (start[0] - end[0]) * grain[0] + (start[1] - end[1]) * grain[1] < 0
        return Pressed.TO_START if lower else Pressed.TO_END
    centre = centre_of(piece)
    if centre is None or distance_mm(start, centre) <= distance_mm(end, centre):
        return Pressed.TO_START
    return Pressed.TO_END


def centre_of(piece: Piece) -> Point | None:
    """The middle of the edge on the fold or else of the centre edge; ``None`` if it has neither."""
    for edge in piece.edges:
        if edge.id == piece.fold or edge.role in _CENTRES:
            return midpoint(edge.start, edge.end)
    return None
