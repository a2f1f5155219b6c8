"""Corners of drawn and traced outlines, and traces drawn clean."""

import math

import numpy as np
import pytest

from geometry.affine import frozen_points
from geometry.curves import polyline
from geometry.curves.corners import drawn_corners, is_rough, resampled, roughness_mm, traced_corners
from geometry.curves.retrace import retraced, thinned


def cubic(p0, p1, p2, p3, count=30):
    t = np.linspace(0, 1, count)[:, None]
    return (
        (1 - t) ** 3 * np.array(p0)
        + 3 * (1 - t) ** 2 * t * np.array(p1)
        + 3 * (1 - t) * t**2 * np.array(p2)
        + t**3 * np.array(p3)
    )


CORNERS = [(0, 0), (225, 10), (240, 210), (190, 400), (75, 425), (0, 345)]


def bodice():
    """A front: waist bowed a little, straight side, armhole and neck smooth curves."""
    waist = cubic(CORNERS[0], (70, -4), (150, -2), CORNERS[1])
    armhole = cubic(CORNERS[2], (170, 215), (165, 310), CORNERS[3], 45)
    neck = cubic(CORNERS[4], (70, 370), (40, 345), CORNERS[5])
    return frozen_points(np.vstack([waist, armhole, neck]))


def shaken(ring, seed, by_mm):
    samples, _ = resampled(ring)
    return frozen_points(samples + np.random.default_rng(seed).uniform(-by_mm, by_mm, samples.shape))


def circle(radius, count):
    angles = np.linspace(0, 2 * math.pi, count, endpoint=False)
    return frozen_points(np.column_stack([radius * np.cos(angles), radius * np.sin(angles)]))


def test_rectangle_has_its_four_corners():
    assert drawn_corners(frozen_points([(0, 0), (200, 0), (200, 100), (0, 100)])) == (0, 1, 2, 3)


def test_points_along_straight_sides_are_no_corners():
    ring = frozen_points([(0, 0), (50, 0), (200, 0), (200, 60), (200, 100), (120, 100), (0, 100), (0, 40)])
    assert drawn_corners(ring) == (0, 2, 4, 6)


def test_bodice_has_its_six_corners_and_none_in_armhole_or_neck():
    ring = bodice()
    assert ring[list(drawn_corners(ring))].round(6).tolist() == [list(map(float, c)) for c in CORNERS]


@pytest.mark.parametrize("interior_deg", [50, 95, 100, 120, 140])
def test_shallow_and_sharp_corners_are_found(interior_deg):
    turn = math.radians(180 - interior_deg)
    ring = frozen_points([(0, 0), (100, 0), (100 + 90 * math.cos(turn), 90 * math.sin(turn)), (-20, 150)])
    assert 1 in drawn_corners(ring)


def test_corner_cut_off_by_a_mended_gap_still_counts_once():
    ring = frozen_points([(0, 0), (99.8, 0), (100, 0.2), (100, 100), (0, 100)])
    found = ring[list(drawn_corners(ring))]
    assert len(found) == 4
    assert np.hypot(*(found - [100, 0]).T).min() <= 0.2


@pytest.mark.parametrize("radius", [15, 40, 300])
@pytest.mark.parametrize("count", [24, 90, 400])
def test_circle_has_no_corner(radius, count):
    assert drawn_corners(circle(radius, count)) == ()


def test_drawn_curves_are_not_rough_and_traces_are():
    assert roughness_mm(bodice()) < 1e-3
    assert not is_rough(circle(60, 500))
    assert is_rough(shaken(bodice(), 1, 0.05))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("by_mm", [0.05, 0.1])
def test_trace_has_the_corners_of_what_was_traced(seed, by_mm):
    ring = shaken(bodice(), seed, by_mm)
    closed = frozen_points(np.vstack([ring, ring[:1]]))
    places = np.array([polyline.point_at(closed, at) for at in traced_corners(ring)])
    assert len(places) == len(CORNERS)
    for corner in CORNERS:
        assert np.hypot(*(places - corner).T).min() < 2.0


@pytest.mark.parametrize("seed", range(6))
def test_bend_of_small_radius_on_a_trace_is_no_corner(seed):
    assert traced_corners(shaken(circle(20, 300), seed, 0.05)) == ()


@pytest.mark.parametrize("seed", range(6))
def test_trace_drawn_clean_has_the_lengths_of_what_was_traced(seed):
    true = bodice()
    clean = retraced(shaken(true, seed, 0.1))
    assert clean.straightened == 3
    assert clean.smoothed == 3
    assert clean.moved_mm < 0.3
    cuts = [int(np.argmin(np.hypot(*(true - corner).T))) for corner in CORNERS]
    for cut, end in zip(cuts, [*cuts[1:], len(true)], strict=True):
        part = np.vstack([true, true[:1]])[cut : end + 1]
        same = min(clean.chains, key=lambda chain: float(np.hypot(*(chain[0] - part[0]))))
        np.testing.assert_allclose(same[0], part[0], atol=0.3)
        assert polyline.length_mm(same) == pytest.approx(polyline.length_mm(frozen_points(part)), abs=0.5)


def test_round_trace_is_cut_in_two_curves():
    clean = retraced(shaken(circle(60, 300), 3, 0.05))
    assert len(clean.chains) == 2
    assert sum(polyline.length_mm(chain) for chain in clean.chains) == pytest.approx(120 * math.pi, abs=0.5)


def test_thinning_keeps_within_the_distance_and_the_ends():
    chain = cubic((0, 0), (30, 80), (90, -40), (120, 30), 400)
    thin = thinned(frozen_points(chain), within_mm=0.1)
    assert len(thin) < 60
    np.testing.assert_array_equal(thin[[0, -1]], chain[[0, -1]])
    assert max(polyline.nearest(thin, tuple(point))[1] for point in chain.tolist()) <= 0.1
