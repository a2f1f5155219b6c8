"""Parts moved and put together again: edges bridged, marks carried, nothing trued yet."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.affine import Affine, Point, Points, as_point, distance_mm, frozen_points
from geometry.alterations.carrying import carried
from geometry.alterations.parts import Parts, Run
from geometry.curves import polyline
from geometry.model.edge import Edge
from geometry.model.piece import Piece
from geometry.tolerance import SAME_DIRECTION_RAD, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Joint:
    """A place on an edge where two parts were put together.

    Attributes:
        edge: Id of the edge.
        before: Where the part before it ends.
        after: Where the part after it begins; the same point where a hinge lies on the edge.
        cut_mm: Length along the edge as it was where the cut met it.
    """

    edge: str
    before: Point
    after: Point
    cut_mm: float

    @property
    def gap_mm(self) -> float:
        """How far the two parts were moved from or over one another."""
        return distance_mm(self.before, self.after)


@dataclass(frozen=True, slots=True)
class Rejoined:
    """A piece put together again, its crossed edges bridged straight across.

    Attributes:
        piece: The piece, not yet trued.
        joints: Where edges were crossed or turned at a hinge, in ring order.
    """

    piece: Piece
    joints: tuple[Joint, ...]


def rejoined(parts: Parts, motions: tuple[Affine, ...], *, folded: frozenset[int] = frozenset()) -> Rejoined:
    """The piece with each part carried by its motion.

    Given one motion per part; ``folded`` names parts that vanish (the wedge of a dart that is closed). If no
    part moves, the piece is returned as the very same object.
    """
    if not folded and all(motion.is_identity for motion in motions):
        return Rejoined(parts.piece, ())
    piece = parts.piece
    runs = tuple(run for run in parts.runs if run.part not in folded)
    edges, joints = _edges(piece, runs, motions)
    after = replace(piece, edges=edges, darts=(), notches=())
    return Rejoined(carried(parts, motions, folded, after), joints)


def _edges(piece: Piece, runs: Sequence[Run], motions: Sequence[Affine]) -> tuple[tuple[Edge, ...], tuple[Joint, ...]]:
    chains = [motions[run.part].points(run.points) for run in runs]
    edges, joints = [], []
    for edge in piece.edges:
        own = [index for index, run in enumerate(runs) if run.edge == edge.id]
        if not own:
            continue
        for a, b in itertools.pairwise(own):
            joints.append(Joint(edge.id, as_point(chains[a][-1]), as_point(chains[b][0]), runs[a].to_mm))
        following = (own[-1] + 1) % len(runs)
        pieces_of_edge = [chains[index] for index in own]
        corner, next_corner = as_point(chains[own[-1]][-1]), as_point(chains[following][0])
        if distance_mm(corner, next_corner) > SAME_POINT_MM:  # opened at a corner: this edge bridges the gap
            pieces_of_edge.append(frozen_points([next_corner]))
            joints.append(Joint(edge.id, corner, next_corner, runs[own[-1]].to_mm))
        if len(pieces_of_edge) == 1:
            points = pieces_of_edge[0]
        else:
            points = _without_retraced(polyline.joined(tuple(pieces_of_edge)))
        edges.append(edge if points is edge.points else replace(edge, points=points))
    return tuple(edges), tuple(joints)


def _without_retraced(chain: Points) -> Points:
    """The chain without the points at which it turns straight back on itself.

    Folding out lays one part of an edge over the other; where both run along one line, going there and back
    encloses nothing and is left out. Each pass drops at least one point, so the work is bounded by their number.
    """
    steps = np.diff(chain, axis=0)
    if not (np.einsum("ij,ij->i", steps[:-1], steps[1:]) < 0).any():
        return chain
    points = [as_point(point) for point in chain]
    index = 1
    while index < len(points) - 1:
        a, b, c = points[index - 1 : index + 2]
        if distance_mm(a, b) <= SAME_POINT_MM:
            del points[index]
        elif _turns_back(a, b, c):
            del points[index]
            if index < len(points) and distance_mm(points[index - 1], points[index]) <= SAME_POINT_MM:
                del points[index]
            index = max(index - 1, 1)
        else:
            index += 1
    return frozen_points(points) if len(points) < len(chain) else chain


def _turns_back(a: Point, b: Point, c: Point) -> bool:
    ux, uy, vx, vy = a[0] - b[0], a[1] - b[1], c[0] - b[0], c[1] - b[1]
    across, along = abs(ux * vy - uy * vx), ux * vx + uy * vy
    sizes = math.hypot(ux, uy) * math.hypot(vx, vy)
    shorter = min(math.hypot(ux, uy), math.hypot(vx, vy))
    return along > 0 and (across <= SAME_DIRECTION_RAD * sizes or across * shorter <= SAME_POINT_MM * sizes)
