"""The shoulder seam moved forward or back along armhole and neck (C05, C06)."""

from __future__ import annotations

from geometry.affine import Point, distance_mm
from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.landmarks import BICEPS_FRONT, NECK_POINT, landmark
from geometry.alterations.handbook.matching import do_until_long
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.notch_steps import MoveNotch
from geometry.alterations.redraw import Pull, Redraw
from geometry.alterations.step import Step
from geometry.curves import polyline
from geometry.findings import Level
from geometry.model.edge import EdgeRole

_LEAST_REACH_MM = 40.0
"""How far down the armhole a moved shoulder is blended in at least: 1 1/2 in; own choice."""

_SLID_PULLS = 12
"""Places pulled along an edge that slides along itself: a few millimetres apart, so that its curve stays."""


def move_forward(bench: Bench, forward_mm: float) -> None:
    """Move the seam forward (negative: back): what the front armhole loses the back one gains, and the sleeve turns."""
    whole = bench.variant == "whole shoulder"
    for role, by_mm in ((PieceRole.FRONT_BODICE, -forward_mm), (PieceRole.BACK_BODICE, forward_mm)):
        for panel in bench.needed(role):

            def moved(amount_mm: float, panel: Panel = panel) -> Step:
                return tip_along_armhole(panel, amount_mm, whole=whole)

            do_until_long(bench, panel, EdgeRole.ARMHOLE, by_mm, moved)
    for sleeve in bench.panels(PieceRole.SLEEVE):
        move_shoulder_notch(bench, sleeve, forward_mm)


def move_shoulder_notch(bench: Bench, sleeve: Panel, forward_mm: float) -> None:
    """Move the notch at the top of a sleeve towards the front (negative: the back); say so if there is none."""
    cap = sleeve.edge(EdgeRole.CAP)
    front = sleeve.point(landmark(sleeve, BICEPS_FRONT))
    to_end = distance_mm(front, cap.end) < distance_mm(front, cap.start)
    notches = [each for each in sleeve.piece.notches_on(cap.id) if "shoulder" in f"{each.id} {each.partner}".lower()]
    for notch in notches:
        bench.do(MoveNotch(sleeve.name, notch.id, forward_mm if to_end else -forward_mm))
    if not notches:
        bench.say(
            Level.NOTE,
            "no-shoulder-notch",
            f'The cap of "{sleeve.name}" has no notch for the shoulder seam; mark it {abs(forward_mm):.0f} mm '
            f"nearer the {'front' if forward_mm > 0 else 'back'} than it was.",
            piece=sleeve.name,
        )


def tip_along_armhole(panel: Panel, by_mm: float, *, whole: bool) -> Redraw:
    """The shoulder moved along the armhole, which grows by about so much; to nothing at the neck, or along the neck."""
    tip, *armhole = _slid(panel, EdgeRole.ARMHOLE, by_mm)
    neck, *rest = _slid(panel, EdgeRole.NECK, by_mm) if whole else [Pull(landmark(panel, NECK_POINT))]
    ends = panel.tapered(EdgeRole.SHOULDER, EdgeRole.NECK, (neck.dx_mm, neck.dy_mm), (tip.dx_mm, tip.dy_mm))
    return Redraw(panel.name, (*ends, *armhole, *rest))


def _slid(panel: Panel, role: EdgeRole, by_mm: float) -> list[Pull]:
    """The end of an edge at the shoulder moved on along its own line, or back along it if negative.

    What lies beside it slides along the line as well, less and less, so that the edge keeps its curve.
    """
    edge = panel.edge(role, EdgeRole.SHOULDER)
    starts = panel.corner(role, EdgeRole.SHOULDER).share == 0.0
    reach_mm = min(max(_LEAST_REACH_MM, 3 * abs(by_mm)), edge.length_mm)
    corner = edge.start if starts else edge.end
    ux, uy = polyline.direction_at(edge.points, 0.0 if starts else edge.length_mm)
    ahead = -1.0 if starts else 1.0

    def place(inside_mm: float) -> Point:
        if inside_mm < 0:
            return corner[0] - ahead * ux * inside_mm, corner[1] - ahead * uy * inside_mm
        return edge.point_at(inside_mm if starts else edge.length_mm - inside_mm)

    pulls = []
    for number in range(_SLID_PULLS + 1):
        rest = 1.0 - number / _SLID_PULLS
        at_mm = reach_mm * number / _SLID_PULLS
        (x0, y0), (x1, y1) = place(at_mm), place(at_mm - by_mm * rest)
        share = min(at_mm / edge.length_mm, 1.0)
        pulls.append(Pull(on_edge(edge.id, share if starts else 1.0 - share), x1 - x0, y1 - y0))
    return pulls
