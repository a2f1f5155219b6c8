"""Neighbours that go with what an entry moves: a dart below the waist seam, the waist itself, the other shoulder.

That darts are moved equally on both sides of a waist seam, and that shoulders are narrowed alike, is common practice,
from memory.
"""

from __future__ import annotations

import pytest

from geometry.alterations.dart_steps import MoveDart
from geometry.alterations.handbook.alteration import Alteration
from geometry.checks.pairing import propose_seams
from geometry.checks.run import check_pattern
from geometry.checks.walking import StopKind, walk
from geometry.findings import Level
from geometry.model.pattern import Pattern, SeamKind
from geometry.tolerance import WARN_MM
from samples.size_table import SIZES
from tests.geometry.handbook.patterns import dress

FRONT, SKIRT = "front bodice", "front skirt"


def offset_mm(pattern: Pattern) -> float:
    """How much further from the centre front the bodice's waist dart is sewn than the skirt's."""
    seam = next(
        seam
        for seam in propose_seams(pattern)
        if seam.kind is SeamKind.WAIST and SKIRT in {r.piece for r in seam.first + seam.second}
    )
    dart = next(each for each in walk(pattern, seam).meetings if each.stop.kind is StopKind.DART)
    assert dart.offset_from_start_mm is not None
    return dart.offset_from_start_mm


def stops(after: Pattern, before: Pattern) -> set[str]:
    return {found.code for found in check_pattern(after, base=before) if found.level is Level.STOP}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("entry", "amount"), [("D07", 12.0), ("D07", -9.0)])
def test_the_skirt_dart_goes_with_the_bodice_dart_it_meets(size: str, entry: str, amount: float):
    pattern = dress(size)
    after = Alteration(entry, amount).apply(pattern).pattern
    assert offset_mm(after) == pytest.approx(offset_mm(pattern), abs=1e-6)
    assert not stops(after, pattern)


@pytest.mark.parametrize("amount", [-40.0, -15.0, 10.0, 60.0])
def test_a_longer_front_leaves_darts_that_meet_within_an_eighth_of_an_inch(amount: float):
    pattern = dress("10")
    after = Alteration("A03", amount).apply(pattern).pattern
    assert abs(offset_mm(after)) <= 3.175
    assert (after.piece(SKIRT) is pattern.piece(SKIRT)) == (abs(amount) < 40.0)
    assert not stops(after, pattern)


def test_darts_that_were_apart_stay_as_far_apart():
    pattern = MoveDart(SKIRT, "waist dart", 2.0).apply(dress("10")).pattern
    assert abs(offset_mm(pattern)) == pytest.approx(2.0, abs=0.01)
    after = Alteration("D07", 10.0).apply(pattern).pattern
    assert offset_mm(after) == pytest.approx(offset_mm(pattern), abs=1e-6)


@pytest.mark.parametrize("entry", ["A03", "D07"])
def test_limited_to_the_bodice_the_skirt_stays(entry: str):
    pattern = dress("10")
    after = Alteration(entry, 20.0, pieces=(FRONT,)).apply(pattern).pattern
    assert after.piece(SKIRT) is pattern.piece(SKIRT)


@pytest.mark.parametrize("amount", [20.0, -20.0])
def test_what_straightening_the_centre_adds_to_the_waist_goes_into_its_dart(amount: float):
    before = dress("10").piece(FRONT)
    after = Alteration("A03", amount).apply(dress("10")).pattern.piece(FRONT)
    grown = after.edge("waist").length_mm - before.edge("waist").length_mm
    taken = after.intake_mm(after.dart("waist dart")) - before.intake_mm(before.dart("waist dart"))
    assert after.sewn_length_mm("waist") == pytest.approx(before.sewn_length_mm("waist"), abs=WARN_MM)
    assert taken * amount > 0
    assert abs(taken) > 2.0 > abs(grown - taken), "the dart changed, not a side seam"


@pytest.mark.parametrize("variant", ["to the waist", "to the bust dart"])
@pytest.mark.parametrize("amount", [10.0, -10.0])
def test_the_back_shoulder_changes_as_the_front_shoulder_does_and_keeps_its_armhole(variant: str, amount: float):
    pattern = dress("10")
    after = Alteration("B09", amount, variant).apply(pattern).pattern
    front, back = (
        after.piece(n).sewn_length_mm("shoulder") - pattern.piece(n).sewn_length_mm("shoulder")
        for n in (FRONT, "back bodice")
    )
    assert front * amount < 0
    assert back == pytest.approx(front, abs=0.5)
    armholes = [each.piece("back bodice").sewn_length_mm("armhole") for each in (pattern, after)]
    assert armholes[0] == pytest.approx(armholes[1], abs=WARN_MM)
    assert "neighbour-not-changed" not in stops(after, pattern)
