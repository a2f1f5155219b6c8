"""Hip and skirt (H01 to H09)."""

from __future__ import annotations

from geometry.alterations.anchors import Anchor, On
from geometry.alterations.dart_steps import LengthenDart
from geometry.alterations.handbook.back_width import HIPS_FIRST
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import spread, wedge
from geometry.alterations.handbook.entry import (
    EDGE_ADDITION,
    QUARTER,
    Amount,
    Caution,
    Entry,
    Region,
    Share,
    Variant,
    kept,
)
from geometry.alterations.handbook.fairing import even, fair, joined, redraw, whole
from geometry.alterations.handbook.gores import at_side, gores_beside
from geometry.alterations.handbook.landmarks import HIP_AT_CENTRE, HIP_AT_SIDE, KNEE, landmark
from geometry.alterations.handbook.levels import level_below, level_through
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.skirts import (
    BACK_GORES,
    GORES,
    SKIRTS,
    among_panels,
    among_side_edges,
    as_long_as,
    end_at,
    from_hip,
    hem_corner,
    hip_on,
    let_out,
    skirt_panels,
)
from geometry.alterations.handbook.waistline import (
    beside_dart,
    grow_waist_at_side,
    keep_side,
    keep_waist,
    lower_end_of_plumb,
    raise_centre,
    raise_side,
    say_wide_dart,
    straighten_centre,
    waist_ends,
)
from geometry.alterations.single_pieces import CutSingle
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.garment import hand_in
from geometry.units import MM_PER_INCH

_BACK_SKIRT = (PieceRole.BACK_SKIRT,)
_FLARE = (*SKIRTS, *GORES)
_THIGHS = (PieceRole.FRONT_SKIRT, PieceRole.FRONT_TROUSERS)

HIGH_HIP_BELOW_WAIST_MM = 3.5 * MM_PER_INCH
"""A high hip is fullest 3 to 4 in below the waist; the middle is taken."""

DART_STOPS_ABOVE_MM = 7 / 8 * MM_PER_INCH
"""Skirt darts stop 3/4 to 1 in above the fullest level, from memory; the middle is taken."""

THIGH_BELOW_HIP_MM = 2.5 * MM_PER_INCH
"""A full front thigh begins 2 to 3 in below the hip, from memory; it is full half-way from there to knee or hem."""

_NARROWEST_MM = 3.0
"""A dart that would be left narrower than this cannot take up a fold: the cut is laid beside it; own choice."""

_SLASH_INSIDE = Caution(
    12.7, "More than 1/2 in on each edge, 2 in in all, is better put inside the pieces: slash from waist to hem."
)
_EACH_FRONT = Share(1 / 2, "half of the difference on each front")
_ONE_SIDE = Share(1 / 2, "half of the difference of that side on each of its two edges")


def _even(bench: Bench) -> None:
    panels = skirt_panels(bench)
    is_every = bench.variant == "every seam"
    for panel in panels if is_every else at_side(bench, bench.needed(*SKIRTS)):
        edges = panel.edges(EdgeRole.SIDE) if is_every else (panel.edge(EdgeRole.SIDE, EdgeRole.WAIST),)
        runs = [from_hip(panel, edge, hem_kept=bench.variant == "hem kept") for edge in edges]
        bench.do(redraw(panel, *let_out(panel, bench.amount_mm, *runs)))


def _slashed(bench: Bench) -> None:
    for panel in bench.needed(*SKIRTS):
        if gores_beside(bench, panel):
            raise StepError(
                f'"{panel.name}" has gores beside it: a gored skirt is widened at its seams; take "Hip wider or '
                'narrower" by every seam.'
            )
        spread_inside(bench, panel, bench.amount_mm)


def spread_inside(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Spread a piece from waist to hem along the grain. Its waist keeps its length: a dart there takes in the width."""
    dart = panel.dart_on(EdgeRole.WAIST)
    if dart is not None and panel.piece.intake_mm(panel.piece.dart(dart)) + by_mm > _NARROWEST_MM:
        mouth = panel.mouth(dart)
        low = bench.place(panel, "slash at hem", lower_end_of_plumb(panel, mouth))
        bench.do(spread(panel, low, mouth, by_mm, still=panel.centre, via=(Anchor(On.TIP, dart),)))
        say_wide_dart(bench, panel, dart)
        return
    sewn_mm = panel.sewn_mm(EdgeRole.WAIST)
    high = bench.place(panel, "slash at waist", beside_dart(panel))
    low = bench.place(panel, "slash at hem", lower_end_of_plumb(panel, high))
    bench.do(spread(panel, low, high, by_mm, still=panel.centre))
    now = bench.now(panel)
    grow_waist_at_side(bench, now, sewn_mm - now.sewn_mm(EdgeRole.WAIST), landmark(now, HIP_AT_SIDE))


def _high_hip(bench: Bench) -> None:
    for panel in at_side(bench, bench.needed(*SKIRTS)):
        edge, waist = panel.edge(EdgeRole.SIDE, EdgeRole.WAIST), waist_ends(panel)[1]
        _, depth_mm = panel.frame.seen(panel.point(waist), panel.point(landmark(panel, HIP_AT_SIDE)))
        _, fullest = level_below(panel, landmark(panel, HIP_AT_SIDE), HIGH_HIP_BELOW_WAIST_MM - depth_mm)
        place = bench.place(panel, "fullest place", fullest)
        corner = end_at(panel, edge, EdgeRole.WAIST)
        run = joined(fair(panel, edge, corner, place), fair(panel, edge, landmark(panel, HIP_AT_SIDE), place))
        bench.do(redraw(panel, *let_out(panel, bench.amount_mm, run)))
        if bench.variant == "darts shorter" and bench.amount_mm > 0:
            _shorten_darts(bench, panel, panel.point(place))


def _shorten_darts(bench: Bench, panel: Panel, fullest: tuple[float, float]) -> None:
    """Let the darts of the waist stop above a level, where they reach further."""
    for dart in panel.piece.darts_on(panel.edge(EdgeRole.WAIST).id):
        _, above_mm = panel.frame.seen(dart.tip, fullest)
        if above_mm < DART_STOPS_ABOVE_MM:
            bench.do(LengthenDart(panel.name, dart.id, above_mm - DART_STOPS_ABOVE_MM))


def _one_side(bench: Bench) -> None:
    for panel in skirt_panels(bench):
        if not hand_in(panel.name) and not any(hand_in(edge.id) for edge in panel.piece.edges):
            bench.do(CutSingle(panel.name))
    bench.hand, how = bench.variant.split()
    panels = bench.needed(*SKIRTS)
    for panel in at_side(bench, panels) if how == "larger" else panels:
        if how == "larger":
            run = from_hip(panel, panel.edge(EdgeRole.SIDE, EdgeRole.WAIST))
            bench.do(redraw(panel, *let_out(panel, bench.amount_mm, run)))
        else:
            raise_side(bench, panel, bench.amount_mm)


def _seat(bench: Bench, longer_mm: float) -> None:
    for panel in bench.needed(*_BACK_SKIRT):
        if gores_beside(bench, panel):
            raise_centre(bench, panel, longer_mm)
            continue
        opening = bench.place(panel, "slash at centre back", landmark(panel, HIP_AT_CENTRE))
        hinge = bench.place(panel, "hinge at side", landmark(panel, HIP_AT_SIDE))
        bench.do(wedge(panel, opening, hinge, longer_mm, still=hem_corner(panel)))
        straighten_centre(bench, panel)
        keep_side(bench, panel, panel.sewn_mm(EdgeRole.SIDE), landmark(bench.now(panel), HIP_AT_SIDE))
        keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST))


def _sway_back(bench: Bench) -> None:
    for panel in bench.needed(*_BACK_SKIRT):
        raise_centre(bench, panel, -bench.amount_mm)
        keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST))


def _narrow_hem(bench: Bench) -> None:
    for panel in skirt_panels(bench):
        if bench.variant == "at the side":
            runs = [
                even(panel, edge, hip_on(panel, edge), end_at(panel, edge, EdgeRole.HEM))
                for edge in panel.edges(EdgeRole.SIDE)
            ]
            bench.do(redraw(panel, *let_out(panel, bench.amount_mm, *runs)))
            continue
        hinge = bench.place(panel, "hinge at waist", beside_dart(panel))
        opening = bench.place(panel, "slash at hem", lower_end_of_plumb(panel, hinge))
        bench.do(wedge(panel, opening, hinge, bench.amount_mm, still=panel.centre))
        keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST))


def _front_thigh(bench: Bench) -> None:
    for panel in at_side(bench, bench.needed(*_THIGHS)):
        edge, hip = panel.edge(EdgeRole.SIDE, EdgeRole.WAIST), landmark(panel, HIP_AT_SIDE)
        is_leg = panel.has(EdgeRole.INSEAM)
        hem = end_at(panel, edge, EdgeRole.HEM)
        low = level_through(panel, panel.point(landmark(panel, KNEE)))[1] if is_leg else hem
        _, depth_mm = panel.frame.seen(panel.point(hip), panel.point(low))
        begins = bench.place(panel, "begins", level_below(panel, hip, THIGH_BELOW_HIP_MM)[1])
        full = bench.place(panel, "full", level_below(panel, hip, (THIGH_BELOW_HIP_MM + depth_mm) / 2)[1])
        below = fair(panel, edge, low, full) if is_leg else whole(panel, edge, full, hem)
        run = joined(fair(panel, edge, begins, full), below)
        bench.do(redraw(panel, *let_out(panel, bench.amount_mm, run)))
        backs = bench.panels(PieceRole.BACK_TROUSERS if is_leg else PieceRole.BACK_SKIRT)
        for other in at_side(bench, backs)[:1]:
            as_long_as(bench, panel, other, EdgeRole.SIDE, EdgeRole.HEM, low if is_leg else full)


_GRAIN = "Keep the centre lines on the grain and the hem level."

ENTRIES = (
    Entry(
        "H01",
        "Hip wider or narrower",
        Region.SKIRT,
        symptom="The skirt draws across the hip and rides up, or hangs in folds from it.",
        does="The side edges are let out by the same amount from the hip down and drawn fair to nothing at the waist. "
        "A straight skirt keeps its hem; where every seam is used, each edge takes its part.",
        inverse="Takes the hip in.",
        needs=("waist edge", "side edge", "hip level"),
        touches=_FLARE,
        keeps=kept(_FLARE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("See that the side seam hangs plumb.", "Measure the hip of the pattern anew."),
        source="Montana Extension Bulletin 265 (1950) lists it; shares: common practice",
        amount=Amount("what each side edge is let out", QUARTER, 10.0, -40.0, 60.0, (_SLASH_INSIDE,)),
        plan=_even,
        variants=(
            Variant("to the hem", "the same from the hip to the hem"),
            Variant("hem kept", "to nothing at the hem as well"),
            Variant(
                "every seam",
                "every seam of a gored skirt: the difference divided by twice their number",
                among_side_edges,
            ),
        ),
    ),
    Entry(
        "H02",
        "Hip much wider, curve kept",
        Region.SKIRT,
        symptom="The skirt is more than 2 in too narrow at the hip.",
        does="Front and back are slashed from waist to hem along the grain and spread, so the side seam keeps its "
        "curve. The slash runs through the waist dart, which takes in the width at the waist.",
        inverse="Folds out a strip from waist to hem, as far as the dart allows.",
        needs=("waist edge", "hem"),
        touches=SKIRTS,
        keeps=kept(SKIRTS, EdgeRole.WAIST, EdgeRole.SIDE),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("A wide dart is better divided into two.", _GRAIN),
        source="Central Washington University costume text, chapter 17; details: common practice, from memory",
        amount=Amount("what each half piece is spread", QUARTER, 15.0, -25.0, 60.0),
        plan=_slashed,
    ),
    Entry(
        "H03",
        "High or square hip",
        Region.SKIRT,
        symptom="Level folds lie under the waistband; the body is fullest 3 to 4 in below the waist.",
        does="The hip curve is let out where the body is fullest, to nothing at waist and hip, which makes it "
        "straighter. The darts become shorter, so that they stop above that level.",
        inverse="Takes a hip curve in that stands away.",
        needs=("waist edge", "side edge", "hip level"),
        touches=_FLARE,
        keeps=kept(_FLARE, EdgeRole.WAIST, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("The side seam must not be hollow below the waist.",),
        source="common practice, from memory; an early dressmaking text on altering patterns, part 14",
        amount=Amount("what each side edge is let out there", QUARTER, 8.0, -20.0, 40.0, (EDGE_ADDITION,)),
        plan=_high_hip,
        variants=(
            Variant("darts shorter", "the darts stop 7/8 in above the fullest level"),
            Variant("darts kept", "the side seam only"),
        ),
    ),
    Entry(
        "H04",
        "One hip higher or larger",
        Region.SKIRT,
        symptom="The skirt twists, and the hem rises on one side.",
        does="Front and back are cut single, each half by itself. Of the higher hip the side seam is raised with its "
        "whole curve, to nothing at the centre; the larger hip is let out at its side edges.",
        inverse="Lowers that side, or takes it in.",
        needs=("waist edge", "side edge", "hip level"),
        touches=_FLARE,
        keeps=kept(_FLARE, EdgeRole.WAIST),
        check_after=("Cut one of each piece, right side of the cloth up.", _GRAIN),
        source="Montana Extension Bulletin 265 (1950) lists it; details: common practice, from memory",
        amount=Amount(
            "how far that side goes up, or what each of its two edges is let out",
            None,
            8.0,
            -30.0,
            40.0,
            (EDGE_ADDITION,),
        ),
        plan=_one_side,
        variants=(
            Variant("left higher", "the wearer's left hip is higher"),
            Variant("right higher", "the wearer's right hip is higher"),
            Variant("left larger", "the wearer's left hip is larger", _ONE_SIDE),
            Variant("right larger", "the wearer's right hip is larger", _ONE_SIDE),
        ),
    ),
    Entry(
        "H05",
        "Large seat, skirt",
        Region.SKIRT,
        symptom="The hem rises at the back, the seam strains and the side seams are pulled backwards.",
        does="The back is slashed at the hip from the centre to the side seam and opened at the centre. The centre "
        "back is brought plumb again and the dart takes in what that adds at the waist. On gores the waist is "
        "raised across the seams.",
        inverse="Folds the length out for a flat seat.",
        needs=("waist edge", "hip level", "centre back"),
        touches=BACK_GORES,
        keeps=(*kept(BACK_GORES, EdgeRole.WAIST, EdgeRole.HEM), *kept(_BACK_SKIRT, EdgeRole.SIDE)),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("A second dart may be wanted.", "Where the seat is wide as well, slash from waist to hem (H02)."),
        source="Betzina, uneven skirt hemline (powersewing.com, 2011)",
        amount=Amount("how much longer the centre back becomes at the hip", None, 15.0, -40.0, 50.0),
        plan=lambda bench: _seat(bench, bench.amount_mm),
    ),
    Entry(
        "H06",
        "Flat seat, skirt",
        Region.SKIRT,
        symptom="The hem drops at the centre back, with folds under the seat.",
        does="A wedge is folded out at the hip, from the centre back to nothing at the side. The centre back is "
        "brought plumb again and the dart becomes smaller by what the waist lost. On gores the line of the waist is "
        "lowered across the seams.",
        inverse="Opens the same wedge for a large seat.",
        needs=("waist edge", "hip level", "centre back"),
        touches=BACK_GORES,
        keeps=(*kept(BACK_GORES, EdgeRole.WAIST, EdgeRole.HEM), *kept(_BACK_SKIRT, EdgeRole.SIDE)),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("Take in the side seams where the back is still too wide.",),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount("how much shorter the centre back becomes at the hip", None, 10.0, -50.0, 40.0),
        plan=lambda bench: _seat(bench, -bench.amount_mm),
    ),
    Entry(
        "H07",
        "Sway back, skirt",
        Region.SKIRT,
        symptom="Level folds lie under the waist at the back and the hem dips there.",
        does="The waist is lowered at the centre back to nothing at the side; its dart keeps the seam's length.",
        inverse="Raises the waist at the centre back.",
        needs=("waist edge", "centre back", "hip level"),
        touches=BACK_GORES,
        keeps=(*kept(BACK_GORES, EdgeRole.WAIST, EdgeRole.HEM), *kept(_BACK_SKIRT, EdgeRole.SIDE)),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("Too narrow a hip makes the same folds: widen it first.", "Move the zip down by as much."),
        source="USDA, Fitting Dresses (1946)",
        amount=Amount(
            "how much lower the centre back waist lies",
            None,
            10.0,
            -40.0,
            40.0,
            (HIPS_FIRST, Caution(19.05, "Usually 1/4 to 3/4 in: for more, take a wedge at the hip as well.")),
        ),
        plan=_sway_back,
    ),
    Entry(
        "H08",
        "Skirt too narrow at the hem",
        Region.SKIRT,
        symptom="The skirt hobbles, or its sides hang too straight.",
        does="Every part is slashed from the hem to nothing at the waist, or the side edges are let out from the hip "
        "down. Waist and hip seam stay.",
        inverse="Folds out flare.",
        needs=("hem", "side edge", "hip level"),
        touches=_FLARE,
        keeps=kept(_FLARE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("Draw the hem in an even curve.", "Slashes put flare at front and back, side seams do not."),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount("what the hem of each half piece gains", QUARTER, 30.0, -60.0, 120.0),
        plan=_narrow_hem,
        variants=(
            Variant("slashed", "from the hem to nothing at the waist", among_panels),
            Variant("at the side", "straight from the hip to the hem", among_side_edges),
        ),
    ),
    Entry(
        "H09",
        "Full front thigh",
        Region.SKIRT,
        symptom="The front pulls across the thighs while hip and back hang well.",
        does="The side edge of the front alone is let out from below the hip. The end of its side seam is brought to "
        "where it is as long as the back's, and the seam comes to lie further back.",
        inverse="Takes the front in below the hip.",
        needs=("side edge", "hip level", "hem"),
        touches=(*_THIGHS, PieceRole.SIDE_FRONT),
        keeps=kept(_THIGHS, EdgeRole.WAIST, EdgeRole.CROTCH, EdgeRole.INSEAM),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("Move the side seam forward where it shows too far back.",),
        source="common practice, from memory",
        amount=Amount("what the front's side edge is let out", _EACH_FRONT, 8.0, -30.0, 40.0, (EDGE_ADDITION,)),
        plan=_front_thigh,
    ),
)
