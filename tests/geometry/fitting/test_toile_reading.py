"""The guide to a toile: every place has signs, every cause leads to an alteration of the handbook."""

from __future__ import annotations

import re

import pytest

from geometry.alterations.handbook.registry import entry_of
from geometry.errors import StepError
from geometry.fitting.toile_reading import GENERAL, SYMPTOMS, in_order, places, signs_at, symptoms
from geometry.fitting.toile_signs import Cause, Place, Sign
from geometry.model.pattern import Pattern
from samples import draft_dress, draft_gored_skirt, draft_trousers

PUBLISHED = (
    # USDA Fitting Dresses, 1946
    (Place.SHOULDER, Sign.LOOSE, ("C04", "F02")),
    (Place.SHOULDER, Sign.LOW, ("C02",)),
    (Place.BUST, Sign.LOW, ("B08", "A03")),
    (Place.UPPER_BACK, Sign.LOOSE, ("E07", "E06")),
    (Place.HIP, Sign.STRAINED, ("H01", "H02")),
    # Washington State E.M. 2246; The New Dressmaker
    (Place.SHOULDER, Sign.SLANTING, ("C03",)),
    # Weiland, Shoulder savvy
    (Place.SHOULDER, Sign.RIDES_UP, ("C01",)),
    # an early dressmaking text
    (Place.BUST, Sign.LOOSE, ("D02", "D11")),
    (Place.UPPER_BACK, Sign.SLANTING, ("E02", "E03")),
    # Sewing Artistry: the hip first
    (Place.BACK_WAIST, Sign.ACROSS, ("H01", "E06", "A01", "J10", "J09")),
    # Threads
    (Place.UPPER_BACK, Sign.STRAINED, ("E04", "E08")),
    (Place.SLEEVE, Sign.SLANTING, ("I07",)),
    # Betzina
    (Place.SEAT, Sign.RIDES_UP, ("H05",)),
    # The Modern Tailor, Outfitter and Clothier
    (Place.CROTCH, Sign.LOOSE, ("J04",)),
    # a menswear column
    (Place.CROTCH, Sign.UPRIGHT, ("J02",)),
    (Place.CROTCH, Sign.SLANTING, ("J05",)),
)


@pytest.mark.parametrize(("place", "sign", "entries"), PUBLISHED)
def test_what_is_published_of_a_sign_leads_to_its_alteration(place, sign, entries) -> None:
    (symptom,) = symptoms(place, sign)
    assert tuple(cause.entry for cause in symptom.causes) == entries


def test_every_place_can_be_asked_and_every_sign_there_has_an_answer() -> None:
    assert places() == tuple(Place)
    for place in places():
        told = [each for sign in signs_at(place) for each in symptoms(place, sign)]
        assert sorted(each.name for each in told) == sorted(each.name for each in symptoms(place))
        for sign in signs_at(place):
            assert symptoms(place, sign)


DRESS_ONLY = {Place.NECK, Place.SHOULDER, Place.ARMHOLE, Place.CHEST, Place.BUST, Place.UPPER_BACK, Place.SLEEVE}
SKIRT_ONLY = {Place.SKIRT_FRONT, Place.HIP, Place.SEAT, Place.HEM}
TROUSERS_ONLY = {Place.CROTCH, Place.LEG}


@pytest.mark.parametrize(
    ("pattern", "missing"),
    [
        (draft_dress.draft_nest().sample, TROUSERS_ONLY),
        (draft_trousers.draft_nest().sample, DRESS_ONLY | SKIRT_ONLY),
        (draft_gored_skirt.draft_nest().sample, DRESS_ONLY | TROUSERS_ONLY),
    ],
    ids=["dress", "trousers", "gored skirt"],
)
def test_a_garment_is_asked_only_for_what_its_pieces_can_show(pattern, missing) -> None:
    assert set(places(pattern)) == set(Place) - missing
    causes = [cause for place in Place for each in symptoms(place, pattern=pattern) for cause in each.causes]
    assert causes
    assert all(entry_of(cause.entry).fits(pattern) for cause in causes)


def test_trousers_with_rolls_above_the_seat_are_widened_at_the_hip_first() -> None:
    (symptom,) = symptoms(Place.BACK_WAIST, pattern=draft_trousers.draft_nest().sample)
    assert [cause.entry for cause in symptom.causes] == ["J10", "J09"]


def test_of_pieces_that_say_nothing_everything_is_offered() -> None:
    assert places(Pattern(())) == tuple(Place)


def test_every_symptom_has_a_name_of_its_own_words_causes_and_a_source() -> None:
    names = [symptom.name for symptom in SYMPTOMS]
    assert len(set(names)) == len(names)
    for symptom in SYMPTOMS:
        assert re.fullmatch(r"[a-z-]+", symptom.name)
        assert symptom.looks.endswith(".")
        assert symptom.recheck.endswith(".")
        assert symptom.causes
        assert symptom.source
        assert len({cause.entry for cause in symptom.causes}) == len(symptom.causes)


def test_every_cause_starts_with_an_amount_that_its_entry_takes() -> None:
    for cause in (cause for symptom in SYMPTOMS for cause in symptom.causes):
        assert cause.amount_mm > 0
        step = cause.step()
        entry_of(cause.entry).refuse_amount(step.amount_mm)
        entry_of(cause.entry).variant(step.variant)


def test_pinned_amounts_are_shared_as_the_handbook_shares_them() -> None:
    assert Cause("too wide", "B01", 6.35).step(20.0).amount_mm == 10.0
    assert Cause("too long", "A01", 15.0, sign=-1).step(20.0).amount_mm == -20.0
    assert Cause("too long", "A01", 15.0, sign=-1).step().amount_mm == -15.0


def test_a_cause_that_the_handbook_does_not_have_is_refused() -> None:
    with pytest.raises(StepError):
        Cause("unknown", "Z99", 5.0).step()


def test_several_symptoms_are_put_right_from_the_top_down() -> None:
    """A sewing reference book, from memory: shoulders and neck, bust, back, waist, hip, sleeve."""
    found = tuple(symptoms(place)[0] for place in (Place.SLEEVE, Place.HIP, Place.BUST, Place.SHOULDER))
    assert [symptom.place for symptom in in_order(found)] == [Place.SHOULDER, Place.BUST, Place.HIP, Place.SLEEVE]
    assert any("one thing" in sentence for sentence in GENERAL)
