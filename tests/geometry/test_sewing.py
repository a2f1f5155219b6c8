"""Seams from the edges a person names: their direction, order, kind and band; and the reasons for them."""

from __future__ import annotations

from itertools import permutations

import pytest

from geometry.checks.pairing import propose_seams
from geometry.checks.sewing import reasons, seam_of, turned
from geometry.checks.walking import walk
from geometry.errors import PatternError
from geometry.model.pattern import EdgeRef, Pattern, Seam
from tests.geometry.plain_dress import CAP_EASE_MM, dress


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return dress()


def ways(seam: Seam, *, from_end: bool = False) -> set[tuple[EdgeRef, bool]]:
    return {
        (ref, way is not from_end)
        for refs, side in ((seam.first, seam.first_backward), (seam.second, seam.second_backward))
        for ref, way in zip(refs, side, strict=True)
    }


def test_every_seam_told_by_names_comes_out_of_its_edges_alone_in_any_order(pattern: Pattern) -> None:
    """The proposals know names of the trade; two clicks know edges only, and must agree."""
    for seam in propose_seams(pattern):
        for first in permutations(seam.first):
            for second in permutations(seam.second):
                for sides in ((first, second), (second, first)):
                    found = seam_of(pattern, *sides)
                    assert (found.kind, found.ease_mm) == (seam.kind, seam.ease_mm)
                    assert ways(found) in (ways(seam), ways(seam, from_end=True))


def test_a_cap_is_the_first_side_whichever_edge_was_clicked_first(pattern: Pattern) -> None:
    armholes = EdgeRef("back bodice", "armhole"), EdgeRef("front bodice", "armhole")
    seam = seam_of(pattern, armholes, (EdgeRef("sleeve", "cap"),))
    assert seam.first == (EdgeRef("sleeve", "cap"),)
    assert walk(pattern, seam).ease_mm == pytest.approx(CAP_EASE_MM)


def test_turning_a_seam_twice_gives_it_back_and_once_walks_the_other_side_from_its_other_end(pattern: Pattern) -> None:
    seam = propose_seams(pattern)[1]
    assert turned(turned(seam)) == seam
    there, back = walk(pattern, seam), walk(pattern, turned(seam))
    ours = {meeting.second.id: meeting.second for meeting in there.meetings if meeting.second}
    for meeting in back.meetings:
        if meeting.second:
            assert meeting.second.from_start_mm == pytest.approx(ours[meeting.second.id].from_end_mm)


def test_reasons_tell_ends_lengths_and_marks(pattern: Pattern) -> None:
    side = next(seam for seam in propose_seams(pattern) if seam.id == "front skirt side + back skirt side")
    assert reasons(walk(pattern, side))[:2] == ("both run from waist to hem", "both are equally long")


def test_a_side_without_edges_and_an_edge_on_both_sides_are_refused(pattern: Pattern) -> None:
    cap, hem = EdgeRef("sleeve", "cap"), EdgeRef("front skirt", "hem")
    with pytest.raises(PatternError, match="either side"):
        seam_of(pattern, (cap,), ())
    with pytest.raises(PatternError, match="both sides"):
        seam_of(pattern, (cap,), (cap, hem))
