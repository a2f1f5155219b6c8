"""Width of the back, and its length at the waist (E04 to E08)."""

from __future__ import annotations

import math

from geometry.affine import Point, distance_mm
from geometry.alterations.anchors import Anchor
from geometry.alterations.dart_steps import MakeDart
from geometry.alterations.handbook.armhole import underarm_fade, underarm_pulls
from geometry.alterations.handbook.back import BACK, lengthen_over_back
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import spread, wedge
from geometry.alterations.handbook.entry import EDGE_ADDITION, HALF_BACK, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.landmarks import (
    ARMHOLE_NOTCH,
    BICEPS_BACK,
    CENTRE_NECK,
    SHOULDER_BLADE,
    SHOULDER_POINT,
    UNDERARM,
    WAIST_AT_CENTRE,
    WAIST_AT_SIDE,
    landmark,
)
from geometry.alterations.handbook.lengths import lengthen_line
from geometry.alterations.handbook.matching import do_until_long
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.redraw import Pull, Redraw
from geometry.alterations.step import Step
from geometry.findings import Level
from geometry.model.edge import EdgeRole

LOW_ON_ARMHOLE = 0.3
"""Where the back is cut below the armholes, from the underarm up the armhole; own choice."""

EASED_AWAY_MM = 6.35
"""Up to 1/4 in of lean can be worked in by hand; beyond it a fold stands off: common practice, from memory."""


HIPS_FIRST = Caution(
    3.0, "Hips that are too narrow push up the same folds: let out below the waist first and look again."
)
"""After a sewing teacher's page on the sway back; told at any amount that is worth making."""

_PINNED = Caution(25.4, "Usually 1/4 to 1 in: with more, look at hips and hem once again before you cut.")


def _broad(bench: Bench, by_mm: float) -> None:
    grown_mm = 0.0
    for panel in bench.needed(*BACK):
        known = panel.dart_on(EdgeRole.SHOULDER)
        through_dart = bench.variant == "shoulder dart" and known is not None
        top = panel.mouth(known) if through_dart and known else panel.clear(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK)
        low, _ = panel.plumb(panel.below(top, 1.0))
        line = bench.place(panel, "cut on shoulder", top), bench.place(panel, "cut at waist", low)
        build = wedge if bench.variant == "to nothing at the waist" else spread
        bench.do(build(panel, *line, by_mm, still=panel.centre))
        grown_mm = bench.now(panel).sewn_mm(EdgeRole.SHOULDER) - panel.sewn_mm(EdgeRole.SHOULDER)
        if bench.variant == "shoulder dart" and known is None:
            tip = landmark(panel, SHOULDER_BLADE)
            bench.do(MakeDart(panel.name, top, tip, grown_mm, dart="shoulder dart", aims=True))
        if bench.variant != "shoulder dart":
            _shift_shoulder_tip(bench, bench.now(panel), -grown_mm / 2)
    if bench.variant != "shoulder dart":
        for panel in bench.panels(PieceRole.FRONT_BODICE):
            _shift_shoulder_tip(bench, panel, grown_mm / 2)


def _shift_shoulder_tip(bench: Bench, panel: Panel, out_mm: float) -> None:
    """The shoulder tip moved along the shoulder, to nothing at the armhole notch."""
    stop = panel.next_stop(EdgeRole.SHOULDER, EdgeRole.ARMHOLE)
    tip = panel.towards(landmark(panel, SHOULDER_POINT), stop, -out_mm)
    bench.do(Redraw(panel.name, (tip, Pull(stop), Pull(landmark(panel, ARMHOLE_NOTCH)))))


def _sway_back(bench: Bench) -> None:
    if bench.variant == "waist seam of the skirt":
        for panel in bench.needed(PieceRole.BACK_SKIRT):
            _waist_at_centre(bench, panel)
        return
    for panel in bench.needed(*BACK):
        if bench.variant == "waist seam of the bodice":
            _waist_at_centre(bench, panel)
        else:
            fold_at_waist(bench, panel, bench.amount_mm)


def _waist_at_centre(bench: Bench, panel: Panel) -> None:
    """The waist seam moved into the piece at the centre back, to nothing at the side."""
    place = landmark(panel, WAIST_AT_CENTRE)
    far = panel.next_stop(EdgeRole.CENTRE_BACK, EdgeRole.WAIST)
    pull = panel.towards(place, far, bench.amount_mm)
    waist = panel.tapered(EdgeRole.WAIST, EdgeRole.CENTRE_BACK, (pull.dx_mm, pull.dy_mm))
    bench.do(Redraw(panel.name, (*waist, Pull(far))))


def fold_at_waist(bench: Bench, panel: Panel, by_mm: float) -> None:
    """A wedge folded out above the waist at the centre back, to nothing at the side seam.

    The shorter part moves. On a fold the centre line leans by its height times the sine of the angle; that is told.
    """
    centre, side = lengthen_line(panel) if panel.has(EdgeRole.WAIST) else _marked_waist(panel)
    opening, hinge = bench.place(panel, "fold at centre back", centre), bench.place(panel, "hinge at side", side)
    below_moves = panel.has(EdgeRole.WAIST)
    still = landmark(panel, UNDERARM) if below_moves else panel.corner(EdgeRole.SIDE, EdgeRole.HEM)
    end = landmark(panel, WAIST_AT_CENTRE if below_moves else CENTRE_NECK)
    lean_mm = overhang_mm(panel, opening, hinge, end, by_mm)
    is_on_fold = panel.piece.fold == panel.edge(EdgeRole.CENTRE_BACK).id
    bench.do(wedge(panel, opening, hinge, -by_mm, still=still))
    if is_on_fold and lean_mm > EASED_AWAY_MM:
        text = (
            f'The centre back of "{panel.name}" is on the fold and would lean by {lean_mm:.0f} mm at its end: '
            "give it a seam, or take the amount off at a waist seam instead."
        )
        bench.say(Level.WARN, "wedge-overhangs", text, piece=panel.name, measured_mm=lean_mm)


def overhang_mm(panel: Panel, opening: Anchor, hinge: Anchor, end: Anchor, by_mm: float) -> float:
    """How far a centre line leans at its end beyond a wedge: its height there times the sine of the wedge's angle."""
    at, pivot = panel.point(opening), panel.point(hinge)
    angle = 2 * math.asin(min(abs(by_mm) / (2 * distance_mm(at, pivot)), 1.0))
    return distance_mm(at, panel.point(end)) * math.sin(angle)


def _marked_waist(panel: Panel) -> tuple[Anchor, Anchor]:
    x, y = panel.point(landmark(panel, WAIST_AT_SIDE))
    dx, dy = panel.frame.step(-1.0, 0.0)
    return panel.level((x + dx, y + dy))


def _over_erect(bench: Bench) -> None:
    for panel in bench.needed(*BACK):
        if bench.variant == "across the blades":
            centre, armhole = panel.level(panel.point(landmark(panel, SHOULDER_BLADE)))
            line = bench.place(panel, "fold at centre back", centre), bench.place(panel, "hinge on armhole", armhole)
            lengthen_over_back(bench, panel, (line,), -bench.amount_mm, "eased")
        elif bench.variant == "shoulder at the neck":
            shoulder = panel.tapered(EdgeRole.SHOULDER, EdgeRole.NECK, panel.frame.step(0.0, -bench.amount_mm))
            bench.do(Redraw(panel.name, (*shoulder, Pull(landmark(panel, CENTRE_NECK)))))
        else:
            fold_at_waist(bench, panel, bench.amount_mm)


def _large_below_armholes(bench: Bench) -> None:
    grown_mm = 0.0
    for panel in bench.needed(*BACK):
        _let_out_below_armhole(bench, panel)
        grown_mm += bench.now(panel).sewn_mm(EdgeRole.ARMHOLE) - panel.sewn_mm(EdgeRole.ARMHOLE)
    for sleeve in bench.panels(PieceRole.SLEEVE):
        corner = landmark(sleeve, BICEPS_BACK)

        def wider(out_mm: float, sleeve: Panel = sleeve, corner: Anchor = corner) -> Step:
            return Redraw(sleeve.name, underarm_pulls(sleeve, corner, out_mm=out_mm))

        do_until_long(bench, sleeve, EdgeRole.CAP, grown_mm, wider)


def _let_out_below_armhole(bench: Bench, panel: Panel) -> None:
    if bench.variant == "at the side seam":
        foot = Pull(panel.corner(EdgeRole.SIDE, EdgeRole.WAIST))
        bench.do(Redraw(panel.name, (*underarm_fade(panel, _out_of_side(panel, bench.amount_mm)), foot)))
        return
    start = bench.place(panel, "cut on armhole", panel.along(EdgeRole.ARMHOLE, LOW_ON_ARMHOLE, EdgeRole.SIDE))
    hinge = bench.place(panel, "hinge at waist", panel.plumb(panel.below(start, 1.0))[0])
    bench.do(wedge(panel, start, hinge, bench.amount_mm, still=panel.centre))


def _out_of_side(panel: Panel, by_mm: float) -> Point:
    """So far out square to the side seam at the underarm, so that the seam keeps its length."""
    dx, dy = panel.inward(EdgeRole.SIDE, panel.corner(EdgeRole.SIDE, EdgeRole.ARMHOLE).share)
    return -dx * by_mm, -dy * by_mm


_BLEND = Caution(25.4, "More than 1 in on each half: see whether a larger size fits the back and the front is altered.")
_WIDTHS = (
    Variant("shared with the front", "half of what the shoulder gains is taken off behind, half added in front"),
    Variant("shoulder dart", "what the shoulder gains goes into the shoulder dart"),
    Variant("to nothing at the waist", "tapered to the waist; the shoulder shared with the front"),
)
_WIDTH_KEEPS = kept(BACK, EdgeRole.NECK, EdgeRole.SIDE)
_BOTH = (PieceRole.BACK_BODICE, PieceRole.FRONT_BODICE)

ENTRIES = (
    Entry(
        "E04",
        "Broad back",
        Region.BACK,
        symptom="The back is tight and the armhole seams tear behind.",
        does="The back is cut from the shoulder straight down and spread. Its shoulder is then longer than the "
        "front's: half of that is taken off at the back armhole and half added at the front armhole, or a dart takes "
        "it up.",
        inverse="Laps the same cut for a narrow back.",
        needs=("shoulder edge", "waist edge", "armhole"),
        touches=_BOTH,
        keeps=_WIDTH_KEEPS,
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER),
        check_after=("Walk the sleeve round both armholes.", "Compare the waist with the skirt's."),
        source="The New Dressmaker (1921), chapter 4; Threads, taunton.com/threads t00103",
        amount=Amount("what each half back gains", HALF_BACK, 8.0, -40.0, 50.0, (_BLEND,)),
        plan=lambda bench: _broad(bench, bench.amount_mm),
        variants=_WIDTHS,
    ),
    Entry(
        "E05",
        "Narrow back",
        Region.BACK,
        symptom="Vertical folds lie behind the armholes.",
        does="The cut from the shoulder straight down is lapped. Its shoulder is then shorter than the front's: half "
        "of that is given back at the back armhole and half taken off at the front armhole, or the dart gives it.",
        inverse="Spreads the same cut for a broad back.",
        needs=("shoulder edge", "waist edge", "armhole"),
        touches=_BOTH,
        keeps=_WIDTH_KEEPS,
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER),
        check_after=("Walk the sleeve round both armholes.", "Compare the waist with the skirt's."),
        source="The New Dressmaker (1921), chapter 4, reversed",
        amount=Amount("what each half back loses", HALF_BACK, 6.0, -50.0, 40.0, (_BLEND,)),
        plan=lambda bench: _broad(bench, -bench.amount_mm),
        variants=_WIDTHS,
    ),
    Entry(
        "E06",
        "Sway back",
        Region.BACK,
        symptom="Level folds lie at the back waist just above the seat; the hem dips at the centre back.",
        does="A wedge above the waist is folded out at the centre back to nothing at the side seam, which keeps its "
        "length. A centre back on the fold would lean by its height times the sine of the wedge's angle, so with a "
        "waist seam the length is better taken off there.",
        inverse="Adds length at the centre back.",
        needs=("centre back", "side edge", "waist edge, or the waist marked at the side"),
        touches=(PieceRole.BACK_BODICE, PieceRole.BACK_SKIRT),
        begins_on=(PieceRole.BACK_BODICE,),
        keeps=kept(BACK, EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.SIDE),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE),
        check_after=(
            "Folds above the seat also come from hips that are too narrow: widen those first and look again.",
            "Compare the waist seam with the skirt's.",
        ),
        source="USDA, Fitting Dresses (1946), for the waist seam; lean: own arithmetic; hips: Sewing Artistry (2012)",
        amount=Amount("what was pinned at the centre back", None, 10.0, -40.0, 60.0, (HIPS_FIRST, _PINNED)),
        plan=_sway_back,
        variants=(
            Variant("wedge", "a wedge to the side seam"),
            Variant("waist seam of the bodice", "the bodice shorter at the centre back of its waist seam"),
            Variant("waist seam of the skirt", "the skirt lower at the centre back of its waist seam"),
        ),
    ),
    Entry(
        "E07",
        "Over-erect back",
        Region.BACK,
        symptom="The back sags below the blades and folds lie across the upper back.",
        does="An erect back is shorter. The length is folded out at the hollow of the waist, from the centre back to "
        "nothing at the side, or across the blades to the armhole, or taken off the shoulder at its neck end.",
        inverse="Adds length for a stooping back.",
        needs=("centre back", "side edge", "waist edge, or the waist marked at the side"),
        touches=BACK,
        keeps=kept(BACK, EdgeRole.SIDE),
        matches=(EdgeRole.SIDE, EdgeRole.ARMHOLE),
        check_after=("See that the hem is level.", "Walk collar and facing along the neck."),
        source="Hertzer, Garment Cutting in the Twentieth Century, pp. 90-91; USDA, Fitting Dresses (1946)",
        amount=Amount("what the centre back gets shorter", None, 12.7, -40.0, 40.0, (_PINNED,)),
        plan=_over_erect,
        variants=(
            Variant("at the waist", "folded out above the waist"),
            Variant("across the blades", "folded out at the shoulder blades"),
            Variant("shoulder at the neck", "taken off the shoulder at the neck, to nothing at the armhole"),
        ),
    ),
    Entry(
        "E08",
        "Back large below the armholes",
        Region.BACK,
        symptom="The back strains below the armholes while shoulders and waist are right.",
        does="The back is cut from the lower armhole to nothing at the waist and opened, or let out at the top of the "
        "side seam. The sleeve gets as much at its back underarm, so that it still meets the armhole.",
        inverse="Takes the same out below the armholes.",
        needs=("armhole", "side edge", "waist edge"),
        touches=(PieceRole.BACK_BODICE, PieceRole.SLEEVE),
        keeps=kept(BACK, EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.WAIST),
        check_after=("Walk the sleeve round the armhole.", "Look at the armhole curve under the arm."),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount("what each half back gains below the armhole", HALF_BACK, 8.0, -30.0, 40.0, (EDGE_ADDITION,)),
        plan=_large_below_armholes,
        variants=(
            Variant("slash", "a cut from the lower armhole to the waist"),
            Variant("at the side seam", "let out at the underarm, to nothing at the waist"),
        ),
    ),
)
