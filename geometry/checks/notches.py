"""Notches: they land together when a seam is walked, from either end."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.checks.agreement import misfit
from geometry.checks.limits import level_beyond
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Stop, StopKind, Walk
from geometry.checks.wording import edges, mm, sentence, stop
from geometry.findings import Finding, Level
from geometry.model.pattern import SeamKind


def notch_landing(subject: Subject) -> Iterator[Finding]:
    """Notches that miss their partners, wherever the ease of the seam is put.

    A notch that meets a join has no partner to land on before the lengths of the seam agree.
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
    """Notches that meet nothing; one that carries a partner's word warns, for its partner is lost."""
    for walk in subject.walks:
        for meeting in walk.meetings:
            notch = meeting.stop
            is_alone = meeting.first is None or meeting.second is None
            ends_mm = min(notch.from_start_mm, notch.from_end_mm)
            if is_alone and notch.kind is StopKind.NOTCH and ends_mm > subject.limits.notch_stop_mm:
                other = walk.seam.second if meeting.first else walk.seam.first
                text = (
                    f"{sentence(stop(notch))} meets nothing on {edges(other)}; mark its partner "
                    f"{mm(notch.from_start_mm)} from the {walk.start_at} (sewn length), or take it away."
                )
                level = Level.WARN if notch.partner else Level.NOTE
                yield Finding("notch-alone", level, text, notch.piece, notch.place)


def _misses(walk: Walk, first: Stop, second: Stop, miss_mm: float, level: Level) -> Finding:
    text = (
        f"{sentence(stop(first))} lands {mm(abs(miss_mm))} nearer the {_towards(walk, first, miss_mm)} than "
        f"{stop(second)} when the seam is walked; move one of them by that much."
    )
    measured_mm = first.from_start_mm
    return Finding("notch-landing", level, text, first.piece, first.place, measured_mm, measured_mm - miss_mm)


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
)
