"""The register of the handbook is complete and every entry says what a person needs to know."""

import re

import pytest

from geometry.alterations.handbook.alteration import Alteration, alteration
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.registry import ENTRIES, akin_to, entry_of
from geometry.errors import StepError
from samples import draft_dress, draft_gored_skirt, draft_trousers

COUNTS = {"A": 8, "B": 9, "C": 8, "D": 12, "E": 8, "F": 3, "G": 4, "H": 9, "I": 9, "J": 13}
"""Entries of each region of the handbook, 83 in all; their core is the index of USDA report 32."""

EVERY = [pytest.param(entry, id=entry.code) for entry in ENTRIES]
LONGEST_CAUTION = 200


def test_codes_are_those_of_the_handbook_in_its_order_each_once():
    codes = [f"{region}{number:02d}" for region, count in COUNTS.items() for number in range(1, count + 1)]
    assert len(codes) == 83
    known = [entry.code for entry in ENTRIES]
    assert known == codes


def test_names_are_different():
    names = [entry.name for entry in ENTRIES]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("entry", EVERY)
def test_an_entry_has_all_its_texts(entry: Entry):
    for text in (entry.name, entry.symptom, entry.does, entry.inverse, entry.source, entry.amount.meaning):
        assert text.strip() == text
        assert text
    assert entry.symptom.endswith(".")
    assert entry.inverse.endswith(".")
    assert 2 <= len(re.findall(r"[.;:](?:\s|$)", entry.does)) <= 6
    assert entry.needs
    assert entry.touches
    assert entry.check_after
    assert all(text.endswith(".") for text in entry.check_after)


@pytest.mark.parametrize("entry", EVERY)
def test_an_amount_has_a_range_around_nothing_and_a_default_in_it(entry: Entry):
    amount = entry.amount
    assert amount.least_mm < 0 < amount.default_mm <= amount.most_mm
    assert alteration(entry).amount_mm == amount.default_mm


@pytest.mark.parametrize("entry", EVERY)
def test_cautions_are_due_within_the_range_and_told_above_their_limit_only(entry: Entry):
    low, high = entry.amount.least_mm, entry.amount.most_mm
    for caution in entry.amount.cautions:
        assert 0 < caution.above_mm < max(high, -low)
        assert caution.text.endswith(".")
        assert len(caution.text) <= LONGEST_CAUTION
        assert caution.text in entry.amount.cautions_at(caution.above_mm + 0.1)
        assert caution.text not in entry.amount.cautions_at(-caution.above_mm)


@pytest.mark.parametrize("entry", EVERY)
def test_what_is_kept_is_on_pieces_that_are_touched_or_beside_them(entry: Entry):
    assert {kept.piece for kept in entry.keeps} <= set(entry.touches)


@pytest.mark.parametrize("entry", EVERY)
def test_variants_have_different_names_and_the_first_is_taken(entry: Entry):
    names = [variant.name for variant in entry.variants]
    assert len(set(names)) == len(names)
    assert all(variant.words for variant in entry.variants)
    assert entry.variant("") == (names[0] if names else "")


def test_an_unknown_code_or_variant_is_refused_by_name():
    with pytest.raises(StepError, match='no alteration "Z99"'):
        entry_of("Z99")
    with pytest.raises(StepError, match='has no variant "sideways"; it has "waist and side dart"'):
        Alteration("D01", 10.0, "sideways")


@pytest.mark.parametrize("entry", EVERY)
def test_what_is_akin_to_an_entry_has_it_among_its_own(entry: Entry):
    for other in akin_to(entry.code):
        assert other is not entry
        assert entry in akin_to(other.code)


def test_every_way_of_a_full_bust_leads_to_the_others():
    assert {"D03", "D04"} <= {other.code for other in akin_to("D01")}


@pytest.mark.parametrize("draft", [draft_dress, draft_trousers, draft_gored_skirt])
def test_an_entry_fits_a_pattern_if_it_finds_the_pieces_that_it_begins_on(draft):
    pattern = draft.draft_nest().sample
    for entry in ENTRIES:
        missing = "no piece to alter" in alteration(entry).laid_out(pattern).trouble
        assert entry.fits(pattern) is not missing, entry.code
