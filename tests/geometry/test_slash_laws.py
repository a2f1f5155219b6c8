"""The laws of the slash, exact before trueing. Closed forms; nothing here is measured off our own output."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import Point, distance_mm
from geometry.alterations.anchors import free, on_edge
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut, slashed
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.marks import Mark
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import disc, half_front, rectangle

EXACT_MM = 1e-6
SHARES = st.floats(0.05, 0.95)
OPENINGS = st.floats(-40.0, 60.0)
HINGED = st.sampled_from([Hinge.START, Hinge.END])
SIDES = st.sampled_from(list(Side))
ONE_SIDE = st.sampled_from([Side.LEFT, Side.RIGHT])


def down(share_hem, share_waist, opening_mm, hinge=Hinge.NONE, side=Side.LEFT):
    return SlashCut((on_edge("hem", share_hem), on_edge("waist", 1.0 - share_waist)), opening_mm, hinge, side)


def pairwise_distances(points):
    apart = points[:, None, :] - points[None, :, :]
    return np.hypot(apart[..., 0], apart[..., 1])


@given(a=SHARES, b=SHARES, opening=OPENINGS, hinge=st.sampled_from(list(Hinge)), side=SIDES)
def test_distances_inside_a_part_never_change(a, b, opening, hinge, side):
    grid = [(x, y) for x in (30.0, 130.0, 230.0, 330.0, 390.0) for y in (20.0, 310.0, 580.0)]
    piece = replace(rectangle(), marks=tuple(Mark(str(number), place) for number, place in enumerate(grid)))
    parts, joined = slashed(piece, (down(a, b, opening, hinge, side),))
    part_of = np.array([parts.parts_touching(place)[0] for place in grid])
    before, after = np.array(grid), np.array([mark.at for mark in joined.piece.marks])
    for part in range(2):
        own = part_of == part
        assert np.allclose(pairwise_distances(before[own]), pairwise_distances(after[own]), atol=EXACT_MM)


@given(a=SHARES, b=SHARES, opening=OPENINGS, hinge=HINGED, side=SIDES)
def test_edges_that_are_not_crossed_keep_their_length_and_so_does_the_edge_of_the_hinge(a, b, opening, hinge, side):
    piece = rectangle()
    _, joined = slashed(piece, (down(a, b, opening, hinge, side),))
    hinge_edge = "hem" if hinge is Hinge.START else "waist"
    for edge_id in ("side", "centre front", hinge_edge):
        assert joined.piece.edge(edge_id).length_mm == pytest.approx(piece.edge(edge_id).length_mm, abs=EXACT_MM)


@given(a=SHARES, b=SHARES, opening=st.floats(0.1, 60.0), share=st.floats(0.05, 1.0), side=SIDES)
def test_a_wedge_opens_by_2_r_sin_half_the_angle_at_every_distance_from_its_hinge(a, b, opening, share, side):
    piece = rectangle()
    start, end = piece.edge("hem").point_at(400 * a), piece.edge("waist").point_at(400 * (1 - b))
    length = distance_mm(start, end)
    _, joined = slashed(piece, (down(a, b, opening, Hinge.END, side),))
    joint = next(joint for joint in joined.joints if joint.edge == "hem")
    angle = 2 * math.asin(opening / (2 * length))
    assert joint.gap_mm == pytest.approx(opening, abs=EXACT_MM)
    before, after = (_between(end, place, share) for place in (joint.before, joint.after))
    assert distance_mm(before, after) == pytest.approx(2 * share * length * math.sin(angle / 2), abs=EXACT_MM)


def _between(a: Point, b: Point, share: float) -> Point:
    return (a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share)


@given(a=SHARES, b=SHARES, opening=st.floats(-40.0, 60.0), side=SIDES)
def test_a_straight_wedge_adds_half_l_squared_sine_of_its_angle(a, b, opening, side):
    piece = rectangle()
    length = math.hypot(600.0, 400.0 * (b - a))
    _, joined = slashed(piece, (down(a, b, opening, Hinge.END, side),))
    angle = 2 * math.asin(opening / (2 * length))
    grown = joined.piece.area_mm2 - piece.area_mm2
    assert grown == pytest.approx(length**2 * math.sin(angle) / 2, abs=1e-3)


@given(a=SHARES, b=SHARES, opening=OPENINGS, side=SIDES)
def test_a_parallel_spread_adds_the_length_of_the_line_times_the_distance(a, b, opening, side):
    piece = rectangle()
    length = math.hypot(600.0, 400.0 * (b - a))
    _, joined = slashed(piece, (down(a, b, opening, Hinge.NONE, side),))
    assert joined.piece.area_mm2 - piece.area_mm2 == pytest.approx(length * opening, abs=1e-3)


@given(a=SHARES, b=SHARES, amount=st.floats(0.5, 60.0), hinge=st.sampled_from(list(Hinge)), side=ONE_SIDE)
def test_open_then_fold_out_by_as_much_on_the_same_line_gives_the_first_outline(a, b, amount, hinge, side):
    piece = rectangle()
    opened = slashed(piece, (down(a, b, amount, hinge, side),))[1].piece
    places = [_place_of(piece, "hem", a), _place_of(piece, "waist", 1.0 - b)]
    again = tuple(_anchor_on(opened, edge_id, place) for edge_id, place in zip(("hem", "waist"), places, strict=True))
    folded = slashed(opened, (SlashCut(again, -amount, hinge, side),))[1].piece
    assert_same_outline(folded, piece)


def assert_same_outline(piece, expected):
    """The same line, edge by edge: as long, from corner to corner, every point of it on the other."""
    for edge in expected.edges:
        own = piece.edge(edge.id)
        assert own.length_mm == pytest.approx(edge.length_mm, abs=EXACT_MM)
        assert max(polyline.nearest(edge.points, tuple(point))[1] for point in own.points) < EXACT_MM
        assert own.start == pytest.approx(edge.start, abs=EXACT_MM)
        assert own.end == pytest.approx(edge.end, abs=EXACT_MM)


def _place_of(piece, edge_id, share):
    edge = piece.edge(edge_id)
    return edge.point_at(edge.length_mm * share)


def _anchor_on(piece, edge_id, place):
    edge = piece.edge(edge_id)
    distances = np.hypot(*(edge.points - place).T)
    assert distances.min() < EXACT_MM  # the cut's own corner is on the edge still
    stations = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(edge.points, axis=0).T))])
    return on_edge(edge_id, float(stations[np.argmin(distances)] / stations[-1]))


@given(share=SHARES, opening=st.floats(0.5, 40.0), hinge=st.sampled_from(list(Hinge)))
def test_a_round_piece_opened_and_folded_out_is_round_again(share, opening, hinge):
    piece = disc()
    line = (on_edge("edge 1", share), on_edge("edge 3", share))
    opened = slashed(piece, (SlashCut(line, opening, hinge, Side.LEFT),))[1]
    start, end = (_place_of(piece, edge_id, share) for edge_id in ("edge 1", "edge 3"))
    back = (_anchor_on(opened.piece, "edge 1", start), _anchor_on(opened.piece, "edge 3", end))
    closed = slashed(opened.piece, (SlashCut(back, -opening, hinge, Side.LEFT),))[1].piece
    assert_same_outline(closed, piece)


@given(a=SHARES, b=SHARES, hinge=st.sampled_from(list(Hinge)))
def test_a_spread_by_nothing_gives_the_very_same_object(a, b, hinge):
    pattern = Pattern((rectangle(),))
    step = Slash("panel", (down(a, b, 0.0, hinge),))
    assert step.apply(pattern).pattern is pattern


@given(a=SHARES, b=SHARES, opening=OPENINGS, hinge=HINGED)
def test_moving_either_side_gives_the_same_shape(a, b, opening, hinge):
    areas, lengths = [], []
    for side in Side:
        piece = slashed(rectangle(), (down(a, b, opening, hinge, side),))[1].piece
        areas.append(piece.area_mm2)
        lengths.append([edge.length_mm for edge in piece.edges])
    assert areas[0] == pytest.approx(areas[1], abs=1e-3)
    assert np.allclose(lengths[0], lengths[1], atol=EXACT_MM)


@given(opening=st.floats(1.0, 25.0), count=st.integers(2, 5))
def test_several_wedges_in_one_step_add_their_openings_at_the_hem_and_keep_the_waist(opening, count):
    piece = rectangle()
    shares = [(index + 1) / (count + 1) for index in range(count)]
    cuts = tuple(down(share, share, opening, Hinge.END, Side.RIGHT) for share in shares)
    joined = slashed(piece, tuple(reversed(cuts)))[1]
    assert joined.piece.edge("hem").length_mm == pytest.approx(400.0 + count * opening, abs=EXACT_MM)
    assert joined.piece.edge("waist").length_mm == pytest.approx(400.0, abs=EXACT_MM)
    assert joined.piece.edge("side").length_mm == pytest.approx(600.0, abs=EXACT_MM)


@given(opening=OPENINGS)
def test_what_lies_inside_travels_with_its_part(opening):
    after = slashed(rectangle(), (down(0.3, 0.3, opening, Hinge.NONE, Side.RIGHT),))[1].piece
    assert after.marks[0].at == pytest.approx((200.0 + opening, 300.0))
    notch = after.notches[0]
    assert after.notch_point(notch) == pytest.approx((400.0 + opening, 420.0))
    assert after.inner_lines[0].points[-1] == pytest.approx((400.0 + opening, 200.0))
    assert after.grain.start == pytest.approx((100.0, 150.0))


def test_the_grain_crossed_by_a_lengthening_is_rejoined_straight_and_upright():
    cut = SlashCut((on_edge("side", 0.5), on_edge("centre front", 0.5)), 30.0, Hinge.NONE, Side.RIGHT)
    grain = slashed(rectangle(), (cut,))[1].piece.grain
    assert grain.start[0] == pytest.approx(grain.end[0], abs=EXACT_MM)
    assert distance_mm(grain.start, grain.end) == pytest.approx(300.0 + 30.0, abs=EXACT_MM)


@pytest.mark.parametrize(
    ("cut", "words"),
    [
        (SlashCut((on_edge("hem", 0.5), on_edge("waist", 0.5)), 1300.0, Hinge.END), "cannot open by 1300 mm"),
        (SlashCut((on_edge("hem", 0.5), on_edge("hem", 0.5)), 10.0), "has no length"),
        (SlashCut((on_edge("hem", 0.2), on_edge("hem", 0.8)), 10.0), "runs along"),
    ],
)
def test_a_cut_that_cannot_be_made_is_refused_in_words_that_name_the_piece(cut, words):
    with pytest.raises(StepError, match=words) as caught:
        slashed(rectangle(), (cut,))
    assert '"panel"' in caught.value.sentence


def test_a_cut_that_stops_inside_cannot_open_by_itself():
    with pytest.raises(StepError, match="stops inside"):
        slashed(rectangle(), (SlashCut((on_edge("hem", 0.5), free((200.0, 300.0))), 10.0, Hinge.END),))


def test_two_cuts_that_meet_inside_pivot_one_closing_as_the_other_opens():
    inner = free((200.0, 300.0))
    cuts = (
        SlashCut((on_edge("hem", 0.5), inner), 20.0, Hinge.END, Side.RIGHT),
        SlashCut((on_edge("side", 0.5), inner), None),
    )
    piece = rectangle()
    joined = slashed(piece, cuts)[1]
    angle = 2 * math.asin(20.0 / 600.0)
    gaps = {joint.edge: joint.gap_mm for joint in joined.joints}
    assert gaps["hem"] == pytest.approx(20.0, abs=EXACT_MM)
    assert gaps["side"] == pytest.approx(
        2 * 200.0 * math.sin(angle / 2), abs=EXACT_MM
    )  # width 2 = width 1 * leg 2 / leg 1
    assert joined.piece.edge("waist").length_mm == pytest.approx(400.0, abs=EXACT_MM)


def test_a_line_that_leaves_a_hollow_edge_and_comes_back_is_refused():
    piece = half_front()
    cut = SlashCut((on_edge("armhole", 0.05), on_edge("armhole", 0.9)), 10.0)
    with pytest.raises(StepError, match="leaves the piece"):
        slashed(piece, (cut,))


def test_a_landmark_where_cuts_meet_goes_half_way_between_its_two_places():
    cuts = (SlashCut((on_edge("hem", 0.5), on_edge("waist", 0.5)), 20.0, Hinge.NONE, Side.RIGHT),)
    piece = replace(rectangle(), marks=(Mark("middle", (200.0, 300.0)),))
    assert slashed(piece, cuts)[1].piece.marks[0].at == pytest.approx((210.0, 300.0))
