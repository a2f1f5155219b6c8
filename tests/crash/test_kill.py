"""The editor is killed at random moments during work; ``python -m tests.crash`` does it 200 times."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.crash.killing import killed_at_a_random_moment


@pytest.mark.slow
@pytest.mark.skipif(os.name == "nt", reason="needs SIGKILL")
@pytest.mark.parametrize("seed", range(1000, 1012))
def test_a_killed_editor_leaves_a_project_that_opens_and_every_change_older_than_a_quarter_of_a_second(
    seed: int, tmp_path: Path
) -> None:
    outcome = killed_at_a_random_moment(tmp_path, seed)
    assert outcome.fault == ""
    assert outcome.lost == 0
