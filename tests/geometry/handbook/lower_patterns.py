"""Patterns for the tests of waist, hip, skirt, sleeve and trousers, and what is measured on them."""

from __future__ import annotations

from functools import cache

import numpy as np

from geometry.affine import frozen_points
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.registry import entry_of
from geometry.curves.crossing import crossings
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import MM_PER_INCH
from samples import draft_gored_skirt, draft_trousers
from samples.draft_dress import draft_nest

IN = MM_PER_INCH
SKIRTS = ("front skirt", "back skirt")
LEGS = ("front trousers", "back trousers")


def dress(size: str = "10") -> Pattern:
    return draft_nest().pattern(size)


def trousers(size: str = "10") -> Pattern:
    return draft_trousers.draft_nest().pattern(size)


@cache
def gored_skirt(size: str = "10") -> Pattern:
    return draft_gored_skirt.draft_nest().pattern(size)


def altered(code: str, amount: float, pattern: Pattern, variant: str = "") -> Pattern:
    return Alteration(code, amount, variant).apply(pattern).pattern


def amount_for(code: str, difference: float) -> float:
    return entry_of(code).from_difference(difference)


def width_at(piece: Piece, y: float) -> float:
    """Width of a piece along a level."""
    line = frozen_points([(-5000.0, y), (5000.0, y)])
    met = [crossing.at[0] for edge in piece.edges for crossing in crossings(edge.points, line)]
    return max(met) - min(met)


def height(piece: Piece, edge: str) -> float:
    return float(np.ptp(piece.edge(edge).points[:, 1]))


def sewn(pattern: Pattern, names: tuple[str, ...], edge: str) -> float:
    return sum(pattern.piece(name).sewn_length_mm(edge) for name in names)
