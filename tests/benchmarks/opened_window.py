"""The editor's window with the demo open; as a program it opens a file, prints its peak memory in KiB and ends."""

from __future__ import annotations

import resource
import sys
import tempfile
from pathlib import Path

from PySide6.QtCore import QSettings

from editor.app import application, build


def opened_window(path: Path | None = None):  # type: ignore[no-untyped-def]
    """Application, window and project, shown at 1440 x 900: a file, or the demo as it is drafted."""
    app = application()
    with tempfile.TemporaryDirectory() as folder:
        window = build(app, QSettings(str(Path(folder, "settings.ini")), QSettings.Format.IniFormat))
        if path is not None:
            window.open_file(path)
        else:
            from tests.benchmarks.dress import demo_project

            window.session.open_project(demo_project())
    window.resize(1440, 900)
    window.show()
    app.processEvents()
    return app, window, window.session.project


if __name__ == "__main__":
    opened = opened_window(Path(sys.argv[1]))
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)  # noqa: T201 - the parent process reads it
