"""Sizes proposed level by level, and the reasons given."""

from __future__ import annotations

import pytest

from geometry.fitting.body import Body, body_of
from geometry.fitting.ease import GarmentEase
from geometry.fitting.levels import BodyLevel
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart
from geometry.fitting.size_choice import propose_sizes
from geometry.units import MM_PER_INCH
from tests.geometry.fitting.charts import dress_chart, home_chart

CHART = dress_chart()
MEASURED = (Measure.HIGH_BUST, Measure.BUST, Measure.WAIST, Measure.HIP, Measure.UPPER_ARM, Measure.BACK_LENGTH)


def body_of_size(position: float) -> Body:
    return body_of({measure: CHART.body_mm(measure, position) for measure in MEASURED})


@pytest.mark.parametrize("number", range(len(CHART.sizes)))
def test_the_body_of_a_size_is_proposed_that_size_at_every_level(number) -> None:
    blend = propose_sizes(body_of_size(float(number)), CHART).blend
    assert set(blend.positions) == {float(number)}


def test_fractions_are_proposed_where_they_are_asked_for() -> None:
    blend = propose_sizes(body_of_size(2.25), CHART, fractions=True).blend
    assert blend.positions == pytest.approx((2.25,) * 6, abs=0.01)


def test_every_size_is_shown_with_body_chart_and_the_ease_that_would_be_left() -> None:
    choice = propose_sizes(body_of_size(3.0), CHART).at(BodyLevel.WAIST)
    assert [option.size for option in choice.options] == list(CHART.sizes)
    for place, option in enumerate(choice.options):
        assert option.chart_mm == CHART.body_mm(Measure.WAIST, place)
        assert option.ease_mm == pytest.approx(CHART.finished_mm(Measure.WAIST, place) - choice.body_mm)
    assert choice.options[3].ease_mm == pytest.approx(MM_PER_INCH, abs=0.1)
    assert choice.reasons == ("The waist girth of 77.47 cm comes nearest to size 10 (77.47 cm).",)


def test_missing_measurements_follow_the_level_above_and_say_so() -> None:
    body = body_of({Measure.HIGH_BUST: CHART.body_mm(Measure.HIGH_BUST, 2.0)})
    proposal = propose_sizes(body, CHART)
    assert set(proposal.blend.positions) == {2.0}
    assert "was not measured" in proposal.at(BodyLevel.WAIST).reasons[0]


def test_without_any_measurement_the_middle_size_is_proposed() -> None:
    proposal = propose_sizes(Body(), CHART)
    assert set(proposal.blend.positions) == {3.0}
    assert all(level.reasons for level in proposal.levels)


def test_a_chart_that_lists_no_upper_chest_is_asked_for_its_bust() -> None:
    body = body_of({Measure.HIGH_BUST: 34 * MM_PER_INCH, Measure.BUST: 36 * MM_PER_INCH})
    for cup_in, size in ((2.0, "10"), (4.0, "12")):
        chart = home_chart(cup_in)
        assert chart.sizes[int(propose_sizes(body, chart).blend.shoulder)] == size


def test_where_nobody_says_what_was_drafted_the_reason_asks() -> None:
    chart = SizeChart(("8", "10", "12"), (ChartLine(Measure.BUST, (34 * 25.4, 36 * 25.4, 38 * 25.4)),))
    choice = propose_sizes(body_of({Measure.HIGH_BUST: 34 * 25.4}), chart).at(BodyLevel.SHOULDER)
    assert choice.position == 1.0
    assert any("ask what this one was drafted for" in reason for reason in choice.reasons)


def test_a_size_that_leaves_too_little_ease_is_left_for_the_next() -> None:
    """A hip half-way to the next size in a chart whose garment is cut close: the least ease is 2 in."""
    lines = (ChartLine(Measure.BUST, (860.0, 900.0, 940.0)), ChartLine(Measure.HIP, (920.0, 960.0, 1000.0)))
    close = SizeChart(("S", "M", "L"), lines, (ChartLine(Measure.HIP, (965.0, 1005.0, 1045.0)),))
    body = body_of({Measure.BUST: 900.0, Measure.HIP: 960.0})
    choice = propose_sizes(body, close).at(BodyLevel.HIP)
    assert choice.position == 2.0
    assert any("one size up" in reason for reason in choice.reasons)
    own = GarmentEase(((Measure.HIP, 40.0),))
    assert propose_sizes(body, close, ease=own).at(BodyLevel.HIP).position == 1.0


def test_levels_far_apart_are_held_together_and_the_rest_is_altered() -> None:
    body = body_of({Measure.HIGH_BUST: CHART.body_mm(Measure.HIGH_BUST, 0.0), Measure.WAIST: 914.0})
    choice = propose_sizes(body, CHART).at(BodyLevel.WAIST)
    assert (choice.exact, choice.position) == (pytest.approx(6.0, abs=0.02), 3.0)
    assert any("altered" in reason for reason in choice.reasons)


def test_a_body_beyond_the_chart_gets_its_last_size_and_is_told() -> None:
    body = body_of({Measure.HIGH_BUST: 1200.0})
    choice = propose_sizes(body, CHART).at(BodyLevel.SHOULDER)
    assert choice.position == len(CHART.sizes) - 1
    assert "16.81 cm larger than the largest size" in choice.reasons[-1]
