"""From a drawing to a project: its lengths, then what a trace is read as, then what the only line is."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from editor.commands.registry import Desk
from geometry.errors import PatternError

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog

    from editor.dialogs.units import UnitsDialog
    from editor.formats.clean_up import CleanUp
    from editor.formats.import_pattern import Import


def begin_from_drawing(desk: Desk, path: Path) -> None:
    """Ask for the units of a drawing, and whatever else it leaves open; then begin a project with it."""
    from editor.dialogs.units import UnitsDialog
    from editor.dialogs.waiting import waiting

    try:
        with waiting():
            dialog = UnitsDialog(path, desk.look)
    except PatternError as error:
        desk.tell(error.sentence, title="This drawing was not read")
        return
    dialog.answered.connect(lambda: _clean_up(desk, dialog))
    desk.show_dialog(dialog)


def _clean_up(desk: Desk, units: UnitsDialog) -> None:
    """Show what a trace is read as, each page over the one before it, so that Back leads there."""
    from editor.formats.clean_up import ALL_TAKEN

    if not units.found.suggestions:
        _outline(desk, units, ALL_TAKEN, units.found)
        return
    from editor.dialogs.clean_up import CleanUpDialog

    page = CleanUpDialog(units.opened, units.found, desk.look, desk.session.unit)
    page.answered.connect(lambda: _outline(desk, units, page.clean_up, page.found, page))
    desk.show_dialog(page)


def _outline(desk: Desk, units: UnitsDialog, clean_up: CleanUp, found: Import, *pages: QDialog) -> None:
    """Ask what the only line is, where there is only one."""
    if not found.has_only_line:
        _begin(desk, units, found, *pages)
        return
    from editor.dialogs.outline_page import OutlineDialog

    page = OutlineDialog(units.opened, clean_up, desk.look, desk.session.unit)
    page.answered.connect(lambda: _begin(desk, units, page.found or found, page, *pages))
    desk.show_dialog(page)


def _begin(desk: Desk, units: UnitsDialog, found: Import, *pages: QDialog) -> None:
    project = units.project_of(found)
    for page in (*pages, units):
        page.done(1)
    desk.session.open_project(project, findings=found.findings, saved=False)
    desk.table.fit_all()
