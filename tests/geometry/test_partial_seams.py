"""Seams that sew an edge only in part: measured, walked, checked and put right over that stretch alone."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from geometry.alterations.anchors import on_edge
from geometry.alterations.edge_ends import End
from geometry.alterations.notch_steps import RemoveNotch
from geometry.alterations.seam_steps import MatchNotch, ShareDifference
from geometry.alterations.slash import Hinge, Slash, SlashCut
from geometry.checks.fixing import fixes
from geometry.checks.laying import contact, lay
from geometry.checks.run import check_pattern
from geometry.checks.sewing import turned
from geometry.checks.walking import StopKind, side_mm, walk
from geometry.errors import MissingPartError, StepError
from geometry.findings import Level
from geometry.model.dart import Dart
from geometry.model.edge import EdgeRole
from geometry.model.marks import Notch
from geometry.model.pattern import WHOLE_EDGE, EdgePlace, EdgeRef, Pattern, Seam, SeamSide, Stretch
from tests.geometry.drawn_panels import ring

TOP, SEAM = EdgeRef("back", "top"), EdgeRef("yoke", "seam")
TO_NOTCH = Stretch(end=EdgePlace("yoke end"))
SHARES = st.floats(0.0, 1.0)


def yoke_and_back(yoke_mm: float = 180.0, stretch: Stretch = TO_NOTCH) -> Pattern:
    """A back 300 mm wide with a dart of 20 mm in its top, and a yoke sewn to its top from the side to a notch.

    From the side to the notch the top measures 200 mm, 180 with the dart folded.
    """
    back = ring(
        "back",
        ("hem", EdgeRole.HEM, ((0.0, 0.0),)),
        ("side", EdgeRole.SIDE, ((300.0, 0.0),)),
        ("top", EdgeRole.OTHER, ((300.0, 400.0),)),
        ("centre back", EdgeRole.CENTRE_BACK, ((0.0, 400.0),)),
        darts=(Dart("dart", "top", 120.0, 140.0, (170.0, 320.0)),),
        notches=(Notch("yoke end", "top", 200.0), Notch("middle", "top", 60.0, partner="middle")),
    )
    yoke = ring(
        "yoke",
        ("seam", EdgeRole.OTHER, ((0.0, 0.0),)),
        ("left end", EdgeRole.OTHER, ((yoke_mm, 0.0),)),
        ("upper edge", EdgeRole.OTHER, ((yoke_mm, 80.0),)),
        ("right end", EdgeRole.OTHER, ((0.0, 80.0),)),
        notches=(Notch("middle", "seam", yoke_mm - 60.0, partner="middle"),),
    )
    seam = Seam("yoke", (TOP,), (SEAM,), (False,), (True,), first_stretches=(stretch,))
    return Pattern((back, yoke), (seam,))


def first_mm(pattern: Pattern) -> float:
    return side_mm(pattern, pattern.seams[0].sides[0])


def test_only_the_stretch_counts_and_its_dart_is_folded() -> None:
    pattern = yoke_and_back()
    walked = walk(pattern, pattern.seams[0])
    assert (walked.first_mm, walked.second_mm) == pytest.approx((180.0, 180.0))
    assert (walked.start_at, walked.end_at) == ("side", "yoke end")
    notch, dart = walked.meetings
    assert (notch.offset_from_start_mm, notch.offset_from_end_mm) == pytest.approx((0.0, 0.0))
    assert dart.first is not None
    assert dart.first.kind is StopKind.DART
    assert (dart.first.from_start_mm, dart.first.from_end_mm) == pytest.approx((120.0, 60.0))


def test_what_lies_beyond_the_stretch_is_not_walked() -> None:
    pattern = yoke_and_back(stretch=Stretch(start=EdgePlace("yoke end")))
    walked = walk(pattern, pattern.seams[0])
    assert walked.first_mm == pytest.approx(100.0)
    assert [meeting.stop.piece for meeting in walked.meetings] == ["yoke"]


@given(SHARES, SHARES)
def test_the_stretches_of_an_edge_make_up_its_whole_length(a: float, b: float) -> None:
    pattern, (low, high) = yoke_and_back(), sorted((a, b))
    places = [EdgePlace(share=share) for share in (0.0, low, high, 1.0)]
    parts = [Stretch(one, other).sewn_mm(pattern.piece("back"), "top") for one, other in pairwise(places)]
    assert sum(parts) == pytest.approx(280.0)
    assert min(parts) >= 0.0


@given(SHARES, SHARES)
def test_walking_a_stretch_is_symmetric_in_its_ends_and_its_sides(a: float, b: float) -> None:
    low, high = sorted((a, b))
    pattern = yoke_and_back(stretch=Stretch(EdgePlace(share=low), EdgePlace(share=high)))
    seam = pattern.seams[0]
    there = walk(pattern, seam)
    back = walk(pattern, replace(seam, first_backward=(True,), second_backward=(False,)))
    other = replace(seam, first=seam.second, second=seam.first, first_backward=(True,), second_backward=(False,))
    swapped = walk(pattern, replace(other, first_stretches=(), second_stretches=seam.first_stretches))
    assert (there.start_at, there.end_at) == (back.end_at, back.start_at)
    assert there.ease_mm == pytest.approx(back.ease_mm) == pytest.approx(-swapped.ease_mm)
    assert len(there.meetings) == len(back.meetings) == len(swapped.meetings)
    stops = {(meeting.stop.piece, meeting.stop.id): meeting.stop for meeting in back.meetings}
    for meeting in there.meetings:
        assert meeting.stop.from_start_mm == pytest.approx(stops[meeting.stop.piece, meeting.stop.id].from_end_mm)


@given(SHARES, SHARES, SHARES)
def test_the_pieces_touch_inside_the_stretch_however_far_is_walked(a: float, b: float, far: float) -> None:
    low, high = sorted((a, b))
    pattern = yoke_and_back(stretch=Stretch(EdgePlace(share=low), EdgePlace(share=high)))
    (side, _), total = pattern.seams[0].sides, first_mm(pattern)
    for from_end in (False, True):
        at = contact(pattern, side, far * total, from_end=from_end)
        assert low * 300.0 - 1e-6 <= at.at_mm <= high * 300.0 + 1e-6 or 120.0 <= at.at_mm <= 140.0
        sewn = pattern.piece("back").sewn_station_mm("top", at.at_mm)
        start = pattern.piece("back").sewn_station_mm("top", low * 300.0)
        assert sewn - start == pytest.approx((1.0 - far if from_end else far) * total, abs=1e-6)
    laid = lay(pattern, pattern.seams[0], far * total)
    assert laid.motion.point(laid.moving.place) == pytest.approx(laid.still.place)


def test_turned_round_the_stretch_stays_on_its_edge() -> None:
    seam = replace(yoke_and_back().seams[0], second_stretches=(Stretch(EdgePlace(share=0.25)),))
    assert turned(seam).sides[1] == SeamSide((SEAM,), (False,), (Stretch(EdgePlace(share=0.25)),))
    assert turned(turned(seam)) == seam


@given(st.floats(-30.0, 60.0))
def test_a_cut_through_the_stretch_changes_the_seam_and_one_beside_it_does_not(opening_mm: float) -> None:
    assume(abs(opening_mm) > 1e-3)
    pattern = yoke_and_back()

    def slashed(top: float, hem: float) -> float:
        cut = SlashCut((on_edge("hem", hem), on_edge("top", top)), opening_mm, Hinge.NONE)
        return first_mm(Slash("back", (cut,)).apply(pattern).pattern)

    assert slashed(0.6, 0.4) == pytest.approx(180.0 + opening_mm, abs=1e-6)
    assert slashed(0.9, 0.1) == pytest.approx(180.0, abs=1e-6)


def test_a_yoke_too_long_for_its_stretch_is_found_and_shared_out() -> None:
    pattern = yoke_and_back(188.0)
    for name in ("back", "yoke"):
        pattern = RemoveNotch(name, "middle").apply(pattern).pattern
    (finding,) = (each for each in check_pattern(pattern) if each.code == "seam-lengths")
    assert (finding.level, finding.measured_mm, finding.expected_mm) == (Level.STOP, pytest.approx(180), 188)
    assert "from side to yoke end" in finding.text
    step = fixes(pattern, finding)
    assert step is not None
    walked = walk(after := step.apply(pattern).pattern, after.seams[0])
    assert walked.first_mm == pytest.approx(184.0)
    assert walked.second_mm == pytest.approx(184.0)


@given(st.floats(0.3, 1.0), st.sampled_from([0.0, 0.5, 1.0]), st.floats(150.0, 200.0))
def test_a_shared_difference_is_gone_where_the_stretch_grows_with_its_edge(
    end: float, share: float, yoke_mm: float
) -> None:
    pattern = yoke_and_back(yoke_mm, Stretch(end=EdgePlace(share=end)))
    step = ShareDifference("back", "top", End.START, "yoke", "seam", End.START, share)
    try:
        after = step.apply(pattern).pattern
    except StepError:
        return
    walked = walk(after, after.seams[0])
    assert walked.ease_mm == pytest.approx(0.0, abs=1e-6)


def test_an_end_that_is_not_sewn_cannot_take_up_a_difference() -> None:
    with pytest.raises(StepError, match="not sewn at its end"):
        ShareDifference("back", "top", End.END, "yoke", "seam", End.START, 1.0).apply(yoke_and_back(190.0))


def test_notches_are_matched_along_the_stretch() -> None:
    pattern = yoke_and_back(stretch=Stretch(EdgePlace(share=0.1)))
    after = MatchNotch("back", "middle", "yoke", "middle").apply(pattern).pattern
    assert after.piece("back").notch("middle").at_mm == pytest.approx(30.0 + 60.0)


def test_a_stretch_whose_notch_is_gone_cannot_be_walked_and_is_told() -> None:
    pattern = RemoveNotch("back", "yoke end").apply(yoke_and_back()).pattern
    with pytest.raises(MissingPartError, match="yoke end"):
        walk(pattern, pattern.seams[0])
    (finding,) = (each for each in check_pattern(pattern) if each.code == "seam-end-lost")
    assert (finding.level, finding.piece) == (Level.STOP, "back")


def test_an_edge_may_be_sewn_in_two_stretches_with_a_gap_between() -> None:
    """As at a pocket in a seam: the same edge twice on one side."""
    pattern = yoke_and_back()
    gap = (Stretch(end=EdgePlace(share=0.2)), Stretch(start=EdgePlace("yoke end")))
    seam = Seam("gap", (TOP, TOP), (SEAM,), (False, False), (True,), first_stretches=gap)
    walked = walk(pattern, seam)
    assert walked.first_mm == pytest.approx(60.0 + 100.0)
    assert [meeting.stop.kind for meeting in walked.meetings if meeting.first] == [StopKind.JOIN]


def test_a_whole_edge_is_what_nothing_is_said_about() -> None:
    seam = replace(yoke_and_back().seams[0], first_stretches=())
    assert seam.sides[0].stretches == (WHOLE_EDGE,)
    assert not seam.is_partial
    assert yoke_and_back().seams[0].is_partial
