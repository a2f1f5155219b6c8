"""How a whole difference is divided among the pieces: the sums a fitter does in the head."""

from __future__ import annotations

from geometry.units import MM_PER_INCH

_SPLIT_FROM_MM = 4 * MM_PER_INCH
"""Skirts changed by 4 in or more are changed half at the line and half at the hem (The New Dressmaker, 1921, p. 27)."""

_LEG_MM = MM_PER_INCH
"""The front of a trouser leg is 1 in narrower than the back at knee and hem (Threads, tapering trousers)."""


def per_edge_mm(difference_mm: float, edges: int) -> float:
    """What each of several seam edges gets of a difference round the body; two side seams have four edges."""
    return difference_mm / edges


def left_over_mm(difference_mm: float, each_mm: float, edges: int) -> float:
    """What is still missing when each of several edges was let out by so much (negative: too much was added)."""
    return difference_mm - each_mm * edges


def per_half_mm(difference_mm: float) -> float:
    """What a half front or half back gets of a difference that is all in front or all at the back."""
    return difference_mm / 2


def tuck_depth_mm(shortened_mm: float) -> float:
    """How deep a tuck is folded that shortens by so much: half (a costume textbook, ch. 17)."""
    return shortened_mm / 2


def skirt_length_mm(difference_mm: float) -> tuple[float, float]:
    """A change of skirt length as (at the line below the hip, at the hem): shared once it comes to 4 in."""
    if abs(difference_mm) < _SPLIT_FROM_MM:
        return difference_mm, 0.0
    return difference_mm / 2, difference_mm / 2


def leg_half_widths_mm(round_mm: float) -> tuple[float, float]:
    """Half widths of front and back of a trouser leg, each to one side of the crease, for a whole round."""
    return (round_mm - _LEG_MM) / 4, (round_mm + _LEG_MM) / 4


def broad_back_armhole_mm(shoulder_growth_mm: float) -> tuple[float, float]:
    """What a back shoulder that grew loses at its armhole, and what the front gains there: half each.

    Source: The New Dressmaker, 1921, ch. 4; the front's half tapers to nothing at the notches.
    """
    return shoulder_growth_mm / 2, shoulder_growth_mm / 2


def cup_difference_mm(full_bust_mm: float, high_bust_mm: float, drafted_mm: float) -> float:
    """What a bust needs beyond what the pattern was drafted for; negative for a smaller one."""
    return full_bust_mm - high_bust_mm - drafted_mm
