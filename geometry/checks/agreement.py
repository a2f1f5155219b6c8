"""Whether the two sides of a seam agree, and which side an alteration left behind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from geometry.checks.limits import Limits, level_beyond
from geometry.checks.subject import Subject, edge_names, has_edges, has_ends
from geometry.checks.walking import Walk, side_mm
from geometry.findings import Level
from geometry.model.pattern import EdgeRef, Pattern, SeamKind, SeamSide
from geometry.tolerance import FLOAT_MM

TOLD_BY_OTHERS = (SeamKind.FACING, SeamKind.BAND)
"""Facings, collars and bands have checks of their own, which know that one side is to follow the other."""


def expected_first_mm(walk: Walk) -> float:
    """The length nearest to its own that the first side may have, so that its ease is in the band."""
    low, high = walk.seam.ease_mm
    return min(max(walk.first_mm, walk.second_mm + low), walk.second_mm + high)


def misfit(walk: Walk, limits: Limits) -> Level | None:
    """How grave it is that the sides differ; ``None`` if they agree.

    A sleeve cap outside its band warns, for bands are a matter of cloth and taste; one shorter than its armhole
    stops. Every other seam is measured against the seam limits.
    """
    excess_mm = abs(walk.first_mm - expected_first_mm(walk))
    if walk.seam.kind is not SeamKind.ARMHOLE:
        return level_beyond(excess_mm, limits.seam_warn_mm, limits.seam_stop_mm)
    if excess_mm <= FLOAT_MM:
        return None
    return Level.STOP if walk.ease_mm < min(0.0, walk.seam.ease_mm[0]) else Level.WARN


@dataclass(frozen=True, slots=True)
class Lag:
    """A seam of which one side changed and the other did not follow.

    Attributes:
        walk: The seam as it is now.
        level: How grave it is.
        moved: The edges of the side that changed more, those only that changed.
        moved_mm: By how much that side grew.
        left: All edges of the other side.
        left_mm: By how much that side grew.
        left_now_mm: Sewn length of that side now.
    """

    walk: Walk
    level: Level
    moved: tuple[EdgeRef, ...]
    moved_mm: float
    left: tuple[EdgeRef, ...]
    left_mm: float
    left_now_mm: float


def lags(subject: Subject) -> Iterator[Lag]:
    """The seams that an alteration made different by more than the seam limit.

    Where the sides agree now, nothing is wrong; an eased seam that is still in its band is worth a note.
    """
    base = subject.base
    if base is None:
        return
    known = edge_names(base)
    for walk in subject.walks:
        seam = walk.seam
        if seam.kind in TOLD_BY_OTHERS or not (has_edges(known, seam) and has_ends(base, seam)):
            continue
        one, other = seam.sides
        first = walk.first_mm - side_mm(base, one)
        second = walk.second_mm - side_mm(base, other)
        level = misfit(walk, subject.limits)
        if level is None and seam.ease_mm[0] < seam.ease_mm[1]:
            level = Level.NOTE
        if level is None or abs(first - second) <= subject.limits.seam_warn_mm + FLOAT_MM:
            continue
        sides = ((first, one, walk.first_mm), (second, other, walk.second_mm))
        moved, left = sides if abs(first) >= abs(second) else sides[::-1]
        yield Lag(walk, level, _changed(subject.pattern, base, moved[1]), moved[0], left[1].refs, left[0], left[2])


def _changed(now: Pattern, base: Pattern, side: SeamSide) -> tuple[EdgeRef, ...]:
    """The edges of a side of which what is sewn is longer or shorter now."""
    return tuple(
        ref
        for ref, _, stretch in side.parts
        if abs(stretch.sewn_mm(now.piece(ref.piece), ref.edge) - stretch.sewn_mm(base.piece(ref.piece), ref.edge))
        > FLOAT_MM
    )
