"""Grain lines, numbers to cut and drill holes put right, and holes that go with their darts."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import distance_mm, midpoint
from geometry.alterations.cutting_marks import HOLE_INSIDE_MM, DrawGrain, PlaceHole, SetQuantity
from geometry.alterations.dart_sharing import SplitDart
from geometry.alterations.handbook.alteration import alteration
from geometry.alterations.handbook.registry import ENTRIES
from geometry.checks.run import check_pattern
from geometry.errors import PatternError, StepError
from geometry.model.marks import Label, MarkKind
from samples.draft_dress import draft_nest

DRESS = draft_nest().sample
FRONT = DRESS.piece("front bodice")


@given(st.floats(-80.0, 80.0))
def test_a_grain_line_is_drawn_at_an_angle_through_the_middle_of_the_old_one(turn_deg: float) -> None:
    after = DrawGrain("front bodice", "centre front", turn_deg).apply(DRESS).pattern.piece("front bodice")
    old, new, edge = FRONT.grain, after.grain, FRONT.edge("centre front")
    assert old is not None
    assert new is not None
    assert midpoint(new.start, new.end) == pytest.approx(midpoint(old.start, old.end))
    assert distance_mm(new.start, new.end) == pytest.approx(distance_mm(old.start, old.end))
    along = math.atan2(edge.end[1] - edge.start[1], edge.end[0] - edge.start[0])
    turned = math.atan2(new.end[1] - new.start[1], new.end[0] - new.start[0]) - along
    assert math.remainder(turned - math.radians(turn_deg), math.tau) == pytest.approx(0.0, abs=1e-9)


def test_a_missing_grain_line_is_drawn_inside_along_the_fold() -> None:
    bare = DRESS.with_piece(replace(FRONT, grain=None))
    grain = DrawGrain("front bodice", "centre front").apply(bare).pattern.piece("front bodice").grain
    assert grain is not None
    assert grain.start[0] == pytest.approx(grain.end[0])
    assert check_pattern(DRESS.with_piece(replace(FRONT, grain=grain))) == ()


def test_number_and_words_to_the_cutter_agree() -> None:
    labels = (Label("Cut 2 in cloth", (60.0, 300.0)), Label("size 10", (60.0, 280.0)))
    pattern = DRESS.with_piece(replace(FRONT, labels=labels))
    after = SetQuantity("front bodice", 1).apply(pattern).pattern.piece("front bodice")
    assert [label.text for label in after.labels] == ["Cut 1 on the fold in cloth", "size 10"]
    sleeve = DRESS.piece("sleeve")
    wrong = DRESS.with_piece(replace(sleeve, quantity=1, labels=(Label("Cut 1 on the fold", (30.0, -220.0)),)))
    once = SetQuantity("sleeve", 2).apply(wrong).pattern.piece("sleeve")
    assert (once.quantity, once.labels[0].text) == (2, "Cut 2")
    with pytest.raises(StepError, match="at least once"):
        SetQuantity("sleeve", 0).apply(DRESS)


def test_a_hole_is_put_inside_its_dart() -> None:
    hole = next(mark for mark in FRONT.marks if mark.kind is MarkKind.DRILL)
    dart = next(each for each in FRONT.darts if each.id == hole.id)
    after = PlaceHole("front bodice", hole.id, dart.id).apply(DRESS).pattern.piece("front bodice")
    moved = next(mark for mark in after.marks if (mark.id, mark.kind) == (hole.id, MarkKind.DRILL))
    assert distance_mm(moved.at, dart.tip) == pytest.approx(HOLE_INSIDE_MM)
    with pytest.raises(StepError, match="must lie inside"):
        PlaceHole("front bodice", hole.id, dart.id, 900.0).apply(DRESS)
    with pytest.raises(PatternError, match="no drill hole"):
        PlaceHole("front bodice", "none", dart.id).apply(DRESS)


@pytest.mark.parametrize(
    ("piece", "dart"),
    [("front bodice", "waist dart"), ("back bodice", "waist dart"), ("front skirt", "waist dart")],
)
@pytest.mark.parametrize("amount_mm", [25.0, -25.0])
def test_a_split_dart_takes_its_hole_along(piece: str, dart: str, amount_mm: float) -> None:
    after = SplitDart(piece, dart, amount_mm).apply(DRESS).pattern
    assert [finding.about for finding in check_pattern(after) if finding.code == "drill-hole"] == []


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.code)
def test_no_alteration_of_the_handbook_leaves_a_hole_outside_its_dart(entry) -> None:
    try:
        after = alteration(entry).apply(DRESS).pattern
    except PatternError:
        pytest.skip("not for this style")
    assert [finding.about for finding in check_pattern(after) if finding.code == "drill-hole"] == []
