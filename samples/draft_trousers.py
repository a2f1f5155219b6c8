"""The sample trousers: front, back and waistband in seven sizes, put together from the drafted lines.

The front lies with its side at +x, the back with its side at -x, so that both halves of a seam meet without turning a
piece over. Each has its crease at x = 0 and the crotch level at y = 0.
"""

from __future__ import annotations

from functools import cache

from geometry.affine import frozen_points
from geometry.curves import polyline
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, InnerLine, Label, Notch
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from samples.piece_marks import LENGTHEN, landmark, line_across, mirrored, with_drill_holes, x_at
from samples.size_table import SAMPLE_SIZE, SIZES, Figures, figures
from samples.trouser_lines import Leg, draft_legs
from samples.waistband import waistband

STYLE_NAME = "Straight trousers"
MATERIAL = "trouser cloth"

SEAM_MM = 15.0
"""The home standard, 5/8 in."""

HEM_MM = 40.0
"""Trousers 1 1/2 to 2 in, from memory."""

CURVE_NOTCH_SHARE = 0.6
"""Where the crotch seams have a notch, from the waist; one in front, two at the back: own choice."""

DOUBLE_NOTCH_MM = 10.0

LINE_ABOVE_HIP_MM = 40.0
"""The rise is lengthened between the dart tips and the hip, where the crotch seams are straight: own choice."""


@cache
def draft_nest() -> Nest:
    """The trousers in all sizes."""
    return Nest(STYLE_NAME, tuple(draft_pattern(size) for size in SIZES), SAMPLE_SIZE)


def draft_pattern(size: str) -> Pattern:
    """The trousers in one size."""
    body = figures(size)
    front, back = draft_legs(body)
    pieces = (
        with_drill_holes(_leg(front, "front trousers", body)),
        with_drill_holes(mirrored(_leg(back, "back trousers", body))),
        waistband(body, MATERIAL, back_mm=back.waist_mm),
    )
    return Pattern(pieces, size=size)


def _leg(draft: Leg, name: str, body: Figures) -> Piece:
    is_back = name.startswith("back")
    hem, side, waist, crotch, inseam = (
        Edge(role.value, points, role, HEM_MM if role is EdgeRole.HEM else SEAM_MM)
        for role, points in (
            (EdgeRole.HEM, draft.hem),
            (EdgeRole.SIDE, draft.side),
            (EdgeRole.WAIST, draft.waist.chain),
            (EdgeRole.CROTCH, draft.crotch),
            (EdgeRole.INSEAM, draft.inseam),
        )
    )
    top_y, knee_y = draft.waist.chain[:, 1].max(), draft.knee[1]
    levels = {
        "hip line": draft.hip[1],
        LENGTHEN: draft.hip[1] + LINE_ABOVE_HIP_MM,
        f"{LENGTHEN} above knee": knee_y / 2,
        "knee line": knee_y,
        f"{LENGTHEN} below knee": (knee_y + draft.hem[0, 1]) / 2,
    }
    lines = tuple(line_across(words, y, _inner_x(crotch, inseam, y), x_at(side, y)) for words, y in levels.items())
    crease = InnerLine("crease", frozen_points([(0.0, draft.hem[0, 1] + 30.0), (0.0, top_y - 150.0)]))
    return Piece(
        name,
        (hem, side, waist, crotch, inseam),
        size=body.size,
        quantity=2,
        material=MATERIAL,
        grain=Grain((0.0, knee_y - 150.0), (0.0, -40.0)),
        darts=(Dart("waist dart", "waist", draft.waist.from_mm, draft.waist.to_mm, draft.tip, None, Pressed.TO_END),),
        notches=_notches(draft, crotch, "back" if is_back else "front"),
        inner_lines=(*lines, crease),
        marks=(landmark("knee", (0.0, knee_y)),),
        labels=(Label("Cut 2", (40.0, -120.0)),),
    )


def _inner_x(crotch: Edge, inseam: Edge, y: float) -> float:
    return x_at(crotch if y > 0 else inseam, y)


def _notches(draft: Leg, crotch: Edge, half: str) -> tuple[Notch, ...]:
    def on_side(at: tuple[float, float]) -> float:
        return polyline.nearest(draft.side, at)[0]

    knee_inside = (-draft.knee[0], draft.knee[1])
    curve_at = CURVE_NOTCH_SHARE * crotch.length_mm
    curve = (curve_at,) if half == "front" else (curve_at, curve_at + DOUBLE_NOTCH_MM)
    return (
        Notch("hip", "side", on_side(draft.hip), partner="hip"),
        Notch("knee", "side", on_side(draft.knee), partner="knee"),
        Notch("inside knee", "inseam", polyline.nearest(draft.inseam, knee_inside)[0], partner="inside knee"),
        *(Notch(f"{half} crotch {n}", "crotch", at, partner=f"{half} crotch") for n, at in enumerate(curve, start=1)),
    )
