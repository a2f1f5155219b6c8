"""All checks on a pattern, gravest findings first."""

from __future__ import annotations

from geometry.checks import (
    allowances,
    bands,
    cloth,
    corners,
    dart_aims,
    darts,
    facings,
    grain,
    labels,
    levels,
    lines,
    marks,
    neighbours,
    notches,
    outline,
    seams,
    sleeve,
    waist,
)
from geometry.checks.limits import DEFAULT_LIMITS, Limits
from geometry.checks.subject import Check, Subject
from geometry.findings import Finding, Level
from geometry.model.pattern import Pattern

CHECKS: tuple[Check, ...] = (
    *labels.CHECKS,
    *outline.CHECKS,
    *lines.CHECKS,
    *seams.CHECKS,
    *neighbours.CHECKS,
    *bands.CHECKS,
    *facings.CHECKS,
    *sleeve.CHECKS,
    *corners.CHECKS,
    *darts.CHECKS,
    *dart_aims.CHECKS,
    *waist.CHECKS,
    *notches.CHECKS,
    *levels.CHECKS,
    *grain.CHECKS,
    *allowances.CHECKS,
    *marks.CHECKS,
    *cloth.CHECKS,
)
"""Every check with its code, title and the source of its limits; findings of one level and piece come in this order."""

_BY_CODE = {check.code: check for check in CHECKS}

_GRAVEST_FIRST = tuple(reversed(Level))


def check_pattern(
    pattern: Pattern, *, base: Pattern | None = None, limits: Limits = DEFAULT_LIMITS
) -> tuple[Finding, ...]:
    """What is to be put right before cutting: stops first, then warnings, then notes, each in the order of pieces.

    ``base`` is the pattern before it was altered: with it, edges that were left behind and grain that turned are
    found too. Seams that the pattern does not tell are proposed from names.
    """
    subject = Subject.of(pattern, base=base, limits=limits)
    places = {piece.name: index for index, piece in enumerate(pattern.pieces)}
    found = [finding for check in CHECKS for finding in check.find(subject)]
    return tuple(
        sorted(
            found,
            key=lambda finding: (_GRAVEST_FIRST.index(finding.level), places.get(finding.piece or "", len(places))),
        )
    )


def check_of(finding: Finding) -> Check | None:
    """The check that made a finding, with its title and the source of its limit; ``None`` for other findings."""
    return _BY_CODE.get(finding.code)
