"""Lengths below the waist and of the sleeve (A04 to A08)."""

from __future__ import annotations

from geometry.affine import Point
from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.edge_ends import End, away_from, neighbour
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.entry import WHOLE, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.fairing import redraw
from geometry.alterations.handbook.landmarks import (
    BICEPS_FRONT,
    CAP_TOP,
    CROTCH_POINT,
    ELBOW,
    HIP_AT_CENTRE,
    HIP_AT_SIDE,
    KNEE,
    landmark,
)
from geometry.alterations.handbook.levels import between, level_through, printed_line, spread_at
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.skirts import GORES, SKIRTS, TROUSERS, hem_corner, skirt_panels
from geometry.alterations.handbook.waistline import waist_ends
from geometry.alterations.redraw import Pull
from geometry.curves import polyline
from geometry.model.edge import EdgeRole
from geometry.units import MM_PER_INCH

_SLEEVE = (PieceRole.SLEEVE,)

BELOW_HIP_MM = 6 * MM_PER_INCH
"""A skirt is lengthened 6 in below the hip (The New Dressmaker, 1921, p. 26)."""

HALF_AT_HEM_MM = 4 * MM_PER_INCH
"""From 4 in on half of the length goes to the hem (The New Dressmaker, 1921, p. 27)."""

_RISE_SHARE = 0.6
"""Where the rise is cut if no line is printed, down from the waist: below the darts; own choice."""

_SMALL_HIP_MM, _LARGE_HIP_MM = 36 * MM_PER_INCH, 38 * MM_PER_INCH

_ACROSS = ("centre", "side")

BOTH = "both"


def crotch_depth_ease_mm(hip_mm: float) -> float:
    """Ease of the crotch depth for a hip: 1/2 in below 36 in, 1 in above 38 in, 3/4 in between (NMSU Guide C-209)."""
    if hip_mm < _SMALL_HIP_MM:
        return MM_PER_INCH / 2
    return MM_PER_INCH if hip_mm > _LARGE_HIP_MM else 3 * MM_PER_INCH / 4


def _skirt_length(bench: Bench) -> None:
    is_long = abs(bench.amount_mm) >= HALF_AT_HEM_MM
    hem_mm = bench.amount_mm if bench.variant == "at the hem" else bench.amount_mm / 2 if is_long else 0.0
    for panel in skirt_panels(bench):
        if hem_mm != bench.amount_mm:
            spread_at(
                bench,
                panel,
                _skirt_line(panel),
                bench.amount_mm - hem_mm,
                still=waist_ends(panel)[1],
                name="line",
                ends=_ACROSS,
            )
        if hem_mm:
            _lengthen_at_hem(bench, bench.now(panel), hem_mm)


def _skirt_line(panel: Panel) -> Point:
    place = printed_line(panel)
    return panel.below(landmark(panel, HIP_AT_CENTRE), BELOW_HIP_MM) if place is None else place


def _lengthen_at_hem(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Take both edges beside the hem on in their own direction; from the hip up nothing moves."""
    hem = panel.edge(EdgeRole.HEM)
    pulls = [Pull(place) for place in level_through(panel, panel.point(landmark(panel, HIP_AT_SIDE)))]
    for end, corner in ((End.START, on_edge(hem.id, 0.0)), (End.END, on_edge(hem.id, 1.0))):
        beside = away_from(neighbour(panel.piece, hem.id, end), end.other)
        dx, dy = polyline.direction_at(beside, 0.0)
        pulls.append(Pull(corner, -dx * by_mm, -dy * by_mm))
    bench.do(redraw(panel, *pulls))


def _hip_depth(bench: Bench) -> None:
    for panel in skirt_panels(bench):
        place = between(panel, waist_ends(panel)[1], landmark(panel, HIP_AT_SIDE))
        spread_at(bench, panel, place, bench.amount_mm, still=hem_corner(panel), name="line", ends=_ACROSS)


def _rise(bench: Bench) -> None:
    for panel in bench.needed(*TROUSERS):
        spread_at(bench, panel, _rise_line(panel), bench.amount_mm, still=hem_corner(panel), name="line", ends=_ACROSS)


def _rise_line(panel: Panel) -> Point:
    printed = printed_line(panel)
    if printed is not None:
        return printed
    waist = waist_ends(panel)[1]
    _, depth_mm = panel.frame.seen(panel.point(waist), panel.point(landmark(panel, CROTCH_POINT)))
    return panel.below(waist, _RISE_SHARE * depth_mm)


def _limb_length(
    bench: Bench, panel: Panel, places: tuple[tuple[str, Point], ...], *, still: Anchor, ends: tuple[str, str]
) -> None:
    """Cut a sleeve or leg above and below its joint, by half of the amount each, or at one of the two."""
    chosen = [(name, place) for name, place in places if bench.variant in (BOTH, name)]
    for name, place in chosen:
        by_mm = bench.amount_mm / len(chosen)
        spread_at(bench, bench.now(panel), place, by_mm, still=still, name=f"line {name}", ends=ends)


def _sleeve_length(bench: Bench) -> None:
    for panel in bench.needed(*_SLEEVE):
        underarm, elbow, hem = landmark(panel, BICEPS_FRONT), landmark(panel, ELBOW), hem_corner(panel)
        upper = printed_line(panel, "above", "elbow") or between(panel, underarm, elbow)
        lower = printed_line(panel, "below", "elbow") or between(panel, elbow, hem)
        # The lower cut comes first: the upper one then moves its line along with the rest.
        places = (("below elbow", lower), ("above elbow", upper))
        _limb_length(bench, panel, places, still=landmark(panel, CAP_TOP), ends=("back", "front"))


def _leg_length(bench: Bench) -> None:
    for panel in bench.needed(*TROUSERS):
        crotch, knee, hem = landmark(panel, CROTCH_POINT), landmark(panel, KNEE), hem_corner(panel)
        upper = printed_line(panel, "above", "knee") or between(panel, crotch, knee)
        lower = printed_line(panel, "below", "knee") or between(panel, knee, hem)
        places = (("below knee", lower), ("above knee", upper))
        _limb_length(bench, panel, places, still=crotch, ends=("inside", "side"))


def _joint(name: str) -> tuple[Variant, ...]:
    return (
        Variant(BOTH, f"half above the {name} and half below it, which stays between"),
        Variant(f"above {name}", f"all above the {name}: the difference of the upper part, measured by itself"),
        Variant(f"below {name}", f"all below the {name}: the difference of the lower part, measured by itself"),
    )


ENTRIES = (
    Entry(
        "A04",
        "Skirt length",
        Region.LENGTHS,
        symptom="The hem is too high or too low all the way round.",
        does="Every part of the skirt is cut level below the hip and moved apart, so that the hem keeps its width. Of "
        "4 in and more only half is put there; the rest goes to the hem, whose edges are taken on along the flare.",
        inverse="Folds out length; the hem keeps its width.",
        needs=("waist edge", "hip level", "hem"),
        touches=(*SKIRTS, *GORES),
        keeps=kept(SKIRTS, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("Change the lining by the same amount.", "Measure the hem anew if part of the length went there."),
        source="The New Dressmaker (1921), chapters 26 and 27",
        amount=Amount(
            "how much longer the skirt becomes",
            WHOLE,
            30.0,
            -150.0,
            300.0,
            (Caution(127.0, "More than 5 in changes the flare: look at the width of the hem on the toile."),),
        ),
        plan=_skirt_length,
        variants=(
            Variant("in the skirt", "cut below the hip; from 4 in on half there and half at the hem"),
            Variant("at the hem", "all at the hem, as a circular skirt wants it"),
        ),
    ),
    Entry(
        "A05",
        "Waist to hip depth",
        Region.LENGTHS,
        symptom="A level roll lies just under the waistband, or the width for the hip comes too low or too high.",
        does="Front and back are cut level half-way between waist and hip and moved apart. The widths at waist and hip "
        "stay, the hip curve is drawn even again and darts that are crossed get longer or shorter legs.",
        inverse="Folds out a hip that lies too low on the pattern.",
        needs=("waist edge", "hip level"),
        touches=(*SKIRTS, *GORES),
        keeps=kept(SKIRTS, EdgeRole.WAIST, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=("See that the darts still stop above the fullest place.", "Change the zip's length."),
        source="common practice, from memory",
        amount=Amount("how much deeper the hip lies below the waist", WHOLE, 10.0, -40.0, 60.0),
        plan=_hip_depth,
    ),
    Entry(
        "A06",
        "Sleeve length",
        Region.LENGTHS,
        symptom="The sleeve ends above or below the wrist, or its elbow shaping misses the elbow.",
        does="The sleeve is cut level above and below the elbow, so that what is shaped for the elbow stays at the "
        "elbow. Cap and hem keep their width.",
        inverse="Folds out length on the same lines.",
        needs=("biceps line", "elbow", "hem"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.CAP, EdgeRole.HEM),
        matches=(EdgeRole.UNDERARM, EdgeRole.ARMHOLE),
        check_after=("Bend the arm: the elbow must lie where the sleeve bends.",),
        source="The New Dressmaker (1921), chapter 3",
        amount=Amount("how much longer the sleeve becomes", WHOLE, 15.0, -80.0, 100.0),
        plan=_sleeve_length,
        variants=_joint("elbow"),
    ),
    Entry(
        "A07",
        "Crotch depth",
        Region.LENGTHS,
        symptom="Sitting pulls the waist down and the crotch binds, or the crotch hangs low with folds at the fork.",
        does="Front and back are cut level between waist and crotch line and moved apart by the same amount, so both "
        "edges of every seam change alike. The curve below the cut keeps its shape.",
        inverse="Folds out a rise that is too deep.",
        needs=("waist edge", "crotch point"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.WAIST),
        check_after=("Change the openings of pocket and zip.", "Sit down in the toile: there must be ease."),
        source="NMSU Guide C-209, Measurements for Fitting Pants; the line: common practice, from memory",
        amount=Amount("how much deeper: seated depth and its ease less the pattern's", WHOLE, 12.0, -40.0, 60.0),
        plan=_rise,
    ),
    Entry(
        "A08",
        "Trouser leg length",
        Region.LENGTHS,
        symptom="The hem is too high or too low, or the knee shaping misses the knee.",
        does="Both legs are cut level above and below the knee, so that the knee of the pattern stays at the wearer's "
        "knee. Waist, crotch and hem are not touched.",
        inverse="Folds out length on the same lines.",
        needs=("crotch point", "knee", "hem"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.CROTCH, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.WAIST),
        check_after=(
            "Draw the crease straight through knee and hem.",
            "Walk the inseams: the back one may be eased in by up to 1/2 in.",
        ),
        source="common practice, from memory",
        amount=Amount("how much longer the inside leg becomes", WHOLE, 20.0, -100.0, 150.0),
        plan=_leg_length,
        variants=_joint("knee"),
    ),
)
