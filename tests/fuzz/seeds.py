"""Sound files of our own to begin from, small enough that a case takes milliseconds."""

from __future__ import annotations

import io
import json
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf

from editor.document.journal import journal_bytes
from editor.document.project import Base, Project, new_project
from editor.document.project_file import project_bytes
from editor.formats.dxf_writer import write_drawing
from editor.formats.grade_rules import write_rules
from editor.formats.grading_out import graded_drawing
from editor.formats.import_pattern import import_pattern
from editor.formats.pattern_to_drawing import drawing_of
from geometry.model.pattern import Nest, Pattern
from geometry.units import Unit
from tests.benchmarks.dress import PLAIN_STEPS
from tests.editor.formats_files import piece_document
from tests.editor.project_samples import project
from tests.geometry.plain_dress import dress
from tests.gui.choir import choir

SAMPLES = Path(__file__).parents[2] / "samples"


@cache
def drawings() -> tuple[bytes, ...]:
    """Standard drawings of one piece of ours each, one raw trace, and drawings with every kind of entity."""
    sample = import_pattern(SAMPLES / "dress.dxf").nest.sample
    pieces = [written(Pattern((piece,), size=sample.size)) for piece in sample.pieces]
    plain = dress()
    return (*pieces, written(plain), raw_lines(), every_entity(), text_of(piece_document()), text_of(nested_blocks()))


def written(pattern: Pattern) -> bytes:
    """A pattern as a standard drawing."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "piece.dxf"
        write_drawing(drawing_of(pattern), path, unit="mm")
        return path.read_bytes()


def raw_lines() -> bytes:
    """A square as a digitiser leaves it: single lines in no order, ends that do not quite meet, a text."""
    corners = [(0, 0), (10, 0.004), (10, 20), (0, 20.003), (0, 0)]
    document = ezdxf.new("R12")
    model = document.modelspace()
    for start, end in [(corners[at], corners[at + 1]) for at in (2, 0, 3, 1)]:
        model.add_line((start[0] + 0.002, start[1]), end)
    model.add_text("back", dxfattribs={"insert": (5, 10)})
    return text_of(document)


def every_entity() -> bytes:
    """Closed outlines of each kind of entity that is read."""
    document = ezdxf.new("R2000")
    model = document.modelspace()
    model.add_lwpolyline([(0, 0, 0, 0, 0.3), (90, 0), (90, 200), (0, 200)], close=True, format="xyseb")
    model.add_circle((300, 50), 40)
    model.add_ellipse((500, 50), (60, 10), 0.5)
    model.add_spline([(700, 0), (790, 20), (780, 150), (700, 140), (700, 0)])
    model.add_arc((900, 0), 50, 0, 180)
    model.add_line((850, 0), (950, 0))
    model.add_mtext("Piece Name: arc", dxfattribs={"insert": (900, 20)})
    return text_of(document)


def nested_blocks() -> Any:
    """Blocks in blocks, turned, scaled, mirrored, and in rows and columns."""
    document = piece_document("R2000")
    outer = document.blocks.new("OUTER")
    outer.add_blockref("FRONT_40", (10, 10), dxfattribs={"rotation": 30, "xscale": -1.0, "yscale": 1.0})
    outer.add_blockref("BACK_40", (400, 0), dxfattribs={"xscale": 2.0, "yscale": 2.0})
    model = document.modelspace()
    model.add_blockref("OUTER", (1000, 0))
    model.add_blockref("OUTER", (0, 900), dxfattribs={"row_count": 2, "column_count": 2, "row_spacing": 900})
    return document


def text_of(document: Any) -> bytes:
    """A document as the bytes of its file."""
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


@cache
def projects() -> tuple[bytes, ...]:
    """Project files with steps of many kinds."""
    plain = dress()
    base = Base("dress.dxf", b"0\nEOF\n", Unit.MM, Nest("dress", (plain,), plain.size))
    return project_bytes(project()), project_bytes(choir()), project_bytes(new_project(base))


@cache
def journals() -> tuple[bytes, ...]:
    """Journals as they are written, one of plain steps and the two of the demo."""
    records = [journal_bytes(each.records) for wearer in choir().wearers for each in wearer.rounds]
    found = [path.read_bytes() for path in (PLAIN_STEPS, *sorted(SAMPLES.glob("*.json")))]
    return (*records, *(each for each in found if json.loads(each).get("format") == "dartwise-journal"))


@cache
def graded() -> tuple[bytes, bytes]:
    """One piece in its sample size as a drawing with rule numbers, and the table for all sizes."""
    nest = import_pattern(SAMPLES / "dress.dxf").nest
    one = Nest("skirt", tuple(Pattern((each.pieces[-1],), size=each.size) for each in nest.patterns), nest.sample_size)
    drawing, table = graded_drawing(one)
    with tempfile.TemporaryDirectory() as folder:
        write_drawing(drawing, Path(folder, "piece.dxf"), unit="mm")
        write_rules(table, Path(folder, "piece.rul"))
        return Path(folder, "piece.dxf").read_bytes(), Path(folder, "piece.rul").read_bytes()


CHART = b"""Size;36;38;40;42
Bust (cm);84;88;92;96,5
Waist;66,5;70;74;78
Hip [in];35 1/2;37;38 5/8;40
Finished bust;92;96;-;104
Cup;5;;;
"""


def pattern_of_journals() -> Project:
    """What the journals are carried out on."""
    return choir()
