"""What darts point at, and which way they are pressed."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.affine import Point, distance_mm, midpoint, unit_vector
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Stop, StopKind, Walk
from geometry.checks.wording import mm, sentence, stop
from geometry.findings import Finding, Level
from geometry.model.dart import Dart, Pressed
from geometry.model.garment import Part, half_of, part_of
from geometry.model.marks import MarkKind
from geometry.model.pattern import Pattern, Seam
from geometry.model.piece import Piece
from geometry.model.pressing import centre_of, usual_pressed
from geometry.tolerance import FLOAT_MM

_SAME_AIM_MM = 60.0
"""A landmark further than this from where a dart aims is another body point; own choice."""


def dart_stand_off(subject: Subject) -> Iterator[Finding]:
    """Darts that end beyond their body point, and bust darts that end too near it or too far from it."""
    least_mm, most_mm = subject.limits.dart_stand_off_mm
    for piece, dart, aim in _aimed(subject):
        gap_mm = _along_mm(piece, dart, aim)
        is_bust = part_of(piece) is Part.BODICE and half_of(piece) == "front"
        low, high = (least_mm, most_mm) if is_bust else (0.0, float("inf"))
        if low - FLOAT_MM <= gap_mm <= high + FLOAT_MM:
            continue
        wanted_mm = min(max(gap_mm, low), high)
        is_short = gap_mm > high
        lies = f"{mm(abs(gap_mm))} {'beyond' if gap_mm < 0 else 'short of'} the point it aims at"
        text = (
            f'The dart "{dart.id}" on "{piece.name}" ends {lies}; {"lengthen" if is_short else "shorten"} it until '
            f"it ends {mm(wanted_mm)} short, or it {'stands away from' if is_short else 'makes a point on'} the body."
        )
        level = Level.NOTE if is_short else Level.WARN
        yield Finding("dart-stand-off", level, text, piece.name, dart.tip, gap_mm, wanted_mm, (dart.id,))


def dart_aim(subject: Subject) -> Iterator[Finding]:
    """Darts whose middle line misses the point they aim at."""
    for piece, dart, _ in _aimed(subject):
        miss_mm = piece.aim_missed_mm(dart)
        if miss_mm > subject.limits.dart_aim_mm + FLOAT_MM:
            text = (
                f'The dart "{dart.id}" on "{piece.name}" misses the point it aims at by {mm(miss_mm)}; point it '
                "there again and true its edge."
            )
            yield Finding("dart-aim", Level.WARN, text, piece.name, dart.tip, miss_mm, 0.0, (dart.id,))


def dart_landmark(subject: Subject) -> Iterator[Finding]:
    """Darts that aim beside the body point that is marked; the finding is about (dart, landmark)."""
    for piece, dart, aim in _aimed(subject):
        landmarks = [mark for mark in piece.marks if mark.kind is MarkKind.LANDMARK]
        nearest = min(landmarks, key=lambda mark: distance_mm(mark.at, aim), default=None)
        if nearest is None:
            continue
        gap_mm = distance_mm(nearest.at, aim)
        if subject.limits.dart_aim_mm + FLOAT_MM < gap_mm <= _SAME_AIM_MM:
            text = (
                f'The dart "{dart.id}" on "{piece.name}" aims {mm(gap_mm)} beside the {nearest.id}; point it at the '
                f"{nearest.id}, or move the mark to where the body's is."
            )
            about = (dart.id, nearest.id)
            yield Finding("dart-landmark", Level.WARN, text, piece.name, nearest.at, gap_mm, 0.0, about)


def dart_pressed(subject: Subject) -> Iterator[Finding]:
    """Darts that are pressed against custom and do not nest with one across their seam by it."""
    nested = {(side.piece, side.id) for walk in subject.walks for pair in _meeting_darts(walk) for side in pair[:2]}
    for piece in subject.pieces:
        if centre_of(piece) is None:
            continue
        for dart in piece.darts:
            usual = usual_pressed(piece, dart)
            if dart.stitched and dart.pressed is not usual and not _is_nested(subject, piece, dart, nested):
                text = (
                    f'The dart "{dart.id}" on "{piece.name}" is pressed {dart.pressed.value} of the {dart.edge}; '
                    "upright darts are usually pressed to the centre and level ones down, and the cap is drawn for "
                    "the way you say. Turn it, or leave it if it is meant."
                )
                where = midpoint(*piece.mouth(dart))
                yield Finding("dart-pressed", Level.NOTE, text, piece.name, where, about=(dart.id, usual.value))


def darts_nest(subject: Subject) -> Iterator[Finding]:
    """Darts that meet across a seam and are pressed each its own way, so that the seam lies flat."""
    for walk in subject.walks:
        for first, second, miss_mm in _meeting_darts(walk):
            if abs(miss_mm) <= subject.limits.waist_darts_mm + FLOAT_MM and _are_apart(subject, walk, first, second):
                text = (
                    f"{sentence(stop(first))} and {stop(second)} meet and are pressed each its own way: they nest, "
                    "and the seam lies flat. Fold and press them so before you sew it."
                )
                yield Finding("darts-nest", Level.NOTE, text, first.piece, first.place, about=(first.id, second.id))


def _aimed(subject: Subject) -> Iterator[tuple[Piece, Dart, Point]]:
    for piece in subject.pieces:
        for dart in piece.darts:
            if dart.aim is not None and dart.stitched:
                yield piece, dart, dart.aim


def _along_mm(piece: Piece, dart: Dart, aim: Point) -> float:
    """How far a dart ends short of its aim, negative where it ends beyond it."""
    ux, uy = unit_vector(midpoint(*piece.mouth(dart)), dart.tip)
    ahead = (aim[0] - dart.tip[0]) * ux + (aim[1] - dart.tip[1]) * uy
    gap_mm = distance_mm(dart.tip, aim)
    return gap_mm if ahead >= 0 else -gap_mm


def _meeting_darts(walk: Walk) -> Iterator[tuple[Stop, Stop, float]]:
    for meeting in walk.meetings:
        if meeting.first and meeting.second and meeting.first.kind is meeting.second.kind is StopKind.DART:
            yield meeting.first, meeting.second, walk.miss_mm(meeting)


def _is_nested(subject: Subject, piece: Piece, dart: Dart, nested: set[tuple[str, str]]) -> bool:
    if (piece.name, dart.id) not in nested:
        return False
    return any(
        _are_apart(subject, walk, first, second)
        for walk in subject.walks
        for first, second, _ in _meeting_darts(walk)
        if (piece.name, dart.id) in ((first.piece, first.id), (second.piece, second.id))
    )


def _are_apart(subject: Subject, walk: Walk, first: Stop, second: Stop) -> bool:
    """Whether two darts that meet are pressed towards different ends of their seam."""
    return _to_start(subject.pattern, walk.seam, first) is not _to_start(subject.pattern, walk.seam, second)


def _to_start(pattern: Pattern, seam: Seam, at: Stop) -> bool:
    """Whether a dart is pressed towards the start of its seam."""
    pressed = pattern.piece(at.piece).dart(at.id).pressed
    ways = zip((*seam.first, *seam.second), (*seam.first_backward, *seam.second_backward), strict=True)
    is_backward = next(back for ref, back in ways if (ref.piece, ref.edge) == (at.piece, at.edge))
    return (pressed is Pressed.TO_START) is not is_backward


CHECKS = (
    Check(
        "dart-stand-off",
        "Darts end short of the body point they aim at, by the right amount",
        dart_stand_off,
        ("dart_stand_off_mm",),
        "a dart ends at or short of its body point: common practice, from memory",
    ),
    Check("dart-aim", "Every dart points at its body point", dart_aim, ("dart_aim_mm",)),
    Check("dart-landmark", "Darts aim at the body point that is marked", dart_landmark, ("dart_aim_mm",)),
    Check(
        "dart-pressed",
        "Darts are pressed the usual way",
        dart_pressed,
        rule="upright darts to the centre, level ones down: common practice, from memory",
    ),
    Check(
        "darts-nest",
        "Darts that meet across a seam and are pressed each its own way",
        darts_nest,
        ("waist_darts_mm",),
        "common practice, no source",
    ),
)
