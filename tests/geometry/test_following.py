"""Facings, bands and linings: proposed against what they are sewn to, in part or all round, and made to follow it."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import Affine, frozen_points
from geometry.alterations.anchors import on_edge
from geometry.alterations.dart_steps import WidenDart
from geometry.alterations.follow_edge import FollowEdge, following
from geometry.alterations.follow_piece import FollowPiece
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.redraw import Pull, Redraw
from geometry.alterations.sewn_side import misfit_mm
from geometry.checks.pairing import propose_seams
from geometry.checks.walking import StopKind, walk
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamKind
from geometry.model.piece import Piece
from samples import draft_trousers
from samples.draft_dress import draft_nest
from samples.neck_facings import DEPTH_MM, faced_nest

FACED = faced_nest().sample
TROUSERS = draft_trousers.draft_nest().sample
FRONT = FollowEdge("front neck facing", "neck", "front bodice", "neck")
BACK = FollowEdge("back neck facing", "neck", "back bodice", "neck")
BAND = FollowEdge("waistband", "waist", "back trousers", "waist", in_shape=False)


def seam_of(pattern: Pattern, piece: str, edge: str) -> Seam:
    return next(seam for seam in propose_seams(pattern) if seam.first == (EdgeRef(piece, edge),))


def neck_pulled(pattern: Pattern, piece: str, centre: str, dx_mm: float, dy_mm: float, down_mm: float) -> Pattern:
    """The neck moved at the shoulder by a vector and at the centre line along it."""
    edge = pattern.piece(piece).edge("neck")
    at_centre, at_shoulder = (0.0, 1.0) if abs(edge.start[0]) < abs(edge.end[0]) else (1.0, 0.0)
    bottom = pattern.piece(piece).edge(centre)
    low = 0.0 if bottom.start[1] < bottom.end[1] else 1.0
    pulls = (
        Pull(on_edge("neck", at_shoulder), dx_mm, dy_mm),
        Pull(on_edge("neck", at_centre), 0.0, -down_mm),
        Pull(on_edge(centre, low)),
        Pull(on_edge("armhole", 0.5)),
    )
    return Redraw(piece, pulls).apply(pattern).pattern


# -- proposed


@pytest.mark.parametrize("size", faced_nest().sizes)
def test_neck_facings_lie_on_the_neck_and_meet_at_the_shoulder_in_every_size(size: str) -> None:
    pattern = faced_nest().pattern(size)
    for step in (FRONT, BACK):
        seam = seam_of(pattern, step.piece, step.edge)
        assert (seam.kind, seam.second) == (SeamKind.FACING, (EdgeRef(step.other_piece, "neck"),))
        assert misfit_mm(pattern, seam) < 1e-6
    ends = seam_of(pattern, "back neck facing", "shoulder")
    assert ends.second == (EdgeRef("front neck facing", "shoulder"),)
    assert walk(pattern, ends).ease_mm == pytest.approx(0.0, abs=1e-9)


def test_a_band_on_the_fold_goes_round_half_the_waist_darts_folded() -> None:
    walked = walk(TROUSERS, seam_of(TROUSERS, "waistband", "waist"))
    assert [ref.piece for ref in walked.seam.second] == ["back trousers", "front trousers"]
    assert (walked.start_at, walked.end_at) == ("centre back", "centre front")
    assert walked.ease_mm == pytest.approx(0.0, abs=0.02)
    (side,) = (meeting for meeting in walked.meetings if meeting.first)
    assert side.second is not None
    assert side.second.kind is StopKind.JOIN


def ring_band(length_mm: float) -> Piece:
    corners = [(0.0, 0.0), (length_mm, 0.0), (length_mm, 35.0), (0.0, 35.0)]
    names = ("waist", "right end", "upper edge", "left end")
    edges = tuple(
        Edge(name, frozen_points([corners[i], corners[(i + 1) % 4]]), EdgeRole.WAIST if i == 0 else EdgeRole.OTHER)
        for i, name in enumerate(names)
    )
    return Piece("waistband", edges)


def test_a_band_cut_whole_goes_all_round_and_opens_where_there_is_no_fold() -> None:
    dress = draft_nest().sample
    skirt = Pattern((dress.piece("front skirt"), dress.piece("back skirt"), ring_band(800.0)))
    seam = seam_of(skirt, "waistband", "waist")
    assert [ref.piece for ref in seam.second] == ["back skirt", "front skirt", "front skirt", "back skirt"]
    walked = walk(skirt, seam)
    half_mm = sum(skirt.piece(name).sewn_length_mm("waist") for name in ("front skirt", "back skirt"))
    assert walked.second_mm == pytest.approx(2 * half_mm)
    after = FollowEdge("waistband", "waist", "back skirt", "waist", False, 30.0).apply(skirt).pattern
    assert after.piece("waistband").edge("waist").length_mm == pytest.approx(2 * half_mm + 30.0)


def test_gores_whose_order_nobody_tells_give_no_band() -> None:
    from samples import draft_gored_skirt

    assert all(seam.kind is not SeamKind.BAND for seam in propose_seams(draft_gored_skirt.draft_nest().sample))


# -- followed


def test_what_lies_right_is_left_as_it_is() -> None:
    assert FRONT.apply(FACED).pattern is FACED
    assert BACK.apply(FACED).pattern is FACED
    assert list(following(FACED, FACED)) == []


@given(st.floats(-15.0, 15.0), st.floats(-12.0, 12.0), st.floats(-5.0, 25.0))
def test_a_facing_takes_on_the_neck_and_keeps_its_depth(dx_mm: float, dy_mm: float, down_mm: float) -> None:
    for step, centre in ((FRONT, "centre front"), (BACK, "centre back")):
        altered = neck_pulled(FACED, step.other_piece, centre, dx_mm, dy_mm, down_mm)
        after = step.apply(altered).pattern
        old, new = FACED.piece(step.piece), after.piece(step.piece)
        assert misfit_mm(after, seam_of(after, step.piece, "neck")) < 1e-6
        assert new.edge(centre).length_mm == pytest.approx(DEPTH_MM)
        assert new.edge("shoulder").length_mm == pytest.approx(DEPTH_MM, abs=1e-6)
        assert [edge.allowance_mm for edge in new.edges] == [edge.allowance_mm for edge in old.edges]
        assert depths_mm(new) == pytest.approx(depths_mm(old), abs=6.0)
        again = step.apply(after).pattern.piece(step.piece)
        assert np.allclose(again.outline, new.outline, atol=1e-6)


def depths_mm(facing: Piece) -> list[float]:
    inner = facing.edge("outer edge")
    places = (inner.point_at(share * inner.length_mm) for share in (0.25, 0.5, 0.75))
    return [polyline.nearest(facing.edge("neck").points, place)[1] for place in places]


@given(st.floats(-8.0, 12.0))
def test_a_straight_band_takes_the_length_and_its_notch_meets_the_side_seam(by_mm: float) -> None:
    altered = WidenDart("back trousers", "waist dart", by_mm).apply(TROUSERS).pattern
    after = BAND.apply(altered).pattern
    walked = walk(after, seam_of(after, "waistband", "waist"))
    assert walked.ease_mm == pytest.approx(0.0, abs=1e-6)
    band = after.piece("waistband")
    assert band.edge("waist").is_straight
    assert band.edge("upper edge").length_mm == pytest.approx(band.edge("waist").length_mm)
    assert band.edge("centre back").length_mm == pytest.approx(35.0)
    assert band.notch("side").at_mm == pytest.approx(after.piece("back trousers").sewn_length_mm("waist"), abs=0.06)


def test_a_lining_is_cut_like_its_piece_wherever_it_lies() -> None:
    shell = draft_nest().sample.piece("front bodice")
    away = shell.moved(Affine.turned(0.3).then(Affine.moved(700.0, -90.0)))
    edges = tuple(replace(edge, allowance_mm=10.0) for edge in away.edges)
    lining = replace(away, name="front bodice lining", material="lining", edges=edges)
    pattern = Pattern((shell, lining))
    altered = WidenDart("front bodice", "waist dart", 9.0).apply(pattern).pattern
    after = FollowPiece("front bodice lining", "front bodice").apply(altered).pattern.piece("front bodice lining")
    for edge in altered.piece("front bodice").edges:
        assert after.edge(edge.id).length_mm == pytest.approx(edge.length_mm)
        assert after.edge(edge.id).allowance_mm == 10.0
    assert after.intake_mm(after.dart("waist dart")) == pytest.approx(
        altered.piece("front bodice").intake_mm(altered.piece("front bodice").dart("waist dart"))
    )
    assert np.allclose(after.edge("centre front").start, lining.edge("centre front").start)
    with pytest.raises(StepError, match="same names"):
        FollowPiece("front bodice lining", "sleeve").apply(
            Pattern((*pattern.pieces, draft_nest().sample.piece("sleeve")))
        )


@pytest.mark.parametrize("entry", ["B01", "B02", "B03", "B04", "B05", "B08", "E01", "E02"])
def test_alterations_that_change_a_neck_take_its_facing_along(entry: str) -> None:
    outcome = Alteration(entry, 6.0).apply(FACED)
    assert "facing-not-changed" not in {finding.code for finding in outcome.findings}
    steps = [step for step in Alteration(entry, 6.0).parts(FACED) if step.kind == "follow-edge"]
    assert steps
    for step in (FRONT, BACK):
        assert misfit_mm(outcome.pattern, seam_of(outcome.pattern, step.piece, "neck")) < 0.5
