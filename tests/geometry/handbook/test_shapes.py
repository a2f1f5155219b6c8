"""Alterations above the waist leave lines as a dressmaker would draw them: no hooks, waves, or marks gone astray.

That a neck is square to its centre line, that a collar's halves are alike and that the shoulder notch lies in the
middle of what was spread is common practice, no source; lengths follow from the amounts by own arithmetic.
"""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from geometry.affine import frozen_points
from geometry.alterations.chalk import JournalChalk
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.registry import ENTRIES, entry_of
from geometry.alterations.replay import Record
from geometry.checks.run import check_pattern
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.findings import Level
from geometry.model.edge import Edge
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from tests.geometry.handbook.patterns import dress, pattern_for

ON_LINE_MM = 0.1
"""A hairline: chords of a slid curve stay nearer to it than that; own choice."""

JOINED_MM = 2.0
"""How far a corner that is joined smoothly to its neighbour leaves the old line: a pencil line or two; own choice."""


def altered(code: str, amount_mm: float, variant: str = "", size: str = "10") -> Pattern:
    return Alteration(code, amount_mm, variant).apply(pattern_for(entry_of(code), size)).pattern


def corner_deg(piece: Piece, first: str, second: str) -> float:
    """The inner angle at the corner of two edges that follow one another, seen 4 mm from it."""
    before, after = piece.edge(first), piece.edge(second)
    (ax, ay), (bx, by), (cx, cy) = before.point_at(before.length_mm - 4), before.end, after.point_at(4)
    turn = math.atan2((bx - ax) * (cy - by) - (by - ay) * (cx - bx), (bx - ax) * (cx - bx) + (by - ay) * (cy - by))
    return 180 - math.degrees(turn)


def bends_deg(edge: Edge, step_mm: float = 6.0) -> list[float]:
    """How an edge turns at places 3 mm apart, each seen from the places beside it."""
    stations = np.arange(step_mm, edge.length_mm - step_mm, step_mm / 2)
    turns = []
    for at in stations.tolist():
        (ax, ay), (bx, by), (cx, cy) = (edge.point_at(at + by_mm) for by_mm in (-step_mm, 0.0, step_mm))
        cross = (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
        turns.append(math.degrees(math.atan2(cross, (bx - ax) * (cx - bx) + (by - ay) * (cy - by))))
    return turns


def waves(edge: Edge) -> int:
    """How often an edge changes between hollow and round, bends of less than 1.5 degrees left out."""
    return sum(a * b < 0 for a, b in itertools.pairwise(turn for turn in bends_deg(edge) if abs(turn) > 1.5))


@pytest.mark.parametrize("amount", [-24.0, -10.0, -5.0, 5.0, 20.0])
def test_a_half_collar_made_shorter_beside_its_fold_ends_square_on_the_fold(amount: float):
    half = altered("B06", amount).piece("half collar")
    assert corner_deg(half, "outer", "centre back") == pytest.approx(90.0, abs=1.0)
    assert np.all(np.diff(half.edge("outer").points[:, 0]) < 0)


@pytest.mark.parametrize("variant", ["2 cuts", "3 cuts", "4 cuts"])
@pytest.mark.parametrize("amount", [-20.0, 20.0])
def test_a_whole_collar_gets_a_longer_outer_edge_alike_on_both_sides_of_its_centre_back(variant: str, amount: float):
    whole = altered("B07", amount, variant).piece("whole collar")
    for edge in ("neck", "outer"):
        chain = whole.edge(edge).points
        mirrored = frozen_points(chain[::-1] * (-1.0, 1.0))
        assert polyline.distances_mm(chain, mirrored).max() < ON_LINE_MM
    assert whole.grain is not None
    assert whole.grain.start[0] == pytest.approx(whole.grain.end[0], abs=1e-9)


@pytest.mark.parametrize("variant", ["collar kept", "front lowered as much"])
@pytest.mark.parametrize("amount", [-20.0, -12.0, 8.0, 12.0])
def test_the_neck_of_a_forward_head_stays_square_to_the_centre_and_runs_evenly_down_to_it(variant: str, amount: float):
    after = altered("B05", amount, variant)
    front, back = after.piece("front bodice"), after.piece("back bodice")
    assert corner_deg(front, "neck", "centre front") == pytest.approx(90.0, abs=4.0)
    assert corner_deg(back, "centre back", "neck") == pytest.approx(90.0, abs=4.0)
    assert np.all(np.diff(back.edge("neck").points[:, 1]) >= -ON_LINE_MM)


@pytest.mark.parametrize(("code", "amount"), [("C05", -10.0), ("C05", 10.0), ("C06", 10.0)])
def test_a_shoulder_that_goes_back_along_an_edge_leaves_that_edge_its_line(code: str, amount: float):
    after, before = altered(code, amount, "whole shoulder"), dress("10")
    shortened = "back bodice" if amount * (1 if code == "C05" else -1) < 0 else "front bodice"
    for edge in ("neck", "armhole"):
        old, new = before.piece(shortened).edge(edge), after.piece(shortened).edge(edge)
        assert polyline.distances_mm(old.points, new.points).max() < JOINED_MM
        assert waves(new) == waves(old)


@pytest.mark.parametrize("size", ["4", "10", "16"])
@pytest.mark.parametrize("amount", [-12.0, 12.0, 25.0])
def test_a_shoulder_kept_in_length_leaves_front_and_back_side_seams_alike(size: str, amount: float):
    before, after = dress(size), altered("C03", amount, "shoulder length kept", size)
    for name in ("front bodice", "back bodice"):
        grown = {
            edge: after.piece(name).sewn_length_mm(edge) - before.piece(name).sewn_length_mm(edge)
            for edge in ("side", "armhole", "shoulder")
        }
        assert grown == pytest.approx({"side": amount, "armhole": 0.0, "shoulder": 0.0}, abs=1e-3)


@pytest.mark.parametrize("amount", [-20.0, 12.7, 25.0])
def test_a_full_chest_keeps_shoulder_waist_and_armhole(amount: float):
    before, after = dress("10").piece("front bodice"), altered("D05", amount, "full chest").piece("front bodice")
    for edge, within in (("shoulder", 0.01), ("waist", 0.1), ("armhole", 1.6), ("neck", 1e-6)):
        assert after.sewn_length_mm(edge) == pytest.approx(before.sewn_length_mm(edge), abs=within), edge


def test_the_cut_of_a_full_chest_can_be_taken_hold_of():
    handles = Alteration("D05", 12.7, "full chest").laid_out(dress("10")).handles
    assert {"cut on shoulder", "cut at waist"} <= {handle.place.name for handle in handles}


@pytest.mark.parametrize(("code", "variant"), [("I01", "whole width"), ("I02", "ease accepted")])
@pytest.mark.parametrize("amount", [-20.0, 20.0, 60.0])
def test_a_sleeve_spread_down_the_middle_has_its_shoulder_notch_there_and_keeps_its_cap(
    code: str, variant: str, amount: float
):
    if not entry_of(code).amount.least_mm <= amount:
        pytest.skip("beyond its range")
    before, after = dress("10").piece("sleeve"), altered(code, amount, variant).piece("sleeve")

    def sides(piece: Piece) -> tuple[float, float]:
        notch = next(each for each in piece.notches if "shoulder" in each.id)
        return notch.at_mm, piece.edge("cap").length_mm - notch.at_mm

    grown = [new - old for old, new in zip(sides(before), sides(after), strict=True)]
    assert grown == pytest.approx([amount / 2, amount / 2], abs=0.05 * abs(amount) + 1.0)
    assert after.bounds_mm[3] == pytest.approx(before.bounds_mm[3], abs=8.0)


@pytest.mark.parametrize(
    ("code", "amount", "variant"), [("I04", 12.0, "dart"), ("I04", -12.0, "ease"), ("I06", 40.0, "")]
)
def test_a_sleeve_bent_at_the_elbow_hangs_by_the_grain_of_its_upper_half(code: str, amount: float, variant: str):
    grain = altered(code, amount, variant).piece("sleeve").grain
    assert grain is not None
    assert grain.start[0] == pytest.approx(grain.end[0], abs=1e-9)


@pytest.mark.parametrize("size", ["4", "10", "16"])
@pytest.mark.parametrize(
    ("code", "amount", "variant"),
    [("A02", -15.0, ""), ("I07", -15.0, ""), ("I08", 20.0, "tuck across"), ("I01", -25.0, "cap height kept")],
)
def test_a_cap_folded_across_is_hollow_round_and_hollow_as_before(code: str, amount: float, variant: str, size: str):
    assert waves(altered(code, amount, variant, size).piece("sleeve").edge("cap")) == 2


@pytest.mark.parametrize("entry", [pytest.param(entry, id=entry.code) for entry in ENTRIES])
def test_no_edge_is_drawn_as_a_cut(entry):
    pattern = pattern_for(entry, "10")
    layout = Alteration(entry.code, entry.amount.default_mm).laid_out(pattern)
    after = Alteration(entry.code, entry.amount.default_mm).apply(pattern).pattern
    for line in layout.chalk:
        piece = after.piece(line.piece)
        middle = polyline.point_at(line.points, polyline.length_mm(line.points) / 2)
        assert piece.nearest_edge(middle)[2] > 2.0, line.piece


def test_a_recorded_alteration_shows_its_cuts_only():
    step = Alteration("I01", 25.4)
    layout = step.laid_out(dress("10"))
    assert len(layout.steps) > 1, "a corner is drawn anew as well"
    shown = JournalChalk().cuts(dress("10"), (Record("1", step),))
    assert [cut.points.tolist() for cut in shown] == [line.points.tolist() for line in layout.chalk]


@pytest.mark.parametrize("size", ["4", "10", "16"])
@pytest.mark.parametrize(
    ("code", "amount", "variant"),
    [
        ("A02", 10.0, ""),
        ("B08", 8.0, ""),
        ("B08", 15.0, ""),
        ("D05", 12.7, "full chest"),
        ("D12", 24.0, "shorter above the bust"),
        ("E01", 12.7, "neck dart"),
    ],
)
def test_darts_point_at_the_body_necks_are_square_and_waist_darts_meet_without_mending(
    code: str, amount: float, variant: str, size: str
):
    found = check_pattern(altered(code, amount, variant, size), base=dress(size))
    mended = {"dart-aim", "fold-square", "edge-kinked", "waist-darts", "dart-legs"}
    assert not mended & {finding.code for finding in found}


def test_an_underarm_that_must_go_far_is_told_before():
    def levels(amount: float) -> set[Level]:
        found = Alteration("I02", amount, "armhole lowered").apply(dress("10")).findings
        return {finding.level for finding in found if finding.code == "underarm-moved"}

    assert levels(5.0) == {Level.NOTE}
    assert levels(40.0) == levels(-20.0) == {Level.WARN}


@pytest.mark.parametrize(("code", "amount"), [("B02", -13.0), ("B03", 13.0)])
def test_a_neck_is_not_raised_until_it_hooks(code: str, amount: float):
    with pytest.raises(StepError, match="can be done from"):
        altered(code, amount)


@pytest.mark.parametrize("size", ["4", "10", "16"])
@pytest.mark.parametrize("amount", [-12.7, 20.0])
def test_a_neck_moved_all_round_meets_the_shoulder_as_before(size: str, amount: float):
    before, after = dress(size).piece("back bodice"), altered("B02", amount, "", size).piece("back bodice")
    assert corner_deg(after, "neck", "shoulder") == pytest.approx(corner_deg(before, "neck", "shoulder"), abs=15.0)
