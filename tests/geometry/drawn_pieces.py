"""Small pieces drawn from plain figures, shared by the tests of the alterations."""

import math

import numpy as np

from geometry.affine import Point, frozen_points
from geometry.curves import polyline
from geometry.model.dart import Dart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, InnerLine, Mark, MarkKind, Notch
from geometry.model.piece import Piece


def rectangle(width_mm: float = 400.0, height_mm: float = 600.0, name: str = "panel") -> Piece:
    """Four straight edges from the corner (0, 0): hem, side, waist, centre front (on the fold)."""
    corners = [(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)]
    roles = (EdgeRole.HEM, EdgeRole.SIDE, EdgeRole.WAIST, EdgeRole.CENTRE_FRONT)
    edges = tuple(
        Edge(role.value, frozen_points([corners[i], corners[(i + 1) % 4]]), role) for i, role in enumerate(roles)
    )
    return Piece(
        name,
        edges,
        fold="centre front",
        grain=Grain((width_mm / 4, height_mm / 4), (width_mm / 4, 3 * height_mm / 4)),
        notches=(Notch("hip", "side", height_mm * 0.7),),
        inner_lines=(InnerLine("lengthen", frozen_points([(0.0, height_mm / 3), (width_mm, height_mm / 3)])),),
        marks=(Mark("pocket", (width_mm / 2, height_mm / 2), MarkKind.DRILL),),
    )


def disc(radius_mm: float = 200.0, corners: int = 4, steps: int = 90) -> Piece:
    """A round piece with curved edges only."""
    edges = []
    for index in range(corners):
        angles = np.linspace(index, index + 1, steps + 1) * math.tau / corners
        edges.append(
            Edge(f"edge {index + 1}", frozen_points(radius_mm * np.column_stack([np.cos(angles), np.sin(angles)])))
        )
    return Piece("disc", tuple(edges))


BUST, ARMHOLE_HINGE, SIDE_MOUTH, UNDERARM = (90.0, 190.0), (165.0, 300.0), (235.0, 170.0), (240.0, 210.0)
"""The half front of the worked full-bust example, mm: centre front at x = 0."""


def half_front(*, dart_width_mm: float = 40.0) -> Piece:
    """The half front of the worked example, with a side dart whose mouth's middle is SIDE_MOUTH and a waist dart."""
    armhole = frozen_points([UNDERARM, (200.0, 225.0), (175.0, 255.0), ARMHOLE_HINGE, (163.0, 340.0), (170.0, 380.0)])
    legs = _isosceles_mouth(dart_width_mm)
    side = frozen_points([(225.0, 0.0), legs[0], legs[1], UNDERARM])
    stations = polyline.stations_mm(side)
    edges = (
        Edge("waist", frozen_points([(0.0, 0.0), (225.0, 0.0)]), EdgeRole.WAIST),
        Edge("side", side, EdgeRole.SIDE),
        Edge("armhole", armhole, EdgeRole.ARMHOLE),
        Edge("shoulder", frozen_points([(170.0, 380.0), (60.0, 420.0)]), EdgeRole.SHOULDER),
        Edge("neck", frozen_points([(60.0, 420.0), (45.0, 370.0), (0.0, 350.0)]), EdgeRole.NECK),
        Edge("centre front", frozen_points([(0.0, 350.0), (0.0, 0.0)]), EdgeRole.CENTRE_FRONT, 0.0),
    )
    return Piece(
        "front bodice",
        edges,
        fold="centre front",
        grain=Grain((30.0, 50.0), (30.0, 300.0)),
        darts=(
            Dart("side dart", "side", float(stations[1]), float(stations[2]), (115.0, 186.6), BUST),
            Dart("waist dart", "waist", 75.0, 105.0, (90.0, 165.0), BUST),
        ),
        marks=(Mark("bust point", BUST, MarkKind.LANDMARK),),
    )


def _isosceles_mouth(width_mm: float) -> tuple[Point, Point]:
    """Two mouth points with SIDE_MOUTH in the middle, equally far from the bust point; the lower one first."""
    dx, dy = SIDE_MOUTH[0] - BUST[0], SIDE_MOUTH[1] - BUST[1]
    size = math.hypot(dx, dy)
    ux, uy = -dy / size * width_mm / 2, dx / size * width_mm / 2
    return (SIDE_MOUTH[0] - ux, SIDE_MOUTH[1] - uy), (SIDE_MOUTH[0] + ux, SIDE_MOUTH[1] + uy)


def sleeve(*, half_width_mm: float = 150.0, cap_mm: float = 130.0, length_mm: float = 420.0) -> Piece:
    """The sleeve of the worked upper-arm example: biceps line at y = 0, cap top at (0, cap_mm), straight quarters."""
    b = half_width_mm
    half = np.linspace(0.0, 1.0, 41)
    back = np.column_stack([b * (1 - half), cap_mm * np.sin(half * math.pi / 2) ** 2])
    front = np.column_stack([-back[::-1, 0], back[::-1, 1]])
    edges = (
        Edge("hem", frozen_points([(-b + 30, -length_mm), (b - 30, -length_mm)]), EdgeRole.HEM),
        Edge("back underarm", frozen_points([(b - 30, -length_mm), (b, 0.0)]), EdgeRole.UNDERARM),
        Edge("cap", frozen_points(np.vstack([back, front[1:]])), EdgeRole.CAP),
        Edge("front underarm", frozen_points([(-b, 0.0), (-b + 30, -length_mm)]), EdgeRole.UNDERARM),
    )
    top = Mark("cap top", (0.0, cap_mm), MarkKind.LANDMARK)
    return Piece("sleeve", edges, grain=Grain((0.0, -300.0), (0.0, 50.0)), marks=(top,))
