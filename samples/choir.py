"""The demo's project: the concert dress in all its sizes, with both singers and their toiles."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from editor.document.project import Base, Project, Wearer
from editor.formats.import_pattern import import_pattern
from geometry.alterations.replay import Record
from samples import journals, singers

DRESS = Path(__file__).parent / "dress.dxf"
STYLE = "Concert dress"


def choir_project() -> Project:
    """Maren and Odile with three rounds each; Odile, who is shown first, is the last."""
    imported = import_pattern(DRESS)
    base = Base(imported.source_name, imported.source_bytes, imported.unit, replace(imported.nest, name=STYLE))

    def wearer(number: str, name: str, size: str, records: tuple[Record, ...]) -> Wearer:
        return Wearer(number, name, size, singers.rounds(name, records), singers.measurements(name))

    maren = wearer("1", "Maren", journals.MAREN_SIZE, journals.maren())
    odile = wearer("2", "Odile", journals.ODILE_SIZE, journals.odile())
    return Project(base, (maren, odile), chart=singers.chart())
