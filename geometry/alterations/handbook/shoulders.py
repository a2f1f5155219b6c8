"""Shoulders (C01 to C08)."""

from __future__ import annotations

import math
from dataclasses import replace

from geometry.affine import Point, angle_between, distance_mm
from geometry.alterations.anchors import Anchor
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import spread, wedge
from geometry.alterations.handbook.entry import Amount, Caution, Entry, Region, Share, Variant, kept
from geometry.alterations.handbook.fairing import even, fair, grow_corner
from geometry.alterations.handbook.landmarks import (
    ARMHOLE_NOTCH,
    NECK_POINT,
    SHOULDER_POINT,
    UNDERARM,
    landmark,
)
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.shoulder_seam import move_forward
from geometry.alterations.redraw import Pull, Redraw
from geometry.alterations.single_pieces import CutSingle
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.findings import Level
from geometry.model.edge import EdgeRole
from geometry.model.garment import hand_in
from geometry.tolerance import ON_EDGE_MM

BODICES = (PieceRole.FRONT_BODICE, PieceRole.BACK_BODICE)

DOWN_ARMHOLE_MM = 76.0
"""The cut for a broad shoulder ends about 3 in down the armhole (Weiland, Shoulder Savvy)."""

_ROUNDS = 8
"""Corrections that bring a length within float noise: each leaves a tenth of the error or less."""

_PADS = Caution(12.7, "Usually 1/4 to 1/2 in is enough; for more, try shoulder pads on the toile first.")
_FAR_FORWARD = Caution(19.05, "Usually 1/4 to 3/4 in: for more, look at a rounded upper back first.")
_SLIDES = (
    Variant("armhole slid", "straight up or down; the shoulder changes its length a little"),
    Variant("shoulder length kept", "in or out as well, so that the shoulder keeps its length"),
)
_FORWARD = (
    Variant("tip only", "to nothing at the neck"),
    Variant("whole shoulder", "by as much at the neck, along the neck seam"),
)
_HALF_PIECE = Share(1 / 2, "half of what is too much in front on each half front, the same behind on each half back")


def widen_shoulder(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Make a shoulder longer by turning its outer end about the armhole, which keeps its length."""
    start = bench.place(panel, "cut on shoulder", panel.clear(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK))
    hinge_at = panel.along_mm(EdgeRole.ARMHOLE, DOWN_ARMHOLE_MM, EdgeRole.SHOULDER)
    hinge = bench.place(panel, "hinge on armhole", hinge_at)
    opening_mm = _shoulder_opening_mm(panel, start, hinge, by_mm)
    bench.do(wedge(panel, start, hinge, opening_mm, still=landmark(panel, NECK_POINT)))


def _shoulder_opening_mm(panel: Panel, start: Anchor, hinge: Anchor, by_mm: float) -> float:
    """How far a cut from the shoulder must open so that the shoulder, straight again, is longer by so much.

    The tip turns about the hinge; its distance from the end that stays (neck point or dart mouth) follows from the
    law of cosines.
    """
    centre, tip = panel.point(hinge), panel.point(landmark(panel, SHOULDER_POINT))
    stays = _inner_end(panel, start)
    fixed_mm, moving_mm = distance_mm(centre, stays), distance_mm(centre, tip)
    wanted_mm = distance_mm(stays, tip) + by_mm
    cosine = (fixed_mm**2 + moving_mm**2 - wanted_mm**2) / (2 * fixed_mm * moving_mm)
    if wanted_mm <= 0 or abs(cosine) >= 1:
        raise StepError(f'The shoulder of "{panel.name}" cannot change by {by_mm:.0f} mm there; give a smaller amount.')
    turn = math.acos(cosine) - abs(angle_between(centre, stays, tip))
    return 2 * distance_mm(panel.point(start), centre) * math.sin(turn / 2)


def _inner_end(panel: Panel, start: Anchor) -> Point:
    """The end towards the neck of the straight stretch of the shoulder that is cut: the neck, or a dart's mouth."""
    edge = panel.edge(EdgeRole.SHOULDER, EdgeRole.NECK)
    at_mm, _ = polyline.nearest(edge.points, panel.point(start))
    neck = panel.corner(EdgeRole.SHOULDER, EdgeRole.NECK)
    darts = panel.piece.darts_on(edge.id)
    if neck.share == 0.0:
        return edge.point_at(max((dart.to_mm for dart in darts if dart.to_mm <= at_mm), default=0.0))
    return edge.point_at(min((dart.from_mm for dart in darts if dart.from_mm >= at_mm), default=edge.length_mm))


def _width(bench: Bench, by_mm: float) -> None:
    for panel in bench.needed(*BODICES):
        widen_shoulder(bench, panel, by_mm)


def armhole_slid(panel: Panel, up_mm: float, *, keep_shoulder: bool = False) -> Redraw:
    """The whole armhole slid up, shoulder tip and underarm alike, so that it keeps length and shape.

    With ``keep_shoulder`` it slides in or out as well, just so far that the shoulder is sewn as long as before.
    """
    out_mm = _out_for_same_shoulder(panel, up_mm) if keep_shoulder else 0.0
    way = panel.frame.step(out_mm, up_mm)
    stop = panel.next_stop(EdgeRole.SIDE, EdgeRole.ARMHOLE)
    return Redraw(panel.name, (*_shoulder(panel, way), Pull(landmark(panel, UNDERARM), *way), Pull(stop)))


def _side_longer(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Make a side seam longer at the underarm, whose armhole keeps its length: sides that lean differently agree."""
    stop = panel.next_stop(EdgeRole.SIDE, EdgeRole.ARMHOLE)
    side = even(panel, panel.edge(EdgeRole.SIDE, EdgeRole.ARMHOLE), stop, panel.corner(EdgeRole.SIDE, EdgeRole.ARMHOLE))
    hole, corner = panel.edge(EdgeRole.ARMHOLE, EdgeRole.SIDE), panel.corner(EdgeRole.ARMHOLE, EdgeRole.SIDE)
    grow_corner(bench, panel, fair(panel, hole, landmark(panel, ARMHOLE_NOTCH), corner), side, second_mm=by_mm)


def _shoulder(panel: Panel, tip: Point, neck: Point = (0.0, 0.0)) -> list[Pull]:
    return panel.tapered(EdgeRole.SHOULDER, EdgeRole.NECK, neck, tip)


def _out_for_same_shoulder(panel: Panel, up_mm: float) -> float:
    before_mm, out_mm = panel.sewn_mm(EdgeRole.SHOULDER), 0.0
    run, _ = panel.frame.seen(panel.point(landmark(panel, SHOULDER_POINT)), panel.point(landmark(panel, NECK_POINT)))
    for _ in range(_ROUNDS):
        pulls = _shoulder(panel, panel.frame.step(out_mm, up_mm))
        out_mm -= (_sewn_mm(panel, pulls) - before_mm) * before_mm / run
    return out_mm


def _sewn_mm(panel: Panel, pulls: list[Pull]) -> float:
    """Sewn length of a shoulder, straight between its ends and dart mouths, once it is pulled."""
    moved = sorted((pull.at.share, panel.point(pull.at), pull) for pull in pulls)
    ends = [(x + pull.dx_mm, y + pull.dy_mm) for _, (x, y), pull in moved]
    return sum(distance_mm(a, b) for a, b in zip(ends[::2], ends[1::2], strict=True))


def _slide_armholes(bench: Bench, up_mm: float) -> None:
    for panel in bench.needed(*BODICES):
        is_kept = bench.variant == "shoulder length kept"
        bench.do(armhole_slid(panel, up_mm, keep_shoulder=is_kept))
        if is_kept:
            _side_longer(
                bench, bench.now(panel), up_mm - bench.now(panel).sewn_mm(EdgeRole.SIDE) + panel.sewn_mm(EdgeRole.SIDE)
            )
        change_mm = bench.now(panel).sewn_mm(EdgeRole.SHOULDER) - panel.sewn_mm(EdgeRole.SHOULDER)
        if abs(change_mm) > ON_EDGE_MM:
            bench.say(
                Level.NOTE,
                "shoulder-length-changed",
                f'The shoulder of "{panel.name}" came out {abs(change_mm):.1f} mm '
                f"{'longer' if change_mm > 0 else 'shorter'}: mark its old length, or take the way that keeps it.",
                piece=panel.name,
                measured_mm=change_mm,
            )


def keep_shoulder(bench: Bench, panel: Panel, sewn_mm: float) -> None:
    """Bring a shoulder back to a length at its tip; the armhole keeps its own and stays as it is from its notch on."""
    edge, hole = panel.edge(EdgeRole.SHOULDER, EdgeRole.ARMHOLE), panel.edge(EdgeRole.ARMHOLE, EdgeRole.SHOULDER)
    shoulder = even(
        panel, edge, panel.corner(EdgeRole.SHOULDER, EdgeRole.NECK), panel.corner(EdgeRole.SHOULDER, EdgeRole.ARMHOLE)
    )
    armhole = fair(panel, hole, landmark(panel, ARMHOLE_NOTCH), panel.corner(EdgeRole.ARMHOLE, EdgeRole.SHOULDER))
    grow_corner(bench, panel, shoulder, armhole, first_mm=sewn_mm - panel.sewn_mm(EdgeRole.SHOULDER))


def _uneven(bench: Bench) -> None:
    for panel in bench.needed(*BODICES):
        if not hand_in(panel.name) and not any(hand_in(edge.id) for edge in panel.piece.edges):
            bench.do(CutSingle(panel.name))
    bench.hand = bench.variant
    for panel in bench.needed(*BODICES):
        bench.do(armhole_slid(panel, -bench.amount_mm))


def _narrow_all_down(bench: Bench) -> None:
    for panel in bench.needed(*BODICES):
        start = panel.clear(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK)
        low, high = panel.plumb(panel.below(start, 1.0))
        line = bench.place(panel, "fold on shoulder", high), bench.place(panel, "fold at waist", low)
        if bench.variant == "to nothing at the waist":
            bench.do(wedge(panel, *line, -bench.amount_mm, still=panel.centre))
        else:
            bench.do(spread(panel, *line, -bench.amount_mm, still=panel.centre))


_FORWARD_SHOULDERS = Entry(
    "C05",
    "Forward shoulders",
    Region.SHOULDERS,
    symptom="The shoulder seam lies behind the shoulder bone and the sleeve drags from the front of its cap.",
    does="The seam moves forward along the armhole: what the front armhole loses the back armhole gains, so both "
    "together stay as long as before. The notch at the top of the sleeve moves forward by as much.",
    inverse="Moves the seam back.",
    needs=("shoulder edge", "armhole", "shoulder notch of the sleeve"),
    touches=(*BODICES, PieceRole.SLEEVE),
    keeps=kept(BODICES, EdgeRole.SIDE, EdgeRole.WAIST) + kept((PieceRole.SLEEVE,), EdgeRole.CAP, EdgeRole.UNDERARM),
    matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
    check_after=("Look how the cap's ease is shared between front and back.",),
    source="common practice, from memory; the armhole's rule: Hertzer, Garment Cutting in the Twentieth Century",
    amount=Amount("how far the seam moves forward at the tip", None, 10.0, -30.0, 30.0, (_FAR_FORWARD,)),
    plan=lambda bench: move_forward(bench, bench.amount_mm),
    variants=_FORWARD,
)

ENTRIES = (
    Entry(
        "C01",
        "Broad shoulders",
        Region.SHOULDERS,
        symptom="The armhole seam sits up on the shoulder and binds; the sleeve rides up.",
        does="A cut from the middle of the shoulder to the armhole opens until the shoulder, drawn straight again, is "
        "as much longer as was asked. The armhole is only turned, so it keeps its length and the sleeve still fits.",
        inverse="Makes a shoulder narrower.",
        needs=("shoulder edge", "armhole"),
        touches=BODICES,
        keeps=kept(BODICES, EdgeRole.ARMHOLE, EdgeRole.NECK, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("The slope of the shoulder changed a little: look at it on the toile.",),
        source="Weiland, Shoulder Savvy; Washington State Extension E.M. 2246 (1962)",
        amount=Amount("what each shoulder gets longer: the wearer's less the pattern's", None, 8.0, -40.0, 40.0),
        plan=lambda bench: _width(bench, bench.amount_mm),
    ),
    Entry(
        "C02",
        "Narrow shoulders",
        Region.SHOULDERS,
        symptom="The armhole seam hangs off the shoulder and the neck is pulled from its sides.",
        does="The same cut as for broad shoulders is lapped until the shoulder, drawn straight again, is as much "
        "shorter as was asked. The armhole keeps its length.",
        inverse="Makes a shoulder broader.",
        needs=("shoulder edge", "armhole"),
        touches=BODICES,
        keeps=kept(BODICES, EdgeRole.ARMHOLE, EdgeRole.NECK, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("The slope of the shoulder changed a little: look at it on the toile.",),
        source="Weiland, Shoulder Savvy; Washington State Extension E.M. 2246 (1962)",
        amount=Amount("what each shoulder gets shorter: the pattern's less the wearer's", None, 8.0, -40.0, 40.0),
        plan=lambda bench: _width(bench, -bench.amount_mm),
    ),
    Entry(
        "C03",
        "Square shoulders",
        Region.SHOULDERS,
        symptom="Diagonal wrinkles run from the shoulder tip to the centre; the seam stands up at the neck.",
        does="The whole armhole slides up, shoulder tip and underarm alike, to nothing at the neck. So the armhole "
        "keeps its length and shape and the sleeve needs no change; the side seam gets longer at its top.",
        inverse="Lowers it for sloping shoulders.",
        needs=("shoulder edge", "armhole", "side edge"),
        touches=BODICES,
        keeps=kept(BODICES, EdgeRole.ARMHOLE, EdgeRole.NECK, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Compare both shoulder seams.", "See whether the cap still lies smooth."),
        source="Washington State Extension E.M. 2246 (1962); General guidelines for pattern adjustments",
        amount=Amount("how far shoulder tip and underarm go up", None, 8.0, -40.0, 40.0, (_PADS,)),
        plan=lambda bench: _slide_armholes(bench, bench.amount_mm),
        variants=_SLIDES,
    ),
    Entry(
        "C04",
        "Sloping shoulders",
        Region.SHOULDERS,
        symptom="Diagonal folds run from the neck towards the underarm; the sleeve draws when the arm is raised.",
        does="Shoulder tip and underarm go down by the same amount on front and back, to nothing at the neck. Lowering "
        "the underarm as well keeps the armhole as large as it was, so the sleeve still fits.",
        inverse="Raises it for square shoulders.",
        needs=("shoulder edge", "armhole", "side edge"),
        touches=BODICES,
        keeps=kept(BODICES, EdgeRole.ARMHOLE, EdgeRole.NECK, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Compare both shoulder seams.", "Try shoulder pads: they may do instead."),
        source="General guidelines for pattern adjustments (a sewing reference book)",
        amount=Amount("how far shoulder tip and underarm go down", None, 8.0, -40.0, 40.0, (_PADS,)),
        plan=lambda bench: _slide_armholes(bench, -bench.amount_mm),
        variants=_SLIDES,
    ),
    _FORWARD_SHOULDERS,
    replace(
        _FORWARD_SHOULDERS,
        code="C06",
        name="Backward shoulders",
        symptom="The shoulder seam lies in front of the shoulder bone.",
        does="The reverse of forward shoulders: the front armhole gains what the back armhole loses, and the notch at "
        "the top of the sleeve moves back by as much.",
        inverse="Moves the seam forward.",
        amount=Amount("how far the seam moves back at the tip", None, 10.0, -30.0, 30.0, (_FAR_FORWARD,)),
        plan=lambda bench: move_forward(bench, -bench.amount_mm),
    ),
    Entry(
        "C07",
        "Uneven shoulders",
        Region.SHOULDERS,
        symptom="Folds as from a sloping shoulder, on one side only.",
        does="Front and back are cut single, each half by itself, and the armhole of the lower shoulder slides down "
        "whole. From then on left and right are different pieces: label them and do not turn them over.",
        inverse="Raises the shoulder of that side.",
        needs=("shoulder edge", "armhole", "side edge"),
        touches=BODICES,
        keeps=kept(BODICES, EdgeRole.ARMHOLE, EdgeRole.NECK, EdgeRole.WAIST),
        check_after=("Cut one of each piece, right side of the cloth up.", "Try one thicker shoulder pad instead."),
        source="common practice, from memory",
        amount=Amount("how far the shoulder of that side goes down", None, 8.0, -40.0, 40.0, (_PADS,)),
        plan=_uneven,
        variants=(Variant("left", "the wearer's left shoulder"), Variant("right", "the wearer's right shoulder")),
    ),
    Entry(
        "C08",
        "Narrow chest and shoulders",
        Region.SHOULDERS,
        symptom="The shoulders hang over and vertical folds lie beside the armholes, in front and behind.",
        does="A fold runs from the middle of the shoulder straight down, alike at all levels, or to nothing at the "
        "waist. Neck and armhole are not touched.",
        inverse="Spreads the whole width from the shoulder down.",
        needs=("shoulder edge", "waist edge"),
        touches=BODICES,
        keeps=kept(BODICES, EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.SIDE),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE),
        check_after=("Compare the waist with the skirt's.", "Measure the bust: it lost as much on every piece."),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount("what each half of front and back loses", _HALF_PIECE, 6.0, -30.0, 30.0),
        plan=_narrow_all_down,
        variants=(
            Variant("even", "the same at all levels"),
            Variant("to nothing at the waist", "tapered from the shoulder to the waist"),
        ),
    ),
)
