"""An alteration of the handbook while it is laid out: what the table shows of it, whom it tells of changes. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from geometry.alterations.handbook.alteration import Alteration, Layout
from geometry.alterations.handbook.landmarks import Landmark, landmarks_of
from geometry.alterations.handbook.panels import role_of
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.handbook.shifts import Shift, shifts
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.model.pattern import Pattern


@dataclass(frozen=True, slots=True)
class Draft:
    """What is shown of an alteration that is not settled yet.

    Attributes:
        step: The alteration.
        layout: Its handles and cuts.
        pull: The place that moves most, to drag the amount by; ``None`` where nothing moves.
        landmarks: Landmarks of the pieces it may touch.
        placing: Name of the landmark that the next click places, "" for none.
    """

    step: Alteration
    layout: Layout
    pull: Shift | None = None
    landmarks: tuple[Landmark, ...] = ()
    placing: str = ""


class Drafter(Protocol):
    """Who holds the alteration and carries it out."""

    def reshape(self, step: Alteration) -> None:
        """Lay out this one instead."""

    def settle(self) -> None:
        """Do and record it."""

    def give_up(self) -> None:
        """Leave everything as it was."""

    def mark(self, step: PlaceLandmark | None) -> None:
        """Record a landmark; ``None`` places none after all."""


def pull_of(before: Pattern, after: Pattern) -> Shift | None:
    """The place that moved most."""
    return next(iter(shifts(before, after)), None)


def landmarks_for(code: str, pattern: Pattern) -> tuple[Landmark, ...]:
    """Landmarks on the pieces that an entry may touch."""
    roles = entry_of(code).touches
    return tuple(mark for piece in pattern.pieces if role_of(piece) in roles for mark in landmarks_of(piece))
