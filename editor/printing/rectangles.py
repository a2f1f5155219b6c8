"""Rectangles packed on a sheet in many ways: sheet widths, rules, and sizes rounded up to whole or half pages."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from typing import Any, Final

import numpy as np
import rectpack

from editor.printing.paper import PageFormat

Size = tuple[float, float]

_WIDEST_PAGES: Final = 10
"""Layouts wider than this many pages are not tried: nobody has such a table, and taller ones are as good."""

_RULES: Final = (
    (rectpack.MaxRectsBl, rectpack.SORT_LSIDE),
    (rectpack.MaxRectsBssf, rectpack.SORT_AREA),
    (rectpack.SkylineMwf, rectpack.SORT_SSIDE),
)
_UNITS_PER_MM: Final = 10
"""rectpack reckons in whole numbers: tenths of a millimetre, rounded up."""


class Turning(StrEnum):
    """How a piece may be turned on the paper (the cloth does not mind: the grain line is printed)."""

    KEEP_GRAIN = "grain upright"
    HALF = "either way up"
    FREE = "quarter turns"
    EIGHTHS = "steps of 45°"
    FINE = "steps of 15°"

    @property
    def turns_deg(self) -> tuple[float, ...]:
        """The turns that are tried, counter-clockwise."""
        step = {self.KEEP_GRAIN: 360, self.HALF: 180, self.FREE: 90, self.EIGHTHS: 45, self.FINE: 15}[self]
        return tuple(float(turn) for turn in range(0, 360, step))

    @property
    def allows_quarter(self) -> bool:
        """Whether what stands may lie."""
        return 90.0 in self.turns_deg


@dataclass(frozen=True, slots=True)
class Way:
    """One way to lay the pieces: their lower left corners, which of them are turned, and how large the sheet gets."""

    corners: tuple[Size, ...]
    turned: tuple[bool, ...]
    extent: Size


def packed_ways(sizes: Sequence[Size], page: PageFormat, turning: Turning, gap_mm: float) -> Iterator[Way]:
    """Every way tried; sizes are width and height of the rectangles. There is always at least one."""
    step_x, step_y = page.step_mm
    roundings = ((0.0, 0.0), (step_x, step_y), (step_x / 2, step_y / 2))
    needed_mm = max(min(size) if turning.allows_quarter else size[0] for size in sizes)
    fewest = max(1, math.ceil((needed_mm - page.overlap_mm) / step_x))
    all_abreast = math.ceil(sum(max(size) + gap_mm for size in sizes) / step_x) + len(sizes)
    for columns in range(fewest, max(fewest, min(all_abreast, _WIDEST_PAGES)) + 1):
        for rounding, (rule, order) in product(roundings, _RULES):
            way = _pack(sizes, columns * step_x + page.overlap_mm, gap_mm, rounding, turning, rule, order)
            if way is not None:
                yield way


def _pack(
    sizes: Sequence[Size], width_mm: float, gap_mm: float, rounding: Size, turning: Turning, rule: Any, order: Any
) -> Way | None:
    """One run of rectpack; ``None`` where a piece is wider than the sheet.

    rectpack could turn rectangles itself, but a size that is rounded up to pages has to be rounded anew when turned.
    """
    free = turning.allows_quarter
    exact = not rounding[0]
    turned = [free and _better_turned(size, width_mm, rounding) for size in sizes]
    packer = rectpack.newPacker(pack_algo=rule, sort_algo=order, rotation=free and exact)
    packed = []
    for index, (size, turn) in enumerate(zip(sizes, turned, strict=True)):
        w, h = reversed(size) if turn else size
        packed.append((_units(_rounded(w + gap_mm, rounding[0])), _units(_rounded(h + gap_mm, rounding[1]))))
        packer.add_rect(*packed[index], rid=index)
    packer.add_bin(_units(width_mm + gap_mm), sum(max(size) for size in packed))
    packer.pack()
    placed = sorted((rid, x, y, w) for _, x, y, w, _, rid in packer.rect_list())
    if len(placed) < len(sizes):
        return None
    turned = [turn != (w != packed[index][0]) for (index, _, _, w), turn in zip(placed, turned, strict=True)]
    corners = tuple((x / _UNITS_PER_MM, y / _UNITS_PER_MM) for _, x, y, _ in placed)
    lying = [tuple(reversed(size)) if turn else size for size, turn in zip(sizes, turned, strict=True)]
    far = np.array(corners) + np.array(lying)
    return Way(corners, tuple(turned), (float(far[:, 0].max()), float(far[:, 1].max())))


def _better_turned(size: Size, width_mm: float, rounding: Size) -> bool:
    (w, h), (across, down) = size, rounding
    if max(w, h) > width_mm:
        return w > width_mm >= h
    if not across:
        return False
    return math.ceil(h / across) * math.ceil(w / down) < math.ceil(w / across) * math.ceil(h / down)


def _units(length_mm: float) -> int:
    return math.ceil(length_mm * _UNITS_PER_MM)


def _rounded(length_mm: float, step_mm: float) -> float:
    return math.ceil(length_mm / step_mm) * step_mm if step_mm else length_mm
