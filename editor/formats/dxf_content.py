"""What either reader makes of a DXF file before blocks are placed, and the facts both must agree on."""

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from editor.formats.drawing import Shape, layer_key
from geometry.affine import Points

Matrix = npt.NDArray[np.float64]
"""A (2, 3) array: x' = m[0] . (x, y, 1), y' = m[1] . (x, y, 1)."""

IDENTITY: Matrix = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])

LARGEST_COORDINATE = 1e6
"""A kilometre in millimetres: no pattern lies that far out, a broken number easily does."""

FLAT_POLYLINE_FLAGS = 1 | 128
"""Closed, and line pattern around corners; all others mean curve fits, meshes or three dimensions."""


@dataclass(frozen=True, slots=True)
class Placement:
    """One INSERT: the block it places, where, and the texts that came with it."""

    target: str
    matrix: Matrix
    texts: tuple[Shape, ...] = ()


@dataclass(slots=True)
class Content:
    """The shapes and INSERTs of one block, or of the drawing outside blocks."""

    shapes: list[Shape] = field(default_factory=list)
    inserts: list[Placement] = field(default_factory=list)


@dataclass(slots=True)
class Loaded:
    """All content by block name in file order, what was not used, and how many entities were taken."""

    blocks: dict[str, Content] = field(default_factory=dict)
    model: Content = field(default_factory=Content)
    unused: Counter[tuple[str, str]] = field(default_factory=Counter)
    taken: Counter[str] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)


def ring(points: Points, closed: bool) -> tuple[Points, bool]:
    """Return the points without a repeated first one, and whether they are closed by flag or by repeating it."""
    if len(points) > 3 and np.array_equal(points[0], points[-1]):
        return points[:-1], True
    return points, closed and len(points) > 2


def layer_of(raw: str) -> str:
    """Return the layer's key from the raw value of group 8; a missing layer is '0', as the format says."""
    return layer_key(plain_text(raw)) or "0"


# ---- text ----

_UNICODE = re.compile(r"\\U\+([0-9A-Fa-f]{4})")
_MULTIBYTE = re.compile(r"\\M\+([1-5])([0-9A-Fa-f]{4})")
_MULTIBYTE_CODING = {"1": "cp932", "2": "cp950", "3": "cp949", "4": "johab", "5": "cp936"}
_PERCENT = re.compile(r"%%([dcpuok%])", re.IGNORECASE)
_PERCENT_SIGN = {"d": "°", "c": "Ø", "p": "±", "u": "", "o": "", "k": "", "%": "%"}


def plain_text(raw: str) -> str:
    r"""Return a text's content with its escapes (\U+00FC, \M+1xxxx, %%d) as the letters they stand for."""
    if "\\" in raw:
        raw = _UNICODE.sub(lambda match: chr(int(match.group(1), 16)), raw)
        raw = _MULTIBYTE.sub(_multibyte_letter, raw)
        raw = raw.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")  # pairs joined, halves dropped
    if "%%" in raw:
        raw = _PERCENT.sub(lambda match: _PERCENT_SIGN[match.group(1).lower()], raw)
    return raw.strip()


def _multibyte_letter(match: re.Match[str]) -> str:
    return bytes.fromhex(match.group(2)).decode(_MULTIBYTE_CODING[match.group(1)], errors="replace").strip("\x00")


def text_anchor(number: Callable[[int], float], has: Callable[[int], bool]) -> tuple[int, int]:
    """Return the group codes of a TEXT's position: 11, 21 where it is aligned to that point, else 10, 20.

    Aligned and fitted texts (72 = 3, 5) start at 10, 20 as plain ones do.
    """
    across = int(number(72)) if has(72) else 0
    up = int(number(73)) if has(73) else 0
    aligned = (across, up) != (0, 0) and across not in (3, 5) and has(11) and has(21)
    return (11, 21) if aligned else (10, 20)
