"""Darts with two tips."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import distance_mm, midpoint
from geometry.alterations.anchors import free
from geometry.alterations.double_dart_steps import MakeDoubleDart, MoveDoubleDart, WidenDoubleDart
from geometry.errors import MissingPartError, StepError
from geometry.model.pattern import Pattern
from tests.geometry.drawn_panels import done
from tests.geometry.drawn_pieces import rectangle

FISH = MakeDoubleDart("panel", free((300.0, 200.0)), free((300.0, 400.0)), 20.0, "fish")


@given(width=st.floats(1.0, 60.0), dx=st.floats(-50.0, 50.0), dy=st.floats(-50.0, 50.0))
def test_a_dart_with_two_tips_is_drawn_moved_and_widened_as_it_stands(width, dx, dy):
    make = MakeDoubleDart("panel", free((200.0, 200.0)), free((200.0, 400.0)), width, "fish")
    (dart,) = done(rectangle(), make).double_darts
    assert distance_mm(dart.left, dart.right) == pytest.approx(width)
    assert midpoint(dart.left, dart.right) == pytest.approx((200.0, 300.0))
    (moved,) = done(rectangle(), make, MoveDoubleDart("panel", "fish", dx, dy)).double_darts
    assert moved.tip_start == pytest.approx((200.0 + dx, 200.0 + dy))
    (wider,) = done(rectangle(), make, WidenDoubleDart("panel", "fish", 7.0)).double_darts
    assert distance_mm(wider.left, wider.right) == pytest.approx(width + 7.0)
    assert (wider.tip_start, wider.tip_end) == (dart.tip_start, dart.tip_end)
    legs = [distance_mm(side, tip) for side in (wider.left, wider.right) for tip in (wider.tip_start, wider.tip_end)]
    assert legs == pytest.approx([legs[0]] * 4)


@pytest.mark.parametrize(
    "step",
    [
        MakeDoubleDart("panel", free((100.0, 100.0)), free((100.0, 200.0)), 0.0),
        MoveDoubleDart("panel", "fish"),
        WidenDoubleDart("panel", "fish", 0.0),
    ],
    ids=lambda step: step.kind,
)
def test_an_amount_of_nothing_changes_nothing(step):
    pattern = Pattern((done(rectangle(), FISH),))
    assert step.apply(pattern).pattern is pattern
    assert step.with_amount_mm(step.amount_mm) == step


def test_another_amount_moves_the_same_way():
    assert MoveDoubleDart("panel", "fish", 3.0, 4.0).with_amount_mm(10.0) == MoveDoubleDart("panel", "fish", 6.0, 8.0)
    assert MoveDoubleDart("panel", "fish").with_amount_mm(10.0) == MoveDoubleDart("panel", "fish", 0.0, 10.0)


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (MakeDoubleDart("panel", free((200.0, 50.0)), free((200.0, 400.0)), -4.0), "width above 0"),
        (MakeDoubleDart("panel", free((395.0, 50.0)), free((395.0, 400.0)), 40.0), '"double dart" would leave "panel"'),
        (MakeDoubleDart("panel", free((95.0, 50.0)), free((95.0, 400.0)), 40.0, "fish"), 'has a dart "fish" already'),
        (MoveDoubleDart("panel", "fish", 200.0), '"fish" would leave "panel"'),
        (WidenDoubleDart("panel", "fish", -20.0), '"fish" on "panel" is 20 mm wide and cannot take in 20 mm less'),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    with pytest.raises(StepError, match=words):
        done(rectangle(), FISH, step)


def test_a_dart_that_is_not_there_is_named():
    with pytest.raises(MissingPartError, match='"panel" has no dart with two tips called "french"; it has "fish"'):
        done(rectangle(), FISH, MoveDoubleDart("panel", "french", 5.0))
