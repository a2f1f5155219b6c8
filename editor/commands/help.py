"""Short help and the standing cautions."""

from __future__ import annotations

from editor.commands.registry import Command, Desk, Menu


def _help(desk: Desk) -> None:
    from editor.dialogs.about import HelpDialog

    desk.show_dialog(HelpDialog(desk.look))


def _cautions(desk: Desk) -> None:
    from editor.dialogs.about import CautionsDialog

    desk.show_dialog(CautionsDialog(desk.look))


HELP = Menu(
    "&Help",
    (
        Command("short-help", "&Short help", "How a round goes, and every key", _help, "F1", "help"),
        Command("cautions", "&Cautions", "What to mind before you print, sew and cut", _cautions, "", "caution"),
    ),
)
