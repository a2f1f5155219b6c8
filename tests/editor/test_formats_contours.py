import itertools
import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import cKDTree
from shapely.geometry import Point, Polygon

from editor.formats.contours import chain, drop_doubled, inside, outermost
from editor.formats.end_joining import near_pairs
from editor.formats.flattening import ellipse_points
from geometry.affine import Points, frozen_points

RECTANGLE = ((0, 0), (80, 0), (120, 0), (200, 0), (200, 300), (0, 300))
"""200 x 300 mm with the mouth of a dart, from (80, 0) to (120, 0), in its lower side."""
DART = ((80, 0), (100, 90), (120, 0))
TICK = ((0, 150), (6, 150))
GRAIN = ((60, 120), (60, 250))


def sampled(points: Any, *, step: float, closed: bool = False) -> Points:
    """Points about every ``step`` mm along a run of straight stretches, its corners kept."""
    corners = np.asarray([*points, points[0]] if closed else points, dtype=float)
    runs = []
    for start, end in itertools.pairwise(corners):
        count = max(1, round(math.dist(start, end) / step))
        runs.append(start + (end - start) * np.arange(count)[:, None] / count)
    return np.concatenate([*runs, corners[-1:]])


def segments(points: Points) -> list[Points]:
    return [points[at : at + 2] for at in range(len(points) - 1)]


def shuffled(paths: Sequence[Points], rng: np.random.Generator, *, shake: float = 0.0) -> list[Points]:
    """The paths in random order and direction; each end moved by up to ``shake`` in x and in y."""
    moved = [paths[at] + rng.uniform(-shake, shake, (len(paths[at]), 2)) for at in rng.permutation(len(paths))]
    return [path[::-1] if rng.random() < 0.5 else path for path in moved]


def trace(step: float) -> list[Points]:
    lines = [sampled(RECTANGLE, step=step, closed=True), *(sampled(line, step=step) for line in (DART, TICK, GRAIN))]
    return [segment for line in lines for segment in segments(line)]


def area(points: Points) -> float:
    return float(Polygon(points).area)


@pytest.mark.parametrize("step", [1000.0, 1.0])
@pytest.mark.parametrize("seed", range(4))
def test_segments_in_any_order_close_and_inner_runs_stay_open(seed: int, step: float) -> None:
    chained = chain(shuffled(trace(step), np.random.default_rng(seed)), gap_mm=0.5)
    (outline,) = chained.contours
    assert area(outline) == pytest.approx(200 * 300, abs=1e-6)
    assert outline[0].tolist() == [0, 0]
    ends = [(tuple(line[0].tolist()), tuple(line[-1].tolist())) for line in chained.lines]
    assert ends == [((0, 150), (6, 150)), ((60, 120), (60, 250)), ((80, 0), (120, 0))]
    assert chained.lines[2].max(axis=0).tolist() == [120, 90]
    assert (chained.gap_count, chained.largest_gap_mm) == (0, 0)


@pytest.mark.parametrize("seed", range(6))
def test_digitised_trace_with_ends_apart_closes(seed: int) -> None:
    """1 mm sampling, ends up to 0.2 mm apart, everything in random order."""
    chained = chain(shuffled(trace(1.0), np.random.default_rng(seed), shake=0.07), gap_mm=0.5)
    (outline,) = chained.contours
    assert area(outline) == pytest.approx(200 * 300, abs=40)
    assert Polygon(outline).is_valid
    assert len(chained.lines) == 3
    dart = max(chained.lines, key=len)
    assert dart[:, 1].max() == pytest.approx(90, abs=0.2)
    assert 0.1 < chained.largest_gap_mm <= math.hypot(0.14, 0.14)
    assert chained.gap_count > 1000


@given(st.randoms(use_true_random=False))
def test_order_and_direction_do_not_matter(random: Any) -> None:
    paths = trace(40.0)
    expected = chain(paths, gap_mm=0.5)
    mixed = [path[::-1] if random.random() < 0.5 else path for path in random.sample(paths, len(paths))]
    result = chain(mixed, gap_mm=0.5)
    for one, other in zip((*result.contours, *result.lines), (*expected.contours, *expected.lines), strict=True):
        assert one == pytest.approx(other)


@pytest.mark.parametrize(("gap", "allowed", "closes"), [(0.3, 0.5, True), (0.3, 0.2, False), (1.9, 2.0, True)])
def test_gap_closes_only_within_the_stated_tolerance(gap: float, allowed: float, closes: bool) -> None:
    lines = [np.array(line, dtype=float) for line in ([(0, 0), (90, 0)], [(90, 0), (90, 50)], [(90, 50), (gap, 0)])]
    chained = chain(lines, gap_mm=allowed)
    assert len(chained.contours) == closes
    assert len(chained.lines) == (not closes)
    if closes:
        assert chained.contours[0][0].tolist() == [gap / 2, 0]
        assert (chained.gap_count, chained.largest_gap_mm) == (1, pytest.approx(gap))


def test_nearer_end_wins_over_one_that_is_within_tolerance_too() -> None:
    square = sampled([(0, 0), (50, 0), (50, 50), (0, 50)], step=1000, closed=True)
    stranger = np.array([[0.4, -0.3], [-60, -60]])
    chained = chain([*segments(square), stranger], gap_mm=1.0)
    assert area(chained.contours[0]) == pytest.approx(2500)
    assert len(chained.lines) == 1


def test_narrow_dart_tip_in_the_outline_is_not_drawn_together() -> None:
    """Legs 4 degrees apart, sampled each mm: near the tip points of both legs are nearer than the tolerance."""
    outline = [(0, 0), (90, 0), (93, 85), (96, 0), (200, 0), (200, 300), (0, 300)]
    paths = segments(sampled(outline, step=1.0, closed=True))
    (contour,) = chain(shuffled(paths, np.random.default_rng(1)), gap_mm=1.0).contours
    assert area(contour) == pytest.approx(200 * 300 - 3 * 85)


def test_arcs_and_lines_make_one_contour() -> None:
    """A stadium: two lines and two half circles of radius 50, area 100 x 200 + pi 50^2."""
    arcs = [
        ellipse_points((x, 50), (50, 0), (0, 50), start, math.pi, within=1e-4)
        for x, start in ((200, -math.pi / 2), (0, math.pi / 2))
    ]
    lines = [np.array([[0.0, 0.0], [200.0, 0.0]]), np.array([[0.0, 100.0], [200.0, 100.0]])]
    (contour,) = chain([*arcs, *lines], gap_mm=0.1).contours
    assert area(contour) == pytest.approx(100 * 200 + math.pi * 2500, rel=1e-5)


def test_ticks_at_corners_and_lines_across_leave_the_outline_whole() -> None:
    square = segments(sampled([(0, 0), (100, 0), (100, 100), (0, 100)], step=10, closed=True))
    ticks = [np.array([corner, np.array(corner) * 0.9 + 5]) for corner in ((0, 0), (100, 0), (100, 100), (0, 100))]
    across = [np.array([[0.0, 50.0], [100.0, 50.0]])]
    chained = chain(shuffled([*square, *ticks, *across], np.random.default_rng(2)), gap_mm=0.5)
    assert [area(contour) for contour in chained.contours] == pytest.approx([10_000])
    assert len(chained.lines) == 5


def test_cut_out_touching_the_outline_is_a_contour_of_its_own() -> None:
    square = segments(sampled([(0, 0), (100, 0), (100, 100), (0, 100)], step=10, closed=True))
    triangle = segments(sampled([(0, 50), (30, 40), (30, 60)], step=5, closed=True))
    chained = chain([*square, *triangle], gap_mm=0.1)
    assert sorted(area(contour) for contour in chained.contours) == pytest.approx([300, 10_000])


def test_two_pieces_held_together_by_a_line_are_two_contours() -> None:
    first = segments(sampled([(0, 0), (50, 0), (50, 50), (0, 50)], step=10, closed=True))
    second = [segment + (100, 0) for segment in first]
    bridge = [np.array([[50.0, 30.0], [100.0, 30.0]])]
    chained = chain([*first, *second, *bridge], gap_mm=0.1)
    assert [area(contour) for contour in chained.contours] == pytest.approx([2500, 2500])
    assert len(chained.lines) == 1


def test_pieces_touching_in_a_point_are_two_contours() -> None:
    first = segments(sampled([(0, 0), (50, 0), (50, 50), (0, 50)], step=10, closed=True))
    second = [segment + (50, 50) for segment in first]
    assert [area(c) for c in chain([*first, *second], gap_mm=0.1).contours] == pytest.approx([2500, 2500])


def test_grain_line_runs_through_its_arrow_heads() -> None:
    shaft = [np.array([[0.0, 0.0], [0.0, 50.0]]), np.array([[0.0, 50.0], [0.0, 100.0]])]
    barbs = [np.array([[0.0, 50.0], [5.0, 44.0]]), np.array([[0.0, 50.0], [-5.0, 44.0]])]
    lines = chain([*shaft, *barbs], gap_mm=0.1).lines
    assert sorted(len(line) for line in lines) == [2, 2, 3]
    assert max(lines, key=len).tolist() == [[0, 0], [0, 50], [0, 100]]


def test_nothing_makes_nothing() -> None:
    assert chain([], gap_mm=1).contours == ()
    assert chain([np.zeros((2, 2))], gap_mm=1).lines == ()


def test_twenty_thousand_segments_become_their_outlines() -> None:
    circle = ellipse_points((0, 0), (400, 0), (0, 400), 0, 2 * math.pi, within=3.1e-4)
    paths = [segment + (1000 * at, 0) for at in range(8) for segment in segments(circle)]
    assert len(paths) > 20_000
    chained = chain(shuffled(paths, np.random.default_rng(0), shake=0.07), gap_mm=0.5)
    assert [area(contour) for contour in chained.contours] == pytest.approx([math.pi * 160_000] * 8, rel=1e-3)
    assert not chained.lines


@given(st.integers(1, 60), st.integers(0, 1000), st.sampled_from([0.05, 0.3, 2.0]))
def test_near_pairs_are_those_of_a_search_tree(count: int, seed: int, reach: float) -> None:
    rng = np.random.default_rng(seed)
    places = rng.integers(0, 40, (count, 2)) / 10.0
    wanted = np.flatnonzero(rng.random(count) < 0.7)
    if not len(wanted):
        return
    one, other, _ = near_pairs(places, wanted, reach + 1e-9)
    chosen = set(wanted.tolist())
    truth = {pair for pair in cKDTree(places).query_pairs(reach + 1e-9) if chosen & set(pair)}
    assert {tuple(sorted(pair)) for pair in zip(one.tolist(), other.tolist(), strict=True)} == truth
    assert len(one) == len(truth)


# ---- doubled points ----


def test_doubled_points_are_dropped_and_ends_stay() -> None:
    points = np.array([[0, 0], [0.0004, 0], [5, 0], [5, 0], [9, 0], [9.0005, 0]])
    assert drop_doubled(points).tolist() == [[0, 0], [5, 0], [9.0005, 0]]


def test_closed_run_drops_its_repeated_first_point() -> None:
    points = np.array([[0, 0], [5, 0], [5, 5], [0.0002, 0.0002]])
    assert drop_doubled(points, closed=True).tolist() == [[0, 0], [5, 0], [5, 5]]


def test_finely_sampled_curve_keeps_its_shape() -> None:
    points = np.column_stack((np.arange(0, 10, 0.0004), np.zeros(25000)))
    kept = drop_doubled(points)
    assert np.diff(kept[:, 0]).max() < 0.0025
    assert kept[-1].tolist() == points[-1].tolist()


# ---- what lies inside what ----


@given(st.integers(3, 40), st.integers(0, 10_000))
def test_inside_agrees_with_shapely(corners: int, seed: int) -> None:
    rng = np.random.default_rng(seed)
    turn = np.sort(rng.uniform(0, 2 * math.pi, corners))
    contour = np.column_stack((np.cos(turn), np.sin(turn))) * rng.uniform(50, 200, (corners, 1))
    polygon = Polygon(contour)
    if not polygon.is_valid:
        return
    places = rng.uniform(-200, 200, (60, 2))
    assert inside(places, contour).tolist() == [polygon.contains(Point(place)) for place in places]


def square(x: float, y: float, side: float) -> Points:
    return frozen_points([(x, y), (x + side, y), (x + side, y + side), (x, y + side)])


def test_outermost_holds_what_lies_in_it_however_deep() -> None:
    contours = [square(10, 10, 20), square(0, 0, 100), square(15, 15, 5), square(200, 0, 50), square(0, 40, 10)]
    assert outermost(contours) == ((1, (0, 2, 4)), (3, ()))


def test_of_two_equal_contours_the_first_holds_the_second() -> None:
    assert outermost([square(0, 0, 100), square(0, 0, 100)]) == ((0, (1,)),)


def test_contour_in_the_mouth_of_another_is_not_inside_it() -> None:
    """A small square in the bay of a U lies in its box but not in it."""
    bay = frozen_points([(0, 0), (90, 0), (90, 90), (60, 90), (60, 30), (30, 30), (30, 90), (0, 90)])
    assert outermost([bay, square(40, 50, 10)]) == ((0, ()), (1, ()))


def test_no_contours_have_no_outermost() -> None:
    assert outermost([]) == ()
