"""Pieces drawn from plain figures to be printed, with sizes known beforehand. Invented."""

from __future__ import annotations

import math

import numpy as np

from editor.printing.compose import piece_picture
from editor.printing.picture import Drawing, LineKind, PiecePicture, Stroke
from editor.printing.piece_label import Ticket
from geometry.affine import Points, frozen_points
from geometry.model.dart import Dart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, InnerLine, Mark, MarkKind, Notch, NotchKind
from geometry.model.piece import Piece

TICKET = Ticket("Odile", "round 2", "4 May 2026")

PANEL_MM = (400.0, 600.0)
PANEL_ALLOWANCE_MM = 15.0


def _edge(name: str, points: object, role: EdgeRole = EdgeRole.OTHER, allowance_mm: float = 15.0) -> Edge:
    return Edge(name, frozen_points(points), role, allowance_mm)  # type: ignore[arg-type]


def _arc(a: tuple[float, float], b: tuple[float, float], bulge: float) -> Points:
    """A shallow curve from a to b, ``bulge`` times its chord deep."""
    t = np.linspace(0.0, 1.0, 60)
    run = np.subtract(b, a)
    return frozen_points(np.outer(1 - t, a) + np.outer(t, b) + np.outer(np.sin(np.pi * t) * bulge, (run[1], -run[0])))


def panel() -> Piece:
    """A rectangle of 400 x 600 mm, 15 mm allowance all round: the cutting line is 430 x 630 mm."""
    w, h = PANEL_MM
    return Piece(
        "panel",
        (
            _edge("hem", [(0, 0), (w, 0)], EdgeRole.HEM),
            _edge("side", [(w, 0), (w, h)], EdgeRole.SIDE),
            _edge("waist", [(w, h), (0, h)], EdgeRole.WAIST),
            _edge("centre back", [(0, h), (0, 0)], EdgeRole.CENTRE_BACK),
        ),
        size="14",
        quantity=2,
        grain=Grain((60.0, 100.0), (60.0, 500.0)),
        inner_lines=(InnerLine("knee", frozen_points([(0.0, 300.0), (w, 300.0)])),),
    )


def bodice() -> Piece:
    """A half front on the fold with two darts, three notches, a landmark and a drill hole."""
    return Piece(
        "front bodice",
        (
            _edge("waist", [(0, 0), (190, 5)], EdgeRole.WAIST),
            _edge("side", [(190, 5), (240, 210)], EdgeRole.SIDE),
            _edge("armhole", _arc((240, 210), (175, 370), -0.18), EdgeRole.ARMHOLE),
            _edge("shoulder", [(175, 370), (70, 410)], EdgeRole.SHOULDER),
            _edge("neck", _arc((70, 410), (0, 338), -0.2), EdgeRole.NECK),
            _edge("centre front", [(0, 338), (0, 0)], EdgeRole.CENTRE_FRONT, 0.0),
        ),
        size="14",
        fold="centre front",
        material="crêpe",
        grain=Grain((50.0, 60.0), (50.0, 300.0)),
        darts=(
            Dart("waist dart", "waist", 75, 105, (90, 165), aim=(90, 190)),
            Dart("side dart", "side", 120, 160, (115, 190), aim=(90, 190)),
        ),
        notches=(
            Notch("armhole", "armhole", 90),
            Notch("side", "side", 60, NotchKind.V),
            Notch("neck", "neck", 50, NotchKind.T),
        ),
        marks=(Mark("bust point", (90, 190), MarkKind.LANDMARK), Mark("drill", (125, 192))),
    )


def sleeve() -> Piece:
    """A sleeve with a hem of 40 mm."""
    cap = np.vstack([_arc((150, 0), (0, 130), 0.1), _arc((0, 130), (-150, 0), 0.1)[1:]])
    return Piece(
        "sleeve",
        (
            _edge("hem", [(-110, -420), (110, -420)], EdgeRole.HEM, 40.0),
            _edge("front underarm", [(110, -420), (150, 0)], EdgeRole.UNDERARM),
            _edge("cap", cap, EdgeRole.CAP),
            _edge("back underarm", [(-150, 0), (-110, -420)], EdgeRole.UNDERARM),
        ),
        size="14",
        quantity=2,
        grain=Grain((0.0, -380.0), (0.0, 80.0)),
        notches=(Notch("front", "cap", 120), Notch("back", "cap", 300), Notch("back 2", "cap", 312)),
    )


def small_pictures() -> list[PiecePicture]:
    """The three pieces as they are printed."""
    return [piece_picture(piece, TICKET) for piece in (panel(), bodice(), sleeve())]


def oval(name: str, width_mm: float, height_mm: float, points: int = 300) -> PiecePicture:
    """An ellipse as a piece with nothing but its cutting line."""
    turns = np.linspace(0.0, 2 * math.pi, points, endpoint=False)
    ring = np.column_stack([width_mm / 2 * np.cos(turns), height_mm / 2 * np.sin(turns)])
    return PiecePicture(name, Drawing((Stroke(ring, LineKind.CUTTING, closed=True),)), ring, "cut 1")


def rectangle(name: str, width_mm: float, height_mm: float) -> PiecePicture:
    """A rectangle as a piece with nothing but its cutting line."""
    ring = np.array([(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)])
    return PiecePicture(name, Drawing((Stroke(ring, LineKind.CUTTING, closed=True),)), ring, "cut 1")
