"""The bust on a front with a princess seam: both panels together."""

from __future__ import annotations

from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.edge_steps import BlendEdge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import spread, wedge
from geometry.alterations.handbook.levels import level_through
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.redraw import Pull, Redraw
from geometry.errors import StepError
from geometry.model.edge import Edge, EdgeRole

LENGTH_SHARE = 0.75 / 1.375
CENTRE_SHARE = 0.5 / 1.375
SIDE_SHARE = 0.875 / 1.375
"""A worked case: 3/4 in longer, 1/2 in wider on the centre panel and 7/8 in on the side panel (restingmotion.com)."""

_ROUNDED_MM = 60.0
"""How far from the bust notch the seam is rounded: the bust zone is about that wide each way; own choice."""


def fuller_princess(bench: Bench) -> None:
    """Length at the bust level on both panels, then width at the bust notch, most of it on the side panel."""
    for panel in bench.needed(PieceRole.FRONT_BODICE):
        notch, place = _bust_notch(bench, panel)
        centre, _ = level_through(panel, panel.point(notch))
        bench.do(spread(panel, centre, place, bench.amount_mm * LENGTH_SHARE, still=_top(panel)))
        _rounder(bench, bench.now(panel), bench.amount_mm * CENTRE_SHARE)
    for panel in bench.needed(PieceRole.SIDE_FRONT):
        notch, place = _bust_notch(bench, panel)
        _, side = level_through(panel, panel.point(notch))
        hinge = bench.place(panel, "hinge at side", side)
        bench.do(wedge(panel, place, hinge, bench.amount_mm * LENGTH_SHARE, still=_top(panel)))
        _rounder(bench, bench.now(panel), -bench.amount_mm * SIDE_SHARE)


def _princess(panel: Panel) -> Edge:
    for edge in panel.edges(EdgeRole.OTHER):
        if "princess" in edge.id.lower():
            return edge
    raise StepError(f'On "{panel.name}" no edge is called "princess"; name the seam over the bust so.')


def _bust_notch(bench: Bench, panel: Panel) -> tuple[Anchor, Anchor]:
    """The bust notch on the princess seam, and a place just above it for the cut, so that the notch keeps a part."""
    edge = _princess(panel)
    notches = [each for each in panel.piece.notches_on(edge.id) if "bust" in f"{each.id} {each.partner}".lower()]
    if not notches:
        raise StepError(f'On "{panel.name}" the princess seam has no notch called "bust"; mark one at the bust level.')
    notch = Anchor(On.NOTCH, notches[0].id)
    return notch, bench.place(panel, "cut at bust", on_edge(edge.id, notches[0].at_mm / edge.length_mm))


def _top(panel: Panel) -> Anchor:
    """A corner at the top of the panel, which stays."""
    for role in (EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.NECK):
        if panel.has(role):
            return panel.middle(role)
    raise StepError(f'On "{panel.name}" neither shoulder nor armhole is known; name one of them.')


def _rounder(bench: Bench, panel: Panel, out_mm: float) -> None:
    edge = _princess(panel)
    at, _ = _bust_notch(bench, panel)
    place = on_edge(edge.id, panel.piece.notch(at.name).at_mm / edge.length_mm)
    bench.do(
        Redraw(
            panel.name, (panel.pull(place, out_mm=out_mm), Pull(on_edge(edge.id, 0.0)), Pull(on_edge(edge.id, 1.0)))
        ),
        BlendEdge(panel.name, edge.id, at, _ROUNDED_MM),
    )
