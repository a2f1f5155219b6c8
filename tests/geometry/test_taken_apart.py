"""Alterations made of several cuts, taken apart: the single steps do the very same.

Shifts and turns are held against their closed forms.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.alterations.anchors import on_edge
from geometry.alterations.full_bust import FullBust
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.step import Step
from geometry.alterations.taken_apart import taken_apart
from geometry.alterations.upper_arm import UpperArm
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.draft_dress import SIZES, draft_pattern
from tests.geometry.drawn_pieces import rectangle

EXACT_MM = 1e-7
AMOUNTS = st.floats(-15.0, 25.0).filter(lambda mm: abs(mm) > 0.1)


def replayed(pattern: Pattern, steps: tuple[Step, ...]) -> Pattern:
    found = replay(pattern, tuple(Record(str(number), step) for number, step in enumerate(steps)))
    assert not [finding for finding in found.findings if finding.code == "step-does-not-fit"]
    return found.pattern


def assert_same(piece: Piece, other: Piece) -> None:
    for edge, twin in zip(piece.edges, other.edges, strict=True):
        assert np.abs(edge.points - twin.points).max() <= EXACT_MM, edge.id
    for dart, twin in zip(piece.darts, other.darts, strict=True):
        assert math.dist(dart.tip, twin.tip) <= EXACT_MM, dart.id
        assert (dart.from_mm, dart.to_mm) == pytest.approx((twin.from_mm, twin.to_mm), abs=EXACT_MM)
    for notch, twin in zip(piece.notches, other.notches, strict=True):
        assert notch.at_mm == pytest.approx(twin.at_mm, abs=EXACT_MM)
    for mark, twin in zip(piece.marks, other.marks, strict=True):
        assert math.dist(mark.at, twin.at) <= EXACT_MM, mark.id
    for line, twin in zip(piece.inner_lines, other.inner_lines, strict=True):
        assert np.abs(line.points - twin.points).max() <= EXACT_MM, line.id
    assert piece.grain
    assert other.grain
    assert math.dist(piece.grain.start, other.grain.start) <= EXACT_MM


@pytest.mark.parametrize("entry", ["D01", "D02", "D05", "I01", "I03"])
@pytest.mark.parametrize(("size", "amount_mm"), [(SIZES[0], -8.0), ("10", 20.0), ("10", -3.0), (SIZES[-1], 12.7)])
def test_a_full_bust_or_upper_arm_taken_apart_into_single_cuts_is_the_same(
    entry: str, size: str, amount_mm: float
) -> None:
    pattern = draft_pattern(size)
    step = Alteration(entry, amount_mm)
    whole = step.parts(pattern)
    apart = taken_apart(step, pattern)
    assert not any(isinstance(part, FullBust | UpperArm) for part in apart)
    after, other = replayed(pattern, whole), replayed(pattern, apart)
    for piece, twin in zip(after.pieces, other.pieces, strict=True):
        assert_same(piece, twin)


def test_every_cut_of_a_full_bust_opens_by_itself() -> None:
    """What the cut from side to bust point opens is what the side dart gains: nothing else touches it."""
    pattern = draft_pattern("10")
    slash = taken_apart(Alteration("D01", 15.0), pattern)[0]
    assert isinstance(slash, Slash)
    assert sum(cut.opening_mm is not None for cut in slash.cuts) == 3
    before, after = (found.piece(slash.piece) for found in (pattern, slash.apply(pattern).pattern))
    (gained_mm,) = [
        after.intake_mm(after.dart(dart.id)) - before.intake_mm(dart)
        for dart in before.darts
        if dart.edge == slash.cuts[1].line[0].name
    ]
    assert gained_mm == pytest.approx(slash.cuts[1].opening_mm, abs=0.2)  # the mouth is not square to the cut


def test_a_full_bust_that_opens_a_new_dart_stays_one_step() -> None:
    pattern = draft_pattern("10")
    bust = Alteration("D01", 15.0).parts(pattern)[0]
    assert isinstance(bust, FullBust)
    beside = on_edge(bust.side.name, min(bust.side.share + 0.3, 0.9))
    moved = FullBust(bust.piece, 15.0, bust.bust_point, bust.armhole, beside, bust.waist, bust.centre)
    assert len(moved.apply(pattern).pattern.piece(bust.piece).darts) > len(pattern.piece(bust.piece).darts)
    assert taken_apart(moved, pattern) == (moved,)


def opened_in_the_middle(amount_mm: float, hinge: Hinge) -> Piece:
    """A rectangle of 400 by 600 mm cut from the middle of its hem to that of its waist, either side going half."""
    line = (on_edge("hem", 0.5), on_edge("waist", 0.5))
    step = Slash("panel", (SlashCut(line, amount_mm, hinge, Side.BOTH),))
    return step.apply(Pattern((rectangle(),))).pattern.pieces[0]


@given(amount_mm=AMOUNTS)
def test_both_sides_of_an_even_cut_go_half_the_way(amount_mm: float) -> None:
    piece = opened_in_the_middle(amount_mm, Hinge.NONE)
    assert piece.edge("side").points[:, 0] == pytest.approx(400.0 + amount_mm / 2)
    assert piece.edge("centre front").points[:, 0] == pytest.approx(-amount_mm / 2)


@given(amount_mm=AMOUNTS)
def test_both_sides_of_a_hinged_cut_turn_by_half_the_angle(amount_mm: float) -> None:
    piece = opened_in_the_middle(amount_mm, Hinge.START)
    half_rad = math.asin(amount_mm / 2 / 600.0)
    for name, leans_rad in (("side", -half_rad), ("centre front", half_rad)):
        (x0, y0), (x1, y1) = sorted((piece.edge(name).start, piece.edge(name).end), key=lambda place: place[1])
        assert math.atan2(y1 - y0, x1 - x0) - math.pi / 2 == pytest.approx(leans_rad, abs=1e-9)
