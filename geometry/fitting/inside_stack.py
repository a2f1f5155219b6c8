"""What is marked inside a piece, laid up in all sizes for blending."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from geometry.affine import Point, Points, as_point
from geometry.curves import polyline
from geometry.fitting.piece_stack import Floats, PieceStack
from geometry.model.edge import EdgeRole
from geometry.model.piece import Piece
from geometry.tolerance import NOTABLE_MM, SAME_POINT_MM, STRAIGHT_MM

_LEVEL = 0.25
"""Places inside a piece follow the outline at their own height: a distance across counts this much of one up or down.
Own choice."""

_SAMPLE_MM = 15.0
"""Spacing at which the outline is asked for its sizes: own choice."""

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)

Key = tuple[str, int, int]
"""What a place belongs to: a kind of mark, its number in the sample size, and its own number where it has several."""

Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True, eq=False)
class InsideStack:
    """The places marked inside a piece.

    Attributes:
        keys: What each place belongs to.
        seen: The places in every size, seen from the centre line, shape (places, sizes, 2).
        reach: How far each place follows each point of the ring, shape (places, points); rows sum to 1.
        left_out: Words for what is not in every size and therefore not in a blend.
        even_legs: Numbers of the darts whose legs are equally long in the sample size.
        in_darts: For each point marked inside a dart its number and that of the dart.
        level: For each line that is level in every size the rows of its places.
    """

    keys: tuple[Key, ...]
    seen: Floats
    reach: Floats
    left_out: tuple[str, ...]
    even_legs: frozenset[int]
    in_darts: tuple[tuple[int, int], ...]
    level: tuple[tuple[int, ...], ...]


def inside_stack(stack: PieceStack) -> InsideStack:
    """The places marked inside a piece that every size has, and how each follows the outline."""
    left_out: list[str] = []
    rows = list(_rows(stack, left_out))
    seen = np.array([stack.seen(places) for _, places in rows]).reshape(len(rows), len(stack.sizes), 2)
    darts = list(enumerate(stack.piece.darts))
    legs = {number: stack.piece.legs_mm(dart) for number, dart in darts}
    even = frozenset(number for number, (a, b) in legs.items() if abs(a - b) <= NOTABLE_MM)
    inside = tuple(
        (number, own)
        for number, mark in enumerate(stack.piece.marks)
        for own, dart in darts
        if stack.piece.covers(dart, mark.at)
    )
    keys = tuple(key for key, _ in rows)
    return InsideStack(keys, seen, _reach(stack, seen), tuple(left_out), even, inside, tuple(_level(keys, seen)))


def _level(keys: tuple[Key, ...], seen: Floats) -> Iterator[tuple[int, ...]]:
    """The places of each line that is square to the centre line in every size."""
    for number in {number: None for kind, number, _ in keys if kind == "line"}:
        rows = tuple(row for row, key in enumerate(keys) if key[:2] == ("line", number))
        if np.ptp(seen[list(rows), :, 1], axis=0).max() <= STRAIGHT_MM:
            yield rows


def _rows(stack: PieceStack, left_out: list[str]) -> Iterator[tuple[Key, tuple[Point, ...]]]:
    for number, dart in enumerate(stack.piece.darts):
        darts = [size.dart(dart.id) for size in stack.sizes]
        yield ("tip", number, 0), tuple(each.tip for each in darts)
        if all(each.aim is not None for each in darts):
            yield ("aim", number, 0), tuple(each.apex for each in darts)
    for kind, told in _KINDS.items():
        sample, sizes = told(stack.piece), [told(size) for size in stack.sizes]
        for number, things in _common(sample, sizes, kind, left_out):
            points = _on_line(sample[number][1], things) if kind == "line" else things
            for each in range(len(points[0])):
                yield (kind, number, each), tuple(as_point(thing[each]) for thing in points)


def _on_line(sample: Points, chains: list[Points]) -> list[Points]:
    """The points of a line in every size, at the shares of its length that its points have in the sample size."""
    stations = polyline.stations_mm(sample)
    shares = stations / max(float(stations[-1]), SAME_POINT_MM)
    return [
        np.array([polyline.point_at(chain, float(share) * polyline.length_mm(chain)) for share in shares])
        for chain in chains
    ]


def _common(
    sample: list[tuple[str, Points]], sizes: list[list[tuple[str, Points]]], kind: str, left_out: list[str]
) -> Iterator[tuple[int, list[Points]]]:
    """The things that every size has, told by name and order among those of the same name."""
    tables = [dict(_numbered(things)) for things in sizes]
    for number, (key, _) in enumerate(_numbered(sample)):
        if all(key in table for table in tables):
            yield number, [table[key] for table in tables]
        elif kind != "label":  # words that differ from size to size name the size
            left_out.append(f'the {kind} "{key[0]}"')


def _numbered(things: list[tuple[str, Points]]) -> list[tuple[tuple[str, int], Points]]:
    names = [name for name, _ in things]
    return [((name, names[:number].count(name)), points) for number, (name, points) in enumerate(things)]


def _doubles(piece: Piece) -> list[tuple[str, Points]]:
    return [(d.id, np.array([d.tip_start, d.tip_end, d.left, d.right])) for d in piece.double_darts]


def _marks(piece: Piece) -> list[tuple[str, Points]]:
    return [(f"{mark.id} ({mark.kind.value})", np.array([mark.at])) for mark in piece.marks]


def _lines(piece: Piece) -> list[tuple[str, Points]]:
    return [(line.id, line.points) for line in piece.inner_lines]


def _labels(piece: Piece) -> list[tuple[str, Points]]:
    return [(label.text, np.array([label.at])) for label in piece.labels]


def _grains(piece: Piece) -> list[tuple[str, Points]]:
    return [] if piece.grain is None else [("grain", np.array([piece.grain.start, piece.grain.end]))]


_KINDS: dict[str, Callable[[Piece], list[tuple[str, Points]]]] = {
    "double dart": _doubles,
    "mark": _marks,
    "line": _lines,
    "label": _labels,
    "grain": _grains,
}


def _reach(stack: PieceStack, seen: Floats) -> Floats:
    """How far places follow the points of the ring: by nearness, heights counting most."""
    sampling = _sampling(stack)
    outline: Floats = sampling @ stack.ring.mean(axis=0)
    gaps = outline[None, :, :] - seen.mean(axis=1)[:, None, :]
    near = 1.0 / ((_LEVEL * gaps[..., 0]) ** 2 + gaps[..., 1] ** 2 + 1.0) ** 2
    reach: Floats = (near / near.sum(axis=1, keepdims=True)) @ sampling
    return reach


def _sampling(stack: PieceStack) -> Floats:
    """Evenly spaced places on the outline without its centre edges, each as shares of ring points."""
    edges = [edge for edge in stack.edges if edge.edge.role not in _CENTRES] or list(stack.edges)
    count, rows = stack.ring.shape[1], []
    for edge in edges:
        wanted = np.linspace(0.0, 1.0, max(int(edge.edge.length_mm / _SAMPLE_MM), 1) + 1)
        numbers = np.arange(edge.first, edge.first + edge.count) % count
        eye = np.zeros((edge.count, count))
        eye[np.arange(edge.count), numbers] = 1.0
        rows.append(np.stack([np.interp(wanted, edge.share, column) for column in eye.T], axis=1))
    return np.concatenate(rows)
