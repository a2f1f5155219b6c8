import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor.tools.base import ChalkKind, ChangeStep, Propose, SpotKind, Taken
from editor.tools.slash import SlashTool
from editor.tools.slash_states import Drawing
from geometry.affine import Point
from geometry.alterations.anchors import On, on_edge
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.step import Outcome
from geometry.model.pattern import Pattern
from geometry.units import Unit
from tests.editor.tool_scenes import (
    AWAY,
    LEFT_END,
    PANEL_AT,
    RIGHT_END,
    level_cut,
    opening,
    panel,
    scene,
    seen,
    slash_hand,
)
from tests.geometry.drawn_pieces import rectangle

# -- hinge and sides


def test_a_click_on_an_end_makes_it_the_hinge_and_a_second_takes_it_away() -> None:
    hand = level_cut()
    hand.click(RIGHT_END)
    assert opening(hand).hinge is Hinge.END
    hand.click(RIGHT_END)
    assert opening(hand).hinge is Hinge.NONE
    hand.click(LEFT_END)
    assert opening(hand).hinge is Hinge.START


def test_the_hinged_end_is_drawn_as_a_hinge() -> None:
    hand = level_cut()
    hand.click(RIGHT_END)
    spots = {spot.kind: spot.at for spot in seen(hand).spots}
    assert spots[SpotKind.HINGE] == pytest.approx((PANEL_AT[0] + 400.0, PANEL_AT[1] + 200.0))
    assert spots[SpotKind.END] == pytest.approx((PANEL_AT[0], PANEL_AT[1] + 200.0))


def test_h_goes_round_the_hinges_and_s_changes_the_side() -> None:
    hand = level_cut()
    before = opening(hand)
    hinges = []
    for _ in range(3):
        hand.key("h")
        hinges.append(opening(hand).hinge)
    assert hinges == [Hinge.START, Hinge.END, Hinge.NONE]
    hand.key("s")
    assert opening(hand).moving is not before.moving


def test_the_side_with_the_fold_stays_at_first() -> None:
    hand = slash_hand()
    hand.click((250.0, 0.0), (250.0, 600.0))
    assert opening(hand).moving is Side.RIGHT


def test_the_dragged_side_is_the_one_that_moves() -> None:
    hand = level_cut()
    hand.pull((200.0, 100.0), (200.0, 90.0))
    below = opening(hand).moving
    hand.pull((150.0, 330.0), (150.0, 335.0))
    assert opening(hand).moving is not below


def test_a_click_on_a_side_changes_nothing() -> None:
    hand = level_cut()
    before = opening(hand)
    hand.click((150.0, 330.0))
    assert opening(hand) == before


# -- opening


def test_pulling_a_side_away_opens_and_pushing_it_over_folds_out() -> None:
    hand = level_cut()
    hand.pull((200.0, 100.0), (200.0, 88.0))
    assert opening(hand).opening_mm == 12.0
    hand.pull((200.0, 100.0), (200.0, 130.0))
    assert opening(hand).opening_mm == -18.0


def test_dragged_amounts_are_as_fine_as_the_view_shows() -> None:
    coarse, fine = level_cut(), replace(level_cut(), px_per_mm=5.0)
    coarse.pull((200.0, 100.0), (200.0, 97.3))
    fine.pull((200.0, 100.0), (200.0, 97.3))
    assert opening(coarse).opening_mm == 3.0
    assert opening(fine).opening_mm == 2.5


def test_dragged_amounts_are_sixteenths_where_lengths_are_shown_in_inches() -> None:
    hand = level_cut()
    hand.scene = replace(hand.scene, unit=Unit.INCH)
    hand.pull((200.0, 100.0), (200.0, 87.0))
    assert opening(hand).opening_mm == pytest.approx(8 / 16 * 25.4)


@given(st.sampled_from(list(Hinge)), st.sampled_from([Side.LEFT, Side.RIGHT]), st.floats(-80, 80))
def test_the_handle_lies_where_the_step_moves_the_open_end(hinge: Hinge, side: Side, amount_mm: float) -> None:
    hand = level_cut()
    state = replace(opening(hand), hinge=hinge, moving=side, opening_mm=amount_mm)
    start, end = state.line.ends
    rest = {Hinge.NONE: (200.0, 200.0), Hinge.START: end, Hinge.END: start}[hinge]
    assert math.dist(state.handle, rest) == pytest.approx(abs(amount_mm), abs=1e-9)
    outward = (state.handle[0] - rest[0]) * state.pulled[0] + (state.handle[1] - rest[1]) * state.pulled[1]
    assert outward == pytest.approx(amount_mm, rel=0.05, abs=1e-9)


@given(st.sampled_from(list(Hinge)), st.sampled_from(list(Side)), st.integers(-60, 60))
def test_the_handle_follows_the_pointer(hinge: Hinge, side: Side, amount_mm: int) -> None:
    hand = level_cut()
    state = replace(opening(hand), hinge=hinge, moving=side)
    wanted = replace(state, opening_mm=float(amount_mm)).handle
    pulled = state.gripped(state.handle, side).dragged(wanted, round_mm=0.001)
    assert pulled.opening_mm == pytest.approx(amount_mm, abs=0.001)


@given(st.sampled_from(list(Hinge)), st.sampled_from(list(Side)), st.floats(-60, 60))
def test_the_moving_side_is_shown_where_the_step_puts_it(hinge: Hinge, side: Side, amount_mm: float) -> None:
    """Corners far from the cut are not touched by trueing: one pair stays, the other goes with the shown motion."""
    unfolded = Pattern((replace(panel(), fold=None), rectangle(name="other")))
    hand = slash_hand(scene=scene(unfolded))
    hand.pull(LEFT_END, RIGHT_END)
    state = replace(opening(hand), hinge=hinge, moving=side, opening_mm=amount_mm)
    after = state.step.apply(unfolded).pattern.piece("panel")
    for corner in ((0.0, 0.0), (400.0, 600.0)):
        pulled = state.side_of(corner) is (Side.LEFT if side is Side.BOTH else side)
        expected = (state.motion if pulled else state.rest).point(corner)
        assert min(math.dist(expected, edge.start) for edge in after.edges) < 1e-6


def test_arrows_nudge_by_one_millimetre_and_with_shift_by_five() -> None:
    hand = level_cut()
    hand.key("right", "up", "up", "left")
    assert opening(hand).opening_mm == 2.0
    hand.key("down", shift=True)
    assert opening(hand).opening_mm == -3.0


def test_the_readout_says_the_amount_in_both_units_and_what_changed() -> None:
    hand = level_cut()
    hand.tool.set_amount(12.7, hand.scene)
    readout = seen(hand).readout
    assert readout is not None
    assert readout.lines[0] == 'Open 1.27 cm · 1/2"'
    assert {'side +1.27 cm · 1/2"', 'centre front +1.27 cm · 1/2"'} <= set(readout.lines)


def test_folding_out_is_called_so() -> None:
    hand = level_cut()
    hand.tool.set_amount(-12.7, hand.scene)
    readout = seen(hand).readout
    assert readout is not None
    assert readout.lines[0] == 'Fold out 1.27 cm · 1/2"'
    assert any(chalk.kind is ChalkKind.FOLDED for chalk in seen(hand).chalk)


def test_an_amount_that_cannot_be_is_refused_in_words_and_not_done() -> None:
    hand = level_cut()
    hand.click(RIGHT_END)
    hand.tool.set_amount(5000.0, hand.scene)
    readout = seen(hand).readout
    assert readout is not None
    assert readout.refused
    assert "cannot open" in readout.lines[0]
    assert hand.key("enter") == Taken()


def test_enter_without_an_amount_proposes_nothing() -> None:
    assert level_cut().key("enter") == Taken()


# -- what is shown is what is done


@given(
    st.sampled_from(list(Hinge)),
    st.booleans(),
    st.lists(st.tuples(st.floats(20, 380), st.floats(20, 580)), min_size=1, max_size=6),
)
def test_preview_equals_commit(hinge: Hinge, swaps: bool, way: list[Point]) -> None:
    hand = level_cut()
    for _ in range(list(Hinge).index(hinge)):
        hand.key("h")
    if swaps:
        hand.key("s")
    hand.press((300.0, 100.0))
    hand.drag(*way)
    shown = seen(hand).piece
    hand.release(way[-1])
    reply = hand.key("enter")
    if reply == Taken():
        assert shown is None or opening(hand).opening_mm == 0
        return
    assert isinstance(reply, Propose)
    assert reply.step.apply(hand.scene.pattern).pattern.piece("panel") == shown


def test_the_step_is_worked_out_once_per_amount(monkeypatch: pytest.MonkeyPatch) -> None:
    hand = level_cut()
    hand.tool.set_amount(10.0, hand.scene)
    applied: list[float] = []
    original = Slash.apply

    def counting(step: Slash, pattern):  # type: ignore[no-untyped-def]
        applied.append(step.amount_mm)
        return original(step, pattern)

    monkeypatch.setattr(Slash, "apply", counting)
    for _ in range(3):
        seen(hand)
        hand.hover((100.0, 100.0))
    assert applied == [10.0]


# -- cancel


@pytest.mark.parametrize("moment", ["drawing", "dragging the line", "open", "dragging the side", "typed"])
def test_cancel_leaves_everything_as_it_was(moment: str) -> None:
    hand = slash_hand()
    hand.hover(AWAY)
    fresh = seen(hand)
    hand.press(LEFT_END)
    if moment == "dragging the line":
        hand.drag((100.0, 201.0))
    elif moment != "drawing":
        hand.drag(RIGHT_END)
        hand.release(RIGHT_END)
    if moment == "dragging the side":
        hand.press((200.0, 100.0))
        hand.drag((200.0, 60.0))
    if moment == "typed":
        hand.tool.set_amount(30.0, hand.scene)
    assert hand.tool.is_busy
    assert hand.tool.cancel() is None
    assert not hand.tool.is_busy
    left = seen(hand)
    assert (left.piece, left.chalk, left.spots, left.readout, left.hint) == (None, (), (), None, fresh.hint)


def test_a_drag_that_goes_on_after_cancel_does_nothing() -> None:
    hand = level_cut()
    hand.press((200.0, 100.0))
    hand.drag((200.0, 60.0))
    hand.tool.cancel()
    hand.drag((200.0, 30.0))
    assert hand.release((200.0, 30.0)) is None
    assert not hand.tool.is_busy


# -- several lines, the keyboard alone, a recorded slash


def test_a_further_line_opens_as_the_first_one_makes_it() -> None:
    hand = slash_hand()
    hand.click((100.0, 0.0), (200.0, 420.0), (150.0, 600.0))
    hand.key("a")
    hand.click((400.0, 300.0), (200.0, 420.0), (200.0, 420.0))
    first, second = opening(hand).step.cuts
    assert (first.opening_mm, second.opening_mm) == (0.0, None)
    assert [anchor.on for anchor in second.line] == [On.EDGE, On.LANDMARK]


def test_backspace_gives_up_a_further_line() -> None:
    hand = level_cut()
    before = opening(hand)
    hand.key("a")
    hand.key("backspace")
    assert opening(hand) == before


def test_the_keyboard_alone_can_slash() -> None:
    hand = slash_hand(scene=scene(selected="panel"))
    hand.key("n", "enter", "n", "n", "n", "n", "n", "enter")
    hand.key("h", "up", "up")
    reply = hand.key("enter")
    assert isinstance(reply, Propose)
    (cut,) = reply.step.cuts  # type: ignore[attr-defined]
    assert (cut.opening_mm, cut.hinge) == (2.0, Hinge.START)


def test_a_press_elsewhere_begins_another_line_while_nothing_is_open() -> None:
    hand = level_cut()
    hand.press((1000.0, 50.0))
    assert isinstance(hand.tool, SlashTool)
    assert isinstance(hand.tool.state, Drawing)
    assert hand.tool.state.piece == "other"


def recorded() -> Slash:
    cut = SlashCut((on_edge("centre front", 0.5), on_edge("side", 0.5)), 10.0, Hinge.END, Side.RIGHT)
    return Slash("panel", (cut,))


def test_a_recorded_slash_is_taken_in_hand_again_and_only_its_amount_changes() -> None:
    hand = slash_hand()
    tried: list[Slash] = []

    def trial(step: Slash) -> Outcome:
        tried.append(step)
        return step.apply(hand.scene.pattern)

    assert isinstance(hand.tool, SlashTool)
    hand.tool.reopen("7", recorded(), hand.scene.pattern.piece("panel"), trial)
    assert hand.tool.amount_mm == 10.0
    hand.key("h", "s", "up")
    assert seen(hand).piece == recorded().with_amount_mm(11.0).apply(hand.scene.pattern).pattern.piece("panel")
    assert hand.key("enter") == ChangeStep("7", recorded().with_amount_mm(11.0))
    assert tried[-1] == recorded().with_amount_mm(11.0)
