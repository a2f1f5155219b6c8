from dataclasses import replace

import pytest

from geometry.affine import frozen_points
from geometry.alterations.lengthen_lines import lengthen_lines
from geometry.model.marks import InnerLine
from geometry.model.pattern import Pattern
from geometry.units import MM_PER_INCH
from tests.geometry.drawn_pieces import disc
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
