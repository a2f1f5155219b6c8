"""A piece cut apart: which stretch of which edge, and which place inside, belongs to which part.

The cut lines and the outline form a small graph. Its nodes are the corners, the places where cuts start and end
and where they meet or bend; the parts are its inner faces, found by walking with the inside always on the left.
"""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.curves.rings import Rings
from geometry.curves.segments import complexes
from geometry.errors import StepError
from geometry.identity import Same
from geometry.model.dart import Dart
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_DIRECTION_RAD, SAME_POINT_MM

Line = tuple[Point, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Run:
    """A stretch of an edge that no cut crosses, with the part it belongs to."""

    edge: str
    from_mm: float
    to_mm: float
    points: Points
    part: int


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """A piece cut apart.

    Attributes:
        piece: The piece before.
        lines: The cuts with every place put in where they meet.
        chains: The same as chains of points.
        runs: The outline in ring order, starting with the first edge.
        rings: One closed ring per part.
        walls: The rings, to ask which of them a place is in.
        corners: Where cuts and edges start, end and meet, each with the parts that have a corner there.
        sides: For each cut the parts to its left and right, seen from its start along its first segment.
    """

    piece: Piece
    lines: tuple[Line, ...]
    chains: tuple[Points, ...]
    runs: tuple[Run, ...]
    rings: tuple[Points, ...]
    walls: Rings
    corners: tuple[tuple[Point, tuple[int, ...]], ...]
    sides: tuple[tuple[int, int], ...]

    def parts_at(
        self, places: Points, *, within_mm: NDArray[np.float64] | float = SAME_POINT_MM
    ) -> tuple[tuple[int, ...], ...]:
        """For each place of shape (m, 2) the parts it belongs to: one, or on a cut all that meet there.

        A place within ``within_mm`` of a cut is on it; one distance for all, or of shape (m,).
        """
        asked = complexes(places)
        gaps = [polyline.distances_mm(chain, places) for chain in self.chains]
        on_cut = np.logical_or.reduce([gap <= within_mm for gap in gaps])
        inside = self.walls.holding(asked)
        found = [(part,) for part in inside.argmax(axis=1).tolist()]
        unclear = np.flatnonzero(on_cut | ~inside.any(axis=1))
        if len(unclear):
            near_mm = np.broadcast_to(within_mm, len(asked))
            for index, away in zip(unclear.tolist(), self.walls.distances_mm(asked[unclear]), strict=True):
                near = np.flatnonzero(away <= near_mm[index]) if on_cut[index] else away.argmin(keepdims=True)
                found[index] = tuple(near.tolist())
        return tuple(found)

    def parts_touching(self, place: Point) -> tuple[int, ...]:
        """The parts a place belongs to: one, or on a cut all that meet there."""
        for corner, parts in self.corners:
            if distance_mm(corner, place) <= SAME_POINT_MM:
                return parts
        return self.parts_at(frozen_points([place]))[0]

    def is_cut(self, edge_id: str) -> bool:
        """Whether a cut parts an edge into runs."""
        return sum(run.edge == edge_id for run in self.runs) > 1

    def run_at(self, edge_id: str, at_mm: float) -> Run:
        """The run of an edge that holds a length along it; at a cut, the one before it."""
        on_edge = [run for run in self.runs if run.edge == edge_id]
        for run in on_edge:
            if at_mm <= run.to_mm + SAME_POINT_MM:
                return run
        return on_edge[-1]

    def mouth_runs(self, dart: Dart) -> tuple[Run, Run]:
        """The runs just outside a dart's mouth, before and after it; at a corner, the nearest inside it."""
        return self.runs_beside(dart.edge, dart.from_mm)[0], self.runs_beside(dart.edge, dart.to_mm)[1]

    def runs_beside(self, edge_id: str, at_mm: float) -> tuple[Run, Run]:
        """The runs just before and just behind a length along an edge: the same one, where no cut meets it there."""
        slack = 4 * SAME_POINT_MM
        return self.run_at(edge_id, at_mm - slack), self.run_at(edge_id, at_mm + slack)


def cut_apart(piece: Piece, lines: tuple[Line, ...]) -> Parts:
    """The piece cut along lines, each from the outline to the outline or to a point inside.

    Ends within half a millimetre of the outline are moved onto it. Lines may cross or meet.

    Raises:
        StepError: a line leaves the piece, has no length or does not start on the outline.
    """
    return _cut_apart(Same(piece), lines)


@lru_cache(maxsize=64)
def _cut_apart(key: Same[Piece], lines: tuple[Line, ...]) -> Parts:
    piece = key.value
    placed = [_placed(piece, line) for line in lines]
    noded = _noded([line for line, _ in placed])
    chains = tuple(frozen_points(line) for line in noded)
    _refuse_lines_outside(piece, chains)
    breaks = defaultdict(list)
    for _, ends in placed:
        for edge_id, at_mm in ends:
            breaks[edge_id].append(at_mm)
    graph = _Graph(piece.name)
    stretches = [graph.add_run(edge_id, *stretch) for edge_id, stretch in _stretches(piece, breaks)]
    for index, line in enumerate(noded):
        graph.add_cut(index, line)
    faces = graph.faces()
    part_of = {half: face for face, halves in enumerate(faces) for half in halves}
    runs = tuple(
        Run(edge_id, from_mm, to_mm, graph.chains[half], part_of[half]) for edge_id, from_mm, to_mm, half in stretches
    )
    rings = tuple(frozen_points(np.vstack([graph.chains[half][:-1] for half in halves])) for halves in faces)
    sides = tuple((part_of[left], part_of[right]) for left, right in graph.first_of_cut)
    corners = graph.corners(part_of)
    return Parts(piece, noded, chains, runs, rings, Rings.of(rings), corners, sides)


def _placed(piece: Piece, line: Line) -> tuple[Line, list[tuple[str, float]]]:
    """The line with its ends put exactly on the outline, and the (edge, length) of the ends that are on it."""
    if len(line) < 2 or all(distance_mm(line[0], point) <= SAME_POINT_MM for point in line):
        raise StepError(f'The slash line on "{piece.name}" has no length; draw it from one edge to another.')
    ends: list[tuple[str, float]] = []
    points = list(line)
    for index in (0, -1):
        spot = _on_outline(piece, points[index])
        if spot is not None:
            points[index], edge_id, at_mm = spot
            ends.append((edge_id, at_mm))
    if not ends:
        raise StepError(f'The slash line on "{piece.name}" touches no edge; start it on the outline.')
    return tuple(points), ends


def _on_outline(piece: Piece, place: Point) -> tuple[Point, str, float] | None:
    edge, at_mm, gap_mm = piece.nearest_edge(place)
    if gap_mm > ON_EDGE_MM:
        return None
    length_mm = edge.length_mm
    for corner_mm in (0.0, length_mm):
        if abs(at_mm - corner_mm) <= SAME_POINT_MM:
            at_mm = corner_mm
    spot = edge.start if at_mm == 0.0 else edge.end if at_mm == length_mm else edge.point_at(at_mm)
    return spot, edge.id, at_mm


def _noded(lines: Sequence[Line]) -> tuple[Line, ...]:
    """The lines with a point put in wherever two of them cross or one ends on another."""
    chains = [frozen_points(line) for line in lines]
    points = [
        [*zip(polyline.stations_mm(chain).tolist(), line, strict=True)]
        for chain, line in zip(chains, lines, strict=True)
    ]
    for (i, first), (j, second) in itertools.combinations(enumerate(chains), 2):
        for crossing in crossings(first, second):
            for index, at_mm in ((i, crossing.first_mm), (j, crossing.second_mm)):
                if all(abs(at_mm - known_mm) > SAME_POINT_MM for known_mm, _ in points[index]):
                    points[index].append((at_mm, crossing.at))
    return tuple(tuple(point for _, point in sorted(line)) for line in points)


def _refuse_lines_outside(piece: Piece, chains: Sequence[Points]) -> None:
    outline = piece.outline
    closed = frozen_points(np.concatenate((outline, outline[:1])))
    steps = [chain[1:] - chain[:-1] for chain in chains]
    if min(np.abs(complexes(step)).min() for step in steps) <= SAME_POINT_MM:
        raise StepError(f'The slash line on "{piece.name}" has two points in one place; draw it again.')
    middles = np.concatenate([chain[:-1] + step / 2 for chain, step in zip(chains, steps, strict=True)])
    within = polyline.contains(outline, middles)
    if not within.all():  # a line along an edge is refused later, for that
        within |= polyline.distances_mm(closed, middles) <= SAME_POINT_MM
    if not within.all() or any(_meets_between_ends(chain, closed) for chain in chains):
        raise StepError(f'The slash line leaves the piece "{piece.name}"; keep it inside from edge to edge.')


def _meets_between_ends(chain: Points, closed: Points) -> bool:
    total, slack = polyline.length_mm(chain), 4 * SAME_POINT_MM
    return any(slack < crossing.first_mm < total - slack for crossing in crossings(chain, closed))


def _stretches(piece: Piece, breaks: dict[str, list[float]]) -> list[tuple[str, tuple[float, float, Points]]]:
    found = []
    for edge in piece.edges:
        length_mm = edge.length_mm
        stops = [0.0]
        for at_mm in sorted(breaks.get(edge.id, [])):
            if at_mm - stops[-1] > SAME_POINT_MM and length_mm - at_mm > SAME_POINT_MM:
                stops.append(at_mm)
        stops.append(length_mm)
        found += [(edge.id, (a, b, polyline.part_between(edge.points, a, b))) for a, b in itertools.pairwise(stops)]
    return found


class _Graph:
    """Chains between nodes, each usable in one direction (outline) or both (cuts)."""

    def __init__(self, piece_name: str) -> None:
        self.piece_name = piece_name
        self.nodes: list[Point] = []
        self.known: dict[Point, int] = {}
        self.chains: list[Points] = []
        self.ends: list[tuple[int, int]] = []
        self.twins: dict[int, int] = {}
        self.first_of_cut: list[tuple[int, int]] = []

    def add_run(self, edge_id: str, from_mm: float, to_mm: float, chain: Points) -> tuple[str, float, float, int]:
        """Put in a stretch of the outline; its inside is on the left."""
        return edge_id, from_mm, to_mm, self._add(chain)

    def add_cut(self, index: int, line: Line) -> None:
        """Put in the segments of a cut, both ways round."""
        for number, (a, b) in enumerate(itertools.pairwise(line)):
            forward, back = self._add(frozen_points([a, b])), self._add(frozen_points([b, a]))
            self.twins[forward], self.twins[back] = back, forward
            if number == 0:
                self.first_of_cut.append((forward, back))

    def _add(self, chain: Points) -> int:
        self.chains.append(chain)
        self.ends.append((self._node(as_point(chain[0])), self._node(as_point(chain[-1]))))
        return len(self.chains) - 1

    def _node(self, place: Point) -> int:
        if place not in self.known:
            near = (index for index, node in enumerate(self.nodes) if distance_mm(node, place) <= SAME_POINT_MM)
            self.known[place] = next(near, len(self.nodes))
            if self.known[place] == len(self.nodes):
                self.nodes.append(place)
        return self.known[place]

    def corners(self, part_of: dict[int, int]) -> tuple[tuple[Point, tuple[int, ...]], ...]:
        """The nodes, each with the parts that have a corner there; given the part of each chain."""
        meeting: list[set[int]] = [set() for _ in self.nodes]
        for half, (start, _) in enumerate(self.ends):
            meeting[start].add(part_of[half])
        return tuple((node, tuple(sorted(parts))) for node, parts in zip(self.nodes, meeting, strict=True))

    def faces(self) -> list[list[int]]:
        """The inner faces, each a list of chains in counter-clockwise order."""
        leaving = defaultdict(list)
        for half, (start, _) in enumerate(self.ends):
            leaving[start].append(half)
        unused, faces = set(range(len(self.chains))), []
        while unused:
            half = first = min(unused)
            face = []
            while half in unused:
                unused.discard(half)
                face.append(half)
                half = self._next(half, leaving[self.ends[half][1]])
            if half != first:
                raise StepError(
                    f'A slash line on "{self.piece_name}" runs along an edge or another line; '
                    "draw it so that they meet at points only."
                )
            faces.append(face)
        return faces

    def _next(self, half: int, choices: list[int]) -> int:
        """Of the chains leaving a node, the first met when turning clockwise from the way back."""
        before = self.chains[half][-2] - self.chains[half][-1]
        back = math.atan2(before[1], before[0])

        def clockwise(choice: int) -> float:
            step = self.chains[choice][1] - self.chains[choice][0]
            turn = (back - math.atan2(step[1], step[0])) % math.tau
            is_way_back = choice == self.twins.get(half) or turn < SAME_DIRECTION_RAD
            return math.tau if is_way_back else turn

        return min(choices, key=clockwise)
