"""Bodies and dresses as simple lines, from the front, the back and the side: what drawings of toiles are laid on.

Millimetres of the paper mean nothing here; y points down and x = 0 is the middle of the body. Body and clothes are
symmetrical from front and back, so only the right half is told.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Final

SIDE_PX: Final = 150.0
"""Every drawing is a square of this side."""

INK, CLOTH, SIGN = "currentColor", "#fdfaf3", "#a8321f"
"""Lines, cloth and what is to be seen; a window puts its own colours in their place."""

_BODY = (
    "M 0 18 C 20 18 28 36 27 54 C 26 72 16 86 12 88 L 12 98 C 14 106 40 110 56 116 C 70 121 73 136 75 152 "
    "C 79 182 83 206 88 236 C 93 262 99 286 103 312 M 88 314 C 79 286 70 258 66 236 C 61 210 56 190 52 168 "
    "C 52 186 49 200 46 212 C 41 226 38 232 38 240 C 40 260 60 276 62 304 C 65 340 60 372 54 400 "
    "C 51 420 52 436 50 456 C 47 484 40 508 38 534 L 44 550 L 20 550 L 20 534 "
    "C 18 504 16 476 18 452 C 18 430 14 410 13 390 C 11 366 6 346 0 332"
)
_BODY_SIDE = (
    "M 24 22 C 36 40 32 60 24 74 C 18 84 16 90 17 98 C 28 110 38 130 39 158 C 39 190 24 214 20 240 "
    "C 20 262 42 276 44 306 C 45 330 30 344 28 360 C 26 400 22 440 24 460 L 18 540",
    "M -16 28 C -24 40 -30 52 -28 60 C -30 72 -24 78 -14 80 C -12 88 -12 92 -12 98 C -14 110 -20 120 -24 136 "
    "C -30 158 -42 172 -44 188 C -44 202 -30 208 -27 222 C -26 232 -26 238 -26 244 C -30 262 -36 272 -36 288 "
    "C -36 320 -32 350 -32 400 L -18 540",
)
_ARM_SIDE = "M -10 122 C -16 160 -12 200 -13 240 L -10 300 M 13 122 C 17 160 14 200 12 240 L 6 300"

FRONT_NECK, BACK_NECK = "M 0 126 C 10 126 16 116 17 103", "M 0 107 C 8 107 14 106 17 103"
SHOULDER_AND_SIDE = "L 60 116 C 51 134 49 158 56 172 C 54 196 46 222 43 240"
_SLEEVE = (
    "M 60 116 C 75 119 79 136 82 152 C 86 184 91 212 95 240 L 70 244 C 66 214 60 190 56 172 C 49 158 51 134 60 116 Z"
)
_SKIRT = "M 0 240 L 43 240 C 52 262 64 284 67 306 L 76 400 L 0 400"
_LEG = "M 0 240 L 43 240 C 52 262 66 284 68 312 C 68 380 62 470 60 536 L 24 536 C 22 470 16 390 0 344 Z"

_BODICE_SIDE = (
    "M -19 124 C -27 150 -46 168 -47 190 C -47 206 -32 216 -30 244 L 24 244 C 27 214 42 192 42 160 "
    "C 42 136 32 114 17 101 C 12 103 4 102 -2 106 C -8 112 -12 120 -19 124 Z"
)
_SKIRT_SIDE = "M -30 244 C -36 264 -41 280 -41 304 L -50 400 L 56 400 L 49 308 C 48 280 26 262 24 244 Z"
_SLEEVE_SIDE = (
    "M -16 144 C -14 124 -8 112 -2 111 C 6 112 13 124 15 144 "
    "C 17 176 16 210 16 240 L -17 240 C -17 210 -17 176 -16 144 Z"
)
_ARMHOLE_SIDE = "M -2 111 C -18 128 -16 162 -2 172 C 14 162 16 128 -2 111"


class Clothes(Enum):
    """What is worn, and from where it is seen."""

    FRONT = "dress from the front"
    BACK = "dress from the back"
    SIDE = "dress from the side"
    SLEEVE = "dress with its sleeve from the side"
    TROUSERS = "trousers from the front"
    TROUSERS_BACK = "trousers from the back"


@dataclass(frozen=True, slots=True)
class Window:
    """The square that is seen: its middle and its side."""

    x: float
    y: float
    side: float

    @property
    def scale(self) -> float:
        """From the figure to the drawing."""
        return SIDE_PX / self.side

    @property
    def transform(self) -> str:
        """From the figure to the drawing, as SVG says it."""
        half = self.side / 2
        return f"scale({self.scale:.4g}) translate({half - self.x:g} {half - self.y:g})"


NECK = Window(0, 118, 112)
UPPER = Window(0, 166, 176)
MIDDLE = Window(0, 244, 130)
SKIRT = Window(0, 318, 196)
ARM = Window(0, 176, 160)
FORK = Window(0, 312, 176)
LEGS = Window(0, 438, 236)


def figure(clothes: Clothes, width: float) -> list[str]:
    """Body and clothes in SVG, lines as wide as told; the rows of a group."""
    if clothes in (Clothes.SIDE, Clothes.SLEEVE):
        return _from_side(clothes, width)
    return _from_front(clothes, width)


def both(path: str, attributes: str) -> list[str]:
    """A path of the right half, and its mirror image."""
    return [f'<path d="{path}" {attributes}/>', f'<path transform="scale(-1 1)" d="{path}" {attributes}/>']


def _from_front(clothes: Clothes, width: float) -> list[str]:
    rows = both(_BODY, _pale(width))
    cloth, thin = _cloth(width), _thin(width)
    if clothes in (Clothes.TROUSERS, Clothes.TROUSERS_BACK):
        rows += both(_LEG, cloth)
        rows += ['<path d="M 0 240 L 0 344" ' + thin + "/>", *both("M 43 247 L 0 247", thin)]
        dart = "M 24 248 L 22 290" if clothes is Clothes.TROUSERS_BACK else "M 40 320 L 42 536"
        return rows + both(dart, thin)
    rows += both(_SLEEVE, cloth)
    neck = FRONT_NECK if clothes is Clothes.FRONT else BACK_NECK
    for half in (_SKIRT, f"{neck} {SHOULDER_AND_SIDE} L 0 240"):
        rows += both(half, f'fill="{CLOTH}" stroke="none"')
    rows += both(_SKIRT.removeprefix("M 0 240 L 43 240").join(("M 43 240", "")), _line(width))
    rows += both(f"{neck} {SHOULDER_AND_SIDE} L 0 240", _line(width))
    darts = {
        Clothes.FRONT: "M 52 200 L 34 192 M 27 240 L 27 204 M 24 240 L 24 264",
        Clothes.BACK: "M 24 240 L 24 184 M 24 240 L 24 276 M 36 110 L 34 132",
    }[clothes]
    rows += both(darts, thin)
    return rows if clothes is Clothes.FRONT else [*rows, f'<path d="M 0 107 L 0 400" {thin}/>']


def _from_side(clothes: Clothes, width: float) -> list[str]:
    rows = [f'<path d="{path}" {_pale(width)}/>' for path in _BODY_SIDE]
    rows += [f'<path d="{path}" {_cloth(width)}/>' for path in (_BODICE_SIDE, _SKIRT_SIDE)]
    rows.append(f'<path d="M -2 172 L -3 400 M 1 104 L -2 111" {_thin(width)}/>')
    if clothes is Clothes.SLEEVE:
        return [*rows, f'<path d="{_ARM_SIDE}" {_pale(width)}/>', f'<path d="{_SLEEVE_SIDE}" {_cloth(width)}/>']
    return [*rows, f'<path d="{_ARMHOLE_SIDE}" {_line(width)}/>']


def _pale(width: float) -> str:
    return f'fill="none" stroke="{INK}" stroke-opacity="0.4" stroke-width="{0.8 * width:.3g}"'


def _thin(width: float) -> str:
    return f'fill="none" stroke="{INK}" stroke-opacity="0.7" stroke-width="{0.7 * width:.3g}"'


def _line(width: float) -> str:
    return f'fill="none" stroke="{INK}" stroke-width="{width:.3g}"'


def _cloth(width: float) -> str:
    return f'fill="{CLOTH}" stroke="{INK}" stroke-width="{width:.3g}"'
