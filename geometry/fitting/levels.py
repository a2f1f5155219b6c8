"""The levels of a body at which a size is chosen, and where on a pattern each of them holds."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, replace
from enum import StrEnum

from geometry.errors import PatternError
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, part_of
from geometry.model.piece import Piece


class BodyLevel(StrEnum):
    """Where a size is chosen, from the top down; ``LENGTH`` holds for lengths below the underarm."""

    SHOULDER = "shoulder and neck"
    BUST = "bust"
    WAIST = "waist"
    HIP = "hip"
    UPPER_ARM = "upper arm"
    LENGTH = "length"


class Transition(StrEnum):
    """How an edge goes over from one size to another."""

    STRAIGHT = "straight"
    SMOOTH = "smooth"


@dataclass(frozen=True, slots=True)
class EdgeTransition:
    """How one edge, and what is sewn to it, goes over from size to size."""

    piece: str
    edge: str
    transition: Transition


@dataclass(frozen=True, slots=True)
class CornerPull:
    """A corner pulled to another size than its level says; what is sewn to it there comes along.

    Attributes:
        piece: Name of its piece.
        edge: Id of the edge that starts at the corner.
        position: The size it is pulled to, as a place between sizes.
    """

    piece: str
    edge: str
    position: float


@dataclass(frozen=True, slots=True)
class SizeBlend:
    """The size at every level: 0 is the first size of the nest, 1.5 half-way from its second to its third.

    Attributes:
        shoulder: Neck and shoulder, down to the top of the armhole.
        bust: Underarm and bust.
        waist: Waist.
        hip: Hip and hem.
        upper_arm: Width of the sleeve.
        length: Lengths below the underarm: bodice, skirt, sleeve, leg.
        transitions: Edges that go over in another way than their shape suggests.
        corners: Corners pulled to other sizes.
    """

    shoulder: float
    bust: float
    waist: float
    hip: float
    upper_arm: float
    length: float
    transitions: tuple[EdgeTransition, ...] = ()
    corners: tuple[CornerPull, ...] = ()

    def at(self, level: BodyLevel) -> float:
        """The size at a level."""
        return {
            BodyLevel.SHOULDER: self.shoulder,
            BodyLevel.BUST: self.bust,
            BodyLevel.WAIST: self.waist,
            BodyLevel.HIP: self.hip,
            BodyLevel.UPPER_ARM: self.upper_arm,
            BodyLevel.LENGTH: self.length,
        }[level]

    def with_level(self, level: BodyLevel, position: float) -> SizeBlend:
        """The same with another size at one level."""
        match level:
            case BodyLevel.SHOULDER:
                return replace(self, shoulder=position)
            case BodyLevel.BUST:
                return replace(self, bust=position)
            case BodyLevel.WAIST:
                return replace(self, waist=position)
            case BodyLevel.HIP:
                return replace(self, hip=position)
            case BodyLevel.UPPER_ARM:
                return replace(self, upper_arm=position)
            case BodyLevel.LENGTH:
                return replace(self, length=position)

    @property
    def positions(self) -> tuple[float, ...]:
        """Every place between sizes that is asked for."""
        return tuple(self.at(level) for level in BodyLevel) + tuple(pull.position for pull in self.corners)

    def refuse_beyond(self, sizes: tuple[str, ...]) -> None:
        """Raises ``PatternError`` where a size is asked for that the nest does not have."""
        last = len(sizes) - 1
        for position in self.positions:
            if not math.isfinite(position) or not 0 <= position <= last:
                raise PatternError(
                    f"There is no size at the place {position:g}; choose from 0 ({sizes[0]}) to {last} ({sizes[-1]}).",
                    code="no-such-size",
                )


def one_size(position: float) -> SizeBlend:
    """One size at every level."""
    return SizeBlend(position, position, position, position, position, position)


_COLLAR = re.compile(r"\b(collar|neckband|stand|neck facing|yoke)\b")
_WAISTBAND = re.compile(r"\bwaist ?band\b")


def piece_level(piece: Piece) -> BodyLevel:
    """The level that a piece follows where its edges say nothing."""
    words = piece.name.lower()
    if _COLLAR.search(words):
        return BodyLevel.SHOULDER
    if _WAISTBAND.search(words):
        return BodyLevel.WAIST
    match part_of(piece):
        case Part.SLEEVE:
            return BodyLevel.UPPER_ARM
        case Part.SKIRT | Part.TROUSERS:
            return BodyLevel.HIP
        case _:
            return BodyLevel.BUST


_CORNER_LEVELS = (
    (frozenset({EdgeRole.NECK, EdgeRole.SHOULDER}), BodyLevel.SHOULDER),
    (frozenset({EdgeRole.CAP, EdgeRole.UNDERARM}), BodyLevel.UPPER_ARM),
    (frozenset({EdgeRole.ARMHOLE}), BodyLevel.BUST),
    (frozenset({EdgeRole.WAIST}), BodyLevel.WAIST),
    (frozenset({EdgeRole.HEM, EdgeRole.CROTCH, EdgeRole.INSEAM}), BodyLevel.HIP),
)
"""The level of a corner by the role of an edge that meets there, the first that fits."""


def corner_level(piece: Piece, number: int) -> BodyLevel:
    """The level of the corner where an edge of a piece starts, told from both edges that meet there."""
    roles = {piece.edges[number - 1].role, piece.edges[number].role}
    own = piece_level(piece)
    if own is BodyLevel.UPPER_ARM or (own is BodyLevel.WAIST and part_of(piece) is not Part.BODICE):
        return own
    return next((level for words, level in _CORNER_LEVELS if roles & words), own)
