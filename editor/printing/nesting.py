"""True shapes laid on the grid of sheets so that few sheets are touched: a search of our own over cells.

Pieces are laid one by one, each where it needs the fewest new sheets and keeps the whole small; then some are taken up
again and laid anew, over and over. The numbers drawn are always the same, so the same pieces are laid out alike.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from editor.printing.paper import PageFormat
from editor.printing.raster import Cell, Mask, Shape

CELL_MM: Final = 5.0
_MOST_CELLS: Final = 90_000
_SEED: Final = 20
_NEW_SHEET: Final = 1e6
"""A new sheet weighs more than any spread of the pieces, in mm."""


_NEAR_CORNER: Final = 1e-3
"""Of places that are equally good, the one nearer to the upper left corner."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a piece lies: which of its turns, and the row and column of its upper left cell."""

    turn: int
    row: int
    column: int


@dataclass(frozen=True, slots=True)
class Board:
    """The grid of sheets as cells.

    Attributes:
        cell: The size of a cell.
        sheet: Rows and columns of cells to a sheet.
        sheets: Rows and columns of sheets.
        is_roll: Whether only the length counts.
    """

    cell: Cell
    sheet: tuple[int, int]
    sheets: tuple[int, int]
    is_roll: bool = False

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns of cells."""
        return self.sheet[0] * self.sheets[0], self.sheet[1] * self.sheets[1]


def board_for(page: PageFormat, sheets: tuple[int, int]) -> Board:
    """So many rows and columns of sheets, with cells of about ``CELL_MM``, larger where there would be too many."""
    step_x, step_y = page.step_mm
    side_mm = max(CELL_MM, math.sqrt(step_x * step_y * sheets[0] * sheets[1] / _MOST_CELLS))
    rows, columns = (max(1, round(step / side_mm)) for step in (step_y, step_x))
    return Board(Cell(step_x / columns, step_y / rows), (rows, columns), sheets, page.paper.is_roll)


@dataclass(frozen=True, slots=True, eq=False)
class Nest:
    """All pieces laid: where, how many sheets that touches, and how large the whole is, in cells."""

    places: tuple[Place, ...]
    sheet_count: int
    length: int

    @property
    def rank(self) -> tuple[int, int]:
        """Fewer sheets first, of equals the smaller whole."""
        return self.sheet_count, self.length


class Nesting:
    """Looks for places for pieces on a board."""

    def __init__(self, board: Board, shapes: Sequence[Sequence[Shape]]) -> None:
        self._board, self._shapes = board, shapes
        low, wide = (max(s.kept_off.shape[axis] for turns in shapes for s in turns) for axis in (0, 1))
        self._padded = (_easy_length(board.shape[0] + low), _easy_length(board.shape[1] + wide))
        self._spectra: dict[tuple[int, int], NDArray[np.complexfloating]] = {}
        self._touched: dict[tuple[int, int], NDArray[np.int16]] = {}
        self._random = np.random.default_rng(_SEED)

    def search(self, rounds: int, go_on: Callable[[Nest, int], bool]) -> Nest | None:
        """The best nest of so many rounds; ``go_on`` hears of the best so far and may end it; ``None``: no room."""
        sizes = [int(turns[0].body.sum()) for turns in self._shapes]
        largest_first = sorted(range(len(sizes)), key=lambda index: -sizes[index])
        best = self.laid(largest_first, {})
        for number in range(rounds):
            if best is not None and not go_on(best, number):
                break
            taken = self._random.permutation(len(sizes))[: self._how_many(number, len(sizes))].tolist()
            kept = {} if best is None else {i: s for i, s in enumerate(best.places) if i not in taken}
            order = taken if kept else self._shuffled(largest_first)
            found = self.laid(order, kept)
            if found is not None and (best is None or found.rank <= best.rank):
                best = found
        return best

    def _how_many(self, number: int, count: int) -> int:
        """Every fourth time all pieces are laid anew, else two, three or four."""
        return count if number % 4 == 0 else min(count, 2 + number % 3)

    def _shuffled(self, order: Sequence[int]) -> list[int]:
        """Large pieces still come early, as a rule."""
        rank = np.arange(len(order)) + self._random.normal(0.0, 1.0 + len(order) / 6, len(order))
        return [order[index] for index in np.argsort(rank).tolist()]

    def laid(self, order: Sequence[int], kept: dict[int, Place]) -> Nest | None:
        """The pieces laid in this order round those that are kept where they are; ``None`` where one finds no room."""
        spots = dict(kept)
        taken, used = self._taken(kept)
        extent = self._extent(kept)
        for index in order:
            spot = self._place(index, taken, used, extent)
            if spot is None:
                return None
            spots[index] = spot
            self._lay(index, spot, taken, used)
            extent = self._extent({index: spot}, extent)
        length = extent[0] if self._board.is_roll else sum(extent)
        return Nest(tuple(spots[index] for index in range(len(self._shapes))), int(used.sum()), length)

    def _taken(self, kept: dict[int, Place]) -> tuple[Mask, Mask]:
        taken, used = np.zeros(self._board.shape, dtype=bool), np.zeros(self._board.sheets, dtype=bool)
        for index, spot in kept.items():
            self._lay(index, spot, taken, used)
        return taken, used

    def _lay(self, index: int, spot: Place, taken: Mask, used: Mask) -> None:
        body = self._shapes[index][spot.turn].body
        rows, columns = np.nonzero(body)
        taken[rows + spot.row, columns + spot.column] = True
        used[(rows + spot.row) // self._board.sheet[0], (columns + spot.column) // self._board.sheet[1]] = True

    def _extent(self, spots: dict[int, Place], extent: tuple[int, int] = (0, 0)) -> tuple[int, int]:
        low, wide = extent
        for index, spot in spots.items():
            rows, columns = self._shapes[index][spot.turn].body.shape
            low, wide = max(low, spot.row + rows), max(wide, spot.column + columns)
        return low, wide

    def _place(self, index: int, taken: Mask, used: Mask, extent: tuple[int, int]) -> Place | None:
        """The cheapest place for a piece in any of its turns."""
        spectrum = np.fft.rfft2(taken.astype(np.float32), self._padded)
        best, least = None, math.inf
        for turn in range(len(self._shapes[index])):
            free = self._free(index, turn, spectrum)
            if free is None or not free.any():
                continue
            cost = self._cost(index, turn, used, extent, free.shape)
            cost[~free] = math.inf
            at = int(cost.argmin())
            if cost.flat[at] < least:
                least = float(cost.flat[at])
                row, column = divmod(at, free.shape[1])
                best = Place(turn, row, column)
        return best

    def _free(self, index: int, turn: int, taken: NDArray[np.complexfloating]) -> Mask | None:
        """For every place of the body's corner whether nothing is in its way; ``None`` where the board is too small."""
        shape = self._shapes[index][turn]
        rows, columns = (self._board.shape[axis] - shape.body.shape[axis] + 1 for axis in (0, 1))
        if rows <= 0 or columns <= 0:
            return None
        key = (index, turn)
        if key not in self._spectra:
            self._spectra[key] = np.conj(np.fft.rfft2(shape.kept_off.astype(np.float32), self._padded))
        meeting = np.fft.irfft2(taken * self._spectra[key], self._padded)
        down, across = shape.rim
        wrapped = np.roll(meeting, (down, across), axis=(0, 1))
        return np.asarray(wrapped[:rows, :columns] < 0.5)

    def _cost(
        self, index: int, turn: int, used: Mask, extent: tuple[int, int], places: tuple[int, int]
    ) -> NDArray[np.float64]:
        """New sheets at every place, then how much larger the whole gets, then how far from the corner it lies."""
        new = self._new_sheets(index, turn, used)[: places[0], : places[1]]
        rows, columns = self._shapes[index][turn].body.shape
        row, column = np.arange(places[0])[:, None], np.arange(places[1])[None, :]
        wider = 0.0 if self._board.is_roll else np.maximum(column + columns - extent[1], 0)
        grown = np.maximum(row + rows - extent[0], 0) + wider
        cost: NDArray[np.float64] = new * _NEW_SHEET + grown + (row + column) * _NEAR_CORNER
        return cost

    def _new_sheets(self, index: int, turn: int, used: Mask) -> NDArray[np.int16]:
        """For every place of the body's corner, how many sheets it would touch that nothing touches yet."""
        touched = self._sheets_touched(index, turn)
        (high, wide), (rows, columns) = self._board.sheet, self._board.sheets
        counts = np.zeros((rows, high, columns, wide), dtype=np.int16)
        for down, across in np.argwhere(touched.any(axis=(0, 1))).tolist():
            fresh = np.zeros((rows, columns), dtype=np.int16)
            fresh[: rows - down, : columns - across] = ~used[down:, across:]
            counts += fresh[:, None, :, None] * touched[None, :, None, :, down, across]
        return counts.reshape(self._board.shape)

    def _sheets_touched(self, index: int, turn: int) -> NDArray[np.int16]:
        """For every place of the body's corner within a sheet, the sheets it touches, counted from that one."""
        key = (index, turn)
        if key not in self._touched:
            body = self._shapes[index][turn].body
            sums = np.pad(body.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
            rows, columns = (_parts(length, side) for length, side in zip(body.shape, self._board.sheet, strict=True))
            (top, low), (left, right) = (
                [side[:, None, :, None] for side in rows],
                [side[None, :, None, :] for side in columns],
            )
            inside = sums[low, right] - sums[top, right] - sums[low, left] + sums[top, left]
            self._touched[key] = (inside > 0).astype(np.int16)
        return self._touched[key]


def _parts(length: int, sheet: int) -> tuple[NDArray[np.int_], NDArray[np.int_]]:
    """Begin and end of the part of a body that lies on each sheet, for every place of its corner within the first."""
    count = (length + sheet - 2) // sheet + 1
    borders = np.arange(count + 1)[None, :] * sheet - np.arange(sheet)[:, None]
    clipped = np.clip(borders, 0, length)
    return clipped[:, :-1], clipped[:, 1:]


def _easy_length(length: int) -> int:
    """The next length whose prime factors are 2, 3 and 5 only: of such a length a transform is fast."""
    while True:
        rest = length
        for prime in (2, 3, 5):
            while rest % prime == 0:
                rest //= prime
        if rest == 1:
            return length
        length += 1
