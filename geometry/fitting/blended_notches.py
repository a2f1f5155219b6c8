"""Notches of a blend put where their mates are met when the seam is walked."""

from __future__ import annotations

from dataclasses import replace

from geometry.fitting.blended_piece import unfolded_mm
from geometry.fitting.nest_stack import Mates, NestStack, SeamStack, SideStack, Stop
from geometry.fitting.size_weights import PieceWeights, mean_weights
from geometry.model.piece import Piece
from geometry.tolerance import STRAIGHT_MM


def with_mated_notches(pieces: list[Piece], stack: NestStack, weights: tuple[PieceWeights, ...]) -> list[Piece]:
    """The pieces with every notch as far ahead of what it meets as it is in the sizes that went into the seam."""
    moved = list(pieces)
    for seam in stack.seams:
        if seam.mates:
            share = mean_weights(seam.second, stack, weights)
            for mates in seam.mates:
                _mate(moved, seam, mates, float(share @ mates.ahead_mm))
    return moved


def _mate(pieces: list[Piece], seam: SeamStack, mates: Mates, ahead_mm: float) -> None:
    """Move the first of two mates, or the second where the first is a join."""
    first, second = (
        _station_mm(stop, side, pieces) for stop, side in ((mates.first, seam.first), (mates.second, seam.second))
    )
    if mates.first.notch:
        _put(pieces, mates.first, seam.first, second + ahead_mm, first)
    else:
        _put(pieces, mates.second, seam.second, first - ahead_mm, second)


def _stretch_mm(side: SideStack, number: int, pieces: list[Piece]) -> tuple[float, float]:
    """From where to where an edge of a side is sewn, darts folded."""
    piece, edge = pieces[side.edges[number][0]], side.edges[number][1]
    name = piece.edges[edge].id
    start_mm, end_mm = side.stretches[number].bounds_mm(piece, name)
    return piece.sewn_station_mm(name, start_mm), piece.sewn_station_mm(name, end_mm)


def _before_mm(side: SideStack, number: int, pieces: list[Piece]) -> float:
    """How long a side is up to one of its edges."""
    spans = (_stretch_mm(side, each, pieces) for each in range(number))
    return sum(end - start for start, end in spans)


def _station_mm(stop: Stop, side: SideStack, pieces: list[Piece]) -> float:
    """How far a stop is from the start of its side."""
    before = _before_mm(side, stop.number, pieces)
    if not stop.notch:
        return before
    piece, (start, end) = pieces[side.edges[stop.number][0]], _stretch_mm(side, stop.number, pieces)
    notch = piece.notch(stop.notch)
    own = piece.sewn_station_mm(notch.edge, notch.at_mm)
    return before + (end - own if side.backward[stop.number] else own - start)


def _put(pieces: list[Piece], stop: Stop, side: SideStack, wanted_mm: float, now_mm: float) -> None:
    """Move a notch along its edge to a station of its side; a hair's breadth is left."""
    if abs(wanted_mm - now_mm) <= STRAIGHT_MM:
        return
    number, (start, end) = side.edges[stop.number][0], _stretch_mm(side, stop.number, pieces)
    piece, own = pieces[number], wanted_mm - _before_mm(side, stop.number, pieces)
    own = min(max(end - own if side.backward[stop.number] else start + own, start), end)
    notches = tuple(
        replace(notch, at_mm=unfolded_mm(piece, notch.edge, own)) if notch.id == stop.notch else notch
        for notch in piece.notches
    )
    pieces[number] = replace(piece, notches=notches)
