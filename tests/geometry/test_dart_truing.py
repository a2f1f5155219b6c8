"""A dart whose legs differ is drawn with equal ones; nothing is sewn longer or shorter."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.alterations.dart_truing import TrueDart
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import half_front


@given(dx=st.floats(-15.0, 15.0))
def test_legs_become_equal_while_the_tip_and_the_sewn_length_stay(dx):
    front = half_front()
    dart = front.dart("waist dart")
    crooked = replace(front, darts=(front.dart("side dart"), replace(dart, tip=(dart.tip[0] + dx, dart.tip[1]))))
    after = TrueDart(front.name, dart.id).apply(Pattern((crooked,))).pattern.pieces[0]
    one, other = after.legs_mm(after.dart(dart.id))
    assert one == pytest.approx(other, abs=1e-6)
    assert after.dart(dart.id).tip == crooked.dart(dart.id).tip
    assert after.sewn_length_mm("waist") == pytest.approx(front.sewn_length_mm("waist"), abs=1e-6)


def test_a_dart_with_equal_legs_is_left_alone():
    pattern = Pattern((half_front(),))
    assert TrueDart("front bodice", "waist dart").apply(pattern).pattern is pattern
