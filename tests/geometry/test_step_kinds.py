"""What every kind of step has in common."""

from dataclasses import fields

import pytest

from geometry.alterations.kinds import STEP_KINDS
from geometry.alterations.notch_steps import MoveNotch, RemoveNotch
from geometry.alterations.step import OnOnePiece, WithAmount, WithoutAmount

KINDS = list(STEP_KINDS.values())
OWN_FIGURE = {"slash", "redraw", "dart-transfer", "move-double-dart"}
"""Their figure is that of their first cut or largest pull, a share, or a way along a line."""


@pytest.mark.parametrize("kind", KINDS, ids=STEP_KINDS)
def test_a_step_has_a_figure_or_none_in_one_way(kind) -> None:
    names = {field.name for field in fields(kind)}
    assert issubclass(kind, WithoutAmount) == ("amount_mm" not in names and kind.kind not in OWN_FIGURE)
    assert not (issubclass(kind, WithAmount) and "amount_mm" not in names)
    assert not (issubclass(kind, OnOnePiece) and "piece" not in names)


@pytest.mark.parametrize("kind", KINDS, ids=STEP_KINDS)
def test_a_step_holds_its_fields_and_nothing_else(kind) -> None:
    assert "__dict__" not in dir(kind)


def test_a_step_without_a_figure_stays_itself() -> None:
    step = RemoveNotch("back", "hip")
    assert (step.amount_mm, step.with_amount_mm(12.0), step.piece_names) == (0.0, step, ("back",))


def test_a_step_with_a_figure_takes_another() -> None:
    assert MoveNotch("back", "hip", 3.0).with_amount_mm(12.0) == MoveNotch("back", "hip", 12.0)
