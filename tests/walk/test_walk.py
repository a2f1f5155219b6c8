"""A random walk over everything that can be done to a project; after every step all that must always hold does.

``HYPOTHESIS_PROFILE=long`` walks a hundred times further.
"""

from __future__ import annotations

import gc
import shutil
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from editor.document.project import Project
from editor.document.project_file import load_project, project_bytes, project_from_bytes
from editor.document.saving import earlier_copy
from editor.document.sitting import read_record
from editor.keeper import Keeper
from editor.session import Session
from geometry.affine import distance_mm
from geometry.alterations.replay import Record, replay
from geometry.checks.run import check_pattern
from geometry.errors import PatternError
from geometry.findings import Level
from geometry.model.pattern import Pattern
from geometry.regions import is_simple
from geometry.tolerance import SAME_POINT_MM
from tests.gui.choir import choir
from tests.walk.random_steps import AMOUNTS_MM, steps
from tests.walk.sayings import SAYINGS

FARTHEST_MM = 1e6


class Walk(RuleBasedStateMachine):
    """The session and its keeper without a window, and beside them what must have come of it all."""

    def __init__(self) -> None:
        super().__init__()
        gc.collect()
        gc.disable()  # what belongs to Qt must not be cleared away on the thread that writes
        self.folder = Path(tempfile.mkdtemp(prefix="dartwise-walk-"))
        self.path = self.folder / "choir.dartwise"
        self.session = Session()
        self.keeper = Keeper(self.session, self.folder / "sittings")
        self.saved: Project | None = None
        self.states: list[Project] = []

    @initialize()
    def begin(self) -> None:
        self.session.open_project(choir(), saved=False)
        self.states = [self.session.project]

    def teardown(self) -> None:
        self.keeper.finish()
        gc.enable()
        shutil.rmtree(self.folder)

    # -- what a person does

    @rule(data=st.data())
    def alter(self, data: st.DataObject) -> None:
        self._try(self.session.add_step, data.draw(steps(self.session.pattern)))

    @rule(data=st.data())
    def alter_again(self, data: st.DataObject) -> None:
        """Twice as often as anything else, so that there is something to change."""
        self.alter(data)

    @precondition(lambda self: self.session.records)
    @rule(data=st.data(), amount_mm=AMOUNTS_MM)
    def change_amount(self, data: st.DataObject, amount_mm: float) -> None:
        self._try(self.session.set_amount, self._any_record(data).id, amount_mm, joined=True)

    @precondition(lambda self: self.session.records)
    @rule(data=st.data(), on=st.booleans())
    def switch(self, data: st.DataObject, on: bool) -> None:
        self._try(self.session.set_on, self._any_record(data).id, on)

    @precondition(lambda self: self.session.records)
    @rule(data=st.data())
    def take_out(self, data: st.DataObject) -> None:
        self._try(self.session.remove, self._any_record(data).id)

    @precondition(lambda self: len(self.session.records) > 1)
    @rule(data=st.data(), by=st.integers(-2, 2))
    def move(self, data: st.DataObject, by: int) -> None:
        self._try(self.session.move, self._any_record(data).id, by)

    @precondition(lambda self: self.session.records)
    @rule(data=st.data(), note=st.text(max_size=5))
    def write_note(self, data: st.DataObject, note: str) -> None:
        self._try(self.session.set_note, self._any_record(data).id, note)

    @rule(data=st.data())
    def look_at_another_wearer_or_round(self, data: st.DataObject) -> None:
        wearer = data.draw(st.sampled_from(self.session.project.wearers))
        before = self.session.project
        self.session.show(wearer.id, data.draw(st.sampled_from(wearer.rounds)).id)
        assert self.session.project is before

    @precondition(lambda self: len(self.session.wearer.rounds) < 4)
    @rule()
    def begin_round(self) -> None:
        records = self.session.records
        self._try(self.session.begin_round)
        assert self.session.records == records

    @precondition(lambda self: len(self.session.project.wearers) < 4)
    @rule(size=st.sampled_from(["12", "14"]))
    def add_wearer(self, size: str) -> None:
        self._try(self.session.add_wearer, "Ida", size)

    @rule(size=st.sampled_from(["12", "14"]))
    def change_size(self, size: str) -> None:
        self._try(self.session.change_wearer, self.session.wearer.name, size)

    @rule(data=st.data())
    def say_something(self, data: st.DataObject) -> None:
        label = data.draw(st.sampled_from(sorted(SAYINGS)))
        self._try(SAYINGS[label], data, self.session)

    @rule(data=st.data())
    def say_something_else(self, data: st.DataObject) -> None:
        """Twice as often as anything else: there is so much that can be said."""
        self.say_something(data)

    @rule()
    def undo(self) -> None:
        label = self.session.undo_label
        self.session.undo()
        if label:
            self.states_at -= 1
            assert self.session.redo_label == label

    @rule()
    def redo(self) -> None:
        label = self.session.redo_label
        self.session.redo()
        if label:
            self.states_at += 1
            assert self.session.undo_label == label

    @rule()
    def undo_all_and_redo_all(self) -> None:
        here, back = self.session.project, 0
        while self.session.undo_label:
            self.session.undo()
            back += 1
        assert self.session.project == self.states[0]
        forward = 0
        while self.session.redo_label:
            self.session.redo()
            forward += 1
        assert self.session.project == self.states[-1]
        for _ in range(forward - back):
            self.session.undo()
        assert self.session.project == here

    @rule()
    def save(self) -> None:
        before = self.saved
        self.keeper.save(self.path)
        assert not self.session.is_modified
        self.saved = load_project(self.path)
        assert self.saved == self.session.project
        if before is not None and before != self.saved:
            assert load_project(earlier_copy(self.path)) == before

    @precondition(lambda self: self.saved is not None)
    @rule()
    def open_what_was_saved(self) -> None:
        self.keeper.open_file(self.path)
        assert self.session.project == self.saved
        self.states, self.states_at = [self.session.project], 0

    @rule()
    def lose_the_power(self) -> None:
        """What is written down is what is shown."""
        assert self.keeper._autosave.wait(20)
        (file,) = (self.folder / "sittings").iterdir()
        assert read_record(file).project == self.session.project

    # -- what must hold

    @invariant()
    def the_shown_project_is_the_state_it_should_be(self) -> None:
        if self.states:
            assert self.session.project == self.states[self.states_at]

    @invariant()
    def what_is_shown_is_the_replay_of_the_journal_on_the_bought_pattern(self) -> None:
        if self.states:
            assert self.session.pattern == by_hand(self.session.base, self.session.records)

    @invariant()
    def every_outline_is_closed_and_simple_and_every_length_finite(self) -> None:
        if self.states:
            refuse_unsound(self.session.pattern)

    @invariant()
    def bytes_and_back_are_the_same(self) -> None:
        if self.states:
            assert project_from_bytes(project_bytes(self.session.project)) == self.session.project

    # -- inside

    states_at = 0

    def _try(self, change: Any, *arguments: Any, joined: bool = False) -> None:
        """Do it: either the project is another one, told by one more state, or it is the very same."""
        before, label = self.session.project, self.session.undo_label
        try:
            change(*arguments)
        except PatternError as error:
            assert error.sentence  # noqa: PT017
            assert self.session.project is before
            assert self.session.undo_label == label
            return
        after = self.session.project
        if after is before:
            return
        states = len(self.session._history.states)
        self.states = [*self.states[: self.states_at + 1], after]
        if joined and states < len(self.states):  # amounts that follow each other are one change
            del self.states[-2]
        self.states_at = len(self.states) - 1
        assert states == len(self.states)
        assert self.session.undo_label

    def _any_record(self, data: st.DataObject) -> Record:
        return data.draw(st.sampled_from(self.session.records))


def by_hand(base: Pattern, records: tuple[Record, ...]) -> Pattern:
    """The replay without its memory."""
    pattern = base
    for record in records:
        try:
            pattern = record.step.apply(pattern).pattern if record.on else pattern
        except PatternError:
            continue
    return pattern


def refuse_unsound(pattern: Pattern) -> None:
    """An outline that crosses itself must at least be told as something to stop for."""
    crossed = set()
    for piece in pattern.pieces:
        for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            assert np.isfinite(edge.points).all()
            assert np.abs(edge.points).max() < FARTHEST_MM
            assert distance_mm(edge.end, following.start) <= SAME_POINT_MM
            assert edge.length_mm > 0
        if not is_simple(piece.outline):
            crossed.add(piece.name)
    if crossed:
        stops = {finding.piece for finding in check_pattern(pattern) if finding.level is Level.STOP}
        assert crossed <= stops


Walk.TestCase.settings = settings(max_examples=max(12, settings.default.max_examples // 8), stateful_step_count=25)


@pytest.mark.slow
@pytest.mark.usefixtures("qapp")
class TestWalk(Walk.TestCase):
    """Every walk ends well."""


def test_the_memory_of_the_replay_changes_nothing() -> None:
    project = choir()
    for wearer in project.wearers:
        for each in wearer.rounds:
            assert replay(project.start(wearer.id), each.records).pattern == by_hand(
                project.start(wearer.id), each.records
            )
