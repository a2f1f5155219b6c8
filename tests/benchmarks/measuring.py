"""Medians of alternating runs, and the row a figure is shown in."""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass

Work = Callable[[], object]


@dataclass(frozen=True, slots=True)
class Figure:
    """One measured figure.

    Attributes:
        work: What was done.
        measured: Median seconds, or another quantity named in ``unit``.
        floor: The same of the floor it is held against, ``None`` where the target is absolute.
        target: What the design must be able to reach, a ratio if there is a floor.
        unit: Unit of the measured quantity.
    """

    work: str
    measured: float
    floor: float | None
    target: float
    unit: str = "s"

    @property
    def result(self) -> float:
        """The ratio to the floor, or the quantity itself."""
        return self.measured / self.floor if self.floor else self.measured

    @property
    def row(self) -> str:
        """The figure as one line of the table."""
        shown = f"{self.measured:.4g} {self.unit}"
        against = f"{self.floor:.4g} {self.unit}" if self.floor else "-"
        kind = "x" if self.floor else f" {self.unit}"
        mark = "reached" if self.result <= self.target else "MISSED"
        return (
            f"{self.work:<58}{shown:>14}{against:>14}{self.result:>9.3g}{kind:<4}target {self.target:g}{kind:<4}{mark}"
        )


def seconds(work: Work) -> float:
    """How long one run takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def seconds_tidied(work: Work) -> float:
    """How long one run takes that has no garbage of runs before it to clear away."""
    gc.collect()
    return seconds(work)


def median_s(work: Work, *, runs: int = 9) -> float:
    """Median of several runs after one that does not count."""
    work()
    return statistics.median(seconds_tidied(work) for _ in range(runs))


def paired_s(work: Work, floor: Work, *, runs: int = 5) -> tuple[float, float]:
    """Medians of two works run in turn, so that a drift of the machine's speed touches both."""
    work()
    floor()
    pairs = [(seconds_tidied(work), seconds_tidied(floor)) for _ in range(runs)]
    return statistics.median(pair[0] for pair in pairs), statistics.median(pair[1] for pair in pairs)


def percentile_s(work: Callable[[int], object], *, runs: int, share: float) -> float:
    """The time that a share of numbered runs stays below, the first three not counted."""
    for number in range(3):
        work(number)
    times = sorted(seconds(lambda number=number: work(number)) for number in range(runs))
    return times[min(int(share * runs), runs - 1)]
