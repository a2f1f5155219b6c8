"""What a piece is on the garment, told from the roles of its edges and the words of its name."""

from __future__ import annotations

import re
from enum import StrEnum
from functools import lru_cache

from geometry.model.edge import EdgeRole
from geometry.model.piece import Piece

_LAYER = re.compile(r"\b(lining|facing|interfacing|interlining)\b")
_HALF = re.compile(r"\b(front|back)\b")
_HAND = re.compile(r"\b(left|right)\b")
_BESIDE = re.compile(r"\bside[ -](front|back|panel)\b")
_CENTRES = frozenset({EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK})


class Part(StrEnum):
    """Which part of a garment a piece belongs to."""

    BODICE = "bodice"
    SKIRT = "skirt"
    TROUSERS = "trousers"
    SLEEVE = "sleeve"


def part_of(piece: Piece) -> Part | None:
    """Which part of a garment a piece is, told from the roles of its edges; ``None`` if they do not tell."""
    return _part(frozenset(edge.role for edge in piece.edges))


@lru_cache
def _part(roles: frozenset[EdgeRole]) -> Part | None:
    if EdgeRole.CAP in roles:
        return Part.SLEEVE
    if roles & {EdgeRole.INSEAM, EdgeRole.CROTCH}:
        return Part.TROUSERS
    if roles & {EdgeRole.ARMHOLE, EdgeRole.SHOULDER, EdgeRole.NECK}:
        return Part.BODICE
    return Part.SKIRT if roles >= {EdgeRole.WAIST, EdgeRole.SIDE} else None


def is_lengthen_line(line_id: str) -> bool:
    """Whether a line inside a piece, by its name, is drawn for lengthening or shortening."""
    return "lengthen" in line_id.lower()


def half_of(piece: Piece) -> str:
    """The word "front" or "back", told from a piece's name, else from its centre edge; "" if neither tells."""
    return half_in(piece.name) or _half_of_centre(frozenset(edge.role for edge in piece.edges))


@lru_cache
def _half_of_centre(roles: frozenset[EdgeRole]) -> str:
    centres = roles & _CENTRES
    return next(iter(centres)).value.removeprefix("centre ") if len(centres) == 1 else ""


def half_in(text: str) -> str:
    """The first of "front" and "back" in a text, "" if there is neither."""
    return _word(_HALF, text)


def is_beside(piece: Piece) -> bool:
    """Whether a piece lies beside the one at the centre, as side fronts, side backs and side gores do."""
    return is_beside_in(piece.name)


@lru_cache(maxsize=1024)
def is_beside_in(name: str) -> bool:
    """The same, told from a name."""
    return _BESIDE.search(name.lower()) is not None


def hand_in(text: str) -> str:
    """The first of "left" and "right" in a text, "" if there is neither."""
    return _word(_HAND, text)


def unhanded(name: str) -> str:
    """The name that a piece cut single, or an edge of it, had before: without "left" or "right" in front."""
    return name.removeprefix("left ").removeprefix("right ")


def layer_of(piece: Piece) -> str:
    """Which layer a piece belongs to ("lining", "facing" ...), "" for the garment itself."""
    return _word(_LAYER, f"{piece.name} {piece.material}")


@lru_cache(maxsize=1024)
def _word(words: re.Pattern[str], text: str) -> str:
    match = words.search(text.lower())
    return match[1] if match else ""
