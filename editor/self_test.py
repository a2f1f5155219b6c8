"""The window tried without a person: opens, draws, checks, prints and saves the sample."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QSettings

import samples
from editor.app import application, build
from editor.dialogs.print_subject import subject_of
from editor.document.project import Base, new_project
from editor.document.project_file import load_project, save_project
from editor.formats.import_pattern import import_pattern
from editor.printing.choosing import pictures_of
from editor.printing.job import PrintJob
from editor.printing.pdf import write_pdf
from editor.printing.planning import plan


def self_test(folder: Path) -> int:
    """Open, draw, check, print and save the sample without a person; 0 if all of it went well.

    Args:
        folder: Where the settings, the PDF and the project are put.
    """
    window = build(application(), QSettings(str(folder / "settings.ini"), QSettings.Format.IniFormat))
    came_in = import_pattern(Path(samples.__file__).parent / "dress.dxf")
    base = Base(came_in.source_name, came_in.source_bytes, came_in.unit, came_in.nest)
    window.session.open_project(new_project(base), findings=came_in.findings)
    window.show()
    seen = window.table.grab().toImage()
    colours = {seen.pixel(x, seen.height() // 2) for x in range(0, seen.width(), 3)}
    sheets = plan(pictures_of(subject_of(window.session)), replace(PrintJob(), title=came_in.nest.name))
    write_pdf(sheets, folder / "self-test.pdf")
    path = folder / "self-test.dartwise"
    save_project(window.session.project or new_project(base), path)
    same = load_project(path) == window.session.project
    window.session.mark_saved(path)
    window.close()
    return 0 if same and len(colours) > 1 and (folder / "self-test.pdf").stat().st_size > 0 else 1
