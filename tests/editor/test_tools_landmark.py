"""Landmarks on the table: dragged, moved by keys, stepped through."""

from __future__ import annotations

from editor.canvas.pointer import Key
from editor.tools.base import Adjust, SpotKind
from editor.tools.landmark import FAR_NUDGE_MM, NUDGE_MM, LandmarkTool
from geometry.alterations.anchors import Anchor, On, free
from geometry.alterations.mark_steps import PlaceLandmark
from tests.editor.tool_scenes import Hand

BUST_AT = (200.0, 420.0)
"""Where ``tool_scenes.panel`` has its mark."""


def test_dragging_a_landmark_marks_it_where_it_is_let_go() -> None:
    hand = Hand(LandmarkTool())
    reply = hand.pull(BUST_AT, (180.0, 350.0), (150.0, 300.0))
    assert reply == Adjust(PlaceLandmark("panel", "bust point", free((150.0, 300.0))))


def test_a_landmark_dropped_on_a_dart_tip_holds_on_to_it() -> None:
    hand = Hand(LandmarkTool())
    reply = hand.pull(BUST_AT, (190.0, 430.0), (201.0, 451.0))
    assert reply == Adjust(PlaceLandmark("panel", "bust point", Anchor(On.TIP, "waist dart")))


def test_a_landmark_never_holds_on_to_itself() -> None:
    hand = Hand(LandmarkTool())
    reply = hand.pull(BUST_AT, (230.0, 400.0), (201.0, 419.0))
    assert isinstance(reply, Adjust)
    assert reply.step.at.on is On.FREE


def test_a_click_picks_without_marking() -> None:
    hand = Hand(LandmarkTool())
    assert hand.click(BUST_AT) is None
    assert hand.tool.picked == ("panel", "bust point")
    assert any(spot.kind is SpotKind.SNAP for spot in hand.tool.preview(hand.scene).spots)


def test_arrow_keys_move_the_one_picked() -> None:
    hand = Hand(LandmarkTool())
    assert hand.tool.key(Key("up"), hand.scene) is None
    hand.click(BUST_AT)
    x, y = BUST_AT
    up = PlaceLandmark("panel", "bust point", free((x, y + NUDGE_MM)))
    far_left = PlaceLandmark("panel", "bust point", free((x - FAR_NUDGE_MM, y)))
    assert hand.tool.key(Key("up"), hand.scene) == Adjust(up)
    assert hand.tool.key(Key("left", shift=True), hand.scene) == Adjust(far_left)


def test_n_and_p_step_through_all_and_escape_lets_go() -> None:
    hand = Hand(LandmarkTool())
    count = len(hand.tool.marks(hand.scene))
    assert count > 2
    picked = []
    for _ in range(count):
        hand.tool.key(Key("n"), hand.scene)
        picked.append(hand.tool.picked)
    assert len(set(picked)) == count
    hand.tool.key(Key("p"), hand.scene)
    assert hand.tool.picked == picked[-2]
    hand.tool.key(Key("escape"), hand.scene)
    assert hand.tool.picked == ("", "")


def test_cancel_in_the_middle_of_a_drag_marks_nothing() -> None:
    hand = Hand(LandmarkTool())
    hand.press(BUST_AT)
    hand.drag((100.0, 100.0))
    assert hand.tool.is_busy
    hand.tool.cancel()
    assert hand.release((100.0, 100.0)) is None
