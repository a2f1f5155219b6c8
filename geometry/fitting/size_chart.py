"""The size chart of a pattern: for whom each size was drafted, and what the garment measures in it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from geometry.errors import PatternError
from geometry.fitting.finished import finished_by_size
from geometry.fitting.measures import Measure
from geometry.model.pattern import Nest


@dataclass(frozen=True, slots=True)
class ChartLine:
    """One measurement in every size, in the order of the chart's sizes; ``None`` where nothing is told."""

    measure: Measure
    lengths_mm: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class SizeChart:
    """Body and finished measurements by size.

    Attributes:
        sizes: Names of the sizes, smallest first.
        body: For whom they were drafted.
        finished: What the sewn garment measures.
        cup_mm: The difference between bust and upper chest that the pattern was drafted for, ``None`` if nobody
            said; where the chart tells both girths, their difference comes first.
    """

    sizes: tuple[str, ...]
    body: tuple[ChartLine, ...] = ()
    finished: tuple[ChartLine, ...] = ()
    cup_mm: float | None = None

    def __post_init__(self) -> None:
        for line in (*self.body, *self.finished):
            if len(line.lengths_mm) != len(self.sizes):
                raise PatternError(
                    f"The {line.measure.value} has {len(line.lengths_mm)} values for {len(self.sizes)} sizes; "
                    "give one for each size.",
                    code="chart-values",
                )

    def body_mm(self, measure: Measure, position: float) -> float | None:
        """The chart's body at a place between sizes (0 the first, 1.5 half-way from the second to the third)."""
        return _at(self.body, measure, position)

    def finished_mm(self, measure: Measure, position: float) -> float | None:
        """The finished measurement at a place between sizes."""
        return _at(self.finished, measure, position)

    def drafted_ease_mm(self, measure: Measure, position: float) -> float | None:
        """Finished less the chart's body; ``None`` where one of them is not told."""
        finished, body = self.finished_mm(measure, position), self.body_mm(measure, position)
        return None if finished is None or body is None else finished - body

    def drafted_cup_mm(self, position: float) -> float | None:
        """The difference between bust and upper chest that a size was drafted for."""
        bust, high = (self.body_mm(measure, position) for measure in (Measure.BUST, Measure.HIGH_BUST))
        return bust - high if bust is not None and high is not None else self.cup_mm

    def position_of(self, measure: Measure, body_mm: float) -> float | None:
        """Where a body lies between the sizes, held at the ends; ``None`` where the chart does not tell it.

        A line whose values do not grow from size to size tells nothing either.
        """
        told = _told(self.body, measure)
        if told is None or len(told[1]) < 2 or not np.all(np.diff(told[1]) > 0):
            return None
        return float(np.interp(body_mm, told[1], told[0]))

    def beyond_mm(self, measure: Measure, body_mm: float) -> float:
        """By how much a body is larger than the largest size (negative: smaller than the smallest), else 0."""
        told = _told(self.body, measure)
        if told is None:
            return 0.0
        return max(body_mm - float(told[1][-1]), 0.0) + min(body_mm - float(told[1][0]), 0.0)

    def with_finished_of(self, nest: Nest) -> SizeChart:
        """The chart with its finished measurements measured off the pieces of a nest of the same sizes.

        Raises:
            PatternError: the sizes are not the same.
        """
        if nest.sizes != self.sizes:
            raise PatternError(
                f"The chart has the sizes {', '.join(self.sizes)} and the pattern {', '.join(nest.sizes)}; "
                "give both the same sizes.",
                code="chart-sizes",
            )
        lines = tuple(ChartLine(measure, values) for measure, values in finished_by_size(nest).items())
        return replace(self, finished=lines)


def chart_off_pieces(nest: Nest) -> SizeChart:
    """A chart without bodies: what the pieces of a nest measure in each size."""
    return SizeChart(nest.sizes).with_finished_of(nest)


def _told(lines: tuple[ChartLine, ...], measure: Measure) -> tuple[np.ndarray, np.ndarray] | None:
    """The places and values that a line tells."""
    for line in lines:
        if line.measure is measure:
            rows = [(place, mm) for place, mm in enumerate(line.lengths_mm) if mm is not None]
            if rows:
                places, values = zip(*rows, strict=True)
                return np.array(places, dtype=float), np.array(values, dtype=float)
    return None


def _at(lines: tuple[ChartLine, ...], measure: Measure, position: float) -> float | None:
    told = _told(lines, measure)
    return None if told is None else float(np.interp(position, told[0], told[1]))
