"""One wearer's journal for another: amounts from figures are worked out anew, what was pinned stays."""

from __future__ import annotations

import pytest

from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.full_bust import FullBust
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record
from geometry.fitting.measures import Measure
from geometry.fitting.proposals import Proposal
from geometry.fitting.taking_over import taken_over


def proposal(entry: str, amount: float, difference: float, measure: Measure, variant: str = "") -> Proposal:
    return Proposal(entry, amount, measure, difference, (), "", variant)


OWN = (proposal("A01", 15.0, 15.0, Measure.BACK_LENGTH), proposal("D01", 12.7, 25.4, Measure.BUST))
OTHER = (proposal("A01", -20.0, -20.0, Measure.BACK_LENGTH), proposal("D02", 6.0, -12.0, Measure.BUST))


def taken(step: object, own=OWN, other=OTHER):
    (result,) = taken_over((Record("1", step, note="noted"),), own, other)  # type: ignore[arg-type]
    return result


def test_an_amount_from_figures_becomes_the_other_bodys() -> None:
    result = taken(Alteration("A01", 15.0))
    assert (result.was_mm, result.record.step.amount_mm, result.is_from_figures) == (15.0, -20.0, True)
    assert result.record.note == "noted"


def test_an_amount_that_was_pinned_stays() -> None:
    result = taken(Alteration("A01", 12.0))
    assert (result.record.step.amount_mm, result.is_from_figures) == (12.0, False)


def test_an_alteration_that_the_advice_does_not_know_stays() -> None:
    assert taken(Alteration("E06", 10.0)).record.step == Alteration("E06", 10.0)


def test_the_inverse_takes_the_other_entry() -> None:
    assert taken(Alteration("D01", 12.7)).record.step == Alteration("D02", 6.0)


def test_what_the_other_body_does_not_need_is_switched_off_and_kept() -> None:
    result = taken(Alteration("A01", 15.0), other=())
    assert (result.record.on, result.record.step) == (False, Alteration("A01", 15.0))


@pytest.mark.parametrize(("other", "amount"), [(OTHER, -6.0), ((proposal("D01", 20.0, 40.0, Measure.BUST),), 20.0)])
def test_a_full_bust_step_of_its_own_gets_the_other_amount_with_its_sign(other, amount) -> None:
    step = FullBust(
        piece="front bodice",
        amount_mm=12.7,
        bust_point=Anchor(On.LANDMARK, "bust point"),
        armhole=on_edge("armhole", 0.4),
        side=on_edge("side", 0.6),
        waist=on_edge("waist", 0.4),
        centre=on_edge("centre front", 0.8),
    )
    assert taken(step, other=other).record.step == step.with_amount_mm(amount)


def test_places_and_variants_that_were_chosen_stay() -> None:
    own = (
        proposal("A04", 60.0, 120.0, Measure.WAIST_TO_HEM),
        proposal("A04", 60.0, 120.0, Measure.WAIST_TO_HEM, "at the hem"),
    )
    other = (proposal("A04", 30.0, 30.0, Measure.WAIST_TO_HEM),)
    assert taken(Alteration("A04", 60.0, pieces=("front skirt",)), own, other).record.step == Alteration(
        "A04", 30.0, pieces=("front skirt",)
    )
    assert taken(Alteration("A04", 60.0, "at the hem"), own, other).record.on is False
