"""Builds everything once and hands it over by argument; the only place where the parts of the window meet."""

from __future__ import annotations

import sys
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from editor.canvas.table import Table
from editor.session import Session
from editor.theme import Look
from editor.trouble import report_trouble
from editor.window import Window


def application() -> QApplication:
    """The Qt application, made on first use."""
    app = QApplication.instance()
    if isinstance(app, QApplication):
        return app
    app = QApplication(sys.argv[:1])
    app.setApplicationName("dartwise")
    app.setApplicationDisplayName("Dartwise")
    app.setOrganizationName("dartwise")
    app.setDesktopFileName("dartwise")
    return app


def build(app: QApplication, settings: QSettings) -> Window:
    """A window with nothing open."""
    look = Look(app, dark=_starts_dark(app, settings))
    session = Session()
    table = Table(session)
    window = Window(session, table, look, settings)
    session.setParent(window)
    look.setParent(window)
    return window


def main(path: Path | None = None) -> int:
    """Open the window, with a project or drawing if one is given, and stay until it is closed."""
    from editor.commands.file import open_path

    app = application()
    settings = QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "dartwise", "dartwise")
    window = build(app, settings)
    sys.excepthook = report_trouble(window)
    window.show()
    if path is not None:
        open_path(window, path)
    return app.exec()


def self_test(folder: Path) -> int:
    """Open, draw, check, print and save the sample without a person; 0 if all of it went well.

    Args:
        folder: Where the settings, the PDF and the project are put.
    """
    from dataclasses import replace

    import samples
    from editor.dialogs.print_preview import pictures_of
    from editor.document.project import Base, new_project
    from editor.document.project_file import load_project, save_project
    from editor.formats.import_pattern import import_pattern
    from editor.printing.job import PrintJob, plan
    from editor.printing.pdf import write_pdf

    window = build(application(), QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat))
    came_in = import_pattern(Path(samples.__file__).parent / "dress.dxf")
    base = Base(came_in.source_name, came_in.source_bytes, came_in.unit, came_in.nest)
    window.session.open_project(new_project(base), findings=came_in.findings)
    window.show()
    colours = {window.table.grab().toImage().pixel(x, 200) for x in range(0, 400, 3)}
    sheets = plan(pictures_of(window.session), replace(PrintJob(), title=came_in.nest.name))
    write_pdf(sheets, folder / "self-test.pdf")
    path = folder / "self-test.dartwise"
    save_project(window.session.project or new_project(base), path)
    same = load_project(path) == window.session.project
    window.session.mark_saved(path)
    window.close()
    return 0 if same and len(colours) > 1 and (folder / "self-test.pdf").stat().st_size > 0 else 1


def _starts_dark(app: QApplication, settings: QSettings) -> bool:
    """As chosen last time, else as the desktop is."""
    chosen = settings.value("dark")
    if chosen is not None:
        return str(chosen).lower() == "true"
    from PySide6.QtCore import Qt

    return app.styleHints().colorScheme() is Qt.ColorScheme.Dark
