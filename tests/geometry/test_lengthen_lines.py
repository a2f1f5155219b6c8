import math
from dataclasses import replace

import pytest

from geometry.affine import Points, frozen_points
from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.lengthen_lines import lengthen_lines
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.model.edge import EdgeRole
from geometry.model.garment import is_lengthen_line
from geometry.model.marks import Grain, InnerLine
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import MM_PER_INCH
from samples.draft_dress import draft_nest
from tests.geometry.drawn_pieces import disc, rectangle
from tests.geometry.plain_dress import dress


def test_a_bodice_is_lengthened_two_and_a_half_inches_above_its_waist() -> None:
    """An early dressmaking text on altering patterns, part 4 (fashion-design-drawing.com)."""
    pattern = dress()
    (line,) = lengthen_lines(pattern)["front bodice"]
    waist = pattern.piece("front bodice").edge("waist")
    middle = waist.point_at(waist.length_mm / 2)
    assert line[:, 1] == pytest.approx([middle[1] + 2.5 * MM_PER_INCH] * 2, abs=1.0)


def test_a_printed_line_is_taken_as_it_is() -> None:
    pattern = dress()
    front = pattern.piece("front bodice")
    printed = InnerLine("Lengthen or shorten", frozen_points([(0.0, 90.0), (200.0, 90.0)]))
    marked = pattern.with_piece(replace(front, inner_lines=(printed,)))
    assert lengthen_lines(marked)["front bodice"] == (printed.points,)


def test_a_piece_nobody_knows_has_no_such_line() -> None:
    assert lengthen_lines(Pattern((replace(disc(100.0), name="rosette"),))) == {}


TURN_RAD = 2 * math.asin(30.0 / 2 / 400.0)
WEDGE = SlashCut((on_edge("side", 0.5), on_edge("centre front", 0.5)), 30.0, Hinge.START, Side.LEFT)
"""On a rectangle of 400 by 600 mm: 30 mm opened at the centre front, closing to nothing at the side."""


def printed_on(piece: Piece) -> Points:
    return next(line.points for line in piece.inner_lines if is_lengthen_line(line.id))


def slashed(piece: Piece, *cuts: SlashCut) -> Piece:
    return Slash(piece.name, cuts).apply(Pattern((piece,))).pattern.pieces[0]


def test_after_a_full_bust_the_line_is_level_where_it_meets_the_side_seam() -> None:
    """The back's line meets it there, as far up the side seam from the waist as before (common practice)."""
    before = draft_nest().pattern("10")
    after = Alteration("D01", 20.0).apply(before).pattern
    above_waist_mm = []
    for piece in (before.piece("front bodice"), after.piece("front bodice")):
        left, right = printed_on(piece)
        assert left[1] == pytest.approx(right[1], abs=1e-9)
        assert left[0] == pytest.approx(8.0, abs=1e-6)
        above_waist_mm.append(right[1] - piece.edge("waist").end[1])
    assert above_waist_mm[1] == pytest.approx(above_waist_mm[0], abs=0.1)


def test_a_line_below_a_wedge_stays_where_it_meets_the_side() -> None:
    """The part below turns about the side end of the cut, 100 mm above the line; the centre front is no seam."""
    start, end = printed_on(slashed(rectangle(), WEDGE))
    assert [start[1], end[1]] == pytest.approx([300.0 - 100.0 * math.cos(TURN_RAD)] * 2, abs=1e-9)
    assert start[0] == pytest.approx(0.0, abs=1e-6)


def test_a_line_between_two_seams_goes_through_its_middle() -> None:
    """Both partners' lines meet it at ends that moved apart; half-way between them is the middle, turned."""
    grain = Grain((300.0, 400.0), (300.0, 500.0))
    edges = tuple(replace(edge, role=EdgeRole.SIDE) for edge in rectangle().edges)
    start, end = printed_on(slashed(replace(rectangle(), fold=None, grain=grain, edges=edges), WEDGE))
    height_mm = 300.0 - 200.0 * math.sin(TURN_RAD) - 100.0 * math.cos(TURN_RAD)
    assert [start[1], end[1]] == pytest.approx([height_mm] * 2, abs=1e-9)


def test_a_line_that_was_drawn_aslant_stays_aslant() -> None:
    aslant = replace(rectangle(), inner_lines=(InnerLine("lengthen", frozen_points([(0.0, 100.0), (400.0, 140.0)])),))
    start, end = printed_on(slashed(aslant, WEDGE))
    assert (end[1] - start[1]) / (end[0] - start[0]) == pytest.approx(math.tan(math.atan(0.1) + TURN_RAD))
