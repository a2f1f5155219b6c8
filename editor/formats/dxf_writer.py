"""Writing a drawing as DXF R12: one block per piece and size, placed where it is drawn.

R12 holds the same POLYLINE, POINT, LINE and TEXT entities as the release the pattern standard asks for.
Coordinates are written with every digit a float needs to come back the same, not rounded to four
decimals as many programs do: altering a pattern reads and writes the same piece many times, and no
round may move a point.
"""

import re
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import chain
from pathlib import Path
from typing import Literal

import numpy as np

from editor.atomic_file import write_whole
from editor.formats.drawing import Block, Drawing, Shape
from geometry.affine import frozen_points
from geometry.errors import PatternError

LONGEST_NAME = 31
"""Longest name of a block or layer in R12."""

_UNITS_WORD = {"mm": "METRIC", "in": "ENGLISH"}
_TEXT_HEIGHT = {"mm": 5.0, "in": 0.2}
_LETTERS = str.maketrans(
    {"ä": "ae", "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue", "ß": "ss", "æ": "ae", "Æ": "Ae",
     "ø": "oe", "Ø": "Oe", "å": "aa", "Å": "Aa", "œ": "oe", "Œ": "Oe", "ł": "l", "Ł": "L", "đ": "d", "Đ": "D",
     "–": "-", "—": "-", "‘": "'", "’": "'", "“": '"', "”": '"', "½": " 1/2", "¼": " 1/4", "¾": " 3/4",
     "×": "x", "°": "%%d", "±": "%%p"}
)  # fmt: skip
_HEADER = """  0
SECTION
  2
HEADER
  9
$ACADVER
  1
AC1009
  9
$EXTMIN
 10
{0[0]!r}
 20
{0[1]!r}
 30
0.0
  9
$EXTMAX
 10
{1[0]!r}
 20
{1[1]!r}
 30
0.0
  0
ENDSEC
"""


def write_drawing(drawing: Drawing, path: Path | str, *, unit: Literal["mm", "in"]) -> None:
    """Write a drawing whose coordinates are in this unit; an older file is replaced only by a whole new one.

    Block names become plain capitals and texts plain ASCII, as the format wants; a text "Units:" says
    what the numbers are.

    Raises:
        PatternError: If a coordinate is not a number, or the file cannot be written.
    """
    from editor.formats.ezdxf_door import dump

    path = Path(path)
    _refuse_broken(drawing)
    blocks = _named([replace(block, shapes=_ascii(block.shapes)) for block in drawing.blocks])
    loose = _ascii((*_without_units(drawing.loose), _units_text(unit)))
    header = _HEADER.format(*_extents(blocks, loose))
    text = dump(blocks, loose, header=header, text_height=_TEXT_HEIGHT[unit])
    write_whole(path, text.replace("\n", "\r\n").encode("ascii"))


def ascii_text(text: str) -> str:
    r"""Return the text in ASCII: known letters spelt out, accents dropped, others as \U+xxxx."""
    spelt = unicodedata.normalize("NFKD", text.translate(_LETTERS))
    plain = "".join(letter for letter in spelt if not unicodedata.combining(letter))
    one_line = " ".join(plain.splitlines())
    return "".join(letter if letter.isascii() else f"\\U+{ord(letter) & 0xFFFF:04X}" for letter in one_line)


def block_name(name: str) -> str:
    """Return the name as R12 allows it: capitals, digits, '-' and '_', at most 31 of them."""
    plain = re.sub(r"\\U\+[0-9A-F]{4}", "_", ascii_text(name)).upper()
    return re.sub(r"[^A-Z0-9_-]+", "_", plain)[:LONGEST_NAME].strip("_") or "PIECE"


def _named(blocks: Iterable[Block]) -> list[Block]:
    named: dict[str, Block] = {}
    for block in blocks:
        name = stem = block_name(block.name)
        number = 1
        while name in named:
            number += 1
            name = f"{stem[: LONGEST_NAME - len(str(number)) - 1]}_{number}"
        named[name] = replace(block, name=name)
    return list(named.values())


def _ascii(shapes: Iterable[Shape]) -> tuple[Shape, ...]:
    return tuple(
        replace(shape, layer=block_name(shape.layer) if shape.layer else "0", text=ascii_text(shape.text))
        for shape in shapes
    )


def _without_units(loose: Iterable[Shape]) -> list[Shape]:
    return [shape for shape in loose if not re.match(r"\s*units?\s*:", shape.text, re.IGNORECASE)]


def _units_text(unit: str) -> Shape:
    return Shape("1", "text", frozen_points([[0.0, 0.0]]), text=f"Units: {_UNITS_WORD[unit]}", entity="TEXT")


def _refuse_broken(drawing: Drawing) -> None:
    for block in (*drawing.blocks, Block("outside blocks", drawing.loose)):
        for shape in block.shapes:
            numbers = (shape.z, shape.thickness, shape.angle_deg)
            if not (np.isfinite(shape.points).all() and np.isfinite(numbers).all()):
                sentence = f"'{block.name}' has a point whose place is not a number; undo the step that made it."
                raise PatternError(sentence, code="bad-number")


def _extents(blocks: Sequence[Block], loose: Sequence[Shape]) -> tuple[list[float], list[float]]:
    points = np.concatenate([shape.points for shape in chain(loose, *(block.shapes for block in blocks))])
    return points.min(axis=0).tolist(), points.max(axis=0).tolist()
