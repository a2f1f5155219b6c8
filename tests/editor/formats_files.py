"""Files for the tests of reading and writing: drawn by ezdxf, or tag by tag for what no library would write."""

from pathlib import Path
from typing import Any

import ezdxf
import numpy as np

from editor.formats.drawing import Drawing
from editor.formats.dxf_container import read_tags
from editor.formats.dxf_placement import place
from editor.formats.dxf_reader import read_drawing, read_fully
from editor.formats.dxf_structure import read_structure
from editor.formats.tag_stream import read_plain

VERSIONS = ("R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018")
SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 200.0), (0.0, 200.0))


def read_both(path: Path, **options: Any) -> Drawing:
    """Read a file; where the lean reader takes it, the full reader must find exactly the same in it."""
    drawing = read_drawing(path, **options)
    contents = read_structure(read_tags(path, encoding=options.get("encoding")))
    plain = read_plain(contents)
    if plain is not None:
        full = read_fully(contents)
        assert place(plain) == place(full)
        assert plain.unused == full.unused
        assert (drawing.blocks, drawing.loose) == place(plain)
    return drawing


def is_read_lean(path: Path) -> bool:
    return read_plain(read_structure(read_tags(path))) is not None


def piece_document(version: str = "R12", names: tuple[str, ...] = ("FRONT_40", "BACK_40")) -> Any:
    """A drawing of one square piece per name with points, notches, grain and texts, each placed where it is drawn."""
    document = ezdxf.new(version, units=0)
    for number, name in enumerate(names):
        block = document.blocks.new(name)
        outline = [(x + 300 * number, y) for x, y in SQUARE]
        block.add_polyline2d(outline, close=True, dxfattribs={"layer": "1"})
        for x, y in outline:
            block.add_point((x, y), dxfattribs={"layer": "2"})
        place = (outline[0][0] + 50, 0, 6.5)
        block.add_point(place, dxfattribs={"layer": "4", "thickness": 3.25, "angle": 90})
        block.add_line((outline[0][0] + 50, 20), (outline[0][0] + 50, 180), dxfattribs={"layer": "7"})
        block.add_text(f"Piece Name: {name}", dxfattribs={"layer": "1", "insert": outline[0]})
        document.modelspace().add_blockref(name, (0, 0), dxfattribs={"layer": "1"})
    document.modelspace().add_text("Units: METRIC", dxfattribs={"layer": "1"})
    return document


def saved(document: Any, folder: Path, name: str = "drawing.dxf", fmt: str = "asc") -> Path:
    path = folder / name
    document.saveas(path, fmt=fmt)
    return path


def tag_text(*tags: tuple[int, Any]) -> str:
    return "".join(f"{code:>3}\n{value}\n" for code, value in tags)


def polyline_tags(points: Any = SQUARE, layer: str = "1", flags: int = 1) -> list[tuple[int, Any]]:
    tags: list[tuple[int, Any]] = [(0, "POLYLINE"), (8, layer), (66, 1), (70, flags)]
    for x, y in points:
        tags += [(0, "VERTEX"), (8, layer), (10, x), (20, y)]
    return [*tags, (0, "SEQEND")]


def block_tags(name: str, *content: tuple[int, Any]) -> list[tuple[int, Any]]:
    return [(0, "BLOCK"), (8, 0), (2, name), (70, 0), (10, 0.0), (20, 0.0), *content, (0, "ENDBLK")]


def insert_tags(name: str, *more: tuple[int, Any]) -> list[tuple[int, Any]]:
    return [(0, "INSERT"), (8, 1), (2, name), (10, 0.0), (20, 0.0), *more]


def file_text(blocks: list[tuple[int, Any]], entities: list[tuple[int, Any]], version: str = "") -> str:
    """A whole file in the lean style many programs write: no tables, no handles, a header only with a version."""
    header = [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, version), (0, "ENDSEC")] if version else []
    return tag_text(
        *header,
        *[(0, "SECTION"), (2, "BLOCKS"), *blocks, (0, "ENDSEC")],
        *[(0, "SECTION"), (2, "ENTITIES"), *entities, (0, "ENDSEC"), (0, "EOF")],
    )


def sample_text(version: str = "") -> str:
    """Two blocks of one square each, placed where they are drawn."""
    blocks = [*block_tags("A", *polyline_tags()), *block_tags("B", *polyline_tags())]
    return file_text(blocks, [*insert_tags("A"), *insert_tags("B")], version)


def written(folder: Path, text: str | bytes, name: str = "drawing.dxf") -> Path:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def distance_to_run(places: Any, run: Any) -> Any:
    """Distance of each place to the nearest chord of a run of points."""
    places, run = np.asarray(places, dtype=float), np.asarray(run, dtype=float)
    start, step = run[:-1], np.diff(run, axis=0)
    share = np.clip(((places[:, None] - start) * step).sum(-1) / (step * step).sum(-1), 0, 1)
    nearest = start + share[..., None] * step
    return np.hypot(*np.moveaxis(places[:, None] - nearest, -1, 0)).min(axis=1)
