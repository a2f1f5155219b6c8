"""Pieces as cells of a grid, so that true shapes can be laid between each other.

A cell counts as covered where a piece so much as touches it, so shapes laid apart on the grid are apart on paper.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from editor.printing.picture import PiecePicture, box_round
from geometry.affine import Affine, Points
from geometry.tolerance import FLOAT_MM

Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Cell:
    """The size of the cells; a whole number of them makes a step from sheet to sheet."""

    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """A piece in one turn, as cells. Rows run down, columns to the right.

    Attributes:
        body: The cells it covers.
        kept_off: The cells that no other body may cover; larger than the body by ``rim`` cells on every side.
        rim: Rows and columns by which it is larger.
        turn_deg: How far the piece is turned.
        corner: The upper left corner of the body's cells, in mm of the turned piece.
    """

    body: Mask
    kept_off: Mask
    rim: tuple[int, int]
    turn_deg: float
    corner: tuple[float, float]


def shape_of(picture: PiecePicture, turn_deg: float, cell: Cell, gap_mm: float) -> Shape:
    """The cells of a piece turned counter-clockwise about the origin."""
    motion = turn(turn_deg)
    chains = [motion.points(chain) for chain in _chains(picture)]
    box = box_round(chains)
    columns, rows = (
        math.ceil(length / side - FLOAT_MM)
        for length, side in ((box.width_mm, cell.width_mm), (box.height_mm, cell.height_mm))
    )
    body = np.zeros((rows, columns), dtype=bool)
    scaled = [
        np.column_stack([(chain[:, 0] - box.x0) / cell.width_mm, (box.y1 - chain[:, 1]) / cell.height_mm])
        for chain in chains
    ]
    for chain in scaled:
        across, down = _cells_along(chain)
        body[np.minimum(down, rows - 1), np.minimum(across, columns - 1)] = True
    body |= _inside(scaled[0], rows, columns)
    kept_off, rim = _widened(body, cell, gap_mm)
    return Shape(body, kept_off, rim, turn_deg, (box.x0, box.y1))


def turn(turn_deg: float) -> Affine:
    """A turn about the origin, exact for quarters so that upright lines stay upright."""
    quarters = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}
    if turn_deg not in quarters:
        return Affine.turned(math.radians(turn_deg))
    cos, sin = quarters[turn_deg]
    return Affine(cos, -sin, sin, cos)


def _chains(picture: PiecePicture) -> list[Points]:
    """The closed outline first, then every line of the piece."""
    ring = np.vstack([picture.outline, picture.outline[:1]])
    return [ring, *(stroke.path for stroke in picture.drawing.strokes)]


def _cells_along(chain: Points) -> tuple[NDArray[np.int_], NDArray[np.int_]]:
    """Column and row of every cell that a chain, measured in cells, runs through."""
    starts, runs = chain[:-1], np.diff(chain, axis=0)
    owners, shares = [np.arange(len(runs)).repeat(2)], [np.tile([0.0, 1.0], len(runs))]
    for axis in (0, 1):
        owner, share = _border_crossings(starts[:, axis], runs[:, axis])
        owners.append(owner)
        shares.append(share)
    owner, share = np.concatenate(owners), np.concatenate(shares)
    order = np.lexsort((share, owner))
    owner, share = owner[order], share[order]
    same = owner[1:] == owner[:-1]
    middle = ((share[1:] + share[:-1]) / 2)[same, None]
    places = starts[owner[1:][same]] + middle * runs[owner[1:][same]]
    columns, rows = np.floor(places).astype(int).T
    return columns, rows


def _border_crossings(start: NDArray[np.float64], run: NDArray[np.float64]) -> tuple[NDArray[np.int_], Points]:
    """Where lines cross whole numbers: which line, and the share of its length."""
    first, last = np.ceil(np.minimum(start, start + run)), np.floor(np.maximum(start, start + run))
    counts = np.where(run == 0, 0, np.maximum(last - first + 1, 0)).astype(int)
    owner = np.arange(len(run)).repeat(counts)
    nth = np.arange(len(owner)) - (np.cumsum(counts) - counts).repeat(counts)
    return owner, (first[owner] + nth - start[owner]) / run[owner]


def _inside(ring: Points, rows: int, columns: int) -> Mask:
    """The cells whose middles are inside a closed ring: passed an odd number of times on the way there."""
    owner, share = _border_crossings(ring[:-1, 1] - 0.5, np.diff(ring[:, 1]))
    x, y = (ring[owner, axis] + share * np.diff(ring[:, axis])[owner] for axis in (0, 1))
    passed = np.zeros((rows, columns + 1), dtype=int)
    row, column = np.floor(y).astype(int), np.clip(np.ceil(x - 0.5), 0, columns).astype(int)
    np.add.at(passed, (np.clip(row, 0, rows - 1), column), 1)
    return np.asarray(passed.cumsum(axis=1)[:, :columns] % 2 == 1)


def _widened(body: Mask, cell: Cell, gap_mm: float) -> tuple[Mask, tuple[int, int]]:
    """Every cell with a point nearer than the gap to some cell of the body, and by how much the array is larger."""
    down, across = (int(np.ceil(gap_mm / side - FLOAT_MM)) for side in (cell.height_mm, cell.width_mm))
    wide = np.zeros((body.shape[0] + 2 * down, body.shape[1] + 2 * across), dtype=bool)
    for row in range(-down, down + 1):
        for column in range(-across, across + 1):
            away = np.hypot(max(abs(row) - 1, 0) * cell.height_mm, max(abs(column) - 1, 0) * cell.width_mm)
            if away < gap_mm - FLOAT_MM or (row == 0 and column == 0):
                top, left = down + row, across + column
                wide[top : top + body.shape[0], left : left + body.shape[1]] |= body
    return wide, (down, across)
