"""Waistbands made longer or shorter together with the waist they are sewn to."""

from __future__ import annotations

from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import cut
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.slash import Hinge, Slash
from geometry.model.edge import EdgeRole

BOTH_HALVES = ("front", "back")
_EIGHTHS_OF_RING = {"front": (1, 7), "back": (3, 5)}
_MIDDLE = {"front": 3, "back": 1}


def lengthen_bands(bench: Bench, each_mm: float, halves: tuple[str, ...] = BOTH_HALVES) -> None:
    """Make every waistband longer by so much in the middle of each quarter of some halves, so that its marks stay true.

    A band on the fold holds a front and a back quarter, another one all four, from centre front to centre front.
    """
    for panel in bench.panels(PieceRole.WAISTBAND):
        if panel.piece.fold is None:
            shares = sorted(eighth / 8 for half in halves for eighth in _EIGHTHS_OF_RING[half])
        else:
            front_on_fold = panel.piece.edge(panel.piece.fold).role is EdgeRole.CENTRE_FRONT
            from_fold = (4 - _MIDDLE[half] if front_on_fold else _MIDDLE[half] for half in halves)
            shares = sorted(quarter / 4 for quarter in from_fold)
        _cut_band(bench, panel, shares, each_mm)


def _cut_band(bench: Bench, panel: Panel, shares: list[float], opening_mm: float) -> None:
    """Cut a band straight across at shares of its length, counted from its fold."""
    edge = panel.edge(EdgeRole.WAIST)
    start = _fold_end(panel)
    cuts = []
    for share in shares:
        foot = on_edge(edge.id, share if start == 0.0 else 1.0 - share)
        line = (foot, panel.across(EdgeRole.WAIST, foot.share))
        cuts.append(cut(panel, line, opening_mm, Hinge.NONE, still=on_edge(edge.id, start)))
    bench.do(Slash(panel.name, tuple(cuts)))


def _fold_end(panel: Panel) -> float:
    """The share of the waist edge at which the band lies on the fold; its start if it does not."""
    if panel.piece.fold is None:
        return 0.0
    edge, fold = panel.edge(EdgeRole.WAIST), panel.piece.edge(panel.piece.fold)
    return 1.0 if fold.start == edge.end else 0.0
