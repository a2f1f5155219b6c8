"""Darts drawn and changed: legs equal, cloth accounted for to the last hundredth of a micrometre."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from geometry.affine import distance_mm
from geometry.alterations.anchors import Anchor, On, free, on_edge
from geometry.alterations.dart_steps import AimDart, LengthenDart, MakeDart, MoveDart, PressDart, WidenDart
from geometry.alterations.dart_transfer import DartTransfer, transferred
from geometry.alterations.edge_steps import StraightenEdge
from geometry.curves import polyline
from geometry.errors import MissingPartError, StepError
from geometry.model.dart import Pressed
from geometry.model.marks import Mark, Notch
from geometry.model.pattern import Pattern
from tests.geometry.drawn_darts import angle_deg, assert_same_shape, assert_sound, waist_dart
from tests.geometry.drawn_panels import DARTED, done
from tests.geometry.drawn_pieces import BUST, disc, half_front, rectangle

WIDTHS = st.floats(5.0, 50.0)


@given(width=WIDTHS, x=st.floats(150.0, 250.0), slant=st.floats(-40.0, 40.0))
def test_a_new_dart_has_equal_legs_and_takes_in_just_its_amount(width, x, slant):
    piece = done(rectangle(), waist_dart(width, x, (x + slant, 500.0)))
    dart = piece.dart("waist dart")
    assert piece.sewn_length_mm("waist") == pytest.approx(400.0 - width, abs=1e-9)
    a, b = piece.legs_mm(dart)
    assert a == pytest.approx(b, abs=1e-6)
    assert_sound(piece)


@given(width=WIDTHS)
def test_a_dart_square_to_a_straight_edge_leaves_the_edge_straight_and_is_as_wide_as_asked(width):
    piece = done(rectangle(), waist_dart(width))
    dart = piece.dart("waist dart")
    assert piece.edge("waist").is_straight
    assert piece.intake_mm(dart) == pytest.approx(width, abs=1e-9)
    assert piece.legs_mm(dart) == pytest.approx((math.hypot(100.0, width / 2),) * 2)


@given(width=WIDTHS, share=st.floats(0.3, 0.7))
def test_a_dart_in_a_curve_shortens_it_by_its_amount(width, share):
    piece = done(disc(), MakeDart("disc", on_edge("edge 1", share), free((60.0, 60.0)), width, dart="dart"))
    before = disc().edge("edge 1").length_mm
    assert piece.sewn_length_mm("edge 1") == pytest.approx(before - width, abs=1e-9)
    a, b = piece.legs_mm(piece.dart("dart"))
    assert a == pytest.approx(b, abs=1e-6)
    assert_sound(piece)


def test_a_dart_that_aims_stops_short_of_the_body_point():
    step = MakeDart("panel", free((200.0, 600.0)), free((230.0, 450.0)), 30.0, aims=True, stand_off_mm=25.0)
    piece = done(rectangle(), step)
    (dart,) = piece.darts
    assert dart.id == "waist dart"
    assert dart.aim == (230.0, 450.0)
    assert distance_mm(dart.tip, dart.aim) == pytest.approx(25.0)
    for point in (dart.tip, dart.aim):
        a, b = piece.mouth(dart)
        assert distance_mm(a, point) == pytest.approx(distance_mm(b, point), abs=1e-6)


def test_edges_without_the_dart_are_the_same_objects():
    before = rectangle()
    after = done(before, waist_dart(30.0, tip=(220.0, 500.0)))
    for edge_id in ("hem", "side", "centre front"):
        assert after.edge(edge_id) is before.edge(edge_id)
    assert (after.edge("waist").start, after.edge("waist").end) == (
        before.edge("waist").start,
        before.edge("waist").end,
    )


@given(by=st.floats(-120.0, 120.0), width=WIDTHS)
def test_a_dart_moved_there_and_back_is_where_it_was(by, width):
    piece = done(rectangle(), waist_dart(width))
    there = done(piece, MoveDart("panel", "waist dart", by))
    back = done(there, MoveDart("panel", "waist dart", -by))
    assert there.dart("waist dart").tip == pytest.approx((200.0 - by, 500.0))  # the waist runs towards x = 0
    assert there.sewn_length_mm("waist") == pytest.approx(400.0 - width)
    assert_same_shape(back, piece)
    assert back.dart("waist dart").tip == pytest.approx(piece.dart("waist dart").tip)
    assert_sound(there)


@given(by=st.floats(-35.0, 45.0))
def test_a_moved_dart_keeps_pointing_at_its_body_point_with_its_stand_off(by):
    piece = half_front()
    there = done(piece, MoveDart("front bodice", "waist dart", by))
    old, new = piece.dart("waist dart"), there.dart("waist dart")
    assert new.aim == BUST
    assert distance_mm(new.tip, BUST) == pytest.approx(distance_mm(old.tip, BUST))
    a, b = there.legs_mm(new)
    assert a == pytest.approx(b, abs=1e-6)
    assert there.sewn_length_mm("waist") == pytest.approx(piece.sewn_length_mm("waist"), abs=1e-9)
    back = done(there, MoveDart("front bodice", "waist dart", -by))
    assert_same_shape(back, piece, within_mm=1e-5)


@given(more=st.floats(-20.0, 40.0))
def test_a_widened_dart_keeps_its_tip_and_takes_in_as_much_more(more):
    piece = done(rectangle(), waist_dart(30.0))
    wider = done(piece, WidenDart("panel", "waist dart", more))
    assert wider.sewn_length_mm("waist") == pytest.approx(370.0 - more, abs=1e-9)
    assert wider.dart("waist dart").tip == piece.dart("waist dart").tip
    assert wider.intake_mm(wider.dart("waist dart")) == pytest.approx(30.0 + more, abs=1e-9)
    assert_same_shape(done(wider, WidenDart("panel", "waist dart", -more)), piece)


@given(more=st.floats(-15.0, 30.0).filter(bool))
def test_a_widened_slanted_dart_has_equal_legs(more):
    piece = done(half_front(), WidenDart("front bodice", "side dart", more))
    a, b = piece.legs_mm(piece.dart("side dart"))
    assert a == pytest.approx(b, abs=1e-6)
    assert piece.sewn_length_mm("side") == pytest.approx(half_front().sewn_length_mm("side") - more, abs=1e-6)
    assert_sound(piece)


@given(by=st.floats(-90.0, 300.0))
def test_a_lengthened_dart_has_the_same_mouth_and_equal_legs(by):
    before = done(rectangle(), waist_dart(30.0))
    after = done(before, LengthenDart("panel", "waist dart", by))
    dart = after.dart("waist dart")
    assert after.edge("waist") is before.edge("waist")
    assert dart.tip == pytest.approx((200.0, 500.0 - by))
    assert after.legs_mm(dart) == pytest.approx((math.hypot(100.0 + by, 15.0),) * 2)


@given(x=st.floats(170.0, 230.0), y=st.floats(300.0, 450.0), stand_off=st.floats(0.0, 60.0))
def test_a_dart_aimed_anew_stands_off_by_the_amount_and_its_legs_stay_equal(x, y, stand_off):
    before = done(rectangle(), waist_dart(30.0))
    after = done(before, AimDart("panel", "waist dart", free((x, y)), stand_off))
    dart = after.dart("waist dart")
    assert distance_mm(dart.tip, (x, y)) == pytest.approx(stand_off, abs=1e-6)
    a, b = after.legs_mm(dart)
    assert a == pytest.approx(b, abs=1e-6)
    assert after.sewn_length_mm("waist") == pytest.approx(370.0, abs=1e-9)
    again = AimDart("panel", "waist dart", free((x, y)), stand_off)
    assert again.apply(Pattern((after,))).pattern.pieces[0] is after


def test_a_dart_is_pressed_the_other_way_and_nothing_else_changes():
    before = done(rectangle(), waist_dart())
    after = done(before, PressDart("panel", "waist dart", Pressed.TO_END))
    assert after.dart("waist dart").pressed is Pressed.TO_END
    assert after.edges is before.edges


def test_a_transfer_follows_the_worked_widths():
    # width = old width x new leg / old leg: 3.0 cm at 17.5 cm legs gives 2.057 cm at 12.0 cm (exact, isosceles)
    leg, width = 175.0, 30.0
    deep = math.sqrt(leg**2 - (width / 2) ** 2)
    piece = done(rectangle(), waist_dart(width, tip=(200.0, 600.0 - deep)))
    tip = piece.dart("waist dart").tip
    end = (tip[0] + 120.0, tip[1])
    narrow = rectangle(end[0])
    piece = done(narrow, MakeDart("panel", free((200.0, 600.0)), free(tip), width, dart="waist dart"))
    turned = done(piece, DartTransfer("panel", "waist dart", (free(end),), new_dart="new"))
    assert turned.intake_mm(turned.dart("new")) == pytest.approx(20.57, abs=0.005)


def turned_untrued(piece, dart_id, line, new_dart):
    return transferred(piece, DartTransfer(piece.name, dart_id, (line,), new_dart=new_dart))[1].piece


@given(width=WIDTHS, share=st.floats(0.3, 0.8))
def test_a_dart_turned_to_the_side_and_back_leaves_the_piece_as_it_was(width, share):
    piece = done(rectangle(), waist_dart(width))
    turned = turned_untrued(piece, "waist dart", on_edge("side", share), "side dart")
    assert angle_deg(turned, turned.dart("side dart")) == pytest.approx(angle_deg(piece, piece.dart("waist dart")))
    for edge in piece.edges:
        assert turned.sewn_length_mm(edge.id) == pytest.approx(piece.sewn_length_mm(edge.id), abs=1e-6)
    line = on_edge("waist", (400.0 - width) / 2 / turned.edge("waist").length_mm)
    back = turned_untrued(turned, "side dart", line, "waist dart")
    old, new = piece.dart("waist dart"), back.dart("waist dart")
    assert (new.from_mm, new.to_mm) == pytest.approx((old.from_mm, old.to_mm), abs=1e-5)
    assert back.legs_mm(new) == pytest.approx(piece.legs_mm(old), abs=1e-5)
    corners = ([edge.start for edge in each.edges] for each in (piece, back))
    was, now = ([distance_mm(a, b) for a in places for b in places] for places in corners)
    assert now == pytest.approx(was, abs=1e-5)


@given(by=st.floats(-100.0, 100.0))
def test_a_notch_on_a_leg_moves_with_the_dart_and_one_beyond_it_keeps_its_place_on_the_cloth(by):
    piece = done(rectangle(), waist_dart(30.0))
    dart = piece.dart("waist dart")
    notches = (Notch("leg", "waist", dart.to_mm), Notch("far", "waist", 380.0), Notch("near", "waist", 10.0))
    moved = done(replace(piece, notches=notches), MoveDart("panel", "waist dart", by))
    assert moved.notch("leg").at_mm == pytest.approx(moved.dart("waist dart").to_mm)
    assert moved.notch("far").at_mm == pytest.approx(380.0)
    assert moved.notch("near").at_mm == pytest.approx(10.0)


@pytest.mark.parametrize(
    "step",
    [
        MakeDart("panel", free((100.0, 600.0)), free((100.0, 500.0)), 0.0),
        MoveDart("panel", "waist dart", 0.0),
        WidenDart("panel", "waist dart", 0.0),
        LengthenDart("panel", "waist dart", 0.0),
        PressDart("panel", "waist dart", Pressed.TO_START),
    ],
    ids=lambda step: step.kind,
)
def test_an_amount_of_nothing_changes_nothing(step):
    pattern = Pattern((done(rectangle(), waist_dart()),))
    assert step.apply(pattern).pattern is pattern
    assert step.with_amount_mm(step.amount_mm) == step


TWO = (waist_dart(), MakeDart("panel", free((100.0, 600.0)), free((100.0, 500.0)), 30.0, "other"))


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (MakeDart("panel", free((200.0, 300.0)), free((200.0, 200.0)), 30.0), '"panel" must lie on an edge'),
        (MakeDart("panel", free((300.0, 600.0)), free((300.0, 500.0)), -3.0), '"panel" needs a width above 0'),
        (
            MakeDart("panel", free((200.0, 600.0)), free((200.0, 500.0)), 30.0),
            'edge "waist" of "panel": there is room for 0',
        ),
        (MakeDart("panel", free((390.0, 600.0)), free((390.0, 500.0)), 30.0), "room for 20 mm"),
        (MakeDart("panel", free((300.0, 600.0)), free((300.0, 700.0)), 30.0), 'would lie outside "panel"'),
        (MakeDart("panel", free((300.0, 600.0)), free((300.0, 500.0)), 30.0, "other"), 'has a dart "other" already'),
        (MakeDart("panel", free((300.0, 600.0)), free((210.0, 590.0)), 60.0), "slants so much"),
        (MoveDart("panel", "waist dart", 80.0), 'The dart "waist dart" on "panel" cannot move 80 mm'),
        (WidenDart("panel", "waist dart", -31.0), "is 30 mm wide and cannot take in 31 mm less"),
        (WidenDart("panel", "waist dart", 300.0), 'no room to widen the dart "waist dart" on "panel"'),
        (LengthenDart("panel", "waist dart", -100.0), "is 100 mm long and cannot be shortened by 100 mm"),
        (LengthenDart("panel", "waist dart", 600.0), 'would lie outside "panel"'),
        (AimDart("panel", "waist dart", free((200.0, 400.0)), 250.0), "opens 200 mm from the body point"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    with pytest.raises(StepError, match=words):
        done(done(rectangle(), *TWO), step)


def test_darts_that_are_not_there_are_named():
    with pytest.raises(MissingPartError, match='"panel" has no dart called "french"'):
        done(rectangle(), MoveDart("panel", "french", 5.0))


def test_a_dart_can_be_aimed_at_a_landmark_or_another_dart():
    piece = half_front()
    for aim in (Anchor(On.LANDMARK, "bust point"), Anchor(On.AIM, "side dart")):
        after = done(piece, AimDart("front bodice", "waist dart", aim, 40.0))
        assert after.dart("waist dart").tip == pytest.approx((90.0, 150.0))


@given(width=st.floats(5.0, 60.0), by=st.floats(-60.0, 60.0))
def test_no_reasonable_move_makes_an_outline_cross_itself(width, by):
    piece = disc()
    make = MakeDart("disc", on_edge("edge 1", 0.5), free((40.0, 40.0)), width, dart="dart")
    assume(abs(by) > 0.1)
    assert_sound(done(piece, make, MoveDart("disc", "dart", by), WidenDart("disc", "dart", 5.0)))


@given(by=st.floats(-100.0, 100.0), longer=st.floats(-40.0, 60.0).filter(bool))
def test_a_hole_drilled_in_a_dart_stays_as_far_inside_its_tip(by, longer):
    # a punched dot about 1/2 in inside the tip (a class handout on sewing darts)
    piece = done(rectangle(), waist_dart(30.0))
    piece = replace(piece, marks=(Mark("hole", (200.0, 512.7)), Mark("pocket", (300.0, 300.0))))
    moved = done(piece, MoveDart("panel", "waist dart", by), LengthenDart("panel", "waist dart", longer))
    hole, pocket = moved.marks
    assert hole.at == pytest.approx((200.0 - by, 512.7 - longer))
    assert pocket.at == (300.0, 300.0)


@given(by=st.floats(-60.0, 60.0).filter(lambda by: abs(by) > 5.0))
def test_a_dart_moved_in_an_edge_trued_over_it_leaves_no_corner_behind(by):
    # trued with the dart folded, the open edge has a corner at each leg
    trued = done(DARTED, StraightenEdge("panel", "waist", on_edge("waist", 0.0), on_edge("waist", 1.0)))
    moved = done(trued, MoveDart("panel", "waist dart", by))
    assert moved.sewn_length_mm("waist") == pytest.approx(trued.sewn_length_mm("waist"), abs=1e-6)
    dart, chain = moved.dart("waist dart"), moved.edge("waist").points
    stations = polyline.stations_mm(chain)[1:-1]
    steps = np.diff(chain, axis=0)
    turns = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
    beside = (stations < dart.from_mm - 1e-6) | (stations > dart.to_mm + 1e-6)
    assert turns[beside].max() < math.radians(6.0)
    assert_sound(moved)
