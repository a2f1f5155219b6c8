import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import frozen_points
from geometry.checks.pairing import propose_seams
from geometry.checks.walking import StopKind, Walk, walk
from geometry.errors import MissingPartError
from geometry.model.pattern import EdgeRef, Pattern, Seam
from tests.geometry.plain_dress import BACK_ARMHOLE_MM, CAP_EASE_MM, FRONT_ARMHOLE_MM, SKIRT_SIDE_MM, dress, with_notch

DRESS = dress()
SEAMS = propose_seams(DRESS)


def seam_between(pattern: Pattern, first: str, second: str, edge: str) -> Seam:
    pairs = ((EdgeRef(first, edge),), (EdgeRef(second, edge),))
    return next(seam for seam in propose_seams(pattern) if (seam.first, seam.second) == pairs)


def turned_round(seam: Seam) -> Seam:
    """The same seam walked from its other end."""
    return replace(
        seam,
        first=seam.first[::-1],
        second=seam.second[::-1],
        first_backward=tuple(not way for way in seam.first_backward[::-1]),
        second_backward=tuple(not way for way in seam.second_backward[::-1]),
    )


def sides_changed(seam: Seam) -> Seam:
    """The same seam with its sides named the other way round."""
    return replace(
        seam,
        first=seam.second,
        second=seam.first,
        first_backward=seam.second_backward,
        second_backward=seam.first_backward,
    )


def offsets(walked: Walk) -> list[tuple[float, float]]:
    rows = ((meeting.offset_from_start_mm, meeting.offset_from_end_mm) for meeting in walked.meetings)
    return sorted((start, end) for start, end in rows if start is not None and end is not None)


def test_a_side_seam_is_as_long_as_its_straight_lines_with_the_dart_folded() -> None:
    walked = walk(DRESS, seam_between(DRESS, "front bodice", "back bodice", "side"))
    assert walked.first_mm == pytest.approx(225 - 25)
    assert walked.second_mm == pytest.approx(200)
    (dart,) = walked.meetings
    assert dart.first is not None
    assert dart.second is None
    assert dart.first.kind is StopKind.DART
    assert (dart.first.from_start_mm, dart.first.from_end_mm) == pytest.approx((50, 150))


def test_hip_notches_lie_200_mm_below_the_waist_on_both_sides() -> None:
    walked = walk(DRESS, seam_between(DRESS, "front skirt", "back skirt", "side"))
    (hip,) = walked.meetings
    assert hip.first is not None
    assert hip.second is not None
    assert hip.first.from_start_mm == pytest.approx(200)
    assert hip.second.from_end_mm == pytest.approx(SKIRT_SIDE_MM - 200)
    assert (walked.start_at, walked.end_at) == ("waist", "hem")


def test_the_cap_is_walked_along_back_and_front_armhole_with_its_ease_at_the_join() -> None:
    walked = walk(DRESS, next(seam for seam in SEAMS if seam.kind == "armhole"))
    assert walked.ease_mm == pytest.approx(CAP_EASE_MM)
    lower, upper, top, front = walked.meetings
    assert lower.offset_from_start_mm == pytest.approx(0)
    assert upper.offset_from_start_mm == pytest.approx(0)
    assert front.offset_from_end_mm == pytest.approx(0)
    assert top.second is not None
    assert top.second.kind is StopKind.JOIN
    assert top.second.from_start_mm == pytest.approx(BACK_ARMHOLE_MM)
    assert top.second.from_end_mm == pytest.approx(FRONT_ARMHOLE_MM)
    assert top.offset_from_start_mm == pytest.approx(CAP_EASE_MM / 2)


@pytest.mark.parametrize("seam", SEAMS, ids=lambda seam: seam.id)
def test_walking_from_the_other_end_swaps_the_ends(seam: Seam) -> None:
    there, back = walk(DRESS, seam), walk(DRESS, turned_round(seam))
    assert (there.first_mm, there.second_mm) == pytest.approx((back.first_mm, back.second_mm))
    assert (there.start_at, there.end_at) == (back.end_at, back.start_at)
    for (a, b), (c, d) in zip(offsets(there), sorted((d, c) for c, d in offsets(back)), strict=True):
        assert (a, b) == pytest.approx((c, d))


@given(st.sampled_from(SEAMS), st.floats(-20, 20))
def test_walking_is_symmetric_in_its_sides(seam: Seam, shift_mm: float) -> None:
    at_mm = DRESS.piece("front skirt").notch("hip notch").at_mm
    pattern = with_notch(DRESS, "front skirt", "hip notch", at_mm=at_mm + shift_mm)
    ours, theirs = walk(pattern, seam), walk(pattern, sides_changed(seam))
    assert ours.ease_mm == pytest.approx(-theirs.ease_mm)
    for (a, b), (c, d) in zip(offsets(ours), sorted((-c, -d) for c, d in offsets(theirs)), strict=True):
        assert (a, b) == pytest.approx((c, d))


@given(st.floats(-30, 70), st.floats(-10, 10))
def test_a_miss_is_only_what_no_placing_of_the_ease_explains(offset_mm: float, ease_mm: float) -> None:
    """Truth by trial: the ease is spread before the notch by every share from none to all of it."""
    side = seam_between(DRESS, "front skirt", "back skirt", "side")
    pattern = with_notch(DRESS, "front skirt", "hip notch", at_mm=SKIRT_SIDE_MM - 200 - offset_mm)
    walked = replace(walk(pattern, side), second_mm=SKIRT_SIDE_MM - ease_mm)
    (hip,) = (meeting for meeting in walked.meetings if meeting.first and meeting.second)
    shares = [share / 200 for share in range(201)]
    least = min((offset_mm - share * walked.ease_mm for share in shares), key=abs)
    assert walked.miss_mm(hip) == pytest.approx(least, abs=abs(ease_mm) / 200 + 1e-6)


def test_unnamed_notches_are_paired_by_nearness_and_no_further_than_the_reach() -> None:
    pattern = with_notch(
        with_notch(DRESS, "front skirt", "hip notch", partner=""), "back skirt", "hip notch", partner=""
    )
    side = seam_between(pattern, "front skirt", "back skirt", "side")
    assert len(walk(pattern, side).meetings) == 1
    far = with_notch(pattern, "back skirt", "hip notch", at_mm=240)
    assert len(walk(far, side, reach_mm=39).meetings) == 2
    assert len(walk(far, side, reach_mm=41).meetings) == 1


def test_a_notch_on_a_dart_leg_belongs_to_the_dart() -> None:
    piece = DRESS.piece("front bodice")
    notches = [replace(piece.notches[0], id=f"leg {at}", edge="side", at_mm=at) for at in (150, 162, 175)]
    pattern = DRESS.with_piece(replace(piece, notches=(*piece.notches, *notches)))
    walked = walk(pattern, seam_between(pattern, "front bodice", "back bodice", "side"))
    assert [meeting.stop.kind for meeting in walked.meetings] == [StopKind.DART]


def test_two_skirt_darts_and_one_bodice_dart_pair_the_nearest() -> None:
    skirt = DRESS.piece("front skirt")
    second = replace(skirt.darts[0], id="second dart", from_mm=40, to_mm=50, tip=(175, -80))
    pattern = DRESS.with_piece(replace(skirt, darts=(*skirt.darts, second)))
    seam = Seam("waist", (EdgeRef("front skirt", "waist"),), (EdgeRef("front bodice", "waist"),), (True,), (False,))
    by_dart = {meeting.first.id: meeting.second for meeting in walk(pattern, seam).meetings if meeting.first}
    assert by_dart["second dart"] is None
    assert by_dart["waist dart"] is not None


def test_a_seam_of_a_lost_edge_is_refused_by_name() -> None:
    seam = Seam("lost", (EdgeRef("sleeve", "cuff"),), (EdgeRef("sleeve", "hem"),), (False,), (False,))
    with pytest.raises(MissingPartError, match='"cuff"'):
        walk(DRESS, seam)


def test_stations_of_curved_edges_are_arc_lengths() -> None:
    """A quarter round of 100 mm radius in 400 chords: a quarter of its length is 50 pi / 4 to 0.001 mm."""
    skirt = DRESS.piece("front skirt")
    angles = [math.pi / 2 * k / 400 for k in range(401)]
    arc = [(220 + 100 * (1 - math.cos(a)), 100 * math.sin(a)) for a in angles]
    edge = replace(skirt.edge("side"), points=frozen_points(arc))
    round_side = replace(skirt, edges=tuple(edge if e.id == "side" else e for e in skirt.edges))
    at_mm = edge.length_mm / 4
    pattern = with_notch(DRESS.with_piece(round_side), "front skirt", "hip notch", at_mm=at_mm)
    walked = walk(pattern, seam_between(pattern, "front skirt", "back skirt", "side"))
    hip = next(meeting.first for meeting in walked.meetings if meeting.first)
    assert hip.from_end_mm == pytest.approx(100 * math.pi / 8, abs=1e-3)
