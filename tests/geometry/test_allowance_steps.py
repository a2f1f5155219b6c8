"""Allowances set edge by edge: the stitching line stays, the cutting line stands off by the width."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.allowance import cutting_line
from geometry.alterations.allowance_steps import SetAllowance
from geometry.curves import polyline
from geometry.errors import MissingPartError, StepError
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import rectangle

PATTERN = Pattern((rectangle(),))


def done(pattern, *steps):
    for step in steps:
        pattern = step.apply(pattern).pattern
    return pattern.pieces[0]


@given(hem=st.floats(0.0, 75.0), side=st.floats(0.0, 25.4))
def test_the_cutting_line_stands_off_each_edge_by_its_own_width(hem, side):
    # hems of straight skirts 2 to 3 in, fitting seams 1 in (common practice, from memory)
    after = done(PATTERN, SetAllowance("panel", "hem", hem), SetAllowance("panel", "side", side))
    x0, y0, x1, y1 = after.bounds_mm
    low, high = cutting_line(after).min(axis=0), cutting_line(after).max(axis=0)
    assert (low[1], high[0]) == pytest.approx((y0 - hem, x1 + side), abs=1e-6)
    assert high[1] == pytest.approx(y1 + rectangle().edge("waist").allowance_mm)
    assert x0 == 0.0


def test_only_the_width_of_that_edge_changes():
    piece = rectangle()
    after = done(Pattern((piece,)), SetAllowance("panel", "hem", 50.8))
    assert after.edge("hem").allowance_mm == 50.8
    assert np.array_equal(after.outline, piece.outline)
    assert [edge is old for edge, old in zip(after.edges, piece.edges, strict=True)] == [False, True, True, True]
    assert polyline.length_mm(after.edge("hem").points) == 400.0


def test_the_width_an_edge_has_changes_nothing():
    step = SetAllowance("panel", "hem", PATTERN.pieces[0].edge("hem").allowance_mm)
    assert step.apply(PATTERN).pattern is PATTERN
    assert step.with_amount_mm(step.amount_mm) == step


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (SetAllowance("panel", "hem", -1.0), '"hem" of "panel" cannot be -1 mm'),
        (SetAllowance("panel", "centre front", 15.0), '"centre front" of "panel" lies on the fold'),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    with pytest.raises(StepError, match=words):
        step.apply(PATTERN)


def test_an_edge_that_is_not_there_is_named():
    with pytest.raises(MissingPartError, match='"panel" has no edge called "yoke"'):
        SetAllowance("panel", "yoke", 10.0).apply(PATTERN)
