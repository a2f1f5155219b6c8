from dataclasses import replace

import pytest

from geometry.affine import Points
from geometry.alterations.anchors import on_edge
from geometry.alterations.chalk import JournalChalk
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.model.pattern import Pattern
from tests.editor.tool_scenes import pattern
from tests.geometry.plain_dress import dress


def level(share: float, amount_mm: float) -> Slash:
    """A level cut at a share of the panel's height; what lies above it moves up."""
    cut = SlashCut((on_edge("centre front", 1 - share), on_edge("side", share)), amount_mm, Hinge.NONE, Side.LEFT)
    return Slash("panel", (cut,))


def lines(base: Pattern, records: tuple[Record, ...]) -> dict[str, Points]:
    return {cut.record: cut.points for cut in JournalChalk().cuts(base, records)}


def test_every_cut_is_found_with_its_record() -> None:
    records = (Record("1", level(0.25, 10.0)), Record("2", level(0.75, 20.0)))
    assert list(lines(pattern(), records)) == ["1", "2"]


def test_a_cut_lies_along_what_it_opened() -> None:
    found = lines(pattern(), (Record("1", level(0.5, 40.0)),))
    ys = found["1"][:, 1]
    assert ((ys >= 300.0 - 1e-6) & (ys <= 340.0 + 1e-6)).all()


def test_an_early_cut_goes_along_when_a_later_one_lengthens_the_piece_below_it() -> None:
    early = lines(pattern(), (Record("1", level(0.75, 10.0)),))["1"]
    later = lines(pattern(), (Record("1", level(0.75, 10.0)), Record("2", level(0.25, 50.0))))["1"]
    assert (later - early)[:, 1] == pytest.approx([50.0, 50.0])


def test_a_record_that_is_off_or_does_nothing_leaves_no_chalk() -> None:
    off = Record("1", level(0.5, 10.0), on=False)
    assert lines(pattern(), (off, Record("2", level(0.5, 0.0)))) == {}


def test_a_record_that_does_not_fit_leaves_no_chalk() -> None:
    misfit = Record("1", replace(level(0.5, 10.0), piece="panel", cuts=(SlashCut((on_edge("hem", 0.1),) * 2, 5.0),)))
    assert lines(pattern(), (misfit,)) == {}


def test_an_alteration_of_several_pieces_leaves_a_cut_on_each() -> None:
    cuts = JournalChalk().cuts(dress(), (Record("1", Alteration("A01", 20.0)),))
    assert {cut.piece for cut in cuts} == {"front bodice", "back bodice"}
    for cut in cuts:
        low, high = cut.points[:, 1].min(), cut.points[:, 1].max()
        assert 64.0 - 1e-6 <= low <= high <= 64.0 + 20.0 + 1e-6  # 2 1/2 in above the waist, which is at 0
