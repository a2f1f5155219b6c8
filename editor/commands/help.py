"""Help and the standing cautions."""

from __future__ import annotations

from editor.commands.registry import Command, Desk, Menu, when_open
from editor.commands.sample import open_sample


def _help(desk: Desk) -> None:
    from editor.dialogs.help_window import HelpWindow
    from editor.dialogs.room import keep_on_screen

    window = desk.table.window()
    shown = window.findChild(HelpWindow) or HelpWindow(desk, window)
    keep_on_screen(shown)
    shown.show()
    shown.raise_()
    shown.activateWindow()


def _cautions(desk: Desk) -> None:
    from editor.dialogs.about import CautionsDialog

    desk.show_dialog(CautionsDialog(desk.look))


HELP = Menu(
    "&Help",
    (
        Command("help", "&Help", "How things are done, every key, every alteration", _help, "F1", "help"),
        Command(
            "first-steps", "&First steps", "What to try first, one thing at a time",
            lambda desk: desk.show_first_steps(), enabled=when_open,
        ),
        Command("sample", "Our &dress, to try things on", "A choir's dress with two singers", open_sample),
        None,
        Command("cautions", "&Cautions", "What to mind before you print, sew and cut", _cautions, "", "caution"),
    ),
)  # fmt: skip
