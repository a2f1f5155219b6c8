"""A short run of the fuzzing, and every file that it ever found something with.

``python -m tests.fuzz`` is the long one: 100,000 cases inside limits of time and memory.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.fuzz import seeds
from tests.fuzz.cases import CHART, DRAWING, JOURNAL, PROJECT, RULES, case, tried

FINDINGS = sorted(path for path in (Path(__file__).parent / "findings").iterdir() if path.suffix != ".md")


@pytest.mark.slow
@pytest.mark.parametrize("hundred", range(5))
def test_a_hundred_spoilt_files_each_open_or_are_refused_in_a_sentence(hundred: int) -> None:
    for number in range(100 * hundred, 100 * hundred + 100):
        made = case(number)
        try:
            tried(made.kind, made.data)
        except Exception as error:
            raise AssertionError(f"case {number}") from error


@pytest.mark.parametrize("path", FINDINGS, ids=lambda path: path.name)
def test_a_file_that_once_ended_in_a_trace_opens_or_is_refused_in_a_sentence(path: Path) -> None:
    tried(path.suffix, path.read_bytes())


def test_the_files_to_begin_from_are_all_sound() -> None:
    sound = {DRAWING: seeds.drawings(), PROJECT: seeds.projects(), JOURNAL: seeds.journals(), CHART: (seeds.CHART,)}
    for kind, files in (sound | {RULES: (seeds.graded()[1],)}).items():
        assert files
        for data in files:
            assert tried(kind, data) == ""


def test_a_case_is_always_the_same_one() -> None:
    assert case(7) == case(7)
    assert len({case(number).data for number in range(200)}) > 190
