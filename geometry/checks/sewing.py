"""The seam between edges that a person says are sewn together: how it runs, what kind it is, and why it is likely."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise, product

from geometry.affine import distance_mm
from geometry.checks.agreement import expected_first_mm
from geometry.checks.limits import DEFAULT_LIMITS, Band, Limits
from geometry.checks.pairing import cap_band
from geometry.checks.walking import Meeting, StopKind, Walk, edge_words, neighbours, walk
from geometry.errors import PatternError
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import half_in, half_of, layer_of
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamKind
from geometry.tolerance import ON_EDGE_MM

Refs = tuple[EdgeRef, ...]
Ways = tuple[bool, ...]

_MOST_EDGES = 6
"""A side of more edges than this is taken to run as it was named, for every way is tried out."""

_NO_JOIN = 10.0
_OTHER_ENDS = 3.0
_RINGS_ALIKE = 1.0
"""What speaks against a way to walk a seam, heaviest first: edges of a side that do not follow each other; sides that
start or end at different things; two drawn rings that run alike where one would be turned over to be sewn."""


def seam_of(pattern: Pattern, first: Refs, second: Refs, *, limits: Limits = DEFAULT_LIMITS) -> Seam:
    """The seam that sews two sides together, both walked from the same end.

    How each edge is walked is told from what its ends meet, then from notches, then from the drawing: pieces drawn
    face up are sewn with their rings running against each other.

    Args:
        pattern: The pattern.
        first: Edges of one side in the order met along the seam, or in the opposite order.
        second: Edges of the other side.
        limits: Holds the ease bands.

    Raises:
        PatternError: a side is empty, or an edge is on both.
        MissingPartError: a piece or edge is not in the pattern.
    """
    if not first or not second:
        raise PatternError("A seam needs an edge on either side; click one more edge.", code="seam-one-sided")
    if set(first) & set(second) and first != second:
        raise PatternError("An edge cannot be on both sides of a seam; click another one.", code="seam-on-itself")
    kind, band = _kind(pattern, first, second, limits)
    if kind is SeamKind.ARMHOLE and not _has_role(pattern, first, EdgeRole.CAP):
        first, second = second, first
    if kind is SeamKind.FACING and not _is_facing(pattern, first):
        first, second = second, first
    if kind is SeamKind.SHOULDER and "front" in first[0].piece and "back" in second[0].piece:
        first, second = second, first
    tried = [
        Seam(_name(ours, theirs), ours, theirs, our_ways, their_ways, kind, band)
        for (ours, our_ways), (theirs, their_ways) in product(_walked(first), _walked(second))
    ]
    return min(tried, key=lambda seam: _against(pattern, seam, limits))


def turned(seam: Seam) -> Seam:
    """The same edges with the second side walked from its other end."""
    ways = tuple(not way for way in reversed(seam.second_backward))
    stretches = seam.second_stretches[::-1]
    return replace(seam, second=seam.second[::-1], second_backward=ways, second_stretches=stretches)


def reasons(walked: Walk) -> tuple[str, ...]:
    """Why two sides are taken to be sewn together, in short phrases: names, lengths, notches."""
    seam = walked.seam
    found = []
    if walked.start_at and walked.end_at:
        found.append(f"both run from {walked.start_at} to {walked.end_at}")
    off_mm = abs(walked.first_mm - expected_first_mm(walked))
    if seam.ease_mm[1] > 0 and off_mm <= ON_EDGE_MM:
        found.append(f"the ease of {walked.ease_mm:.1f} mm is in its band")
    elif off_mm < 0.05:
        found.append("both are equally long")
    elif seam.ease_mm[1] > 0:
        found.append(f"the ease of {walked.ease_mm:.1f} mm is {off_mm:.1f} mm outside its band")
    else:
        found.append(f"the lengths are {off_mm:.1f} mm apart")
    for kind, words in ((StopKind.NOTCH, "notches"), (StopKind.DART, "darts")):
        marks = [meeting for meeting in walked.meetings if kind in _kinds(meeting)]
        paired = [meeting for meeting in marks if meeting.first and meeting.second]
        if paired or (marks and kind is StopKind.NOTCH):
            found.append(f"{words} that meet: {len(paired)} of {len(marks)}")
    return tuple(found)


def _kinds(meeting: Meeting) -> set[StopKind]:
    return {stop.kind for stop in (meeting.first, meeting.second) if stop}


def _walked(refs: Refs) -> list[tuple[Refs, Ways]]:
    """Every way to walk a side."""
    if len(refs) > _MOST_EDGES:
        return [(refs, (False,) * len(refs))]
    orders = [refs, refs[::-1]] if len(refs) > 1 else [refs]
    return [(order, ways) for order in orders for ways in product((False, True), repeat=len(refs))]


def _against(pattern: Pattern, seam: Seam, limits: Limits) -> float:
    """How much speaks against a way to walk a seam; first ways are kept where nothing does."""
    walked = walk(pattern, seam, reach_mm=limits.notch_reach_mm)
    score = sum(_NO_JOIN for side in _sides(seam) for pair in _joins(side) if not _is_joined(pattern, *pair))
    (our_start, our_end), (their_start, their_end) = (_ends(pattern, side) for side in _sides(seam))
    score += _OTHER_ENDS * ((our_start != their_start) + (our_end != their_end))
    score += _OTHER_ENDS * _other_halves(pattern, *_sides(seam))
    score += _RINGS_ALIKE * (seam.first_backward[0] == seam.second_backward[0])
    score += 0.5 * sum(walk_backward for walk_backward in seam.first_backward[:1])
    for meeting in walked.meetings:
        start, end = meeting.offset_from_start_mm, meeting.offset_from_end_mm
        missed_mm = limits.notch_reach_mm if start is None or end is None else min(abs(start), abs(end))
        score += missed_mm / limits.notch_reach_mm
    return score


Side = tuple[tuple[EdgeRef, bool], ...]


def _sides(seam: Seam) -> tuple[Side, Side]:
    return (
        tuple(zip(seam.first, seam.first_backward, strict=True)),
        tuple(zip(seam.second, seam.second_backward, strict=True)),
    )


def _joins(side: Side) -> list[tuple[tuple[EdgeRef, bool], tuple[EdgeRef, bool]]]:
    return list(pairwise(side))


def _is_joined(pattern: Pattern, one: tuple[EdgeRef, bool], other: tuple[EdgeRef, bool]) -> bool:
    """Whether one edge ends where the other starts: at one corner, or at edges that may be sewn to each other."""
    if one[0].piece == other[0].piece:
        ahead, start = (_corner(pattern, *one, at_end=True), _corner(pattern, *other, at_end=False))
        return distance_mm(ahead, start) <= ON_EDGE_MM
    return _end_words(pattern, *one, at_end=True) == _end_words(pattern, *other, at_end=False)


def _corner(pattern: Pattern, ref: EdgeRef, is_backward: bool, *, at_end: bool) -> tuple[float, float]:
    edge = pattern.piece(ref.piece).edge(ref.edge)
    return edge.end if at_end is not is_backward else edge.start


def _ends(pattern: Pattern, side: Side) -> tuple[str, str]:
    return _end_words(pattern, *side[0], at_end=False), _end_words(pattern, *side[-1], at_end=True)


def _end_words(pattern: Pattern, ref: EdgeRef, is_backward: bool, *, at_end: bool) -> str:
    """What an edge meets where it is walked to, or from; the side seam runs on in the underarm of the sleeve."""
    before, after = neighbours(pattern.piece(ref.piece), ref.edge)
    edge = after if at_end is not is_backward else before
    return edge_words(edge) if edge.role is not EdgeRole.UNDERARM else EdgeRole.SIDE.value


def _other_halves(pattern: Pattern, ours: Side, theirs: Side) -> int:
    """At how many ends of a seam one side says front and the other back."""
    return sum(
        {_half(pattern, *ours[at], at_end=at_end), _half(pattern, *theirs[at], at_end=at_end)} == {"front", "back"}
        for at, at_end in ((0, False), (-1, True))
    )


def _half(pattern: Pattern, ref: EdgeRef, is_backward: bool, *, at_end: bool) -> str:
    """Front or back at an end of an edge: told from the edge it meets there, else from its piece."""
    piece = pattern.piece(ref.piece)
    before, after = neighbours(piece, ref.edge)
    return half_in((after if at_end is not is_backward else before).id) or half_of(piece)


def _kind(pattern: Pattern, first: Refs, second: Refs, limits: Limits) -> tuple[SeamKind, Band]:
    cap = next((ref for ref in (*first, *second) if _edge(pattern, ref).role is EdgeRole.CAP), None)
    if cap is not None:
        return SeamKind.ARMHOLE, cap_band(pattern.piece(cap.piece), limits)
    if _is_facing(pattern, first) is not _is_facing(pattern, second):
        return SeamKind.FACING, (0.0, 0.0)
    if _has_role(pattern, first, EdgeRole.SHOULDER) and _has_role(pattern, second, EdgeRole.SHOULDER):
        has_dart = any(pattern.piece(ref.piece).darts_on(ref.edge) for ref in (*first, *second))
        return SeamKind.SHOULDER, (0.0, 0.0) if has_dart else limits.shoulder_ease_mm
    if _has_role(pattern, first, EdgeRole.WAIST) and _has_role(pattern, second, EdgeRole.WAIST):
        return SeamKind.WAIST, (0.0, 0.0)
    if _has_role(pattern, first, EdgeRole.INSEAM) and _has_role(pattern, second, EdgeRole.INSEAM):
        return SeamKind.PLAIN, limits.inseam_ease_mm
    return SeamKind.PLAIN, (0.0, 0.0)


def _is_facing(pattern: Pattern, refs: Refs) -> bool:
    return all(layer_of(pattern.piece(ref.piece)) == "facing" for ref in refs)


def _has_role(pattern: Pattern, refs: Refs, role: EdgeRole) -> bool:
    return all(_edge(pattern, ref).role is role for ref in refs)


def _edge(pattern: Pattern, ref: EdgeRef) -> Edge:
    return pattern.piece(ref.piece).edge(ref.edge)


def _name(first: Refs, second: Refs) -> str:
    return " + ".join(f"{ref.piece} {ref.edge}" for ref in (*first, *second))
