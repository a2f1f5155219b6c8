"""Handles of what is picked out: pulled, they do the step that was shown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from editor.selection import Selection
from editor.tools.base import Adjust, Pick
from editor.tools.select import SelectTool
from geometry.affine import Point
from geometry.alterations.allowance_steps import SetAllowance
from geometry.alterations.dart_steps import LengthenDart, MoveDart, WidenDart
from geometry.alterations.double_dart_steps import MoveDoubleDart, WidenDoubleDart
from geometry.alterations.notch_steps import MoveNotch
from geometry.alterations.step import Step
from geometry.model.dart import DoubleDart
from geometry.model.marks import Notch
from geometry.model.pattern import Pattern
from tests.editor.tool_scenes import Hand, panel, scene, seen
from tests.geometry.drawn_pieces import rectangle

MOUTH, TIP = (200.0, 600.0), (200.0, 450.0)


def marked() -> Pattern:
    """The panel (its edges run counter-clockwise, so the waist from right to left) with a dart of two tips, a notch."""
    double = DoubleDart("double dart", (100.0, 100.0), (100.0, 300.0), (90.0, 200.0), (110.0, 200.0))
    drawn = replace(panel(), double_darts=(double,), notches=(Notch("hip", "side", 300.0, partner="hip"),))
    return Pattern((drawn, rectangle(name="other")))


def hand(**picked: str) -> Hand:
    shown = marked()
    selection = Selection("panel", **picked)
    return Hand(SelectTool(), replace(scene(shown, selected="panel"), picked=selection))


def pulled(hand: Hand, start: Point, end: Point) -> Step:
    reply = hand.pull(start, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), end)
    assert isinstance(reply, Adjust)
    return reply.step


def test_the_mouth_of_a_dart_slides_it_along_its_edge() -> None:
    step = pulled(hand(dart="waist dart"), MOUTH, (240.0, 610.0))
    assert isinstance(step, MoveDart)
    moved = step.apply(marked()).pattern.piece("panel")
    assert moved.mouth(moved.dart("waist dart"))[0] == pytest.approx((moved.dart("waist dart").tip[0] + 20, 600.0))
    assert moved.dart("waist dart").tip[0] == pytest.approx(220.0, abs=0.01)


@pytest.mark.parametrize("by_mm", [25.0, -25.0])
def test_the_tip_of_a_dart_makes_it_longer_or_shorter(by_mm: float) -> None:
    step = pulled(hand(dart="waist dart"), TIP, (205.0, 450.0 - by_mm))
    assert step == LengthenDart("panel", "waist dart", by_mm)


def test_a_leg_of_a_dart_pulled_out_takes_in_twice_as_much_more() -> None:
    step = pulled(hand(dart="waist dart"), (180.0, 600.0), (175.0, 600.0))
    assert step == WidenDart("panel", "waist dart", 10.0)


def test_a_dart_with_two_tips_is_moved_and_widened() -> None:
    assert pulled(hand(dart="double dart"), (100.0, 200.0), (110.0, 180.0)) == MoveDoubleDart(
        "panel", "double dart", 10.0, -20.0
    )
    assert pulled(hand(dart="double dart"), (110.0, 200.0), (113.0, 200.0)) == WidenDoubleDart(
        "panel", "double dart", 6.0
    )


def test_the_cutting_line_of_an_edge_is_pulled_to_another_allowance() -> None:
    edge = marked().piece("panel").edge("side")
    middle = edge.point_at(edge.length_mm / 2)
    start = (middle[0] + edge.allowance_mm, middle[1])
    assert pulled(hand(edge="side"), start, (start[0] + 10.0, start[1] + 3.0)) == SetAllowance("panel", "side", 25.0)
    assert pulled(hand(edge="side"), start, (start[0] - 400.0, start[1])) == SetAllowance("panel", "side", 0.0)


def test_the_fold_has_no_allowance_to_pull() -> None:
    assert seen(hand(edge="centre front")).spots == ()


def test_a_notch_slides_along_its_edge() -> None:
    at = marked().piece("panel").notch_point(marked().piece("panel").notch("hip"))
    step = pulled(hand(notch="hip"), at, (at[0] + 8.0, at[1] + 40.0))
    assert step == MoveNotch("panel", "hip", 40.0)


def test_what_is_shown_while_pulling_is_what_the_step_does() -> None:
    held = hand(dart="waist dart")
    held.press(TIP)
    held.drag((200.0, 430.0))
    assert seen(held).piece == LengthenDart("panel", "waist dart", 20.0).apply(marked()).pattern.piece("panel")
    assert held.tool.is_busy


def test_what_cannot_be_done_is_said_while_pulling_and_escape_leaves_all_as_it_was() -> None:
    held = hand(dart="waist dart")
    held.press((180.0, 600.0))
    held.drag((230.0, 600.0))
    shown = seen(held)
    assert shown.piece is None
    assert shown.readout is not None
    assert shown.readout.refused
    held.tool.cancel()
    assert not held.tool.is_busy


def test_a_click_picks_notch_dart_or_edge() -> None:
    free = Hand(SelectTool(), scene(marked()))
    at = marked().piece("panel").notch_point(marked().piece("panel").notch("hip"))
    assert free.click(at) == Pick("panel", notch="hip")
    assert free.click((200.0, 560.0)) == Pick("panel", dart="waist dart")
    assert free.click((100.0, 150.0)) == Pick("panel", dart="double dart")
    assert free.click((60.0, 601.0)) == Pick("panel", "waist")
