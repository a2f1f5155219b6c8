"""Walking a seam: one side laid along the other on the stitching line, darts folded out, and what lands where.

Both sides are walked from the same end. A station is a sewn length: what a tape would read with the darts closed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import partial
from typing import NamedTuple

from geometry.affine import Point, midpoint
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Notch
from geometry.model.pattern import Pattern, Seam, SeamSide, Stretch
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM


class StopKind(StrEnum):
    """What one stops at when walking a seam."""

    NOTCH = "notch"
    DART = "dart"
    JOIN = "join"


@dataclass(frozen=True, slots=True)
class Stop:
    """Something on one side of a seam.

    Attributes:
        kind: A notch, a dart (both legs meet there once it is folded) or the join of two edges of this side.
        piece: Name of its piece.
        edge: Id of its edge.
        id: Id of the notch or dart; "" for a join.
        partner: Word it shares with what it must meet; for a join the role of the seam that ends there.
        from_start_mm: Sewn length from the start of the seam.
        from_end_mm: Sewn length from its end.
        place: Where it is on its piece; for a dart the middle of its mouth.
    """

    kind: StopKind
    piece: str
    edge: str
    id: str
    partner: str
    from_start_mm: float
    from_end_mm: float
    place: Point


Pair = tuple[Stop, Stop]


class _Mark(NamedTuple):
    """A stop as its edge tells it."""

    at_mm: float
    kind: StopKind
    id: str
    partner: str
    place: Point


@dataclass(frozen=True, slots=True)
class Meeting:
    """A stop of the first side and its partner on the second; ``None`` where a side has nothing there."""

    first: Stop | None
    second: Stop | None

    @property
    def offset_from_start_mm(self) -> float | None:
        """How much further the first is from the start of the seam than its partner."""
        if self.first is None or self.second is None:
            return None
        return self.first.from_start_mm - self.second.from_start_mm

    @property
    def offset_from_end_mm(self) -> float | None:
        """How much further the first is from the end of the seam than its partner."""
        if self.first is None or self.second is None:
            return None
        return self.first.from_end_mm - self.second.from_end_mm

    @property
    def stop(self) -> Stop:
        """The stop of the first side, else that of the second."""
        stop = self.first or self.second
        assert stop is not None
        return stop


@dataclass(frozen=True, slots=True)
class Walk:
    """A seam walked.

    Attributes:
        seam: The seam.
        first_mm: Sewn length of its first side.
        second_mm: Sewn length of its second side.
        start_at: What the seam starts from, for example "centre front"; an edge's role or id.
        end_at: What it runs to.
        meetings: All stops of both sides with their partners, from start to end.
    """

    seam: Seam
    first_mm: float
    second_mm: float
    start_at: str
    end_at: str
    meetings: tuple[Meeting, ...]

    @property
    def ease_mm(self) -> float:
        """By how much the first side is longer than the second."""
        return self.first_mm - self.second_mm

    def miss_mm(self, meeting: Meeting) -> float:
        """How far the first lands beyond its partner (negative: before it), wherever the seam's ease is put.

        From the start the first may land up to the whole ease beyond its partner: then all the ease lies before it.
        0 if one of the two is missing.
        """
        offset_mm = meeting.offset_from_start_mm
        if offset_mm is None:
            return 0.0
        return offset_mm - min(max(offset_mm, min(0.0, self.ease_mm)), max(0.0, self.ease_mm))


def walk(pattern: Pattern, seam: Seam, *, reach_mm: float = DEFAULT_LIMITS.notch_reach_mm) -> Walk:
    """The table of a seam: total lengths, and for each notch and dart of either side where its partner lands.

    Partners are found by the word that notches share, in order where several share it; then by nearness within
    ``reach_mm``, a notch before the join of two edges. Darts are paired in order, or the nearest ones where the
    two sides have different numbers of darts. A notch that marks a dart's leg belongs to the dart and is left out,
    and so is one where the seam starts or stops. Of an edge that is sewn in part only that stretch is walked.

    Raises:
        MissingPartError: a piece or edge of the seam, or a notch where it starts or stops, is not in the pattern.
    """
    one, other = seam.sides
    first, second = tuple(_stops(pattern, one)), tuple(_stops(pattern, other))
    pairs = [
        *_paired(_of_kind(first, StopKind.DART), _of_kind(second, StopKind.DART)),
        *_notch_pairs(first, second, reach_mm),
    ]
    met = {id(stop) for pair in pairs for stop in pair}
    meetings = [
        *(Meeting(ours, theirs) for ours, theirs in pairs),
        *(Meeting(stop, None) for stop in first if id(stop) not in met),
        *(Meeting(None, stop) for stop in second if id(stop) not in met),
    ]
    return Walk(
        seam,
        side_mm(pattern, one),
        side_mm(pattern, other),
        _end_words(pattern, one, at_end=False),
        _end_words(pattern, one, at_end=True),
        tuple(sorted(meetings, key=lambda meeting: meeting.stop.from_start_mm)),
    )


def side_mm(pattern: Pattern, side: SeamSide) -> float:
    """Sewn length of one side of a seam; ``MissingPartError`` if a piece, an edge or a notch it ends at is lost."""
    parts = zip(side.refs, side.stretches, strict=True)
    return sum(stretch.sewn_mm(pattern.piece(ref.piece), ref.edge) for ref, stretch in parts)


def neighbours(piece: Piece, edge_id: str) -> tuple[Edge, Edge]:
    """The edges before and after one in the ring of its piece."""
    at = piece.edges.index(piece.edge(edge_id))
    return piece.edges[at - 1], piece.edges[(at + 1) % len(piece.edges)]


def edge_words(edge: Edge) -> str:
    """What people call an edge: its role, else its id."""
    return edge.id if edge.role is EdgeRole.OTHER else edge.role.value


def place_words(piece: Piece, edge_id: str, stretch: Stretch, *, at_end: bool) -> str:
    """What tells an end of a stretch: the edge met at its corner, the notch there, or how far along the edge it is."""
    place = stretch.end if at_end else stretch.start
    if place.notch:
        return place.notch
    if place.share != float(at_end):
        return f"{place.share:.0%} of the {edge_id}"
    return edge_words(neighbours(piece, edge_id)[1 if at_end else 0])


def _stops(pattern: Pattern, side: SeamSide) -> Iterator[Stop]:
    """The stops of one side in the order met, joins included."""
    total_mm, walked_mm = side_mm(pattern, side), 0.0
    for index, (ref, is_backward, stretch) in enumerate(side.parts):
        piece = pattern.piece(ref.piece)
        marks = list(_marks(piece, ref.edge, stretch))
        if index:
            marks.append(_join(piece, ref.edge, is_backward, stretch))
        marks.sort(key=lambda mark: mark.at_mm, reverse=is_backward)
        sewn_mm = stretch.sewn_mm(piece, ref.edge)
        start_mm = piece.sewn_station_mm(ref.edge, stretch.bounds_mm(piece, ref.edge)[0])
        for mark in marks:
            station_mm = piece.sewn_station_mm(ref.edge, mark.at_mm) - start_mm
            from_start_mm = walked_mm + (sewn_mm - station_mm if is_backward else station_mm)
            from_end_mm = total_mm - from_start_mm
            yield Stop(mark.kind, ref.piece, ref.edge, mark.id, mark.partner, from_start_mm, from_end_mm, mark.place)
        walked_mm += sewn_mm


def _marks(piece: Piece, edge_id: str, stretch: Stretch) -> Iterator[_Mark]:
    """The darts and notches of a stretch of an edge, but not the notches it ends at."""
    low_mm, high_mm = stretch.bounds_mm(piece, edge_id)
    ends = {stretch.start.notch, stretch.end.notch}
    for dart in piece.darts_on(edge_id):
        if stretch.is_whole or (low_mm - SAME_POINT_MM <= dart.from_mm and dart.to_mm <= high_mm + SAME_POINT_MM):
            yield _Mark(dart.from_mm, StopKind.DART, dart.id, "", midpoint(*piece.mouth(dart)))
    for notch in piece.notches_on(edge_id):
        is_sewn = stretch.is_whole or (low_mm < notch.at_mm < high_mm and notch.id not in ends)
        if is_sewn and not _marks_a_dart(piece, notch):
            yield _Mark(notch.at_mm, StopKind.NOTCH, notch.id, notch.partner.strip().lower(), piece.notch_point(notch))


def _join(piece: Piece, edge_id: str, is_backward: bool, stretch: Stretch) -> _Mark:
    """The join with the edge before it on the same side, named after the seam that ends there."""
    low_mm, high_mm = stretch.bounds_mm(piece, edge_id)
    at_mm = high_mm if is_backward else low_mm
    words = place_words(piece, edge_id, stretch, at_end=is_backward)
    return _Mark(at_mm, StopKind.JOIN, "", words, piece.edge(edge_id).point_at(at_mm))


def _marks_a_dart(piece: Piece, notch: Notch) -> bool:
    """Whether a notch lies in a dart's mouth or at one of its ends."""
    return any(
        dart.from_mm - ON_EDGE_MM <= notch.at_mm <= dart.to_mm + ON_EDGE_MM for dart in piece.darts_on(notch.edge)
    )


def _paired(first: list[Stop], second: list[Stop]) -> list[Pair]:
    """In order where both sides have as many, else the nearest ones."""
    return list(zip(first, second, strict=True)) if len(first) == len(second) else _nearest_pairs(first, second)


def _notch_pairs(first: tuple[Stop, ...], second: tuple[Stop, ...], reach_mm: float) -> Iterator[Pair]:
    """Pairs by word, then by nearness; a notch may also meet a join of the other side."""
    ours, theirs = _of_kind(first, StopKind.NOTCH), _of_kind(second, StopKind.NOTCH)
    our_joins, their_joins = _of_kind(first, StopKind.JOIN), _of_kind(second, StopKind.JOIN)
    for pairs in (_word_pairs, partial(_nearest_pairs, reach_mm=reach_mm)):
        for left, right in ((ours, theirs), (ours, their_joins), (our_joins, theirs)):
            for pair in pairs(left, right):
                left.remove(pair[0])
                right.remove(pair[1])
                yield pair


def _of_kind(stops: tuple[Stop, ...], kind: StopKind) -> list[Stop]:
    return [stop for stop in stops if stop.kind is kind]


def _word_pairs(first: list[Stop], second: list[Stop]) -> list[Pair]:
    """Stops that share a word: in order where each side has as many of them, else the nearest ones."""
    found: list[Pair] = []
    for word in dict.fromkeys(stop.partner for stop in first if stop.partner):
        ours = [stop for stop in first if stop.partner == word]
        theirs = [stop for stop in second if stop.partner == word]
        found += _paired(ours, theirs)
    return found


def _nearest_pairs(first: list[Stop], second: list[Stop], reach_mm: float = math.inf) -> list[Pair]:
    """The nearest two first, then the nearest of the rest, as far as ``reach_mm``; the nearer end counts."""
    gaps = sorted(
        (min(abs(a.from_start_mm - b.from_start_mm), abs(a.from_end_mm - b.from_end_mm)), i, j)
        for i, a in enumerate(first)
        for j, b in enumerate(second)
    )
    found: list[Pair] = []
    taken_first: set[int] = set()
    taken_second: set[int] = set()
    for gap_mm, i, j in gaps:
        if gap_mm <= reach_mm and i not in taken_first and j not in taken_second:
            taken_first.add(i)
            taken_second.add(j)
            found.append((first[i], second[j]))
    return found


def _end_words(pattern: Pattern, side: SeamSide, *, at_end: bool) -> str:
    """What a side starts from, or runs to."""
    ref, is_backward, stretch = side.parts[-1 if at_end else 0]
    return place_words(pattern.piece(ref.piece), ref.edge, stretch, at_end=at_end is not is_backward)
