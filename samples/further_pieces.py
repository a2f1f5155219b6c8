"""Pieces that the sample styles do not have: a front without darts, a front with a princess seam, collars."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from geometry.affine import Point, Points, distance_mm, frozen_points
from geometry.alterations.handbook.alteration import Alteration
from geometry.curves import polyline
from geometry.curves.smooth import blended
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.draft_dress import draft_nest

_WHOLE_DART_MM = 200.0
"""More than any dart is wide: all of it is turned."""

_ROUNDED_MM = 60.0
"""How far on each side of the bust point a princess seam is rounded: own choice."""


@cache
def dartless_dress(size: str) -> Pattern:
    """The dress with the darts left out of its front; the bust point stays marked."""
    pattern = draft_nest().pattern(size)
    front = pattern.piece("front bodice")
    return pattern.with_piece(replace(front, darts=()))


@cache
def princess_front(size: str) -> Pattern:
    """The front of the dress in two panels: its side dart turned to the shoulder, both darts made into one seam."""
    turned = Alteration("D09", _WHOLE_DART_MM, "to the shoulder").apply(draft_nest().pattern(size))
    front = turned.pattern.piece("front bodice")
    waist, shoulder, bust = front.dart("waist dart"), front.dart("shoulder dart"), front.dart("waist dart").apex
    (low_in, low_out), (high_out, high_in) = front.mouth(waist), front.mouth(shoulder)
    centre = replace(
        front,
        edges=(
            _part(front, "waist", 0.0, waist.from_mm),
            _over_bust(low_in, bust, high_in),
            _part(front, "shoulder", shoulder.to_mm, front.edge("shoulder").length_mm),
            front.edge("neck"),
            front.edge("centre front"),
        ),
    )
    side = replace(
        front,
        name="side front",
        edges=(
            _part(front, "waist", waist.to_mm, front.edge("waist").length_mm),
            front.edge("side"),
            front.edge("armhole"),
            _part(front, "shoulder", 0.0, shoulder.from_mm),
            _over_bust(high_out, bust, low_out),
        ),
        fold=None,
        quantity=2,
        grain=_upright(front, (low_out[0] + front.edge("waist").end[0]) / 2),
    )
    return Pattern((_marked(centre, bust), _marked(_as_long(side, centre), bust)), size=size)


def _as_long(side: Piece, centre: Piece) -> Piece:
    """The side panel, its rounder seam drawn on at the waist until it is as long as that of the centre panel."""
    seam, waist = side.edge("princess"), side.edge("waist")
    short_mm = centre.edge("princess").length_mm - seam.length_mm
    ux, uy = polyline.direction_at(seam.points, seam.length_mm)
    corner = seam.end[0] + ux * short_mm, seam.end[1] + uy * short_mm
    drawn = {
        "princess": frozen_points([*seam.points[:-1].tolist(), corner]),
        "waist": frozen_points([corner, *waist.points[1:].tolist()]),
    }
    return replace(side, edges=tuple(replace(each, points=drawn.get(each.id, each.points)) for each in side.edges))


def _part(piece: Piece, edge_id: str, from_mm: float, to_mm: float) -> Edge:
    edge = piece.edge(edge_id)
    return replace(edge, points=polyline.part_between(edge.points, from_mm, to_mm))


def _over_bust(start: Point, bust: Point, end: Point) -> Edge:
    """A seam from place to place over the bust point, rounded there."""
    at_mm = distance_mm(start, bust)
    chain = blended(frozen_points([start, bust, end]), at_mm - _ROUNDED_MM, at_mm + _ROUNDED_MM)
    return Edge("princess", chain, EdgeRole.OTHER)


def _upright(piece: Piece, x: float) -> Grain | None:
    return piece.grain and Grain((x, piece.grain.start[1]), (x, piece.grain.end[1]))


def _marked(piece: Piece, bust: Point) -> Piece:
    """The panel with the notches of its own edges and one at the bust, without darts and what is drawn inside."""
    at_mm, _ = polyline.nearest(piece.edge("princess").points, bust)
    own = tuple(notch for notch in piece.notches if notch.edge in {edge.id for edge in piece.edges} - {"shoulder"})
    notches = (*own, Notch("princess bust", "princess", at_mm, partner="princess bust"))
    return replace(piece, darts=(), notches=notches, inner_lines=(), marks=(), labels=())


@cache
def collars(size: str) -> Pattern:
    """A half collar on the fold at the centre back and a whole one, their long edges gently curved."""
    reach = 180.0 + float(size)

    def curved(start: float, end: float, low: float, rise: float) -> Points:
        x = np.linspace(start, end, 41)
        return frozen_points(np.column_stack([x, low + rise * (x / reach) ** 2]))

    half = Piece(
        "half collar",
        (
            Edge("neck", curved(0.0, reach, 0.0, 10.0), EdgeRole.NECK),
            Edge("front end", frozen_points([(reach, 10.0), (reach, 75.0)])),
            Edge("outer", curved(reach, 0.0, 66.0, 9.0)),
            Edge("centre back", frozen_points([(0.0, 66.0), (0.0, 0.0)]), EdgeRole.CENTRE_BACK),
        ),
        fold="centre back",
        grain=Grain((20.0, 10.0), (20.0, 55.0)),
    )
    whole = Piece(
        "whole collar",
        (
            Edge("neck", curved(-reach, reach, 0.0, 8.0), EdgeRole.NECK),
            Edge("right end", frozen_points([(reach, 8.0), (reach, 75.0)])),
            Edge("outer", curved(reach, -reach, 66.0, 9.0)),
            Edge("left end", frozen_points([(-reach, 75.0), (-reach, 8.0)])),
        ),
        grain=Grain((0.0, 10.0), (0.0, 55.0)),
    )
    return Pattern((half, whole), size=size)
