"""Darts by themselves: they open within their edge, their legs are equal, they end inside the piece."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations

import numpy as np

from geometry import regions
from geometry.affine import Point, Points, distance_mm, frozen_points, midpoint
from geometry.allowance import uncapped_darts
from geometry.checks.limits import level_beyond
from geometry.checks.subject import Check, Subject, overlapping_darts, wrong_mouths
from geometry.checks.wording import mm
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.findings import Finding, Level
from geometry.model.dart import Dart
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, part_of
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM


def dart_mouth(subject: Subject) -> Iterator[Finding]:
    """Darts that do not open within their edge; the finding is about the dart."""
    for piece in subject.pattern.pieces:
        for dart in wrong_mouths(piece):
            length_mm = piece.edge(dart.edge).length_mm
            text = (
                f'The dart "{dart.id}" on "{piece.name}" opens from {mm(dart.from_mm)} to {mm(dart.to_mm)} on the '
                f"{dart.edge}, which is {mm(length_mm)} long; the piece was not checked further. Move the dart until "
                "its mouth lies within the edge."
            )
            end_mm = max(dart.from_mm, dart.to_mm)
            yield Finding("dart-mouth", Level.STOP, text, piece.name, dart.tip, end_mm, length_mm, (dart.id,))


def darts_overlap(subject: Subject) -> Iterator[Finding]:
    """Darts of one edge whose mouths lie over one another; the finding is about both."""
    for piece in subject.pattern.pieces:
        for first, second in overlapping_darts(piece):
            by_mm = min(first.to_mm, second.to_mm) - second.from_mm
            text = (
                f'The darts "{first.id}" and "{second.id}" overlap by {mm(by_mm)} on the {first.edge} of '
                f'"{piece.name}", and the piece was not checked further; move one of them or merge the two.'
            )
            where = piece.edge(first.edge).point_at(second.from_mm)
            yield Finding("darts-overlap", Level.STOP, text, piece.name, where, by_mm, 0.0, (first.id, second.id))


def darts_cross(subject: Subject) -> Iterator[Finding]:
    """Darts whose legs cross; the finding is about both."""
    for piece in subject.pieces:
        for first, second in combinations(piece.darts, 2):
            if met := crossings(_legs(piece, first), _legs(piece, second)):
                text = (
                    f'The darts "{first.id}" and "{second.id}" on "{piece.name}" cross, so the second cannot be sewn; '
                    "shorten one of them or turn it to another edge."
                )
                yield Finding("darts-cross", Level.STOP, text, piece.name, met[0].at, about=(first.id, second.id))


def dart_legs(subject: Subject) -> Iterator[Finding]:
    """Darts whose legs are not equally long; the place is the mouth end of the longer leg."""
    for piece in subject.pieces:
        for dart in piece.darts:
            legs_mm = piece.legs_mm(dart)
            long_mm, short_mm = max(legs_mm), min(legs_mm)
            limits = subject.limits
            level = level_beyond(long_mm - short_mm, limits.dart_legs_warn_mm, limits.dart_legs_stop_mm)
            if level is not None:
                text = (
                    f'The legs of the dart "{dart.id}" on "{piece.name}" measure {mm(legs_mm[0])} and '
                    f"{mm(legs_mm[1])}; make both {mm(short_mm)} or {mm(long_mm)} long and true the {dart.edge} "
                    "with the dart folded."
                )
                where = piece.mouth(dart)[legs_mm.index(long_mm)]
                yield Finding("dart-legs", level, text, piece.name, where, long_mm, short_mm, (dart.id,))


def dart_tip_outside(subject: Subject) -> Iterator[Finding]:
    """Darts whose tip is not inside the stitching line of their piece."""
    for piece in subject.whole:
        if not piece.darts:
            continue
        tips = np.array([dart.tip for dart in piece.darts])
        for dart, is_inside in zip(piece.darts, regions.inside(piece.outline, tips), strict=True):
            if not is_inside:
                text = (
                    f'The tip of the dart "{dart.id}" lies outside "{piece.name}"; '
                    "shorten the dart or turn it until its tip lies inside."
                )
                yield Finding("dart-tip-outside", Level.STOP, text, piece.name, dart.tip, about=(dart.id,))


def dart_clear(subject: Subject) -> Iterator[Finding]:
    """Darts that end inside their piece, but too near a seam to be pressed flat."""
    least_mm = subject.limits.dart_clear_mm
    for piece in subject.whole:
        if not piece.darts:
            continue
        ring = piece.outline
        tips = np.array([dart.tip for dart in piece.darts])
        gaps = polyline.distances_mm(frozen_points(np.vstack([ring, ring[:1]])), tips)
        for dart, gap_mm, is_inside in zip(piece.darts, gaps.tolist(), polyline.contains(ring, tips), strict=True):
            if is_inside and gap_mm < least_mm - FLOAT_MM:
                text = (
                    f'The dart "{dart.id}" on "{piece.name}" ends {mm(gap_mm)} from the stitching line, too near to '
                    f"be pressed flat; shorten it until {mm(least_mm)} are left."
                )
                yield Finding("dart-clear", Level.WARN, text, piece.name, dart.tip, gap_mm, least_mm, (dart.id,))


def dart_uncapped(subject: Subject) -> Iterator[Finding]:
    """Darts on edges with an allowance for which no cap can be drawn."""
    for piece in subject.whole:
        for dart in _uncapped(piece):
            text = (
                f'The dart "{dart.id}" on "{piece.name}" has no cap: folded and pressed {dart.pressed.value} of the '
                f"{dart.edge}, its cloth does not reach the cutting line there. Move the dart away from the corner, "
                "or fold it in paper and cut the cap along the seam."
            )
            where = midpoint(*piece.mouth(dart))
            yield Finding("dart-uncapped", Level.WARN, text, piece.name, where, about=(dart.id,))


def dart_wide(subject: Subject) -> Iterator[Finding]:
    """Waist darts of skirts and trousers that are too wide to lie flat."""
    widest_mm = subject.limits.dart_widest_mm
    for piece in subject.pieces:
        if not piece.darts or part_of(piece) not in (Part.SKIRT, Part.TROUSERS):
            continue
        for dart in piece.darts:
            wide_mm = piece.intake_mm(dart)
            if wide_mm > widest_mm + FLOAT_MM and piece.edge(dart.edge).role is EdgeRole.WAIST:
                text = (
                    f'The dart "{dart.id}" on "{piece.name}" is {mm(wide_mm)} wide; beyond {mm(widest_mm)} a waist '
                    "dart seldom lies flat, so split it in two."
                )
                where = midpoint(*piece.mouth(dart))
                yield Finding("dart-wide", Level.NOTE, text, piece.name, where, wide_mm, widest_mm, (dart.id,))


def double_dart(subject: Subject) -> Iterator[Finding]:
    """Darts with two tips whose legs differ, or that leave the piece."""
    for piece in subject.whole:
        for dart in piece.double_darts:
            legs_mm = [
                tuple(distance_mm(tip, side) for side in (dart.left, dart.right))
                for tip in (dart.tip_start, dart.tip_end)
            ]
            first, second = max(legs_mm, key=lambda legs: abs(legs[0] - legs[1]))
            limits = subject.limits
            level = level_beyond(abs(first - second), limits.dart_legs_warn_mm, limits.dart_legs_stop_mm)
            corners = np.array([dart.tip_start, dart.left, dart.tip_end, dart.right])
            if not regions.inside(piece.outline, corners).all():
                text = f'The dart "{dart.id}" leaves "{piece.name}"; move it or make it shorter until it lies inside.'
                yield Finding("double-dart", Level.STOP, text, piece.name, dart.tip_start, about=(dart.id,))
            elif level is not None:
                text = (
                    f'The legs of the dart "{dart.id}" on "{piece.name}" measure {mm(first)} and {mm(second)} to one '
                    "tip; draw it alike on both sides of its middle line."
                )
                where = midpoint(dart.left, dart.right)
                yield Finding("double-dart", level, text, piece.name, where, first, second, (dart.id,))


@lru_cache(maxsize=256)
def _uncapped(piece: Piece) -> tuple[Dart, ...]:
    return uncapped_darts(piece) if piece.darts else ()


def _legs(piece: Piece, dart: Dart) -> Points:
    start, end = piece.mouth(dart)
    chain: tuple[Point, Point, Point] = (start, dart.tip, end)
    return frozen_points(chain)


_LEGS = ("dart_legs_warn_mm", "dart_legs_stop_mm")

CHECKS = (
    Check("dart-mouth", "Every dart opens within its edge", dart_mouth, rule="closed-form"),
    Check("darts-overlap", "No two darts open over one another", darts_overlap, rule="closed-form"),
    Check("darts-cross", "No two darts cross", darts_cross, rule="closed-form"),
    Check("dart-legs", "The legs of every dart are equal", dart_legs, _LEGS),
    Check("dart-tip-outside", "Every dart's tip lies inside its piece", dart_tip_outside, rule="closed-form"),
    Check("dart-clear", "Darts end clear of the next seam", dart_clear, ("dart_clear_mm",)),
    Check(
        "dart-uncapped",
        "Every dart has a cap on the cutting line",
        dart_uncapped,
        rule="the folded dart is caught in its seam: common practice, no source",
    ),
    Check("dart-wide", "No waist dart is too wide", dart_wide, ("dart_widest_mm",)),
    Check("double-dart", "Darts with two tips are even and lie inside their piece", double_dart, _LEGS),
)
