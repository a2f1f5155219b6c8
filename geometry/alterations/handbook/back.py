"""The back (E01 to E03): length over a rounded back, taken up where the edge has become longer."""

from __future__ import annotations

from geometry.affine import distance_mm
from geometry.alterations.anchors import Anchor
from geometry.alterations.dart_steps import MakeDart
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import cut, cut_inside
from geometry.alterations.handbook.dart_moves import neck_dart
from geometry.alterations.handbook.entry import WHOLE, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.landmarks import (
    CENTRE_NECK,
    SHOULDER_BLADE,
    SHOULDER_POINT,
    UNDERARM,
    landmark,
)
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.redraw import Pull, Redraw
from geometry.alterations.slash import Hinge, Slash, SlashCut
from geometry.findings import Level
from geometry.model.edge import EdgeRole
from geometry.tolerance import ON_EDGE_MM

Line = tuple[Anchor, Anchor]

BACK = (PieceRole.BACK_BODICE,)

HUMP_BELOW_NECK_MM = 76.0
"""A high round back is cut about 2 to 4 in below the neck: 3 in (USDA report 32 lists it; from memory)."""

SECOND_CUT_SHARE = 1 / 3
"""For a marked stoop a second cut is made about a third down from the neck (an early dressmaking text, part 8)."""

_LEVEL_SHARE = 1 / 3
"""The back neck runs about level from the centre for a third of its length; there it is lengthened, own choice."""


def lengthen_over_back(bench: Bench, panel: Panel, cuts: tuple[Line, ...], whole_mm: float, take_up: str) -> None:
    """Open level cuts from the centre back to the armhole, draw the centre straight, take up what the neck gained."""
    frame, foot = panel.frame, panel.point(panel.corner(EdgeRole.CENTRE_BACK, _foot_role(panel)))
    by_mm = whole_mm / len(cuts)
    still = landmark(panel, UNDERARM)
    bench.do(Slash(panel.name, tuple(cut(panel, line, by_mm, Hinge.END, still=still) for line in cuts)))
    neck_mm = panel.sewn_mm(EdgeRole.NECK)
    panel = bench.now(panel)
    out_mm, _ = frame.seen(panel.point(landmark(panel, CENTRE_NECK)), foot)
    if abs(out_mm) > ON_EDGE_MM:
        dx, dy = frame.step(-out_mm, 0.0)
        level = panel.along(EdgeRole.NECK, _LEVEL_SHARE, EdgeRole.CENTRE_BACK)
        holds = level, panel.corner(EdgeRole.CENTRE_BACK, _foot_role(panel))
        bench.do(Redraw(panel.name, (Pull(landmark(panel, CENTRE_NECK), dx, dy), *map(Pull, holds))))
    _take_up(bench, bench.now(panel), bench.now(panel).sewn_mm(EdgeRole.NECK) - neck_mm, take_up)


def _foot_role(panel: Panel) -> EdgeRole:
    return EdgeRole.WAIST if panel.has(EdgeRole.WAIST) else EdgeRole.HEM


def _take_up(bench: Bench, panel: Panel, grown_mm: float, take_up: str) -> None:
    bench.say(
        Level.NOTE,
        "neck-seam-changed",
        f'With its centre back straight again the neck of "{panel.name}" is {abs(grown_mm):.1f} mm '
        f"{'longer' if grown_mm > 0 else 'shorter'}{_where(grown_mm, take_up)}.",
        piece=panel.name,
        measured_mm=grown_mm,
    )
    if grown_mm <= 0 or take_up == "eased":
        return
    at = bench.place(panel, "dart on neck", panel.along(EdgeRole.NECK, 0.5, EdgeRole.SHOULDER))
    dart = neck_dart(bench, panel, at, landmark(panel, SHOULDER_BLADE), grown_mm)
    if take_up == "shoulder dart":
        panel = bench.now(panel)
        shoulder = panel.dart_on(EdgeRole.SHOULDER)
        place = panel.mouth(shoulder) if shoulder else panel.along(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK)
        bench.do(DartTransfer(panel.name, dart, (place,), new_dart="" if shoulder else "shoulder dart"))


def _where(grown_mm: float, take_up: str) -> str:
    if grown_mm <= 0:
        return ", as collar and facing must be"
    return "; ease it to the collar" if take_up == "eased" else f", which goes into the {take_up}"


def _hump(bench: Bench) -> None:
    for panel in bench.needed(*BACK):
        centre = panel.along_mm(EdgeRole.CENTRE_BACK, HUMP_BELOW_NECK_MM, EdgeRole.NECK)
        lengthen_over_back(bench, panel, (_level_cut(bench, panel, centre),), bench.amount_mm, bench.variant)


def _level_cut(bench: Bench, panel: Panel, centre: Anchor, name: str = "cut") -> Line:
    """From a place on the centre back level to the armhole."""
    x, y = panel.point(centre)
    dx, dy = panel.frame.step(1.0, 0.0)
    hinge = bench.place(panel, f"{name}, hinge on armhole", panel.level((x + dx, y + dy))[1])
    return bench.place(panel, f"{name} at centre back", centre), hinge


def _round_back(bench: Bench) -> None:
    for panel in bench.needed(*BACK):
        blade = panel.point(landmark(panel, SHOULDER_BLADE))
        cuts = [_level_cut(bench, panel, panel.level(blade)[0])]
        if bench.variant == "two cuts":
            nape = panel.point(landmark(panel, CENTRE_NECK))
            _, down = panel.frame.seen(blade, nape)
            upper = panel.along_mm(EdgeRole.CENTRE_BACK, -down * 2 * SECOND_CUT_SHARE, EdgeRole.NECK)
            cuts.append(_level_cut(bench, panel, upper, "upper cut"))
        take_up = "neck dart" if bench.variant == "neck dart" else "shoulder dart"
        lengthen_over_back(bench, panel, tuple(cuts), bench.amount_mm, take_up)


def _shoulder_blades(bench: Bench) -> None:
    for panel in bench.needed(*BACK):
        blade = bench.place(panel, SHOULDER_BLADE, landmark(panel, SHOULDER_BLADE))
        centre, armhole = panel.level(panel.point(blade))
        hinge = bench.place(panel, "hinge on armhole", armhole)
        known = panel.dart_on(EdgeRole.SHOULDER)
        mouth = panel.mouth(known) if known else panel.along(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK)
        top = bench.place(panel, "dart on shoulder", mouth)
        at_blade, at_top, at_hinge = (panel.point(anchor) for anchor in (blade, top, hinge))
        by_mm = bench.amount_mm * distance_mm(at_blade, at_hinge) / distance_mm(at_blade, at_top)
        bench.do(_three_cuts(panel, (centre, blade), (hinge, blade), (top, blade), by_mm))
        if known is None:
            bench.do(MakeDart(panel.name, top, blade, bench.amount_mm, dart="shoulder dart", aims=True))


def _three_cuts(panel: Panel, centre: Line, armhole: Line, shoulder: Line, by_mm: float) -> Slash:
    """The part by the neck goes straight up, that by the shoulder turns about the armhole; a dart opens between."""
    return Slash(
        panel.name,
        (
            cut_inside(panel, centre, by_mm, Hinge.NONE, moves=landmark(panel, CENTRE_NECK)),
            cut_inside(panel, armhole, by_mm, Hinge.START, moves=landmark(panel, SHOULDER_POINT)),
            SlashCut(shoulder, None),
        ),
    )


_STOOP = Caution(38.1, "So much is a marked stoop: make two cuts, and try it on the toile before you cut cloth.")
_LENGTH = "what the centre back gets longer"
_TAKE_UPS = (
    Variant("neck dart", "what the neck gains goes into a neck dart"),
    Variant("shoulder dart", "what the neck gains is turned into the shoulder dart"),
)
_CHECKS = ("Walk collar and facing along the neck.", "See that the hem is level at the centre back.")

ENTRIES = (
    Entry(
        "E01",
        "High round back",
        Region.BACK,
        symptom="The back neck stands away, drags run from the hump to the armhole, the hem rises at the centre back.",
        does="A level cut below the neck opens at the centre back and stays joined at the armhole. The centre back, "
        "drawn straight again, makes the neck longer; that length goes into a dart over the hump or is eased to the "
        "collar.",
        inverse="Folds length out of an upright upper back.",
        needs=("centre back", "neck edge", "armhole", "shoulder blade"),
        touches=BACK,
        keeps=kept(BACK, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=_CHECKS,
        source="USDA Home Economics Research Report 32 lists it; wedge: own arithmetic",
        amount=Amount(_LENGTH, WHOLE, 12.7, -40.0, 60.0, (_STOOP,)),
        plan=_hump,
        variants=(*_TAKE_UPS, Variant("eased", "what the neck gains is eased to the collar")),
    ),
    Entry(
        "E02",
        "Round shoulders, round back",
        Region.BACK,
        symptom="Wrinkles run up from the underarm to the side back; the garment stands off below and is pulled up.",
        does="A cut across the shoulder blades opens at the centre back to nothing at the armhole; for a marked stoop "
        "a second one is made above it. The centre back is drawn straight again, and what the neck gains goes into a "
        "dart.",
        inverse="Folds length out for a back that is more upright than the pattern.",
        needs=("centre back", "armhole", "shoulder blade"),
        touches=BACK,
        keeps=kept(BACK, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=_CHECKS,
        source="An early dressmaking text, part 8 (fashion-design-drawing.com); Woman's Institute, p. 27",
        amount=Amount(_LENGTH, WHOLE, 12.7, -40.0, 60.0, (_STOOP,)),
        plan=_round_back,
        variants=(
            _TAKE_UPS[1],
            _TAKE_UPS[0],
            Variant("two cuts", "half at the blades, half a third down from the neck; into the shoulder dart"),
        ),
    ),
    Entry(
        "E03",
        "Prominent shoulder blades",
        Region.BACK,
        symptom="The cloth strains over the blades and stands off below them.",
        does="Three cuts meet at the blade. The part by the neck goes straight up, the part by the shoulder turns "
        "about the armhole, and between them the shoulder dart opens. Length and shaping come in where the blade is.",
        inverse="Makes the shoulder dart smaller for a flat back.",
        needs=("shoulder blade", "centre back", "armhole", "shoulder edge"),
        touches=BACK,
        keeps=kept(BACK, EdgeRole.NECK, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Compare the shoulder, dart folded, with the front: ease at most 1/4 in.",),
        source="Montana Extension Bulletin 265 (1950) lists it; details: common practice, from memory",
        amount=Amount(
            "what the shoulder dart gets wider",
            None,
            6.35,
            -30.0,
            40.0,
            (Caution(19.05, "A shoulder dart is usually 1/2 to 3/4 in wide: share more with a neck dart."),),
        ),
        plan=_shoulder_blades,
    ),
)
