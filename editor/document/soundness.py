"""What must hold of a pattern and its wearers when a project is read: names that point at something, finite numbers."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from editor.document.project import Wearer
from editor.document.schema import FieldError
from geometry.affine import distance_mm
from geometry.model.pattern import EdgePlace, EdgeRef, Nest, Pattern
from geometry.model.piece import Piece
from geometry.model.reach import reach_mm
from geometry.tolerance import SAME_POINT_MM

FARTHEST_MM = 1e6
"""A kilometre: no table is larger, and squares of it are far from overflowing."""


def refuse_unsound_nest(nest: Nest) -> None:
    """Raises ``FieldError`` where a pattern could not have been imported or altered as it is."""
    if not nest.patterns:
        raise FieldError("patterns", "at least one size is needed")
    _refuse_twice("patterns", "size", nest.sizes)
    if nest.sample_size not in nest.sizes:
        raise FieldError("sample_size", f'there is no size "{nest.sample_size}"')
    for index, pattern in enumerate(nest.patterns):
        _pattern(pattern, f"patterns[{index}]")


def refuse_unsound_wearers(wearers: tuple[Wearer, ...]) -> None:
    """Raises ``FieldError`` where an id is used twice."""
    _refuse_twice("wearers", "id", (wearer.id for wearer in wearers))
    for index, wearer in enumerate(wearers):
        _refuse_twice(f"wearers[{index}].rounds", "id", (each.id for each in wearer.rounds))


def _pattern(pattern: Pattern, at: str) -> None:
    if not pattern.pieces:
        raise FieldError(f"{at}.pieces", "at least one is needed")
    _refuse_twice(f"{at}.pieces", "name", (piece.name for piece in pattern.pieces))
    for index, piece in enumerate(pattern.pieces):
        _edges(piece, f"{at}.pieces[{index}]")
        _owners(piece, f"{at}.pieces[{index}]")
        if not reach_mm(piece) <= FARTHEST_MM:
            raise FieldError(f"{at}.pieces[{index}]", "expected lengths and places within a kilometre")
    _seams(pattern, at)


def _edges(piece: Piece, at: str) -> None:
    if not piece.edges:
        raise FieldError(f"{at}.edges", "at least one is needed")
    for index, edge in enumerate(piece.edges):
        if len(edge.points) < 2 or not np.all(np.abs(edge.points) <= FARTHEST_MM):
            raise FieldError(f"{at}.edges[{index}].points", "expected two or more points within a kilometre")
    for index, edge in enumerate(piece.edges):
        following = piece.edges[(index + 1) % len(piece.edges)]
        if distance_mm(edge.end, following.start) > SAME_POINT_MM:
            raise FieldError(
                f"{at}.edges[{index}].points",
                f'the edge "{edge.id}" does not end where the edge "{following.id}" starts',
            )
    _refuse_twice(f"{at}.edges", "id", (edge.id for edge in piece.edges))


def _owners(piece: Piece, at: str) -> None:
    """Darts and notches sit on edges that are there, and within their length."""
    lengths_mm = {edge.id: edge.length_mm + SAME_POINT_MM for edge in piece.edges}
    for index, dart in enumerate(piece.darts):
        if not 0 <= dart.from_mm <= dart.to_mm <= lengths_mm.get(dart.edge, -1.0):
            raise FieldError(f"{at}.darts[{index}]", f'its mouth does not lie on an edge "{dart.edge}"')
    for index, notch in enumerate(piece.notches):
        if not 0 <= notch.at_mm <= lengths_mm.get(notch.edge, -1.0):
            raise FieldError(f"{at}.notches[{index}]", f'it does not lie on an edge "{notch.edge}"')
    if piece.fold is not None and piece.fold not in lengths_mm:
        raise FieldError(f"{at}.fold", f'there is no edge "{piece.fold}"')
    _refuse_twice(f"{at}.darts", "id", (dart.id for dart in piece.darts))
    _refuse_twice(f"{at}.notches", "id", (notch.id for notch in piece.notches))


def _seams(pattern: Pattern, at: str) -> None:
    known = {(piece.name, edge.id) for piece in pattern.pieces for edge in piece.edges}
    for index, seam in enumerate(pattern.seams):
        for side, edges, ways, stretches in (
            ("first", seam.first, seam.first_backward, seam.first_stretches),
            ("second", seam.second, seam.second_backward, seam.second_stretches),
        ):
            where = f"{at}.seams[{index}].{side}"
            if len(edges) != len(ways):
                raise FieldError(f"{where}_backward", "expected one entry for each edge")
            lost = next((ref for ref in edges if (ref.piece, ref.edge) not in known), None)
            if lost is not None:
                raise FieldError(where, f'"{lost.piece}" has no edge "{lost.edge}"')
            if stretches and len(stretches) != len(edges):
                raise FieldError(f"{where}_stretches", "expected one entry for each edge, or none at all")
            for number, (ref, stretch) in enumerate(zip(edges, stretches, strict=False)):
                _refuse_lost_place(pattern, ref, stretch.start, f"{where}_stretches[{number}].start")
                _refuse_lost_place(pattern, ref, stretch.end, f"{where}_stretches[{number}].end")


def _refuse_lost_place(pattern: Pattern, ref: EdgeRef, place: EdgePlace, at: str) -> None:
    if not 0.0 <= place.share <= 1.0:
        raise FieldError(f"{at}.share", "expected a share from 0 to 1")
    notches = {notch.id for piece in pattern.pieces if piece.name == ref.piece for notch in piece.notches_on(ref.edge)}
    if place.notch and place.notch not in notches:
        raise FieldError(f"{at}.notch", f'the edge "{ref.edge}" of "{ref.piece}" has no notch "{place.notch}"')


def _refuse_twice(at: str, field: str, names: Iterable[str]) -> None:
    seen: set[str] = set()
    for index, name in enumerate(names):
        if name in seen:
            raise FieldError(f"{at}[{index}].{field}", f'"{name}" is used twice')
        seen.add(name)
