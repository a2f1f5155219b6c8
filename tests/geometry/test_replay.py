"""The journal run on the base pattern."""

from dataclasses import replace

import pytest

from geometry.alterations.anchors import on_edge
from geometry.alterations.kinds import STEP_KINDS
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.findings import Level
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import half_front, rectangle


def spread(opening_mm, piece="panel"):
    cut = SlashCut((on_edge("hem", 0.5), on_edge("waist", 0.5)), opening_mm, Hinge.END, Side.RIGHT)
    return Slash(piece, (cut,))


def lengthen(opening_mm):
    cut = SlashCut((on_edge("side", 0.3), on_edge("centre front", 0.7)), opening_mm, Hinge.NONE, Side.LEFT)
    return Slash("panel", (cut,))


@pytest.fixture
def base():
    return Pattern((rectangle(), half_front()))


def test_an_empty_journal_shows_the_base_itself(base):
    assert replay(base, ()).pattern is base


def test_steps_add_up_in_order(base):
    shown = replay(base, (Record("1", lengthen(20.0)), Record("2", lengthen(15.0)))).pattern
    assert shown.piece("panel").edge("side").length_mm == pytest.approx(635.0)


def test_changing_an_early_amount_reruns_the_later_steps(base):
    records = (Record("1", lengthen(20.0)), Record("2", spread(30.0)))
    changed = (Record("1", records[0].step.with_amount_mm(40.0)), records[1])
    shown = replay(base, changed).pattern.piece("panel")
    assert shown.edge("centre front").length_mm == pytest.approx(640.0)
    assert shown == replay(base, changed).pattern.piece("panel")


def test_a_step_that_is_off_does_nothing_and_stays(base):
    result = replay(base, (Record("1", lengthen(20.0), on=False), Record("2", lengthen(15.0))))
    assert [outcome.record_id for outcome in result.outcomes] == ["1", "2"]
    assert result.pattern.piece("panel").edge("side").length_mm == pytest.approx(615.0)


def test_a_step_that_no_longer_fits_is_a_stop_finding_and_the_rest_goes_on(base):
    result = replay(base, (Record("1", spread(5.0, piece="bodice")), Record("2", lengthen(15.0))))
    (finding,) = result.findings
    assert (finding.code, finding.level) == ("step-does-not-fit", Level.STOP)
    assert 'no piece called "bodice"' in finding.text
    assert result.pattern.piece("panel").edge("side").length_mm == pytest.approx(615.0)


def test_pieces_a_step_does_not_touch_are_the_same_objects(base):
    shown = replay(base, (Record("1", lengthen(20.0)),)).pattern
    assert shown.piece("front bodice") is base.piece("front bodice")


def test_a_changed_amount_on_one_piece_leaves_the_very_same_other_piece(base):
    cut = SlashCut((on_edge("side", 0.3), on_edge("centre front", 0.7)), 10.0, Hinge.NONE, Side.LEFT)
    later = Record("2", Slash("front bodice", (cut,)))
    first, second = (replay(base, (Record("1", lengthen(mm)), later)).pattern for mm in (20.0, 21.0))
    assert first.piece("front bodice") is second.piece("front bodice")
    assert first.piece("front bodice") is not base.piece("front bodice")
    assert first.piece("panel") != second.piece("panel")


def test_every_kind_of_step_is_known_by_its_name():
    assert {"slash", "dart-transfer", "full-bust", "upper-arm"} <= set(STEP_KINDS)
    assert all(kind == step.kind for kind, step in STEP_KINDS.items())


def test_several_cuts_keep_their_shares_when_the_amount_changes():
    cuts = tuple(replace(spread(opening).cuts[0]) for opening in (10.0, 20.0))
    assert [cut.opening_mm for cut in Slash("panel", cuts).with_amount_mm(15.0).cuts] == [15.0, 30.0]
