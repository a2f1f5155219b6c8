from dataclasses import replace

import pytest

from editor.tools.readings import amount_words, both_units, change_lines, seam_lines
from geometry.alterations.anchors import on_edge
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.step import EdgeChange, Outcome
from geometry.checks.pairing import seams_of
from geometry.model.pattern import Pattern
from tests.geometry.plain_dress import dress


def spread_waist(amount_mm: float) -> tuple[Pattern, Outcome]:
    """The front bodice cut upright beside its darts and spread evenly: waist and neck grow."""
    before = dress()
    cut = SlashCut((on_edge("waist", 60 / 230), on_edge("neck", 80 / 140)), amount_mm, Hinge.NONE, Side.RIGHT)
    return before, Slash("front bodice", (cut,)).apply(before)


def complaints(before: Pattern, outcome: Outcome) -> tuple[str, ...]:
    return seam_lines(outcome.pattern, outcome.changes, before.piece("front bodice"), seams_of(before))


@pytest.mark.parametrize(
    ("length_mm", "words"),
    [(12.7, '1.27 cm · 1/2"'), (0.0, '0 cm · 0"'), (10.0, '1 cm · ~3/8"'), (25.4, '2.54 cm · 1"')],
)
def test_lengths_are_shown_in_centimetres_and_inches(length_mm: float, words: str) -> None:
    assert both_units(length_mm) == words


def test_an_amount_opens_or_folds_out() -> None:
    assert amount_words(25.4) == 'Open 2.54 cm · 1"'
    assert amount_words(-25.4) == 'Fold out 2.54 cm · 1"'


def test_changes_are_listed_with_the_largest_first_and_small_ones_left_out() -> None:
    piece = dress().piece("front bodice")
    changes = (
        EdgeChange("front bodice", "side", 200.0, 203.0),
        EdgeChange("front bodice", "waist", 200.0, 187.3),
        EdgeChange("front bodice", "neck", 90.0, 90.05),
    )
    assert change_lines(changes, piece, piece) == ('waist −1.27 cm · 1/2"', 'side +0.3 cm · ~1/8"')


def test_where_nothing_changed_it_says_so() -> None:
    piece = dress().piece("front bodice")
    assert change_lines((), piece, piece) == ("every edge keeps its length",)


def test_a_dart_that_takes_in_more_is_listed() -> None:
    piece = dress().piece("front bodice")
    dart = piece.dart("waist dart")
    wider = replace(piece, darts=(replace(dart, to_mm=dart.to_mm + 10.0), piece.dart("side dart")))
    assert 'waist dart +1 cm · ~3/8"' in change_lines((), piece, wider)


def test_a_good_seam_is_not_complained_about() -> None:
    before, outcome = spread_waist(0.0)
    assert complaints(before, outcome) == ()


def test_a_seam_left_too_long_is_named_and_marked_as_a_stop() -> None:
    before, outcome = spread_waist(12.0)
    waist = next(line for line in complaints(before, outcome) if "waist" in line)
    grown = next(change.change_mm for change in outcome.changes if change.edge == "waist")
    assert grown > 3.0
    assert waist == f"!waist {both_units(grown)} too long for the front skirt"


def test_darts_that_no_longer_meet_across_the_waist_are_named() -> None:
    before = dress()
    piece = before.piece("front bodice")
    dart = piece.dart("waist dart")
    aside = replace(dart, from_mm=dart.from_mm - 10.0, to_mm=dart.to_mm - 10.0)
    moved = before.with_piece(replace(piece, darts=(aside, piece.dart("side dart"))))
    assert seam_lines(before, (), piece, seams_of(before)) == ()
    assert seam_lines(moved, (), piece, seams_of(before)) == ('darts 1 cm · ~3/8" apart at the waist',)
