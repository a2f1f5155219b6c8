"""Darts by themselves: legs equal, tip inside the piece."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from geometry import regions
from geometry.checks.limits import level_beyond
from geometry.checks.subject import Check, Subject
from geometry.checks.wording import mm
from geometry.findings import Finding, Level


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
                yield Finding("dart-legs", level, text, piece.name, where, long_mm, short_mm)


def dart_tip_outside(subject: Subject) -> Iterator[Finding]:
    """Darts whose tip is not inside the stitching line of their piece."""
    for piece in subject.pieces:
        if not piece.darts or not regions.is_simple(piece.outline):
            continue
        tips = np.array([dart.tip for dart in piece.darts])
        for dart, is_inside in zip(piece.darts, regions.inside(piece.outline, tips), strict=True):
            if not is_inside:
                text = (
                    f'The tip of the dart "{dart.id}" lies outside "{piece.name}"; '
                    "shorten the dart or turn it until its tip lies inside."
                )
                yield Finding("dart-tip-outside", Level.STOP, text, piece.name, dart.tip)


CHECKS = (
    Check("dart-legs", "The legs of every dart are equal", dart_legs, ("dart_legs_warn_mm", "dart_legs_stop_mm")),
    Check("dart-tip-outside", "Every dart's tip lies inside its piece", dart_tip_outside, rule="closed-form"),
)
