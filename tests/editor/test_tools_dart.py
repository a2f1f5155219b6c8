"""Darts drawn with the mouse: from an edge to a tip, from tip to tip, as wide as pulled or typed."""

from __future__ import annotations

import pytest

from editor.tools.base import Propose, Taken
from editor.tools.dart import FIRST_WIDTH_MM, DartTool
from geometry.affine import Point
from geometry.alterations.anchors import On
from geometry.alterations.dart_steps import MakeDart
from geometry.alterations.double_dart_steps import MakeDoubleDart
from tests.editor.tool_scenes import Hand, pattern, seen

ON_WAIST, INSIDE, DEEPER = (80.0, 600.0), (80.0, 480.0), (80.0, 330.0)
BUST_POINT = (200.0, 420.0)


@pytest.fixture
def hand() -> Hand:
    return Hand(DartTool())


def drawn(hand: Hand, start: Point, end: Point) -> Hand:
    hand.hover(start)
    hand.pull(start, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), end)
    return hand


def proposed(hand: Hand) -> MakeDart | MakeDoubleDart:
    reply = hand.key("enter")
    assert isinstance(reply, Propose)
    assert isinstance(reply.step, MakeDart | MakeDoubleDart)
    return reply.step


def test_from_an_edge_inwards_a_dart_is_drawn_into_that_edge(hand: Hand) -> None:
    step = proposed(drawn(hand, ON_WAIST, INSIDE))
    assert isinstance(step, MakeDart)
    assert (step.at.on, step.at.name, step.amount_mm, step.aims) == (On.EDGE, "waist", FIRST_WIDTH_MM, False)
    piece = step.apply(pattern()).pattern.piece("panel")
    assert piece.darts[-1].tip == pytest.approx(INSIDE)


def test_drawn_the_other_way_round_it_is_the_same_dart(hand: Hand) -> None:
    step = proposed(drawn(hand, INSIDE, ON_WAIST))
    assert isinstance(step, MakeDart)
    assert step.at.name == "waist"


def test_inside_a_piece_it_has_two_tips(hand: Hand) -> None:
    step = proposed(drawn(hand, INSIDE, DEEPER))
    assert isinstance(step, MakeDoubleDart)
    double = step.apply(pattern()).pattern.piece("panel").double_darts[0]
    assert (double.tip_start, double.tip_end) == (pytest.approx(INSIDE), pytest.approx(DEEPER))


def test_towards_a_body_point_it_stops_short_until_b_is_pressed(hand: Hand) -> None:
    drawn(hand, ON_WAIST, BUST_POINT)
    assert hand.tool.letters == "b"
    hand.key("b")
    ends_there = proposed(hand)
    hand.key("b")
    stops_short = proposed(hand)
    assert isinstance(ends_there, MakeDart)
    assert isinstance(stops_short, MakeDart)
    assert (ends_there.aims, stops_short.aims) == (False, True)
    assert stops_short.tip.on is On.LANDMARK


def test_a_leg_is_pulled_and_the_piece_shown_is_what_enter_does(hand: Hand) -> None:
    drawn(hand, ON_WAIST, INSIDE)
    hand.press((90.0, 598.0))
    hand.drag((95.0, 590.0))
    hand.release((95.0, 590.0))
    assert hand.tool.amount_mm == pytest.approx(30.0, abs=1.0)
    shown = seen(hand).piece
    assert shown == proposed(hand).apply(pattern()).pattern.piece("panel")


def test_an_amount_can_be_typed_and_nudged(hand: Hand) -> None:
    drawn(hand, ON_WAIST, INSIDE)
    hand.tool.set_amount(25.4, hand.scene)
    hand.key("up")
    hand.key("left", shift=True)
    assert hand.tool.amount_mm == pytest.approx(21.4)


def test_what_does_not_fit_is_said_and_not_done(hand: Hand) -> None:
    drawn(hand, ON_WAIST, INSIDE)
    hand.tool.set_amount(300.0, hand.scene)
    readout = seen(hand).readout
    assert readout is not None
    assert readout.refused
    assert isinstance(hand.key("enter"), Taken)


def test_a_click_without_a_line_draws_nothing_and_escape_drops_all(hand: Hand) -> None:
    hand.press(ON_WAIST)
    hand.release(ON_WAIST)
    assert hand.tool.amount_mm is None
    hand.hover(INSIDE)
    hand.press(INSIDE)
    hand.release(INSIDE)
    assert hand.tool.amount_mm == FIRST_WIDTH_MM
    hand.tool.cancel()
    assert not hand.tool.is_busy
