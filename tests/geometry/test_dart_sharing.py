"""Darts split, merged and let out: no cloth is lost or made."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.alterations.anchors import free, on_edge
from geometry.alterations.dart_release import Release, ReleaseDart
from geometry.alterations.dart_sharing import MergeDarts, SplitDart
from geometry.alterations.dart_steps import AimDart, MakeDart
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from tests.geometry.drawn_darts import angle_deg, assert_same_shape, assert_sound, waist_dart
from tests.geometry.drawn_panels import done
from tests.geometry.drawn_pieces import BUST, half_front, rectangle

WIDTHS = st.floats(5.0, 50.0)
TWO = (waist_dart(), MakeDart("panel", free((100.0, 600.0)), free((100.0, 500.0)), 30.0, "other"))


@given(share=st.floats(0.2, 0.8), gap=st.floats(20.0, 60.0), towards=st.sampled_from([-1.0, 1.0]))
def test_the_angles_of_a_split_dart_that_aims_add_up(share, gap, towards):
    piece = half_front()
    whole = angle_deg(piece, piece.dart("waist dart"))
    split = done(piece, SplitDart("front bodice", "waist dart", gap * towards, share, "second"))
    first, second = split.dart("waist dart"), split.dart("second")
    assert angle_deg(split, first) == pytest.approx(whole * (1 - share), abs=1e-4)
    assert angle_deg(split, second) == pytest.approx(whole * share, abs=1e-4)
    assert first.aim == second.aim == BUST
    assert split.sewn_length_mm("waist") == pytest.approx(piece.sewn_length_mm("waist"), abs=1e-5)
    assert (second.from_mm > first.from_mm) is (towards > 0)
    assert_sound(split)


@given(share=st.floats(0.2, 0.8), gap=st.floats(20.0, 60.0), towards=st.sampled_from([-1.0, 1.0]))
def test_the_widths_of_a_split_dart_that_aims_at_nothing_add_up_and_merging_undoes_it(share, gap, towards):
    # two darts of 2 cm take in what one of 4 cm takes in (own arithmetic)
    piece = done(rectangle(), waist_dart(40.0))
    split = done(piece, SplitDart("panel", "waist dart", gap * towards, share, "second"))
    first, second = split.dart("waist dart"), split.dart("second")
    assert split.intake_mm(first) == pytest.approx(40.0 * (1 - share), abs=1e-9)
    assert split.intake_mm(second) == pytest.approx(40.0 * share, abs=1e-9)
    for dart in (first, second):
        a, b = split.legs_mm(dart)
        assert a == pytest.approx(b, abs=1e-6)
    stations = [split.sewn_station_mm("waist", dart.from_mm) for dart in (first, second)]
    assert stations[1] - stations[0] == pytest.approx(gap * towards, abs=1e-9)
    assert split.sewn_length_mm("waist") == pytest.approx(360.0, abs=1e-9)
    merged = done(split, MergeDarts("panel", "second", "waist dart"))
    assert_same_shape(merged, piece)
    assert merged.dart("waist dart").tip == pytest.approx(piece.dart("waist dart").tip)
    assert_sound(split)


def test_darts_of_two_edges_that_aim_at_one_point_merge_by_angle():
    piece = half_front()
    angles = [angle_deg(piece, dart) for dart in piece.darts]
    merged = done(piece, MergeDarts("front bodice", "side dart", "waist dart"))
    (dart,) = merged.darts
    assert dart.id == "waist dart"
    assert angle_deg(merged, dart) == pytest.approx(sum(angles), abs=0.01)
    assert merged.sewn_length_mm("waist") == pytest.approx(piece.sewn_length_mm("waist"), abs=1e-4)
    assert_sound(merged)


@given(into=st.sampled_from([Release.EASE, Release.GATHERS]), beyond=st.floats(0.0, 60.0), width=WIDTHS)
def test_a_released_dart_leaves_its_cloth_in_the_edge_and_marks_where_it_is_taken_up(into, beyond, width):
    piece = done(rectangle(), waist_dart(width))
    after = done(piece, ReleaseDart("panel", "waist dart", into, beyond))
    assert after.darts == ()
    assert after.sewn_length_mm("waist") == pytest.approx(piece.sewn_length_mm("waist") + width, abs=1e-9)
    marks = sorted(notch.at_mm for notch in after.notches_on("waist"))
    assert marks == pytest.approx([200.0 - width / 2 - beyond, 200.0 + width / 2 + beyond])


@given(amount=st.floats(10.0, 60.0))
def test_a_dart_with_a_peaked_mouth_is_released_into_a_smooth_edge_of_the_same_length(amount):
    piece = done(half_front(), AimDart("front bodice", "side dart", free((100.0, 175.0)), 20.0))
    after = done(piece, ReleaseDart("front bodice", "side dart", Release.GATHERS, amount))
    assert after.edge("side").length_mm == pytest.approx(piece.edge("side").length_mm, abs=1e-6)
    assert_sound(after)


def test_a_tuck_is_folded_in_like_the_dart_but_not_stitched():
    piece = done(rectangle(), waist_dart(30.0))
    after = done(piece, ReleaseDart("panel", "waist dart", Release.TUCK, 40.0))
    dart = after.dart("waist dart")
    assert not dart.stitched
    assert after.sewn_length_mm("waist") == piece.sewn_length_mm("waist")
    lines = after.inner_lines[-2:]
    assert [line.id for line in lines] == ["waist dart tuck 1", "waist dart tuck 2"]
    for line, mouth in zip(lines, after.mouth(dart), strict=True):
        assert tuple(line.points[0]) == pytest.approx(mouth)
        assert line.points[1] - line.points[0] == pytest.approx([0.0, -40.0])


def test_darts_on_different_edges_that_aim_at_different_points_do_not_merge():
    piece = done(rectangle(), waist_dart(), MakeDart("panel", on_edge("side", 0.3), free((300.0, 180.0)), 20.0, "low"))
    with pytest.raises(StepError, match="point both at the same body point first"):
        done(piece, MergeDarts("panel", "low", "waist dart"))


def test_a_split_by_nothing_leaves_the_same_object():
    pattern = Pattern((done(rectangle(), waist_dart()),))
    step = SplitDart("panel", "waist dart", 0.0)
    assert step.apply(pattern).pattern is pattern
    assert step.with_amount_mm(4.0).amount_mm == 4.0


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (SplitDart("panel", "waist dart", 200.0), "there is room for 70 mm"),
        (SplitDart("panel", "waist dart", 30.0, 1.0), "less than 1"),
        (SplitDart("panel", "waist dart", 30.0, 0.5, "other"), 'has a dart "other" already'),
        (MergeDarts("panel", "other", "other"), "cannot be merged with itself"),
        (ReleaseDart("panel", "waist dart", Release.TUCK, 500.0), "can be up to 100 mm long"),
        (ReleaseDart("panel", "waist dart", Release.EASE, -5.0), "cannot be below 0"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    with pytest.raises(StepError, match=words):
        done(done(rectangle(), *TWO), step)
