"""Places noted on the cloth go along with every step, as a pin in it does: closed forms of shifts and turns."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from geometry.affine import distance_mm
from geometry.alterations.anchors import on_edge
from geometry.alterations.carried_places import carried, place_before
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.model.pattern import Pattern
from samples.draft_dress import draft_nest
from tests.geometry.drawn_pieces import rectangle

BASE = Pattern((rectangle(),))
DRESS = draft_nest().pattern("10")


def slash(opening_mm: float, hinge: Hinge = Hinge.NONE) -> Record:
    cut = SlashCut((on_edge("side", 0.5), on_edge("centre front", 0.5)), opening_mm, hinge, Side.LEFT)
    return Record("1", Slash("panel", (cut,)))


def test_a_place_below_a_cut_goes_down_and_one_above_it_stays() -> None:
    below, above = carried(BASE, (slash(30.0),), (("panel", (200.0, 100.0)), ("panel", (200.0, 500.0))))
    assert below == (("panel", pytest.approx((200.0, 70.0))),)
    assert above == (("panel", pytest.approx((200.0, 500.0))),)


def test_a_place_turns_with_its_part() -> None:
    """A wedge of 30 mm over 400 mm turns what lies below it about the side by 2 asin(30 / 2 / 400)."""
    turn = 2 * math.asin(30.0 / 2 / 400.0)
    ((_, at),) = carried(BASE, (slash(30.0, Hinge.START),), (("panel", (200.0, 300.0 - 150.0)),))[0]
    expected = (
        400.0 - 200.0 * math.cos(turn) + 150.0 * math.sin(turn),
        300.0 - 200.0 * math.sin(turn) - 150.0 * math.cos(turn),
    )
    assert at == pytest.approx(expected)


@given(x=st.floats(10.0, 390.0), y=st.floats(10.0, 590.0), opening=st.floats(-20.0, 40.0))
def test_where_a_place_came_from_is_taken_back_to_it(x: float, y: float, opening: float) -> None:
    records = (slash(opening, Hinge.START),)
    before = place_before(BASE, records, ("panel", (x, y)))
    assume(before is not None)
    ((_, at),) = carried(BASE, records, (before,))[0]
    assert distance_mm(at, (x, y)) <= 0.5


def test_paper_that_was_put_in_has_no_place_before() -> None:
    assert place_before(BASE, (slash(30.0),), ("panel", (200.0, 285.0))) is None


def test_a_place_goes_along_with_a_full_bust_as_the_landmark_there() -> None:
    records = (Record("1", Alteration("D01", 20.0)), Record("2", Alteration("A01", 15.0), on=False))
    front = DRESS.piece("front bodice")
    ((_, at),) = carried(DRESS, records, (("front bodice", front.landmark("bust point")),))[0]
    assert at == replay(DRESS, records).pattern.piece("front bodice").landmark("bust point")
