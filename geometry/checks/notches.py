"""Notches: they land together when a seam is walked, and each can be told from the next."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from geometry.affine import distance_mm
from geometry.checks.agreement import misfit
from geometry.checks.limits import level_beyond
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Stop, StopKind, Walk
from geometry.checks.wording import mm, sentence, side, stop
from geometry.findings import Finding, Level
from geometry.model.edge import EdgeRole
from geometry.model.pattern import SeamKind
from geometry.tolerance import FLOAT_MM

_MANY = 4
"""Fewer notches on one edge are never too many; own choice."""


def notch_landing(subject: Subject) -> Iterator[Finding]:
    """Notches that miss their partners, wherever the ease of the seam is put.

    A notch that meets a join has no partner to land on before the lengths of the seam agree. The finding is about
    (notch, other piece, other notch or "" for a join, piece of the notch).
    """
    for walk in subject.walks:
        kinds = {StopKind.NOTCH} if misfit(walk, subject.limits) else {StopKind.NOTCH, StopKind.JOIN}
        for meeting in walk.meetings:
            miss_mm = walk.miss_mm(meeting)
            level = level_beyond(abs(miss_mm), subject.limits.notch_warn_mm, subject.limits.notch_stop_mm)
            first, second = meeting.first, meeting.second
            if level is not None and first and second and {first.kind, second.kind} <= kinds:
                yield _misses(walk, first, second, miss_mm, level)


def notch_alone(subject: Subject) -> Iterator[Finding]:
    """Notches that meet nothing; one that carries a partner's word warns, for its partner is lost.

    The finding is about (notch, other piece, other edge).
    """
    for walk in subject.walks:
        for meeting in walk.meetings:
            notch = meeting.stop
            is_alone = meeting.first is None or meeting.second is None
            ends_mm = min(notch.from_start_mm, notch.from_end_mm)
            if is_alone and notch.kind is StopKind.NOTCH and ends_mm > subject.limits.notch_stop_mm:
                across = walk.seam.sides[1 if meeting.first else 0]
                other = across.refs
                text = (
                    f"{sentence(stop(notch))} meets nothing on {side(subject.pattern, across)}; mark its partner "
                    f"{mm(notch.from_start_mm)} from the {walk.start_at} (sewn length), or take it away."
                )
                level = Level.WARN if notch.partner else Level.NOTE
                about = (notch.id, other[0].piece, other[0].edge) if len(other) == 1 else (notch.id,)
                yield Finding("notch-alone", level, text, notch.piece, notch.place, about=about)


def notch_crowd(subject: Subject) -> Iterator[Finding]:
    """Notches of one edge that cannot be told apart; the finding is about the second of two."""
    for piece in subject.pieces:
        for edge_id in {notch.edge: None for notch in piece.notches}:
            for first, second in pairwise(piece.notches_on(edge_id)):
                apart_mm = second.at_mm - first.at_mm
                if apart_mm < subject.limits.notch_apart_mm - FLOAT_MM:
                    text = (
                        f'The notches "{first.id}" and "{second.id}" on the {edge_id} of "{piece.name}" are '
                        f"{mm(apart_mm)} apart and would be one cut; take one away or move it."
                    )
                    where = piece.notch_point(second)
                    least_mm = subject.limits.notch_apart_mm
                    yield Finding(
                        "notch-crowd", Level.WARN, text, piece.name, where, apart_mm, least_mm, (second.id, first.id)
                    )


def notch_many(subject: Subject) -> Iterator[Finding]:
    """Edges with so many notches that none of them guides."""
    for piece in subject.pieces:
        for edge in piece.edges if len(piece.notches) >= _MANY else ():
            count = len(piece.notches_on(edge.id))
            room_mm = edge.length_mm / max(count, 1)
            if count >= _MANY and room_mm < subject.limits.notch_room_mm - FLOAT_MM:
                text = (
                    f'The {edge.id} of "{piece.name}" has {count} notches, one to every {mm(room_mm)}; keep those '
                    "that meet one on the other side, or none of them guides."
                )
                where = edge.point_at(edge.length_mm / 2)
                yield Finding(
                    "notch-many", Level.NOTE, text, piece.name, where, room_mm, subject.limits.notch_room_mm, (edge.id,)
                )


def notch_corner(subject: Subject) -> Iterator[Finding]:
    """Notches on both sides of a corner, near enough to be taken for each other; about the second."""
    near_mm = subject.limits.notch_corner_mm
    for piece in subject.pieces:
        if len(piece.notches) < 2:
            continue
        for edge, after in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            ours, theirs = piece.notches_on(edge.id), piece.notches_on(after.id)
            if not ours or not theirs or edge is after:
                continue
            first, second = ours[-1], theirs[0]
            if max(edge.length_mm - first.at_mm, second.at_mm) < near_mm - FLOAT_MM:
                apart_mm = distance_mm(piece.notch_point(first), piece.notch_point(second))
                text = (
                    f'The notches "{first.id}" and "{second.id}" of "{piece.name}" lie on both sides of the corner '
                    f"of {edge.id} and {after.id}, {mm(apart_mm)} apart, and are taken for each other; take one away."
                )
                yield Finding(
                    "notch-corner", Level.WARN, text, piece.name, after.start, apart_mm, None, (second.id, first.id)
                )


def notch_deep(subject: Subject) -> Iterator[Finding]:
    """Notches cut in so far that they come near the stitching line."""
    for piece in subject.pieces:
        widths = {edge.id: edge.allowance_mm for edge in piece.edges}
        for notch in piece.notches:
            most_mm = widths[notch.edge] - subject.limits.notch_left_mm
            if widths[notch.edge] > FLOAT_MM and notch.depth_mm > most_mm + FLOAT_MM:
                text = (
                    f'The notch "{notch.id}" on the {notch.edge} of "{piece.name}" is cut in {mm(notch.depth_mm)} and '
                    f"the allowance is {mm(widths[notch.edge])}; make the allowance wider or only nick it, or the cut "
                    "shows in the seam."
                )
                where = piece.notch_point(notch)
                yield Finding(
                    "notch-deep", Level.WARN, text, piece.name, where, notch.depth_mm, max(most_mm, 0.0), (notch.id,)
                )


def ease_notches(subject: Subject) -> Iterator[Finding]:
    """Eased seams without a notch on each side of the ease, so that nobody knows where it goes.

    Shoulders and inseams are not asked: their ease is spread over their whole length. A band goes on beyond its seam.
    """
    for walk in subject.walks:
        is_spread = walk.seam.kind in (SeamKind.SHOULDER, SeamKind.BAND) or _role(subject, walk) is EdgeRole.INSEAM
        if is_spread or walk.ease_mm <= subject.limits.ease_notch_mm + FLOAT_MM or misfit(walk, subject.limits):
            continue
        count = sum(
            1
            for meeting in walk.meetings
            if meeting.first and meeting.second and StopKind.DART not in (meeting.first.kind, meeting.second.kind)
        )
        if count < 2:
            ref = walk.seam.first[0]
            edge = subject.pattern.piece(ref.piece).edge(ref.edge)
            text = (
                f"{sentence(side(subject.pattern, walk.seam.sides[0]))} is eased by {mm(walk.ease_mm)} into "
                f"{side(subject.pattern, walk.seam.sides[1])}, "
                "but no notches say where; mark both ends of the ease on both sides."
            )
            where = edge.point_at(edge.length_mm / 2)
            limit_mm = subject.limits.ease_notch_mm
            yield Finding("ease-notches", Level.NOTE, text, ref.piece, where, walk.ease_mm, limit_mm, (ref.edge,))


def _role(subject: Subject, walk: Walk) -> EdgeRole:
    ref = walk.seam.first[0]
    return subject.pattern.piece(ref.piece).edge(ref.edge).role


def _misses(walk: Walk, first: Stop, second: Stop, miss_mm: float, level: Level) -> Finding:
    text = (
        f"{sentence(stop(first))} lands {mm(abs(miss_mm))} nearer the {_towards(walk, first, miss_mm)} than "
        f"{stop(second)} when the seam is walked; move one of them by that much."
    )
    measured_mm = first.from_start_mm
    notch, other = (first, second) if first.kind is StopKind.NOTCH else (second, first)
    about = (notch.id, other.piece, other.id, notch.piece)
    return Finding("notch-landing", level, text, first.piece, first.place, measured_mm, measured_mm - miss_mm, about)


def _towards(walk: Walk, first: Stop, miss_mm: float) -> str:
    """What lies on the side to which a stop is off; an armhole has the underarm at both ends."""
    if walk.seam.kind is not SeamKind.ARMHOLE:
        return walk.end_at if miss_mm > 0 else walk.start_at
    is_first_half = first.from_start_mm < first.from_end_mm
    return "shoulder" if (miss_mm > 0) is is_first_half else "underarm"


CHECKS = (
    Check(
        "notch-landing",
        "Notches land together when a seam is walked from either end",
        notch_landing,
        ("notch_warn_mm", "notch_stop_mm", "notch_reach_mm"),
    ),
    Check("notch-alone", "Every notch on a seam meets something", notch_alone, ("notch_reach_mm",)),
    Check("notch-crowd", "Notches can be told apart", notch_crowd, ("notch_apart_mm",)),
    Check("notch-many", "No edge has too many notches", notch_many, ("notch_room_mm",)),
    Check("notch-corner", "No corner has notches on both its sides", notch_corner, ("notch_corner_mm",)),
    Check("notch-deep", "Notches stay clear of the stitching line", notch_deep, ("notch_left_mm",)),
    Check("ease-notches", "Ease is marked on both its sides", ease_notches, ("ease_notch_mm",)),
)
