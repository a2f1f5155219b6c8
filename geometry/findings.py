"""Findings: what import, replay and checks have to say, as data."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from geometry.affine import Point


class Level(StrEnum):
    """How grave a finding is."""

    NOTE = "note"
    WARN = "warn"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing found.

    Attributes:
        code: Stable word, for example ``"dart-legs"``.
        level: note, warn or stop (stop = do not cut yet).
        text: One sentence for a person: what is wrong and what to do.
        piece: Name of the piece, or ``None`` if it concerns the whole pattern.
        where: Place on that piece in mm, or ``None``.
        measured_mm: What was measured, or ``None`` where nothing was.
        expected_mm: What it should have been, or ``None``.
        about: Names for the program, not for people, in the order its check says: an edge, dart or notch of the
            piece, then perhaps the piece and part it must agree with.
    """

    code: str
    level: Level
    text: str
    piece: str | None = None
    where: Point | None = None
    measured_mm: float | None = None
    expected_mm: float | None = None
    about: tuple[str, ...] = ()


def worst(findings: tuple[Finding, ...]) -> Level | None:
    """The gravest level among the findings, ``None`` if there are none."""
    order = list(Level)
    return max((finding.level for finding in findings), key=order.index, default=None)
