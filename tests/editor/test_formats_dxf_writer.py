import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pyogrio
import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor.formats.drawing import Block, Drawing, Shape
from editor.formats.dxf_writer import ascii_text, block_name, write_drawing
from geometry.affine import frozen_points
from geometry.errors import PatternError
from tests.editor.formats_files import is_read_lean, read_both

GDAL_OPTIONS = {"INLINE_BLOCKS": "NO", "MERGE_BLOCK_GEOMETRIES": "NO", "INCLUDE_RAW_CODE_VALUES": "YES"}
"""Without them GDAL flattens the blocks into the model space and loses layers."""


def path_shape(points: Any, layer: str = "1", closed: bool = True) -> Shape:
    entity = "LINE" if len(points) == 2 else "POLYLINE"
    return Shape(layer, "path", frozen_points(points), closed, entity=entity)


def point_shape(place: Any, layer: str, **notch: float) -> Shape:
    return Shape(layer, "point", frozen_points([place]), entity="POINT", **notch)


def text_shape(text: str, place: Any = (0, 0)) -> Shape:
    return Shape("1", "text", frozen_points([place]), text=text, entity="TEXT")


def dress() -> Drawing:
    rng = np.random.default_rng(4)
    blocks = []
    for name in ("FRONT_40", "BACK_40", "SLEEVE_40"):
        turn = np.sort(rng.uniform(0, 2 * np.pi, 120))
        outline = np.column_stack((np.cos(turn), np.sin(turn))) * rng.uniform(150, 450, (120, 1)) / 3
        blocks.append(
            Block(
                name,
                (
                    path_shape(outline),
                    path_shape(outline[:40] * 0.5, "8", closed=False),
                    path_shape([(1 / 3, 0.1), (1 / 3, 200)], "7", closed=False),
                    *(point_shape(place, "2") for place in outline[::10]),
                    point_shape(outline[3], "4", z=6.35, thickness=3.2, angle_deg=123.456),
                    point_shape(outline[9], "4", z=6.35, thickness=0.0, angle_deg=0.0),
                    text_shape(f"Piece Name: {name}", outline[0]),
                ),
            )
        )
    return Drawing(tuple(blocks), (text_shape("Style Name: CHOIR"),))


def test_round_trip_is_exact_to_the_last_digit(tmp_path: Path) -> None:
    drawing = dress()
    path = tmp_path / "out.dxf"
    write_drawing(drawing, path, unit="mm")
    back = read_both(path)
    assert back.blocks == drawing.blocks
    assert back.loose == (*drawing.loose, text_shape("Units: METRIC"))
    assert not back.notes
    assert not back.unused
    assert is_read_lean(path)


coordinate = st.floats(-1e5, 1e5, allow_nan=False)


@given(st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=8))
def test_any_coordinates_survive_writing_and_reading(tmp_path_factory: pytest.TempPathFactory, points: Any) -> None:
    path = tmp_path_factory.mktemp("round") / "out.dxf"
    shape = path_shape(points, closed=False)
    write_drawing(Drawing((Block("P", (shape,)),)), path, unit="mm")
    (block,) = read_both(path).blocks
    truth = shape.points[:-1] if len(points) > 3 and points[0] == points[-1] else shape.points
    assert np.array_equal(block.shapes[0].points, truth)


def test_ezdxf_opens_and_audits_the_file_without_a_fault(tmp_path: Path) -> None:
    path = tmp_path / "out.dxf"
    write_drawing(dress(), path, unit="mm")
    document = ezdxf.readfile(path)
    auditor = document.audit()
    assert not auditor.errors
    assert not auditor.fixes
    assert document.dxfversion == "AC1009"
    inserts = [(insert.dxf.name, insert.dxf.insert.xyz) for insert in document.modelspace().query("INSERT")]
    assert inserts == [(name, (0, 0, 0)) for name in ("FRONT_40", "BACK_40", "SLEEVE_40")]
    outline = document.blocks.get("FRONT_40").query("POLYLINE").first
    assert outline.is_closed
    assert [v.dxf.location.xyz[:2] for v in outline.vertices] == [
        tuple(p) for p in dress().blocks[0].shapes[0].points.tolist()
    ]


def test_gdal_reads_the_same_vertices(tmp_path: Path) -> None:
    """A second reader that shares no code with the first; it refuses files without a header."""
    path = tmp_path / "out.dxf"
    drawing = dress()
    write_drawing(drawing, path, unit="mm")
    meta, _, geometry, fields = pyogrio.raw.read(path, layer="blocks", **GDAL_OPTIONS)
    columns = dict(zip(meta["fields"], fields, strict=True))
    for block in drawing.blocks:
        mine = [shape for shape in block.shapes if shape.kind != "text"]
        rows = [row for row in range(len(geometry)) if columns["Block"][row] == block.name and not columns["Text"][row]]
        assert [columns["Layer"][row] for row in rows] == [shape.layer for shape in mine]
        for row, shape in zip(rows, mine, strict=True):
            truth = np.vstack((shape.points, shape.points[:1])) if shape.closed else shape.points
            vertices = wkb_vertices(geometry[row])
            assert vertices[:, :2] == pytest.approx(truth, abs=1e-6)
            assert vertices[:, 2] == pytest.approx(shape.z, abs=1e-6)


def wkb_vertices(data: bytes) -> Any:
    """Vertices of a little-endian WKB point or line string with z (of which a line tells its count first)."""
    offset = {0x80000001: 5, 0x80000002: 9}[int.from_bytes(data[1:5], "little")]
    return np.frombuffer(data, "<f8", offset=offset).reshape(-1, 3)


def test_explicit_zeros_of_notches_are_in_the_file(tmp_path: Path) -> None:
    """A slit notch has width 0, which is not the same as no width at all."""
    path = tmp_path / "out.dxf"
    shapes = (path_shape([(0, 0), (9, 0), (9, 9)]), point_shape((5, 0), "4", z=6))
    write_drawing(Drawing((Block("P", shapes),)), path, unit="mm")
    text = path.read_text()
    notch = text[text.index("POINT") :].split("  0\n")[0]
    assert re.search(r"^ 39\n0\.0$", notch, re.MULTILINE)
    assert re.search(r"^ 50\n0\.0$", notch, re.MULTILINE)


def test_file_is_ascii_with_crlf_and_blocks_for_pieces_only(tmp_path: Path) -> None:
    path = tmp_path / "out.dxf"
    shapes = (path_shape([(0, 0), (9, 0), (9, 9)]), text_shape("Piece Name: Rücken, ½ Größe 前"))
    write_drawing(Drawing((Block("Rückenteil/links Größe 40", shapes),)), path, unit="in")
    data = path.read_bytes()
    assert data.isascii()
    assert data.count(b"\n") == data.count(b"\r\n")
    assert data.count(b"\r\nBLOCK\r\n") == 1
    (block,) = read_both(path).blocks
    assert block.name == "RUECKENTEIL_LINKS_GROESSE_40"
    assert block.shapes[1].text == "Piece Name: Ruecken,  1/2 Groesse 前"


@pytest.mark.parametrize(("unit", "word", "hint"), [("mm", "METRIC", "mm"), ("in", "ENGLISH", "in")])
def test_units_text_says_what_the_numbers_are(tmp_path: Path, unit: Any, word: str, hint: str) -> None:
    path = tmp_path / "out.dxf"
    old = Drawing((Block("P", (path_shape([(0, 0), (9, 0), (9, 9)]),)),), (text_shape("UNITS : whatever"),))
    write_drawing(old, path, unit=unit)
    back = read_both(path)
    assert [shape.text for shape in back.loose] == [f"Units: {word}"]
    assert (back.units_hint, back.units_stated) == (hint, True)


def test_names_stay_apart_when_shortened(tmp_path: Path) -> None:
    path = tmp_path / "out.dxf"
    shape = path_shape([(0, 0), (9, 0), (9, 9)])
    write_drawing(Drawing(tuple(Block(f"{'long ' * 9}{n}", (shape,)) for n in range(12))), path, unit="mm")
    names = [block.name for block in read_both(path).blocks]
    assert len(set(names)) == 12
    assert max(map(len, names)) <= 31


@given(st.text())
def test_any_name_and_text_can_be_written(text: str) -> None:
    assert re.fullmatch(r"[A-Z0-9_-]{1,31}", block_name(text))
    assert ascii_text(text).isascii()
    assert len(ascii_text(text).splitlines()) <= 1


def test_old_file_stays_whole_when_writing_fails(tmp_path: Path) -> None:
    path = tmp_path / "out.dxf"
    write_drawing(dress(), path, unit="mm")
    before = path.read_bytes()
    broken = Drawing((Block("SLEEVE", (point_shape((float("nan"), 0), "2"),)),))
    with pytest.raises(PatternError, match="'SLEEVE' has a point"):
        write_drawing(broken, path, unit="mm")
    assert path.read_bytes() == before
    assert os.listdir(tmp_path) == ["out.dxf"]


def test_place_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    with pytest.raises(PatternError, match="cannot be written"):
        write_drawing(dress(), tmp_path / "none" / "out.dxf", unit="mm")
    (tmp_path / "folder.dxf").mkdir()
    with pytest.raises(PatternError, match="cannot be written"):
        write_drawing(dress(), tmp_path / "folder.dxf", unit="mm")
    assert os.listdir(tmp_path) == ["folder.dxf"]


def test_reading_a_plain_file_does_not_import_ezdxf(tmp_path: Path) -> None:
    path = tmp_path / "out.dxf"
    write_drawing(dress(), path, unit="mm")
    code = "import sys; from editor.formats.dxf_reader import read_drawing; read_drawing(sys.argv[1])"
    code += "; print('ezdxf' in sys.modules)"
    run = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "False"
