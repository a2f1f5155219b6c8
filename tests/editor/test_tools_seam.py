"""Two clicks say what is sewn together; Shift adds edges, R turns a side round."""

from __future__ import annotations

from dataclasses import replace

import pytest

from editor.canvas.placing import placed
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools.base import ChalkKind, Pick, Reply, Sew, Taken
from editor.tools.seam import SeamTool
from geometry.allowance import cutting_line
from geometry.checks.pairing import propose_seams
from geometry.checks.sewing import turned
from geometry.model.pattern import EdgeRef, Pattern
from tests.geometry.plain_dress import dress

FRONT_SIDE, BACK_SIDE = EdgeRef("front bodice", "side"), EdgeRef("back bodice", "side")


def scene_of(pattern: Pattern, *, proposed: frozenset[str] = frozenset()) -> Scene:
    lone = {piece.name: Sheet(piece, cutting_line(piece)) for piece in pattern.pieces}
    places = placed({name: sheet.box for name, sheet in lone.items()})
    sheets = {name: replace(sheet, at=places[name]) for name, sheet in lone.items()}
    return Scene(pattern, sheets, proposed=proposed)


class Hand:
    def __init__(self, scene: Scene) -> None:
        self.tool, self.scene = SeamTool(), scene

    def click(self, ref: EdgeRef, *, shift: bool = False) -> Reply | None:
        sheet = self.scene.sheets[ref.piece]
        edge = sheet.piece.edge(ref.edge)
        pointer = Pointer(sheet.to_table(edge.point_at(edge.length_mm * 0.3)), shift=shift)
        self.tool.hover(pointer, self.scene)
        reply = self.tool.press(pointer, self.scene)
        self.tool.release(pointer, self.scene)
        if isinstance(reply, Sew):
            gone = {reply.seam.id, reply.replacing}
            seams = tuple(seam for seam in self.scene.pattern.seams if seam.id not in gone)
            self.scene = replace(self.scene, pattern=replace(self.scene.pattern, seams=(*seams, reply.seam)))
        return reply


@pytest.fixture
def hand() -> Hand:
    return Hand(scene_of(dress()))


def test_two_clicks_sew_two_edges(hand: Hand) -> None:
    assert hand.click(FRONT_SIDE) is None
    assert hand.tool.is_busy
    reply = hand.click(BACK_SIDE)
    assert isinstance(reply, Sew)
    assert (reply.seam.first, reply.seam.second) == ((FRONT_SIDE,), (BACK_SIDE,))
    assert not hand.tool.is_busy


def test_shift_adds_edges_to_either_side(hand: Hand) -> None:
    cap, back, front = EdgeRef("sleeve", "cap"), EdgeRef("back bodice", "armhole"), EdgeRef("front bodice", "armhole")
    hand.click(back)
    hand.click(front, shift=True)
    reply = hand.click(cap)
    assert isinstance(reply, Sew)
    assert reply.seam.first == (cap,)
    assert set(reply.seam.second) == {back, front}

    other = Hand(scene_of(dress()))
    other.click(cap)
    first = other.click(back)
    both = other.click(front, shift=True)
    assert isinstance(first, Sew)
    assert isinstance(both, Sew)
    assert both.replacing == first.seam.id
    assert both.seam == reply.seam


def test_shift_on_a_named_edge_takes_it_back_and_a_second_click_on_it_names_nothing(hand: Hand) -> None:
    hand.click(FRONT_SIDE)
    hand.click(BACK_SIDE, shift=True)
    hand.click(BACK_SIDE, shift=True)
    hand.click(FRONT_SIDE)
    assert not hand.tool.is_busy


def test_enter_sews_an_edge_to_its_own_mirror_image(hand: Hand) -> None:
    hand.click(EdgeRef("back bodice", "centre back"))
    reply = hand.tool.key(Key("enter"), hand.scene)
    assert isinstance(reply, Sew)
    assert reply.seam.first == reply.seam.second


def test_r_turns_the_second_side_round(hand: Hand) -> None:
    hand.click(FRONT_SIDE)
    stated = hand.click(BACK_SIDE)
    assert isinstance(stated, Sew)
    assert hand.tool.letters == "r"
    assert hand.tool.key(Key("r"), hand.scene) == Sew(turned(stated.seam))


def test_what_cannot_be_sewn_is_said_and_nothing_is_stated(hand: Hand) -> None:
    hand.click(FRONT_SIDE)
    hand.click(BACK_SIDE, shift=True)
    assert isinstance(hand.click(BACK_SIDE), Taken)
    assert "both sides" in hand.tool.preview(hand.scene).hint


def test_escape_forgets_the_side_that_was_named(hand: Hand) -> None:
    hand.click(FRONT_SIDE)
    hand.tool.cancel()
    assert not hand.tool.is_busy


def test_seams_show_on_both_sides_in_one_chalk_with_one_number_and_proposed_ones_differ() -> None:
    seams = propose_seams(dress())
    pattern = replace(dress(), seams=seams)
    shown = SeamTool().preview(scene_of(pattern, proposed=frozenset(seam.id for seam in seams[1:])))
    firm = [line for line in shown.chalk if line.kind is ChalkKind.SEWN]
    assert [line.style for line in firm] == [1, 1]
    assert [tag.text for tag in shown.tags if tag.is_firm] == ["1", "1"]
    loose = {line.style for line in shown.chalk if line.kind is ChalkKind.PROPOSED}
    assert loose == set(range(2, len(seams) + 1))


def test_a_click_on_an_edge_that_is_sewn_picks_its_seam() -> None:
    seams = propose_seams(dress())
    hand = Hand(scene_of(replace(dress(), seams=seams)))
    side = next(seam for seam in seams if FRONT_SIDE in seam.first)
    assert hand.click(FRONT_SIDE) == Pick(seam=side.id)
