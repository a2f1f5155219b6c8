"""The demo's two singers, both invented, and what is altered for each after her first toile.

Odile is tall with a fuller bust and upper arm; Maren is short and slight.
"""

from __future__ import annotations

from collections.abc import Callable

from geometry.affine import frozen_points
from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.full_bust import FullBust
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.step import Step
from geometry.alterations.upper_arm import UpperArm
from geometry.curves.crossing import crossings
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.draft_dress import FRONT_NOTCH_SHARE, draft_nest
from samples.piece_marks import LENGTHEN

ODILE_SIZE, MAREN_SIZE = "10", "6"

_SHARE_DIGITS = 6

Plan = tuple[tuple[str, Callable[[Pattern], Step]], ...]


def odile() -> tuple[Record, ...]:
    """Five steps on the sample size."""
    return _recorded(
        ODILE_SIZE,
        (
            ("Fuller bust than the pattern is drafted for.", _full_bust),
            ("Long in the waist, front …", lambda p: _lengthened(p.piece("front bodice"), 15.0)),
            ("… and back by the same.", lambda p: _lengthened(p.piece("back bodice"), 15.0)),
            ("Fuller upper arm; the cap's seam keeps its length.", _upper_arm),
            ("Some of the cap's height given back.", lambda p: _higher_cap(p.piece("sleeve"), 4.0)),
        ),
    )


def maren() -> tuple[Record, ...]:
    """Seven steps on a smaller size."""
    return _recorded(
        MAREN_SIZE,
        (
            ("Short in the waist, front …", lambda p: _lengthened(p.piece("front bodice"), -20.0)),
            ("… and back by the same.", lambda p: _lengthened(p.piece("back bodice"), -20.0)),
            ("Narrow shoulders, front …", lambda p: _narrower(p.piece("front bodice"), 0.4, 0.55)),
            ("… and back.", lambda p: _narrower(p.piece("back bodice"), 0.75, 0.45)),
            ("Shorter skirt, front …", lambda p: _lengthened(p.piece("front skirt"), -40.0)),
            ("… and back by the same.", lambda p: _lengthened(p.piece("back skirt"), -40.0)),
            ("Shorter arm.", lambda p: _lengthened(p.piece("sleeve"), -20.0, where="below elbow")),
        ),
    )


def _recorded(size: str, plan: Plan) -> tuple[Record, ...]:
    """The plan as records; each step is laid out on the pattern as the ones before it left it."""
    base = draft_nest().pattern(size)
    records: tuple[Record, ...] = ()
    for number, (note, step) in enumerate(plan, start=1):
        records += (Record(str(number), step(replay(base, records).pattern), note=note),)
    return records


def _lengthened(piece: Piece, opening_mm: float, *, where: str = "") -> Slash:
    """Cut along the lengthen or shorten line and opened (negative: folded out); what is below moves."""
    name = f"{LENGTHEN} {where}".strip()
    line = next(line for line in piece.inner_lines if line.id == name)
    return _level_cut(piece, float(line.points[:, 1].mean()), opening_mm, Side.RIGHT)


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


def _narrower(bodice: Piece, shoulder: float, armhole: float) -> Slash:
    """A wedge folded out of the shoulder, to nothing at the armhole, which keeps its length."""
    line = (on_edge("shoulder", shoulder), on_edge("armhole", armhole))
    outer = Side.RIGHT if bodice.name == "back bodice" else Side.LEFT
    return Slash(bodice.name, (SlashCut(line, -6.0, Hinge.END, outer),))


def _full_bust(pattern: Pattern) -> FullBust:
    front = pattern.piece("front bodice")
    return FullBust(
        piece=front.name,
        amount_mm=12.7,
        bust_point=Anchor(On.LANDMARK, "bust point"),
        armhole=on_edge("armhole", FRONT_NOTCH_SHARE),
        side=_mouth(front, "side dart"),
        waist=_mouth(front, "waist dart"),
        centre=on_edge("centre front", 0.8),
    )


def _upper_arm(pattern: Pattern) -> UpperArm:
    sleeve = pattern.piece("sleeve")
    hem = sleeve.edge("hem")
    down = frozen_points([(sleeve.landmark("cap top")[0], y) for y in (sleeve.bounds_mm[3], sleeve.bounds_mm[1])])
    (below,) = crossings(hem.points, down)
    return UpperArm(
        piece=sleeve.name,
        amount_mm=20.0,
        top=Anchor(On.LANDMARK, "cap top"),
        hem=on_edge("hem", round(below.first_mm / hem.length_mm, _SHARE_DIGITS)),
        front=Anchor(On.LANDMARK, "biceps front"),
        back=Anchor(On.LANDMARK, "biceps back"),
    )


def _mouth(piece: Piece, dart_id: str) -> Anchor:
    """The middle of a dart's mouth."""
    dart = piece.dart(dart_id)
    middle_mm = (dart.from_mm + dart.to_mm) / 2
    return on_edge(dart.edge, round(middle_mm / piece.edge(dart.edge).length_mm, _SHARE_DIGITS))
