"""Trousers: thigh, knee, calf and width of the leg (the entries are in trousers)."""

from __future__ import annotations

from geometry.alterations.anchors import Anchor
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.fairing import Run, even, fair, joined, redraw, sheared, whole
from geometry.alterations.handbook.landmarks import CROTCH_POINT, HIP_AT_SIDE, KNEE, landmark
from geometry.alterations.handbook.levels import between, level_below, level_through
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.handbook.skirts import TROUSERS, end_at, let_out
from geometry.alterations.handbook.sleeve import swing_below
from geometry.alterations.handbook.trouser_seat import let_out_inner_thigh, match_back
from geometry.alterations.handbook.waistline import waist_ends
from geometry.model.edge import Edge, EdgeRole

CALF_SHARE = 0.3
"""Where the calf is fullest, down from the knee to the hem: own choice."""


def thigh(bench: Bench) -> None:
    """Room at the inside of the thigh, or at its outside."""
    if bench.variant == "inner thigh":
        let_out_inner_thigh(bench)
        return
    panels = bench.needed(*TROUSERS)
    for panel in panels:
        side, hip = panel.edge(EdgeRole.SIDE, EdgeRole.WAIST), landmark(panel, HIP_AT_SIDE)
        _, knee = _knee_ends(bench, panel)
        _, full = level_through(panel, between(panel, hip, knee))
        full = bench.place(panel, "full", full)
        run = joined(fair(panel, side, hip, full), fair(panel, side, knee, full))
        bench.do(redraw(panel, *let_out(panel, bench.amount_mm, run)))
    match_back(bench, panels)


def swing(bench: Bench) -> None:
    """The leg moved sideways below the knee, or from the crotch down; it keeps its width at every level."""
    panels = bench.needed(*TROUSERS)
    for panel in panels:
        if bench.variant == "from the crotch":
            inner, knee = landmark(panel, CROTCH_POINT), landmark(panel, KNEE)
            _, height_mm = panel.frame.seen(panel.point(inner), panel.point(knee))
            _, outer = level_below(panel, knee, -height_mm)
        else:
            inner, outer = _knee_ends(bench, panel)
        way = panel.frame.step(bench.amount_mm, 0.0)
        runs = (
            sheared(panel, edge, held, end_at(panel, edge, EdgeRole.HEM))
            for edge, held in ((_side(panel), outer), (_inseam(panel), inner))
        )
        bench.do(redraw(panel, *(pull for run in runs for pull in run.pulls(way))))
    match_back(bench, panels)


def calf(bench: Bench) -> None:
    """Room at the calf, at both seams or by a slash up from the hem."""
    panels = bench.needed(*TROUSERS)
    for panel in panels:
        inner, outer = _knee_ends(bench, panel)
        hem_in, hem_out = (end_at(panel, edge, EdgeRole.HEM) for edge in (_inseam(panel), _side(panel)))
        if bench.variant == "slashed":
            middle = panel.middle(EdgeRole.HEM)
            swing_below(bench, panel, (inner, outer), middle, 2 * bench.amount_mm, still=waist_ends(panel)[1])
            continue
        runs = []
        for edge, knee, hem, name in (
            (_side(panel), outer, hem_out, "calf at side"),
            (_inseam(panel), inner, hem_in, "calf inside"),
        ):
            place = level_through(panel, between(panel, knee, hem, CALF_SHARE))
            full = bench.place(panel, name, next(at for at in place if at.name == edge.id))
            runs.append(joined(fair(panel, edge, knee, full), fair(panel, edge, hem, full)))
        bench.do(redraw(panel, *let_out(panel, bench.amount_mm, *runs)))
    match_back(bench, panels)


def width(bench: Bench) -> None:
    """Hem and knee, or the hem alone, let out by the same on both sides of the crease."""
    panels = bench.needed(*TROUSERS)
    for panel in panels:
        inner, outer = _knee_ends(bench, panel)
        runs = [
            _widened(bench, panel, edge, above, knee)
            for edge, above, knee in (
                (_side(panel), landmark(panel, HIP_AT_SIDE), outer),
                (_inseam(panel), landmark(panel, CROTCH_POINT), inner),
            )
        ]
        bench.do(redraw(panel, *let_out(panel, bench.amount_mm, *runs)))
    match_back(bench, panels)


def _widened(bench: Bench, panel: Panel, edge: Edge, above: Anchor, knee: Anchor) -> Run:
    hem = end_at(panel, edge, EdgeRole.HEM)
    if bench.variant == "hem only":
        return even(panel, edge, knee, hem)
    return joined(fair(panel, edge, above, knee), whole(panel, edge, knee, hem))


def _knee_ends(bench: Bench, panel: Panel) -> tuple[Anchor, Anchor]:
    inner, outer = level_through(panel, panel.point(landmark(panel, KNEE)))
    return bench.place(panel, "knee on inseam", inner), bench.place(panel, "knee at side", outer)


def _side(panel: Panel) -> Edge:
    return panel.edge(EdgeRole.SIDE, EdgeRole.HEM)


def _inseam(panel: Panel) -> Edge:
    return panel.edge(EdgeRole.INSEAM, EdgeRole.HEM)
