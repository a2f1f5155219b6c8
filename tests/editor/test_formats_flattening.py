import cmath
import math

import numpy as np
import pytest

from editor.formats.flattening import bulge_points, bulged_path, ellipse_points
from tests.editor.formats_files import distance_to_run

LADDER = (1.0, 0.1, 0.01, 0.001)


@pytest.mark.parametrize("within", LADDER)
@pytest.mark.parametrize("sweep_deg", [15, 90, -200, 360])
def test_arc_points_lie_on_the_circle_and_chords_within_the_stated_distance(sweep_deg: float, within: float) -> None:
    points = ellipse_points((5, -3), (250, 0), (0, 250), 0.4, math.radians(sweep_deg), within=within)
    assert np.hypot(*(points - (5, -3)).T) == pytest.approx(np.full(len(points), 250.0), abs=1e-9)
    half_steps = np.hypot(*np.diff(points, axis=0).T) / 2
    assert (250 - np.sqrt(250**2 - half_steps**2)).max() <= within * (1 + 1e-9)
    length = 250 * math.radians(abs(sweep_deg))
    assert np.hypot(*np.diff(points, axis=0).T).sum() == pytest.approx(length, rel=within / 50)


@pytest.mark.parametrize("within", LADDER)
def test_ellipse_chords_stay_within_the_stated_distance(within: float) -> None:
    points = ellipse_points((0, 0), (300, 0), (0, 60), 0, math.tau, within=within)
    assert ((points / (300, 60)) ** 2).sum(axis=1) == pytest.approx(np.ones(len(points)))
    dense = np.linspace(0, math.tau, 20001)[1:-1]
    truth = np.column_stack((300 * np.cos(dense), 60 * np.sin(dense)))[::7]
    assert distance_to_run(truth, points).max() <= within * (1 + 1e-6)


@pytest.mark.parametrize("bulge", [1.0, -1.0, 0.2, -0.2, math.tan(math.pi / 8), 3.0])
def test_bulge_points_see_both_ends_under_the_angle_of_the_arc(bulge: float) -> None:
    """The angle at the circumference is half the angle of the rest of the arc: pi - 2 atan|bulge|."""
    start, end = (10.0, 20.0), (70.0, -5.0)
    points = bulge_points(start, end, bulge, within=0.01)
    assert len(points) > 3
    for x, y in points:
        seen = cmath.phase((complex(*end) - complex(x, y)) / (complex(*start) - complex(x, y)))
        assert abs(seen) == pytest.approx(math.pi - 2 * math.atan(abs(bulge)), abs=1e-9)
        assert math.copysign(1, seen) == math.copysign(1, -bulge) or abs(bulge) > 1


def test_positive_bulge_bows_out_on_the_right_of_the_way() -> None:
    """Counter-clockwise from start to end: the half circle from (0, 0) to (10, 0) with bulge 1 dips to y = -5."""
    points = bulge_points((0, 0), (10, 0), 1.0, within=0.001)
    assert points[:, 1].min() == pytest.approx(-5, abs=0.001)
    assert points[:, 1].max() < 0


def test_closing_segment_of_a_closed_path_keeps_its_bulge() -> None:
    """Two half circles make a whole one: area pi r^2."""
    points = bulged_path(np.array([[0.0, 0.0], [20.0, 0.0]]), [1.0, 1.0], True, within=0.0001)
    x, y = points.T
    area = (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
    assert area == pytest.approx(math.pi * 100, rel=1e-4)


def test_last_bulge_of_an_open_path_draws_nothing() -> None:
    points = bulged_path(np.array([[0.0, 0.0], [20.0, 0.0]]), [0.0, 1.0], False, within=0.01)
    assert points.tolist() == [[0, 0], [20, 0]]


def test_huge_radius_is_capped() -> None:
    assert len(ellipse_points((0, 0), (1e9, 0), (0, 1e9), 0, math.tau, within=1e-6)) <= 4097
