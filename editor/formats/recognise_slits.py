"""Darts and notches that were cut into an outline: wedges between corners, given back their straight edge."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from geometry.affine import Point, Points, angle_between, as_point, distance_mm, frozen_points
from geometry.curves import polyline

WIDEST_DART_DEG = 60.0
WIDEST_MOUTH_MM = 150.0
SHORTEST_LEG_MM = 25.0
"""A wedge cut into an outline is a dart if it is this narrow and deep; else it is a shape (own choice)."""

LARGEST_NICK_MM = 12.0
"""A wedge whose sides are no longer is a notch (nicks are 2-6 mm deep; common practice, no source)."""

_LEGS_DIFFER = 0.1
_SIDE_BOW_MM = 1.0
_STRAIGHT_ON_DEG = 40.0
"""Beside a wedge the edge turns by no more than this; at a larger turn the wedge's foot is a corner of its own."""


@dataclass(frozen=True, slots=True)
class Wedge:
    """A wedge taken out of an outline: its feet in ring order and the point between them."""

    start: Point
    tip: Point
    end: Point

    @property
    def legs_mm(self) -> tuple[float, float]:
        """Lengths of both sides."""
        return distance_mm(self.start, self.tip), distance_mm(self.end, self.tip)

    @property
    def is_nick(self) -> bool:
        """Whether it is a notch rather than a dart."""
        return max(self.legs_mm) <= LARGEST_NICK_MM


def may_have_wedges(chains: Sequence[Points]) -> bool:
    """Whether any two neighbouring sides have the shape of a wedge, named or not."""
    return len(chains) > 3 and any(_wedge(chains, index) is not None for index in range(len(chains)))


def without_wedges(
    chains: Sequence[Points], named: Sequence[bool], takes: Callable[[Wedge], bool]
) -> tuple[tuple[Points, ...], tuple[Wedge, ...]]:
    """The sides of a counter-clockwise ring with their wedges closed, and the wedges in ring order.

    Two neighbouring straight sides are a wedge if they are nearly equal and narrow, point into the piece (a notch
    may also stand out of it) and the edge runs on nearly straight beside them.

    Args:
        chains: The sides from corner to corner.
        named: For each side whether a text names it; a named side is an edge of its own.
        takes: Whether a wedge found is to be closed.
    """
    left = list(chains)
    names = list(named)
    found: list[Wedge] = []
    index = 0
    while index < len(left) and len(left) > 3:
        after = (index + 1) % len(left)
        wedge = None if names[index] or names[after] else _wedge(left, index)
        joins = None if wedge is None else _joins(left, index, wedge)
        if wedge is None or joins is None or not takes(wedge):
            index += 1
            continue
        _close(left, names, index, wedge, joins)
        found.append(wedge)
        index = max(index - 1, 0)
    return tuple(left), tuple(found)


def _wedge(chains: Sequence[Points], index: int) -> Wedge | None:
    first, second = chains[index], chains[(index + 1) % len(chains)]
    wedge = Wedge(as_point(first[0]), as_point(first[-1]), as_point(second[-1]))
    legs = wedge.legs_mm
    if abs(legs[0] - legs[1]) > max(_LEGS_DIFFER * max(legs), _SIDE_BOW_MM):
        return None
    turn_deg = math.degrees(angle_between(wedge.tip, wedge.start, wedge.end))
    if max(legs) <= LARGEST_NICK_MM:
        pointed = 0.0 < abs(turn_deg) <= 2 * WIDEST_DART_DEG
    else:
        deep = min(legs) >= SHORTEST_LEG_MM and distance_mm(wedge.start, wedge.end) <= WIDEST_MOUTH_MM
        pointed = deep and 0.0 < turn_deg <= WIDEST_DART_DEG
    straight = pointed and all(polyline.offset_from_chord_mm(side) <= _SIDE_BOW_MM for side in (first, second))
    return wedge if straight else None


def _joins(chains: Sequence[Points], index: int, wedge: Wedge) -> tuple[bool, bool] | None:
    """Whether the sides before and after a wedge run on straight across its mouth; ``None`` if neither does."""
    count = len(chains)
    before, after = (index - 1) % count, (index + 2) % count
    mouth = np.array([wedge.start, wedge.end])
    arriving = polyline.direction_at(chains[before], polyline.length_mm(chains[before]))
    leaving = polyline.direction_at(chains[after], 0.0)
    joins = _turn_deg(arriving, mouth) <= _STRAIGHT_ON_DEG, _turn_deg(leaving, mouth) <= _STRAIGHT_ON_DEG
    return joins if any(joins) and before != after else None


def _close(chains: list[Points], names: list[bool], index: int, wedge: Wedge, joins: tuple[bool, bool]) -> None:
    """Put one straight mouth in place of a wedge and join it to the sides it runs on from."""
    count = len(chains)
    before, after = (index - 1) % count, (index + 2) % count
    joins_before, joins_after = joins
    mouth = np.array([wedge.start, wedge.end])
    side = mouth
    gone = {index, (index + 1) % count}
    named = False
    if joins_before:
        side, named = np.vstack([chains[before], side[1:]]), names[before]
        gone.add(before)
    if joins_after:
        side, named = np.vstack([side, chains[after][1:]]), named or names[after]
        gone.add(after)
    ring = [(row, chains[row], names[row]) for row in range(count)]
    kept = [(row, chain, name) for row, chain, name in ring if row not in gone]
    at = before if joins_before else index
    kept.append((at, frozen_points(side), named))
    kept.sort(key=lambda entry: entry[0])
    chains[:] = [chain for _, chain, _ in kept]
    names[:] = [name for _, _, name in kept]


def _turn_deg(direction: Point, mouth: Points) -> float:
    step = mouth[1] - mouth[0]
    cross = direction[0] * step[1] - direction[1] * step[0]
    return abs(float(np.degrees(np.arctan2(cross, direction[0] * step[0] + direction[1] * step[1]))))
