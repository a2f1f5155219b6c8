"""The worked upper-arm example: cap quarters as rigid parts turning about the cap top. Own arithmetic from the stated
half width and cap height; that the cap seam is kept is the point of the cross slash (HERR 32 lists the alteration)."""

import math

import pytest

from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.upper_arm import UpperArm, arm_spread
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import sleeve

CASES = [  # cap height, spread in all, turn in degrees, new full width, cap height lost
    (130.0, 12.7, 2.800, 312.3, 7.5),
    (130.0, 25.4, 5.606, 324.0, 15.3),
    (130.0, 38.1, 8.426, 334.9, 23.4),
    (150.0, 25.4, 4.857, 324.3, 13.2),
]


def upper_arm(amount_mm):
    return UpperArm(
        "sleeve",
        amount_mm,
        top=Anchor(On.LANDMARK, "cap top"),
        hem=on_edge("hem", 0.5),
        front=on_edge("front underarm", 0.0),
        back=on_edge("back underarm", 1.0),
    )


@pytest.mark.parametrize(("cap", "spread", "degrees", "width", "lost"), CASES)
def test_turn_width_and_lost_cap_height_of_the_worked_sleeve(cap, spread, degrees, width, lost):
    before = sleeve(cap_mm=cap)
    after = arm_spread(before, upper_arm(spread))[1].piece
    back, front = after.edge("cap").start, after.edge("cap").end
    assert back[0] - front[0] == pytest.approx(width, abs=0.06)
    assert cap - (after.landmark("cap top")[1] - back[1]) == pytest.approx(lost, abs=0.06)
    turned = math.atan2(back[0], cap - back[1]) - math.atan2(150.0, cap)  # of the diagonal from cap top to underarm
    assert math.degrees(turned) == pytest.approx(degrees, abs=0.001)


@pytest.mark.parametrize(("cap", "spread"), [(row[0], row[1]) for row in CASES])
def test_the_cap_seam_the_hem_and_both_underarm_seams_keep_their_length(cap, spread):
    before = sleeve(cap_mm=cap)
    after = arm_spread(before, upper_arm(spread))[1].piece
    for edge in before.edges:
        assert after.edge(edge.id).length_mm == pytest.approx(edge.length_mm, abs=1e-6)


def test_trueing_changes_the_cap_by_less_than_a_sixteenth_of_an_inch():
    # 1/16 in: Threads, "10 patternwork skills" (2020), a professional fitter's accuracy
    outcome = upper_arm(25.4).apply(Pattern((sleeve(),)))
    changes = {change.edge: change.change_mm for change in outcome.changes}
    assert abs(changes["cap"]) < 1.5875
    assert changes["front underarm"] == pytest.approx(changes["back underarm"], abs=1e-6)


def test_the_grain_stays_upright_in_the_middle():
    grain = arm_spread(sleeve(), upper_arm(25.4))[1].piece.grain
    assert grain.start[0] == pytest.approx(grain.end[0], abs=1e-6)


def test_a_cap_too_low_for_the_amount_is_refused():
    with pytest.raises(StepError, match="cannot open by 300 mm"):
        upper_arm(300.0).apply(Pattern((sleeve(),)))
