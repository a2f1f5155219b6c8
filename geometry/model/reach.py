"""How far a piece reaches, with everything that lies on it."""

from dataclasses import fields, is_dataclass

import numpy as np

from geometry.model.piece import Piece


def reach_mm(piece: Piece) -> float:
    """The largest coordinate or length anywhere on a piece, without its sign; infinite or NaN where one is."""
    return _reach(piece)


def _reach(value: object) -> float:
    if isinstance(value, np.ndarray):
        return float(np.abs(value).max(initial=0.0))
    if isinstance(value, float | int):
        return abs(value)
    if isinstance(value, tuple):
        return _largest([_reach(each) for each in value])
    if is_dataclass(value):
        return _largest([_reach(getattr(value, field.name)) for field in fields(value)])
    return 0.0


def _largest(reaches: list[float]) -> float:
    return float(np.max(reaches, initial=0.0))  # unlike max, it does not lose a NaN
