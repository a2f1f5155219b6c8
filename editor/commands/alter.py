"""Alterations chosen from a menu: small forms that show what they would do while they are filled in."""

from __future__ import annotations

from collections.abc import Callable

from editor.commands.registry import Command, Desk, Menu, when_open


def _form(kind: str) -> Callable[[Desk], None]:
    return lambda desk: desk.show_form(kind)


def _wearer(desk: Desk) -> None:
    from editor.dialogs.wearer import WearerDialog

    desk.show_dialog(WearerDialog(desk.session, new=True))


def _edit_wearer(desk: Desk) -> None:
    from editor.dialogs.wearer import WearerDialog

    desk.show_dialog(WearerDialog(desk.session, new=False))


def _edit_round(desk: Desk) -> None:
    from editor.dialogs.round import RoundDialog

    desk.show_dialog(RoundDialog(desk.session))


ALTER = Menu(
    "&Alter",
    (
        Command(
            "slash", "&Slash and spread…", "Cut a piece from edge to edge and open it, or fold it out", _form("slash"),
            "Ctrl+1", "slash", enabled=when_open,
        ),
        Command(
            "dart-transfer", "&Dart transfer…", "Close one dart and open the same angle elsewhere",
            _form("dart-transfer"), "Ctrl+2", "dart-transfer", enabled=when_open,
        ),
        None,
        Command(
            "handbook", "&Handbook…", "Find an alteration by body region, by name or by what the toile shows",
            lambda desk: desk.show_handbook(), "Ctrl+H", "handbook", enabled=when_open,
            is_on=lambda desk: desk.table.bench.tool.name == "handbook",
        ),
        Command(
            "full-bust", "Full &bust…", "Spread a half front at the bust point; less than nothing takes out",
            lambda desk: desk.show_handbook("D01"), "Ctrl+3", "full-bust", enabled=when_open,
        ),
        Command(
            "upper-arm", "&Upper arm…", "Spread a sleeve at the upper arm and keep its cap seam",
            lambda desk: desk.show_handbook("I01"), "Ctrl+4", "upper-arm", enabled=when_open,
        ),
        None,
        Command(
            "add-wearer", "Add &wearer…", "Alter the same pattern for someone else too", _wearer, "", "wearer",
            enabled=when_open,
        ),
        Command(
            "edit-wearer", "Wearer's &name and size…", "Change this wearer's name and size", _edit_wearer,
            enabled=lambda session: session.wearer is not None,
        ),
        Command(
            "next-round", "Next &toile", "Begin the next toile with a copy of these steps",
            lambda desk: desk.session.begin_round(), "Ctrl+T", enabled=lambda session: session.round is not None,
        ),
        Command(
            "edit-round", "Toile's name and da&y…", "Change this toile's name and day, or remove it", _edit_round,
            enabled=lambda session: session.round is not None,
        ),
    ),
)  # fmt: skip
