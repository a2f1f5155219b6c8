"""Lengths and edges in the sentences of the checks."""

from __future__ import annotations

from itertools import pairwise

from geometry.checks.walking import Stop, place_words
from geometry.model.pattern import EdgeRef, Pattern, SeamSide, Stretch
from geometry.model.piece import Piece
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


def side(pattern: Pattern, one: SeamSide) -> str:
    """One side of a seam with the stretches of its edges that are sewn."""
    if all(stretch.is_whole for stretch in one.stretches):
        return edges(one.refs)
    return " and ".join(
        edges((ref,))
        + ("" if stretch.is_whole else f" {from_to(pattern.piece(ref.piece), ref.edge, stretch, backward=backward)}")
        for ref, backward, stretch in one.parts
    )


def from_to(piece: Piece, edge_id: str, stretch: Stretch, *, backward: bool = False) -> str:
    """From where to where an edge is sewn, as it is walked: ``from waist to zip end``."""
    start, end = (place_words(piece, edge_id, stretch, at_end=at_end) for at_end in (backward, not backward))
    return f"from {start} to {end}"


def stop(where: Stop) -> str:
    """A notch or dart: ``the notch "hip" on the side of "front skirt"``."""
    name = f' "{where.id}"' if where.id else ""
    return f'the {where.kind}{name} on the {where.edge} of "{where.piece}"'


def sentence(text: str) -> str:
    """The text with its first letter large."""
    return text[:1].upper() + text[1:]
