"""Blends against scipy's Bézier basis and the conditions they promise."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import BPoly

from geometry.affine import frozen_points
from geometry.curves import polyline
from geometry.curves.smooth import blended, blended_as_long, bridge


def test_a_bridge_is_the_cubic_with_handles_a_third_of_the_distance_long():
    chain = bridge((0.0, 0.0), (1.0, 0.0), (90.0, 30.0), (0.0, 1.0))
    third = np.hypot(90.0, 30.0) / 3
    control = np.array([(0.0, 0.0), (third, 0.0), (90.0, 30.0 - third), (90.0, 30.0)])
    exact = BPoly(control[:, None, :], [0.0, 1.0])(np.linspace(0.0, 1.0, len(chain)))
    assert np.allclose(chain, exact, atol=1e-9)


@given(turn=st.floats(-0.6, 0.6), reach=st.floats(5.0, 60.0))
def test_a_blended_corner_has_no_corner_left_and_keeps_what_lies_beyond_its_reach(turn, reach):
    ahead = np.array([np.cos(turn), np.sin(turn)])
    broken = frozen_points(np.vstack([np.linspace((-100, 0), (0, 0), 21), np.linspace(5, 100, 20)[:, None] * ahead]))
    smooth = blended(broken, 100.0 - reach, 100.0 + reach)
    steps = np.diff(smooth, axis=0)
    angles = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
    assert angles.max() < 0.35 * abs(turn) + 1e-6
    beyond = [
        tuple(point) for point, at in zip(broken, polyline.stations_mm(broken), strict=True) if abs(at - 100) > reach
    ]
    assert max((polyline.nearest(smooth, place)[1] for place in beyond), default=0.0) < 1e-9


def test_a_straight_chain_stays_straight():
    line = frozen_points([(0, 0), (40, 30), (80, 60)])
    smooth = blended(line, 20.0, 80.0)
    assert polyline.offset_from_chord_mm(smooth) < 1e-9
    assert polyline.length_mm(smooth) == pytest.approx(100.0)


def test_a_blend_over_the_whole_chain_keeps_its_ends():
    corner = frozen_points([(0, 0), (50, 0), (50, 50)])
    smooth = blended(corner, 0.0, 100.0)
    assert tuple(smooth[0]) == (0, 0)
    assert tuple(smooth[-1]) == (50, 50)
    assert not (np.hypot(*np.diff(smooth, axis=0).T) < 1e-9).any()


@given(turn=st.floats(-0.3, 0.3), reach=st.floats(5.0, 60.0))
def test_a_blend_can_be_as_long_as_what_it_replaces(turn, reach):
    ahead = np.array([np.cos(turn), np.sin(turn)])
    broken = frozen_points([(-100.0, 0.0), (0.0, 0.0), tuple(100.0 * ahead)])
    smooth = blended_as_long(broken, 100.0 - reach, 100.0 + reach)
    assert polyline.length_mm(smooth) == pytest.approx(200.0, abs=1e-6)
    steps = np.diff(smooth, axis=0)
    angles = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
    assert angles.max() <= 0.6 * abs(turn) + 1e-6


def test_a_blend_of_nothing_is_the_chain_itself():
    chain = frozen_points([(0.0, 0.0), (50.0, 0.0), (50.0, 50.0)])
    assert blended_as_long(chain, 50.0, 50.0) is chain
