"""A dress of straight lines whose sewn lengths are known in closed form, and ways to spoil it.

Front pieces lie to the right of x = 0, back pieces to its left. Sewn lengths in mm: side of the bodice 200, shoulder
125, armhole 190 front and 187.6 back, waist 200 front and 190 back, skirt side sqrt(40^2 + 600^2).
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from geometry.affine import frozen_points
from geometry.checks.limits import Limits
from geometry.checks.run import check_pattern
from geometry.findings import Finding
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece

FRONT_ARMHOLE_MM, BACK_ARMHOLE_MM = 190.0, 187.6
CAP_EASE_MM = 30.0
SKIRT_SIDE_MM = math.hypot(40, 600)
HIP_MM = 200.0

STRAIGHT_LINES = Limits(peak_mm=25.4, hollow_mm=50.0, hem_mirror_mm=10.0)
"""Limits for a dress of straight lines, which has corners where a real one is curved."""


def checked(pattern: Pattern, *, base: Pattern | None = None, **limits: object) -> tuple[Finding, ...]:
    """What the checks find on a dress of straight lines, with some limits changed."""
    return check_pattern(pattern, base=base, limits=replace(STRAIGHT_LINES, **limits))  # type: ignore[arg-type]


def piece(name: str, corners: dict[str, list[tuple[float, float]]], **parts: object) -> Piece:
    """A piece from the points of each edge without its last, which is where the next edge starts."""
    starts = list(corners.values())
    edges = []
    for (edge_id, points), following in zip(corners.items(), [*starts[1:], starts[0]], strict=True):
        role = next((role for role in EdgeRole if edge_id.endswith(role.value)), EdgeRole.OTHER)
        allowance_mm = 0.0 if edge_id == parts.get("fold") else 15.0
        edges.append(Edge(edge_id, frozen_points([*points, following[0]]), role, allowance_mm))
    return Piece(name, tuple(edges), **parts)  # type: ignore[arg-type]


def dress(cap_ease_mm: float = CAP_EASE_MM) -> Pattern:
    """The good dress: nothing is wrong with it."""
    return Pattern((_front_bodice(), _back_bodice(), _sleeve(cap_ease_mm), _front_skirt(), _back_skirt()), size="12")


def _front_bodice() -> Piece:
    return piece(
        "front bodice",
        {
            "waist": [(0, 0)],
            "side": [(230, 0)],
            "armhole": [(230, 225), (190, 225)],
            "shoulder": [(190, 375)],
            "neck": [(70, 410), (70, 340)],
            "centre front": [(0, 340)],
        },
        fold="centre front",
        grain=Grain((60, 40), (60, 300)),
        darts=(Dart("waist dart", "waist", 90, 120, (105, 110)), Dart("side dart", "side", 150, 175, (130, 162.5))),
        notches=(Notch("armhole notch", "armhole", 90, partner="front armhole"),),
    )


def _back_bodice() -> Piece:
    mouth = np.array([-70, 410]) + 65 / 125 * np.array([-120, -35])
    tip = mouth + 80 / 125 * np.array([35, -120])
    return piece(
        "back bodice",
        {
            "waist": [(-215, 0)],
            "centre back": [(0, 0)],
            "neck": [(0, 390)],
            "shoulder": [(-70, 410)],
            "armhole": [(-199.6, 372.2), (-199.6, 200)],
            "side": [(-215, 200)],
        },
        quantity=2,
        grain=Grain((-40, 40), (-40, 300)),
        darts=(
            Dart("waist dart", "waist", 110, 135, (-92.5, 130), pressed=Pressed.TO_END),
            Dart("shoulder dart", "shoulder", 60, 70, (float(tip[0]), float(tip[1]))),
        ),
        notches=(
            Notch("upper notch", "armhole", BACK_ARMHOLE_MM - 97, partner="back armhole"),
            Notch("lower notch", "armhole", BACK_ARMHOLE_MM - 85, partner="back armhole"),
        ),
    )


def _sleeve(cap_ease_mm: float) -> Piece:
    cap_mm = FRONT_ARMHOLE_MM + BACK_ARMHOLE_MM + cap_ease_mm
    top = 400 + math.sqrt((cap_mm / 2) ** 2 - 150**2)
    return piece(
        "sleeve",
        {
            "hem": [(-100, 0)],
            "front underarm": [(100, 0)],
            "cap": [(150, 400), (0, top)],
            "back underarm": [(-150, 400)],
        },
        quantity=2,
        grain=Grain((0, 50), (0, 350)),
        notches=(
            Notch("front notch", "cap", 90, partner="front armhole"),
            Notch("top notch", "cap", FRONT_ARMHOLE_MM + cap_ease_mm / 2, partner="shoulder"),
            Notch("upper notch", "cap", cap_mm - 97, partner="back armhole"),
            Notch("lower notch", "cap", cap_mm - 85, partner="back armhole"),
        ),
    )


def _front_skirt() -> Piece:
    return piece(
        "front skirt",
        {"hem": [(0, -600)], "side": [(260, -600)], "waist": [(220, 0)], "centre front": [(0, 0)]},
        fold="centre front",
        grain=Grain((60, -500), (60, -100)),
        darts=(Dart("waist dart", "waist", 110, 130, (100, -90), pressed=Pressed.TO_END),),
        notches=(Notch("hip notch", "side", SKIRT_SIDE_MM - HIP_MM, partner="hip"),),
    )


def _back_skirt() -> Piece:
    return piece(
        "back skirt",
        {"hem": [(-260, -600)], "centre back": [(0, -600)], "waist": [(0, 0)], "side": [(-220, 0)]},
        quantity=2,
        grain=Grain((-60, -500), (-60, -100)),
        darts=(Dart("waist dart", "waist", 80, 110, (-95, -120)),),
        notches=(Notch("hip notch", "side", HIP_MM, partner="hip"),),
    )


def lengthened(pattern: Pattern, name: str, edge_id: str, by_mm: float, *, from_mm: float, to_mm: float) -> Pattern:
    """The pattern with a straight stretch of an edge made longer by a small peak inwards; its corners stay."""
    old = pattern.piece(name)
    edge = old.edge(edge_id)
    a, b = np.array(edge.point_at(from_mm)), np.array(edge.point_at(to_mm))
    half = (to_mm - from_mm) / 2
    left = np.array([-(b - a)[1], (b - a)[0]]) / (2 * half)
    peak = (a + b) / 2 + left * math.sqrt((half + by_mm / 2) ** 2 - half**2)
    stations = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(edge.points, axis=0).T))])
    before, after = edge.points[stations < from_mm - 1e-6], edge.points[stations > to_mm + 1e-6]
    return with_edge(pattern, name, edge_id, [*before, a, peak, b, *after])


def with_edge(pattern: Pattern, name: str, edge_id: str, points: list[tuple[float, float]]) -> Pattern:
    """The pattern with other points on one edge."""
    old = pattern.piece(name)
    edges = tuple(replace(e, points=frozen_points(points)) if e.id == edge_id else e for e in old.edges)
    return pattern.with_piece(replace(old, edges=edges))


def with_dart(pattern: Pattern, name: str, dart_id: str, **changes: object) -> Pattern:
    """The pattern with one dart changed."""
    old = pattern.piece(name)
    darts = tuple(replace(d, **changes) if d.id == dart_id else d for d in old.darts)  # type: ignore[arg-type]
    return pattern.with_piece(replace(old, darts=darts))


def with_notch(pattern: Pattern, name: str, notch_id: str, **changes: object) -> Pattern:
    """The pattern with one notch changed."""
    old = pattern.piece(name)
    notches = tuple(replace(n, **changes) if n.id == notch_id else n for n in old.notches)  # type: ignore[arg-type]
    return pattern.with_piece(replace(old, notches=notches))


def notch_moved(pattern: Pattern, name: str, notch_id: str, by_mm: float) -> Pattern:
    """The pattern with one notch moved along its edge."""
    return with_notch(pattern, name, notch_id, at_mm=pattern.piece(name).notch(notch_id).at_mm + by_mm)


def with_piece(pattern: Pattern, name: str, **changes: object) -> Pattern:
    """The pattern with one piece changed."""
    return pattern.with_piece(replace(pattern.piece(name), **changes))  # type: ignore[arg-type]
