"""The handbook beside the table, by mouse and keys."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from editor.document.project import Measurement, Project
from editor.panels.handbook import HandbookForm
from editor.window import Window
from geometry.affine import Point, distance_mm
from geometry.alterations.anchors import On, on_edge
from geometry.alterations.dart_steps import LengthenDart
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.bench import NamedPlace
from geometry.fitting.finished import finished
from geometry.fitting.measures import Measure
from tests.gui.choir import choir
from tests.gui.table_hand import TableHand

pytestmark = pytest.mark.gui

LEFT = Qt.MouseButton.LeftButton
CONTROL = Qt.KeyboardModifier.ControlModifier
REACH_MM = 20.0
"""How far off a corner or notch may be caught at the size the whole dress is seen in."""


@pytest.fixture
def handbook(window: Window) -> HandbookForm:
    window.show_handbook("D01")
    return window.form


def type_into(qtbot: QtBot, field: object, text: str, end: Qt.Key = Qt.Key.Key_Tab) -> None:
    qtbot.mouseClick(field, LEFT)
    qtbot.keyClick(field, Qt.Key.Key_A, CONTROL)
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, end)


def draft_of(window: Window):
    return window.table.bench.tools["handbook"]._draft


def handle_at(window: Window, name: str) -> Point:
    return next(each.at for each in draft_of(window).layout.handles if each.place.name == name)


def test_words_typed_find_an_alteration_and_enter_lays_it_out(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_H, CONTROL)
    field = window.form.finder.field
    assert field.hasFocus()
    qtbot.keyClicks(field, "upper arm full")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.form.title.text() == "Full upper arm"
    assert window.table.bench.tool.name == "handbook"
    assert window.session.preview.pattern.piece("sleeve") is not window.session.pattern.piece("sleeve")


def test_a_region_shows_its_alterations_only(window: Window) -> None:
    window.show_handbook()
    finder = window.form.finder
    finder.region.setCurrentText("Armhole")
    assert {finder.list.item(row).text() for row in range(finder.list.count())} == {
        "Armhole too high or tight",
        "Armhole too low or large",
        "Armhole further forward",
    }


@pytest.mark.parametrize(("key", "code"), [("3", "D01"), ("4", "I01")])
def test_full_bust_and_upper_arm_are_entries_of_the_handbook(qtbot: QtBot, window: Window, key: str, code: str) -> None:
    before = window.session.project
    qtbot.keyClick(window, getattr(Qt.Key, f"Key_{key}"), CONTROL)
    assert draft_of(window).step.entry == code
    assert window.form.sheet.trouble.text() == ""
    qtbot.keyClick(window.form.sheet.amount, Qt.Key.Key_Escape)
    assert window.form is None
    assert window.session.preview is None
    assert window.session.project is before
    assert window.table.bench.tool.name == "select"


def test_half_of_a_difference_typed_is_the_amount_and_enter_records_one_step(
    qtbot: QtBot, window: Window, handbook: HandbookForm
) -> None:
    type_into(qtbot, handbook.sheet.difference, "3 cm")
    assert handbook.sheet.amount.text() == "1.5 cm"
    assert "half of the difference on each half front" in handbook.sheet.share.text()
    tried = window.session.preview.pattern
    qtbot.keyClick(handbook.sheet.amount, Qt.Key.Key_Return)
    assert window.form is None
    assert len(window.session.records) == 3
    assert window.session.records[-1].step == Alteration("D01", 15.0, "waist and side dart")
    assert window.session.pattern == tried
    assert window.furnishing.journal.rows["3"].words.text() == "Full bust, darted front: waist and side dart"
    assert window.furnishing.journal.isVisible()


def test_a_caution_is_shown_before_anything_is_done(qtbot: QtBot, window: Window) -> None:
    window.show_handbook("H01")
    sheet = window.form.sheet
    assert not sheet.cautions.isVisible()
    type_into(qtbot, sheet.amount, "14 mm")
    assert sheet.cautions.isVisible()
    assert "slash from waist to hem" in sheet.cautions.text()
    assert len(window.session.records) == 2


def test_every_piece_touched_is_shown_as_it_would_be_with_its_outline_now(window: Window) -> None:
    window.show_handbook("A01")
    assert {piece.name for piece in window.table.bench.tried} == {"front bodice", "back bodice"}
    lying = window.table.bench.sheets.lying_trial(window.table.bench.tried[0])
    assert lying.before is not None


def test_a_place_dragged_on_the_table_is_kept_in_the_step(window: Window, handbook: HandbookForm) -> None:
    hand = TableHand(window.table, "front bodice")
    at = handle_at(window, "hinge on armhole")
    edge = window.session.pattern.piece("front bodice").edge("armhole")
    wanted = edge.point_at(edge.length_mm * 0.55)
    hand.drag(at, ((at[0] + wanted[0]) / 2, (at[1] + wanted[1]) / 2), wanted)
    (place,) = draft_of(window).step.places
    assert (place.piece, place.name) == ("front bodice", "hinge on armhole")
    assert place.anchor.on in (On.EDGE, On.NOTCH)
    assert distance_mm(handle_at(window, "hinge on armhole"), wanted) < REACH_MM
    hand.key(Qt.Key.Key_Return)
    assert window.session.records[-1].step.places == (place,)


def test_the_amount_is_dragged_at_its_arrow(window: Window, handbook: HandbookForm) -> None:
    pull, before = draft_of(window).pull, draft_of(window).step.amount_mm
    hand = TableHand(window.table, pull.piece)
    further = tuple(start + 2 * (end - start) for start, end in zip(pull.before, pull.after, strict=True))
    hand.drag(pull.after, further)
    assert draft_of(window).step.amount_mm == pytest.approx(2 * before, abs=3.0)
    assert handbook.sheet.amount.amount == draft_of(window).step.amount_mm
    hand.key(Qt.Key.Key_Escape)
    assert window.form is None
    assert len(window.session.records) == 2


def test_an_amount_is_typed_on_the_table(window: Window, handbook: HandbookForm) -> None:
    hand = TableHand(window.table, "front bodice")
    window.table.setFocus()
    hand.type("9")
    hand.type(" mm")
    assert draft_of(window).step.amount_mm == 9.0
    assert handbook.sheet.amount.text() == "0.9 cm"


def test_a_landmark_is_placed_by_mouse_as_a_step_of_its_own(
    qtbot: QtBot, window: Window, handbook: HandbookForm
) -> None:
    handbook.sheet.landmark.setCurrentText("bust point")
    qtbot.mouseClick(handbook.sheet.place, LEFT)
    TableHand(window.table, "front bodice").click((60.0, 120.0))
    step = window.session.records[-1].step
    assert (step.kind, step.piece, step.landmark) == ("place-landmark", "front bodice", "bust point")
    assert draft_of(window).step.entry == "D01"
    marked = {each.name: each.at for each in draft_of(window).landmarks}
    assert distance_mm(marked["bust point"], (60.0, 120.0)) < 8.0


def test_another_tool_leaves_the_handbook(qtbot: QtBot, window: Window, handbook: HandbookForm) -> None:
    qtbot.keyClick(window.table, Qt.Key.Key_M)
    assert window.form is None
    assert window.table.bench.tool.name == "measure"
    assert window.session.preview is None


def test_a_recorded_alteration_taken_apart_gives_the_same_pieces(qtbot: QtBot, window: Window) -> None:
    window.session.add_step(Alteration("A01", 20.0))
    pattern = window.session.pattern
    window.furnishing.journal.rows["3"].apart.trigger()
    kinds = [record.step.kind for record in window.session.records[2:]]
    assert "alteration" not in kinds
    assert len(kinds) > 1
    for piece in window.session.pattern.pieces:
        assert piece.area_mm2 == pytest.approx(pattern.piece(piece.name).area_mm2)
    window.session.undo()
    assert window.session.records[-1].step == Alteration("A01", 20.0)


# --- a recorded alteration taken in hand again


def recorded(window: Window, *steps: Alteration) -> list[str]:
    return [window.session.add_step(step) for step in steps]


def test_a_double_click_in_the_journal_lays_a_step_out_as_it_was_made(qtbot: QtBot, window: Window) -> None:
    before = window.session.pattern
    place = NamedPlace("front bodice", "hinge on armhole", on_edge("armhole", 0.45))
    first, _ = recorded(window, Alteration("D01", 12.7, "waist dart", places=(place,)), Alteration("A01", 20.0))
    whole = window.session.pattern
    row = window.furnishing.journal.rows[first]
    qtbot.mouseDClick(row.words, LEFT)
    form = window.form
    assert form.title.text() == "Step 3: Full bust, darted front"
    assert (form.sheet.amount.amount, form.sheet.variant) == (12.7, "waist dart")
    assert draft_of(window).step.places == (place,)
    assert draft_of(window).layout.ground is before
    assert window.session.preview.pattern is whole
    assert window.table.bench.sheets.scene.sheets["front bodice"].piece is before.piece("front bodice")


def test_a_double_click_on_a_cut_and_enter_on_the_table_take_it_in_hand_too(qtbot: QtBot, window: Window) -> None:
    (record,) = recorded(window, Alteration("A04", 30.0))
    cut = next(each for each in window.table.bench.sheets.scene.cuts if each.record == record)
    hand = TableHand(window.table, cut.piece)
    (x0, y0), (x1, y1) = cut.points[0].tolist(), cut.points[-1].tolist()
    at = (x0 + 0.4 * (x1 - x0), y0 + 0.4 * (y1 - y0))
    hand.click(at)
    QTest.mouseDClick(window.table, LEFT, pos=hand.pixel(at))
    assert window.form.title.text() == "Step 3: Skirt length"
    hand.key(Qt.Key.Key_Escape)
    assert window.form is None
    window.session.select(record=record)
    hand.key(Qt.Key.Key_Return)
    assert window.form.title.text() == "Step 3: Skirt length"


def test_another_amount_runs_the_whole_journal_live_and_enter_changes_the_step_in_place(
    qtbot: QtBot, window: Window
) -> None:
    first, last = recorded(window, Alteration("D01", 12.7), Alteration("A01", 20.0))
    window.session.set_note(first, "second toile")
    history = window.session.undo_label
    qtbot.keyClick(window.furnishing.journal.rows[first], Qt.Key.Key_Return)
    type_into(qtbot, window.form.sheet.amount, "2 cm")
    tried = window.session.preview.pattern
    qtbot.keyClick(window.form.sheet.amount, Qt.Key.Key_Return)
    assert window.form is None
    assert [record.id for record in window.session.records[-2:]] == [first, last]
    assert window.session.records[-2].step.amount_mm == 20.0
    assert window.session.records[-2].note == "second toile"
    assert window.session.pattern is tried
    assert window.table.bench.sheets.scene.sheets["front bodice"].piece is tried.piece("front bodice")
    window.session.undo()
    assert window.session.records[-2].step == Alteration("D01", 12.7)
    assert window.session.undo_label == history


def test_escape_leaves_a_recorded_step_as_it_was(qtbot: QtBot, window: Window) -> None:
    (record,) = recorded(window, Alteration("H01", 8.0))
    project, pattern = window.session.project, window.session.pattern
    window.table.bench.reopen(record)
    type_into(qtbot, window.form.sheet.amount, "3 cm")
    qtbot.keyClick(window.form.sheet.amount, Qt.Key.Key_Escape)
    assert window.form is None
    assert window.session.project is project
    assert window.table.bench.sheets.scene.sheets["front skirt"].piece is pattern.piece("front skirt")


def test_another_wearer_puts_a_step_in_hand_away(window: Window) -> None:
    (record,) = recorded(window, Alteration("H01", 8.0))
    window.table.bench.reopen(record)
    window.session.add_wearer("Berit", "12")
    assert window.form is None
    assert window.session.preview is None


def test_a_step_that_is_off_is_not_taken_in_hand(window: Window) -> None:
    (record,) = recorded(window, Alteration("H01", 8.0))
    window.session.set_on(record, False)
    hints: list[str] = []
    window.table.hint_changed.connect(hints.append)
    assert not window.table.bench.reopen(record)
    assert "Turn this step on first" in hints[-1]


def test_a_landmark_placed_for_a_step_in_hand_comes_before_it(qtbot: QtBot, window: Window) -> None:
    (record,) = recorded(window, Alteration("D01", 12.7))
    window.table.bench.reopen(record)
    window.form.sheet.landmark.setCurrentText("bust point")
    qtbot.mouseClick(window.form.sheet.place, LEFT)
    TableHand(window.table, "front bodice").click((60.0, 120.0))
    assert [each.step.kind for each in window.session.records[-2:]] == ["place-landmark", "alteration"]
    assert window.session.records[-1].id == record
    assert window.form is not None


def test_a_later_step_that_would_not_fit_any_more_is_told_before(window: Window) -> None:
    first, _ = recorded(window, Alteration("E01", 10.0, "neck dart"), LengthenDart("back bodice", "neck dart", -5.0))
    window.table.bench.reopen(first)
    assert "would not fit" not in window.form.sheet.cautions.text()
    window.form.sheet.way.setCurrentText("eased")
    assert "Step 4 of the journal would not fit any more." in window.form.sheet.cautions.text()


@pytest.mark.parametrize(("code", "piece"), [("C07", "left back bodice"), ("H04", "left back skirt")])
def test_pieces_cut_single_are_seen_before_it_is_done_with_an_arrow(window: Window, code: str, piece: str) -> None:
    at = dict(window.table.bench.sheets.scene.sheets)
    window.show_handbook(code)
    bench = window.table.bench
    assert piece in bench.sheets.scene.sheets
    assert piece in {each.name for each in bench.tried}
    assert draft_of(window).pull.piece in bench.sheets.scene.sheets
    window.table.grab()
    window.form.settle()
    assert piece in {each.name for each in window.session.pattern.pieces}
    window.table.grab()
    window.session.undo()
    assert {name: sheet.at for name, sheet in bench.sheets.scene.sheets.items()} == {n: s.at for n, s in at.items()}


def test_no_tool_is_ticked_while_an_alteration_is_laid_out(window: Window, handbook: HandbookForm) -> None:
    tools, handbook_action = window.furnishing.tools.by_name, window.furnishing.actions.by_id["handbook"]
    assert not any(action.isChecked() for action in tools.values())
    assert handbook_action.isChecked()
    handbook.leave()
    assert tools["select"].isChecked()
    assert not handbook_action.isChecked()


def test_what_a_wedge_overhangs_on_the_fold_is_told_before_it_is_done(window: Window) -> None:
    project = choir()
    nest = project.base.nest
    folded = [each.with_piece(replace(each.piece("back bodice"), fold="centre back")) for each in nest.patterns]
    window.session.open_project(
        replace(project, base=replace(project.base, nest=replace(nest, patterns=tuple(folded))))
    )
    window.show_handbook("E06")
    sheet = window.form.sheet
    window.form.reshape(draft_of(window).step.with_amount_mm(25.4))
    assert "is on the fold and would lean by" in sheet.cautions.text()
    assert sheet.cautions.isVisible()
    assert len(window.session.records) == 2


def test_what_is_good_to_know_is_told_before_it_is_done(window: Window) -> None:
    window.show_handbook("C04")
    assert "The shoulder of" in window.form.sheet.notes.text()
    assert window.form.sheet.notes.isVisible()


# --- amounts from the wearer's measurements


def measured(project: Project, name: str, length_mm: float) -> Project:
    wearer = project.wearers[-1]
    return project.with_wearer(replace(wearer, measurements=(*wearer.measurements, Measurement(name, length_mm))))


def test_what_the_measurements_ask_for_is_told_with_its_sum_and_taken(qtbot: QtBot, window: Window) -> None:
    arm_mm = finished(window.session.pattern).mm(Measure.ARM_LENGTH)
    window.session.open_project(measured(choir(), Measure.ARM_LENGTH.value, arm_mm + 25.0))
    window.show_handbook("A06")
    sheet = window.form.sheet
    assert sheet.measured.text().replace("&", "") == "Take 2.5 cm, as measured"
    assert "2.5 cm more in all" in sheet.sum.text()
    sheet.measured.click()
    assert draft_of(window).step.amount_mm == pytest.approx(25.0)
    assert sheet.amount.text() == "2.5 cm"


def test_an_entry_leads_to_those_that_may_be_meant_instead(window: Window, handbook: HandbookForm) -> None:
    assert "Full bust, princess seam" in handbook.sheet.words.text()
    handbook.sheet.words.linkActivated.emit("entry:D05")
    assert handbook.title.text() == "Large bust with narrow shoulders or full chest"
    assert draft_of(window).step.entry == "D05"


def test_without_measurements_nothing_is_asked_for(window: Window) -> None:
    window.show_handbook("A06")
    assert not window.form.sheet.measured.isVisible()


def test_a_press_on_the_arrow_takes_the_arrow_though_a_ring_lies_under_it(window: Window) -> None:
    window.show_handbook("B04")
    draft = draft_of(window)
    place = next(each for each in draft.layout.handles if each.place.name == "dart on neck")
    window.form._tool.show(replace(draft, layout=replace(draft.layout, handles=(replace(place, at=draft.pull.after),))))
    hand = TableHand(window.table, draft.pull.piece)
    hand.press(draft.pull.after)
    assert window.form._tool._held.pull is not None
    hand.release(draft.pull.after)


def test_marks_that_can_be_placed_are_those_of_the_pieces_and_one_that_is_needed_comes_first(window: Window) -> None:
    window.show_handbook("J01")
    box = window.form.sheet.landmark
    names = [box.itemText(row) for row in range(box.count())]
    assert (box.currentText(), "knee" in names) == ("crotch point", True)
    assert not {"neck point", "bust point", "elbow"} & set(names)


def test_a_difference_is_asked_for_only_where_the_way_takes_a_part_of_it(window: Window) -> None:
    window.show_handbook("H04")
    sheet = window.form.sheet
    assert not sheet.difference.isVisible()
    sheet.way.setCurrentText("left larger")
    assert sheet.difference.isVisible()
    assert "half of the difference" in sheet.share.text()
