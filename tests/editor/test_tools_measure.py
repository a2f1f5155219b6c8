import math

import pytest

from editor.tools.base import ChalkKind, Readout
from editor.tools.measure import MeasureTool
from geometry.model.pattern import Pattern
from tests.editor.tool_scenes import PANEL_AT, Hand, scene
from tests.geometry.drawn_pieces import disc, rectangle


def readout(hand: Hand) -> Readout:
    found = hand.tool.preview(hand.scene).readout
    assert found is not None
    return found


def test_two_clicks_measure_straight_in_both_units() -> None:
    hand = Hand(MeasureTool())
    hand.click((100.0, 100.0), (227.0, 110.0))
    assert readout(hand).lines[0] == '12.74 cm · ~5"'


def test_named_points_are_caught_at_both_ends() -> None:
    hand = Hand(MeasureTool())
    hand.click((3.0, -4.0), (203.0, 424.0))
    tape = next(c for c in hand.tool.preview(hand.scene).chalk if c.kind is ChalkKind.TAPE)
    start, end = tape.points - PANEL_AT
    assert start.tolist() == [0.0, 0.0]
    assert end.tolist() == [200.0, 420.0]


def test_along_an_edge_the_stretch_between_is_measured_too() -> None:
    hand = Hand(MeasureTool())
    hand.click((400.0, 0.0), (400.0, 420.0))
    assert readout(hand).lines[1].startswith("along side 42 cm")


def test_round_a_curve_the_edge_is_longer_than_the_tape() -> None:
    hand = Hand(MeasureTool(), scene(Pattern((disc(200.0), rectangle(name="other")))))
    hand.click((200.0, 0.0), (0.0, 200.0))
    straight, along = readout(hand).lines[:2]
    assert straight.startswith(f"{20 * math.sqrt(2):.2f} cm")
    assert float(along.split()[3]) == pytest.approx(20 * math.pi / 2, abs=0.02)


def test_a_drag_measures_and_the_tape_stays() -> None:
    hand = Hand(MeasureTool())
    hand.pull((100.0, 100.0), (150.0, 150.0), (100.0, 300.0))
    assert readout(hand).lines[0].startswith("20 cm")
    hand.hover((300.0, 300.0))
    assert readout(hand).lines[0].startswith("20 cm")


def test_a_third_press_begins_anew() -> None:
    hand = Hand(MeasureTool())
    hand.click((100.0, 100.0), (100.0, 300.0), (150.0, 150.0))
    hand.hover((150.0, 250.0))
    assert readout(hand).lines[0].startswith("10 cm")


def test_cancel_takes_the_tape_away() -> None:
    hand = Hand(MeasureTool())
    hand.click((100.0, 100.0), (100.0, 300.0))
    hand.tool.cancel()
    assert not hand.tool.is_busy
    assert hand.tool.preview(hand.scene).chalk == ()


def test_the_keyboard_measures_between_named_points() -> None:
    hand = Hand(MeasureTool(), scene(selected="panel"))
    hand.key("n", "enter", "n", "n", "enter")
    assert readout(hand).lines[0].startswith("40 cm")
