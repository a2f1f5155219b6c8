"""Seams that sew an edge in part: drawn with the mouse, held by what the bought pattern knows, kept in the file."""

from __future__ import annotations

import json
import zipfile
from dataclasses import replace
from io import BytesIO

import pytest

from editor.canvas.pointer import Pointer
from editor.document.project import Base, Project, Wearer
from editor.document.project_file import project_bytes, project_from_bytes
from editor.document.schema import FieldError
from editor.document.statements import as_said, with_edge_named, with_seam
from editor.tools.base import Sew, SpotKind
from geometry.alterations.anchors import on_edge
from geometry.alterations.notch_steps import AddNotch
from geometry.checks.pairing import propose_seams
from geometry.checks.stretches import held_by, place_on, with_gap, with_stretch
from geometry.checks.walking import walk
from geometry.errors import PatternError
from geometry.model.pattern import EdgePlace, EdgeRef, Seam, Stretch
from geometry.units import Unit
from samples.draft_dress import draft_nest
from tests.editor.test_tools_seam import Hand, scene_of
from tests.geometry.plain_dress import HIP_MM, SKIRT_SIDE_MM, dress

SIDES = EdgeRef("front skirt", "side"), EdgeRef("back skirt", "side")
BELOW_HIP = Stretch(end=EdgePlace("hip notch"))


def side_seam() -> Seam:
    return next(seam for seam in propose_seams(dress()) if (seam.first[0], seam.second[0]) == SIDES)


@pytest.fixture
def hand() -> Hand:
    seam = side_seam()
    scene = scene_of(replace(dress(), seams=propose_seams(dress())))
    return Hand(replace(scene, picked=replace(scene.picked, seam=seam.id)))


def drawn(hand: Hand, ref: EdgeRef, from_mm: float, to_mm: float, *, px_per_mm: float = 1.0):
    sheet = hand.scene.sheets[ref.piece]
    start, end = (sheet.to_table(sheet.piece.edge(ref.edge).point_at(at_mm)) for at_mm in (from_mm, to_mm))
    assert hand.tool.press(Pointer(start, px_per_mm), hand.scene) is None
    hand.tool.drag(Pointer(end, px_per_mm), hand.scene)
    shown = hand.tool.preview(hand.scene)
    return shown, hand.tool.release(Pointer(end, px_per_mm), hand.scene)


def test_an_end_of_the_picked_seam_is_drawn_along_its_edge_and_holds_on_to_a_notch(hand: Hand) -> None:
    assert [spot.kind for spot in hand.tool.preview(hand.scene).spots] == [SpotKind.KNOB] * 4
    shown, reply = drawn(hand, SIDES[0], SKIRT_SIDE_MM, SKIRT_SIDE_MM - HIP_MM + 5.0)
    assert shown.readout is not None
    assert shown.readout.lines[0] == "side: sewn from hip notch to hem"
    assert isinstance(reply, Sew)
    assert reply.seam.first_stretches == (BELOW_HIP,)
    assert reply.replacing == side_seam().id


def test_beyond_the_reach_of_notches_it_keeps_a_share(hand: Hand) -> None:
    _, reply = drawn(hand, SIDES[0], 0.0, SKIRT_SIDE_MM / 4)
    assert isinstance(reply, Sew)
    assert reply.seam.first_stretches[0].start == EdgePlace(share=0.25)


def test_a_click_on_an_end_is_a_click_and_escape_drops_what_was_drawn(hand: Hand) -> None:
    sheet = hand.scene.sheets["front skirt"]
    at = sheet.to_table(sheet.piece.edge("side").start)
    assert hand.tool.press(Pointer(at), hand.scene) is None
    assert hand.tool.is_busy
    hand.tool.drag(Pointer((at[0], at[1] + 90.0)), hand.scene)
    hand.tool.cancel()
    assert hand.tool.release(Pointer((at[0], at[1] + 90.0)), hand.scene) is None
    hand.tool.press(Pointer(at), hand.scene)
    hand.tool.release(Pointer(at), hand.scene)
    assert hand.tool.is_busy  # the edge is named


def test_a_corner_and_a_notch_last_longer_than_a_share() -> None:
    skirt = dress().piece("front skirt")
    assert place_on(skirt, "side", 3.0, within_mm=4.0) == EdgePlace()
    assert place_on(skirt, "side", SKIRT_SIDE_MM - 3.0, within_mm=4.0) == EdgePlace(share=1.0)
    assert place_on(skirt, "side", SKIRT_SIDE_MM - HIP_MM + 3.0, within_mm=4.0) == EdgePlace("hip notch")
    assert place_on(skirt, "side", SKIRT_SIDE_MM / 2, within_mm=4.0) == EdgePlace(share=0.5)


def test_a_notch_that_only_the_journal_knows_is_kept_as_a_share() -> None:
    added = AddNotch("front skirt", on_edge("side", 0.0), 90.0, notch="slit end").apply(dress()).pattern
    said = held_by(with_stretch(side_seam(), 0, 0, Stretch(EdgePlace("slit end"))), dress(), added)
    assert said.first_stretches[0].start == EdgePlace(share=round(90.0 / SKIRT_SIDE_MM, 4))
    known = with_stretch(side_seam(), 0, 0, BELOW_HIP)
    assert held_by(known, dress(), added) == known


def test_a_gap_leaves_the_middle_third_open_on_both_sides() -> None:
    walked = walk(dress(), with_gap(side_seam()))
    assert walked.first_mm == pytest.approx(SKIRT_SIDE_MM * 2 / 3, rel=1e-3)
    assert walked.second_mm == pytest.approx(SKIRT_SIDE_MM * 2 / 3, rel=1e-3)
    assert (walked.start_at, walked.end_at) == ("waist", "hem")


# -- the project


def zipped() -> Project:
    """The dress with the side of its skirt sewn from the hip to the hem in every size."""
    project = Project(Base("dress.dxf", b"", Unit.MM, draft_nest()), (Wearer("1", "Odile", "10", ()),))
    seams = propose_seams(draft_nest().sample)
    side = next(seam for seam in seams if (seam.first[0], seam.second[0]) == SIDES)
    front, back = Stretch(end=EdgePlace("hip")), Stretch(start=EdgePlace("hip"))  # their rings run against each other
    return with_seam(project, replace(side, first_stretches=(front,), second_stretches=(back,)))


def test_where_a_seam_starts_and_stops_is_kept_in_the_file() -> None:
    project = zipped()
    again = project_from_bytes(project_bytes(project))
    assert again.base.nest == project.base.nest
    seam = as_said(again, "4").seams[0]
    assert seam.first_stretches == (Stretch(end=EdgePlace("hip")),)
    walked = walk(as_said(again, "4"), seam)
    assert (walked.start_at, walked.end_at) == ("hip", "hem")
    assert walked.ease_mm == pytest.approx(0.0, abs=0.01)


def test_a_renamed_edge_stays_sewn_in_part() -> None:
    renamed = with_edge_named(zipped(), "front skirt", "side", "side seam")
    seam = as_said(renamed, "10").seams[0]
    assert walk(as_said(renamed, "10"), seam).first_mm == pytest.approx(
        walk(as_said(zipped(), "10"), as_said(zipped(), "10").seams[0]).first_mm
    )


def spoilt(project: Project, change) -> bytes:
    """The project's file with its first seam changed by hand."""
    data, out = BytesIO(project_bytes(project)), BytesIO()
    with zipfile.ZipFile(data) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            text = old.read(name)
            if name == "pattern.json":
                plain = json.loads(text)
                for pattern in plain["patterns"]:
                    change(pattern["seams"][0])
                text = json.dumps(plain).encode()
            new.writestr(name, text)
    return out.getvalue()


def test_a_file_from_before_there_were_parts_still_opens() -> None:
    def older(seam: dict) -> None:
        del seam["first_stretches"], seam["second_stretches"]

    (seam,) = project_from_bytes(spoilt(zipped(), older)).base.nest.sample.seams
    assert not seam.is_partial


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda seam: seam["first_stretches"].clear() or seam["first_stretches"].extend([{}, {}]), "one entry"),
        (lambda seam: seam["first_stretches"][0]["start"].update(notch="lost"), 'no notch "lost"'),
        (lambda seam: seam["second_stretches"][0]["end"].update(share=1.5), "from 0 to 1"),
    ],
)
def test_a_stretch_that_cannot_be_is_refused_by_its_field(change, words: str) -> None:
    with pytest.raises((FieldError, PatternError), match=words) as told:
        project_from_bytes(spoilt(zipped(), change))
    assert "_stretches" in str(told.value)
