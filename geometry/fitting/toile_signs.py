"""What can be seen on a toile, and what it may come from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.registry import entry_of


class Place(StrEnum):
    """Where on the body it shows, in the order in which a toile is put right."""

    NECK = "neck and collar"
    SHOULDER = "shoulder"
    ARMHOLE = "armhole"
    CHEST = "chest, above the bust"
    BUST = "bust"
    UPPER_BACK = "upper back"
    BACK_WAIST = "back above the seat"
    WAIST = "waist"
    SKIRT_FRONT = "skirt, front"
    HIP = "hip and sides of the skirt"
    SEAT = "seat and back of the skirt"
    HEM = "hem"
    SLEEVE = "sleeve"
    CROTCH = "crotch of trousers"
    LEG = "leg of trousers"


class Sign(StrEnum):
    """What it looks like."""

    ACROSS = "folds across"
    UPRIGHT = "upright folds"
    SLANTING = "slanting folds"
    STRAINED = "strained, tight"
    LOOSE = "loose, sags"
    GAPES = "stands away, gapes"
    RIDES_UP = "rides up"
    LOW = "hangs or dips low"
    TWISTS = "twists or swings"


@dataclass(frozen=True, slots=True)
class Cause:
    """A likely cause and what is done about it.

    Attributes:
        words: What is wrong.
        entry: Code of the handbook's entry.
        amount_mm: What to start with if nothing was pinned; common practice where the source names no figure.
        variant: The way it is done, "" for the first.
        sign: -1 where the entry is used the other way round: folded out instead of spread.
    """

    words: str
    entry: str
    amount_mm: float
    variant: str = ""
    sign: int = 1

    def step(self, pinned_mm: float | None = None) -> Alteration:
        """The alteration with its starting amount, or with what was pinned, the whole of it on both halves together."""
        each = self.amount_mm if pinned_mm is None else entry_of(self.entry).from_difference(pinned_mm, self.variant)
        return Alteration(self.entry, self.sign * each, self.variant)


@dataclass(frozen=True, slots=True)
class Symptom:
    """Something seen on a toile.

    Attributes:
        name: A short stable name, that of its drawing.
        place: Where.
        sign: What it looks like in a word.
        looks: What exactly is seen.
        causes: Likely causes, the likeliest first.
        recheck: What to look at after the alteration.
        source: Who says so.
    """

    name: str
    place: Place
    sign: Sign
    looks: str
    causes: tuple[Cause, ...]
    recheck: str
    source: str
