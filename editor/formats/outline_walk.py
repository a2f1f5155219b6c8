"""Closed outlines in a net of joined paths, and the lines left over.

Ticks and legs that end on an outline make nodes where three or more paths meet. What dangles is set
aside first; of the rest the walk around the outside of each connected part is its outline. Whatever
lies inside (both legs of a dart over its drawn mouth, say) is left over as open lines, or closes again
on a next round (a cut-out that touches the outline).

A walk is a list of entries: entry 2k goes along path k, entry 2k + 1 against it. A path's entry is also
the number of the end it starts from.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from editor.formats.end_joining import Indices
from geometry.affine import Points

Walk = list[int]

MOST_ROUNDS = 64
"""Cap on outlines inside outlines that hang together."""

STRAIGHT_ON = math.cos(math.radians(45))
"""Where several open lines meet, two that bend less than this run through."""


def walked_points(paths: Sequence[Points], walk: Walk, *, closed: bool) -> Points:
    """Return the points along a walk; two ends that meet become the point midway between them."""
    runs = [paths[entry >> 1][:: -1 if entry & 1 else 1] for entry in walk]
    firsts = np.array([run[0] for run in runs])
    lasts = np.array([run[-1] for run in runs])
    meeting = (firsts + np.roll(lasts, 1, axis=0)) / 2
    if not closed:
        meeting[0] = firsts[0]
    inner = [part for meet, run in zip(meeting, runs, strict=True) for part in (meet.reshape(1, 2), run[1:-1])]
    return np.concatenate(inner if closed else [*inner, runs[-1][-1:]])


def signed_area(points: Points) -> float:
    """Return the area of a closed run of points, positive counter-clockwise."""
    x, y = (points - points.mean(axis=0)).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


@dataclass(slots=True)
class Net:
    """Paths, and the node of each end."""

    paths: Sequence[Points]
    node_of: list[int]

    def ends_at(self, members: Iterable[int]) -> dict[int, list[int]]:
        """Return the ends of these paths by node."""
        ends: dict[int, list[int]] = {}
        for path in sorted(members):
            for end in (2 * path, 2 * path + 1):
                ends.setdefault(self.node_of[end], []).append(end)
        return ends

    def inward(self, end: int) -> Points:
        """Return the unit direction from an end into its path."""
        path = self.paths[end >> 1][:: -1 if end & 1 else 1]
        step: Points = path[1] - path[0]
        length = float(np.hypot(*step))
        return step / length if length > 0 else step


def closed_walks(paths: Sequence[Points], nodes: Indices) -> tuple[list[Walk], list[Walk]]:
    """Return the walks that close, and those along the paths left over."""
    net = Net(paths, nodes.tolist())
    alive = {path for path in range(len(paths)) if not _is_dust(net, path)}
    closed: list[Walk] = []
    for _ in range(MOST_ROUNDS):
        _part_crossings(net, alive)
        found = _outlines(net, _without_dangling(net, alive))
        if not found:
            break
        closed += found
        alive -= {entry >> 1 for walk in found for entry in walk}
    taken = {net.node_of[entry] for walk in closed for entry in walk}
    return closed, _open_walks(net, alive, taken)


def _part_crossings(net: Net, members: set[int]) -> None:
    """Give each of two lines that cross where both happen to have a joint a node of its own there.

    Only where one of them dangles: outlines that touch in a point hang together on all sides, and stay two.
    """
    core = _without_dangling(net, members)
    following = max(net.node_of, default=0) + 1
    for there in net.ends_at(members).values():
        paths = {end >> 1 for end in there}
        if len(there) != 4 or len(paths) != 4 or paths <= core:
            continue
        partner = _through(net, there)
        if len(partner) == 4:
            for end in (there[0], partner[there[0]]):
                net.node_of[end] = following
            following += 1


def _is_dust(net: Net, path: int) -> bool:
    """Tell whether a path is a single step from a place to the same place."""
    return net.node_of[2 * path] == net.node_of[2 * path + 1] and len(net.paths[path]) < 3


def _without_dangling(net: Net, members: set[int]) -> set[int]:
    """Return the paths that remain when, again and again, those with a lonely end are taken away."""
    ends = net.ends_at(members)
    core = set(members)
    lonely = [node for node, there in ends.items() if len(there) == 1]
    while lonely:
        for end in ends[lonely.pop()]:
            core.discard(end >> 1)
            far = net.node_of[end ^ 1]
            ends[far].remove(end ^ 1)
            if len(ends[far]) == 1:
                lonely.append(far)
    return core


def _outlines(net: Net, core: set[int]) -> list[Walk]:
    """Return plain rings, and the outer walk of every part where paths branch."""
    stretches, rings = _stretches(net, core)
    if stretches:
        rings += _Faces(net, stretches).outer_rings()
    return rings


def _stretches(net: Net, members: set[int]) -> tuple[list[Walk], list[Walk]]:
    """Return the walks from one branching node to the next, and the rings without any."""
    ends = net.ends_at(members)
    unused = set(members)
    starts = [end for there in ends.values() if len(there) != 2 for end in there]
    stretches = [_follow(net, ends, start, unused) for start in starts if start >> 1 in unused]
    rings = [_follow(net, ends, 2 * path, unused) for path in sorted(members) if path in unused]
    return stretches, rings


def _follow(net: Net, ends: dict[int, list[int]], start: int, unused: set[int]) -> Walk:
    """Walk on from an end until a node where not exactly two ends meet, or back at the first path."""
    walk: Walk = []
    entry = start
    while entry >> 1 in unused:
        unused.discard(entry >> 1)
        walk.append(entry)
        there = ends[net.node_of[entry ^ 1]]
        if len(there) != 2:
            break
        entry = there[0] if there[1] == entry ^ 1 else there[1]
    return walk


class _Faces:
    """The areas a branching net divides the plane into; side 2s goes along stretch s, 2s + 1 against it."""

    def __init__(self, net: Net, stretches: list[Walk]) -> None:
        self.net = net
        self.sides = [side for walk in stretches for side in (walk, [entry ^ 1 for entry in reversed(walk)])]
        self.points = [walked_points(net.paths, walk, closed=False) for walk in self.sides]
        self.origin = [net.node_of[walk[0]] for walk in self.sides]
        self.next = self._turns()

    def outer_rings(self) -> list[Walk]:
        """Return the outlines of each connected part, parts that only a bridge holds together apart."""
        outer: dict[int, tuple[float, list[int]]] = {}
        part_of = self._parts()
        for face in self._walks():
            part = part_of[self.origin[face[0]]]
            area = signed_area(np.concatenate([self.points[side] for side in face]))
            outer[part] = min(outer.get(part, (0.0, [])), (area, face))
        rings = [ring for _, face in outer.values() if face for ring in self._simple(face)]
        return [list(itertools.chain.from_iterable(self.sides[side] for side in ring)) for ring in rings]

    def _turns(self) -> list[int]:
        """Return for every side the one that keeps the same area on its left hand."""
        around: dict[int, list[tuple[float, int]]] = {}
        for side, origin in enumerate(self.origin):
            around.setdefault(origin, []).append((self._bearing(side), side))
        turns = [0] * len(self.sides)
        for there in around.values():
            order = [side for _, side in sorted(there)]
            for before, side in zip([order[-1], *order], order, strict=False):
                turns[side ^ 1] = before
        return turns

    def _bearing(self, side: int) -> float:
        """Return the direction a side leaves its node in, seen a little way along so that a trace's shake is small."""
        points = self.points[side]
        along = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
        reach = min(2.0, along[-1] / 2)
        x, y = np.interp(reach, along, points[:, 0]), np.interp(reach, along, points[:, 1])
        return math.atan2(y - points[0, 1], x - points[0, 0])

    def _walks(self) -> Iterator[list[int]]:
        unseen = set(range(len(self.sides)))
        for start in range(len(self.sides)):
            face = []
            side = start
            while side in unseen:
                unseen.discard(side)
                face.append(side)
                side = self.next[side]
            if face:
                yield face

    def _parts(self) -> dict[int, int]:
        part_of = {node: node for node in self.origin}

        def top(node: int) -> int:
            while part_of[node] != node:
                part_of[node] = part_of[part_of[node]]
                node = part_of[node]
            return node

        for side in range(0, len(self.sides), 2):
            part_of[top(self.origin[side])] = top(self.origin[side + 1])
        return {node: top(node) for node in part_of}

    def _simple(self, face: list[int]) -> list[list[int]]:
        """Split a walk wherever it comes back to a node; there and back along a bridge is no ring."""
        rings: list[list[int]] = []
        stack: list[int] = []
        for side in [*face, face[0]]:
            nodes = [self.origin[earlier] for earlier in stack]
            if self.origin[side] in nodes:
                at = nodes.index(self.origin[side])
                rings.append(stack[at:])
                del stack[at:]
            stack.append(side)
        return [ring for ring in rings if not (len(ring) == 2 and ring[0] == ring[1] ^ 1)]


# ---- what is left over ----


def _open_walks(net: Net, members: set[int], on_outlines: set[int]) -> list[Walk]:
    """Chain the left-over paths; a line ends where it meets an outline."""
    partner: dict[int, int] = {}
    for node, there in net.ends_at(members).items():
        if node not in on_outlines:
            partner |= _through(net, there)
    unused = set(members)
    starts = [end for path in sorted(members) for end in (2 * path, 2 * path + 1) if end not in partner]
    return [_run(start, partner, unused) for start in starts if start >> 1 in unused]


def _through(net: Net, there: list[int]) -> dict[int, int]:
    """Pair the ends at a node: two belong together, of more only those that run nearly straight on."""
    pairs = itertools.combinations(there, 2)
    ranked = sorted((float(net.inward(one) @ net.inward(other)), one, other) for one, other in pairs)
    partner: dict[int, int] = {}
    for bend, one, other in ranked:
        if not {one, other} & partner.keys() and (len(there) == 2 or bend < -STRAIGHT_ON):
            partner |= {one: other, other: one}
    return partner


def _run(start: int, partner: dict[int, int], unused: set[int]) -> Walk:
    walk: Walk = []
    entry: int | None = start
    while entry is not None and entry >> 1 in unused:
        unused.discard(entry >> 1)
        walk.append(entry)
        entry = partner.get(entry ^ 1)
    return walk
