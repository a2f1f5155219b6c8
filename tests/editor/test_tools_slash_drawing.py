import pytest

from editor.tools.slash import SlashTool
from editor.tools.slash_states import Drawing, Idle
from geometry.alterations.anchors import On
from geometry.alterations.slash import Hinge
from tests.editor.tool_scenes import (
    AWAY,
    LEFT_END,
    RIGHT_END,
    level_cut,
    opening,
    seen,
    slash_hand,
)


def test_press_drag_release_draws_a_line_from_edge_to_edge() -> None:
    state = opening(level_cut())
    assert state.line.ends == (pytest.approx(LEFT_END), pytest.approx(RIGHT_END))
    assert (state.opening_mm, state.hinge) == (0.0, Hinge.NONE)


def test_click_and_click_draws_the_same_line() -> None:
    hand = slash_hand()
    hand.click(LEFT_END, RIGHT_END)
    assert opening(hand).step == opening(level_cut()).step


def test_places_on_edges_are_kept_as_shares() -> None:
    (cut,) = opening(level_cut()).step.cuts
    assert [(anchor.on, anchor.name) for anchor in cut.line] == [(On.EDGE, "centre front"), (On.EDGE, "side")]
    assert [anchor.share for anchor in cut.line] == pytest.approx([400 / 600, 200 / 600])


def test_clicks_inside_bend_the_line() -> None:
    hand = slash_hand()
    hand.click((100.0, 0.0), (200.0, 420.0), (400.0, 300.0))
    (cut,) = opening(hand).step.cuts
    assert [anchor.on for anchor in cut.line] == [On.EDGE, On.LANDMARK, On.EDGE]


def test_a_second_click_on_the_last_place_ends_the_line_inside() -> None:
    hand = slash_hand()
    hand.click((400.0, 300.0), (200.0, 420.0), (200.0, 420.0))
    state = opening(hand)
    assert state.line.ends_inside
    assert state.hinge is Hinge.END


def test_a_double_click_or_enter_ends_the_line_inside_too() -> None:
    for finish in (lambda hand: hand.press((200.0, 420.0), clicks=2), lambda hand: hand.key("enter")):
        hand = slash_hand()
        hand.click((400.0, 300.0), (200.0, 420.0))
        finish(hand)
        assert opening(hand).line.ends_inside


def test_a_line_begun_inside_is_turned_to_start_on_the_outline() -> None:
    hand = slash_hand()
    hand.click((200.0, 420.0), (400.0, 300.0))
    line = opening(hand).line
    assert line.ends == (pytest.approx((400.0, 300.0)), pytest.approx((200.0, 420.0)))


def test_backspace_takes_the_last_place_back() -> None:
    hand = slash_hand()
    hand.click((100.0, 0.0), (200.0, 420.0))
    hand.key("backspace")
    assert isinstance(hand.tool, SlashTool)
    assert isinstance(hand.tool.state, Drawing)
    assert len(hand.tool.state.points) == 1
    hand.key("backspace")
    assert isinstance(hand.tool.state, Idle)


def test_a_press_on_the_bare_table_begins_nothing() -> None:
    hand = slash_hand()
    hand.click(AWAY)
    assert not hand.tool.is_busy


def test_while_drawing_the_caught_thing_is_named() -> None:
    hand = slash_hand()
    hand.click((100.0, 0.0))
    hand.hover((201.0, 424.0))
    readout = seen(hand).readout
    assert readout is not None
    assert readout.lines[0] == "bust point"


def test_shift_draws_square_to_the_grain() -> None:
    hand = slash_hand()
    hand.click(LEFT_END)
    hand.hover((395.0, 260.0), shift=True)
    assert isinstance(hand.tool, SlashTool)
    assert isinstance(hand.tool.state, Drawing)
    assert hand.tool.state.loose is not None
    assert hand.tool.state.loose.at == pytest.approx(RIGHT_END)
