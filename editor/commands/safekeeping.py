"""Opening and saving where something stands in the way: another window, another hand, a full disk, a crash."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from editor.commands.registry import Desk
from editor.document.locking import HeldError
from editor.document.saving import CHANGED, GONE, earlier_copy
from geometry.errors import PatternError

if TYPE_CHECKING:
    from editor.document.recovery import Found

PROJECT_KINDS: Final = "Dartwise projects (*.dartwise)"

Then = Callable[[], None] | None


def load(desk: Desk, path: Path, *, by_force: bool = False, as_copy: bool = False) -> None:
    """Open a project; asks where another window has it open."""
    try:
        desk.keeper.open_file(path, by_force=by_force, as_copy=as_copy)
    except HeldError as error:
        _ask_about_held(desk, path, error)
    except PatternError as error:
        _tell_unopened(desk, path, error)
    else:
        if not as_copy:
            desk.remember_file(path)
        desk.table.fit_all()


def write(desk: Desk, then: Then, path: Path, *, replacing: bool = False) -> None:
    """Save what is open; asks where the file is not what it was or cannot be written."""
    try:
        desk.keeper.save(path, replacing=replacing)
    except PatternError as error:
        _ask_about_save(desk, then, path, error)
        return
    desk.remember_file(path)
    desk.inform(f"Saved {path.name}")
    if then is not None:
        then()


def offer_recovery(desk: Desk, otherwise: Callable[[], None] = lambda: None) -> None:
    """Show what a crash left behind; do something else if there is nothing, or none of it is opened."""
    from editor.dialogs.recovery import RecoveryDialog

    found = desk.keeper.left_behind()
    if not found:
        otherwise()
    else:
        dialog = RecoveryDialog(found, desk.look, desk.session.unit)
        dialog.opened.connect(partial(_recover, desk))
        dialog.thrown_away.connect(desk.keeper.throw_away)
        dialog.rejected.connect(otherwise)
        desk.show_dialog(dialog)


def _recover(desk: Desk, found: Found) -> None:
    def recover() -> None:
        desk.keeper.recover(found)
        desk.table.fit_all()
        desk.inform(f"{found.name} as it was; save it to keep it")

    desk.before_leaving(recover)


def _tell_unopened(desk: Desk, path: Path, error: PatternError) -> None:
    from editor.dialogs.question import Question, Way

    title, earlier = "This file was not opened", earlier_copy(path)
    if not earlier.is_file():
        desk.tell(error.sentence, title=title)
        return
    sentence = f"{error.sentence} Beside it is a copy of what it held before it was last saved."
    way = Way("Open the earlier copy", partial(load, desk, earlier, as_copy=True))
    desk.show_dialog(Question(desk.look, title, sentence, way))


def _ask_about_held(desk: Desk, path: Path, error: HeldError) -> None:
    from editor.dialogs.question import Question, Way

    sentence = f"{error.sentence} What is saved from two windows overwrites each other, so work on a copy of it here."
    desk.show_dialog(
        Question(
            desk.look,
            "This project is open already",
            sentence,
            Way("Open a copy", partial(load, desk, path, as_copy=True)),
            Way("Open it all the same", partial(load, desk, path, by_force=True), loses=True),
        )
    )


def _ask_about_save(desk: Desk, then: Then, path: Path, error: PatternError) -> None:
    from editor.dialogs.question import Question, Way

    ways = [Way("Save a copy…", partial(_save_copy, desk, then, path))]
    sentence = error.sentence
    if error.code == CHANGED:
        sentence += " A copy keeps both; replacing keeps theirs as the earlier copy beside it."
        ways.append(Way("Replace it", partial(write, desk, then, path, replacing=True), loses=True))
    elif error.code == GONE:
        ways.append(Way("Save it there again", partial(write, desk, then, path, replacing=True)))
    elif not isinstance(error, HeldError):
        sentence += f" {desk.keeper.kept_words()}"
        ways.append(Way("Try again", partial(write, desk, then, path)))
    desk.show_dialog(Question(desk.look, "The project was not saved", sentence, *ways))


def _save_copy(desk: Desk, then: Then, path: Path) -> None:
    desk.choose_file(
        "Save a copy", PROJECT_KINDS, partial(write, desk, then), save_as=".dartwise", suggested=f"{path.stem} copy"
    )
