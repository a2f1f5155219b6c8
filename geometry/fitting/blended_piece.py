"""One piece blended: its edges, and everything that is marked on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from geometry.affine import Point, as_point, distance_mm, frozen_points, midpoint, unit_vector
from geometry.curves import polyline
from geometry.fitting.blended_outline import Outline
from geometry.fitting.inside_stack import InsideStack
from geometry.fitting.piece_stack import EdgeStack, Floats, PieceStack
from geometry.fitting.sewn_parts import edge_points, notch_share
from geometry.fitting.size_weights import PieceWeights
from geometry.model.dart import Dart, DoubleDart
from geometry.model.edge import Edge
from geometry.model.marks import Grain, InnerLine, Label, Mark, Notch
from geometry.model.piece import Piece
from geometry.tolerance import STRAIGHT_MM


def blended_piece(stack: PieceStack, inside: InsideStack, weights: PieceWeights, outline: Outline, size: str) -> Piece:
    """One piece blended.

    Where only one size went into it, or sizes that are all alike, it is the very piece of that size.
    """
    used = np.flatnonzero((weights.points > 0).any(axis=0) | (weights.steps > 0).any(axis=0))
    same: Piece = replace(stack.sizes[used[0]], size=size)
    is_moved = outline.moved_mm > STRAIGHT_MM or outline.notches
    if not is_moved and all(replace(stack.sizes[each], size=size) == same for each in used[1:]):
        return same
    table = _Table(stack, float(weights.points.mean(axis=0) @ stack.centre_mm))
    chains = [table.points(edge_points(outline.ring, edge)) for edge in stack.edges]
    edges = tuple(
        Edge(edge.edge.id, _unbent(chain, edge), edge.edge.role, edge.edge.allowance_mm)
        for edge, chain in zip(stack.edges, chains, strict=True)
    )
    places = _inside_places(inside, stack, weights, outline.ring, table)
    darts = _darts(stack, inside, chains, places)
    return replace(
        stack.piece,
        edges=edges,
        size=size,
        darts=darts,
        grain=_grain(stack.piece, places, table),
        double_darts=tuple(_doubles(stack.piece, places)),
        notches=tuple(_notches(stack, chains, weights, dict(outline.notches))),
        inner_lines=tuple(_lines(stack.piece, places)),
        marks=tuple(_marks(stack.piece, inside, places, darts)),
        labels=tuple(_labels(stack.piece, places)),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """From places seen from the centre line back to the table."""

    stack: PieceStack
    centre_mm: float

    def points(self, seen: Floats) -> Floats:
        """Places of shape (n, 2), read-only."""
        frame = self.stack.frame
        return frozen_points((seen + [self.centre_mm, 0.0]) @ np.array((frame.out, frame.up)))


Places = dict[tuple[str, int], list[Point]]


def _inside_places(
    inside: InsideStack, stack: PieceStack, weights: PieceWeights, ring: Floats, table: _Table
) -> Places:
    """The places marked inside, on the table, by kind and number of what they belong to."""
    residual = ring - np.einsum("nk,kni->ni", weights.points, stack.ring)
    seen = np.einsum("pk,pki->pi", inside.reach @ weights.points, inside.seen) + inside.reach @ residual
    for rows in inside.level:  # its ends follow two sides of the piece, whose heights may be blended differently
        seen[list(rows), 1] = seen[list(rows), 1].mean()
    places: Places = {}
    for (kind, number, _), place in zip(inside.keys, table.points(seen), strict=True):
        places.setdefault((kind, number), []).append(as_point(place))
    return places


def _unbent(chain: Floats, edge: EdgeStack) -> Floats:
    """An edge that is straight in every size and came out straight has no points in between."""
    if edge.is_straight and not edge.mouths and polyline.offset_from_chord_mm(chain) <= STRAIGHT_MM:
        return frozen_points(chain[[0, -1]])
    return chain


def _darts(stack: PieceStack, inside: InsideStack, chains: list[Floats], places: Places) -> tuple[Dart, ...]:
    numbers = {dart.id: number for number, dart in enumerate(stack.piece.darts)}
    found = {}
    for edge, chain in zip(stack.edges, chains, strict=True):
        if not edge.mouths:
            continue
        stations = polyline.stations_mm(chain)
        for name, start, end in edge.mouths:
            number = numbers[name]
            tip, aim = places["tip", number][0], places.get(("aim", number), [None])[0]
            if number in inside.even_legs:
                tip = _between_legs(tip, as_point(chain[start]), as_point(chain[end]))
            mouth = float(stations[start]), float(stations[end])
            found[name] = replace(stack.piece.darts[number], from_mm=mouth[0], to_mm=mouth[1], tip=tip, aim=aim)
    return tuple(found[dart.id] for dart in stack.piece.darts)


def _between_legs(tip: Point, a: Point, b: Point) -> Point:
    """A tip moved along its dart's mouth until both legs are equally long."""
    ux, uy = unit_vector(a, b)
    middle = midpoint(a, b)
    off_mm = (tip[0] - middle[0]) * ux + (tip[1] - middle[1]) * uy
    return tip[0] - off_mm * ux, tip[1] - off_mm * uy


def _grain(piece: Piece, places: Places, table: _Table) -> Grain | None:
    """The grain where the blend puts its middle, as it ran in the sample size, so that it stays parallel."""
    if piece.grain is None or ("grain", 0) not in places:
        return None
    start, end = places["grain", 0]
    (x, y), half = midpoint(start, end), distance_mm(start, end) / 2
    ux, uy = unit_vector(piece.grain.start, piece.grain.end)
    return Grain((x - half * ux, y - half * uy), (x + half * ux, y + half * uy))


def _doubles(piece: Piece, places: Places) -> Iterator[DoubleDart]:
    for number, old in enumerate(piece.double_darts):
        if ("double dart", number) in places:
            yield DoubleDart(old.id, *places["double dart", number])


def _lines(piece: Piece, places: Places) -> Iterator[InnerLine]:
    for number, old in enumerate(piece.inner_lines):
        if ("line", number) in places:
            yield InnerLine(old.id, frozen_points(places["line", number]), old.kind, old.closed)


def _marks(piece: Piece, inside: InsideStack, places: Places, darts: tuple[Dart, ...]) -> Iterator[Mark]:
    """The marked points; one inside a dart, such as the hole punched before its tip, stays where it is in the dart."""
    in_darts = dict(inside.in_darts)
    for number, old in enumerate(piece.marks):
        if ("mark", number) in places:
            x, y = places["mark", number][0]
            if number in in_darts:
                own = in_darts[number]
                before, tip = places["tip", own][0], darts[own].tip
                x, y = x + tip[0] - before[0], y + tip[1] - before[1]
            yield Mark(old.id, (x, y), old.kind)


def _labels(piece: Piece, places: Places) -> Iterator[Label]:
    for number, old in enumerate(piece.labels):
        if ("label", number) in places:
            yield Label(old.text, places["label", number][0])


def _notches(stack: PieceStack, chains: list[Floats], weights: PieceWeights, slid: dict[str, float]) -> Iterator[Notch]:
    """The notches that every size has, where the sizes that go into their edge have them or where they slid to."""
    found = {}
    for edge, chain in zip(stack.edges, chains, strict=True):
        for name, _ in edge.notches:
            share = slid.get(name, notch_share(name, stack, edge, weights))
            at_mm = float(np.interp(share, edge.share, polyline.stations_mm(chain)))
            found[name] = replace(stack.piece.notch(name), at_mm=at_mm)
    return (found[notch.id] for notch in stack.piece.notches if notch.id in found)


def unfolded_mm(piece: Piece, edge_id: str, sewn_mm: float) -> float:
    """The length along an edge, darts open, of a place at a length along it with its darts folded."""
    at_mm = sewn_mm
    for dart in piece.darts_on(edge_id):
        if dart.from_mm <= at_mm:
            at_mm += dart.to_mm - dart.from_mm
    return min(max(at_mm, 0.0), piece.edge(edge_id).length_mm)
