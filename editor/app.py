"""Builds everything once and hands it over by argument; the only place where the parts of the window meet."""

from __future__ import annotations

import builtins
import sys
from pathlib import Path

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication

from editor.theme import Look
from editor.window import OncePainted, Window, is_dark


def application() -> QApplication:
    """The Qt application, made on first use."""
    _import_plainly()
    app = QApplication.instance()
    if isinstance(app, QApplication):
        return app
    app = QApplication(sys.argv[:1])
    app.setApplicationName("dartwise")
    app.setApplicationDisplayName("Dartwise")
    app.setOrganizationName("dartwise")
    app.setDesktopFileName("dartwise")
    return app


def bare_window(app: QApplication, settings: QSettings, *, opening: str = "") -> Window:
    """A window that can be shown at once and says what it is opening; ``furnish`` makes it whole."""
    look = Look(app, dark=is_dark(settings))
    window = Window(look, settings, opening=opening)
    look.setParent(window)
    return window


def build(app: QApplication, settings: QSettings) -> Window:
    """A window with nothing open."""
    window = bare_window(app, settings)
    window.furnish()
    return window


def main(path: Path | None = None) -> int:
    """Open the window, with a project or drawing if one is given, and stay until it is closed."""
    app = application()
    settings = QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "dartwise", "dartwise")
    window = bare_window(app, settings, opening=path.name if path else "")
    window.installEventFilter(OncePainted(window, lambda: _furnish(window, path)))
    window.show()
    return app.exec()


def _import_plainly() -> None:
    """Python's own import again.

    PySide6 puts one in its place that reads the source of every module imported from then on, and keeps it, to see
    whether that asks for other names of Qt's functions (``from __feature__ import``), as nothing here does: 11 MB.
    """
    vars(builtins)["__import__"] = vars(builtins).get("__orig_import__", builtins.__import__)


def _furnish(window: Window, path: Path | None) -> None:
    """Once the bare window is painted: what is slow to load."""
    from editor.commands.file import open_path
    from editor.commands.safekeeping import offer_recovery
    from editor.tidying import Tidying
    from editor.trouble import catch_trouble

    catch_trouble(window)
    Tidying(window)
    window.furnish()
    offer_recovery(window, lambda: open_path(window, path) if path is not None else None)
