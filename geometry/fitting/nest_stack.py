"""A nest laid up for blending: its pieces in all sizes, and its seams."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np

from geometry.checks.pairing import seams_of
from geometry.checks.walking import StopKind, Walk, side_mm, walk
from geometry.fitting.inside_stack import InsideStack, inside_stack
from geometry.fitting.matching_moves import Moves, moves_of
from geometry.fitting.piece_stack import EdgeStack, Floats, PieceStack, piece_stack
from geometry.identity import Same
from geometry.model.pattern import EdgeRef, Nest, Pattern, Seam, SeamSide, Stretch
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

_KEPT = 4
"""How many nests are kept laid up: a project has one, a comparison two."""

Place = tuple[int, int]
"""Number of a piece and of an edge in its ring; as a corner, where that edge starts."""


@dataclass(frozen=True, slots=True, eq=False)
class SideStack:
    """One side of a seam.

    Attributes:
        edges: Its edges in the order walked.
        backward: Whether each is walked backward.
        stretches: How much of each is sewn.
        spans: From where to where that is in the sample size, as sewn shares of the edge.
    """

    edges: tuple[Place, ...]
    backward: tuple[bool, ...]
    stretches: tuple[Stretch, ...]
    spans: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Stop:
    """A notch on one side of a seam, or the join before one of its edges.

    Attributes:
        number: Which edge of the side it belongs to.
        notch: Id of the notch, "" for the join before that edge.
    """

    number: int
    notch: str


@dataclass(frozen=True, slots=True, eq=False)
class Mates:
    """Two stops that meet, and by how much the first is further along the seam in each size, shape (sizes,)."""

    first: Stop
    second: Stop
    ahead_mm: Floats


@dataclass(frozen=True, slots=True, eq=False)
class SeamStack:
    """One seam in all sizes.

    Attributes:
        seam: The seam.
        first: Its first side.
        second: Its second side.
        ease_mm: By how much the first is longer than the second in each size, shape (sizes,).
        stops: Shares of the first side at which it meets shares of the second (second row), in the sample size.
        mates: The notches that meet.
    """

    seam: Seam
    first: SideStack
    second: SideStack
    ease_mm: Floats
    stops: Floats
    mates: tuple[Mates, ...]


@dataclass(frozen=True, slots=True, eq=False)
class NestStack:
    """A nest laid up.

    Attributes:
        nest: The nest.
        sample: The size that all others are laid on.
        pieces: Its pieces.
        insides: What is marked inside each of them.
        moves: What each of them may give way by so that its seams match.
        seams: Its seams, those of a piece with itself left out, and those that end at a notch which some size lacks.
        joined: Corners that are one place on the garment.
        partners: For edges sewn one to one, their side and the other side of each such seam.
    """

    nest: Nest
    sample: Pattern
    pieces: tuple[PieceStack, ...]
    insides: tuple[InsideStack, ...]
    moves: tuple[Moves, ...]
    seams: tuple[SeamStack, ...]
    joined: tuple[frozenset[Place], ...]
    partners: dict[Place, tuple[tuple[SideStack, SideStack], ...]]

    def edge(self, place: Place) -> EdgeStack:
        """An edge by the numbers of its piece and itself."""
        return self.pieces[place[0]].edges[place[1]]


def stacked(nest: Nest) -> NestStack:
    """The nest laid up; remembered for the nests used last.

    Raises:
        PatternError: the sizes do not have the same pieces, edges and darts.
    """
    return _stacked(Same(nest))


@lru_cache(maxsize=_KEPT)
def _stacked(key: Same[Nest]) -> NestStack:
    nest = key.value
    sample = nest.sample if nest.sample_size in nest.sizes else nest.patterns[len(nest.patterns) // 2]
    pieces = tuple(piece_stack(piece, nest, sample) for piece in sample.pieces)
    seams = seams_of(sample)
    across = (
        seam for seam in seams if set(seam.first) != set(seam.second) and _ends_in_every_size(seam, sample, pieces)
    )
    own = tuple(_seam_stack(seam, nest, sample, pieces) for seam in across)
    insides = tuple(inside_stack(piece) for piece in pieces)
    moves = tuple(moves_of(piece) for piece in pieces)
    return NestStack(nest, sample, pieces, insides, moves, own, _joined(own, pieces), _partners(own))


def _seam_stack(seam: Seam, nest: Nest, sample: Pattern, pieces: tuple[PieceStack, ...]) -> SeamStack:
    walked = walk(sample, seam)
    one, other = seam.sides
    ease = np.array([side_mm(pattern, one) - side_mm(pattern, other) for pattern in nest.patterns])
    first, second = (_side_stack(side, sample) for side in seam.sides)
    return SeamStack(seam, first, second, ease, _stops(walked), tuple(_mates(walked, (first, second), pieces)))


def _side_stack(side: SeamSide, sample: Pattern) -> SideStack:
    spans = tuple(sewn_span(sample.piece(ref.piece), ref.edge, stretch) for ref, _, stretch in side.parts)
    return SideStack(tuple(_place(ref, sample) for ref in side.refs), side.backward, side.stretches, spans)


def sewn_span(piece: Piece, edge_id: str, stretch: Stretch) -> tuple[float, float]:
    """From where to where an edge is sewn, as shares of its sewn length."""
    if stretch.is_whole:
        return 0.0, 1.0
    sewn_mm = max(piece.sewn_length_mm(edge_id), SAME_POINT_MM)
    start, end = (piece.sewn_station_mm(edge_id, at_mm) / sewn_mm for at_mm in stretch.bounds_mm(piece, edge_id))
    return start, end


def _ends_in_every_size(seam: Seam, sample: Pattern, pieces: tuple[PieceStack, ...]) -> bool:
    """Whether every size has the notches at which a seam starts and stops."""
    for side in seam.sides:
        for ref, _, stretch in side.parts:
            piece, edge = _place(ref, sample)
            known = {"", *(name for name, _ in pieces[piece].edges[edge].notches)}
            if not {stretch.start.notch, stretch.end.notch} <= known:
                return False
    return True


def _mates(walked: Walk, sides: tuple[SideStack, SideStack], pieces: tuple[PieceStack, ...]) -> Iterator[Mates]:
    """The notches that meet a notch or a join, where every size has them."""
    refs = walked.seam.first, walked.seam.second
    for meeting in walked.meetings:
        met = meeting.first, meeting.second
        if met[0] is None or met[1] is None or met[0].kind is StopKind.DART:
            continue
        first, second = (
            Stop(own.index(EdgeRef(each.piece, each.edge)), each.id)
            for own, each in zip(refs, (met[0], met[1]), strict=True)
        )
        stations = [_stations_mm(stop, side, pieces) for stop, side in zip((first, second), sides, strict=True)]
        if stations[0] is not None and stations[1] is not None:
            yield Mates(first, second, stations[0] - stations[1])


def _stations_mm(stop: Stop, side: SideStack, pieces: tuple[PieceStack, ...]) -> Floats | None:
    """How far a stop is from the start of its side in each size; ``None`` for a notch that some size lacks."""
    before: Floats = sum(
        (_sewn_mm(side, number, pieces) for number in range(stop.number)), start=np.zeros(len(pieces[0].sizes))
    )
    if not stop.notch:
        return before
    piece, edge = (stack := pieces[side.edges[stop.number][0]]), stack.edges[side.edges[stop.number][1]]
    share = dict(edge.notches).get(stop.notch)
    if share is None:
        return None
    spans = np.array([sewn_span(size, edge.edge.id, side.stretches[stop.number]) for size in piece.sizes])
    walked: Floats = spans[:, 1] - share if side.backward[stop.number] else share - spans[:, 0]
    return before + edge.sewn_mm * walked


def _sewn_mm(side: SideStack, number: int, pieces: tuple[PieceStack, ...]) -> Floats:
    """How much of an edge of a side is sewn in each size."""
    piece, edge = side.edges[number]
    stack, stretch = pieces[piece], side.stretches[number]
    return np.array([stretch.sewn_mm(size, stack.edges[edge].edge.id) for size in stack.sizes])


def _place(ref: EdgeRef, sample: Pattern) -> Place:
    names = [piece.name for piece in sample.pieces]
    piece = sample.piece(ref.piece)
    return names.index(ref.piece), piece.edges.index(piece.edge(ref.edge))


def _stops(walked: Walk) -> Floats:
    """Where both sides meet, ends included, as shares of either; what would run backward is left out."""
    rows = [(0.0, 0.0)]
    for meeting in walked.meetings:
        if meeting.first is not None and meeting.second is not None:
            row = meeting.first.from_start_mm / walked.first_mm, meeting.second.from_start_mm / walked.second_mm
            if rows[-1][0] < row[0] < 1.0 and rows[-1][1] < row[1] < 1.0:
                rows.append(row)
    return np.array([*rows, (1.0, 1.0)]).T


def _joined(seams: tuple[SeamStack, ...], pieces: tuple[PieceStack, ...]) -> tuple[frozenset[Place], ...]:
    """Corners that seams bring together: both starts, both ends, and the edges that follow each other on a side."""
    groups: list[set[Place]] = []
    for seam in seams:
        first, second = (_corners(side, pieces) for side in (seam.first, seam.second))
        meeting = [(first[0][0], second[0][0]), (first[-1][1], second[-1][1])]
        for side in (first, second):
            meeting += [(before[1], after[0]) for before, after in pairwise(side)]
        groups += [{one, other} for one, other in meeting if one is not None and other is not None]
    merged: list[set[Place]] = []
    for group in groups:
        apart = [other for other in merged if not other & group]
        merged = [*apart, group.union(*(other for other in merged if other & group))]
    return tuple(frozenset(group) for group in merged)


def _partners(seams: tuple[SeamStack, ...]) -> dict[Place, tuple[tuple[SideStack, SideStack], ...]]:
    found: dict[Place, tuple[tuple[SideStack, SideStack], ...]] = {}
    for seam in seams:
        if len(seam.first.edges) == len(seam.second.edges) == 1:
            for ours, theirs in ((seam.first, seam.second), (seam.second, seam.first)):
                found[ours.edges[0]] = (*found.get(ours.edges[0], ()), (ours, theirs))
    return found


def _corners(side: SideStack, pieces: tuple[PieceStack, ...]) -> list[tuple[Place | None, Place | None]]:
    """The corners at which each edge of a side is entered and left; ``None`` where it is sewn from or up to a place."""
    found: list[tuple[Place | None, Place | None]] = []
    for (piece, edge), backward, stretch in zip(side.edges, side.backward, side.stretches, strict=True):
        start = (piece, edge) if stretch.start.at_corner(at_end=False) else None
        end = (piece, (edge + 1) % len(pieces[piece].edges)) if stretch.end.at_corner(at_end=True) else None
        found.append((end, start) if backward else (start, end))
    return found
