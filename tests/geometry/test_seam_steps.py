"""Seams put right: afterwards the walk says what was asked for."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry import regions
from geometry.alterations.edge_ends import End
from geometry.alterations.seam_steps import LevelHem, MatchDart, MatchNotch, ShareDifference, seam_between
from geometry.checks.run import check_pattern
from geometry.checks.walking import StopKind, walk
from geometry.errors import MissingPartError, StepError
from geometry.model.marks import Notch
from geometry.model.pattern import EdgeRef, Pattern
from tests.geometry.plain_dress import SKIRT_SIDE_MM, dress, notch_moved, with_dart, with_edge, with_piece

DRESS = dress()
SKIRT_SIDES = EdgeRef("front skirt", "side"), EdgeRef("back skirt", "side")
SHARE = ShareDifference("front skirt", "side", End.START, "back skirt", "side", End.END)


def longer_front_skirt(by_mm):
    """The dress with the front skirt's side longer by an amount, the hem slanting down to it."""
    x, y = 40.0 / SKIRT_SIDE_MM * by_mm, 600.0 / SKIRT_SIDE_MM * by_mm
    corner = (260.0 + x, -600.0 - y)
    changed = with_edge(DRESS, "front skirt", "hem", [(0.0, -600.0), corner])
    changed = with_edge(changed, "front skirt", "side", [corner, (220.0, 0.0)])
    return notch_moved(changed, "front skirt", "hip notch", by_mm)


def sides_mm(pattern):
    return tuple(pattern.piece(ref.piece).sewn_length_mm(ref.edge) for ref in SKIRT_SIDES)


def offset_mm(pattern, first, second, kind, stop_id):
    """How far the stop of one piece lands from its partner when walked from the start of their seam."""
    walked = walk(pattern, seam_between(pattern, first, second))
    for meeting in walked.meetings:
        stops = [stop for stop in (meeting.first, meeting.second) if stop]
        if any((stop.kind, stop.piece, stop.id) == (kind, first.piece, stop_id) for stop in stops):
            assert meeting.offset_from_start_mm is not None
            return meeting.offset_from_start_mm
    raise AssertionError(f"{stop_id} is not walked")


def assert_sound(pattern):
    for piece in pattern.pieces:
        assert regions.is_simple(piece.outline)
        for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            assert edge.end == pytest.approx(following.start, abs=1e-9)


# differences


@given(by=st.floats(-60.0, 60.0), share=st.floats(0.0, 1.0))
def test_two_edges_come_out_equal_each_having_taken_its_share(by, share):
    before = longer_front_skirt(by)
    after = replace(SHARE, share=share).apply(before).pattern
    front, back = sides_mm(after)
    assert front == pytest.approx(SKIRT_SIDE_MM + by * (1 - share), abs=1e-6)
    assert back == pytest.approx(front, abs=1e-6)
    assert_sound(after)
    for name, kept in (("front skirt", ("waist", "centre front")), ("back skirt", ("waist", "centre back"))):
        for edge_id in kept:
            assert after.piece(name).edge(edge_id) is before.piece(name).edge(edge_id)


@given(ease=st.floats(-5.0, 12.0))
def test_the_first_stays_longer_by_the_ease_that_is_asked_for(ease):
    after = SHARE.with_amount_mm(ease).apply(longer_front_skirt(8.0)).pattern
    front, back = sides_mm(after)
    assert front - back == pytest.approx(ease, abs=1e-6)


def test_a_straight_hem_stays_straight_and_the_hip_notch_stays_below_the_waist():
    after = SHARE.apply(longer_front_skirt(20.0)).pattern
    for name in ("front skirt", "back skirt"):
        assert after.piece(name).edge("hem").is_straight
        assert after.piece(name).edge("side").is_straight
    walked = walk(after, seam_between(after, *SKIRT_SIDES))
    assert [meeting.offset_from_start_mm for meeting in walked.meetings] == pytest.approx([0.0], abs=1e-6)


def test_all_of_the_difference_on_one_leaves_the_other_piece_the_same_object():
    before = longer_front_skirt(20.0)
    after = replace(SHARE, share=1.0).apply(before).pattern
    assert after.piece("back skirt") is before.piece("back skirt")
    assert sides_mm(after)[0] == pytest.approx(SKIRT_SIDE_MM)


def test_a_seam_of_several_edges_is_measured_whole():
    # the cap is 30 mm longer than both armholes together; 20 mm are asked for, the cap takes all of the change
    step = ShareDifference("sleeve", "cap", End.END, "back bodice", "armhole", End.END, 1.0, 20.0)
    after = step.apply(DRESS).pattern
    change = after.piece("sleeve").sewn_length_mm("cap") - DRESS.piece("sleeve").sewn_length_mm("cap")
    assert change == pytest.approx(-10.0)


def test_a_shared_difference_is_told_for_both_pieces():
    outcome = SHARE.apply(longer_front_skirt(10.0))
    changes = {(change.piece, change.edge): change.change_mm for change in outcome.changes}
    assert changes["front skirt", "side"] == pytest.approx(-5.0)
    assert changes["back skirt", "side"] == pytest.approx(5.0)
    assert SHARE.piece_names == ("front skirt", "back skirt")
    assert len(outcome.chalk) == 4


# hems


@given(by=st.floats(-40.0, 40.0))
def test_a_hem_follows_the_seam_it_meets(by):
    step = LevelHem("front skirt", "hem", End.END, "back skirt", "side")
    after = step.apply(longer_front_skirt(by)).pattern
    assert sides_mm(after)[0] == pytest.approx(SKIRT_SIDE_MM, abs=1e-6)
    assert_sound(after)


@given(slant=st.floats(-25.0, 25.0).filter(lambda slant: abs(slant) > 1.0))
def test_a_slanting_hem_leaves_the_centre_squarely(slant):
    # hem square to centre front and back where they lie on the fold (common practice, from memory)
    before = with_edge(DRESS, "front skirt", "hem", [(0.0, -600.0), (130.0, -600.0 + slant), (260.0, -600.0)])
    after = LevelHem("front skirt", "hem", End.END).apply(before).pattern
    hem = after.piece("front skirt").edge("hem")
    assert hem.point_at(0.0) == (0.0, -600.0)
    assert hem.point_at(9.0) == pytest.approx((9.0, -600.0))
    assert after.piece("front skirt").edge("side") is before.piece("front skirt").edge("side")


def test_a_level_hem_puts_the_seam_finding_right():
    before = longer_front_skirt(12.0)
    codes = [finding.code for finding in check_pattern(before)]
    after = LevelHem("front skirt", "hem", End.END, "back skirt", "side").apply(before).pattern
    assert "seam-lengths" in codes
    assert "seam-lengths" not in [finding.code for finding in check_pattern(after)]


# darts


@given(by=st.floats(-60.0, 60.0))
def test_a_dart_is_moved_to_meet_its_partner_across_the_waist(by):
    # two darts across a waist seam: their stitching lines meet (common practice, from memory)
    skirt = DRESS.piece("front skirt").dart("waist dart")
    before = with_dart(
        DRESS,
        "front skirt",
        "waist dart",
        from_mm=skirt.from_mm + by,
        to_mm=skirt.to_mm + by,
        tip=(skirt.tip[0] - by, -90.0),
    )
    waists = EdgeRef("front skirt", "waist"), EdgeRef("front bodice", "waist")
    for name, other in (("front skirt", "front bodice"), ("front bodice", "front skirt")):
        step = MatchDart(name, "waist dart", other, "waist dart")
        refs = waists if name == "front skirt" else waists[::-1]
        after = step.apply(before).pattern
        assert offset_mm(after, *refs, StopKind.DART, "waist dart") == pytest.approx(0.0, abs=1e-6)
        assert after.piece(other) is before.piece(other)
        lengths = [each.piece(name).sewn_length_mm("waist") for each in (before, after)]
        assert lengths[0] == pytest.approx(lengths[1], abs=1e-9)
    beyond = MatchDart("front skirt", "waist dart", "front bodice", "waist dart", amount_mm=3.0).apply(before).pattern
    assert offset_mm(beyond, *waists, StopKind.DART, "waist dart") == pytest.approx(3.0, abs=1e-6)


def test_a_dart_walked_from_the_side_meets_its_partner_from_there():
    longer = with_edge(DRESS, "front skirt", "waist", [(230.0, 0.0), (0.0, 0.0)])
    longer = with_edge(longer, "front skirt", "side", [(260.0, -600.0), (230.0, 0.0)])
    step = MatchDart("front skirt", "waist dart", "front bodice", "waist dart", walked_from=End.END)
    after = step.apply(longer).pattern
    walked = walk(after, seam_between(after, EdgeRef("front skirt", "waist"), EdgeRef("front bodice", "waist")))
    (darts,) = [meeting for meeting in walked.meetings if meeting.stop.kind is StopKind.DART]
    assert darts.offset_from_end_mm == pytest.approx(0.0, abs=1e-6)


# notches


@given(by=st.floats(-40.0, 40.0), ease=st.floats(-10.0, 10.0))
def test_a_notch_is_put_where_its_partner_lands(by, ease):
    before = notch_moved(DRESS, "front skirt", "hip notch", by)
    for name, other in (("front skirt", "back skirt"), ("back skirt", "front skirt")):
        after = MatchNotch(name, "hip notch", other, "hip notch", amount_mm=ease).apply(before).pattern
        refs = SKIRT_SIDES if name == "front skirt" else SKIRT_SIDES[::-1]
        landed = offset_mm(after, *refs, StopKind.NOTCH, "hip notch")
        seam = seam_between(after, *refs)
        is_first = refs[0] in seam.first
        assert landed == pytest.approx(ease if is_first else -ease, abs=1e-6)


def test_a_notch_beyond_a_dart_is_put_right_with_the_dart_folded():
    back = DRESS.piece("back bodice")
    before = with_piece(DRESS, "back bodice", notches=(*back.notches, Notch("level", "side", 120.0)))
    front = before.piece("front bodice")
    before = with_piece(before, "front bodice", notches=(*front.notches, Notch("level", "side", 50.0)))
    after = MatchNotch("front bodice", "level", "back bodice", "level").apply(before).pattern
    refs = EdgeRef("front bodice", "side"), EdgeRef("back bodice", "side")
    assert offset_mm(after, *refs, StopKind.NOTCH, "level") == pytest.approx(0.0, abs=1e-6)
    notch = after.piece("front bodice").notch("level")
    assert after.piece("front bodice").sewn_station_mm("side", notch.at_mm) == pytest.approx(200.0 - 120.0)


def test_the_top_notch_of_a_sleeve_meets_the_shoulder_seam_with_the_ease_before_it():
    before = notch_moved(DRESS, "sleeve", "top notch", 25.0)
    # 15 of the 30 mm ease in front of the shoulder, 15 behind: half each way
    after = MatchNotch("sleeve", "top notch", "front bodice", amount_mm=15.0).apply(before).pattern
    assert after.piece("sleeve").notch("top notch").at_mm == pytest.approx(
        DRESS.piece("sleeve").notch("top notch").at_mm, abs=1e-6
    )


# what all steps keep to


@pytest.mark.parametrize(
    "step",
    [
        SHARE,
        LevelHem("front skirt", "hem", End.END, "back skirt", "side"),
        MatchDart("front skirt", "waist dart", "front bodice", "waist dart"),
        MatchNotch("front skirt", "hip notch", "back skirt", "hip notch"),
    ],
    ids=lambda step: step.kind,
)
def test_a_seam_that_is_right_is_left_alone(step):
    assert step.apply(DRESS).pattern is DRESS
    assert step.with_amount_mm(step.amount_mm) == step


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (replace(SHARE, share=1.5), '"side" of "front skirt" takes is 1.5; give one from 0 to 1'),
        (replace(SHARE, amount_mm=-5000.0), "cannot be made 2500 mm shorter at its start"),
        (MatchDart("front skirt", "waist dart", "back bodice", "waist dart"), '"waist" of "front skirt" is sewn to'),
        (MatchDart("front skirt", "waist dart", "front bodice", "waist dart", amount_mm=300.0), "cannot move 300 mm"),
        (MatchNotch("front skirt", "hip notch", "back bodice", "upper notch"), "say first which edges are sewn"),
        (MatchNotch("front skirt", "hip notch", "back skirt"), "is not sewn to two edges"),
        (MatchNotch("front skirt", "hip notch", "back skirt", "hip notch", amount_mm=900.0), "beyond the end of its"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    with pytest.raises(StepError, match=words):
        step.apply(DRESS)


def test_a_notch_that_marks_a_dart_goes_with_its_dart():
    skirt = DRESS.piece("front skirt")
    leg = Notch("leg", "waist", skirt.dart("waist dart").from_mm)
    pattern = with_piece(DRESS, "front skirt", notches=(*skirt.notches, leg))
    bodice = pattern.piece("front bodice")
    pattern = with_piece(pattern, "front bodice", notches=(*bodice.notches, Notch("level", "waist", 20.0)))
    with pytest.raises(StepError, match="match the dart instead"):
        MatchNotch("front skirt", "leg", "front bodice", "level").apply(pattern)


def test_pieces_that_are_not_there_are_named():
    with pytest.raises(MissingPartError, match='no piece called "overskirt"'):
        replace(SHARE, other_piece="overskirt").apply(DRESS)
    with pytest.raises(MissingPartError, match='"front skirt" has no dart called "french"'):
        MatchDart("front skirt", "french", "front bodice", "waist dart").apply(DRESS)


def test_declared_seams_are_used_in_place_of_proposed_ones():
    seam = seam_between(DRESS, *SKIRT_SIDES)
    bare = Pattern(DRESS.pieces, (replace(seam, id="declared"),), DRESS.size)
    assert seam_between(bare, *SKIRT_SIDES).id == "declared"
    with pytest.raises(StepError, match="say first which edges are sewn together"):
        seam_between(bare, EdgeRef("front skirt", "waist"), EdgeRef("front bodice", "waist"))


def test_the_skirt_side_is_as_long_as_drawn():
    assert sides_mm(DRESS) == pytest.approx((math.hypot(40.0, 600.0),) * 2)
