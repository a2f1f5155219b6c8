"""Worked examples for sleeve and trousers: as published, or closed forms computed by hand."""

from __future__ import annotations

import math

import pytest

from geometry.affine import distance_mm, frozen_points
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.landmarks import BICEPS_BACK, BICEPS_FRONT, CAP_TOP, landmark
from geometry.alterations.handbook.panels import Panel
from geometry.errors import StepError
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.size_table import SIZES
from tests.geometry.drawn_pieces import sleeve
from tests.geometry.handbook.lower_patterns import (
    IN,
    LEGS,
    altered,
    amount_for,
    dress,
    sewn,
    trousers,
    width_at,
)

BLENDED_MM = 3.175
"""1/8 in: what a blend over a hinge may change (Threads, 10 patternwork skills, 2020)."""

# --- sleeve

UPPER_ARM = [  # cap height, spread, turn in degrees, new full biceps, cap height lost; half biceps 150 (own arithmetic)
    (130.0, 12.7, 2.800, 312.3, 7.5),
    (130.0, 25.4, 5.606, 324.0, 15.3),
    (130.0, 38.1, 8.426, 334.9, 23.4),
    (150.0, 25.4, 4.857, 324.3, 13.2),
]


def biceps_mm(panel: Panel) -> float:
    return distance_mm(panel.point(landmark(panel, BICEPS_FRONT)), panel.point(landmark(panel, BICEPS_BACK)))


@pytest.mark.parametrize(("cap", "spread", "degrees", "biceps", "lost"), UPPER_ARM)
def test_the_worked_upper_arm(cap, spread, degrees, biceps, lost):
    piece = sleeve(cap_mm=cap)
    outcome = Alteration("I01", spread).apply(Pattern((piece,)))
    after = outcome.pattern.pieces[0]
    assert biceps_mm(Panel(after)) == pytest.approx(biceps, abs=0.1)
    (told,) = [finding for finding in outcome.findings if finding.code == "cap-height"]
    assert told.measured_mm == pytest.approx(lost, abs=BLENDED_MM)  # told as drawn; exact before: published.py
    assert math.degrees(math.asin(spread / 2 / cap)) == pytest.approx(degrees, abs=0.001)
    assert after.edge("cap").length_mm == pytest.approx(piece.edge("cap").length_mm, abs=BLENDED_MM)
    assert lost == pytest.approx(spread * 150.0 / (2 * cap), rel=0.08)  # cap loss about D b / 2 c


def test_a_biceps_of_13_inches_with_2_of_ease_opens_a_14_inch_sleeve_by_1_inch():
    # D = 13 + 2 - 14, all of it in the sleeve (own arithmetic; ease of 2 in: Threads, set-in sleeve solutions, 2021)
    assert amount_for("I01", (13 + 2 - 14) * IN) == pytest.approx(IN)
    step, *trued = Alteration("I01", IN).parts(dress())
    assert {each.kind for each in trued} <= {"join-corner"}
    assert step.amount_mm == pytest.approx(IN)


@pytest.mark.parametrize("size", SIZES)
def test_the_cap_seam_or_the_cap_height_is_kept_and_the_whole_width_keeps_the_height(size):
    before = Panel(dress(size).piece("sleeve"))
    _, top = before.point(landmark(before, CAP_TOP))
    seams, heights = {}, {}
    for variant in ("cap seam kept", "cap height kept", "whole width"):
        after = Panel(altered("I01", 20.0, dress(size), variant).piece("sleeve"))
        seams[variant] = after.sewn_mm(EdgeRole.CAP) - before.sewn_mm(EdgeRole.CAP)
        base = [after.point(landmark(after, name))[1] for name in (BICEPS_FRONT, BICEPS_BACK)]
        heights[variant] = after.point(landmark(after, CAP_TOP))[1] - sum(base) / 2 - top
    assert seams["cap seam kept"] == pytest.approx(0.0, abs=0.5)
    assert heights["cap seam kept"] < -5.0
    assert heights["cap height kept"] == pytest.approx(0.0, abs=0.01)
    assert seams["cap height kept"] > 5.0
    assert heights["whole width"] == pytest.approx(0.0, abs=BLENDED_MM)
    assert seams["whole width"] == pytest.approx(20.0, abs=1.0)  # level at its top: grows by the spread


def test_lowering_the_underarm_lets_both_armholes_follow_a_wider_sleeve():
    after = altered("I02", 15.0, dress(), "armhole lowered")
    holes = sewn(after, ("front bodice", "back bodice"), "armhole") - sewn(
        dress(), ("front bodice", "back bodice"), "armhole"
    )
    cap = sewn(after, ("sleeve",), "cap") - sewn(dress(), ("sleeve",), "cap")
    assert holes == pytest.approx(cap, abs=0.03)


@pytest.mark.parametrize("by", [10.0, 12.7, 20.0])
def test_an_elbow_dart_takes_up_just_what_the_back_seam_is_longer(by):
    after = altered("I06", by, dress()).piece("sleeve")
    assert after.sewn_length_mm("back underarm") == pytest.approx(after.sewn_length_mm("front underarm"), abs=1e-6)
    (dart,) = after.darts
    assert after.intake_mm(dart) == pytest.approx(by, abs=0.1 * by)
    legs = after.legs_mm(dart)
    assert legs[0] == pytest.approx(legs[1], abs=1e-6)


@pytest.mark.parametrize("by", [-20.0, 15.0, 40.0])
def test_a_forearm_swung_out_gains_the_amount_at_the_hem_and_keeps_biceps_and_seams(by):
    before, after = (Panel(pattern.piece("sleeve")) for pattern in (dress(), altered("I05", by, dress())))
    ends = [(panel.piece.edge("hem").start, panel.piece.edge("hem").end) for panel in (before, after)]
    assert biceps_mm(after) == pytest.approx(biceps_mm(before), abs=1e-6)
    old, new = (distance_mm(*pair) for pair in ends)
    assert new - old == pytest.approx(by, abs=0.02 * abs(by))
    assert after.piece.edge("cap") == before.piece.edge("cap")


@pytest.mark.parametrize("by", [-3.0, 2.0, 4.0])
def test_a_cap_seam_grows_by_about_twice_the_opening_times_the_sine_of_its_slope(by):
    # own arithmetic on straight cap edges: 2 d sin(slope)
    piece = sleeve(cap_mm=130.0)
    straight = frozen_points([(150.0, 0.0), (0.0, 130.0), (-150.0, 0.0)])
    edges = tuple(Edge(edge.id, straight, edge.role) if edge.role is EdgeRole.CAP else edge for edge in piece.edges)
    piece = Piece("sleeve", edges, grain=piece.grain, marks=piece.marks)
    after = altered("I07", by, Pattern((piece,))).pieces[0]
    slope = math.atan2(130.0, 150.0)
    grown = after.edge("cap").length_mm - piece.edge("cap").length_mm
    assert grown == pytest.approx(2 * by * math.sin(slope), rel=0.04)


@pytest.mark.parametrize("variant", ["tuck across", "tuck down the middle", "top lowered", "at the underarm"])
@pytest.mark.parametrize("size", SIZES)
def test_cap_ease_is_taken_out_by_just_the_amount(variant, size):
    cap = sewn(altered("I08", 6.0, dress(size), variant), ("sleeve",), "cap")
    assert cap - sewn(dress(size), ("sleeve",), "cap") == pytest.approx(-6.0, abs=0.03)


@pytest.mark.parametrize("by", [-8.0, 8.0])
def test_pitch_moves_every_notch_of_the_cap_and_no_line(by):
    before, after = dress().piece("sleeve"), altered("I09", by, dress()).piece("sleeve")
    assert after.edges == before.edges
    for notch in before.notches_on("cap"):  # the cap runs from its back to its front
        assert after.notch(notch.id).at_mm - notch.at_mm == pytest.approx(-by)


# --- trousers


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("hem_in", "front_in", "back_in"), [(17.0, 4.0, 4.5), (16.0, 3.75, 4.25), (20.0, 4.75, 5.25)])
def test_a_hem_of_17_inches_is_4_inches_each_side_of_the_crease_in_front_and_4_and_a_half_behind(
    size, hem_in, front_in, back_in
):
    # (hem - 1) / 4 and (hem + 1) / 4: Threads, easy ways to taper trousers
    now = sum(trousers(size).piece(name).edge("hem").length_mm for name in LEGS)
    after = altered("J12", amount_for("J12", hem_in * IN - now), trousers(size))
    for name, each_side in zip(LEGS, (front_in, back_in), strict=True):
        hem = after.piece(name).edge("hem")
        assert sorted(abs(x) for x in hem.points[[0, -1], 0]) == pytest.approx([each_side * IN] * 2, abs=1e-6)
    assert sum(after.piece(name).edge("hem").length_mm for name in LEGS) == pytest.approx(hem_in * IN, abs=1e-6)


@pytest.mark.parametrize("variant", ["back", "front and back"])
@pytest.mark.parametrize(("code", "sign"), [("J01", 1.0), ("J02", -1.0)])
def test_the_crotch_seam_changes_by_body_and_ease_less_pattern(variant, code, sign):
    # body 26 in, ease 1 1/2 in, pattern 27 in (or 28 in): 1/2 in longer or shorter in all (own arithmetic)
    by = amount_for(code, sign * (26 + 1.5 - (27 if sign > 0 else 28)) * IN)
    after = altered(code, by, trousers(), variant)
    crotch = sewn(after, LEGS, "crotch") - sewn(trousers(), LEGS, "crotch")
    assert crotch == pytest.approx(sign * IN / 2, abs=1e-6)
    for name in LEGS:
        inseam = after.piece(name).sewn_length_mm("inseam") - trousers().piece(name).sewn_length_mm("inseam")
        assert inseam == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("variant", "by"), [("wedge", -10.0), ("wedge", 25.4), ("curve hollowed", 12.7)])
def test_a_roping_seat_seam_grows_by_just_the_amount(variant, by):
    after = altered("J13", by, trousers(), variant).piece("back trousers")
    grown = after.sewn_length_mm("crotch") - trousers().piece("back trousers").sewn_length_mm("crotch")
    assert grown == pytest.approx(by, abs=0.03)


def test_a_curve_cannot_be_flattened_below_the_straight_line():
    with pytest.raises(StepError, match='The crotch of "back trousers" cannot be made 20 mm shorter in this way'):
        altered("J13", -20.0, trousers(), "curve hollowed")


@pytest.mark.parametrize("by", [-12.7, 6.35, 12.7])
@pytest.mark.parametrize("variant", ["below the knee", "from the crotch"])
def test_a_leg_moved_sideways_keeps_its_width_at_every_level(by, variant):
    # tailors give width at the bottom of one long seam and take the same off the other (Hertzer, p. 20)
    after = altered("J08", by, trousers(), variant)
    for name in LEGS:
        before, now = trousers().piece(name), after.piece(name)
        for y in (-420.0, -550.0, -700.0, -779.0):
            assert width_at(now, y) == pytest.approx(width_at(before, y), abs=0.02)
        out = 1.0 if name == "front trousers" else -1.0  # the back lies with its side to the left
        assert now.edge("hem").start[0] - before.edge("hem").start[0] == pytest.approx(out * by)
        assert now.edge("hem").start[1] == now.edge("hem").end[1]


@pytest.mark.parametrize("by", [-10.0, 12.7])
def test_inner_thighs_are_let_out_by_half_of_the_difference_on_each_inseam(by):
    assert amount_for("J07", 2 * by) == pytest.approx(by)
    after = altered("J07", by, trousers(), "inner thigh")
    for name in LEGS:
        before, now = trousers().piece(name), after.piece(name)
        out = 1.0 if name == "front trousers" else -1.0
        corners = [Panel(piece).point(landmark(Panel(piece), "crotch point")) for piece in (before, now)]
        assert out * (corners[0][0] - corners[1][0]) == pytest.approx(by, abs=1e-6)
        assert now.sewn_length_mm("inseam") == pytest.approx(before.sewn_length_mm("inseam"), abs=1e-5)


def test_a_hip_let_out_at_the_seat_seam_puts_the_difference_on_two_edges():
    after = altered("J10", 12.7, trousers(), "seat seam")
    piece, back = trousers().piece("back trousers"), after.piece("back trousers")
    _, hip_y = piece.notch_point(piece.notch("hip"))
    assert 2 * (width_at(back, hip_y) - width_at(piece, hip_y)) == pytest.approx(IN, abs=1e-6)
    assert back.sewn_length_mm("waist") - piece.sewn_length_mm("waist") == pytest.approx(12.7, abs=1e-6)
    band = after.piece("waistband").edge("waist").length_mm - trousers().piece("waistband").edge("waist").length_mm
    assert band == pytest.approx(12.7, abs=1e-6)
