"""From where to where an edge is sewn: said anew, at the places on it that last longest."""

from __future__ import annotations

from dataclasses import replace

from geometry.curves import polyline
from geometry.model.pattern import WHOLE_EDGE, EdgePlace, Pattern, Seam, Stretch
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM

_LEAST_MM = 5.0
"""A stretch is not drawn shorter than this: nobody sews less; own choice."""

_DIGITS = 4
"""Digits of a share: a tenth of a millimetre on a metre."""


def with_stretch(seam: Seam, side: int, part: int, stretch: Stretch) -> Seam:
    """The seam with an edge sewn from elsewhere to elsewhere; on both sides where a piece is sewn to its mirror image.

    Args:
        seam: The seam.
        side: 0 for its first side, 1 for its second.
        part: Which edge of that side, as walked.
        stretch: How much of it is sewn.
    """
    stretches = list(seam.sides[side].stretches)
    stretches[part] = stretch
    said = () if all(each.is_whole for each in stretches) else tuple(stretches)
    if seam.first == seam.second:
        return replace(seam, first_stretches=said, second_stretches=said)
    return replace(seam, second_stretches=said) if side else replace(seam, first_stretches=said)


def with_gap(seam: Seam) -> Seam:
    """The seam with the middle third of its edges left open, as for a pocket; the very same if it is no simple one."""
    if any(len(side.refs) != 1 for side in seam.sides):
        return seam
    parts = []
    for side in seam.sides:
        one = side.stretches[0]
        halves = (Stretch(one.start, EdgePlace(share=0.3333)), Stretch(EdgePlace(share=0.6667), one.end))
        parts.append(halves[::-1] if side.backward[0] else halves)
    return replace(
        seam,
        first=seam.first * 2,
        second=seam.second * 2,
        first_backward=seam.first_backward * 2,
        second_backward=seam.second_backward * 2,
        first_stretches=parts[0],
        second_stretches=parts[1],
    )


def place_on(piece: Piece, edge_id: str, at_mm: float, *, within_mm: float = ON_EDGE_MM) -> EdgePlace:
    """The place on an edge that lasts longest: a corner or notch within reach, the nearer one, else a share."""
    edge = piece.edge(edge_id)
    named = [(at_mm, EdgePlace()), (edge.length_mm - at_mm, WHOLE_EDGE.end)]
    named += [(abs(notch.at_mm - at_mm), EdgePlace(notch.id)) for notch in piece.notches_on(edge_id)]
    gap_mm, place = min(named, key=lambda row: row[0])
    return place if gap_mm <= within_mm else EdgePlace(share=round(at_mm / edge.length_mm, _DIGITS))


def drawn_to(
    piece: Piece, edge_id: str, stretch: Stretch, place: tuple[float, float], *, at_end: bool, within_mm: float
) -> Stretch:
    """The stretch with one of its ends drawn to the place on the edge nearest to a point, not past its other end."""
    low_mm, high_mm = stretch.bounds_mm(piece, edge_id)
    at_mm, _ = polyline.nearest(piece.edge(edge_id).points, place)
    if at_end:
        end = place_on(piece, edge_id, max(at_mm, low_mm + _LEAST_MM), within_mm=within_mm)
        moved = replace(stretch, end=end)
    else:
        moved = replace(stretch, start=place_on(piece, edge_id, min(at_mm, high_mm - _LEAST_MM), within_mm=within_mm))
    low_mm, high_mm = moved.bounds_mm(piece, edge_id)
    return moved if high_mm > low_mm else stretch


def held_by(seam: Seam, known: Pattern, now: Pattern) -> Seam:
    """The seam with its ends held by what a pattern knows: a notch that was added to it since becomes a share."""
    said = seam
    for number, side in enumerate(seam.sides):
        for part, (ref, _, stretch) in enumerate(side.parts):
            piece = now.piece(ref.piece)
            olds = (old for old in known.pieces if old.name == ref.piece)
            notches = {notch.id for old in olds for notch in old.notches_on(ref.edge)}
            ends = (_held_place(place, piece, ref.edge, notches) for place in (stretch.start, stretch.end))
            said = with_stretch(said, number, part, Stretch(*ends))
    return said


def _held_place(place: EdgePlace, piece: Piece, edge_id: str, notches: set[str]) -> EdgePlace:
    if place.notch in notches or not place.notch:
        return place
    return EdgePlace(share=round(place.at_mm(piece, edge_id) / piece.edge(edge_id).length_mm, _DIGITS))
