"""Worked examples for lengths below the waist, waist, hip and skirt: as published, or closed forms by hand."""

from __future__ import annotations

import math

import pytest

from geometry.affine import frozen_points
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.entry import share_of_edges
from geometry.alterations.handbook.lengths_below import crotch_depth_ease_mm
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.handbook.registry import entry_of
from geometry.model.dart import Dart
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.size_table import SIZES
from tests.geometry.handbook.lower_patterns import (
    IN,
    LEGS,
    SKIRTS,
    altered,
    amount_for,
    dress,
    gored_skirt,
    height,
    sewn,
    trousers,
    width_at,
)

# --- lengths


@pytest.mark.parametrize("size", SIZES)
def test_a_skirt_5_inches_longer_gets_half_below_the_hip_and_half_at_the_hem(size):
    # The New Dressmaker (1921), p. 27
    step = Alteration("A04", 5 * IN)
    slash, hem, *_ = step.parts(dress(size))
    assert slash.amount_mm == pytest.approx(2.5 * IN)
    assert hem.amount_mm == pytest.approx(2.5 * IN)
    after = step.apply(dress(size)).pattern
    for name, edge in (("front skirt", "centre front"), ("back skirt", "centre back")):
        longer = after.piece(name).edge(edge).length_mm - dress(size).piece(name).edge(edge).length_mm
        assert longer == pytest.approx(5 * IN, abs=1e-6)


def test_a_skirt_line_lies_6_inches_below_the_hip():
    # The New Dressmaker (1921), p. 26; the printed line of the sample is left out so that the rule places it
    gore = dress().piece("front skirt")
    bare = Pattern((Piece(gore.name, gore.edges, fold=gore.fold, notches=gore.notches),))
    (line,) = Alteration("A04", 20.0).laid_out(bare).chalk
    _, hip_y = gore.notch_point(gore.notch("hip"))
    assert line.points[:, 1] == pytest.approx(hip_y - 6 * IN)


@pytest.mark.parametrize(("hip_in", "ease_in"), [(37.0, 0.75), (35.0, 0.5), (39.0, 1.0), (36.0, 0.75), (38.0, 0.75)])
def test_crotch_depth_gets_the_ease_of_its_hip(hip_in, ease_in):
    # NMSU Guide C-209: body crotch depth 10 1/2 in, pattern 10 1/2 in, so the ease is what has to be added
    assert crotch_depth_ease_mm(hip_in * IN) == pytest.approx(ease_in * IN)
    longer = amount_for("A07", (10.5 + ease_in - 10.5) * IN)
    after = altered("A07", longer, trousers())
    for name in LEGS:
        before, now = trousers().piece(name), after.piece(name)
        deeper = now.edge("side").points[:, 1].max() - before.edge("side").points[:, 1].max()
        assert deeper == pytest.approx(ease_in * IN, abs=1e-6)
        assert height(now, "crotch") - height(before, "crotch") == pytest.approx(ease_in * IN, abs=1e-6)
        assert now.edge("inseam") == before.edge("inseam")


@pytest.mark.parametrize("by", [-20.0, 30.0])
def test_a_sleeve_and_a_leg_keep_their_joint_between_both_halves_of_the_length(by):
    legs = altered("A08", by, trousers())
    for name in LEGS:
        before, after = trousers().piece(name), legs.piece(name)
        _, knee = after.landmark("knee")
        assert knee - before.landmark("knee")[1] == pytest.approx(-by / 2)
        assert height(after, "inseam") - height(before, "inseam") == pytest.approx(by)
    for variant in ("above elbow", "below elbow", "both"):
        arm = altered("A06", by, dress(), variant).piece("sleeve")
        assert arm.bounds_mm[1] - dress().piece("sleeve").bounds_mm[1] == pytest.approx(-by)


# --- waist


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("variant", ["side seams", "darts"])
def test_a_waist_1_inch_over_the_pattern_is_a_quarter_inch_on_each_edge_and_an_inch_on_the_band(size, variant):
    # a clothing textbook, adjusting a pattern: a waist 1 in over means 1 in added in total
    each = amount_for("G01", IN)
    assert each == pytest.approx(IN / 4)
    legs = altered("G01", each, trousers(size), variant)
    for name in LEGS:
        grown = legs.piece(name).sewn_length_mm("waist") - trousers(size).piece(name).sewn_length_mm("waist")
        assert grown == pytest.approx(IN / 4, abs=1e-6)
    whole = 2 * (sewn(legs, LEGS, "waist") - sewn(trousers(size), LEGS, "waist"))
    assert whole == pytest.approx(IN, abs=1e-6)
    band = legs.piece("waistband").sewn_length_mm("waist") - trousers(size).piece("waistband").sewn_length_mm("waist")
    assert 2 * band == pytest.approx(IN, abs=1e-6)
    dressed = altered("G01", each, dress(size), variant)
    for half in ("front", "back"):
        bodice, skirt = (dressed.piece(f"{half} {part}").sewn_length_mm("waist") for part in ("bodice", "skirt"))
        assert bodice == pytest.approx(skirt, abs=1e-5)


def test_the_side_notch_of_a_band_stays_at_the_side_seam():
    legs = altered("G01", 6.0, trousers())
    back_mm = legs.piece("back trousers").sewn_length_mm("waist")
    assert legs.piece("waistband").notch("side").at_mm == pytest.approx(back_mm, abs=1e-5)


@pytest.mark.parametrize("by", [-12.0, 15.0, 25.4])
def test_a_full_abdomen_opens_the_lower_edge_by_its_amount_and_sinks_the_centre_by_arm_times_sine(by):
    # parts turn about the side: width a at the foot, length r sin(angle) at the corner of the slash (closed form)
    front = dress().piece("front bodice")
    outcome = Alteration("G02", by).apply(dress())
    (told,) = [finding for finding in outcome.findings if finding.code == "length-added"]
    after = outcome.pattern.piece("front bodice")
    (slash,) = [part for part in Alteration("G02", by).parts(dress()) if part.kind == "slash"]
    hinge, turn, foot = (Panel(front).point(place) for place in slash.cuts[0].line)
    fx, fy = foot[0] - hinge[0], foot[1] - hinge[1]
    angle = math.atan2(-fy, fx) - math.acos((fx + by) / math.hypot(fx, fy))
    assert told.measured_mm == pytest.approx((hinge[0] - turn[0]) * math.sin(angle), abs=1e-6)
    longer = after.edge("centre front").length_mm - front.edge("centre front").length_mm
    assert longer == pytest.approx(told.measured_mm, abs=1e-6)
    assert after.sewn_length_mm("side") == pytest.approx(front.sewn_length_mm("side"), abs=1e-6)


@pytest.mark.parametrize(("variant", "half"), [("centre front", "front"), ("centre back", "back")])
def test_what_a_skirt_gains_at_a_tilted_waist_its_bodice_loses(variant, half):
    after = altered("G04", 8.0, dress(), variant)
    for part, by in (("skirt", 8.0), ("bodice", -8.0)):
        old, new = dress().piece(f"{half} {part}"), after.piece(f"{half} {part}")
        assert new.edge(variant).length_mm - old.edge(variant).length_mm == pytest.approx(by, abs=1e-6)
        assert new.sewn_length_mm("waist") == pytest.approx(old.sewn_length_mm("waist"), abs=1e-6)


# --- hip


@pytest.mark.parametrize("size", SIZES)
def test_a_hip_2_inches_over_the_pattern_is_half_an_inch_on_each_of_four_edges(size):
    # common practice: D/4 on each of the four edges of two side seams
    each = amount_for("H01", 2 * IN)
    assert each == pytest.approx(IN / 2)
    after = altered("H01", each, dress(size))
    grown = 0.0
    for name in SKIRTS:
        piece = dress(size).piece(name)
        _, y = piece.notch_point(piece.notch("hip"))
        grown += width_at(after.piece(name), y) - width_at(piece, y)
    assert 2 * grown == pytest.approx(2 * IN, abs=1e-6)


@pytest.mark.parametrize("size", SIZES)
def test_a_hip_2_inches_over_a_six_gore_skirt_is_a_sixth_of_an_inch_on_each_of_twelve_edges(size):
    # general rule: D / (2 n) for n seams; 4.2 mm (own arithmetic)
    each = entry_of("H01").from_difference(2 * IN, "every seam", gored_skirt(size))
    assert each == pytest.approx(4.2, abs=0.04)
    before, after = gored_skirt(size), altered("H01", each, gored_skirt(size), "every seam")
    grown = 0.0
    for name, times in (("front gore", 2), ("side front gore", 2), ("side back gore", 2), ("back gore", 2)):
        piece = before.piece(name)
        _, y = piece.notch_point(piece.notch("hip"))
        wider = width_at(after.piece(name), y) - width_at(piece, y)
        assert wider == pytest.approx(each * len(piece.edges_with_role(EdgeRole.SIDE)), abs=1e-6)
        grown += times * wider
    assert grown == pytest.approx(2 * IN, abs=1e-5)


@pytest.mark.parametrize(
    ("code", "variant", "of_whole"),
    [
        ("H01", "to the hem", 1 / 4),
        ("H01", "every seam", 1 / 12),
        ("H08", "slashed", 1 / 8),
        ("H08", "at the side", 1 / 12),
        ("H04", "left higher", None),
        ("H04", "left larger", 1 / 2),
        ("J05", "waist raised", None),
        ("J05", "wider", 1 / 2),
        ("J10", "waist and hip", 1 / 4),
        ("J10", "seat seam", 1 / 2),
    ],
)
def test_every_way_takes_its_own_share_of_a_difference(code, variant, of_whole):
    # lengths go in full, widths by the edges that take part (own arithmetic); the gored skirt has six seams
    share = entry_of(code).share(variant, gored_skirt("10"))
    assert (share.of_whole if share else None) == of_whole


@pytest.mark.parametrize(
    ("variant", "pattern"),
    [("slashed", dress()), ("slashed", gored_skirt()), ("at the side", dress()), ("at the side", gored_skirt())],
)
def test_a_difference_of_the_hem_is_what_the_whole_hem_gains(variant, pattern):
    difference = 240.0
    amount = entry_of("H08").from_difference(difference, variant, pattern)
    after = altered("H08", amount, pattern, variant)
    grown = sum(
        2 * (after.piece(piece.name).sewn_length_mm("hem") - piece.sewn_length_mm("hem"))
        for piece in pattern.pieces
        if piece.edges_with_role(EdgeRole.HEM)
    )
    # a slash opens by a chord and a hem let out leans: the seam line differs by a little from the level width
    assert grown == pytest.approx(difference, rel=0.02)


@pytest.mark.parametrize("spread", [-10.0, 12.7, 20.0])
def test_a_slash_inside_every_half_piece_adds_four_times_its_width_at_every_level(spread):
    # x inside one slash per half piece on front and back adds 4 x (own arithmetic)
    after = altered("H02", spread, dress())
    for y in (-200.0, -350.0, -500.0):
        wider = sum(width_at(after.piece(name), y) - width_at(dress().piece(name), y) for name in SKIRTS)
        assert 2 * wider == pytest.approx(4 * spread, abs=1e-6)
    assert sewn(after, SKIRTS, "waist") == pytest.approx(sewn(dress(), SKIRTS, "waist"), abs=1e-6)


def test_darts_of_a_high_hip_stop_seven_eighths_of_an_inch_above_it():
    # skirt darts stop 3/4 to 1 in above the fullest level, which lies 3 to 4 in below the waist (from memory)
    after = altered("H03", 8.0, dress())
    for name in SKIRTS:
        piece = after.piece(name)
        (dart,) = piece.darts
        fullest = piece.edge("side").points[:, 1].max() - 3.5 * IN
        assert 0.75 * IN <= dart.tip[1] - fullest <= 1.0 * IN


WEDGES = [(170.0, 13.0, 4.383), (180.0, 12.7, 4.043), (200.0, 20.0, 5.732), (230.0, 25.4, 6.331)]
"""Length of the slash, opening, angle in degrees = 2 asin(o / 2L) (own arithmetic)."""


def plain_back(width_mm: float, above_mm: float = 200.0, below_mm: float = 400.0) -> Piece:
    """A back skirt of straight lines with a dart, its centre back at x = 0, the hip level at y = 0."""
    corners = [(0.0, -below_mm), (width_mm, -below_mm), (width_mm, above_mm), (0.0, above_mm)]
    roles = (EdgeRole.HEM, EdgeRole.SIDE, EdgeRole.WAIST, EdgeRole.CENTRE_BACK)
    edges = tuple(
        Edge(role.value, frozen_points([corners[i], corners[(i + 1) % 4]]), role) for i, role in enumerate(roles)
    )
    middle = width_mm / 2
    dart = Dart("waist dart", "waist", middle - 15.0, middle + 15.0, (middle, above_mm - 130.0))
    return Piece("back skirt", edges, darts=(dart,), notches=(Notch("hip", "side", below_mm),))


@pytest.mark.parametrize(("length", "opening", "degrees"), WEDGES)
@pytest.mark.parametrize(("code", "sign"), [("H05", 1.0), ("H06", -1.0)])
def test_the_dart_takes_up_what_a_wedge_at_the_hip_leans_over_at_the_waist(length, opening, degrees, code, sign):
    # centre line leans by height times sine of the angle; brought plumb, the waist has that and what the cut draws back
    before = Pattern((plain_back(length),))
    outcome = Alteration(code, sign * opening).apply(before)
    after = outcome.pattern.pieces[0]
    angle = math.radians(degrees)
    lean = 200.0 * math.sin(angle) + length * (1 - math.cos(angle))
    assert after.intake_mm(after.darts[0]) - 30.0 == pytest.approx(lean, abs=1.0)
    assert after.sewn_length_mm("waist") == pytest.approx(length - 30.0, abs=1e-6)
    assert after.edge("centre back").is_straight
    assert after.edge("centre back").points[:, 0] == pytest.approx(0.0, abs=1e-9)
    assert after.edge("centre back").length_mm - 600.0 == pytest.approx(opening, abs=1.5)


def test_bust_and_under_bust_let_out_at_the_sides_leave_seven_centimetres_for_eight_princess_edges():
    # bust 93, wanted 102; under-bust 80, wanted 82: 2.25 cm on four edges leave 80 + 9 - 82 = 7 cm (own arithmetic)
    each = amount_for("H01", 90.0)
    assert each == pytest.approx(22.5)
    assert 930.0 + 4 * each == pytest.approx(1020.0)
    assert (820.0 - (800.0 + 4 * each)) * share_of_edges(8).of_whole == pytest.approx(-8.75)
