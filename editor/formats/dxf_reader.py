"""Reading a DXF file into a drawing: the lean reader where it is enough, the full reader else.

An empty or incomplete result is never success: what the readers took is counted against the tags of the
file itself.
"""

import re
from collections.abc import Iterable, Iterator
from itertools import chain
from pathlib import Path

import numpy as np

from editor.formats.drawing import Drawing, Shape, Unit
from editor.formats.dxf_container import read_tags
from editor.formats.dxf_content import LARGEST_COORDINATE, Loaded, layer_of
from editor.formats.dxf_placement import place
from editor.formats.dxf_rebuild import rebuild
from editor.formats.dxf_structure import Contents, read_structure
from editor.formats.tag_stream import read_plain
from geometry.errors import PatternError

WITHIN_MM = 0.02
"""How far chords may stray from the curve they stand for: a fifth of the thinnest printed line."""

MOST_POINTS = 50_000
"""Ten metres of outline with a point every fifth of a millimetre; what has more would only make every step slow."""

MOST_SHAPES = 150_000
"""Forty pieces traced a millimetre at a time make half of that."""

MM_PER_UNIT: dict[Unit, float] = {"mm": 1.0, "cm": 10.0, "in": 25.4}

_UNITS_TEXT = re.compile(r"\s*units?\s*:\s*(\w+)", re.IGNORECASE)
_UNIT_WORDS: dict[str, Unit] = {
    "metric": "mm", "mm": "mm", "millimeter": "mm", "millimeters": "mm", "millimetre": "mm", "millimetres": "mm",
    "cm": "cm", "centimeter": "cm", "centimeters": "cm", "centimetre": "cm", "centimetres": "cm",
    "english": "in", "imperial": "in", "in": "in", "inch": "in", "inches": "in",
}  # fmt: skip
_INSUNITS: dict[str, Unit] = {"1": "in", "4": "mm", "5": "cm"}
_MEASUREMENT: dict[str, Unit] = {"0": "in", "1": "mm"}
_COUNTED = ("POLYLINE", "VERTEX", "LINE", "POINT", "TEXT", "INSERT")


def read_drawing(path: Path | str, *, unit_mm: float | None = None, encoding: str | None = None) -> Drawing:
    """Read a DXF file.

    Args:
        path: The file.
        unit_mm: Millimetres per file unit, for how finely curves are taken apart. If None, the finest
            that any unit would need is used.
        encoding: Name of the coding of its letters; worked out from the file if None.

    Raises:
        PatternError: With one sentence on what is wrong and what to do.
    """
    path = Path(path)
    contents = read_structure(read_tags(path, encoding=encoding))
    loaded = read_plain(contents) or read_fully(contents, unit_mm=unit_mm)
    _refuse_losses(contents, loaded)
    for stray in contents.strays:
        loaded.unused[stray.type, layer_of(contents.value(stray, 8))] += 1
    blocks, loose = place(loaded)
    shapes = list(chain(loose, *(block.shapes for block in blocks)))
    _refuse_swollen(path.name, shapes)
    if not any(shape.kind == "path" for shape in shapes):
        sentence = f"{path.name} holds no line or outline; export it again with the pieces in it."
        raise PatternError(sentence, code="no-outline")
    hint, source, stated = _units(contents, shapes)
    unused = tuple((kind, layer, count) for (kind, layer), count in sorted(loaded.unused.items()))
    return Drawing(blocks, loose, hint, source, stated, unused, (*contents.notes, *loaded.notes))


def read_fully(contents: Contents, *, unit_mm: float | None = None) -> Loaded:
    """Read any contents through the general library, whose import is put off until a file needs it."""
    from editor.formats.ezdxf_door import load

    within = WITHIN_MM / (unit_mm or max(MM_PER_UNIT.values()))
    loaded = load(rebuild(contents), contents.tags.source, within=within)
    for content in (*loaded.blocks.values(), loaded.model):
        for shape in content.shapes:
            if not np.abs(shape.points).max(initial=0.0) <= LARGEST_COORDINATE:
                sentence = f"{contents.tags.source} holds a {shape.entity} that is impossibly large"
                raise PatternError(f"{sentence}; correct or export the file again.", code="bad-number")
    return loaded


def _refuse_swollen(name: str, shapes: list[Shape]) -> None:
    if len(shapes) > MOST_SHAPES:
        sentence = f"{name} holds {len(shapes)} separate lines and marks, more than any pattern"
        raise PatternError(f"{sentence}; export it again with fewer pieces or coarser.", code="too-many-shapes")
    for shape in shapes:
        if len(shape.points) > MOST_POINTS:
            sentence = f"{name} holds one line of {len(shape.points)} points, and no line of a pattern has more than"
            raise PatternError(f"{sentence} {MOST_POINTS}; export it again, coarser.", code="too-many-points")


def _refuse_losses(contents: Contents, loaded: Loaded) -> None:
    strays = [tag for stray in contents.strays for tag in _types(contents, stray.start, stray.end)]
    for kind in _COUNTED:
        lost = contents.counts[kind] - loaded.taken[kind] - strays.count(kind)
        if lost > 0:
            sentence = f"{lost} of the {contents.counts[kind]} {kind} entities in {contents.tags.source} were lost"
            raise PatternError(f"{sentence} in reading; export it again as DXF R12.", code="incomplete")


def _types(contents: Contents, start: int, end: int) -> Iterator[str]:
    codes, values = contents.tags.codes, contents.tags.values
    return (values[at].strip().upper() for at in range(start, end) if codes[at] == 0)


def _units(contents: Contents, shapes: Iterable[Shape]) -> tuple[Unit | None, str, bool]:
    """Return the unit the file speaks of, where it does, and whether a text says so."""
    texts = {shape.text for shape in shapes if shape.kind == "text"}
    named = {text: _UNIT_WORDS[word] for text in sorted(texts) if (word := _unit_word(text)) in _UNIT_WORDS}
    if len(set(named.values())) > 1:
        contents.notes.append("The texts of the file name different units: " + ", ".join(sorted(named)) + ".")
        return None, "", False
    if named:
        text, unit = next(iter(named.items()))
        return unit, f'the text "{text}"', True
    for variable, meanings in (("$INSUNITS", _INSUNITS), ("$MEASUREMENT", _MEASUREMENT)):
        value = contents.header.get(variable, "")
        if value in meanings:
            return meanings[value], f"the header variable {variable}, which some programs never set", False
    return None, "", False


def _unit_word(text: str) -> str:
    match = _UNITS_TEXT.match(text)
    return match.group(1).lower() if match else ""
