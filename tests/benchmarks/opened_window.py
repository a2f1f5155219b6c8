"""The editor's window with the demo open; as a program it prints its peak memory in KiB and ends."""

from __future__ import annotations

import resource
import tempfile
from pathlib import Path

from PySide6.QtCore import QSettings

from editor.app import application, build


def opened_window():  # type: ignore[no-untyped-def]
    """Application, window and project, shown at 1440 x 900."""
    app = application()
    from tests.benchmarks.dress import demo_project  # as the editor imports: Qt and the application first

    with tempfile.TemporaryDirectory() as folder:
        window = build(app, QSettings(str(Path(folder, "settings.ini")), QSettings.Format.IniFormat))
    project = demo_project()
    window.session.open_project(project)
    window.resize(1440, 900)
    window.show()
    app.processEvents()
    return app, window, project


if __name__ == "__main__":
    opened = opened_window()
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)  # noqa: T201 - the parent process reads it
