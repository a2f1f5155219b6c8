"""A wearer's body: lengths taken on some day, by someone, left and right apart where they differ."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from geometry.errors import PatternError
from geometry.fitting.measures import Measure


class Hand(StrEnum):
    """Which side of the body was measured."""

    BOTH = ""
    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class Taken:
    """One length taken once.

    Attributes:
        measure: What was measured.
        length_mm: How long it was, above 0 (a shoulder may drop by nothing).
        date: Year, month and day as 2026-05-17, "" where none was noted.
        taken_by: Who measured.
        hand: The side, ``BOTH`` for a whole round or where sides were not told apart.
    """

    measure: Measure
    length_mm: float
    date: str = ""
    taken_by: str = ""
    hand: Hand = Hand.BOTH


@dataclass(frozen=True, slots=True)
class Body:
    """All that was ever measured of a wearer; the latest values count, earlier ones are kept."""

    taken: tuple[Taken, ...] = ()

    def with_taken(self, *taken: Taken) -> Body:
        """The body with more measurements.

        Raises:
            PatternError: a length is not a finite number, is negative, or is 0 where there must be something.
        """
        for each in taken:
            least = 0.0 if each.measure is Measure.SHOULDER_DROP else 1.0
            if not least <= each.length_mm < 100_000.0:
                raise PatternError(
                    f"The {each.measure.value} cannot be {each.length_mm:g} mm; type what the tape shows.",
                    code="bad-measurement",
                )
        return Body(self.taken + taken)

    def history(self, measure: Measure, hand: Hand = Hand.BOTH) -> tuple[Taken, ...]:
        """Every value of a measurement on a side, oldest first; of one day, the one noted last comes last."""
        return tuple(sorted((t for t in self.taken if t.measure is measure and t.hand is hand), key=lambda t: t.date))

    def latest(self, measure: Measure, hand: Hand = Hand.BOTH) -> Taken | None:
        """The value that counts, ``None`` if it was never taken on that side."""
        history = self.history(measure, hand)
        return history[-1] if history else None

    def left_right_mm(self, measure: Measure) -> tuple[float, float] | None:
        """Left and right, a side that was not measured apart taken from both; ``None`` where nothing tells them apart.

        A value for both sides that is younger than those told apart takes their place.
        """
        both = self.latest(measure)
        sides = []
        for hand in (Hand.LEFT, Hand.RIGHT):
            own = self.latest(measure, hand)
            sides.append(own if own is not None and (both is None or own.date >= both.date) else None)
        left, right = sides
        if left is None and right is None:
            return None
        first, second = (side or both or left or right for side in (left, right))
        assert first is not None
        assert second is not None
        return first.length_mm, second.length_mm

    def mm(self, measure: Measure) -> float | None:
        """The length that counts; of two sides the larger, since cloth can be taken in; ``None`` if not taken."""
        sides = self.left_right_mm(measure)
        if sides is not None:
            return max(sides)
        taken = self.latest(measure)
        return None if taken is None else taken.length_mm

    @property
    def cup_mm(self) -> float | None:
        """Bust girth less upper chest girth, ``None`` if one of them is missing."""
        bust, high = self.mm(Measure.BUST), self.mm(Measure.HIGH_BUST)
        return None if bust is None or high is None else bust - high


def body_of(lengths_mm: dict[Measure, float], *, date: str = "", taken_by: str = "") -> Body:
    """A body from one taking of measurements."""
    return Body().with_taken(*(Taken(measure, mm, date, taken_by) for measure, mm in lengths_mm.items()))
