"""Every published or worked-out figure against what the program makes of it; there are more than a hundred."""

from __future__ import annotations

import pytest

from tests.geometry.handbook.published import Value, values

EVERY = [pytest.param(value, id=value.what) for value in values()]


@pytest.mark.parametrize("value", EVERY)
def test_the_program_makes_what_the_source_says(value: Value) -> None:
    assert value.made() == pytest.approx(value.expected, abs=value.within), value.source


def test_there_are_more_than_a_hundred_each_with_its_source_and_none_twice() -> None:
    names = [value.what for value in values()]
    assert len(names) > 100
    assert len(set(names)) == len(names)
    assert all(value.source for value in values())
