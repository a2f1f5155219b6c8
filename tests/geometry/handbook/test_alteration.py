"""The recorded step: which pieces, handles that can be dragged, what it says, what it is made of."""

from dataclasses import replace

import pytest

from geometry.affine import frozen_points
from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.bench import NamedPlace
from geometry.alterations.handbook.landmarks import BUST_POINT, ELBOW, UNDERARM, detected, landmark
from geometry.alterations.handbook.panels import Panel, PieceRole, role_of
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Slash
from geometry.errors import StepError
from geometry.findings import Level
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.draft_dress import draft_nest
from tests.geometry.handbook.patterns import dress

DRESS = draft_nest().pattern("10")


def test_pieces_are_told_by_their_names_and_edges():
    assert [role_of(piece) for piece in DRESS.pieces] == [
        PieceRole.FRONT_BODICE,
        PieceRole.BACK_BODICE,
        PieceRole.SLEEVE,
        PieceRole.FRONT_SKIRT,
        PieceRole.BACK_SKIRT,
    ]


def test_all_pieces_that_belong_together_change_in_one_step():
    outcome = Alteration("A02", 12.0).apply(DRESS)
    assert {change.piece for change in outcome.changes} == {"front bodice", "back bodice", "sleeve"}
    assert {piece.name for piece in outcome.pattern.pieces if piece is DRESS.piece(piece.name)} == {
        "front skirt",
        "back skirt",
    }


def test_named_pieces_limit_it():
    step = Alteration("A01", 12.0, pieces=("back bodice",))
    assert {change.piece for change in step.apply(DRESS).changes} == {"back bodice"}
    assert step.piece_names == ("back bodice",)


def test_a_lining_is_altered_with_its_piece():
    lining = replace(DRESS.piece("front bodice"), name="front bodice lining")
    outcome = Alteration("D01", 12.7).apply(replace(DRESS, pieces=(*DRESS.pieces, lining)))
    shell, lined = (outcome.pattern.piece(name) for name in ("front bodice", "front bodice lining"))
    assert shell.edges == lined.edges


def test_a_handle_that_is_dragged_moves_the_cut_and_the_rest_stays():
    step = Alteration("A01", 12.0)
    layout = step.laid_out(DRESS)
    assert layout.pieces == ("front bodice", "back bodice")
    assert {handle.place.name for handle in layout.handles} == {"line at centre", "line at side"}
    moved = step.with_place(NamedPlace("front bodice", "line at centre", on_edge("centre front", 0.9)))
    lines = {line.piece: line.points for line in moved.laid_out(DRESS).chalk}
    assert lines["front bodice"][0] == pytest.approx(
        DRESS.piece("front bodice").edge("centre front").point_at(350.6 * 0.9), abs=0.2
    )
    assert lines["back bodice"] == pytest.approx(layout.chalk[1].points)
    assert len(moved.with_place(moved.places[0]).places) == 1


def test_a_layout_that_cannot_be_done_says_why_and_still_has_its_handles():
    layout = Alteration("D01", -39.0).laid_out(DRESS)
    assert 'The dart "side dart"' in layout.trouble
    assert BUST_POINT in {handle.place.name for handle in layout.handles}


def test_cautions_come_with_the_layout_and_as_findings():
    step = Alteration("D01", 30.0)
    assert "choose the size by the high bust" in step.laid_out(DRESS).cautions[0]
    cautions = [finding for finding in step.apply(DRESS).findings if finding.code == "amount-caution"]
    assert [finding.level for finding in cautions] == [Level.WARN]
    assert not Alteration("D01", 10.0).laid_out(DRESS).cautions


def test_it_is_made_of_slashes():
    parts = Alteration("A01", 12.0).parts(DRESS)
    assert [type(part) for part in parts] == [Slash, Slash]
    assert [part.amount_mm for part in parts] == [12.0, 12.0]


def test_it_replays_on_another_size_and_after_another_step():
    records = (
        Record("1", Alteration("D01", 12.7)),
        Record("2", Alteration("A01", -20.0)),
        Record("3", Alteration("C02", 6.0)),
    )
    for size in ("4", "16"):
        result = replay(dress(size), records)
        assert not [finding for finding in result.findings if finding.level is Level.STOP]


def test_a_piece_without_the_edges_it_needs_is_named():
    plain = Piece(
        "front bodice",
        tuple(
            Edge(f"edge {n}", frozen_points(points), EdgeRole.NECK if n == 0 else EdgeRole.OTHER)
            for n, points in enumerate([[(0, 0), (9, 0)], [(9, 0), (9, 9)], [(9, 9), (0, 0)]])
        ),
    )
    with pytest.raises(StepError, match='On "front bodice" no edge is known as the waist'):
        Alteration("A01", 5.0).apply(Pattern((plain,)))
    with pytest.raises(StepError, match='known as "collar"'):
        Alteration("B06", 5.0).apply(Pattern((plain,)))


def test_landmarks_are_told_by_the_piece_and_a_mark_wins():
    front = DRESS.piece("front bodice")
    told = dict(detected(Panel(front)))
    assert Panel(front).point(told[UNDERARM]) == front.edge("armhole").start
    assert Panel(front).point(told[BUST_POINT]) == front.landmark("bust point")
    unmarked = replace(front, marks=())
    assert Panel(unmarked).point(landmark(Panel(unmarked), BUST_POINT)) == front.dart("side dart").aim
    marked = PlaceLandmark("front bodice", UNDERARM, on_edge("side", 0.9)).apply(DRESS).pattern.piece("front bodice")
    assert Panel(marked).point(landmark(Panel(marked), UNDERARM)) == pytest.approx(
        front.edge("side").point_at(0.9 * front.edge("side").length_mm)
    )


def test_a_landmark_that_is_not_told_asks_to_be_placed():
    with pytest.raises(StepError, match='place a landmark called "elbow" first'):
        landmark(Panel(DRESS.piece("front bodice")), ELBOW)


def test_a_facing_goes_along_and_is_told_where_it_must_be_left_behind():
    neck = DRESS.piece("front bodice").edge("neck")
    low, wide = (0.0, neck.end[1] - 50.0), (neck.start[0] + 32.0, neck.start[1] - 46.0)
    facing = Piece(
        "front neck facing",
        (
            neck,
            Edge("centre front", frozen_points([neck.end, low]), EdgeRole.CENTRE_FRONT),
            Edge("outer", frozen_points([low, (45.0, neck.end[1] - 40.0), wide])),
            Edge("shoulder", frozen_points([wide, neck.start]), EdgeRole.SHOULDER),
        ),
    )
    pattern = replace(DRESS, pieces=(*DRESS.pieces, facing))
    limited = Alteration("B08", 8.0, pieces=("front bodice",)).apply(pattern)
    left = [finding for finding in limited.findings if finding.code == "facing-not-changed"]
    assert [finding.piece for finding in left] == ["front neck facing"]
    for entry in ("B01", "B02", "B03", "B05", "B08"):
        outcome = Alteration(entry, 8.0).apply(pattern)
        assert "facing-not-changed" not in {finding.code for finding in outcome.findings}
        shell, faced = (outcome.pattern.piece(name) for name in ("front bodice", "front neck facing"))
        assert faced.edge("neck").length_mm == pytest.approx(shell.edge("neck").length_mm)
        assert faced.edge("centre front").length_mm == pytest.approx(50.0, abs=0.5)


def test_uneven_shoulders_change_one_half_only():
    after = Alteration("C07", 10.0, "right").apply(DRESS).pattern
    front = after.piece("front bodice")
    assert front.fold is None
    assert front.sewn_length_mm("left side") == pytest.approx(DRESS.piece("front bodice").sewn_length_mm("side"))
    assert front.sewn_length_mm("right side") < front.sewn_length_mm("left side") - 8
    left, right = (after.piece(f"{hand} back bodice") for hand in ("left", "right"))
    assert left.sewn_length_mm("side") - right.sewn_length_mm("side") > 8
    assert front.edge("right armhole").length_mm == pytest.approx(front.edge("left armhole").length_mm)


def test_a_place_that_the_entry_does_not_have_is_refused_with_those_it_has():
    step = Alteration("A01", 10.0, places=(NamedPlace("front bodice", "line at center", on_edge("side", 0.2)),))
    with pytest.raises(StepError, match=r'no place called "line at center" .* it has "line at centre", "line at side"'):
        step.apply(DRESS)


def test_a_cut_to_the_centre_is_refused_on_a_piece_that_holds_both_halves():
    opened = Alteration("C07", 10.0, "left").apply(DRESS).pattern
    with pytest.raises(StepError, match="before the piece is cut single"):
        Alteration("A01", 10.0).apply(opened)
    moved = {(each.piece, each.edge): each.change_mm for each in Alteration("C01", 6.0).apply(opened).changes}
    assert moved["front bodice", "left shoulder"] == pytest.approx(6.0)
    assert moved["front bodice", "right shoulder"] == pytest.approx(6.0)
    assert moved["left back bodice", "shoulder"] == pytest.approx(6.0)
