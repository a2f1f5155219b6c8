"""Measurements: the latest counts, sides may differ, what is missing is missing, slips are questioned."""

from __future__ import annotations

import pytest

from geometry.errors import PatternError
from geometry.fitting.body import Body, Hand, Taken, body_of
from geometry.fitting.measures import TAPES, Kind, Measure, measure_named, tape_of
from geometry.fitting.plausibility import questions
from geometry.units import Unit


def codes(body: Body) -> list[str]:
    return [question.code for question in questions(body)]


def test_every_measurement_has_a_tape_with_words() -> None:
    assert [tape.measure for tape in TAPES] == list(Measure)
    for tape in TAPES:
        assert tape.how.endswith(".")
        assert 0 <= tape.usual_mm[0] < tape.usual_mm[1]


@pytest.mark.parametrize(
    ("words", "measure"),
    [
        ("Bust", Measure.BUST),
        ("full bust", Measure.BUST),
        ("High bust", Measure.HIGH_BUST),
        ("UPPER CHEST GIRTH", Measure.HIGH_BUST),
        ("hips", Measure.HIP),
        ("Biceps", Measure.UPPER_ARM),
        ("nape to waist", Measure.BACK_LENGTH),
        ("round the waist", Measure.WAIST),
        ("under-bust", Measure.UNDER_BUST),
        ("shoe size", None),
    ],
)
def test_measurements_are_known_by_the_words_of_the_trade(words, measure) -> None:
    assert measure_named(words) is measure


def test_every_measurement_is_known_by_its_own_name() -> None:
    assert [measure_named(measure.value) for measure in Measure] == list(Measure)


def test_the_latest_value_counts_and_earlier_ones_are_kept() -> None:
    body = body_of({Measure.WAIST: 700.0}, date="2026-01-10").with_taken(
        Taken(Measure.WAIST, 720.0, "2026-05-17", "Odile"), Taken(Measure.WAIST, 690.0, "2025-11-02")
    )
    assert body.mm(Measure.WAIST) == 720.0
    assert [taken.length_mm for taken in body.history(Measure.WAIST)] == [690.0, 700.0, 720.0]


def test_what_was_not_taken_is_none() -> None:
    assert Body().mm(Measure.HIP) is None
    assert Body().cup_mm is None
    assert questions(Body()) == ()


def test_of_two_sides_the_larger_counts() -> None:
    body = Body().with_taken(
        Taken(Measure.UPPER_ARM, 290.0, hand=Hand.LEFT), Taken(Measure.UPPER_ARM, 305.0, hand=Hand.RIGHT)
    )
    assert body.left_right_mm(Measure.UPPER_ARM) == (290.0, 305.0)
    assert body.mm(Measure.UPPER_ARM) == 305.0


def test_a_side_that_was_not_taken_is_as_both() -> None:
    body = Body().with_taken(
        Taken(Measure.UPPER_ARM, 290.0, "2026-01-01"), Taken(Measure.UPPER_ARM, 300.0, "2026-02-01", hand=Hand.LEFT)
    )
    assert body.left_right_mm(Measure.UPPER_ARM) == (300.0, 290.0)


def test_a_later_value_for_both_sides_takes_the_place_of_earlier_sides() -> None:
    body = Body().with_taken(
        Taken(Measure.UPPER_ARM, 300.0, "2026-01-01", hand=Hand.LEFT), Taken(Measure.UPPER_ARM, 290.0, "2026-02-01")
    )
    assert body.left_right_mm(Measure.UPPER_ARM) is None
    assert body.mm(Measure.UPPER_ARM) == 290.0


@pytest.mark.parametrize("mm", [0.0, -1.0, float("nan"), float("inf")])
def test_what_is_no_length_is_refused_in_a_sentence(mm) -> None:
    with pytest.raises(PatternError, match=r"The waist girth cannot be .* mm; type what the tape shows"):
        body_of({Measure.WAIST: mm})


def test_a_shoulder_may_drop_by_nothing() -> None:
    assert body_of({Measure.SHOULDER_DROP: 0.0}).mm(Measure.SHOULDER_DROP) == 0.0


def test_a_biceps_of_300_cm_is_questioned_and_kept() -> None:
    body = body_of({Measure.UPPER_ARM: 3000.0})
    (question,) = questions(body)
    assert question.code == "unusual"
    assert "300 cm" in question.text
    assert "one digit less would make it 30 cm" in question.text
    assert body.mm(Measure.UPPER_ARM) == 3000.0


def test_inches_typed_as_centimetres_are_recognised() -> None:
    (question,) = questions(body_of({Measure.BUST: 370.0}))
    assert "inches instead of centimetres would make it 93.98 cm" in question.text


def test_a_waist_40_cm_above_the_hip_is_questioned() -> None:
    (question,) = questions(body_of({Measure.WAIST: 1300.0, Measure.HIP: 900.0}))
    assert question.code == "out-of-proportion"
    assert question.measures == (Measure.WAIST, Measure.HIP)


def test_questions_are_asked_in_the_unit_of_the_person() -> None:
    (question,) = questions(body_of({Measure.WRIST: 30.0}), Unit.INCH)
    assert '"' in question.text


def test_sides_that_differ_by_more_than_3_cm_are_questioned() -> None:
    def body(right_mm: float) -> Body:
        return Body().with_taken(
            Taken(Measure.UPPER_ARM, 280.0, hand=Hand.LEFT), Taken(Measure.UPPER_ARM, right_mm, hand=Hand.RIGHT)
        )

    assert codes(body(305.0)) == []
    assert codes(body(315.0)) == ["sides-differ"]


@pytest.mark.parametrize(
    ("measure", "before", "now", "asked"),
    [
        (Measure.WAIST, 700.0, 740.0, []),
        (Measure.WAIST, 700.0, 780.0, ["changed"]),
        (Measure.BACK_LENGTH, 400.0, 410.0, []),
        (Measure.BACK_LENGTH, 400.0, 425.0, ["changed"]),
    ],
)
def test_a_girth_may_change_more_than_a_length(measure, before, now, asked) -> None:
    body = body_of({measure: before}, date="2026-01-01").with_taken(Taken(measure, now, "2026-06-01"))
    assert codes(body) == asked


def test_a_usual_body_is_asked_nothing() -> None:
    """ASTM D5585-11e1, size 10, and lengths of a published metric draft."""
    body = body_of(
        {
            Measure.BUST: 946.15,
            Measure.HIGH_BUST: 933.45,
            Measure.UNDER_BUST: 787.4,
            Measure.WAIST: 774.7,
            Measure.HIP: 996.15,
            Measure.NECK: 377.8,
            Measure.BACK_LENGTH: 406.6,
            Measure.SHOULDER_LENGTH: 127.8,
            Measure.BACK_WIDTH: 358.0,
        }
    )
    assert questions(body) == ()
    assert body.cup_mm == pytest.approx(12.7)


def test_girths_are_told_from_lengths() -> None:
    assert tape_of(Measure.BUST).kind is Kind.GIRTH
    assert tape_of(Measure.BACK_WIDTH).kind is Kind.WIDTH
    assert tape_of(Measure.ARM_LENGTH).kind is Kind.LENGTH
