"""How a line runs: its direction at an end, corners inside it, what it looks like with its darts folded."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Affine, Point, Points, angle_between, as_point
from geometry.curves import polyline
from geometry.curves.once_per_chain import once_per_chain
from geometry.model.piece import Piece

_CHORD_MM = 6.0
"""Chords over which a direction is taken: short against any curve of a garment, long against the shake of a trace."""

_ARM_MM = 12.0
"""The same where a corner is looked for; it is compared with the turn this far before and after it."""


@once_per_chain
def headings_rad(chain: Points) -> tuple[float, float]:
    """Directions in which a chain leaves its first point, and in which one leaves its last point back along it.

    The curve is taken into account: of the chords to two places beside the point, what they turn by is taken off once
    more. Good to about a degree on a line traced by hand. 0 for a chain without length.
    """
    length_mm = polyline.length_mm(chain)
    reach_mm = min(_CHORD_MM, length_mm / 2)
    start, end = as_point(chain[0]), as_point(chain[-1])
    return (
        _heading_rad(start, polyline.point_at(chain, reach_mm), polyline.point_at(chain, 2 * reach_mm)),
        _heading_rad(
            end, polyline.point_at(chain, length_mm - reach_mm), polyline.point_at(chain, length_mm - 2 * reach_mm)
        ),
    )


def _heading_rad(corner: Point, near: Point, far: Point) -> float:
    near_rad, far_rad = (math.atan2(y - corner[1], x - corner[0]) for x, y in (near, far))
    return near_rad - math.remainder(far_rad - near_rad, math.tau)


def peak_mm(turn_rad: float, reach_mm: float) -> float:
    """How far a corner stands off the smooth curve that is drawn instead of it from ``reach_mm`` on either side.

    A cubic whose handles are a third of its chord bulges half as far as the corner it replaces.
    """
    return reach_mm * math.sin(abs(turn_rad) / 2) / 2


@dataclass(frozen=True, slots=True)
class Bend:
    """A corner inside a line.

    Attributes:
        at_mm: Length along the line.
        turn_rad: By how much the line turns there, to the left positive.
        extra_rad: The part of it that the curve before and after does not account for.
    """

    at_mm: float
    turn_rad: float
    extra_rad: float


def bends(chain: Points, *, least_rad: float) -> tuple[Bend, ...]:
    """The corners inside a chain that turn by more than ``least_rad`` beyond their surroundings, in order.

    Corners nearer than 12 mm to an end are not seen; of several within that distance the sharpest counts. A tight
    curve is told from a corner by looking twice, the second time from half as far.
    """
    stations = polyline.stations_mm(chain)
    at = stations[(stations > _ARM_MM) & (stations < stations[-1] - _ARM_MM)]
    if len(at) == 0:
        return ()
    turn, extra = _turns(chain, stations, at, _ARM_MM)
    _, closer = _turns(chain, stations, at, _ARM_MM / 2)
    extra = np.where(extra * closer > 0, np.sign(extra) * np.minimum(np.abs(extra), np.abs(closer)), 0.0)
    found: list[Bend] = []
    for index in np.argsort(-np.abs(extra), kind="stable"):
        if abs(extra[index]) <= least_rad:
            break
        if all(abs(at[index] - bend.at_mm) > _ARM_MM for bend in found):
            found.append(Bend(float(at[index]), float(turn[index]), float(extra[index])))
    return tuple(sorted(found, key=lambda bend: bend.at_mm))


def _turns(
    chain: Points, stations: NDArray[np.float64], at: NDArray[np.float64], arm_mm: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """By how much the chords before and after each place turn, and the same less the mean turn an arm away.

    Where the chain ends less than two arms away, only the other side is compared.
    """
    places = at + arm_mm * np.arange(-2.0, 3.0)[:, None]
    x, y = (np.interp(places, stations, chain[:, axis]) for axis in (0, 1))
    dx, dy = np.diff(x, axis=0), np.diff(y, axis=0)
    before, turn, after = np.arctan2(dx[:-1] * dy[1:] - dy[:-1] * dx[1:], dx[:-1] * dx[1:] + dy[:-1] * dy[1:])
    is_short = places[[0, -1]] != np.clip(places[[0, -1]], 0.0, stations[-1])
    first, last = np.where(is_short[0], after, before), np.where(is_short[1], before, after)
    beside = np.where(is_short.all(axis=0), 0.0, (first + last) / 2)
    return turn, turn - beside


def folded_line(piece: Piece, edge_id: str) -> Points:
    """An edge with its darts folded shut: what comes after each mouth is turned about the tip of its dart.

    Where the legs differ it is laid on the mouth's first point all the same: that they do is found elsewhere.
    """
    edge = piece.edge(edge_id)
    darts = piece.darts_on(edge_id)
    if not darts:
        return edge.points
    parts, motion, done_mm = [], Affine(), 0.0
    for dart in darts:
        parts.append(motion.points(polyline.part_between(edge.points, done_mm, dart.from_mm)))
        start, end = piece.mouth(dart)
        turned = Affine.turned(angle_between(dart.tip, end, start), dart.tip)
        x, y = turned.point(end)
        motion = turned.then(Affine.moved(start[0] - x, start[1] - y)).then(motion)
        done_mm = dart.to_mm
    parts.append(motion.points(polyline.part_between(edge.points, done_mm, edge.length_mm)))
    return polyline.without_doubled_points(polyline.joined(tuple(parts)))


def open_mm(piece: Piece, edge_id: str, sewn_mm: float) -> float:
    """How far along an edge, darts open, a sewn length lies; where a dart closes, the start of its mouth."""
    at_mm = sewn_mm
    for dart in piece.darts_on(edge_id):
        at_mm += dart.to_mm - dart.from_mm if at_mm > dart.from_mm else 0.0
    return at_mm


def dip_mm(chain: Points) -> tuple[float, int]:
    """How far a chain dips to the left of the line between its ends, and the index of the point furthest there."""
    ahead = chain[-1] - chain[0]
    size = float(np.hypot(*ahead))
    if size == 0:
        return 0.0, 0
    off = (ahead[0] * (chain[:, 1] - chain[0, 1]) - ahead[1] * (chain[:, 0] - chain[0, 0])) / size
    index = int(off.argmax())
    return float(off[index]), index
