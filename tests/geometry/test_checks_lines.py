"""What the checks measure on lines and corners, against closed forms and shapely."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from geometry.affine import frozen_points
from geometry.checks.line_shape import bends, dip_mm, folded_line, headings_rad, peak_mm
from geometry.checks.run import check_pattern
from geometry.curves import polyline
from geometry.curves.smooth import bridge
from geometry.findings import Finding
from geometry.model.marks import Mark
from geometry.model.pattern import Pattern
from samples.draft_dress import draft_nest
from tests.geometry.plain_dress import dress
from tests.geometry.spoiling import bumped, kinked, tilted, with_parts

DRESS = draft_nest().sample


def arc(radius_mm: float, turn_rad: float, step_mm: float) -> np.ndarray:
    angles = np.linspace(0.0, turn_rad, max(3, round(radius_mm * turn_rad / step_mm)))
    return radius_mm * np.column_stack([np.sin(angles), 1.0 - np.cos(angles)])


def cornered(turn_deg: float, arm_mm: float = 80.0) -> np.ndarray:
    turn = math.radians(turn_deg)
    ahead = np.linspace(-arm_mm, 0.0, 41)[:, None] * (1.0, 0.0)
    after = np.linspace(0.0, arm_mm, 41)[1:, None] * (math.cos(turn), math.sin(turn))
    return frozen_points(np.vstack([ahead, after]))


def only(pattern: Pattern, code: str, base: Pattern | None = None) -> Finding | None:
    found = check_pattern(pattern, base=base)
    assert {finding.code for finding in found} <= {code}
    return found[0] if found else None


@pytest.mark.parametrize("turn_deg", [2.0, 7.0, 14.0, 20.0])
def test_a_peak_is_what_a_smooth_curve_from_either_side_leaves_standing(turn_deg: float) -> None:
    """The curve itself is drawn and its distance from the corner measured."""
    turn, reach = math.radians(turn_deg), 50.8
    start, end = (-reach, 0.0), (reach * math.cos(turn), reach * math.sin(turn))
    curve = shapely.LineString(bridge(start, (1.0, 0.0), end, (math.cos(turn), math.sin(turn))))
    assert peak_mm(turn, reach) == pytest.approx(curve.distance(shapely.Point(0.0, 0.0)), rel=0.03)


def test_a_peak_of_a_sixteenth_of_an_inch_is_a_corner_of_less_than_seven_degrees() -> None:
    """1.5 mm over 2 in on either side: 2 asin(3 / 50.8)."""
    assert peak_mm(2 * math.asin(3.0 / 50.8), 50.8) == pytest.approx(1.5)
    assert math.degrees(2 * math.asin(3.0 / 50.8)) == pytest.approx(6.77, abs=0.01)


@pytest.mark.parametrize("radius_mm", [40.0, 60.0, 200.0])
@pytest.mark.parametrize("step_mm", [1.0, 5.0])
def test_a_curve_leaves_its_ends_along_its_tangents(radius_mm: float, step_mm: float) -> None:
    ahead_rad, back_rad = headings_rad(arc(radius_mm, 1.2, step_mm))
    assert ahead_rad == pytest.approx(0.0, abs=math.radians(2.5))
    assert math.remainder(back_rad - (1.2 + math.pi), math.tau) == pytest.approx(0.0, abs=math.radians(2.5))


def test_a_line_without_length_has_no_heading() -> None:
    assert headings_rad(np.array([(3.0, 4.0), (3.0, 4.0)])) == (0.0, 0.0)


@pytest.mark.parametrize("radius_mm", [25.0, 40.0, 80.0])
@pytest.mark.parametrize("step_mm", [1.0, 4.0])
def test_a_curve_has_no_corners_however_tight(radius_mm: float, step_mm: float) -> None:
    assert bends(frozen_points(arc(radius_mm, 2.0, step_mm)), least_rad=math.radians(3.0)) == ()


@pytest.mark.parametrize("turn_deg", [8.0, -8.0, 20.0, 70.0])
def test_a_corner_between_straight_lines_is_found_whole_where_it_is(turn_deg: float) -> None:
    (bend,) = bends(cornered(turn_deg), least_rad=math.radians(3.0))
    assert bend.at_mm == pytest.approx(80.0)
    assert (bend.turn_rad, bend.extra_rad) == pytest.approx((math.radians(turn_deg),) * 2)


def test_a_corner_in_a_shaking_line_is_still_one_corner() -> None:
    chain = np.array(cornered(15.0))
    chain[1:-1] += np.random.default_rng(3).uniform(-0.1, 0.1, (len(chain) - 2, 2))
    (bend,) = bends(frozen_points(chain), least_rad=math.radians(6.8))
    assert bend.at_mm == pytest.approx(80.0, abs=4.0)


@pytest.mark.parametrize(
    ("name", "edge"), [("front bodice", "side"), ("front bodice", "waist"), ("back skirt", "waist")]
)
def test_a_folded_edge_is_as_long_as_it_is_sewn(name: str, edge: str) -> None:
    piece = DRESS.piece(name)
    assert polyline.length_mm(folded_line(piece, edge)) == pytest.approx(piece.sewn_length_mm(edge), abs=1e-6)


def test_a_dip_is_measured_to_the_inside_of_the_ring() -> None:
    bump = bumped(DRESS, "back bodice", "side", 5.0).piece("back bodice").edge("side")
    assert dip_mm(bump.points)[0] == pytest.approx(5.0, abs=0.1)
    assert dip_mm(bump.points[::-1])[0] == pytest.approx(0.0, abs=0.1)


@pytest.mark.parametrize(
    ("piece", "edge", "turn_rad", "words"),
    [
        ("sleeve", "hem", 2 * math.atan(50 / 400), "dips in"),
        ("front skirt", "hem", 2 * math.atan(40 / 600), "stands out"),
        ("front skirt", "waist", 2 * math.atan(40 / 600), "dips in"),
    ],
)
def test_a_corner_across_a_seam_of_straight_lines_has_the_angle_it_was_drawn_with(
    piece: str, edge: str, turn_rad: float, words: str
) -> None:
    """The plain sleeve's underarms lean 50 on 400 mm, its skirt's sides 40 on 600 mm, the same on both sides."""
    found = [f for f in check_pattern(dress()) if (f.code, f.piece, f.about[0]) == ("corner-across-seam", piece, edge)]
    assert [finding.measured_mm for finding in found] == pytest.approx([peak_mm(turn_rad, 50.8)])
    assert words in found[0].text


@pytest.mark.parametrize(("tilt_deg", "is_told"), [(4.0, False), (-4.0, False), (14.0, True), (-9.0, True)])
def test_a_neck_that_breaks_at_the_shoulder_is_told_and_a_small_one_is_not(tilt_deg: float, is_told: bool) -> None:
    finding = only(tilted(DRESS, "front bodice", "neck", tilt_deg, at_start=True, over_mm=45.0), "corner-across-seam")
    assert (finding is not None) is is_told
    if finding:
        assert ("stands out" if tilt_deg > 0 else "dips in") in finding.text


def test_how_far_a_mark_lies_outside_agrees_with_shapely() -> None:
    piece = DRESS.piece("sleeve")
    place = (piece.bounds_mm[2] + 7.0, 40.0)
    finding = only(with_parts(DRESS, "sleeve", marks=(*piece.marks, Mark("button", place))), "mark-outside")
    assert finding is not None
    assert finding.where == place
    assert finding.measured_mm == pytest.approx(shapely.Polygon(piece.outline).distance(shapely.Point(place)))


def test_a_corner_that_the_bought_pattern_has_is_not_told_and_a_new_one_is() -> None:
    bought = kinked(DRESS, "back bodice", "side", 4.5)
    assert only(bought, "edge-kinked", base=bought) is None
    assert only(replace(bought), "edge-kinked") is not None
    assert only(bought, "edge-kinked", base=DRESS) is not None
