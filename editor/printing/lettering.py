"""The faces everything is printed in, and how wide words get in them.

There are two of our own; letters that these do not have come from a font of the computer. The widths come straight from
the font files, so that page, preview and labels agree without a PDF library or a window system.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path
from typing import Final

from editor.printing.font_tables import FontTables
from editor.printing.found_fonts import font_with
from editor.printing.reading_order import as_set

FONTS: Final = Path(__file__).resolve().parents[2] / "resources" / "fonts"

CAPITAL: Final = 0.73
"""Height of a capital as a share of the size of the type, in the faces used here."""

NO_BREAK: Final = "\N{NO-BREAK SPACE}"

_BEFORE_UNIT: Final = re.compile(r"(?<=\d) (?=(mm|cm)\b)")

_STAND_IN: Final = "?"


@dataclass(frozen=True, slots=True)
class Run:
    """Letters from one font file, from left to right as they stand.

    Attributes:
        path: The font file.
        text: The letters.
        width: How long they are, as a share of the size of the type.
        is_found: Whether it is a font of the computer and not one of ours.
    """

    path: Path
    text: str
    width: float
    is_found: bool


@dataclass(frozen=True, slots=True)
class Face:
    """One font: its name, its file, and the width of each character as a share of the size of the type."""

    name: str
    path: Path
    widths: dict[int, float]

    def spelled(self, text: str) -> str:
        """The text as it is read: accents joined to their letters, a question mark for what no font has."""
        return "".join(letter if _file_of(self, letter) else _STAND_IN for letter in _joined(text))

    def runs(self, text: str) -> tuple[Run, ...]:
        """The text as it is set, from left to right."""
        return _runs(self, text)

    def has(self, text: str) -> bool:
        """Whether every character of the text can be printed."""
        return all(_file_of(self, letter) for letter in _joined(text))

    def width_mm(self, text: str, height_mm: float) -> float:
        """How long the text gets at this size of type."""
        return height_mm * sum(run.width for run in self.runs(text))

    def __hash__(self) -> int:
        return hash(self.name)


@cache
def face(bold: bool = False) -> Face:
    """The upright or the bold face."""
    name = "DejaVuSansCondensed-Bold" if bold else "DejaVuSansCondensed"
    path = FONTS / f"{name}.ttf"
    return Face(name, path, FontTables(path).widths)


def _joined(text: str) -> str:
    return unicodedata.normalize("NFC", " ".join(text.split()))


def _file_of(own: Face, letter: str) -> Path | None:
    return own.path if ord(letter) in own.widths else font_with(ord(letter))


@lru_cache(maxsize=4000)
def _runs(own: Face, text: str) -> tuple[Run, ...]:
    letters = list(_fitting(own, as_set(own.spelled(text))))
    return tuple(
        _run(own, path, "".join(letter for _, letter in each)) for path, each in groupby(letters, lambda pair: pair[0])
    )


def _fitting(own: Face, text: str) -> Iterator[tuple[Path, str]]:
    """Every letter with its font; a form of a letter that no font has is set as the letter alone."""
    for form in text:
        for letter in form if _file_of(own, form) else unicodedata.normalize("NFKC", form):
            yield _file_of(own, letter) or own.path, letter


def _run(own: Face, path: Path, text: str) -> Run:
    widths = own.widths if path == own.path else _found_widths(path)
    return Run(path, text, sum(widths.get(ord(letter), 0.0) for letter in text), path != own.path)


@cache
def _found_widths(path: Path) -> dict[int, float]:
    return FontTables(path).widths


def wrapped(text: str, width_mm: float, height_mm: float, *, bold: bool = False) -> list[str]:
    """The text in lines no longer than ``width_mm``; a word that is longer keeps a line of its own.

    Words joined by a no-break space stay together, and so does a number with its unit.
    """
    lines: list[str] = []
    for word in _BEFORE_UNIT.sub(NO_BREAK, text).replace(" ", "\n").replace(NO_BREAK, " ").split("\n"):
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
