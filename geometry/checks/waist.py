"""The waist seam: bodice and skirt darts meet across it, and none meets nothing."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Meeting, StopKind, Walk
from geometry.checks.wording import mm, sentence, stop
from geometry.findings import Finding, Level
from geometry.model.pattern import SeamKind
from geometry.tolerance import FLOAT_MM


def waist_darts(subject: Subject) -> Iterator[Finding]:
    """Darts that miss their partner across the waist seam, with how far and to which side.

    The finding is about (dart, other piece, other dart).
    """
    for walk in subject.walks:
        if walk.seam.kind is not SeamKind.WAIST:
            continue
        for meeting in walk.meetings:
            first, second, miss_mm = meeting.first, meeting.second, walk.miss_mm(meeting)
            is_off = abs(miss_mm) > subject.limits.waist_darts_mm + FLOAT_MM
            if is_off and first and second and first.kind is StopKind.DART:
                side, back = (walk.end_at, walk.start_at) if miss_mm > 0 else (walk.start_at, walk.end_at)
                text = (
                    f"{sentence(stop(first))} lies {mm(abs(miss_mm))} nearer the {side} than {stop(second)} "
                    f"where the two are sewn together; move it {mm(abs(miss_mm))} towards the {back}, "
                    "or move the other to meet it."
                )
                yield Finding(
                    "waist-darts",
                    Level.STOP,
                    text,
                    first.piece,
                    first.place,
                    first.from_start_mm,
                    first.from_start_mm - miss_mm,
                    (first.id, second.piece, second.id),
                )


def dart_alone(subject: Subject) -> Iterator[Finding]:
    """Darts of a waist seam that meet none on the other side, where both sides have darts."""
    for walk in subject.walks:
        if walk.seam.kind is not SeamKind.WAIST or not any(
            meeting.first and meeting.second for meeting in _darts(walk)
        ):
            continue
        for meeting in _darts(walk):
            dart = meeting.stop
            if meeting.first is None or meeting.second is None:
                text = (
                    f"{sentence(stop(dart))} meets no dart across the waist seam; merge or move it if the lines are "
                    "to run through."
                )
                yield Finding("dart-alone", Level.NOTE, text, dart.piece, dart.place, about=(dart.id,))


def _darts(walk: Walk) -> tuple[Meeting, ...]:
    return tuple(meeting for meeting in walk.meetings if meeting.stop.kind is StopKind.DART)


CHECKS = (
    Check("waist-darts", "Bodice and skirt darts meet across the waist seam", waist_darts, ("waist_darts_mm",)),
    Check(
        "dart-alone",
        "Every dart at the waist meets one",
        dart_alone,
        rule="dart lines run on across the waist seam: common practice, from memory",
    ),
)
