"""Notches moved, added, taken away: never into a dart, never off their edge."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.alterations.anchors import free, on_edge
from geometry.alterations.notch_steps import AddNotch, MoveNotch, RemoveNotch
from geometry.errors import MissingPartError, StepError
from geometry.model.marks import Notch, NotchKind
from geometry.model.pattern import Pattern
from tests.geometry.drawn_panels import DARTED, done
from tests.geometry.drawn_pieces import rectangle


@given(by=st.floats(-100.0, 100.0))
def test_a_notch_moves_along_the_folded_edge_and_never_into_a_dart(by):
    piece = replace(DARTED, notches=(Notch("mark", "waist", 110.0),))
    after = done(piece, MoveNotch("panel", "mark", by))
    notch = after.notch("mark")
    assert after.sewn_station_mm("waist", notch.at_mm) == pytest.approx(110.0 + by)
    dart = after.dart("waist dart")
    assert not dart.from_mm < notch.at_mm < dart.to_mm


def test_a_notch_is_moved_to_a_place_added_and_taken_away():
    piece = rectangle()
    assert done(piece, MoveNotch("panel", "hip", 10.0, on_edge("side", 0.5))).notch("hip").at_mm == pytest.approx(310.0)
    added = done(piece, AddNotch("panel", free((100.0, 600.0)), 20.0, "ease", NotchKind.V, "waist ease"))
    assert added.notch("ease") == Notch("ease", "waist", pytest.approx(320.0), NotchKind.V, partner="waist ease")
    assert done(added, RemoveNotch("panel", "ease")) == piece
    assert [notch.id for notch in done(piece, *[AddNotch("panel", on_edge("side", 0.5))] * 2).notches] == [
        "hip",
        "side notch",
        "side notch 2",
    ]


def test_moving_by_nothing_leaves_the_same_object():
    pattern = Pattern((rectangle(),))
    for step in (MoveNotch("panel", "hip", 0.0), MoveNotch("panel", "hip", 0.0, on_edge("side", 0.7))):
        assert step.apply(pattern).pattern is pattern
        assert step.with_amount_mm(step.amount_mm) == step


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (MoveNotch("panel", "hip", 5000.0), '"hip" on "panel" would leave the edge "side"'),
        (MoveNotch("panel", "hip", 0.0, on_edge("waist", 0.5)), 'edge "side" of "panel" lies 200 mm off it'),
        (AddNotch("panel", free((150.0, 300.0))), 'A notch on "panel" must lie on an edge'),
        (AddNotch("panel", on_edge("hem", 0.5), notch="hip"), 'has a notch "hip" already'),
        (AddNotch("panel", on_edge("hem", 0.5), depth_mm=-1.0), "less than 0 mm deep"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    with pytest.raises(StepError, match=words):
        done(rectangle(), step)


def test_a_notch_that_is_not_there_is_named():
    for step in (MoveNotch("panel", "knee", 5.0), RemoveNotch("panel", "knee")):
        with pytest.raises(MissingPartError, match='"panel" has no notch called "knee"'):
            done(rectangle(), step)
