"""The demo's project with both singers, three toiles each."""

from __future__ import annotations

from pathlib import Path

import samples
from editor.document.project import Base, Project, Wearer
from editor.formats.import_pattern import import_pattern
from samples import singers
from samples.journals import MAREN_SIZE, ODILE_SIZE, maren, odile


def two_singers() -> Project:
    came = import_pattern(Path(samples.__file__).parent / "dress.dxf")
    wearers = tuple(
        Wearer(number, name, size, singers.rounds(name, records), singers.measurements(name))
        for number, name, size, records in (("1", "Maren", MAREN_SIZE, maren()), ("2", "Odile", ODILE_SIZE, odile()))
    )
    return Project(Base(came.source_name, came.source_bytes, came.unit, came.nest), wearers, chart=singers.chart())
