"""Seams that sew an edge in part, and what can go wrong with them."""

from __future__ import annotations

from dataclasses import replace

from geometry.alterations.anchors import on_edge
from geometry.alterations.notch_steps import RemoveNotch
from geometry.alterations.redraw import Pull, Redraw
from geometry.checks.pairing import propose_seams
from geometry.model.pattern import WHOLE_EDGE, EdgePlace, EdgeRef, Pattern, Stretch

BACK = EdgeRef("back skirt", "centre back")


def zip_open(pattern: Pattern) -> Pattern:
    """The dress with the centre back of its skirt sewn from the end of the zip to the hem only."""
    below = Stretch(start=EdgePlace("zip end"))
    if pattern.piece(BACK.piece).edge(BACK.edge).start[1] < pattern.piece(BACK.piece).edge(BACK.edge).end[1]:
        below = Stretch(end=EdgePlace("zip end"))
    seams = tuple(
        replace(seam, first_stretches=(below,), second_stretches=(below,))
        if (seam.first, seam.second) == ((BACK,), (BACK,))
        else seam
        for seam in propose_seams(pattern)
    )
    return replace(pattern, seams=seams)


def neck_lowered(pattern: Pattern) -> Pattern:
    """The dress with the neck of its front bodice, but not of its facing, 7 mm lower at the centre front."""
    places = ((on_edge("neck", 1.0), -7.0), (on_edge("neck", 0.0), 0.0), (on_edge("centre front", 1.0), 0.0))
    pulls = tuple(Pull(at, 0.0, down_mm) for at, down_mm in places)
    return Redraw("front bodice", pulls).apply(pattern).pattern


def without_notch(pattern: Pattern, piece: str, notch: str) -> Pattern:
    """The pattern with a notch taken away."""
    return RemoveNotch(piece, notch).apply(pattern).pattern


def whole_but(stretch: Stretch, at: int, count: int) -> tuple[Stretch, ...]:
    """The stretches of a side of so many edges of which one is sewn in part."""
    return tuple(stretch if each == at else WHOLE_EDGE for each in range(count))
