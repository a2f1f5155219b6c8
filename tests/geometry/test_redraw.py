"""Redrawing by pulled and held places: linear between them, exact at them."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import frozen_points
from geometry.alterations.anchors import free, on_edge
from geometry.alterations.redraw import Pull, Redraw
from geometry.errors import StepError
from geometry.model.marks import InnerLine, Mark, MarkKind
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import disc, rectangle


def redraw(piece, *pulls):
    return Redraw(piece.name, pulls).apply(Pattern((piece,)))


@given(dx=st.floats(-30, 60), dy=st.floats(-30, 60))
def test_a_pulled_corner_goes_where_it_is_pulled_and_held_ones_stay(dx, dy):
    piece = rectangle()
    pulls = (Pull(on_edge("side", 1.0), dx, dy), Pull(on_edge("side", 0.5)), Pull(on_edge("waist", 1.0)))
    after = redraw(piece, *pulls).pattern.pieces[0]
    assert after.edge("waist").start == pytest.approx((400.0 + dx, 600.0 + dy))
    assert after.edge("waist").end == pytest.approx((0.0, 600.0))
    assert after.edge("hem") is piece.edge("hem")
    assert after.edge("centre front") is piece.edge("centre front")


@given(amount=st.floats(-40, 60))
def test_four_side_edges_of_a_quarter_each_give_the_whole_difference(amount):
    # D/4 on each of the four side edges adds up to D (common practice, no source)
    pulls = (
        Pull(on_edge("side", 0.0), amount / 4),
        Pull(on_edge("side", 1.0), amount / 4),
        Pull(on_edge("centre front", 0.0)),
        Pull(on_edge("centre front", 1.0)),
    )
    after = redraw(rectangle(), *pulls).pattern.pieces[0]
    assert 4 * (after.edge("hem").length_mm - 400.0) == pytest.approx(amount, abs=1e-9)
    assert after.edge("side").is_straight


def test_straight_stays_straight_between_pulls_and_notches_go_along():
    pulls = (Pull(on_edge("side", 0.0)), Pull(on_edge("side", 1.0), 20.0), Pull(on_edge("centre front", 0.0)))
    after = redraw(rectangle(), *pulls).pattern.pieces[0]
    assert after.edge("side").is_straight
    assert after.notch_point(after.notches[0]) == pytest.approx((400.0 + 20.0 * 0.7, 420.0))


def test_a_mark_on_the_outline_goes_along_and_one_inside_stays():
    piece = rectangle()
    corner = Mark("hip corner", piece.edge("side").end, MarkKind.LANDMARK)
    piece = replace(piece, marks=(*piece.marks, corner))
    after = redraw(piece, Pull(on_edge("side", 1.0), 5.0, 3.0), Pull(on_edge("side", 0.0))).pattern.pieces[0]
    assert after.landmark("hip corner") == pytest.approx(after.edge("side").end)
    assert after.marks[0] == piece.marks[0]


def test_redrawing_by_nothing_is_the_same_object():
    pattern = Pattern((rectangle(),))
    step = Redraw("panel", (Pull(on_edge("side", 0.0)), Pull(on_edge("side", 1.0))))
    assert step.apply(pattern).pattern is pattern


def test_a_round_piece_pulled_evenly_all_round_is_only_moved():
    piece = disc()
    pulls = tuple(Pull(on_edge(edge.id, 0.0), 7.0, -3.0) for edge in piece.edges)
    after = redraw(piece, *pulls).pattern.pieces[0]
    assert after.area_mm2 == pytest.approx(piece.area_mm2)
    assert after.bounds_mm[0] == pytest.approx(piece.bounds_mm[0] + 7.0)


def test_the_amount_scales_every_pull():
    step = Redraw("panel", (Pull(on_edge("side", 0.0), 3.0, 4.0), Pull(on_edge("side", 1.0), 6.0, 8.0)))
    assert step.amount_mm == 10.0
    assert step.with_amount_mm(5.0).pulls[0] == Pull(on_edge("side", 0.0), 1.5, 2.0)


@pytest.mark.parametrize(
    ("pulls", "words"),
    [
        ((Pull(on_edge("side", 0.0), 5.0),), "one that stays"),
        ((Pull(on_edge("side", 0.0), 5.0), Pull(on_edge("hem", 1.0))), "are the same"),
        ((Pull(on_edge("side", 0.0), 5.0), Pull(free((200.0, 300.0)))), "off its outline"),
    ],
)
def test_pulls_that_say_too_little_are_refused(pulls, words):
    with pytest.raises(StepError, match=words):
        redraw(rectangle(), *pulls)


@pytest.mark.parametrize("out_mm", [-90.0, -5.0, 12.0, 60.0])
def test_a_line_across_ends_as_far_from_a_redrawn_edge_as_before(out_mm):
    level = InnerLine("hip line", frozen_points([(8.0, 350.0), (392.0, 350.0)]))
    pocket = InnerLine("pocket", frozen_points([(140.0, 300.0), (260.0, 300.0)]))
    piece = replace(rectangle(), inner_lines=(level, pocket))
    pulls = [Pull(on_edge("side", share), out_mm) for share in (0.0, 1.0)]
    held = [Pull(on_edge("centre front", share)) for share in (0.0, 1.0)]
    hip, other = redraw(piece, *pulls, *held).pattern.pieces[0].inner_lines
    assert hip.points[0].tolist() == [8.0, 350.0]
    assert hip.points[1] == pytest.approx((392.0 + out_mm, 350.0))
    assert other is pocket
