"""Pieces cut single: opened along the fold, or copied as a mirror image."""

from dataclasses import replace

import pytest

from geometry import regions
from geometry.affine import distance_mm
from geometry.alterations.single_pieces import CutSingle
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from samples.draft_dress import draft_nest
from tests.geometry.drawn_pieces import half_front, rectangle


def test_a_piece_on_the_fold_opens_to_twice_its_area_with_everything_on_both_halves():
    half = half_front()
    whole = CutSingle(half.name).apply(Pattern((half,))).pattern.pieces[0]
    assert whole.area_mm2 == pytest.approx(2 * half.area_mm2)
    assert regions.is_simple(whole.outline)
    assert whole.fold is None
    assert {dart.id for dart in whole.darts} == {
        f"{hand} {dart.id}" for hand in ("left", "right") for dart in half.darts
    }
    assert whole.landmark("right bust point") == pytest.approx((-90.0, 190.0))
    for edge in half.edges:
        if edge.id != half.fold:
            for hand in ("left", "right"):
                length = whole.sewn_length_mm(f"{hand} {edge.id}")
                assert length == pytest.approx(half.sewn_length_mm(edge.id), abs=1e-9)


def test_the_ring_of_an_opened_piece_is_closed():
    whole = CutSingle("front bodice").apply(Pattern((half_front(),))).pattern.pieces[0]
    for edge, following in zip(whole.edges, (*whole.edges[1:], whole.edges[0]), strict=True):
        assert distance_mm(edge.end, following.start) < 1e-9


def test_a_piece_cut_twice_becomes_a_left_and_a_right_one_alike():
    pattern = draft_nest().pattern("10")
    after = CutSingle("back bodice").apply(pattern).pattern
    left, right = after.piece("left back bodice"), after.piece("right back bodice")
    assert (left.quantity, right.quantity) == (1, 1)
    assert right.area_mm2 == pytest.approx(left.area_mm2)
    for dart in left.darts:
        assert right.legs_mm(right.dart(dart.id)) == pytest.approx(left.legs_mm(dart)[::-1])
    notch = left.notch("back armhole 1")
    x, y = left.notch_point(notch)
    assert right.notch_point(right.notch("back armhole 1")) == pytest.approx((-x, y))


def test_pieces_cut_single_already_are_refused():
    single = replace(rectangle(), fold=None)
    for pattern, name in (
        (Pattern((single,)), "panel"),
        (CutSingle("panel").apply(Pattern((rectangle(),))).pattern, "panel"),
    ):
        with pytest.raises(StepError, match="cut single already"):
            CutSingle(name).apply(pattern)


@pytest.mark.parametrize(
    ("name", "single"),
    [("front bodice", "front bodice"), ("back bodice", "left back bodice"), ("sleeve", "right sleeve")],
)
def test_the_words_to_the_cutter_say_that_one_is_cut(name, single):
    """The sample says "Cut 1 on the fold" on its fronts and "Cut 2" on the rest."""
    pattern = CutSingle(name).apply(draft_nest().sample).pattern
    assert [label.text for label in pattern.piece(single).labels] == ["Cut 1"]
