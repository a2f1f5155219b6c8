"""The chest above the bust (B08, B09)."""

from __future__ import annotations

from geometry.affine import Point
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import wedge
from geometry.alterations.handbook.dart_moves import close_into_dart
from geometry.alterations.handbook.entry import HALF_FRONT, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.landmarks import BUST_POINT, UNDERARM, landmark
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.shoulders import widen_shoulder
from geometry.model.edge import EdgeRole

_FRONT = (PieceRole.FRONT_BODICE,)
_BACK = (PieceRole.BACK_BODICE,)


def chest_level(panel: Panel) -> Point:
    """A place inside at the level of the armhole's middle, where the chest is measured."""
    frame, hole = panel.frame, panel.point(panel.middle(EdgeRole.ARMHOLE))
    out, _ = frame.seen(hole, panel.point(panel.centre))
    dx, dy = frame.step(-out / 2, 0.0)
    return hole[0] + dx, hole[1] + dy


def _hollow_chest(bench: Bench) -> None:
    for panel in bench.needed(*_FRONT):
        centre, armhole = panel.level(chest_level(panel))
        opening = bench.place(panel, "fold at centre front", centre)
        hinge = bench.place(panel, "hinge on armhole", armhole)
        bench.do(wedge(panel, opening, hinge, -bench.amount_mm, still=landmark(panel, UNDERARM)))


def _narrow_chest(bench: Bench) -> None:
    grown_mm = 0.0
    for panel in bench.needed(*_FRONT):
        _fold_below_shoulder(bench, panel)
        grown_mm = bench.now(panel).sewn_mm(EdgeRole.SHOULDER) - panel.sewn_mm(EdgeRole.SHOULDER)
    for panel in bench.panels(*_BACK):
        if panel.has(EdgeRole.SHOULDER) and panel.has(EdgeRole.ARMHOLE):
            widen_shoulder(bench, panel, grown_mm)


def _fold_below_shoulder(bench: Bench, panel: Panel) -> None:
    start = bench.place(panel, "fold on shoulder", panel.clear(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK))
    if bench.variant == "to the bust dart":
        apex = landmark(panel, BUST_POINT)
        by_mm = bench.amount_mm * _widening(panel, panel.point(start), panel.point(apex))
        close_into_dart(bench, panel, start, by_mm, apex)
        return
    low, _ = panel.plumb(panel.below(start, 1.0))
    hinge = bench.place(panel, "hinge at waist", low)
    by_mm = bench.amount_mm * _widening(panel, panel.point(start), panel.point(hinge))
    bench.do(wedge(panel, start, hinge, -by_mm, still=panel.centre))


def _widening(panel: Panel, top: Point, hinge: Point) -> float:
    """How much wider a wedge is at its top than at the level of the chest."""
    whole = panel.frame.seen(top, hinge)[1]
    return whole / panel.frame.seen(chest_level(panel), hinge)[1]


ENTRIES = (
    Entry(
        "B08",
        "Hollow chest",
        Region.NECK,
        symptom="Loose level folds lie above the bust.",
        does="A wedge above the bust is folded out at the centre front to nothing at the armhole, which keeps its "
        "length. The centre front is drawn straight again; that takes a little from the neck.",
        inverse="Opens the same wedge for a full or pigeon chest.",
        needs=("centre front", "armhole"),
        touches=_FRONT,
        keeps=kept(_FRONT, EdgeRole.SHOULDER, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Walk collar or facing along the neck.", "Keep neck and centre front square to each other."),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount(
            "what is folded out at the centre front",
            None,
            8.0,
            -30.0,
            30.0,
            (Caution(12.7, "Usually 1/4 to 1/2 in is enough here: pin it on the toile before you take more."),),
        ),
        plan=_hollow_chest,
    ),
    Entry(
        "B09",
        "Narrow chest",
        Region.NECK,
        symptom="Vertical folds lie in front of the armhole.",
        does="A fold from the shoulder, to nothing at the waist or at the bust point, takes half of the surplus out of "
        "each half front. The amount is what goes at the level of the armhole's middle; the shoulder loses more, and "
        "the back shoulder is narrowed by as much, by a cut to the armhole, which keeps its length.",
        inverse="Spreads a chest that is too narrow in the pattern.",
        needs=("shoulder edge", "armhole", "bust point for the bust dart"),
        touches=(*_FRONT, *_BACK),
        keeps=kept((*_FRONT, *_BACK), EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.WAIST) + kept(_BACK, EdgeRole.SIDE),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Measure both shoulders again: they changed alike.", "Look at the armhole curve."),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount(
            "what each half front loses at the chest",
            HALF_FRONT,
            6.0,
            -25.0,
            30.0,
            (Caution(12.7, "More than 1/2 in on each half: see whether a smaller size fits the upper chest."),),
        ),
        plan=_narrow_chest,
        variants=(
            Variant("to the waist", "a fold from the shoulder to nothing at the waist"),
            Variant("to the bust dart", "a fold from the shoulder to the bust point that opens in the bust dart"),
        ),
    ),
)
