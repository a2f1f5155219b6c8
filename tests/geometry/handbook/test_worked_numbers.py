"""Worked examples and closed forms, as published or computed by hand, against the entries of the handbook."""

from __future__ import annotations

import math

import pytest

from geometry.affine import angle_between, distance_mm
from geometry.alterations.anchors import free, on_edge
from geometry.alterations.full_bust import FullBust
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.back_width import overhang_mm
from geometry.alterations.handbook.bench import NamedPlace
from geometry.alterations.handbook.entry import QUARTER, share_of_edges
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.redraw import Redraw
from geometry.alterations.slash import Slash
from geometry.model.pattern import Pattern
from geometry.units import MM_PER_INCH
from samples.size_table import SIZES
from tests.geometry.drawn_pieces import ARMHOLE_HINGE, BUST, SIDE_MOUTH, half_front, rectangle
from tests.geometry.handbook.drawn_bodice import bodice, half, level_neck, one_piece_back
from tests.geometry.handbook.patterns import dress, princess_front

IN = MM_PER_INCH


def changes(step: Alteration, pattern: Pattern) -> dict[tuple[str, str], float]:
    return {(change.piece, change.edge): change.change_mm for change in step.apply(pattern).changes}


# --- how a difference is shared (own arithmetic unless a source is given)

SHARED = [
    # high bust 34, full bust 37, pattern for a difference of 2 in: 1 in more, 1/2 in per half front
    ("D01", (37 - 34 - 2) * IN, 0.5 * IN),
    # high bust 34, full bust 38, the size of high bust 34 has 36: 2 in more, 1 in per half front
    ("D01", (38 - 36) * IN, 1.0 * IN),
    # high bust 34, full bust 35, same size: 1 in less, 1/2 in less per half front
    ("D01", (35 - 36) * IN, -0.5 * IN),
    # 1 in more in the bust is 1/2 in per half front (common practice, no source)
    ("D03", 1.0 * IN, 0.5 * IN),
    # a neckline gapes by 1 in in all: lap 1/2 in on the half front (Threads, neckline video, 2019)
    ("B01", 1.0 * IN, 0.5 * IN),
    # a back 1 in too narrow in all: 1/2 in per half back
    ("E04", 1.0 * IN, 0.5 * IN),
    # lengths are not divided
    ("A01", -1.0 * IN, -1.0 * IN),
    ("A02", 0.5 * IN, 0.5 * IN),
    ("A03", 0.5 * IN, 0.5 * IN),
]


@pytest.mark.parametrize(("code", "difference", "amount"), SHARED)
def test_a_whole_difference_becomes_the_amount_of_an_entry(code, difference, amount):
    assert entry_of(code).from_difference(difference) == pytest.approx(amount)


@pytest.mark.parametrize(
    ("share", "difference", "each"),
    [
        (QUARTER, 2.0 * IN, 0.5 * IN),  # hip 2 in over the pattern, two side seams: 1/2 in on each of four edges
        (QUARTER, 1.0 * IN, 0.25 * IN),  # waist 1 in over the pattern (clothing textbook, adjusting a pattern)
        (share_of_edges(12), 2.0 * IN, 2 * IN / 12),  # six gores, all seams: 1/6 in (4.2 mm) on each of twelve edges
    ],
)
def test_shares_add_up_to_the_difference(share, difference, each):
    edges = round(1 / share.of_whole)
    assert difference * share.of_whole == pytest.approx(each)
    assert edges * each == pytest.approx(difference)


# --- lengths


def test_a_bodice_shortened_by_1_inch_is_1_inch_shorter_all_round():
    # the tuck is 1/2 in deep, the pattern 1 in shorter (Central Washington University, costume text, chapter 17)
    moved = changes(Alteration("A01", -IN), bodice())
    for edge in ("side", "centre front"):
        assert moved["front bodice", edge] == pytest.approx(-25.4, abs=1e-6)
    for edge in ("side", "centre back"):
        assert moved["back bodice", edge] == pytest.approx(-25.4, abs=1e-6)


@pytest.mark.parametrize("depth", [-12.0, 6.0, 12.0])
def test_two_steep_armholes_gain_about_twice_the_depth_and_the_cap_is_opened_until_it_has_as_much(depth):
    # armhole 2 d; a cap edge at angle a gains d sin a on each side, so its opening is larger (own arithmetic)
    moved = changes(Alteration("A02", depth), dress("10"))
    armholes = moved["front bodice", "armhole"] + moved["back bodice", "armhole"]
    assert armholes == pytest.approx(2 * depth, rel=0.05)
    assert moved["sleeve", "cap"] == pytest.approx(armholes, abs=0.05)
    opened = Alteration("A02", depth).parts(dress("10"))[-1].amount_mm
    assert abs(opened) > abs(depth)


# --- neck


def test_a_neck_lowered_by_an_eighth_of_an_inch_grows_by_two_pi_times_that_all_round():
    # 1/8 in (3.175 mm) on a full circle: + 19.9 mm, half the neck + 10 mm (own arithmetic)
    pattern = bodice(drop_mm=0.0)
    moved = changes(Alteration("B02", IN / 8), pattern)
    half_neck = moved["front bodice", "neck"] + moved["back bodice", "neck"]
    assert half_neck == pytest.approx(math.pi * IN / 8, abs=0.04)  # drawn by nine places
    assert 2 * half_neck == pytest.approx(19.9, abs=0.06)
    for piece in ("front bodice", "back bodice"):
        assert moved[piece, "shoulder"] == pytest.approx(-IN / 8, abs=1e-6)


def test_a_gape_of_1_inch_laps_half_an_inch_at_the_neck_of_the_half_front():
    # Threads, Remove excess fabric at the neckline (2019)
    (fold,) = Alteration("B01", entry_of("B01").from_difference(IN)).parts(dress("10"))
    assert isinstance(fold, Slash)
    assert fold.cuts[0].opening_mm == pytest.approx(-12.7)


# --- shoulders: run 12 cm, drop 4 cm

SLOPES = [("C04", 10.0, 22.62, 130.000 - 126.491), ("C03", 10.0, 14.04, 123.693 - 126.491), ("C03", 0.001, 18.43, 0.0)]
"""Slope after lowering the tip to a drop of 5 cm, raising it to 3 cm, leaving it at 4 cm (own arithmetic)."""


@pytest.mark.parametrize(("code", "amount", "degrees", "longer"), SLOPES)
def test_slope_and_length_of_the_shoulder_after_sliding_the_armhole(code, amount, degrees, longer):
    after = Alteration(code, amount).apply(bodice()).pattern
    for name in ("front bodice", "back bodice"):
        shoulder = after.piece(name).edge("shoulder")
        (x0, y0), (x1, y1) = sorted((shoulder.start, shoulder.end), key=lambda place: place[1])
        assert math.degrees(math.atan2(y1 - y0, abs(x1 - x0))) == pytest.approx(degrees, abs=0.006)
        assert shoulder.length_mm - math.hypot(120.0, 40.0) == pytest.approx(longer, abs=0.0015)


@pytest.mark.parametrize("piece", ["front bodice", "back bodice"])
def test_sloping_by_1_cm_takes_1_cm_from_the_side_and_nothing_from_the_armhole(piece):
    # tip - 1, underarm - 1: armhole 0, side - 1, shoulder 13.000 - 12.649 = + 0.351 (own arithmetic, cm)
    moved = changes(Alteration("C04", 10.0), bodice())
    assert moved[piece, "armhole"] == pytest.approx(0.0, abs=1e-6)
    assert moved[piece, "side"] == pytest.approx(-10.0, abs=1e-6)
    assert moved[piece, "shoulder"] == pytest.approx(3.51, abs=0.006)


@pytest.mark.parametrize("amount", [-12.0, 8.0, 15.0])
def test_the_shoulder_can_keep_its_length_while_the_armhole_slides(amount):
    moved = changes(Alteration("C03", amount, "shoulder length kept"), bodice())
    for piece in ("front bodice", "back bodice"):
        assert moved[piece, "shoulder"] == pytest.approx(0.0, abs=1e-4)
        assert moved[piece, "armhole"] == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("sign", [1.0, -1.0])
def test_a_shoulder_1_cm_forward_takes_1_cm_from_the_front_armhole_and_gives_it_to_the_back(sign):
    # front - 1.0, back + 1.0, total 0 (own arithmetic on a near-vertical edge; the rule: Hertzer, p. 88)
    moved = changes(Alteration("C05", sign * 10.0), bodice())
    assert moved["front bodice", "armhole"] == pytest.approx(-sign * 10.0, abs=0.03)
    assert moved["back bodice", "armhole"] == pytest.approx(sign * 10.0, abs=0.03)


def test_the_sleeve_notch_moves_forward_as_far_as_the_shoulder_seam():
    before, after = dress("10"), Alteration("C05", 10.0).apply(dress("10")).pattern
    notches = [pattern.piece("sleeve").notch("shoulder").at_mm for pattern in (before, after)]
    assert notches[1] - notches[0] == pytest.approx(10.0)  # the cap runs from its back to its front


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("longer", [-15.0, 12.7])
def test_a_broad_shoulder_is_longer_by_body_less_pattern(size, longer):
    moved = changes(Alteration("C01", longer), dress(size))
    assert moved["front bodice", "shoulder"] == pytest.approx(longer, abs=1e-6)
    assert moved["back bodice", "shoulder"] == pytest.approx(longer, abs=1e-6)


# --- full bust: centre front x = 0, bust point (90, 190), hinge (165, 300), side dart mouth (235, 170)

BY_SPREAD = [(6.35, 4.07), (12.7, 7.66), (19.05, 10.81), (25.4, 13.55)]
"""Spread per half front, length added at the centre front (closed form of the turn, own arithmetic)."""


@pytest.mark.parametrize(("spread", "longer"), BY_SPREAD)
def test_the_worked_half_front_gets_longer_as_its_table_says(spread, longer):
    places = (
        ("hinge on armhole", free(ARMHOLE_HINGE)),
        ("dart on side", free(SIDE_MOUTH)),
        ("slash at waist", free((BUST[0], 0.0))),
    )
    step = Alteration("D01", spread, places=tuple(NamedPlace("front bodice", *place) for place in places))
    pattern = Pattern((half_front(),))
    assert isinstance(step.parts(pattern)[0], FullBust)
    moved = changes(step, pattern)
    assert moved["front bodice", "centre front"] == pytest.approx(longer, abs=0.006)
    assert moved["front bodice", "side"] == pytest.approx(0.0, abs=1e-6)
    assert moved["front bodice", "shoulder"] == moved["front bodice", "neck"] == 0.0


@pytest.mark.parametrize("variant", ["waist and side dart", "waist dart", "side dart"])
def test_each_way_of_a_full_bust_sews_waist_and_side_as_before_and_spreads_the_darts_named(variant):
    front = dress("10").piece("front bodice")
    after = Alteration("D01", 12.7, variant).apply(dress("10")).pattern.piece("front bodice")
    for edge in ("side", "waist"):
        assert after.sewn_length_mm(edge) == pytest.approx(front.sewn_length_mm(edge), abs=0.05)
    grown = {dart.id: _angle_deg(after, dart.id) - _angle_deg(front, dart.id) for dart in front.darts}
    for dart, change in grown.items():
        if dart in variant or variant.startswith(dart.split()[0] + " and"):
            assert change > 2.0
        else:
            assert change == pytest.approx(0.0, abs=0.1)


def _angle_deg(piece, dart_id):
    dart = piece.dart(dart_id)
    return abs(math.degrees(angle_between(dart.apex, *piece.mouth(dart))))


@pytest.mark.parametrize("size", SIZES)
def test_the_panels_of_a_princess_front_fit_and_a_full_bust_eases_the_side_panel_in(size):
    def lengths(pattern):
        return [pattern.piece(name).edge("princess").length_mm for name in ("front bodice", "side front")]

    centre, side = lengths(princess_front(size))
    assert side == pytest.approx(centre, abs=1e-6)
    centre, side = lengths(Alteration("D04", 25.4).apply(princess_front(size)).pattern)
    assert 0.0 < side - centre < 12.7  # at most 1/2 in is eased in over the bust: common practice, from memory


def test_the_worked_princess_front():
    # 3/4 in longer on both panels, 1/2 in wider on the centre panel and 7/8 in on the side panel (Resting Motion)
    pattern, step = princess_front("10"), Alteration("D04", 1.375 * IN)
    moved = changes(step, pattern)
    assert moved["front bodice", "centre front"] == pytest.approx(0.75 * IN, abs=1e-6)
    assert moved["side front", "side"] == pytest.approx(0.0, abs=0.5)
    slashes = [part for part in step.parts(pattern) if isinstance(part, Slash)]
    assert [part.amount_mm for part in slashes] == pytest.approx([0.75 * IN, 0.75 * IN])
    widths = [part.amount_mm for part in step.parts(pattern) if isinstance(part, Redraw)]
    assert widths == pytest.approx([0.5 * IN, 0.875 * IN])


@pytest.mark.parametrize("target", ["shoulder", "neck", "armhole"])
@pytest.mark.parametrize("size", SIZES)
def test_a_relocated_dart_keeps_its_angle_so_that_width_goes_with_the_leg(target, size):
    # width 2 = width 1 x leg 2 / leg 1 (own arithmetic, exact for equal legs)
    front = dress(size).piece("front bodice")
    after = Alteration("D09", 200.0, f"to the {target}").apply(dress(size)).pattern.piece("front bodice")
    old, new = front.dart("side dart"), after.dart(f"{target} dart")
    assert "side dart" not in {dart.id for dart in after.darts}
    legs = [
        sum(distance_mm(end, dart.apex) for end in piece.mouth(dart)) / 2
        for piece, dart in ((front, old), (after, new))
    ]
    expected = front.intake_mm(old) * legs[1] / legs[0]
    assert after.intake_mm(new) == pytest.approx(expected, rel=0.005)


# --- wedges from the centre back

WORKED = [  # length of the slash, opening, lean at 100, 400, 600 mm from it (angle = 2 asin(o / 2L), own arithmetic)
    (170.0, 13.0, (7.64, 30.57, 45.85)),
    (170.0, 10.0, (5.88, 23.52, 35.28)),
    (180.0, 12.7, (7.05, 28.20, 42.31)),
    (200.0, 20.0, (9.99, 39.95, 59.92)),
    (230.0, 25.4, (11.03, 44.11, 66.16)),
]


@pytest.mark.parametrize(("length", "opening", "leans"), WORKED)
def test_the_lean_of_a_centre_line_is_its_height_times_the_sine_of_the_wedge(length, opening, leans):
    for height, lean in zip((100.0, 400.0, 600.0), leans, strict=True):
        panel = Panel(rectangle(length, height + 100.0))
        low = 100.0 / (height + 100.0)
        cut, hinge, end = on_edge("centre front", 1 - low), on_edge("side", low), on_edge("centre front", 0.0)
        assert overhang_mm(panel, cut, hinge, end, opening) == pytest.approx(lean, abs=0.01)


@pytest.mark.parametrize(("length", "opening", "leans"), WORKED)
def test_a_sway_back_on_the_fold_is_warned_of_by_the_lean_at_the_neck(length, opening, leans):
    pattern = Pattern((one_piece_back(length, neck_above_mm=400.0),))
    findings = Alteration("E06", opening).apply(pattern).findings
    (warning,) = [finding for finding in findings if finding.code == "wedge-overhangs"]
    assert warning.measured_mm == pytest.approx(leans[1], abs=0.01)
    assert f"{leans[1]:.0f} mm" in warning.text


@pytest.mark.parametrize("on_fold", [True, False])
def test_a_round_back_makes_the_neck_longer_by_the_lean_and_a_neck_dart_takes_it_up(on_fold):
    # 13 mm at a slash of 170 mm, neck 100 mm above it: 7.6 mm per half (own arithmetic)
    piece = level_neck(half("back bodice", run_mm=100.0, on_fold=on_fold))
    centre = piece.edge("centre back")
    places = (
        NamedPlace(piece.name, "cut at centre back", on_edge("centre back", _share_below_neck(centre, 100.0))),
        NamedPlace(piece.name, "cut, hinge on armhole", free((-170.0, 310.0))),
    )
    before = Pattern((piece,))
    outcome = Alteration("E01", 13.0, "neck dart", places=places).apply(before)
    after = outcome.pattern.pieces[0]
    (told,) = [finding for finding in outcome.findings if finding.code == "neck-seam-changed"]
    drawn_back = 170.0 * (1 - math.cos(2 * math.asin(13.0 / 340.0)))  # of the cut itself, 0.5 mm
    assert told.measured_mm == pytest.approx(7.64 + drawn_back, abs=0.1)
    assert after.sewn_length_mm("neck") == pytest.approx(piece.sewn_length_mm("neck"), abs=0.05)
    assert "neck dart" in {dart.id for dart in after.darts}


def _share_below_neck(centre, by_mm):
    top_is_end = centre.end[1] > centre.start[1]
    return 1 - by_mm / centre.length_mm if top_is_end else by_mm / centre.length_mm


def test_a_broad_back_shares_its_longer_shoulder_with_the_front():
    # half shoulder 1/2 in longer: 1/4 in off the back armhole edge, 1/4 in on at the front (New Dressmaker, ch. 4)
    moved = changes(Alteration("E04", 0.5 * IN), bodice(drop_mm=0.0))
    assert moved["back bodice", "shoulder"] == pytest.approx(0.25 * IN, abs=1e-6)
    assert moved["front bodice", "shoulder"] == pytest.approx(0.25 * IN, abs=1e-6)
    assert moved["back bodice", "waist"] == pytest.approx(0.5 * IN, abs=1e-6)


@pytest.mark.parametrize("spread", [5.0, 12.7])
def test_a_spread_in_every_half_piece_adds_four_times_and_in_the_front_only_twice(spread):
    # x inside one slash per half piece on front and back adds 4 x round the body, per front only 2 x (own arithmetic)
    whole = changes(Alteration("C08", -spread), bodice())
    waists = {piece: whole[piece, "waist"] for piece in ("front bodice", "back bodice")}
    assert 2 * sum(waists.values()) == pytest.approx(4 * spread)
    front = changes(Alteration("C08", -spread, pieces=("front bodice",)), bodice())
    assert 2 * sum(change for (_, edge), change in front.items() if edge == "waist") == pytest.approx(2 * spread)
