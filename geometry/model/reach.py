"""How far a piece reaches, with everything that lies on it."""

from collections.abc import Callable
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cache

import numpy as np

from geometry.affine import Points
from geometry.model.piece import Piece


def reach_mm(piece: Piece) -> float:
    """The largest coordinate or length anywhere on a piece, without its sign; infinite or NaN where one is."""
    numbers: list[float] = []
    arrays: list[Points] = []
    left: list[object] = [piece]
    while left:
        value = left.pop()
        if isinstance(value, float | int):
            numbers.append(value)
        elif isinstance(value, np.ndarray):
            arrays.append(value)
        elif isinstance(value, tuple):
            left.extend(value)
        else:
            kind: type = type(value)
            left.extend(_parts_getter(kind)(value))
    everything = np.concatenate([numbers, *(array.ravel() for array in arrays)])
    return float(np.abs(everything).max(initial=0.0))  # unlike Python's max, it does not lose a NaN


@cache
def _parts_getter(kind: type) -> Callable[[object], tuple[object, ...]]:
    if not is_dataclass(kind) or issubclass(kind, Enum):
        return lambda _: ()
    names = [field.name for field in fields(kind)]
    return lambda value: tuple([getattr(value, name) for name in names])
