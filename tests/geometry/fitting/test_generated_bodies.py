"""Made-up bodies go through the whole engine without an exception; the benchmarks do the same with 2,000."""

from __future__ import annotations

import pytest

from geometry.fitting.measures import Measure
from geometry.fitting.plausibility import questions
from tests.geometry.fitting.generated_bodies import generated_bodies, taken_through


@pytest.mark.parametrize("number", range(40))
def test_a_body_ends_with_sound_pieces_or_with_a_finding_that_says_why_not(number) -> None:
    (body,) = generated_bodies(1, seed=number)
    passage = taken_through(body, fractions=number % 2 == 1)
    assert passage.is_sound or passage.stops


def test_generated_bodies_spread_round_the_chart_and_their_girths_go_together() -> None:
    import numpy as np

    bodies = [body for body in generated_bodies(300)]
    rows = [(body.mm(Measure.BUST), body.mm(Measure.HIP)) for body in bodies]
    known = np.array([row for row in rows if None not in row], dtype=float)
    assert np.corrcoef(known.T)[0, 1] > 0.8
    assert 880 < known[:, 0].mean() < 1000
    assert sum(bool(questions(body)) for body in bodies) < 30
