"""The sample dress: five pieces in seven sizes, put together from the drafted lines.

A close-fitting dress block with a waist seam for a community choir's concert dresses. Front pieces lie with the
centre front at x = 0 and the side at +x, back pieces with the centre back at x = 0 and the side at -x, so that both
halves of a side seam meet without turning a piece over.
"""

from __future__ import annotations

from functools import cache

from geometry.affine import Points, frozen_points
from geometry.curves import polyline
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Label, Mark, Notch
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from samples.draft_back_bodice import BackBodice, draft_back_bodice
from samples.draft_front_bodice import FrontBodice, draft_front_bodice
from samples.draft_skirt import Skirt, draft_skirts
from samples.draft_sleeve import Sleeve, draft_sleeve
from samples.piece_marks import LENGTHEN, landmark, line_across, mirrored, with_drill_holes, x_at
from samples.size_table import SAMPLE_SIZE, SIZES, Figures, figures

STYLE_NAME = "Concert dress"
MATERIAL = "dress cloth"

SEAM_MM = 15.0
"""The home standard, 5/8 in."""

CENTRE_BACK_MM = 20.0
"""A seam with a zip: 3/4 in (mudmosh.com/sewing-tips-for-seam-and-hem-allowances)."""

SKIRT_HEM_MM = 40.0
"""A flared skirt: 1 to 1 1/2 in, from memory."""

SLEEVE_HEM_MM = 30.0
"""1 to 1 1/2 in, from memory."""

WAIST_LINE_MM = 64.0
"""A bodice is lengthened 2 1/2 in above the waist (an early dressmaking text, fashion-design-drawing.com)."""

BELOW_HIP_MM = 152.0
"""A skirt is lengthened 6 in below the hip (The New Dressmaker, 1921, p. 26)."""

FRONT_NOTCH_SHARE = 0.42
BACK_NOTCH_SHARE = 0.40
DOUBLE_NOTCH_MM = 10.0
"""Where the armhole notches lie, from the underarm; one in front, two at the back. Own choice."""

BELOW_DART_MM = 20.0
"""How far below the side dart the side seams have a notch: own choice."""

ZIP_END_MM = 200.0
"""How far the zip reaches below the waist: own choice."""


@cache
def draft_nest() -> Nest:
    """The dress in all sizes."""
    return Nest(STYLE_NAME, tuple(draft_pattern(size) for size in SIZES), SAMPLE_SIZE)


def draft_pattern(size: str) -> Pattern:
    """The dress in one size."""
    body = figures(size)
    back = draft_back_bodice(body)
    front = draft_front_bodice(body, side_mm=back.side_mm, back_neck_mm=polyline.length_mm(back.neck))
    front_hole, back_hole = polyline.length_mm(front.armhole), polyline.length_mm(back.armhole)
    sleeve = draft_sleeve(body, front_armhole_mm=front_hole, back_armhole_mm=back_hole)
    front_skirt, back_skirt = draft_skirts(body, front_waist=front.waist, back_waist=back.waist)
    bust_at = front.side.from_mm - BELOW_DART_MM
    pieces = (
        _front_bodice(front, body, bust_at),
        mirrored(_back_bodice(back, body, bust_at)),
        _sleeve(sleeve, body, FRONT_NOTCH_SHARE * front_hole, BACK_NOTCH_SHARE * back_hole),
        _skirt(front_skirt, "front skirt", EdgeRole.CENTRE_FRONT, body),
        mirrored(_skirt(back_skirt, "back skirt", EdgeRole.CENTRE_BACK, body)),
    )
    return Pattern(tuple(with_drill_holes(piece) for piece in pieces), size=size)


def _edge(role: EdgeRole, points: Points, allowance_mm: float = SEAM_MM) -> Edge:
    return Edge(role.value, points, role, allowance_mm)


def _front_bodice(draft: FrontBodice, body: Figures, bust_at: float) -> Piece:
    top = draft.neck[-1]
    side = _edge(EdgeRole.SIDE, draft.side.chain)
    notch_at = FRONT_NOTCH_SHARE * polyline.length_mm(draft.armhole)
    return Piece(
        "front bodice",
        (
            _edge(EdgeRole.WAIST, draft.waist.chain),
            side,
            _edge(EdgeRole.ARMHOLE, draft.armhole),
            _edge(EdgeRole.SHOULDER, draft.shoulder),
            _edge(EdgeRole.NECK, draft.neck),
            _edge(EdgeRole.CENTRE_FRONT, frozen_points([top, draft.waist.chain[0]]), 0.0),
        ),
        size=body.size,
        material=MATERIAL,
        fold="centre front",
        grain=Grain((38.0, 90.0), (38.0, 270.0)),
        darts=(
            Dart("side dart", "side", draft.side.from_mm, draft.side.to_mm, draft.side_tip, draft.bust_point),
            Dart("waist dart", "waist", draft.waist.from_mm, draft.waist.to_mm, draft.waist_tip, draft.bust_point),
        ),
        notches=(
            Notch("bust", "side", bust_at, partner="bust"),
            Notch("front armhole", "armhole", notch_at, partner="front armhole"),
        ),
        inner_lines=(line_across(LENGTHEN, WAIST_LINE_MM, 0.0, x_at(side, WAIST_LINE_MM)),),
        marks=(landmark("bust point", draft.bust_point),),
        labels=(Label("Cut 1 on the fold", (60.0, 300.0)),),
    )


def _back_bodice(draft: BackBodice, body: Figures, bust_at: float) -> Piece:
    side = _edge(EdgeRole.SIDE, draft.side)
    notch_at = BACK_NOTCH_SHARE * polyline.length_mm(draft.armhole)
    return Piece(
        "back bodice",
        (
            _edge(EdgeRole.WAIST, draft.waist.chain),
            side,
            _edge(EdgeRole.ARMHOLE, draft.armhole),
            _edge(EdgeRole.SHOULDER, draft.shoulder.chain),
            _edge(EdgeRole.NECK, draft.neck),
            _edge(EdgeRole.CENTRE_BACK, frozen_points([draft.neck[-1], draft.waist.chain[0]]), CENTRE_BACK_MM),
        ),
        size=body.size,
        quantity=2,
        material=MATERIAL,
        grain=Grain((38.0, 90.0), (38.0, 270.0)),
        darts=(
            Dart("waist dart", "waist", draft.waist.from_mm, draft.waist.to_mm, draft.waist_tip),
            Dart(
                "shoulder dart",
                "shoulder",
                draft.shoulder.from_mm,
                draft.shoulder.to_mm,
                draft.shoulder_tip,
                draft.blade,
                Pressed.TO_END,
            ),
        ),
        notches=(
            Notch("bust", "side", bust_at, partner="bust"),
            Notch("back armhole 1", "armhole", notch_at, partner="back armhole"),
            Notch("back armhole 2", "armhole", notch_at + DOUBLE_NOTCH_MM, partner="back armhole"),
        ),
        inner_lines=(line_across(LENGTHEN, WAIST_LINE_MM, 0.0, x_at(side, WAIST_LINE_MM)),),
        marks=(landmark("shoulder blade", draft.blade),),
        labels=(Label("Cut 2", (150.0, 230.0)),),
    )


def _sleeve(draft: Sleeve, body: Figures, front_at: float, back_at: float) -> Piece:
    cap_mm = polyline.length_mm(draft.cap)
    levels = {"biceps line": 0.0, f"{LENGTHEN} above elbow": -100.0, f"{LENGTHEN} below elbow": -300.0}
    front = Edge("front underarm", draft.front_underarm, EdgeRole.UNDERARM, SEAM_MM)
    back = Edge("back underarm", draft.back_underarm, EdgeRole.UNDERARM, SEAM_MM)
    return Piece(
        "sleeve",
        (
            _edge(EdgeRole.CAP, draft.cap),
            front,
            _edge(EdgeRole.HEM, draft.hem, SLEEVE_HEM_MM),
            back,
        ),
        size=body.size,
        quantity=2,
        material=MATERIAL,
        grain=Grain((0.0, -380.0), (0.0, -60.0)),
        notches=(
            Notch("back armhole 1", "cap", back_at, partner="back armhole"),
            Notch("back armhole 2", "cap", back_at + DOUBLE_NOTCH_MM, partner="back armhole"),
            Notch("shoulder", "cap", draft.cap_top_mm, partner="shoulder"),
            Notch("front armhole", "cap", cap_mm - front_at, partner="front armhole"),
        ),
        inner_lines=tuple(line_across(name, y, x_at(front, y), x_at(back, y)) for name, y in levels.items()),
        marks=_sleeve_marks(draft),
        labels=(Label("Cut 2", (30.0, -220.0)),),
    )


def _sleeve_marks(draft: Sleeve) -> tuple[Mark, ...]:
    x, y = polyline.point_at(draft.cap, draft.cap_top_mm)
    front, back = draft.cap[-1], draft.cap[0]
    return (
        landmark("cap top", (x, y)),
        landmark("biceps front", (float(front[0]), float(front[1]))),
        landmark("biceps back", (float(back[0]), float(back[1]))),
    )


def _skirt(draft: Skirt, name: str, centre: EdgeRole, body: Figures) -> Piece:
    is_front = centre is EdgeRole.CENTRE_FRONT
    side = _edge(EdgeRole.SIDE, draft.side)
    centre_edge = _edge(
        centre, frozen_points([draft.waist.chain[-1], draft.hem[0]]), 0.0 if is_front else CENTRE_BACK_MM
    )
    zip_end = () if is_front else (Notch("zip end", centre.value, ZIP_END_MM),)
    levels = {"hip line": draft.hip_y, LENGTHEN: draft.hip_y - BELOW_HIP_MM}
    return Piece(
        name,
        (
            _edge(EdgeRole.HEM, draft.hem, SKIRT_HEM_MM),
            side,
            _edge(EdgeRole.WAIST, draft.waist.chain),
            centre_edge,
        ),
        size=body.size,
        quantity=1 if is_front else 2,
        material=MATERIAL,
        fold=centre.value if is_front else None,
        grain=Grain((45.0, -520.0), (45.0, -260.0)),
        darts=(Dart("waist dart", "waist", draft.waist.from_mm, draft.waist.to_mm, draft.tip, None, Pressed.TO_END),),
        notches=(Notch("hip", "side", draft.hip_on_side_mm, partner="hip"), *zip_end),
        inner_lines=tuple(line_across(words, y, 0.0, x_at(side, y)) for words, y in levels.items()),
        labels=(Label("Cut 1 on the fold" if is_front else "Cut 2", (110.0, -360.0)),),
    )
