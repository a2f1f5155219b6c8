"""The demo's two singers, both invented, and what is altered for each after her first toile.

Odile is tall with a fuller bust and upper arm; Maren is short and slight.
"""

from __future__ import annotations

from collections.abc import Callable

from geometry.affine import frozen_points
from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.step import Step
from geometry.curves.crossing import crossings
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.draft_dress import draft_nest

ODILE_SIZE, MAREN_SIZE = "10", "6"

_SHARE_DIGITS = 6

Plan = tuple[tuple[str, Callable[[Pattern], Step]], ...]


def odile() -> tuple[Record, ...]:
    """Three alterations of the handbook and one free slash, on the sample size."""
    return _recorded(
        ODILE_SIZE,
        (
            ("Fuller bust than the pattern is drafted for.", _done("D01", 12.7, "waist and side dart")),
            ("Long in the waist, front and back alike.", _done("A01", 15.0)),
            ("Fuller upper arm; the cap's seam keeps its length.", _done("I01", 20.0, "cap seam kept")),
            ("Some of the cap's height given back.", lambda p: _higher_cap(p.piece("sleeve"), 4.0)),
        ),
    )


def maren() -> tuple[Record, ...]:
    """Four alterations of the handbook on a smaller size."""
    return _recorded(
        MAREN_SIZE,
        (
            ("Short in the waist, front and back alike.", _done("A01", -20.0)),
            ("Narrow shoulders.", _done("C02", 5.0)),
            ("Shorter skirt, front and back alike.", _done("A04", -40.0, "in the skirt")),
            ("Shorter arm.", _done("A06", -20.0, "below elbow")),
        ),
    )


def _done(code: str, amount_mm: float, variant: str = "") -> Callable[[Pattern], Step]:
    """An entry of the handbook, which finds its pieces and its places itself."""
    return lambda _: Alteration(code, amount_mm, variant)


def _recorded(size: str, plan: Plan) -> tuple[Record, ...]:
    """The plan as records; each step is laid out on the pattern as the ones before it left it."""
    base = draft_nest().pattern(size)
    records: tuple[Record, ...] = ()
    for number, (note, step) in enumerate(plan, start=1):
        records += (Record(str(number), step(replay(base, records).pattern), note=note),)
    return records


def _higher_cap(sleeve: Piece, opening_mm: float) -> Slash:
    """Cut above the notches, two thirds up the cap, and opened; the top moves."""
    _, top = sleeve.landmark("cap top")
    _, biceps = sleeve.landmark("biceps front")
    return _level_cut(sleeve, biceps + (top - biceps) * 2 / 3, opening_mm, Side.LEFT)


def _level_cut(piece: Piece, y: float, opening_mm: float, moving: Side) -> Slash:
    """A level cut through the piece from its left to its right outline."""
    x0, _, x1, _ = piece.bounds_mm
    level = frozen_points([(x0 - 1.0, y), (x1 + 1.0, y)])
    met = [
        (crossing.at[0], on_edge(edge.id, round(crossing.first_mm / edge.length_mm, _SHARE_DIGITS)))
        for edge in piece.edges
        for crossing in crossings(edge.points, level)
    ]
    ends = sorted(met, key=lambda row: row[0])
    return Slash(piece.name, (SlashCut((ends[0][1], ends[-1][1]), opening_mm, Hinge.NONE, moving),))
