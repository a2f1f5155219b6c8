"""The segments of a chain as complex numbers, x + iy.

A product of complex numbers is a projection and a cross product in one, so that a question about places and a whole
chain is a handful of operations on arrays; chains of garments are so short that it is their number that counts.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Points
from geometry.curves.once_per_chain import once_per_chain
from geometry.tolerance import FLOAT_MM

Complexes = NDArray[np.complex128]
Floats = NDArray[np.float64]


class Segments(NamedTuple):
    """The segments of a chain, one column each.

    Attributes:
        starts: Where each starts.
        steps: The way from there to where it ends.
        gauges: Times the way from its start to a place, the real part is the share of the segment abreast of it.
    """

    starts: Complexes
    steps: Complexes
    gauges: Complexes

    def gaps(self, places: Complexes | complex) -> tuple[Floats, Complexes]:
        """Shares of the segments at which they are nearest to places, and the ways from there to the places.

        Given one place or places of shape (m, 1).
        """
        ways = places - self.starts
        shares = np.minimum(np.maximum((ways * self.gauges).real, 0.0), 1.0)
        ways -= shares * self.steps
        return shares, ways


@once_per_chain
def segments_of(chain: Points) -> Segments:
    """The segments of a chain of shape (n, 2), n >= 2."""
    corners = complexes(chain)
    return segments_between(corners[:-1], corners[1:])


def segments_between(starts: Complexes, ends: Complexes) -> Segments:
    """The segments from some places to as many others."""
    steps = ends - starts
    back = steps.conj()
    return Segments(starts, steps, back / np.maximum((steps * back).real, FLOAT_MM * FLOAT_MM))


def complexes(places: Points) -> Complexes:
    """Places of shape (n, 2) as x + iy, shape (n,)."""
    seen: Complexes = np.ascontiguousarray(places, dtype=np.float64).view(np.complex128)[:, 0]
    return seen
