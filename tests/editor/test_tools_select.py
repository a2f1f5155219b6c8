from dataclasses import replace

from editor.tools.base import Lay, Pick, Reopen
from editor.tools.select import SelectTool
from geometry.affine import frozen_points
from geometry.alterations.chalk import RecordedCut
from tests.editor.tool_scenes import PANEL_AT, Hand, scene


def test_a_click_on_a_piece_picks_it() -> None:
    assert Hand(SelectTool()).click((100.0, 200.0)) == Pick("panel")


def test_a_click_on_an_edge_picks_the_edge() -> None:
    assert Hand(SelectTool()).click((398.0, 200.0)) == Pick("panel", edge="side")


def test_a_click_on_the_bare_table_picks_nothing() -> None:
    assert Hand(SelectTool()).click((-300.0, 200.0)) == Pick()


def test_a_drag_lays_the_sheet_elsewhere_by_the_same_amount() -> None:
    hand = Hand(SelectTool())
    hand.press((100.0, 200.0))
    assert hand.drag((130.0, 210.0)) == Lay("panel", (PANEL_AT[0] + 30.0, PANEL_AT[1] + 10.0))
    assert hand.release((130.0, 210.0)) == Pick("panel")


def test_cancel_in_mid_drag_lays_the_sheet_back() -> None:
    hand = Hand(SelectTool())
    hand.press((100.0, 200.0))
    hand.drag((130.0, 210.0), (180.0, 260.0))
    assert hand.tool.cancel() == Lay("panel", PANEL_AT)
    assert not hand.tool.is_busy


def test_cancel_with_nothing_begun_asks_for_nothing() -> None:
    assert SelectTool().cancel() is None


def test_over_an_edge_its_name_and_length_are_shown() -> None:
    hand = Hand(SelectTool())
    hand.hover((399.0, 100.0))
    readout = hand.tool.preview(hand.scene).readout
    assert readout is not None
    assert readout.lines == ("side", '60 cm · ~23 5/8"')


def test_the_length_of_an_edge_with_a_dart_is_the_sewn_one() -> None:
    hand = Hand(SelectTool())
    hand.hover((100.0, 599.0))
    readout = hand.tool.preview(hand.scene).readout
    assert readout is not None
    assert readout.lines[1].startswith("36 cm")


def test_a_recorded_cut_is_picked_and_a_double_click_takes_it_in_hand() -> None:
    cut = RecordedCut("3", "panel", frozen_points([(0.0, 300.0), (400.0, 300.0)]))
    hand = Hand(SelectTool(), replace(scene(), cuts=(cut,)))
    assert hand.press((150.0, 302.0)) == Pick("panel", record="3")
    assert hand.press((150.0, 302.0), clicks=2) == Reopen("3")
