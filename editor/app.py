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


def _starts_dark(app: QApplication, settings: QSettings) -> bool:
    """As chosen last time, else as the desktop is."""
    chosen = settings.value("dark")
    if chosen is not None:
        return str(chosen).lower() == "true"
    from PySide6.QtCore import Qt

    return app.styleHints().colorScheme() is Qt.ColorScheme.Dark
