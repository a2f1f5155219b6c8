"""Neighbours: what an alteration changed on one piece and not on the one it is sewn to."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.checks.agreement import Lag, lags
from geometry.checks.seams import middle, sides_about
from geometry.checks.subject import Check, Subject
from geometry.checks.wording import edges, mm, sentence
from geometry.findings import Finding

_NOTHING_MM = 0.05
"""A change below half of the last digit that the sentences show."""


def neighbour_not_changed(subject: Subject) -> Iterator[Finding]:
    """Seams of which one side's sewn length changed from the base and the other did not follow."""
    for lag in lags(subject):
        expected_mm = lag.left_now_mm - lag.left_mm + lag.moved_mm
        needed_mm = lag.moved_mm - lag.left_mm
        verb = "lengthen" if needed_mm > 0 else "shorten"
        text = (
            f"{sentence(edges(lag.moved))} {_change(lag.moved_mm)}, but {edges(lag.left)} {_change(lag.left_mm)} "
            f"and they are sewn together{_ease(lag)}: {verb} {edges(lag.left)} by {mm(abs(needed_mm))} "
            "as well, or take the change back."
        )
        ref = lag.left[0]
        yield Finding(
            "neighbour-not-changed",
            lag.level,
            text,
            ref.piece,
            middle(subject.pattern, ref),
            lag.left_now_mm,
            expected_mm,
            (*sides_about(lag.walk.seam), "second" if lag.left == lag.walk.seam.second else "first"),
        )


def _change(grown_mm: float) -> str:
    if abs(grown_mm) < _NOTHING_MM:
        return "did not change"
    return f"{'grew' if grown_mm > 0 else 'shrank'} by {mm(abs(grown_mm))}"


def _ease(lag: Lag) -> str:
    low, high = lag.walk.seam.ease_mm
    if low == high:
        return ""
    return f" (ease now {mm(lag.walk.ease_mm)}, wanted {mm(low)} to {mm(high)})"


CHECKS = (
    Check(
        "neighbour-not-changed",
        "What was altered was altered on the neighbour too",
        neighbour_not_changed,
        ("seam_warn_mm", "seam_stop_mm"),
    ),
)
