"""What is marked on a piece: inside it, still there, and where it belongs."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np

from geometry import regions
from geometry.affine import Point, as_point, distance_mm, frozen_points, midpoint
from geometry.checks.subject import Check, Subject
from geometry.checks.wording import mm
from geometry.curves import polyline
from geometry.findings import Finding, Level
from geometry.model.dart import Dart
from geometry.model.marks import Mark, MarkKind
from geometry.model.piece import Piece
from geometry.tolerance import NOTABLE_MM, ON_EDGE_MM, STOP_MM, WARN_MM

_NEAR_TIP_MM = 25.4
"""A drill hole this near a dart's tip belongs to that dart; own choice."""

_INSIDE_TIP_MM = 12.0
"""A dart's hole is punched about 1/2 in inside its tip (onlinefabricstore.com, how to sew a dart)."""


def mark_outside(subject: Subject) -> Iterator[Finding]:
    """Marks, lines and grain that leave the stitching line of their piece; one finding each, at the furthest place.

    A line that reaches into the allowance is only a note.
    """
    for piece in subject.whole:
        names, places = _marked(piece)
        if not names:
            continue
        ring = piece.outline
        rows = np.vstack(places)
        outside = ~regions.inside(ring, rows)
        if not outside.any():
            continue
        gaps = np.where(outside, polyline.distances_mm(frozen_points(np.vstack([ring, ring[:1]])), rows), 0.0)
        first = 0
        for (words, name), points in zip(names, places, strict=True):
            mine = gaps[first : first + len(points)]
            first += len(points)
            is_point = len(points) == 1
            if (out_mm := float(mine.max())) > (ON_EDGE_MM if is_point else STOP_MM):
                where = as_point(points[int(mine.argmax())])
                yield _outside(piece, words, name, where, out_mm, Level.WARN if is_point else Level.NOTE)


def drill_hole(subject: Subject) -> Iterator[Finding]:
    """Drill holes of darts that are not covered by the sewn dart; the place is the hole."""
    for piece in subject.pieces:
        for mark in piece.marks if piece.darts else ():
            dart = _dart_of(piece, mark) if mark.kind is MarkKind.DRILL else None
            if dart is None:
                continue
            first, last = piece.mouth(dart)
            aside_mm = polyline.nearest(frozen_points([first, last, dart.tip, first]), mark.at)[1]
            if piece.covers(dart, mark.at) or aside_mm <= WARN_MM:
                continue
            gap_mm = distance_mm(mark.at, dart.tip)
            text = (
                f'The drill hole "{mark.id}" on "{piece.name}" lies outside the dart "{dart.id}", so it would show; '
                f"mark it inside the dart, about {mm(_INSIDE_TIP_MM)} before its tip."
            )
            about = (mark.id, dart.id)
            yield Finding("drill-hole", Level.WARN, text, piece.name, mark.at, gap_mm, _INSIDE_TIP_MM, about)


def mark_lost(subject: Subject) -> Iterator[Finding]:
    """Lines, body points and single notches that the base has and the piece has not; once a piece."""
    for piece in subject.pieces:
        base = subject.bases.get(piece.name)
        if base is None or base is piece:
            continue
        kept = _names(piece)
        lost = [name for name in _names(base) if not any(other.endswith(name) for other in kept)]
        if lost:
            words = ", ".join(f'"{name}"' for name in lost)
            text = (
                f'{words} {"is" if len(lost) == 1 else "are"} not on "{piece.name}" any more, though the pattern had '
                f"{'it' if len(lost) == 1 else 'them'}; mark anew what you still need."
            )
            yield Finding("mark-lost", Level.NOTE, text, piece.name, about=tuple(lost))


def _marked(piece: Piece) -> tuple[list[tuple[str, str]], list[np.ndarray]]:
    names: list[tuple[str, str]] = []
    places: list[np.ndarray] = []
    for mark in piece.marks:
        names.append((mark.kind.value, mark.id))
        places.append(np.array([mark.at]))
    for line in piece.inner_lines:
        names.append(("line", line.id))
        places.append(line.points)
    if piece.grain:
        names.append(("grain line", ""))
        places.append(np.array([piece.grain.start, piece.grain.end]))
    return names, places


def _outside(piece: Piece, words: str, name: str, where: Point, out_mm: float, level: Level) -> Finding:
    called = f'{words} "{name}"' if name else words
    text = (
        f'The {called} reaches {mm(out_mm)} outside "{piece.name}"; draw it inside again, or it is lost when the '
        "piece is cut."
    )
    return Finding("mark-outside", level, text, piece.name, where, out_mm, 0.0, (name,) if name else ())


def _dart_of(piece: Piece, mark: Mark) -> Dart | None:
    """The dart a hole belongs to: the one it is named after, else the one whose tip is near."""
    named = next((dart for dart in piece.darts if dart.id == mark.id), None)
    nearest = named or min(piece.darts, key=lambda dart: distance_mm(dart.tip, mark.at))
    is_near = distance_mm(nearest.tip, mark.at) <= _NEAR_TIP_MM
    return nearest if is_near or (named and _is_in_reach(piece, nearest, mark.at)) else None


def _is_in_reach(piece: Piece, dart: Dart, place: Point) -> bool:
    return distance_mm(place, dart.tip) <= distance_mm(dart.tip, midpoint(*piece.mouth(dart))) + NOTABLE_MM


def _names(piece: Piece) -> Iterable[str]:
    lines = (line.id for line in piece.inner_lines)
    marks = (mark.id for mark in piece.marks if mark.kind is MarkKind.LANDMARK)
    notches = (notch.id for notch in piece.notches if not notch.partner)
    return tuple(dict.fromkeys([*lines, *marks, *notches]))


CHECKS = (
    Check("mark-outside", "What is marked lies inside its piece", mark_outside, rule="closed-form"),
    Check(
        "drill-hole",
        "The drill hole of a dart is hidden by it",
        drill_hole,
        rule="about 1/2 in inside the tip: onlinefabricstore.com, how to sew a dart",
    ),
    Check("mark-lost", "Nothing that was marked is lost", mark_lost, rule="common practice, no source"),
)
