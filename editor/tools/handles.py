"""Handles on what is picked out: a dart, an edge, a notch is changed by pulling them. No state, no window."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from editor.selection import Selection
from editor.tools.readings import both_units
from geometry.affine import Point, distance_mm, midpoint, unit_vector
from geometry.alterations.allowance_steps import SetAllowance
from geometry.alterations.dart_steps import LengthenDart, MoveDart, WidenDart
from geometry.alterations.double_dart_steps import MoveDoubleDart, WidenDoubleDart
from geometry.alterations.notch_steps import MoveNotch
from geometry.alterations.step import Step
from geometry.curves import polyline
from geometry.model.dart import Dart, DoubleDart
from geometry.model.edge import Edge
from geometry.model.piece import Piece

Pull = tuple[float, float]
"""How far a handle was pulled, along what it goes along and across it; mm."""


@dataclass(frozen=True, slots=True)
class Handle:
    """A place that can be pulled.

    Attributes:
        at: Where it is, in the piece's coordinates.
        towards: Unit direction it is drawn along.
        pulled: How far it is pulled when taken from one place to another.
        step: The step for a pull, rounded.
        words: The step in words: "takes in 2 cm".
    """

    at: Point
    towards: Point
    pulled: Callable[[Point, Point], Pull]
    step: Callable[[Pull], Step]
    words: Callable[[Pull], str]


def handles(piece: Piece, picked: Selection) -> tuple[Handle, ...]:
    """The handles of what is picked out on a piece; none for what it does not have."""
    darts = [dart for dart in piece.darts if dart.id == picked.dart]
    doubles = [dart for dart in piece.double_darts if dart.id == picked.dart]
    edges = [edge for edge in piece.edges if edge.id == picked.edge]
    notches = [notch for notch in piece.notches if notch.id == picked.notch]
    return (
        *(handle for dart in darts for handle in _of_dart(piece, dart)),
        *(handle for dart in doubles for handle in _of_double_dart(piece, dart)),
        *(_of_allowance(piece, edge) for edge in edges if edge.id != piece.fold),
        *(_of_notch(piece, notch.id) for notch in notches),
    )


def _of_dart(piece: Piece, dart: Dart) -> Iterator[Handle]:
    start, end = piece.mouth(dart)
    along, middle = unit_vector(start, end), midpoint(start, end)
    inwards = unit_vector(middle, dart.tip)
    edge = piece.edge(dart.edge)
    yield Handle(
        middle,
        along,
        _along_edge(piece, edge),
        lambda pull: MoveDart(piece.name, dart.id, pull[0]),
        lambda pull: f"{dart.id} moves {both_units(abs(pull[0]))}",
    )
    yield Handle(
        dart.tip,
        inwards,
        _along(inwards),
        lambda pull: LengthenDart(piece.name, dart.id, pull[0]),
        lambda pull: f"{dart.id} {'longer' if pull[0] >= 0 else 'shorter'} by {both_units(abs(pull[0]))}",
    )
    for leg, out in ((start, (-along[0], -along[1])), (end, along)):
        yield Handle(
            leg,
            out,
            _along(out),
            lambda pull: WidenDart(piece.name, dart.id, 2 * pull[0]),
            lambda pull: f"takes in {both_units(piece.intake_mm(dart) + 2 * pull[0])}",
        )


def _of_double_dart(piece: Piece, dart: DoubleDart) -> Iterator[Handle]:
    across = unit_vector(dart.left, dart.right)
    width_mm = distance_mm(dart.left, dart.right)
    yield Handle(
        midpoint(dart.left, dart.right),
        unit_vector(dart.tip_start, dart.tip_end),
        lambda taken, to: (to[0] - taken[0], to[1] - taken[1]),
        lambda pull: MoveDoubleDart(piece.name, dart.id, *pull),
        lambda pull: f"{dart.id} moves {both_units(abs(pull[0]))} across, {both_units(abs(pull[1]))} up or down",
    )
    for side, out in ((dart.left, (-across[0], -across[1])), (dart.right, across)):
        yield Handle(
            side,
            out,
            _along(out),
            lambda pull: WidenDoubleDart(piece.name, dart.id, 2 * pull[0]),
            lambda pull: f"takes in {both_units(width_mm + 2 * pull[0])}",
        )


def _of_allowance(piece: Piece, edge: Edge) -> Handle:
    """On the cutting line, square to the middle of the edge, or of its first stretch beside a dart."""
    darts = piece.darts_on(edge.id)
    at_mm = edge.length_mm / 2 if not darts else darts[0].from_mm / 2
    (x, y), (tx, ty) = edge.point_at(at_mm), polyline.direction_at(edge.points, at_mm)
    out = (ty, -tx)
    at = (x + out[0] * edge.allowance_mm, y + out[1] * edge.allowance_mm)

    def width_mm(pull: Pull) -> float:
        return max(edge.allowance_mm + pull[0], 0.0)

    return Handle(
        at,
        out,
        _along(out),
        lambda pull: SetAllowance(piece.name, edge.id, width_mm(pull)),
        lambda pull: f"allowance {both_units(width_mm(pull))}",
    )


def _of_notch(piece: Piece, notch_id: str) -> Handle:
    notch = piece.notch(notch_id)
    edge = piece.edge(notch.edge)
    return Handle(
        piece.notch_point(notch),
        polyline.direction_at(edge.points, notch.at_mm),
        _along_edge(piece, edge),
        lambda pull: MoveNotch(piece.name, notch_id, pull[0]),
        lambda pull: f"notch moves {both_units(abs(pull[0]))}",
    )


def _along(towards: Point) -> Callable[[Point, Point], Pull]:
    def pulled(taken: Point, to: Point) -> Pull:
        dx, dy = to[0] - taken[0], to[1] - taken[1]
        return dx * towards[0] + dy * towards[1], dy * towards[0] - dx * towards[1]

    return pulled


def _along_edge(piece: Piece, edge: Edge) -> Callable[[Point, Point], Pull]:
    """Along the stitching line, darts folded."""

    def station_mm(place: Point) -> float:
        return piece.sewn_station_mm(edge.id, polyline.nearest(edge.points, place)[0])

    return lambda taken, to: (station_mm(to) - station_mm(taken), 0.0)
