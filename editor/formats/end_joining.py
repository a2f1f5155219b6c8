"""Which ends of loose paths are the same place: pairs of near ends, closest and straightest first.

The distance allowed grows rung by rung, and on the wider rungs only ends that are still free join
others: two points of a dart's legs close to its tip are never drawn together once each has its
neighbour.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from geometry.affine import Points

LADDER_MM = (0.01, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0)
"""Rungs below the stated tolerance; the first is the last digit of files written with two decimals."""

Indices = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Ends:
    """Both ends of every path: end 2k is the start of path k, end 2k + 1 its other end."""

    places: Points
    inward: Points
    lengths: npt.NDArray[np.float64]


def ends_of(paths: Sequence[Points]) -> Ends:
    """Return the ends of paths of at least two points, with the unit direction from each end into its path."""
    places = np.array([path[index] for path in paths for index in (0, -1)])
    second = np.array([path[index] for path in paths for index in (1, -2)])
    inward = second - places
    steps = np.hypot(inward[:, 0], inward[:, 1])
    inward /= np.where(steps > 0, steps, 1.0)[:, np.newaxis]
    lengths = np.array([float(np.hypot(*np.diff(path, axis=0).T).sum()) for path in paths])
    return Ends(places, inward, lengths)


def join_ends(ends: Ends, *, gap_mm: float) -> Indices:
    """Return for every end the number of its node; ends of one node are the same place."""
    nodes = _Nodes(len(ends.places))
    for number, rung in enumerate((*(rung for rung in LADDER_MM if rung < gap_mm), gap_mm)):
        free = nodes.free()
        if not len(free):
            break
        _join_within(ends, nodes, free, rung, coincide=number == 0)
    return nodes.numbers()


class _Nodes:
    """Sets of ends, merged by union with path halving."""

    def __init__(self, count: int) -> None:
        self.parent = list(range(count))
        self.size = [1] * count

    def find(self, end: int) -> int:
        while self.parent[end] != end:
            self.parent[end] = self.parent[self.parent[end]]
            end = self.parent[end]
        return end

    def join(self, one: int, other: int) -> None:
        one, other = sorted((self.find(one), self.find(other)))
        if one != other:
            self.parent[other] = one
            self.size[one] += self.size[other]

    def is_free(self, end: int) -> bool:
        return self.size[self.find(end)] == 1

    def free(self) -> Indices:
        return np.array([end for end in range(len(self.parent)) if self.is_free(end)], dtype=np.int64)

    def numbers(self) -> Indices:
        return np.array([self.find(end) for end in range(len(self.parent))], dtype=np.int64)


def _join_within(ends: Ends, nodes: _Nodes, free: Indices, rung: float, *, coincide: bool) -> None:
    """Join ends not farther apart than the rung, best pairs first.

    Where more than two ends meet, a pair that runs straight on is worth up to half the rung of distance,
    so that a notch tick does not take the place of the outline's next stretch. Ends that coincide are all
    joined; else one of the two must still be free.
    """
    one, other, apart = near_pairs(ends.places, free, rung)
    same_path = one // 2 == other // 2
    long_enough = ends.lengths[one // 2] > 4 * rung
    one, other, apart = (array[~same_path | long_enough] for array in (one, other, apart))
    bend = (1 + np.einsum("ij,ij->i", ends.inward[one], ends.inward[other])) / 2
    for at in np.lexsort((other, one, apart + bend * rung / 2)).tolist():
        a, b = int(one[at]), int(other[at])
        if coincide or nodes.is_free(a) or nodes.is_free(b):
            nodes.join(a, b)


def near_pairs(places: Points, wanted: Indices, reach: float) -> tuple[Indices, Indices, npt.NDArray[np.float64]]:
    """Return pairs (wanted end, other end) and their distances, for all pairs within reach of each other.

    Each pair of two wanted ends is given once. The ends are sorted into square cells as wide as the reach,
    so only the nine cells around an end are looked at.
    """
    cells = np.floor((places - places.min(axis=0)) / reach).astype(np.int64) + 1
    rows = int(cells[:, 1].max()) + 2
    keys = cells[:, 0] * rows + cells[:, 1]
    order = np.argsort(keys, kind="stable")
    ones, others = zip(*_cell_pairs(keys, keys[order], order, wanted, rows), strict=True)
    one, other = np.concatenate(ones), np.concatenate(others)
    is_wanted = np.zeros(len(places), dtype=bool)
    is_wanted[wanted] = True
    distinct = np.where(is_wanted[other], one < other, one != other)
    one, other = one[distinct], other[distinct]
    apart = np.hypot(*(places[one] - places[other]).T)
    near = apart <= reach
    return one[near], other[near], apart[near]


def _cell_pairs(
    keys: Indices, sorted_keys: Indices, order: Indices, wanted: Indices, rows: int
) -> Iterator[tuple[Indices, Indices]]:
    for across in (-1, 0, 1):
        for up in (-1, 0, 1):
            sought = keys[wanted] + across * rows + up
            first = np.searchsorted(sorted_keys, sought, side="left")
            counts = np.searchsorted(sorted_keys, sought, side="right") - first
            one = np.repeat(wanted, counts)
            within_run = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
            yield one, order[np.repeat(first, counts) + within_run]
