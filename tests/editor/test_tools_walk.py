"""Walking a seam on the table: how far, from which end, what is passed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene
from editor.commands.walk_fixes import length_fixes, mark_fixes
from editor.tools.base import ChalkKind
from editor.tools.walk import Stand, WalkTool, distance_walked, end_words
from geometry.checks.pairing import propose_seams
from geometry.checks.walking import StopKind, walk
from geometry.model.marks import Notch
from geometry.model.pattern import Pattern
from tests.editor.test_tools_seam import scene_of
from tests.geometry.plain_dress import CAP_EASE_MM, HIP_MM, SKIRT_SIDE_MM, dress

SKIRT_SIDE, CAP = "front skirt side + back skirt side", "sleeve cap + back bodice armhole + front bodice armhole"


def sewn(pattern: Pattern | None = None) -> Pattern:
    pattern = pattern or dress()
    return replace(pattern, seams=propose_seams(pattern))


def moved_notch(by_mm: float) -> Pattern:
    """The dress with the hip notch of the back skirt elsewhere."""
    pattern = dress()
    back = pattern.piece("back skirt")
    notches = tuple(replace(notch, at_mm=notch.at_mm + by_mm) for notch in back.notches)
    return sewn(pattern.with_piece(replace(back, notches=notches)))


@pytest.fixture
def scene() -> Scene:
    return scene_of(sewn())


def walking(seam: str, scene: Scene) -> WalkTool:
    tool = WalkTool()
    tool.stand = Stand(seam)
    return tool


def test_without_a_seam_it_says_what_to_do_and_listens_to_no_letters(scene: Scene) -> None:
    tool = WalkTool()
    assert "seam" in tool.preview(scene).hint
    assert tool.letters == ""
    assert tool.key(Key("right"), scene) is None


def test_arrows_walk_and_stop_at_the_ends(scene: Scene) -> None:
    tool = walking(SKIRT_SIDE, scene)
    tool.key(Key("right"), scene)
    tool.key(Key("right", shift=True), scene)
    assert tool.stand.walked_mm == 25.0
    for _ in range(4):
        tool.key(Key("left", shift=True), scene)
    assert tool.stand.walked_mm == 0.0
    tool.go_to(1e6, scene)
    assert tool.stand.walked_mm == pytest.approx(SKIRT_SIDE_MM)


def test_n_and_p_go_from_mark_to_mark(scene: Scene) -> None:
    tool = walking(SKIRT_SIDE, scene)
    tool.key(Key("n"), scene)
    assert tool.stand.walked_mm == pytest.approx(HIP_MM, abs=0.01)
    tool.key(Key("n"), scene)
    assert tool.stand.walked_mm == pytest.approx(SKIRT_SIDE_MM)
    tool.key(Key("p"), scene)
    tool.key(Key("p"), scene)
    assert tool.stand.walked_mm == 0.0


def test_a_mark_is_told_once_it_is_passed() -> None:
    scene = scene_of(moved_notch(8.0))
    tool = walking(SKIRT_SIDE, scene)
    walked = tool.walked(scene)
    assert walked is not None
    far = max(distance_walked(stop, tool.stand) for m in walked.meetings for stop in (m.first, m.second) if stop)
    tool.go_to(far - 1.0, scene)
    assert tool.preview(scene).tags == ()
    tool.go_to(far + 1.0, scene)
    (tag,) = tool.preview(scene).tags
    assert tag.text in ("+0.8 cm", "−0.8 cm")


def test_from_the_other_end_the_same_marks_come_the_other_way_round(scene: Scene) -> None:
    tool = walking(SKIRT_SIDE, scene)
    tool.go_to(100.0, scene)
    tool.key(Key("e"), scene)
    assert (tool.stand.from_end, tool.stand.walked_mm) == (True, 0.0)
    tool.key(Key("n"), scene)
    assert tool.stand.walked_mm == pytest.approx(SKIRT_SIDE_MM - HIP_MM, abs=0.01)


def test_pressing_on_the_edge_walks_there_whichever_piece_lies_still(scene: Scene) -> None:
    for swapped, name in ((False, "front skirt"), (True, "back skirt")):
        tool = walking(SKIRT_SIDE, scene)
        tool.stand = replace(tool.stand, swapped=swapped)
        sheet = scene.sheets[name]
        edge = sheet.piece.edge("side")
        middle = edge.point_at(edge.length_mm / 4)
        tool.press(Pointer(sheet.to_table(middle)), scene)
        quarter = SKIRT_SIDE_MM / 4
        assert min(abs(tool.stand.walked_mm - quarter), abs(tool.stand.walked_mm - 3 * quarter)) < 0.01


def test_the_piece_laid_on_follows_over_the_join_of_two_edges(scene: Scene) -> None:
    tool = walking(CAP, scene)
    outlines = []
    for walked_mm in (50.0, 350.0):
        tool.go_to(walked_mm, scene)
        (laid,) = [line for line in tool.preview(scene).chalk if line.kind is ChalkKind.LAID]
        outlines.append(len(laid.points))
    back, front = (scene.pattern.piece(name).outline for name in ("back bodice", "front bodice"))
    assert outlines == [len(back) + 1, len(front) + 1]


def test_ends_are_told_by_what_they_meet_else_by_the_pieces_there(scene: Scene) -> None:
    by_id = {seam.id: walk(scene.pattern, seam) for seam in scene.pattern.seams}
    assert end_words(by_id[SKIRT_SIDE]) == ("waist", "hem")
    assert end_words(by_id[CAP]) == ("back bodice", "front bodice")


def test_fixes_of_a_notch_bring_both_together() -> None:
    pattern = moved_notch(8.0)
    seam = next(seam for seam in pattern.seams if seam.id == SKIRT_SIDE)
    (meeting,) = walk(pattern, seam).meetings
    for from_end in (False, True):
        fixes = mark_fixes(meeting, from_end=from_end)
        assert [fix.words for fix in fixes] == [
            "Move the notch of the front skirt",
            "Move the notch of the back skirt",
        ]
        for fix in fixes:
            (after,) = walk(fix.step.apply(pattern).pattern, seam).meetings
            assert after.offset_from_start_mm == pytest.approx(0.0, abs=1e-6)


def test_a_difference_is_shared_or_taken_by_either_side() -> None:
    pattern = sewn()
    seam = next(seam for seam in pattern.seams if seam.id == CAP)
    tight = replace(seam, ease_mm=(10.0, 20.0))
    pattern = replace(pattern, seams=tuple(tight if each is seam else each for each in pattern.seams))
    walked = walk(pattern, tight)
    assert walked.ease_mm == pytest.approx(CAP_EASE_MM)
    fixes = length_fixes(walked, from_end=False)
    assert [fix.words for fix in fixes] == [
        "Share the difference", "Change the sleeve only", "Change the front bodice only",
    ]  # fmt: skip
    for fix in fixes:
        assert walk(fix.step.apply(pattern).pattern, tight).ease_mm == pytest.approx(20.0, abs=1e-6)


def test_what_agrees_needs_no_fix(scene: Scene) -> None:
    seam = next(seam for seam in scene.pattern.seams if seam.id == SKIRT_SIDE)
    assert length_fixes(walk(scene.pattern, seam), from_end=False) == ()


def test_a_mark_without_partner_has_no_fix() -> None:
    pattern = dress()
    front = pattern.piece("front skirt")
    lone = Notch("pocket", "side", 400.0, partner="pocket")
    pattern = sewn(pattern.with_piece(replace(front, notches=(*front.notches, lone))))
    seam = next(seam for seam in pattern.seams if seam.id == SKIRT_SIDE)
    alone = [m for m in walk(pattern, seam).meetings if m.stop.id == "pocket"]
    assert [m.stop.kind for m in alone] == [StopKind.NOTCH]
    assert mark_fixes(alone[0], from_end=False) == ()
