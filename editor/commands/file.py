"""Files: new from a drawing, open, save, print, export, quit."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Final

from editor.commands.beginning import begin_from_drawing
from editor.commands.registry import Command, Desk, Menu, when_open
from editor.commands.safekeeping import PROJECT_KINDS, Then, load, write
from editor.session import Session

DRAWING_KINDS: Final = "Drawings (*.dxf *.DXF)"
OPENABLE_KINDS: Final = "Projects and drawings (*.dartwise *.dxf *.DXF)"


def open_path(desk: Desk, path: Path) -> None:
    """Open a project or begin one from a drawing, whichever the file is."""
    desk.before_leaving(partial(_read, desk, path))


def _read(desk: Desk, path: Path) -> None:
    if path.suffix.lower() == ".dartwise":
        load(desk, path)
    else:
        begin_from_drawing(desk, path)


def _new(desk: Desk) -> None:
    desk.before_leaving(
        lambda: desk.choose_file("New from a drawing", DRAWING_KINDS, partial(begin_from_drawing, desk))
    )


def _open(desk: Desk) -> None:
    desk.before_leaving(lambda: desk.choose_file("Open", OPENABLE_KINDS, partial(_read, desk)))


def save(desk: Desk, then: Then = None) -> None:
    """Save where the project came from, or ask where; ``then`` goes on once it is saved."""
    path = desk.session.path
    if path is None:
        save_as(desk, then)
    else:
        write(desk, then, path)


def save_as(desk: Desk, then: Then = None) -> None:
    """Ask where to save."""
    name = suggested_name(desk.session)
    desk.choose_file("Save as", PROJECT_KINDS, partial(write, desk, then), save_as=".dartwise", suggested=name)


def suggested_name(session: Session) -> str:
    """A file name, without ending, for the project or what is made of it."""
    if session.path is not None:
        return session.path.stem
    return Path(session.project.base.source_name).stem if session.project else "pattern"


def _print(desk: Desk) -> None:
    from editor.dialogs.print_preview import PrintPreview

    desk.show_dialog(PrintPreview(desk, suggested=suggested_name(desk.session)))


def _export(desk: Desk) -> None:
    from editor.dialogs.export import ExportDialog

    desk.show_dialog(ExportDialog(desk, suggested=f"{suggested_name(desk.session)}-altered"))


def _alteration_sheet(desk: Desk) -> None:
    from editor.commands.cutting_table import ask_alteration_sheet

    ask_alteration_sheet(desk, suggested_name(desk.session))


def _quit(desk: Desk) -> None:
    desk.close()


FILE = Menu(
    "&File",
    (
        Command("new", "&New from DXF…", "Begin a project with a pattern drawn in a DXF file", _new, "Ctrl+N", "new"),
        Command("open", "&Open…", "Open a project or a DXF file", _open, "Ctrl+O", "open"),
        None,
        Command("save", "&Save", "Save the project", save, "Ctrl+S", "save", enabled=when_open),
        Command("save-as", "Save &as…", "Save the project in another file", save_as, "Ctrl+Shift+S", enabled=when_open),
        None,
        Command(
            "print", "&Print…", "Lay the pieces out on sheets, look at the pages, print them or write a PDF", _print,
            "Ctrl+P", "print", enabled=when_open,
        ),
        Command(
            "alteration-sheet", "Al&teration sheet…", "Write what this round alters, to do it by hand and check it",
            _alteration_sheet, enabled=when_open,
        ),
        Command(
            "export", "&Export…", "Write one size or all as DXF or SVG", _export, "Ctrl+E", "export",
            enabled=when_open,
        ),
        None,
        Command("quit", "&Quit", "Close the window", _quit, "Ctrl+Q"),
    ),
)  # fmt: skip
