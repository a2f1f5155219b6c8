"""Levels and what is spaced along a line: hip and knee lines with their notches, buttons, the opening for a zip."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from geometry.affine import Point, Points, as_point, distance_mm, frozen_points, unit_vector
from geometry.checks.subject import Check, Subject
from geometry.checks.wording import mm
from geometry.curves.crossing import crossings
from geometry.findings import Finding, Level
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import Part, half_of, hand_in, is_lengthen_line, layer_of, part_of
from geometry.model.marks import Grain, InnerLine, Mark, MarkKind, Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM

_LEVELS = ("bust", "waist", "hip", "knee", "elbow", "biceps")
"""Words of the levels of a body."""

_REACH_MM = 40.0
"""A level line this far clear of its edge still belongs to it; own choice."""

_MEANT_DEG = 45.0
"""A line that leans by more was not drawn level; own choice."""

_FEWEST_BUTTONS = 3


def level_notch(subject: Subject) -> Iterator[Finding]:
    """Notches of a level that do not lie where the level line meets their edge; about (notch, share of the edge)."""
    for piece in subject.whole:
        for notch in piece.notches if piece.inner_lines else ():
            line = next(
                (each for each in piece.inner_lines if _level(each.id) and _level(each.id) == _level_of(notch)), None
            )
            at_mm = _meets_mm(piece, notch, line) if line else None
            if line is None or at_mm is None:
                continue
            off_mm = abs(notch.at_mm - at_mm)
            if off_mm > subject.limits.level_mm + FLOAT_MM:
                edge = piece.edge(notch.edge)
                text = (
                    f'The notch "{notch.id}" on the {notch.edge} of "{piece.name}" lies {mm(off_mm)} from where the '
                    f'"{line.id}" meets that edge; a level and its notch move together, so move the notch to the line.'
                )
                about = (notch.id, notch.edge, repr(at_mm / edge.length_mm))
                yield Finding(
                    "level-notch", Level.WARN, text, piece.name, piece.notch_point(notch), notch.at_mm, at_mm, about
                )


def level_tilted(subject: Subject) -> Iterator[Finding]:
    """Level lines that turned out of the square of fold or grain; about the line."""
    allowed_deg = subject.limits.level_turn_deg
    for piece in subject.pieces:
        base = subject.bases.get(piece.name)
        for line in piece.inner_lines if base is not piece else ():
            was = next((each for each in base.inner_lines if each.id == line.id), None) if base else None
            lean_deg = _lean_deg(piece, line) if _level(line.id) else None
            if lean_deg is None or not allowed_deg < lean_deg <= _MEANT_DEG:
                continue
            if base and was and (_turned_deg(line, was) <= allowed_deg or (_lean_deg(base, was) or 0.0) > allowed_deg):
                continue
            length_mm = distance_mm(as_point(line.points[0]), as_point(line.points[-1]))
            lean_mm, allowed_mm = (length_mm * math.sin(math.radians(deg)) for deg in (lean_deg, allowed_deg))
            text = (
                f'The "{line.id}" of "{piece.name}" is not level: it rises by {mm(lean_mm)} over {mm(length_mm)} '
                f"({lean_deg:.1f} degrees). Draw it square to the grain again before you measure along it."
            )
            where = as_point(line.points[len(line.points) // 2])
            yield Finding("level-tilted", Level.WARN, text, piece.name, where, lean_mm, allowed_mm, (line.id,))


def buttons_uneven(subject: Subject) -> Iterator[Finding]:
    """Buttons whose distances differ; the place is the button after the odd distance."""
    for piece in subject.pieces:
        for word in ("buttonhole", "button"):
            places = _row([mark for mark in piece.marks if _button_word(mark) == word])
            if len(places) < _FEWEST_BUTTONS:
                continue
            gaps = [distance_mm(a, b) for a, b in pairwise(places)]
            usual_mm = float(np.median(gaps))
            worst = max(range(len(gaps)), key=lambda k: abs(gaps[k] - usual_mm))
            if abs(gaps[worst] - usual_mm) > subject.limits.button_mm + FLOAT_MM:
                text = (
                    f'The {word}s on "{piece.name}" are {mm(usual_mm)} apart, but two are {mm(gaps[worst])}; space '
                    "them evenly again, one at the level of the bust or waist."
                )
                yield Finding("buttons-uneven", Level.WARN, text, piece.name, places[worst + 1], gaps[worst], usual_mm)


def zip_length(subject: Subject) -> Iterator[Finding]:
    """Openings for a zip that became longer or shorter; about the notch that marks the end of the zip."""
    for piece in subject.pieces:
        base = subject.bases.get(piece.name)
        for notch in piece.notches if base and subject.base else ():
            was = next((each for each in base.notches if each.id == notch.id), None) if base else None
            if was is None or "zip" not in notch.id.lower() or subject.base is None or base is None:
                continue
            now_mm, before_mm = _opening_mm(subject.pattern, piece, notch), _opening_mm(subject.base, base, was)
            if abs(now_mm - before_mm) > subject.limits.zip_mm + FLOAT_MM:
                text = (
                    f'The opening for the zip on "{piece.name}" measured {mm(before_mm)} and is now {mm(now_mm)}; '
                    f'move the notch "{notch.id}" or buy a zip of that length.'
                )
                where = piece.notch_point(notch)
                yield Finding("zip-length", Level.NOTE, text, piece.name, where, now_mm, before_mm, (notch.id,))


def _level(words: str) -> str:
    """The level that words name, "" if none; a line on which a piece is lengthened is no level of the body."""
    plain = words.lower()
    return "" if is_lengthen_line(plain) else next((level for level in _LEVELS if level in plain.split()), "")


def _level_of(notch: Notch) -> str:
    return _level(notch.partner) or _level(notch.id)


def _meets_mm(piece: Piece, notch: Notch, line: InnerLine) -> float | None:
    """How far along the edge of a notch a level line, taken on straight, meets it; ``None`` if it does not."""
    edge = piece.edge(notch.edge)
    for chain in (line.points, line.points[::-1]):
        met = crossings(_taken_on(chain), edge.points)
        if met:
            return met[-1].second_mm
    return None


def _taken_on(chain: Points) -> Points:
    """The last stretch of a chain and as much again as it may be clear of its edge."""
    (x, y), ahead = as_point(chain[-1]), unit_vector(as_point(chain[-2]), as_point(chain[-1]))
    return frozen_points([chain[-2], (x + ahead[0] * _REACH_MM, y + ahead[1] * _REACH_MM)])


def _lean_deg(piece: Piece, line: InnerLine) -> float | None:
    """Angle between a line and the square of the fold, else of the grain, 0 to 90; ``None`` without either."""
    if line.closed or (piece.fold is None and piece.grain is None):
        return None
    upright: Edge | Grain = piece.edge(piece.fold) if piece.fold is not None else piece.grain  # type: ignore[assignment]
    ax, ay = unit_vector(upright.start, upright.end)
    bx, by = unit_vector(as_point(line.points[0]), as_point(line.points[-1]))
    return math.degrees(math.asin(min(abs(ax * bx + ay * by), 1.0)))


def _turned_deg(line: InnerLine, was: InnerLine) -> float:
    """By how much a line turned on the table, 0 to 90."""
    (ax, ay), (bx, by) = (unit_vector(as_point(each.points[0]), as_point(each.points[-1])) for each in (line, was))
    return math.degrees(math.asin(min(abs(ax * by - ay * bx), 1.0)))


def _button_word(mark: Mark) -> str:
    words = mark.id.lower()
    if mark.kind is MarkKind.CURVE_POINT or "button" not in words:
        return ""
    return "buttonhole" if "buttonhole" in words else "button"


def _row(marks: list[Mark]) -> list[Point]:
    """Places of marks in the order met along the line they lie on."""
    if len(marks) < 2:
        return [mark.at for mark in marks]
    places = np.array([mark.at for mark in marks])
    along = int(np.ptp(places, axis=0).argmax())
    return [as_point(place) for place in places[np.argsort(places[:, along], kind="stable")]]


def _opening_mm(pattern: Pattern, piece: Piece, notch: Notch) -> float:
    """Length from a zip's notch up to the neck or waist; from a waist on, up the bodice sewn to it as well."""
    index = [edge.id for edge in piece.edges].index(notch.edge)
    edge, before = piece.edges[index], piece.edges[index - 1]
    starts_on_top = before.role in (EdgeRole.WAIST, EdgeRole.NECK)
    station_mm = piece.sewn_station_mm(edge.id, notch.at_mm)
    own_mm = station_mm if starts_on_top else piece.sewn_length_mm(edge.id) - station_mm
    top = before if starts_on_top else piece.edges[(index + 1) % len(piece.edges)]
    if top.role is not EdgeRole.WAIST:
        return own_mm
    return own_mm + next((above.sewn_length_mm(each.id) for above in pattern.pieces if _is_above(above, piece)
                          for each in above.edges if each.role is edge.role), 0.0)  # fmt: skip


def _is_above(bodice: Piece, piece: Piece) -> bool:
    return (
        part_of(bodice) is Part.BODICE
        and half_of(bodice) == half_of(piece)
        and layer_of(bodice) == layer_of(piece)
        and len({hand_in(bodice.name), hand_in(piece.name)} - {""}) <= 1
    )


CHECKS = (
    Check(
        "level-notch",
        "Level notches lie on their levels",
        level_notch,
        ("level_mm",),
        "a level that is altered takes its notch along: common practice, from memory",
    ),
    Check("level-tilted", "Level lines are level", level_tilted, ("level_turn_deg",)),
    Check(
        "buttons-uneven",
        "Buttons are spaced evenly",
        buttons_uneven,
        ("button_mm",),
        "re-spaced after a change of length: common practice, from memory",
    ),
    Check("zip-length", "The zip still fits its opening", zip_length, ("zip_mm",)),
)
