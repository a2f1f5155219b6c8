"""Every worked figure that a published source gives for sizes, shares, ease and cups."""

from __future__ import annotations

import pytest

from geometry.alterations.handbook.entry import share_of_edges
from geometry.alterations.handbook.registry import entry_of
from geometry.fitting import shares
from geometry.fitting.advice import Case, advise
from geometry.fitting.body import body_of
from geometry.fitting.ease import CAP_EASE, CupRule, GarmentEase, crotch_depth_ease_mm, cup_letter, ease_row
from geometry.fitting.garment_table import Row
from geometry.fitting.levels import BodyLevel
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart
from geometry.fitting.size_choice import Bones, propose_sizes
from geometry.fitting.toile_reading import symptoms
from geometry.fitting.toile_signs import Place, Sign
from geometry.model.pattern import Pattern
from geometry.units import MM_PER_INCH, Unit
from tests.geometry.fitting.charts import BUST_IN, UPPER_CHEST_IN, home_chart, square_sleeve

INCH = MM_PER_INCH


def approx_in(inches: float) -> object:
    return pytest.approx(inches * INCH, abs=1e-9)


# Own arithmetic on the rule of home sewing: the difference a pattern is drafted for comes off the wearer's.


@pytest.mark.parametrize(
    ("full", "total", "each"), [(37.0, 1.0, 0.5), (38.0, 2.0, 1.0), (35.0, -1.0, -0.5), (36.0, 0.0, 0.0)]
)
def test_a_bust_beyond_the_drafted_difference_is_shared_by_both_half_fronts(full, total, each) -> None:
    difference = shares.cup_difference_mm(full * INCH, 34.0 * INCH, 2.0 * INCH)
    assert difference == approx_in(total)
    assert shares.per_half_mm(difference) == approx_in(each)
    assert entry_of("D01").from_difference(difference) == approx_in(each)


def test_from_2_in_on_the_size_that_fits_the_upper_chest_is_chosen() -> None:
    """Texas E-372 Principles of pattern alteration (02/06)."""
    body = body_of({Measure.HIGH_BUST: 34 * INCH, Measure.BUST: 37 * INCH})
    proposal = propose_sizes(body, home_chart()).at(BodyLevel.SHOULDER)
    assert home_chart().sizes[int(proposal.position)] == "10"  # bust 36 = upper chest 34 and the drafted 2
    by_bust = home_chart().position_of(Measure.BUST, 37 * INCH)
    assert proposal.position < by_bust
    assert any("smaller size" in reason for reason in proposal.reasons)


def test_the_same_size_is_kept_for_a_small_bust_which_is_altered() -> None:
    """Own arithmetic: upper chest 34, bust 35, the size for 34."""
    body = body_of({Measure.HIGH_BUST: 34 * INCH, Measure.BUST: 35 * INCH})
    proposal = propose_sizes(body, home_chart())
    assert proposal.at(BodyLevel.SHOULDER).position == proposal.at(BodyLevel.BUST).position == 1.0


def test_2_in_at_the_hip_are_half_an_inch_on_each_of_four_edges() -> None:
    """Montana Extension Bulletin 265; own arithmetic."""
    assert shares.per_edge_mm(2 * INCH, 4) == approx_in(0.5)
    assert entry_of("H01").from_difference(2 * INCH) == approx_in(0.5)


def test_2_in_at_the_hip_of_six_gores_are_a_sixth_of_an_inch_on_each_of_twelve_edges() -> None:
    """Central Washington University costume text, ch. 17: divided by the seams; own arithmetic."""
    assert shares.per_edge_mm(2 * INCH, 12) == pytest.approx(4.2, abs=0.05)
    assert share_of_edges(12).of_whole * 2 * INCH == pytest.approx(4.2, abs=0.05)


def test_1_in_at_the_waist_is_a_quarter_of_an_inch_on_each_side_edge() -> None:
    """A clothing textbook's chapter on adjusting a pattern: 1 in over means 1 in added in total."""
    assert 4 * shares.per_edge_mm(INCH, 4) == approx_in(1.0)
    assert entry_of("G01").from_difference(INCH) == approx_in(0.25)


def test_a_neckline_that_gapes_1_in_in_all_loses_half_an_inch_on_the_half_front() -> None:
    """Threads, remove excess fabric from a neckline, 2019."""
    (symptom,) = symptoms(Place.NECK, Sign.UPRIGHT)
    assert symptom.causes[0].entry == "B01"
    assert symptom.causes[0].step(INCH).amount_mm == approx_in(0.5)


def test_a_back_shoulder_that_grew_half_an_inch_loses_a_quarter_and_the_front_gains_a_quarter() -> None:
    """The New Dressmaker, 1921, ch. 4."""
    assert shares.broad_back_armhole_mm(0.5 * INCH) == (approx_in(0.25), approx_in(0.25))


def test_a_bodice_is_shortened_1_in_by_a_tuck_half_an_inch_deep() -> None:
    """Central Washington University costume text, ch. 17."""
    assert shares.tuck_depth_mm(INCH) == approx_in(0.5)


def test_a_skirt_5_in_longer_gains_half_at_the_line_and_half_at_the_hem() -> None:
    """The New Dressmaker, 1921, p. 27: alterations of 4 to 5 in."""
    assert shares.skirt_length_mm(5 * INCH) == (approx_in(2.5), approx_in(2.5))
    assert shares.skirt_length_mm(-4 * INCH) == (approx_in(-2.0), approx_in(-2.0))
    assert shares.skirt_length_mm(2 * INCH) == (approx_in(2.0), 0.0)


def test_edges_let_out_evenly_give_too_much_where_the_body_needs_less() -> None:
    """Own arithmetic: bust 93 to 102, under-bust 80 to 82, four side edges."""
    each = shares.per_edge_mm(1020.0 - 930.0, 4)
    assert each == pytest.approx(22.5)
    assert shares.left_over_mm(1020.0 - 930.0, each, 4) == pytest.approx(0.0)
    over = shares.left_over_mm(820.0 - 800.0, each, 4)
    assert over == pytest.approx(-70.0)
    assert shares.per_edge_mm(over, 8) == pytest.approx(-8.75)


def test_a_leg_of_17_in_is_4_in_each_side_of_the_crease_in_front_and_4_and_a_half_behind() -> None:
    """Threads, tapering trousers."""
    front, back = shares.leg_half_widths_mm(17 * INCH)
    assert (front, back) == (approx_in(4.0), approx_in(4.5))
    assert 2 * front + 2 * back == approx_in(17.0)


@pytest.mark.parametrize(("hip_in", "ease_in"), [(35, 0.5), (37, 0.75), (39, 1.0)])
def test_crotch_depth_ease_goes_by_the_hip(hip_in, ease_in) -> None:
    """New Mexico C-209 Measurements for fitting pants."""
    assert crotch_depth_ease_mm(hip_in * INCH) == approx_in(ease_in)


@pytest.mark.parametrize(
    ("measure", "low_mm", "high_mm"),
    [
        (Measure.BUST, 2.5 * INCH, 4 * INCH),  # a clothing textbook's chapter on adjusting a pattern
        (Measure.WAIST, INCH, INCH),  # the same
        (Measure.HIP, 50.0, 65.0),  # the same: 2 to 2 1/2 in, 5 to 6.5 cm
        (Measure.BACK_WIDTH, 10.0, INCH),  # a metric draft: half back and 0.5 cm
        (Measure.THIGH, INCH, 2 * INCH),  # New Mexico C-209
    ],
)
def test_the_ease_table_holds_what_is_published(measure, low_mm, high_mm) -> None:
    row = ease_row(measure)
    assert (row.low_mm, row.high_mm) == (low_mm, high_mm)
    assert row.source
    assert row.least_mm <= row.low_mm


def test_other_published_ease_lies_within_the_table() -> None:
    """New Mexico C-228: bust 3 to 4 in; a metric draft: bust 10 cm, hip 5 cm, armhole depth 0.5 cm; Threads, set-in
    sleeve solutions: upper arm at least 2 in; C-209: abdomen up to 2 in, knee at least 1 in."""
    for measure, mm in (
        (Measure.BUST, 3 * INCH),
        (Measure.BUST, 4 * INCH),
        (Measure.BUST, 100.0),
        (Measure.HIP, 50.0),
        (Measure.ARMHOLE_DEPTH, 5.0),
        (Measure.UPPER_ARM, 2 * INCH),
        (Measure.ABDOMEN, 2 * INCH),
        (Measure.KNEE, INCH),
    ):
        row = ease_row(measure)
        assert row.low_mm <= mm <= row.high_mm, measure


@pytest.mark.parametrize(
    ("rule", "difference_mm", "letter"),
    [
        # General convention of home sewing, no source.
        *(
            (CupRule.HOME_SEWING, inches * INCH, name)
            for inches, name in enumerate(("A", "B", "C", "D", "DD", "DDD"), 1)
        ),
        # Posture and Foundation Garments circular, p. 8.
        *((CupRule.CIRCULAR, inches * INCH, name) for inches, name in ((0, "AA"), (1.5, "A"), (2.5, "B"), (3.5, "C"))),
        (CupRule.CIRCULAR, 5 * INCH, "D"),
        # EN 13402, bust less under-bust, from memory.
        *((CupRule.EN_13402, cm * 10.0, name) for cm, name in ((11, "AA"), (13, "A"), (15, "B"), (17, "C"), (19, "D"))),
        *((CupRule.EN_13402, cm * 10.0, name) for cm, name in ((21, "E"), (23, "F"), (9, ""))),
        # Hoffmann, Choosing the right size: bust less chest taken under it.
        *((CupRule.TEXTBOOK, inches * INCH, name) for inches, name in ((4, "B"), (5, "C"), (6, "D"))),
    ],
)
def test_cup_letters_go_by_whose_rule_is_meant(rule, difference_mm, letter) -> None:
    assert cup_letter(difference_mm, rule) == letter


def test_a_pattern_drafted_for_4_in_gets_half_an_inch_on_each_half_front_for_5_in() -> None:
    """Hoffmann, Choosing the right size."""
    assert shares.per_half_mm(shares.cup_difference_mm(38 * INCH, 33 * INCH, 4 * INCH)) == approx_in(0.5)


def test_the_difference_of_a_standard_chart_is_not_constant() -> None:
    """Own arithmetic on ASTM D5585-11e1: -5/8 in size 00, 3/8 in 8, 1 1/8 in 14, 2 1/8 in 20."""
    found = {size: BUST_IN[size] - UPPER_CHEST_IN[size] for size in ("00", "8", "14", "20")}
    assert found == {"00": -0.625, "8": 0.375, "14": 1.125, "20": 2.125}


@pytest.mark.parametrize(
    ("garment", "low_in", "high_in"),
    [
        ("set-in sleeve, textbooks", 1.0, 1.5),
        ("knit", 0.5, 0.75),  # a technical designer
        ("set-in sleeve, woven", 1.375, 1.375),  # the same
        ("any, at least", 0.5, 1.0),
        ("shirt", 0.0, 0.75),  # from memory, as those below
        ("dress or blouse", 0.75, 1.5),
        ("jacket or coat", 1.25, 2.0),
        ("back half", 0.5, 0.625),
        ("front half", 0.375, 0.5),
    ],
)
def test_cap_ease_holds_what_is_published(garment, low_in, high_in) -> None:
    (row,) = (each for each in CAP_EASE if each.garment == garment)
    assert (row.low_mm, row.high_mm) == (approx_in(low_in), approx_in(high_in))


def test_an_upper_arm_of_13_in_a_sleeve_of_14_with_2_in_of_ease_needs_1_in_in_the_sleeve() -> None:
    """Threads, set-in sleeve solutions: at least 2 in of ease; own arithmetic."""
    pattern = Pattern((square_sleeve(14 * INCH),))
    body = body_of({Measure.UPPER_ARM: 13 * INCH})
    case = Case(body, pattern, ease=GarmentEase(((Measure.UPPER_ARM, 2 * INCH),)))
    (proposal,) = advise(case)
    assert (proposal.entry, proposal.amount_mm) == ("I01", approx_in(1.0))
    assert proposal.difference_mm / 2 == approx_in(0.5)
    assert proposal.words(Unit.INCH).startswith(
        'Upper arm girth 13" + ease asked for 2" − the pattern\'s 14" = 1" more'
    )


def test_finished_less_body_is_the_ease_of_the_wearer_and_finished_less_chart_the_drafted() -> None:
    """A clothing textbook's chapter on adjusting a pattern, second page; the second sum from memory."""
    chart = SizeChart(("10",), (ChartLine(Measure.BUST, (36 * INCH,)),), (ChartLine(Measure.BUST, (39.5 * INCH,)),))
    assert chart.drafted_ease_mm(Measure.BUST, 0.0) == approx_in(3.5)
    row = Row(Measure.BUST, 37 * INCH, 39.5 * INCH, 40.5 * INCH, 2 * INCH, (2.5 * INCH, 4 * INCH))
    assert (row.ease_before_mm, row.ease_after_mm) == (approx_in(2.5), approx_in(3.5))


def test_skirts_and_trousers_go_by_the_hip_and_full_skirts_by_the_waist() -> None:
    """An early dressmaking text and a tailoring page; The New Dressmaker, 1921, p. 15."""
    body = body_of({Measure.WAIST: 700.0, Measure.HIP: 1000.0, Measure.BUST: 900.0})
    lines = (
        ChartLine(Measure.BUST, (860.0, 900.0, 940.0)),
        ChartLine(Measure.WAIST, (660.0, 700.0, 740.0)),
        ChartLine(Measure.HIP, (920.0, 960.0, 1000.0)),
    )
    fitted = SizeChart(("S", "M", "L"), lines, (ChartLine(Measure.HIP, (970.0, 1010.0, 1050.0)),))
    full = SizeChart(("S", "M", "L"), lines, (ChartLine(Measure.HIP, (1400.0, 1440.0, 1480.0)),))
    assert propose_sizes(body, fitted).blend.hip == 2.0
    assert propose_sizes(body, full).blend.hip == propose_sizes(body, full).blend.waist == 1.0


def test_a_larger_thigh_chooses_the_size_of_trousers() -> None:
    """A tailoring page: trousers by the hip, or by the thigh if it is larger."""
    lines = (
        ChartLine(Measure.HIP, (920.0, 960.0, 1000.0)),
        ChartLine(Measure.THIGH, (540.0, 560.0, 580.0)),
    )
    chart = SizeChart(("S", "M", "L"), lines)
    body = body_of({Measure.HIP: 920.0, Measure.THIGH: 580.0, Measure.BUST: 900.0})
    assert propose_sizes(body, chart).at(BodyLevel.HIP).measure is Measure.THIGH
    assert propose_sizes(body, chart).blend.hip == 2.0


@pytest.mark.parametrize(("bones", "size"), [(Bones.SMALL, 1.0), (Bones.LARGE, 2.0)])
def test_between_two_sizes_small_bones_take_the_smaller_and_large_bones_the_larger(bones, size) -> None:
    """A tailoring page."""
    body = body_of({Measure.BUST: 37 * INCH})
    assert propose_sizes(body, home_chart(), bones=bones).at(BodyLevel.SHOULDER).position == size


def test_a_sleeve_goes_by_the_upper_arm() -> None:
    """The New Dressmaker, 1921, p. 15."""
    lines = (ChartLine(Measure.BUST, (860.0, 900.0, 940.0)), ChartLine(Measure.UPPER_ARM, (270.0, 285.0, 300.0)))
    body = body_of({Measure.BUST: 860.0, Measure.UPPER_ARM: 301.0})
    proposal = propose_sizes(body, SizeChart(("S", "M", "L"), lines))
    assert (proposal.blend.bust, proposal.blend.upper_arm) == (0.0, 2.0)
