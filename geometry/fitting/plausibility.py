"""Questions about measurements that look like a slip; nothing is ever refused.

The limits are our own choice, wide enough for any grown body, unless a comment says otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from geometry.fitting.body import Body
from geometry.fitting.measures import TAPES, Kind, Measure, Tape, tape_of
from geometry.units import MM_PER_INCH, Unit, format_length

_SIDES_MM = 30.0
"""Left and right limbs and shoulders rarely differ by more."""

_CHANGE = 0.08
"""A girth that changes by more than this share between two takings is worth a second look."""

_LENGTH_CHANGE = 0.04
"""Grown bodies keep their lengths: a change beyond this was probably taken another way."""

_SLIPS = (
    (0.1, "one digit less"),
    (MM_PER_INCH / 10, "inches instead of centimetres"),
    (10.0, "one digit more"),
    (MM_PER_INCH, "inches instead of millimetres"),
)
"""What may have slipped, by what it does to the length."""


@dataclass(frozen=True, slots=True)
class Question:
    """Something about a body that should be looked at again.

    Attributes:
        code: Stable word.
        text: One or two sentences that end in what to do.
        measures: The measurements it is about.
    """

    code: str
    text: str
    measures: tuple[Measure, ...]


@dataclass(frozen=True, slots=True)
class _Order:
    """The first should not exceed the second by more than a margin."""

    first: Measure
    second: Measure
    margin_mm: float


_ORDERS = (
    _Order(Measure.WAIST, Measure.HIP, 200),
    _Order(Measure.WAIST, Measure.BUST, 200),
    _Order(Measure.BUST, Measure.HIP, 350),
    _Order(Measure.HIP, Measure.BUST, 450),
    _Order(Measure.HIGH_BUST, Measure.BUST, 40),
    _Order(Measure.BUST, Measure.HIGH_BUST, 250),
    _Order(Measure.UNDER_BUST, Measure.BUST, 10),
    _Order(Measure.ABDOMEN, Measure.HIP, 200),
    _Order(Measure.WRIST, Measure.ELBOW, 10),
    _Order(Measure.WRIST, Measure.UPPER_ARM, 0),
    _Order(Measure.UPPER_ARM, Measure.THIGH, 0),
    _Order(Measure.KNEE, Measure.THIGH, 0),
    _Order(Measure.NECK, Measure.WAIST, -50),
    _Order(Measure.BUST_DEPTH, Measure.FRONT_OVER_BUST, -40),
    _Order(Measure.UPPER_ARM_LENGTH, Measure.ARM_LENGTH, -100),
    _Order(Measure.ARMHOLE_DEPTH, Measure.BACK_LENGTH, -80),
    _Order(Measure.WAIST_TO_HIP, Measure.WAIST_TO_HEM, 0),
    _Order(Measure.INSIDE_LEG, Measure.OUTSIDE_LEG, -120),
    _Order(Measure.OUTSIDE_LEG, Measure.HEIGHT, -300),
    _Order(Measure.CROTCH_DEPTH, Measure.OUTSIDE_LEG, -400),
)


def questions(body: Body, unit: Unit = Unit.CM) -> tuple[Question, ...]:
    """What about a body looks like a slip of the tape or of the key, from the top down; usually nothing."""
    found: list[Question] = []
    for tape in TAPES:
        found += _about_one(body, tape, unit)
    found += _about_pairs(body, unit)
    return tuple(found)


def _about_one(body: Body, tape: Tape, unit: Unit) -> Iterator[Question]:
    name, mm = tape.measure.value, body.mm(tape.measure)
    if mm is None:
        return
    low, high = tape.usual_mm
    if not low <= mm <= high:
        yield Question(
            "unusual",
            f"The {name} of {format_length(mm, unit)} is unusual{_meant(mm, tape, unit)}; measure again or keep it.",
            (tape.measure,),
        )
        return
    sides = body.left_right_mm(tape.measure)
    if sides is not None and abs(sides[0] - sides[1]) > _SIDES_MM:
        words = " and ".join(format_length(side, unit) for side in sides)
        yield Question(
            "sides-differ", f"The {name} is {words}, left and right; measure both once more.", (tape.measure,)
        )
    yield from _about_change(body, tape, unit)


def _meant(mm: float, tape: Tape, unit: Unit) -> str:
    """What would be usual had the key or the unit slipped: one reading, or nothing."""
    low, high = tape.usual_mm
    for factor, words in _SLIPS:
        if low <= mm * factor <= high:
            return f" ({words} would make it {format_length(mm * factor, unit)})"
    return ""


def _about_change(body: Body, tape: Tape, unit: Unit) -> Iterator[Question]:
    history = body.history(tape.measure)
    if len(history) < 2 or history[-2].length_mm <= 0:
        return
    before, now = history[-2].length_mm, history[-1].length_mm
    limit = _CHANGE if tape.kind is Kind.GIRTH else _LENGTH_CHANGE
    if abs(now - before) > max(limit * before, 10.0):
        when = f" on {history[-2].date}" if history[-2].date else " before"
        yield Question(
            "changed",
            f"The {tape.measure.value} was {format_length(before, unit)}{when} and is {format_length(now, unit)} now; "
            "see that it was taken at the same place.",
            (tape.measure,),
        )


def _about_pairs(body: Body, unit: Unit) -> Iterator[Question]:
    for order in _ORDERS:
        first, second = body.mm(order.first), body.mm(order.second)
        if first is None or second is None or not (_is_usual(order.first, first) and _is_usual(order.second, second)):
            continue
        if first - second > order.margin_mm:
            yield Question(
                "out-of-proportion",
                f"The {order.first.value} ({format_length(first, unit)}) beside the {order.second.value} "
                f"({format_length(second, unit)}) is unusual; measure both again or keep them.",
                (order.first, order.second),
            )


def _is_usual(measure: Measure, mm: float) -> bool:
    low, high = tape_of(measure).usual_mm
    return low <= mm <= high
