"""The session: one holder of the project, whole or unchanged after every request."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from editor.session import MISFIT, Session
from geometry.alterations.slash import Hinge
from geometry.errors import StepError
from geometry.units import Unit
from tests.gui.choir import choir, slash


@pytest.fixture
def session(qtbot: QtBot) -> Session:
    session = Session()
    session.open_project(choir())
    return session


def test_the_last_wearers_last_round_is_shown_first(session: Session) -> None:
    assert (session.wearer.name, session.round.name, session.base.size) == ("Odile", "toile 1", "14")


def test_what_is_shown_is_the_replay_of_the_journal(session: Session) -> None:
    expected = session.records[1].step.apply(session.records[0].step.apply(session.base).pattern).pattern
    assert session.pattern == expected


def test_a_step_that_does_not_fit_is_refused_and_nothing_changes(session: Session) -> None:
    before = session.project
    with pytest.raises(StepError, match="gusset"):
        session.add_step(slash("gusset"))
    assert session.project is before
    assert session.undo_label == ""


def test_a_step_that_stopped_fitting_stays_in_the_list_as_a_finding(session: Session) -> None:
    lost = replace(session.records[0], id="3", step=slash("gusset"))
    project = session.project.with_records("2", "1", (*session.records, lost))
    session.open_project(project)
    assert session.is_misfit("3")
    assert MISFIT in {finding.code for finding in session.findings}
    session.set_amount("3", 5.0)
    assert session.records[2].step.amount_mm == 5.0


def test_trying_a_step_out_changes_nothing_but_what_is_previewed(session: Session, qtbot: QtBot) -> None:
    before = session.project
    with qtbot.waitSignal(session.preview_changed):
        session.try_out(slash("front skirt", 5.0))
    assert session.preview.pattern == slash("front skirt", 5.0).apply(session.pattern).pattern
    assert session.project is before
    session.try_out(None)
    assert session.preview is None


def test_a_step_tried_out_in_vain_leaves_no_preview(session: Session) -> None:
    session.try_out(slash("front skirt", 5.0))
    with pytest.raises(StepError):
        session.try_out(slash("front skirt", 50_000.0))
    assert session.preview is None


def test_changes_of_one_amount_in_a_row_are_undone_together_and_others_apart(session: Session) -> None:
    for amount in (10.0, 11.0, 12.0):
        session.set_amount("1", amount)
    session.set_amount("2", 3.0)
    session.undo()
    assert [record.step.amount_mm for record in session.records] == [12.0, 12.7]
    session.undo()
    assert session.project == choir()
    session.redo()
    assert session.records[0].step.amount_mm == 12.0


def test_undoing_a_step_unpicks_it(session: Session) -> None:
    record = session.add_step(slash("front skirt", 5.0))
    assert session.selection.record == record
    session.undo()
    assert session.selection.record == ""


def test_undoing_a_new_wearer_shows_one_that_is_still_there(session: Session) -> None:
    session.add_wearer("Ines", "12")
    assert session.wearer.name == "Ines"
    session.undo()
    assert session.wearer.name == "Odile"


def test_moving_a_step_stops_at_the_ends(session: Session) -> None:
    session.move("2", -5)
    assert [record.id for record in session.records] == ["2", "1"]
    session.move("2", -1)
    assert [record.id for record in session.records] == ["2", "1"]


def test_another_size_runs_the_same_steps_on_it(session: Session) -> None:
    session.change_wearer("Odile", "12")
    assert session.base.size == "12"
    assert [record.step.kind for record in session.records] == ["slash", "slash"]
    assert session.pattern.size == "12"


def test_findings_come_after_the_last_of_several_changes(session: Session, qtbot: QtBot) -> None:
    heard = []
    session.findings_changed.connect(lambda: heard.append(session.records[0].step.amount_mm))
    for amount in (10.0, 20.0, 30.0):
        session.set_amount("1", amount)
    assert heard == []
    qtbot.waitUntil(lambda: bool(heard))
    assert heard == [30.0]


def test_lengths_are_written_in_the_unit_chosen(session: Session) -> None:
    assert session.words(12.7) == "1.27 cm"
    session.set_unit(Unit.INCH)
    assert session.words(12.7) == '1/2"'


def test_saving_marks_the_state_and_undo_unmarks_it(session: Session, tmp_path: object) -> None:
    session.set_amount("1", 10.0)
    assert session.is_modified
    session.mark_saved(tmp_path / "choir.dartwise")
    assert not session.is_modified
    session.undo()
    assert session.is_modified
    session.redo()
    assert not session.is_modified


def test_the_hinge_of_the_sample_slash_keeps_the_waist(session: Session) -> None:
    assert slash().cuts[0].hinge is Hinge.END
    waist = session.pattern.piece("front skirt").sewn_length_mm("waist")
    assert waist == pytest.approx(session.base.piece("front skirt").sewn_length_mm("waist"), abs=0.5)
