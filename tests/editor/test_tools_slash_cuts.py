"""A recorded slash with several openings, taken in hand again cut by cut."""

from dataclasses import replace

import pytest

from editor.tools.base import ChalkKind, ChangeStep, SpotKind, Taken
from editor.tools.slash import SlashTool
from geometry.affine import Point
from geometry.alterations.anchors import on_edge
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from tests.editor.tool_scenes import PANEL_AT, Hand, opening, seen, slash_hand


def three_cuts() -> Slash:
    """Three level cuts at 150, 300 and 450 mm, and a line between the first two that opens as they make it."""
    cuts = (
        level(0.25, 10.0, Hinge.END, Side.RIGHT),
        level(0.375, None, Hinge.NONE, Side.LEFT),
        level(0.5, 20.0, Hinge.NONE, Side.LEFT),
        level(0.75, -5.0, Hinge.START, Side.LEFT),
    )
    return Slash("panel", cuts, reach_mm=40.0)


def level(share: float, opening_mm: float | None, hinge: Hinge, moving: Side) -> SlashCut:
    return SlashCut((on_edge("centre front", 1.0 - share), on_edge("side", share)), opening_mm, hinge, moving)


def with_opening(step: Slash, place: int, opening_mm: float) -> Slash:
    cuts = list(step.cuts)
    cuts[place] = replace(cuts[place], opening_mm=opening_mm)
    return replace(step, cuts=tuple(cuts))


def three_in_hand() -> Hand:
    hand = slash_hand()
    assert isinstance(hand.tool, SlashTool)
    piece = hand.scene.pattern.piece("panel")
    hand.tool.reopen("7", three_cuts(), piece, lambda step: step.apply(hand.scene.pattern))
    return hand


def test_a_recorded_slash_with_several_openings_is_in_hand_by_its_first_and_unchanged() -> None:
    hand = three_in_hand()
    assert hand.tool.is_busy
    assert not hand.tool.holds_change
    assert (hand.tool.amount_mm, hand.tool.letters) == (10.0, "np")
    assert opening(hand).step == three_cuts()
    assert hand.key("enter") == ChangeStep("7", three_cuts())


def test_the_first_cut_in_hand_is_the_first_that_opens() -> None:
    hand, step = slash_hand(), replace(three_cuts(), cuts=three_cuts().cuts[1:])
    assert isinstance(hand.tool, SlashTool)
    hand.tool.reopen("7", step, hand.scene.pattern.piece("panel"), lambda step: step.apply(hand.scene.pattern))
    assert (hand.tool.amount_mm, opening(hand).place) == (20.0, 1)
    assert opening(hand).step == step


def test_n_and_p_go_round_the_cuts_that_open() -> None:
    hand = three_in_hand()
    seen_mm = []
    for letter in "nnnppp":
        assert hand.key(letter) == Taken()
        seen_mm.append(hand.tool.amount_mm)
        assert opening(hand).step == three_cuts()
    assert seen_mm == [20.0, -5.0, 10.0, -5.0, 20.0, 10.0]
    assert not hand.tool.holds_change


def test_only_the_cut_in_hand_changes_and_the_order_of_the_cuts_stays() -> None:
    hand = three_in_hand()
    hand.key("n")
    hand.tool.set_amount(32.0, hand.scene)
    expected = with_opening(three_cuts(), 2, 32.0)
    assert hand.tool.holds_change
    assert seen(hand).piece == expected.apply(hand.scene.pattern).pattern.piece("panel")
    hand.key("p")
    assert hand.tool.amount_mm == 10.0
    assert hand.tool.holds_change
    assert hand.key("enter") == ChangeStep("7", expected)


def test_several_cuts_are_changed_one_after_the_other() -> None:
    hand = three_in_hand()
    hand.key("up", "n", "n", "down")
    assert hand.key("enter") == ChangeStep("7", with_opening(with_opening(three_cuts(), 0, 11.0), 3, -6.0))


def test_a_click_on_another_cut_takes_it_in_hand_and_its_handle_opens_it_alone() -> None:
    hand = three_in_hand()
    hand.click((120.0, 302.0))
    assert (opening(hand).place, hand.tool.amount_mm) == (2, 20.0)
    handle = opening(hand).handle
    to = (handle[0] + 7.0 * opening(hand).pulled[0], handle[1] + 7.0 * opening(hand).pulled[1])
    hand.pull(handle, to)
    assert opening(hand).step == with_opening(three_cuts(), 2, 27.0)


@pytest.mark.parametrize("place", [(120.0, 225.0), (120.0, 50.0), (120.0, 152.0)])
def test_a_click_on_no_other_opening_leaves_the_cut_in_hand(place: Point) -> None:
    hand = three_in_hand()
    before = opening(hand)
    hand.click(place)
    assert opening(hand) == before


def test_the_readout_and_the_handle_tell_which_cut_is_in_hand() -> None:
    hand = three_in_hand()
    hand.key("n")
    preview = seen(hand)
    assert preview.readout is not None
    assert preview.readout.lines[:2] == ('Open 2 cm · ~13/16"', "Slash line 3 of 4")
    assert [spot.at[1] - PANEL_AT[1] for spot in preview.spots if spot.kind is SpotKind.END] == [300.0, 300.0]
    drawn = [chalk.points[0][1] - PANEL_AT[1] for chalk in preview.chalk if chalk.kind is ChalkKind.CUT]
    assert sorted(drawn) == [150.0, 225.0, 300.0, 450.0]
    assert "N or P" in preview.hint


def test_escape_leaves_a_slash_with_several_openings_as_recorded() -> None:
    hand = three_in_hand()
    hand.key("up", "n", "up")
    assert hand.tool.cancel() is None
    assert not hand.tool.is_busy
    assert not hand.tool.holds_change


def test_a_cut_whose_sides_go_half_the_way_each_stays_so_and_only_as_the_first() -> None:
    hand, first = slash_hand(), level(0.25, 10.0, Hinge.NONE, Side.BOTH)
    step = Slash("panel", (first, level(0.5, 20.0, Hinge.NONE, Side.BOTH)))
    assert isinstance(hand.tool, SlashTool)
    hand.tool.reopen("7", step, hand.scene.pattern.piece("panel"), lambda step: step.apply(hand.scene.pattern))
    state = opening(hand)
    assert state.motion.point((0.0, 0.0)) == pytest.approx((5.0 * state.pulled[0], 5.0 * state.pulled[1]))
    assert state.rest.point((0.0, 0.0)) == pytest.approx((-5.0 * state.pulled[0], -5.0 * state.pulled[1]))
    hand.pull(state.handle, (state.handle[0] + 3.0 * state.pulled[0], state.handle[1] + 3.0 * state.pulled[1]))
    assert opening(hand).step == with_opening(step, 0, 16.0)
    hand.key("n")
    assert opening(hand).rest.point((0.0, 0.0)) == (0.0, 0.0)
    assert hand.key("enter") == ChangeStep("7", with_opening(step, 0, 16.0))
