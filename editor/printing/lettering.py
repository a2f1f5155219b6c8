"""The two faces everything is printed in, and how wide words get in them.

The widths come straight from the font files (OpenType tables head, hhea, hmtx and cmap, as ISO/IEC 14496-22 lays them
out), so that page, preview and labels agree without a PDF library or a window system.
"""

from __future__ import annotations

import struct
import unicodedata
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Final

import numpy as np

FONTS: Final = Path(__file__).resolve().parents[2] / "resources" / "fonts"

CAPITAL: Final = 0.73
"""Height of a capital as a share of the size of the type, in the faces used here."""

NO_BREAK: Final = "\N{NO-BREAK SPACE}"

_STAND_IN: Final = "?"


@dataclass(frozen=True, slots=True)
class Face:
    """One font: its name, its file, and the width of each character as a share of the size of the type."""

    name: str
    path: Path
    widths: dict[int, float]

    def spelled(self, text: str) -> str:
        """The text in characters the font has: accents joined to their letters, a question mark for what is missing."""
        joined = unicodedata.normalize("NFC", " ".join(text.split()))
        return "".join(letter if ord(letter) in self.widths else _STAND_IN for letter in joined)

    def has(self, text: str) -> bool:
        """Whether every character of the text can be printed."""
        return all(ord(letter) in self.widths for letter in unicodedata.normalize("NFC", " ".join(text.split())))

    def width_mm(self, text: str, height_mm: float) -> float:
        """How long the text gets at this size of type."""
        return height_mm * sum(self.widths[ord(letter)] for letter in self.spelled(text))


@cache
def face(bold: bool = False) -> Face:
    """The upright or the bold face."""
    name = "DejaVuSansCondensed-Bold" if bold else "DejaVuSansCondensed"
    path = FONTS / f"{name}.ttf"
    return Face(name, path, _widths(path.read_bytes()))


def wrapped(text: str, width_mm: float, height_mm: float, *, bold: bool = False) -> list[str]:
    """The text in lines no longer than ``width_mm``; a word that is longer keeps a line of its own.

    Words joined by a no-break space stay together.
    """
    lines: list[str] = []
    for word in text.replace(" ", "\n").replace(NO_BREAK, " ").split("\n"):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and face(bold).width_mm(longer, height_mm) <= width_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def shortened(text: str, width_mm: float, height_mm: float, *, bold: bool = False) -> str:
    """The text, cut off with an ellipsis where it is longer than ``width_mm``."""
    if face(bold).width_mm(text, height_mm) <= width_mm:
        return text
    kept = text
    while kept and face(bold).width_mm(kept + "…", height_mm) > width_mm:
        kept = kept[:-1]
    return kept.rstrip() + "…"


def _widths(font: bytes) -> dict[int, float]:
    tables = {
        font[at : at + 4].decode("ascii"): struct.unpack_from(">I", font, at + 8)[0]
        for at in range(12, 12 + 16 * struct.unpack_from(">H", font, 4)[0], 16)
    }
    units_per_em = struct.unpack_from(">H", font, tables["head"] + 18)[0]
    metric_count = struct.unpack_from(">H", font, tables["hhea"] + 34)[0]
    advances = np.frombuffer(font, ">u2", 2 * metric_count, tables["hmtx"])[::2] / units_per_em
    glyphs = _glyphs(font, tables["cmap"])
    return {code: float(advances[min(glyph, metric_count - 1)]) for code, glyph in glyphs.items()}


def _glyphs(font: bytes, cmap: int) -> dict[int, int]:
    """Glyph of each character, from the cmap subtable of format 12 (groups of first, last, glyph of the first)."""
    for record in range(struct.unpack_from(">H", font, cmap + 2)[0]):
        start = cmap + struct.unpack_from(">I", font, cmap + 8 + 8 * record)[0]
        if struct.unpack_from(">H", font, start)[0] == 12:
            count = struct.unpack_from(">I", font, start + 12)[0]
            groups = np.frombuffer(font, ">u4", 3 * count, start + 16).reshape(-1, 3).tolist()
            return {code: glyph + code - first for first, last, glyph in groups for code in range(first, last + 1)}
    raise ValueError("the font has no character map of format 12")
