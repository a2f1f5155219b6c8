"""Lengths and edges in the sentences of the checks."""

from __future__ import annotations

from itertools import pairwise

from geometry.checks.walking import Stop
from geometry.model.pattern import EdgeRef
from geometry.units import Unit, format_length


def mm(length_mm: float) -> str:
    """A length as the sentences give it."""
    return format_length(length_mm, Unit.MM)


def edges(refs: tuple[EdgeRef, ...]) -> str:
    """One side of a seam: ``the side of "front bodice"``, ``the armhole of "back bodice" and of "front bodice"``."""
    words = f'the {refs[0].edge} of "{refs[0].piece}"'
    for before, ref in pairwise(refs):
        words += f' and of "{ref.piece}"' if ref.edge == before.edge else f' and the {ref.edge} of "{ref.piece}"'
    return words


def stop(where: Stop) -> str:
    """A notch or dart: ``the notch "hip" on the side of "front skirt"``."""
    name = f' "{where.id}"' if where.id else ""
    return f'the {where.kind}{name} on the {where.edge} of "{where.piece}"'


def sentence(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]
