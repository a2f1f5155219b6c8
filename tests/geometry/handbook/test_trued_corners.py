"""Lines that ran smoothly across a seam run smoothly across it after an alteration that may redraw them.

That they should is common practice, no source.
"""

import pytest

from geometry.alterations.handbook.alteration import Alteration
from geometry.checks.run import check_pattern
from samples.draft_dress import draft_nest

DRESS = draft_nest().sample


@pytest.mark.parametrize(
    ("entry", "amount_mm"), [("B05", 6.0), ("E01", 12.7), ("E02", 12.7), ("E07", 12.7), ("I01", 25.4)]
)
def test_neck_and_cap_are_left_without_a_corner(entry: str, amount_mm: float) -> None:
    after = Alteration(entry, amount_mm).apply(DRESS).pattern
    assert [finding.text for finding in check_pattern(after) if finding.code == "corner-across-seam"] == []


def test_an_alteration_limited_to_a_piece_leaves_its_neighbour_alone() -> None:
    after = Alteration("E01", 12.7, pieces=("back bodice",)).apply(DRESS).pattern
    assert after.piece("front bodice") is DRESS.piece("front bodice")
