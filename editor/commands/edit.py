"""Undo, redo, and what can be done to the selected step."""

from __future__ import annotations

from editor.commands.registry import Command, Desk, Menu, when_open
from editor.session import Session


def _has_record(session: Session) -> bool:
    return bool(session.selection.record)


def _remove(desk: Desk) -> None:
    desk.session.remove(desk.session.selection.record)


def _toggle(desk: Desk) -> None:
    record_id = desk.session.selection.record
    record = next((each for each in desk.session.records if each.id == record_id), None)
    if record is not None:
        desk.session.set_on(record_id, not record.on)


def _limits(desk: Desk) -> None:
    from editor.dialogs.limits import LimitsDialog

    desk.show_dialog(LimitsDialog(desk.session))


EDIT = Menu(
    "&Edit",
    (
        Command(
            "undo", "&Undo", "Take back the last change", lambda desk: desk.session.undo(), "Ctrl+Z", "undo",
            enabled=lambda session: bool(session.undo_label),
            title=lambda session: f"&Undo {session.undo_label.lower()}".rstrip(),
        ),
        Command(
            "redo", "&Redo", "Do again what was taken back last", lambda desk: desk.session.redo(), "Ctrl+Shift+Z",
            "redo",
            enabled=lambda session: bool(session.redo_label),
            title=lambda session: f"&Redo {session.redo_label.lower()}".rstrip(),
        ),
        None,
        Command(
            "toggle-step", "Step &on or off", "Carry the selected step out, or keep it in the journal without", _toggle,
            "Ctrl+/", enabled=_has_record,
        ),
        Command(
            "step-up", "Step &earlier", "Move the selected step up in the journal",
            lambda desk: desk.session.move(desk.session.selection.record, -1), "Alt+Up", "up", enabled=_has_record,
        ),
        Command(
            "step-down", "Step &later", "Move the selected step down in the journal",
            lambda desk: desk.session.move(desk.session.selection.record, 1), "Alt+Down", "down", enabled=_has_record,
        ),
        Command(
            "remove-step", "Re&move step", "Take the selected step out of the journal", _remove, "Ctrl+Backspace",
            "remove", enabled=_has_record,
        ),
        None,
        Command(
            "limits", "What the checks let &pass…", "Change the limits of the checks for this project", _limits,
            enabled=when_open,
        ),
    ),
)  # fmt: skip
