"""Where places lie on a ring of edges: many places looked up at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, Points, frozen_points
from geometry.curves import polyline
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class OnEdge:
    """A place on a ring of edges: which edge, how far along it, how far from it, and which way its outside faces."""

    edge: int
    at_mm: float
    gap_mm: float
    outwards: Point


class EdgeRuler:
    """Chains laid end to end, measured once and asked often."""

    def __init__(self, chains: Sequence[Points]) -> None:
        self.chains = tuple(chains)
        points = np.concatenate(chains)
        starts_one = np.ones(len(points), dtype=np.bool_)
        starts_one[np.cumsum([len(chain) for chain in chains]) - 1] = False
        self._starts = points[starts_one]
        steps = (points[1:] - points[:-1])[starts_one[:-1]]
        self._sizes = np.hypot(steps[:, 0], steps[:, 1])
        self._along = steps / np.where(self._sizes > 0, self._sizes, 1.0)[:, None]
        stations = [polyline.stations_mm(chain) for chain in chains]
        self._stations = np.concatenate([at[:-1] for at in stations])
        self._edges = np.repeat(np.arange(len(chains)), [len(chain) - 1 for chain in chains])
        self.lengths_mm = tuple(float(at[-1]) for at in stations)

    def nearest(self, places: Sequence[Point] | Points, *, towards: Sequence[Point] | None = None) -> list[OnEdge]:
        """For each place the nearest one on an edge.

        At a corner two edges are equally near: then the one whose outside faces most along ``towards``, either way
        round, is taken, and without it the first.
        """
        if len(places) == 0:
            return []
        points = np.asarray(places, dtype=np.float64).reshape(-1, 2)
        to_place = points[:, None, :] - self._starts[None, :, :]
        reach = np.einsum("mij,ij->mi", to_place, self._along)
        reach = np.clip(reach, 0.0, self._sizes)
        away = to_place - reach[..., None] * self._along
        gaps = np.hypot(away[..., 0], away[..., 1])
        best = np.argmin(gaps, axis=1)
        if towards is not None:
            best = self._facing(gaps, best, np.asarray(towards, dtype=np.float64))
        rows = np.arange(len(points))
        at_mm = self._stations[best] + reach[rows, best]
        return [
            OnEdge(edge, at, gap, (uy, -ux))
            for edge, at, gap, (ux, uy) in zip(
                self._edges[best].tolist(),
                at_mm.tolist(),
                gaps[rows, best].tolist(),
                self._along[best].tolist(),
                strict=True,
            )
        ]

    def _facing(self, gaps: NDArray[np.float64], best: NDArray[np.intp], towards: Points) -> NDArray[np.intp]:
        least = gaps[np.arange(len(gaps)), best]
        tied = gaps <= (least + SAME_POINT_MM)[:, None]
        facing = np.abs(towards[:, :1] * self._along[None, :, 1] - towards[:, 1:] * self._along[None, :, 0])
        chosen: NDArray[np.intp] = np.argmax(np.where(tied, facing, -1.0), axis=1)
        return chosen

    def sampled(self, count: int) -> tuple[NDArray[np.float64], Points, Points]:
        """So many places along every edge, within the middle fifth of their segments, where outwards is plain.

        Returns:
            Lengths along the edges, shape (edges, count), and the places and outward directions, shape
            (edges * count, 2), edge by edge.
        """
        lengths = np.array(self.lengths_mm)
        begins = np.cumsum(lengths) - lengths
        wanted = begins[:, None] + lengths[:, None] * (np.arange(count) + 0.5) / count
        firsts = begins[self._edges] + self._stations
        rows = np.clip(np.searchsorted(firsts, wanted.ravel(), side="right") - 1, 0, len(firsts) - 1)
        reach = np.clip(wanted.ravel() - firsts[rows], 0.4 * self._sizes[rows], 0.6 * self._sizes[rows])
        along = self._along[rows]
        at_mm = (self._stations[rows] + reach).reshape(wanted.shape)
        return at_mm, self._starts[rows] + along * reach[:, None], np.column_stack([along[:, 1], -along[:, 0]])

    def on_one_edge(self, places: Sequence[Point], *, within_mm: float) -> tuple[int, list[float]] | None:
        """The edge on which all of some places lie, and their lengths along it; ``None`` if there is none.

        Where a place is a corner, either of its edges will do.
        """
        for edge in sorted({found.edge for found in self.nearest(places)}):
            found = [polyline.nearest(self.chains[edge], place) for place in places]
            if all(gap_mm <= within_mm for _, gap_mm in found):
                return edge, [at_mm for at_mm, _ in found]
        return None

    def point(self, edge: int, at_mm: float) -> Point:
        """The point at a length along an edge."""
        return polyline.point_at(self.chains[edge], at_mm)


def first_hits_mm(starts: Points, directions: Points, ring: Points, *, within_mm: float) -> NDArray[np.float64]:
    """How far rays run until they meet a closed ring, shape (m,); NaN where they do not within the distance.

    A ray that starts on the ring meets it at 0.
    """
    a, step = ring, np.roll(ring, -1, axis=0) - ring
    gap = a[None, :, :] - starts[:, None, :]
    sine = directions[:, :1] * step[None, :, 1] - directions[:, 1:] * step[None, :, 0]
    safe = np.where(np.abs(sine) > 0, sine, 1.0)
    with np.errstate(over="ignore"):  # nearly level with a ray: the hit is past all bounds, and no hit
        reach = (gap[..., 0] * step[None, :, 1] - gap[..., 1] * step[None, :, 0]) / safe
        share = (gap[..., 0] * directions[:, 1:] - gap[..., 1] * directions[:, :1]) / safe
    slack = SAME_POINT_MM / np.maximum(np.hypot(step[:, 0], step[:, 1]), SAME_POINT_MM)
    hits = (np.abs(sine) > 0) & (share >= -slack) & (share <= 1 + slack) & (reach >= -SAME_POINT_MM)
    hits &= reach <= within_mm
    nearest = np.where(hits, reach, np.inf).min(axis=1)
    answer: NDArray[np.float64] = np.where(np.isfinite(nearest), np.maximum(nearest, 0.0), np.nan)
    return answer


def counter_clockwise(ring: Points) -> Points:
    """The closed ring run counter-clockwise from the same first point."""
    if polyline.signed_area_mm2(ring) >= 0:
        return ring
    return frozen_points(np.vstack([ring[:1], ring[:0:-1]]))
