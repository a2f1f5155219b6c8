"""What darts usually do: what they aim at and which way they are pressed."""

import math
from dataclasses import replace

from geometry.affine import Point, distance_mm, midpoint, unit_vector
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import EdgeRole
from geometry.model.marks import MarkKind
from geometry.model.piece import Piece

AIM_REACH_MM = 100.0
"""A body point further beyond the tip than this is not what the dart aims at (bust darts end 15-40 mm short of the
bust point, shoulder darts up to 80 mm short of the shoulder blade; common practice, no source)."""

AIM_ASIDE_MM = 15.0
"""A body point further than this from the dart's middle line is not what it aims at (own choice)."""

_BEHIND_MM = 1.0
"""A body point at the tip itself may lie this much short of it."""


def usual_aim(piece: Piece, dart: Dart) -> Point | None:
    """The landmark nearest to the dart's middle line beyond its tip, within reach; ``None`` if there is none."""
    mouth = midpoint(*piece.mouth(dart))
    ux, uy = unit_vector(mouth, dart.tip)
    found: list[tuple[float, float, Point]] = []
    for mark in piece.marks:
        x, y = mark.at[0] - dart.tip[0], mark.at[1] - dart.tip[1]
        along, aside = x * ux + y * uy, abs(x * uy - y * ux)
        if mark.kind is MarkKind.LANDMARK and -_BEHIND_MM <= along <= AIM_REACH_MM and aside <= AIM_ASIDE_MM:
            found.append((aside, along, mark.at))
    return min(found)[2] if found else None


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
    centre = _centre(piece)
    if centre is None or distance_mm(start, centre) <= distance_mm(end, centre):
        return Pressed.TO_START
    return Pressed.TO_END


def _centre(piece: Piece) -> Point | None:
    """The middle of the edge on the fold or the centre edge."""
    for edge in piece.edges:
        if edge.id == piece.fold or edge.role in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK):
            return midpoint(edge.start, edge.end)
    return None


def with_usual_habits(piece: Piece) -> Piece:
    """The piece with every dart aimed and pressed the usual way."""
    darts = tuple(replace(dart, aim=usual_aim(piece, dart), pressed=usual_pressed(piece, dart)) for dart in piece.darts)
    return replace(piece, darts=darts)
