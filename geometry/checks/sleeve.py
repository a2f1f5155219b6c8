"""The set-in sleeve: how much longer its cap is than the armhole, and where that ease lies."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.checks.agreement import expected_first_mm, lags, misfit
from geometry.checks.limits import level_beyond
from geometry.checks.seams import middle
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Meeting, StopKind, Walk
from geometry.checks.wording import mm, sentence, side, stop
from geometry.findings import Finding, Level
from geometry.model.garment import half_of
from geometry.model.pattern import SeamKind


def cap_ease(subject: Subject) -> Iterator[Finding]:
    """Caps whose ease is outside its band; an alteration that left one side behind is told by its own finding."""
    told = {lag.walk.seam.id for lag in lags(subject)}
    for walk in _armholes(subject):
        level = misfit(walk, subject.limits)
        if level is None or walk.seam.id in told:
            continue
        low, high = walk.seam.ease_mm
        differs = "longer" if walk.ease_mm >= 0 else "shorter"
        text = (
            f"{sentence(side(subject.pattern, walk.seam.sides[0]))} is {mm(abs(walk.ease_mm))} {differs} than "
            f"{side(subject.pattern, walk.seam.sides[1])}; it should be {mm(low)} to {mm(high)} longer. "
            "Make the cap higher or lower until it is, or declare the ease you want."
        )
        ref = walk.seam.first[0]
        yield Finding(
            "cap-ease",
            level,
            text,
            ref.piece,
            middle(subject.pattern, ref),
            walk.ease_mm,
            expected_first_mm(walk) - walk.second_mm,
        )


def cap_ease_low(subject: Subject) -> Iterator[Finding]:
    """Ease between an underarm and the lowest notch above it, where there should be none."""
    for walk in _armholes(subject):
        for from_start in (True, False):
            worst = max(_lowest(walk, from_start=from_start), key=lambda pair: pair[0], default=None)
            if worst is None:
                continue
            ease_mm, meeting = worst
            level = level_beyond(ease_mm, subject.limits.notch_warn_mm, subject.limits.notch_stop_mm)
            if level is not None and meeting.second:
                text = (
                    f"{sentence(stop(meeting.stop))} lies {mm(ease_mm)} further from the underarm than "
                    f"{stop(meeting.second)}; below the notches the sleeve goes in without ease, so move the notch "
                    "or take the length out of the cap below it."
                )
                where = meeting.stop
                about = (where.id, meeting.second.piece, meeting.second.id, "start" if from_start else "end")
                yield Finding("cap-ease-low", level, text, where.piece, where.place, ease_mm, 0.0, about)


def cap_ease_split(subject: Subject) -> Iterator[Finding]:
    """Caps with more ease in front of the shoulder than behind it."""
    for walk in _armholes(subject):
        for meeting in walk.meetings:
            eases = _back_and_front_mm(subject, walk, meeting)
            if eases is None or min(eases) < 0 or eases[1] - eases[0] <= subject.limits.notch_warn_mm:
                continue
            text = (
                f"The cap has {mm(eases[1])} of ease in front of {stop(meeting.stop)} and {mm(eases[0])} behind it; "
                f"the back should have as much or more, so move the notch {mm((eases[1] - eases[0]) / 2)} "
                "towards the front."
            )
            at = meeting.stop
            yield Finding("cap-ease-split", Level.WARN, text, at.piece, at.place, *eases[::-1], (at.id, at.edge))


def _armholes(subject: Subject) -> Iterator[Walk]:
    return (walk for walk in subject.walks if walk.seam.kind is SeamKind.ARMHOLE)


def _lowest(walk: Walk, *, from_start: bool) -> Iterator[tuple[float, Meeting]]:
    """Cap less armhole below the lowest notches of one half; those that share a word (a double notch) count as one."""
    found = []
    for meeting in walk.meetings:
        first, second = meeting.first, meeting.second
        if first and second and first.kind is second.kind is StopKind.NOTCH:
            ours, theirs = (
                (first.from_start_mm, second.from_start_mm) if from_start else (first.from_end_mm, second.from_end_mm)
            )
            if (second.from_start_mm <= second.from_end_mm) is from_start:
                found.append((theirs, ours - theirs, meeting))
    found.sort(key=lambda row: row[0])
    for _, ease_mm, meeting in found:
        if meeting is found[0][2] or (meeting.stop.partner and meeting.stop.partner == found[0][2].stop.partner):
            yield ease_mm, meeting


def _back_and_front_mm(subject: Subject, walk: Walk, meeting: Meeting) -> tuple[float, float] | None:
    """Ease behind and in front of a notch that meets the shoulder seam; ``None`` if it cannot be told."""
    from_start_mm, from_end_mm = meeting.offset_from_start_mm, meeting.offset_from_end_mm
    if from_start_mm is None or from_end_mm is None or not meeting.second or meeting.second.kind is not StopKind.JOIN:
        return None
    halves = tuple(half_of(subject.pattern.piece(ref.piece)) for ref in walk.seam.second)
    if halves == ("back", "front"):
        return from_start_mm, from_end_mm
    return (from_end_mm, from_start_mm) if halves == ("front", "back") else None


CHECKS = (
    Check(
        "cap-ease",
        "The sleeve cap is longer than the armhole by the right amount",
        cap_ease,
        ("cap_dress_mm", "cap_shirt_mm", "cap_tailored_mm", "cap_knit_mm"),
    ),
    Check("cap-ease-low", "No ease lies below the sleeve's notches", cap_ease_low, ("notch_warn_mm", "notch_stop_mm")),
    Check(
        "cap-ease-split",
        "The back of the cap has as much ease as its front, or more",
        cap_ease_split,
        ("notch_warn_mm",),
        "back at least as much as front: common practice, from memory",
    ),
)
