"""Skirts of gores: the panel at the side seam, and which gores lie beside a panel at the centre."""

from __future__ import annotations

from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.panels import Panel, PieceRole, role_of
from geometry.model.garment import Part, hand_in, part_of

_BESIDE = {PieceRole.FRONT_SKIRT: PieceRole.SIDE_FRONT, PieceRole.BACK_SKIRT: PieceRole.SIDE_BACK}


def gores_beside(bench: Bench, panel: Panel) -> tuple[Panel, ...]:
    """The gores between a panel of a skirt at the centre and the side seam; none where it reaches the side itself."""
    role = _BESIDE.get(role_of(panel.piece) or PieceRole.SLEEVE)
    hand = panel.hand or hand_in(panel.name)
    found = bench.panels(role) if role else ()
    return tuple(
        each for each in found if part_of(each.piece) is Part.SKIRT and {hand, _hand(each)} != {"left", "right"}
    )


def at_side(bench: Bench, panels: tuple[Panel, ...]) -> tuple[Panel, ...]:
    """The panels that have the side seam: instead of one at the centre the gores beside it."""
    found = [each for panel in panels for each in gores_beside(bench, panel) or (panel,)]
    return tuple({(each.name, each.hand): each for each in found}.values())


def _hand(panel: Panel) -> str:
    return panel.hand or hand_in(panel.name)
