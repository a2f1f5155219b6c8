"""The worked full-bust example: a half front given by six points, its results from the closed form of the turn.

Figures: own arithmetic from the stated points, rounded to 0.01 mm; the construction is the historic one of
"Use Of Patterns", part 7 (public domain), with the hinge on the armhole seam as common practice, no source.
"""

import math
from dataclasses import replace

import pytest

from geometry.alterations.anchors import Anchor, On, free, on_edge
from geometry.alterations.full_bust import FullBust, bust_spread, bust_turn
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import ARMHOLE_HINGE, BUST, SIDE_MOUTH, UNDERARM, half_front

BY_SPREAD = [  # spread per half, turn in degrees, length added, opening gained at the mouth of the side dart
    (6.35, 3.247, 4.07, 8.29),
    (12.7, 6.386, 7.66, 16.31),
    (19.05, 9.437, 10.81, 24.08),
    (25.4, 12.414, 13.55, 31.65),
]


def full_bust(amount_mm, side=None):
    return FullBust(
        "front bodice",
        amount_mm,
        bust_point=Anchor(On.LANDMARK, "bust point"),
        armhole=free(ARMHOLE_HINGE),
        side=side or free(SIDE_MOUTH),
        waist=free((90.0, 0.0)),
        centre=on_edge("centre front", 0.8),
    )


def dartless():
    """The half front with its side dart taken out of the model; the side then runs through the mouth's middle."""
    piece = half_front()
    return replace(piece, darts=tuple(dart for dart in piece.darts if dart.id != "side dart"))


@pytest.mark.parametrize(("spread", "degrees", "longer", "opening"), BY_SPREAD)
def test_turn_length_and_dart_of_the_worked_half_front(spread, degrees, longer, opening):
    turn = bust_turn((BUST[0] - ARMHOLE_HINGE[0], BUST[1] - ARMHOLE_HINGE[1]), spread)
    assert math.degrees(turn.angle_rad) == pytest.approx(degrees, abs=0.0006)
    assert turn.down_mm == pytest.approx(longer, abs=0.006)
    _, joined = bust_spread(dartless(), full_bust(spread))
    piece = joined.piece
    assert piece.edge("centre front").length_mm - 350.0 == pytest.approx(longer, abs=0.006)
    new = piece.dart("side dart")
    assert piece.intake_mm(new) == pytest.approx(opening, abs=0.006)


@pytest.mark.parametrize("spread", [row[0] for row in BY_SPREAD])
def test_shoulder_neck_armhole_and_folded_side_keep_their_length(spread):
    before = half_front()
    after = bust_spread(before, full_bust(spread))[1].piece
    for edge_id in ("shoulder", "neck", "armhole", "side"):
        assert after.sewn_length_mm(edge_id) == pytest.approx(before.sewn_length_mm(edge_id), abs=1e-6)


@pytest.mark.parametrize("spread", [row[0] for row in BY_SPREAD])
def test_the_bust_and_the_waist_grow_by_the_spread_and_the_waist_dart_takes_it(spread):
    before = half_front()
    after = bust_spread(before, full_bust(spread))[1].piece
    waist_dart = after.dart("waist dart")
    assert after.intake_mm(waist_dart) - before.intake_mm(before.dart("waist dart")) == pytest.approx(spread, abs=1e-6)
    assert after.edge("waist").length_mm - before.edge("waist").length_mm == pytest.approx(spread, abs=1e-6)


def test_the_underarm_moves_out_and_up_as_the_turn_says():
    after = bust_spread(half_front(), full_bust(12.7))[1].piece
    x, y = after.edge("armhole").start
    assert (x - UNDERARM[0], y - UNDERARM[1]) == pytest.approx((9.54, 8.90), abs=0.006)


def test_the_two_edges_of_the_vertical_slash_stay_parallel():
    parts, _ = bust_spread(half_front(), full_bust(25.4))
    waist, level, bust = parts.lines[0][:3]
    assert waist[0] == level[0] == bust[0] == 90.0
    after = bust_spread(half_front(), full_bust(25.4))[1].piece
    a, b = after.mouth(after.dart("waist dart"))
    assert a[1] == pytest.approx(b[1], abs=1e-6)


def test_dart_legs_stay_equal_and_the_tips_keep_their_stand_off():
    before = half_front()
    after = bust_spread(before, full_bust(12.7))[1].piece
    for dart in after.darts:
        assert after.legs_mm(dart)[0] == pytest.approx(after.legs_mm(dart)[1], abs=1e-6)
        old = before.dart(dart.id)
        assert math.dist(dart.tip, dart.aim) == pytest.approx(math.dist(old.tip, old.aim), abs=1e-6)


def test_a_small_bust_is_the_same_alteration_with_a_negative_spread():
    before = half_front()
    after = bust_spread(before, full_bust(-12.7))[1].piece
    assert after.intake_mm(after.dart("side dart")) < before.intake_mm(before.dart("side dart"))
    assert after.edge("centre front").length_mm < 350.0
    assert after.sewn_length_mm("armhole") == pytest.approx(before.sewn_length_mm("armhole"), abs=1e-6)


def test_trueing_changes_the_armhole_by_less_than_an_eighth_of_an_inch():
    # 1/8 in: Threads, "10 patternwork skills" (2020), the accuracy that suits many
    outcome = full_bust(25.4).apply(Pattern((half_front(),)))
    changes = {change.edge: change.change_mm for change in outcome.changes}
    assert abs(changes["armhole"]) < 3.175
    assert changes["shoulder"] == 0.0


def test_lines_that_do_not_part_the_front_are_refused_with_what_is_needed():
    with pytest.raises(StepError, match="smaller amount or a hinge higher"):
        full_bust(400.0).apply(Pattern((half_front(),)))
    with pytest.raises(StepError, match="below the bust point and above the waist"):
        replace(full_bust(12.7), centre=on_edge("centre front", 0.1)).apply(Pattern((half_front(),)))
