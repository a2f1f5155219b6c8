"""The list of alterations that figures ask for: order, sums, shares, and that following it closes the gap."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from geometry.alterations.handbook.registry import ENTRIES
from geometry.alterations.replay import Record, replay
from geometry.fitting.advice import NOT_WORTH_MM, Case, advise, unanswered
from geometry.fitting.body import Body, Hand, Taken, body_of
from geometry.fitting.ease import GarmentEase, crotch_depth_ease_mm, ease_row
from geometry.fitting.finished import finished
from geometry.fitting.levels import one_size
from geometry.fitting.measures import Kind, Measure
from geometry.fitting.proposals import Proposal, Term
from geometry.units import MM_PER_INCH, Unit
from samples import draft_trousers
from samples.draft_dress import draft_nest
from tests.geometry import plain_dress
from tests.geometry.fitting.charts import dress_chart

INCH = MM_PER_INCH
CHART = dress_chart()
PATTERN = draft_nest().patterns[3]
MADE = finished(PATTERN)
SIZES = one_size(3.0)
OWN_EASE = GarmentEase(
    tuple(
        (measure, ease_row(measure).low_mm)
        for measure in (
            Measure.SHOULDER_LENGTH,
            Measure.SHOULDER_DROP,
            Measure.CHEST_WIDTH,
            Measure.BACK_WIDTH,
            Measure.BACK_LENGTH,
            Measure.BUST_DEPTH,
            Measure.FRONT_OVER_BUST,
            Measure.BUST_SPAN,
            Measure.ARMHOLE_DEPTH,
            Measure.ARM_LENGTH,
            Measure.WAIST_TO_HIP,
            Measure.WAIST_TO_HEM,
        )
    )
)
"""Where the chart tells no body, the least usual ease is asked for."""
FITTING = {
    Measure.HIGH_BUST: CHART.body_mm(Measure.HIGH_BUST, 3.0),
    Measure.BUST: CHART.body_mm(Measure.BUST, 3.0),
    Measure.WAIST: CHART.body_mm(Measure.WAIST, 3.0),
    Measure.HIP: CHART.body_mm(Measure.HIP, 3.0),
    Measure.UPPER_ARM: CHART.body_mm(Measure.UPPER_ARM, 3.0),
    Measure.NECK: CHART.body_mm(Measure.NECK, 3.0),
    **{measure: MADE.mm(measure) - ease for measure, ease in OWN_EASE.wanted},
}


def advice_for(ease: GarmentEase = OWN_EASE, **beyond: float) -> tuple[Proposal, ...]:
    """The advice for a body that fits the size but for what is named."""
    lengths = {measure: mm + beyond.get(measure.name.lower(), 0.0) for measure, mm in FITTING.items()}
    return advise(Case(body_of(lengths), PATTERN, CHART, SIZES, ease))


def test_a_body_that_the_size_was_drafted_for_is_advised_nothing() -> None:
    assert advice_for() == ()


def test_nothing_measured_is_advised_nothing_and_asked_for() -> None:
    case = Case(Body(), PATTERN)
    assert advise(case) == ()
    assert unanswered(case) == tuple(measure for measure, _ in MADE.lengths)


@pytest.mark.parametrize(
    ("beyond", "entry", "amount"),
    [
        ({"armhole_depth": 10.0, "back_length": 10.0, "front_over_bust": 10.0, "bust_depth": 10.0}, "A02", 10.0),
        ({"back_length": 12.0, "front_over_bust": 12.0}, "A01", 12.0),
        ({"front_over_bust": 15.0}, "A03", 15.0),
        ({"arm_length": -20.0}, "A06", -20.0),
        ({"waist_to_hip": 15.0, "waist_to_hem": 15.0}, "A05", 15.0),
        ({"waist_to_hem": 40.0}, "A04", 40.0),
        ({"neck": 20.0}, "B02", 20.0 / (2 * math.pi)),
        ({"neck": -20.0}, "B03", 20.0 / (2 * math.pi)),
        ({"shoulder_drop": 8.0}, "C04", 8.0),
        ({"shoulder_drop": -8.0}, "C03", 8.0),
        ({"shoulder_length": 7.0}, "C01", 7.0),
        ({"shoulder_length": -7.0}, "C02", 7.0),
        ({"chest_width": -12.0}, "B09", 6.0),
        ({"bust": 25.4, "front_over_bust": 9.0}, "D01", 12.7),
        ({"bust": -20.0, "front_over_bust": -7.0}, "D02", 10.0),
        ({"bust_depth": 14.0}, "D06", 14.0),
        ({"bust_span": 16.0}, "D07", 8.0),
        ({"back_width": 20.0}, "E04", 10.0),
        ({"back_width": -20.0}, "E05", 10.0),
        ({"waist": 25.4}, "G01", 6.35),
        ({"hip": 50.0}, "H01", 12.5),
        ({"hip": 80.0}, "H02", 20.0),
        ({"upper_arm": 25.4}, "I01", 25.4),
        ({"upper_arm": -20.0}, "I03", 20.0),
    ],
)
def test_one_difference_asks_for_one_alteration(beyond, entry, amount) -> None:
    (proposal,) = advice_for(**beyond)
    assert proposal.entry == entry
    assert proposal.amount_mm == pytest.approx(amount, abs=0.02)
    assert sum(term.mm for term in proposal.terms) == pytest.approx(proposal.difference_mm, abs=1e-9)


def test_lengths_come_first_and_then_widths_from_the_top_down() -> None:
    """A sewing reference book's general guidelines for pattern adjustments."""
    found = advice_for(
        armhole_depth=10.0,
        bust_depth=10.0,
        back_length=30.0,
        front_over_bust=45.0,
        arm_length=20.0,
        waist_to_hem=50.0,
        neck=20.0,
        shoulder_length=8.0,
        bust=40.0,
        back_width=15.0,
        waist=30.0,
        hip=40.0,
        upper_arm=30.0,
    )
    codes = [proposal.entry for proposal in found]
    assert codes == ["A02", "A01", "A06", "A04", "B02", "C01", "D01", "E04", "G01", "H01", "I01"]


def test_what_one_length_brings_is_not_asked_for_again() -> None:
    depth, back = advice_for(armhole_depth=10.0, back_length=25.0, front_over_bust=25.0, bust_depth=10.0)
    assert (depth.amount_mm, back.amount_mm) == (pytest.approx(10.0), pytest.approx(15.0))
    assert back.terms[-1] == Term("gained at the armhole", pytest.approx(-10.0))


def test_the_length_that_a_full_bust_brings_is_counted_for_the_front() -> None:
    """Length added is about s w / h with the hinge w out from and h above the bust point (own arithmetic)."""
    front = PATTERN.piece("front bodice")
    (apex_x, apex_y), (hinge_x, hinge_y) = (
        front.landmark("bust point"),
        front.notch_point(front.notch("front armhole")),
    )
    gained = 12.7 * (hinge_x - apex_x) / (hinge_y - apex_y)
    proposals = advice_for(bust=25.4, front_over_bust=gained + 10.0)
    assert [proposal.entry for proposal in proposals] == ["A03", "D01"]
    assert proposals[0].amount_mm == pytest.approx(10.0, abs=0.02)


def test_the_sum_of_a_full_bust_is_shown_in_words_and_numbers() -> None:
    """3 in over the high bust, drafted for 2 in: 1 in in all, 1/2 in on each half front."""
    proposal = Proposal(
        "D01",
        0.5 * INCH,
        Measure.BUST,
        INCH,
        (
            Term("bust girth", 37 * INCH),
            Term("upper chest girth", -34 * INCH),
            Term("what the pattern was drafted for", -2 * INCH),
        ),
        "half on each half front",
    )
    assert proposal.words(Unit.INCH) == (
        'Bust girth 37" − upper chest girth 34" − what the pattern was drafted for 2" = 1" more in all; '
        'half on each half front: 1/2".'
    )


def test_own_ease_takes_the_place_of_the_patterns() -> None:
    ease = OWN_EASE.with_mm(Measure.WAIST, INCH + 20.0)
    (proposal,) = advice_for(ease)
    assert (proposal.entry, proposal.amount_mm) == ("G01", pytest.approx(5.0, abs=0.05))
    assert proposal.terms[1].words == "ease asked for"


@pytest.mark.parametrize(("beyond", "amount"), [(-10.0, None), (8.0, 8.0), (-30.0, 5.0 + 30.0 - 25.4)])
def test_ease_within_the_usual_band_is_wanted_as_it_is(beyond, amount) -> None:
    """Armhole depth: 0.5 cm (a metric draft) to 1 in (from memory)."""
    lengths = {Measure.ARMHOLE_DEPTH: MADE.mm(Measure.ARMHOLE_DEPTH) - 5.0 + beyond}
    proposals = advise(Case(body_of(lengths), PATTERN, CHART, SIZES))
    assert [abs(each.amount_mm) for each in proposals] == ([] if amount is None else [pytest.approx(amount, abs=0.01)])


def test_a_skirt_changed_by_4_in_or_more_is_shared_between_line_and_hem() -> None:
    """The New Dressmaker, 1921, p. 27."""
    inside, at_hem = advice_for(waist_to_hem=5 * INCH)
    assert (inside.entry, at_hem.entry) == ("A04", "A04")
    assert (inside.variant, at_hem.variant) == ("", "at the hem")
    assert inside.amount_mm == at_hem.amount_mm == pytest.approx(2.5 * INCH, abs=0.01)


def test_a_bust_without_upper_chest_is_judged_by_its_ease() -> None:
    lengths = {Measure.BUST: FITTING[Measure.BUST] + 30.0}
    (proposal,) = advise(Case(body_of(lengths), PATTERN, CHART, SIZES))
    assert proposal.entry == "D01"
    assert [term.words for term in proposal.terms] == ["bust girth", "ease of the pattern", "the pattern's"]
    assert proposal.amount_mm == pytest.approx(15.0, abs=0.1)


@pytest.mark.parametrize(
    ("measure", "kind"), [("waist", Kind.GIRTH), ("shoulder_length", Kind.WIDTH), ("arm_length", Kind.LENGTH)]
)
def test_what_is_not_worth_the_trouble_is_left_alone(measure, kind) -> None:
    assert advice_for(**{measure: NOT_WORTH_MM[kind] - 0.1}) == ()
    assert len(advice_for(**{measure: NOT_WORTH_MM[kind] + 0.4})) == 1


def test_more_than_an_alteration_takes_is_cut_short_and_told() -> None:
    (proposal,) = advice_for(hip=400.0)
    assert proposal.entry == "H02"
    assert proposal.amount_mm < 100.0
    assert "start from another size" in proposal.note


def test_shares_are_those_of_the_handbook() -> None:
    """Where the handbook says what part of a difference an entry takes, the advice takes the same."""
    shares = {entry.code: entry.amount.share.of_whole for entry in ENTRIES if entry.amount.share is not None}
    for proposal in advice_for(bust=40.0, bust_span=16.0, back_width=20.0, waist=40.0, hip=40.0, waist_to_hip=20.0):
        if proposal.entry in shares:
            assert proposal.amount_mm == pytest.approx(shares[proposal.entry] * proposal.difference_mm, abs=0.02)


@pytest.mark.parametrize(
    ("beyond", "measure"),
    [
        ({"back_length": 15.0, "front_over_bust": 15.0}, Measure.BACK_LENGTH),
        (
            {"armhole_depth": 12.0, "back_length": 12.0, "front_over_bust": 12.0, "bust_depth": 12.0},
            Measure.ARMHOLE_DEPTH,
        ),
        ({"waist": 30.0}, Measure.WAIST),
        ({"hip": 40.0}, Measure.HIP),
        ({"upper_arm": 25.0}, Measure.UPPER_ARM),
        ({"shoulder_length": 8.0}, Measure.SHOULDER_LENGTH),
        ({"arm_length": 25.0}, Measure.ARM_LENGTH),
        ({"waist_to_hem": 40.0}, Measure.WAIST_TO_HEM),
        ({"bust": 40.0, "front_over_bust": 14.0}, Measure.BUST),
    ],
)
def test_following_the_advice_closes_the_gap(beyond, measure) -> None:
    """Carried out, the garment measures there what body and ease ask for, to a tenth of the difference."""
    proposals = advice_for(**beyond)
    records = tuple(Record(str(number), each.step()) for number, each in enumerate(proposals))
    replayed = replay(PATTERN, records)
    assert not [each for each in replayed.findings if each.code == "step-does-not-fit"]
    difference = next(each.difference_mm for each in proposals if each.measure is measure)
    gained = finished(replayed.pattern).mm(measure) - MADE.mm(measure)
    assert gained == pytest.approx(difference, abs=max(abs(difference) / 10, 1.5))


def test_a_proposal_has_the_name_of_its_entry() -> None:
    (proposal,) = advice_for(waist=30.0)
    assert proposal.title == "Waist larger or smaller"


def test_a_shoulder_that_drops_more_than_the_other_is_lowered_alone() -> None:
    drop = FITTING[Measure.SHOULDER_DROP]
    body = Body().with_taken(
        Taken(Measure.SHOULDER_DROP, drop, hand=Hand.LEFT), Taken(Measure.SHOULDER_DROP, drop + 9.0, hand=Hand.RIGHT)
    )
    (proposal,) = advise(Case(body, PATTERN, CHART, SIZES, OWN_EASE))
    assert (proposal.entry, proposal.variant, proposal.amount_mm) == ("C07", "right", pytest.approx(9.0))
    replayed = replay(PATTERN, (Record("1", proposal.step()),))
    assert not replayed.findings


@pytest.mark.parametrize(
    ("beyond", "entry", "amount"),
    [
        ({Measure.CROTCH_DEPTH: 12.0}, "A07", 12.0),
        ({Measure.INSIDE_LEG: -30.0}, "A08", -30.0),
        ({Measure.CROTCH_LENGTH: 15.0}, "J01", 15.0),
        ({Measure.CROTCH_LENGTH: -15.0}, "J02", 15.0),
        ({Measure.THIGH: 20.0}, "J07", 10.0),
        ({Measure.WAIST: 20.0}, "G01", 5.0),
        ({Measure.HIP: 20.0}, "J10", 5.0),
    ],
)
def test_trousers_are_advised_as_trousers(beyond, entry, amount) -> None:
    pattern = draft_trousers.draft_nest().sample
    made = finished(pattern)
    ease = {measure: ease_row(measure).low_mm for measure in (*beyond, Measure.HIP)}
    ease[Measure.CROTCH_DEPTH] = crotch_depth_ease_mm(made.mm(Measure.HIP) - 50.0)
    body = {measure: made.mm(measure) - ease[measure] + beyond.get(measure, 0.0) for measure in (*beyond, Measure.HIP)}
    own = GarmentEase(tuple((measure, mm) for measure, mm in ease.items() if measure is not Measure.CROTCH_DEPTH))
    (proposal,) = advise(Case(body_of(body), pattern, ease=own))
    assert (proposal.entry, proposal.amount_mm) == (entry, pytest.approx(amount, abs=0.01))
    replayed = replay(pattern, (Record("1", proposal.step()),))
    assert "step-does-not-fit" not in [finding.code for finding in replayed.findings]


@pytest.mark.parametrize(
    ("darts", "entry", "variant"),
    [
        (("side dart", "waist dart"), "D01", ""),
        (("side dart",), "D01", "side dart"),
        (("waist dart",), "D01", "waist dart"),
        ((), "D03", ""),
    ],
)
def test_a_full_bust_uses_the_darts_there_are(darts, entry, variant) -> None:
    front = PATTERN.piece("front bodice")
    kept = replace(front, darts=tuple(dart for dart in front.darts if dart.id in darts))
    body = body_of({Measure.HIGH_BUST: 900.0, Measure.BUST: 1000.0})
    proposals = advise(Case(body, PATTERN.with_piece(kept)))
    assert [(each.entry, each.variant) for each in proposals] == [(entry, variant)]


def test_a_front_with_a_princess_seam_is_spread_in_both_panels() -> None:
    side = plain_dress.piece(
        "side front",
        {"waist": [(0, 0)], "side": [(110, 0)], "armhole": [(110, 200), (70, 200)], "princess": [(0, 380)]},
        quantity=2,
    )
    body = body_of({Measure.HIGH_BUST: 900.0, Measure.BUST: 1000.0})
    (proposal,) = advise(Case(body, replace(PATTERN, pieces=(*PATTERN.pieces, side))))
    assert proposal.entry == "D04"


def test_advice_on_the_altered_pattern_asks_only_for_the_rest() -> None:
    (first,) = advice_for(bust=40.0, front_over_bust=14.0)
    altered = replay(PATTERN, (Record("1", first.step()),)).pattern
    lengths = {measure: mm + {"bust": 40.0}.get(measure.name.lower(), 0.0) for measure, mm in FITTING.items()}
    again = advise(Case(body_of(lengths), altered, CHART, SIZES, OWN_EASE))
    assert "D01" not in [proposal.entry for proposal in again]
