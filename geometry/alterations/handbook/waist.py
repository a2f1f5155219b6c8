"""Waist and abdomen (G01 to G04)."""

from __future__ import annotations

import math

from geometry.affine import Point, distance_mm
from geometry.alterations.anchors import Anchor, free, on_edge
from geometry.alterations.dart_steps import WidenDart
from geometry.alterations.handbook.across_waist import BELOW_FRONT
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import cut, wedge
from geometry.alterations.handbook.entry import (
    EDGE_ADDITION,
    HALF_FRONT,
    QUARTER,
    WHOLE,
    Amount,
    Caution,
    Entry,
    Region,
    Variant,
    kept,
)
from geometry.alterations.handbook.gores import at_side, gores_beside
from geometry.alterations.handbook.landmarks import HIP_AT_CENTRE, HIP_AT_SIDE, SHOULDER_POINT, landmark
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.shoulders import BODICES
from geometry.alterations.handbook.skirts import FRONT_GORES, GORES, SKIRTS, TROUSERS, hem_corner
from geometry.alterations.handbook.waistbands import lengthen_bands
from geometry.alterations.handbook.waistline import grow_waist_at_side, keep_side, keep_waist, raise_centre
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.errors import StepError
from geometry.findings import Level
from geometry.model.edge import EdgeRole

_FRONT_BODICE = (PieceRole.FRONT_BODICE,)
_FRONT_SKIRT = (PieceRole.FRONT_SKIRT,)
_CENTRES = {
    "centre front": (PieceRole.FRONT_SKIRT, PieceRole.FRONT_TROUSERS, PieceRole.FRONT_BODICE),
    "centre back": (PieceRole.BACK_SKIRT, PieceRole.BACK_TROUSERS, PieceRole.BACK_BODICE),
}

_BELOW_DART_MM = 15.0
"""How far below the side dart the cut for the abdomen reaches the side seam; own choice."""

_HINGE_SHARE = 0.6
"""Where it reaches a side seam without a dart, up from below; own choice."""


def _size(bench: Bench) -> None:
    panels = bench.needed(*BODICES, *SKIRTS, *TROUSERS)
    for panel in panels if bench.variant == "darts" else at_side(bench, panels):
        if not panel.has(EdgeRole.WAIST):
            continue
        if bench.variant == "darts":
            _share_among_darts(bench, panel)
        else:
            grow_waist_at_side(bench, panel, bench.amount_mm, _held_on_side(panel))
    lengthen_bands(bench, bench.amount_mm)


def _held_on_side(panel: Panel) -> Anchor:
    """Where the side seam stays when its end at the waist moves: at the hip, on a bodice at its next mark."""
    if panel.has(EdgeRole.ARMHOLE):
        return panel.next_stop(EdgeRole.SIDE, EdgeRole.WAIST)
    return landmark(panel, HIP_AT_SIDE)


def _share_among_darts(bench: Bench, panel: Panel) -> None:
    darts = panel.piece.darts_on(panel.edge(EdgeRole.WAIST).id)
    if not darts:
        raise StepError(
            f'The waist of "{panel.name}" has no dart to let out or take in; alter the waist at the side seams.'
        )
    for dart in darts:
        bench.do(WidenDart(panel.name, dart.id, -bench.amount_mm / len(darts)))


def _full_abdomen_in_bodice(bench: Bench) -> None:
    """Three parts: the upper one stays, the lower side part turns about the side seam, the lower centre part sinks."""
    for panel in bench.needed(*_FRONT_BODICE):
        bottom = EdgeRole.HEM if panel.has(EdgeRole.HEM) else EdgeRole.WAIST
        start = bench.place(panel, "slash at the lower edge", panel.clear(bottom, 0.5, EdgeRole.CENTRE_FRONT))
        hinge = bench.place(panel, "hinge at side", _below_side_dart(panel, bottom))
        centre, turn = _corner_of_slash(panel, start, hinge)
        angle = _angle_rad(panel, start, hinge, bench.amount_mm)
        across, up = panel.frame.seen(turn, panel.point(hinge))
        sunk_mm = -(across * math.sin(angle) + up * (math.cos(angle) - 1))
        opening_mm = 2 * distance_mm(panel.point(start), panel.point(hinge)) * math.sin(angle / 2)
        side_part = cut(
            panel,
            (hinge, free(turn), start),
            opening_mm,
            Hinge.START,
            still=landmark(panel, SHOULDER_POINT),
        )
        below = Side.RIGHT if panel.frame.handed > 0 else Side.LEFT
        bench.do(Slash(panel.name, (side_part, SlashCut((centre, free(turn)), sunk_mm, Hinge.NONE, below))))
        if bottom is EdgeRole.WAIST:
            keep_side(bench, panel, panel.sewn_mm(EdgeRole.SIDE), _below_side_dart(bench.now(panel), bottom))
            _grow_below(bench, panel)
        bench.say(
            Level.NOTE,
            "length-added",
            f'The centre front of "{panel.name}" became {abs(sunk_mm):.1f} mm '
            f"{'longer' if sunk_mm > 0 else 'shorter'}.",
            piece=panel.name,
            measured_mm=sunk_mm,
        )


def _grow_below(bench: Bench, panel: Panel) -> None:
    """Let what is sewn to the waist of a front bodice grow at the side by as much as that waist did."""
    grown_mm = bench.now(panel).sewn_mm(EdgeRole.WAIST) - panel.sewn_mm(EdgeRole.WAIST)
    below = (each for each in bench.panels(*BELOW_FRONT) if panel.hand in ("", each.hand))
    for each in at_side(bench, tuple(below)):
        grow_waist_at_side(bench, each, grown_mm, landmark(each, HIP_AT_SIDE))


def _below_side_dart(panel: Panel, bottom: EdgeRole) -> Anchor:
    dart_id = panel.dart_on(EdgeRole.SIDE)
    edge = panel.edge(EdgeRole.SIDE, bottom)
    if dart_id is None:
        return panel.along(EdgeRole.SIDE, _HINGE_SHARE, bottom)
    dart = panel.piece.dart(dart_id)
    from_below = panel.corner(EdgeRole.SIDE, bottom).share == 0.0
    at_mm = dart.from_mm - _BELOW_DART_MM if from_below else dart.to_mm + _BELOW_DART_MM
    return on_edge(edge.id, at_mm / edge.length_mm)


def _corner_of_slash(panel: Panel, start: Anchor, hinge: Anchor) -> tuple[Anchor, Point]:
    """Where the slash turns, straight above its start at the level of the hinge; and the centre at that level."""
    (x, y), up = panel.point(start), panel.frame.seen(panel.point(hinge), panel.point(start))[1]
    dx, dy = panel.frame.step(0.0, up)
    turn = (x + dx, y + dy)
    return panel.level(turn)[0], turn


def _angle_rad(panel: Panel, start: Anchor, hinge: Anchor, out_mm: float) -> float:
    """The turn about the hinge that carries the start of the slash out by just so much."""
    across, up = panel.frame.seen(panel.point(start), panel.point(hinge))
    reach = math.hypot(across, up)
    cosine = (across + out_mm) / reach
    if abs(cosine) >= 1:
        raise StepError(f'The slash on "{panel.name}" is too short to open by {out_mm:.0f} mm; give a smaller amount.')
    return math.atan2(-up, across) - math.acos(cosine)


def _full_abdomen_in_skirt(bench: Bench) -> None:
    for panel in bench.needed(*_FRONT_SKIRT):
        sewn_mm = panel.sewn_mm(EdgeRole.WAIST)
        if bench.variant == "waist raised" or gores_beside(bench, panel):
            raise_centre(bench, panel, bench.amount_mm)
            now = bench.now(panel)
            held = landmark(now, HIP_AT_SIDE)
            grow_waist_at_side(bench, now, sewn_mm - now.sewn_mm(EdgeRole.WAIST), held)
            continue
        opening = bench.place(panel, "slash at centre front", landmark(panel, HIP_AT_CENTRE))
        hinge = bench.place(panel, "hinge at side", landmark(panel, HIP_AT_SIDE))
        bench.do(wedge(panel, opening, hinge, bench.amount_mm, still=hem_corner(panel)))
        keep_side(bench, panel, panel.sewn_mm(EdgeRole.SIDE), landmark(bench.now(panel), HIP_AT_SIDE))
        keep_waist(bench, panel, sewn_mm)


def _tilted_waist(bench: Bench) -> None:
    for panel in bench.needed(*_CENTRES[bench.variant]):
        if panel.has(EdgeRole.WAIST):
            # Up is up on both sides of the seam: what the skirt gains at the centre the bodice loses.
            is_bodice = panel.has(EdgeRole.ARMHOLE)
            raise_centre(bench, panel, -bench.amount_mm if is_bodice else bench.amount_mm)
            keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST))


ENTRIES = (
    Entry(
        "G01",
        "Waist larger or smaller",
        Region.WAIST,
        symptom="The waist strains or stands away, while bust and hip fit.",
        does="The waist of every piece changes by the same amount: at the side seams, which are drawn fair from hip "
        "and bust, or in the darts, whose places stay. A waistband changes by four times as much.",
        inverse="Takes the waist in.",
        needs=("waist edge", "side edge", "hip level"),
        touches=(*BODICES, *SKIRTS, *GORES, *TROUSERS, PieceRole.WAISTBAND),
        keeps=kept((*BODICES, *SKIRTS, *GORES, *TROUSERS), EdgeRole.SIDE),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST, EdgeRole.INSEAM),
        check_after=("See that darts of bodice and skirt still meet.", "Measure the waistband along the waist."),
        source="Montana Extension Bulletin 265 (1950) lists it; shares: common practice",
        amount=Amount("what the waist of each half piece gains", QUARTER, 6.0, -30.0, 40.0, (EDGE_ADDITION,)),
        plan=_size,
        variants=(
            Variant("side seams", "a quarter of the difference on each of the four side edges"),
            Variant("darts", "a quarter in each half piece, shared evenly among its waist darts"),
        ),
    ),
    Entry(
        "G02",
        "Full abdomen, bodice or top",
        Region.WAIST,
        symptom="The lower edge rises in front and strains over the abdomen.",
        does="A slash from the lower edge runs up to the height of the bust dart and out to the side seam; the part "
        "beside it swings out about the side seam, which keeps its length. The part at the centre sinks by as much as "
        "the slash opened there: so width at the lower edge brings the length it needs. A skirt sewn to it gets as "
        "much at the side of its waist.",
        inverse="Laps the same slash for a flat abdomen.",
        needs=("lower edge", "side edge", "centre front"),
        touches=(*_FRONT_BODICE, *BELOW_FRONT),
        begins_on=_FRONT_BODICE,
        keeps=(
            *kept(_FRONT_BODICE, EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.SIDE),
            *kept(BELOW_FRONT, EdgeRole.SIDE, EdgeRole.HEM),
        ),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=(
            "The side seam must hang plumb.",
            "The skirt may want length in front as well: see its own entry.",
        ),
        source="A sewing journal, full tummy (rowena.typepad.com, 2006); details: common practice, from memory",
        amount=Amount(
            "what the lower edge of each half front gains",
            HALF_FRONT,
            15.0,
            -30.0,
            60.0,
            (
                Caution(
                    50.8,
                    "2 to 4 in at the lower edge in all is usual; start from a larger size for more.",
                ),
            ),
        ),
        plan=_full_abdomen_in_bodice,
    ),
    Entry(
        "G03",
        "Full abdomen, skirt",
        Region.WAIST,
        symptom="The hem rises and stands out in front, the side seams swing forward.",
        does="The centre front gets longer above the hip, to nothing at the side: the waist is raised there and the "
        "side let out so that it stays its size, or a wedge is opened at the hip and the dart takes in what the "
        "straightened centre adds. Grain and hem stay where they are. On gores the line of the waist is raised across "
        "the seams.",
        inverse="Lowers the waist in front for a flat abdomen.",
        needs=("waist edge", "hip level", "centre front"),
        touches=FRONT_GORES,
        keeps=kept(FRONT_GORES, EdgeRole.WAIST, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("The hem must be level and the side seam plumb.", "The darts may want to be shorter or eased."),
        source="The New Dressmaker (1921), chapter 5; an early dressmaking text on altering patterns, part 13",
        amount=Amount(
            "how much longer the centre front becomes above the hip",
            None,
            20.0,
            -40.0,
            60.0,
            (Caution(50.8, "So much length usually wants width as well: slash inside the front (hip and skirt)."),),
        ),
        plan=_full_abdomen_in_skirt,
        variants=(
            Variant("waist raised", "raised at the centre to nothing at the side"),
            Variant("slashed", "a wedge at the hip from the centre to nothing at the side"),
        ),
    ),
    Entry(
        "G04",
        "Tilted waist",
        Region.WAIST,
        symptom="With the hip line level, the waist seam lies too high or too low in front or behind.",
        does="The waist is drawn higher or lower at the centre, to nothing at the side, and its dart keeps the seam as "
        "long as it was. The hem stays on the grain; on gores the line runs on across the seams. "
        "On a dress the bodice loses at the centre what the skirt gains.",
        inverse="Lowers the waist at the centre.",
        needs=("waist edge", "centre line", "hip level"),
        touches=(*SKIRTS, *GORES, *TROUSERS, *BODICES),
        keeps=(*kept((*SKIRTS, *TROUSERS, *BODICES), EdgeRole.WAIST, EdgeRole.SIDE), *kept(GORES, EdgeRole.WAIST)),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("Tie a tape round the waist and mark along it once more.",),
        source="Threads magazine, even hems (taunton.com/threads, nmt037)",
        amount=Amount("how much higher the waist lies at the centre", WHOLE, 8.0, -40.0, 40.0),
        plan=_tilted_waist,
        variants=(
            Variant("centre front", "in front, by the difference of the waist's heights above the floor"),
            Variant("centre back", "behind, by the difference of the waist's heights above the floor"),
        ),
    ),
)
