"""Fonts of the computer, for letters that our own faces do not have: Chinese, Japanese, Korean and many more."""

from __future__ import annotations

import os
import struct
import sys
from functools import cache
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from editor.printing.font_tables import FontTables

_ENDINGS: Final = (".ttf", ".otf", ".ttc", ".otc")
_MOST_FILES: Final = 5000
_PLAIN: Final = ("sans", "gothic", "regular", "fallback", "unicode")
_ODD: Final = ("bold", "italic", "oblique", "black", "light", "thin", "mono", "serif", "condensed")


def font_folders() -> tuple[Path, ...]:
    """Where fonts are on this computer."""
    home = Path.home()
    if sys.platform == "win32":
        places = [Path(os.environ.get("WINDIR", "C:/Windows"), "Fonts")]
        places += [
            Path(os.environ[name], "Microsoft/Windows/Fonts") for name in ("LOCALAPPDATA",) if name in os.environ
        ]
    elif sys.platform == "darwin":
        places = [Path("/System/Library/Fonts"), Path("/Library/Fonts"), home / "Library/Fonts"]
    else:
        shared = os.environ.get("XDG_DATA_DIRS") or "/usr/local/share:/usr/share"
        own = os.environ.get("XDG_DATA_HOME") or home / ".local/share"
        places = [Path(place, "fonts") for place in (*shared.split(":"), own)] + [home / ".fonts"]
    return tuple(places)


@cache
def font_with(code: int) -> Path | None:
    """A font that has a character and may be put into files; plain faces come first."""
    return next((path for path in _font_files(font_folders()) if (_codes(path) == code).any()), None)


@cache
def _font_files(folders: tuple[Path, ...]) -> tuple[Path, ...]:
    files = [Path(at, name) for folder in folders for at, _, names in os.walk(folder) for name in names]
    fonts = [path for path in files[:_MOST_FILES] if path.suffix.lower() in _ENDINGS]
    return tuple(sorted(fonts, key=_oddness))


def _oddness(path: Path) -> tuple[int, str]:
    name = path.name.lower()
    return sum(word in name for word in _ODD) - sum(word in name for word in _PLAIN), str(path)


@cache
def _codes(path: Path) -> NDArray[np.uint32]:
    """The characters of a font, none of one that cannot be used; numbers, since there may be a thousand fonts."""
    codes: dict[int, int] = {}
    try:
        tables = FontTables(path)
        codes = tables.glyphs if tables.allows_embedding else codes
    except (OSError, ValueError, struct.error):
        pass
    return np.fromiter(codes, np.uint32, len(codes))
