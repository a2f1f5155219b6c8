"""What darts usually do: what they aim at and which way they are pressed."""

from dataclasses import replace

from geometry.affine import Point, midpoint, unit_vector
from geometry.model.dart import Dart
from geometry.model.marks import MarkKind
from geometry.model.piece import Piece
from geometry.model.pressing import usual_pressed

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


def with_usual_habits(piece: Piece) -> Piece:
    """The piece with every dart aimed and pressed the usual way."""
    darts = tuple(replace(dart, aim=usual_aim(piece, dart), pressed=usual_pressed(piece, dart)) for dart in piece.darts)
    return replace(piece, darts=darts)
