from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from editor.document.history import History, opened
from editor.document.project import Base, Project, new_project
from geometry.model.pattern import Nest, Pattern
from geometry.units import Unit

BASE = Base("one.dxf", b"", Unit.MM, Nest("one", (Pattern((), size="M"),), "M"))


def named(name: str) -> Project:
    return new_project(BASE, wearer=name)


def walked(history: History) -> list[str]:
    return [state.project.wearers[0].name for state in history.states]


def test_undo_and_redo_show_the_states_in_order() -> None:
    history = opened(named("a"), saved=True).done(named("b"), "First").done(named("c"), "Second")
    assert (history.undo_label, history.redo_label) == ("Second", None)
    back = history.undone()
    assert (back.project.wearers[0].name, back.undo_label, back.redo_label) == ("b", "First", "Second")
    assert back.redone().project is history.project


def test_a_change_after_undo_forgets_what_could_be_done_again() -> None:
    history = opened(named("a"), saved=True).done(named("b"), "First").undone().done(named("c"), "Other")
    assert walked(history) == ["a", "c"]
    assert history.redone() is history


def test_undo_before_the_first_change_does_nothing() -> None:
    history = opened(named("a"), saved=True)
    assert history.undone() is history
    assert history.redone() is history


def test_changes_with_one_key_are_undone_together() -> None:
    history = opened(named("a"), saved=True)
    for name in "bcd":
        history = history.done(named(name), "Change amount", joins="amount 1")
    assert walked(history) == ["a", "d"]
    assert walked(history.done(named("e"), "Change amount", joins="amount 2")) == ["a", "d", "e"]


def test_a_change_after_undo_or_save_is_one_of_its_own() -> None:
    history = opened(named("a"), saved=True).done(named("b"), "Change", joins="k").done(named("c"), "Change")
    assert walked(history.undone().done(named("d"), "Change", joins="k")) == ["a", "b", "d"]
    saved = opened(named("a"), saved=True).done(named("b"), "Change", joins="k").marked_saved()
    assert walked(saved.done(named("c"), "Change", joins="k")) == ["a", "b", "c"]


def test_saved_is_told_of_the_state_on_disk_only() -> None:
    history = opened(named("a"), saved=False)
    assert not history.is_saved
    history = history.done(named("b"), "First").marked_saved()
    assert history.is_saved
    assert not history.undone().is_saved
    assert history.undone().redone().is_saved
    assert not history.undone().done(named("c"), "Other").is_saved


def test_the_very_same_project_adds_nothing() -> None:
    history = opened(named("a"), saved=True)
    assert history.done(history.project, "Nothing") is history


@given(st.lists(st.sampled_from(["do", "undo", "redo", "join", "save"]), max_size=60))
def test_undo_of_all_gives_the_start_and_redo_of_all_the_end(moves: list[str]) -> None:
    start = named("start")
    history = opened(start, saved=True)
    for number, move in enumerate(moves):
        match move:
            case "do":
                history = history.done(named(str(number)), "Change")
            case "join":
                history = history.done(named(str(number)), "Change", joins="k")
            case "undo":
                history = history.undone()
            case "redo":
                history = history.redone()
            case "save":
                history = history.marked_saved()
    end = history.states[-1].project
    back = history
    for _ in history.states:
        back = back.undone()
    forth = back
    for _ in history.states:
        forth = forth.redone()
    assert back.project is start
    assert forth.project is end
    assert replace(forth.states[0], joins="") == replace(history.states[0], joins="")
