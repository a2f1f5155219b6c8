"""Slashes laid on a panel: between named places, by what stays still, level or plumb."""

from __future__ import annotations

from geometry.alterations.anchors import Anchor, On
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.trueing import DEFAULT_REACH_MM
from geometry.errors import StepError
from geometry.model.garment import hand_in

CAP_REACH_MM = 55.0
"""How far a sleeve cap that was cut across is blended on each side: its two slopes stand apart and meet in one curve
only over about half the height of a cap; own choice."""


def wedge(
    panel: Panel, opening: Anchor, hinge: Anchor, amount_mm: float, *, still: Anchor, via: tuple[Anchor, ...] = ()
) -> Slash:
    """A cut that opens at one place of the outline and stays joined at another; the side that holds ``still`` stays."""
    return Slash(panel.name, (cut(panel, (opening, *via, hinge), amount_mm, Hinge.END, still=still),))


def spread(
    panel: Panel,
    start: Anchor,
    end: Anchor,
    amount_mm: float,
    *,
    still: Anchor,
    via: tuple[Anchor, ...] = (),
    reach_mm: float = DEFAULT_REACH_MM,
) -> Slash:
    """A cut from place to place of the outline that opens evenly; the side that holds ``still`` stays."""
    return Slash(panel.name, (cut(panel, (start, *via, end), amount_mm, Hinge.NONE, still=still),), reach_mm)


def cut(panel: Panel, line: tuple[Anchor, ...], amount_mm: float, hinge: Hinge, *, still: Anchor) -> SlashCut:
    """One cut of a slash; the side of the outline that holds ``still`` stays, the other moves.

    Raises:
        StepError: on a piece that holds both halves of the body the cut runs from one into the other.
    """
    if panel.hand and any(anchor.on is On.EDGE and hand_in(anchor.name) != panel.hand for anchor in line):
        raise StepError(
            f'On "{panel.name}" a cut from side to centre would run through both halves; do this alteration before '
            "the piece is cut single."
        )
    start, end, kept = (panel.ring_place(anchor) for anchor in (line[0], line[-1], still))
    ring = len(panel.piece.edges)
    # The piece runs counter-clockwise, so what the ring meets from the end round to the start lies left of the cut.
    still_is_left = (kept - end) % ring < (start - end) % ring
    return SlashCut(line, amount_mm, hinge, Side.RIGHT if still_is_left else Side.LEFT)


def cut_inside(
    panel: Panel, line: tuple[Anchor, ...], amount_mm: float | None, hinge: Hinge, *, moves: Anchor
) -> SlashCut:
    """A cut that ends inside, where others meet it; beside its start, the outline towards ``moves`` moves."""
    start, towards, ring = panel.ring_place(line[0]), panel.ring_place(moves), len(panel.piece.edges)
    is_ahead = (towards - start) % ring < (start - towards) % ring
    return SlashCut(line, amount_mm, hinge, Side.RIGHT if is_ahead else Side.LEFT)
