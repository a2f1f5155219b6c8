"""Closed rings asked together which places they hold, and how far these are from them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Points
from geometry.curves.once_per_chain import once_per_chain
from geometry.curves.segments import Complexes, Floats, Segments, complexes, segments_between

_LEAST_RISE_MM = float(np.sqrt(np.finfo(np.float64).tiny))
"""A side that rises by no more counts as level: its slope could not be reckoned with."""


class Rings(NamedTuple):
    """Some closed rings (their first points not repeated), side after side.

    Attributes:
        firsts: The number of the first side of each ring.
        starts: The corners at which the sides start.
        ends: Those at which they end.
        slopes: How far each side runs to the right on its way up by one; 0 for a level one, which hardly anything asks.
    """

    firsts: NDArray[np.intp]
    starts: Complexes
    ends: Complexes
    slopes: Floats

    @staticmethod
    def of(rings: Sequence[Points]) -> Rings:
        """One or more rings."""
        starts = complexes(np.concatenate(rings))
        counts = np.array([len(ring) for ring in rings])
        lasts = counts.cumsum()
        firsts = lasts - counts
        ends = np.empty_like(starts)
        ends[:-1] = starts[1:]
        ends[lasts - 1] = starts[firsts]
        steps = ends - starts
        slopes = steps.real / np.where(np.abs(steps.imag) <= _LEAST_RISE_MM, np.inf, steps.imag)
        return Rings(firsts, starts, ends, slopes)

    def holding(self, places: Complexes) -> NDArray[np.bool_]:
        """Which ring has which place of shape (m,) inside, by the even-odd rule; shape (m, rings)."""
        x, y = places.real[:, None], places.imag[:, None]
        straddles = (self.starts.imag > y) != (self.ends.imag > y)
        hits = straddles & (x < self.starts.real + (y - self.starts.imag) * self.slopes)
        holding: NDArray[np.bool_] = np.logical_xor.reduceat(hits, self.firsts, axis=1)
        return holding

    def distances_mm(self, places: Complexes) -> Floats:
        """How far each place of shape (m,) is from each ring, shape (m, rings)."""
        _, ways = self._sides().gaps(places[:, None])
        distances: Floats = np.minimum.reduceat(np.abs(ways), self.firsts, axis=1)
        return distances

    def _sides(self) -> Segments:
        return segments_between(self.starts, self.ends)


@once_per_chain
def ring_of(ring: Points) -> Rings:
    """One ring of shape (n, 2)."""
    return Rings.of((ring,))
