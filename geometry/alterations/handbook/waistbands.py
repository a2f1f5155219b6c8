"""Waistbands made longer or shorter together with the waist they are sewn to."""

from __future__ import annotations

from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import cut
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.slash import Hinge, Slash
from geometry.model.edge import EdgeRole

_QUARTERS = 4


def lengthen_bands(bench: Bench, whole_mm: float) -> None:
    """Make every waistband longer by so much all round, the same in each quarter, so that its side marks stay true.

    A band on the fold holds two quarters, another one all four.
    """
    for panel in bench.panels(PieceRole.WAISTBAND):
        quarters = _QUARTERS // 2 if panel.piece.fold is not None else _QUARTERS
        shares = [(2 * number + 1) / (2 * quarters) for number in range(quarters)]
        _cut_band(bench, panel, shares, whole_mm / _QUARTERS)


def lengthen_band_fronts(bench: Bench, each_mm: float) -> None:
    """Make every waistband longer by so much in each half front alone."""
    for panel in bench.panels(PieceRole.WAISTBAND):
        if panel.piece.fold is None:
            _cut_band(bench, panel, [1 / 8, 7 / 8], each_mm)
        else:
            on_back = panel.piece.edge(panel.piece.fold).role is EdgeRole.CENTRE_BACK
            _cut_band(bench, panel, [3 / 4 if on_back else 1 / 4], each_mm)


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
