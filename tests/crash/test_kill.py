"""The editor is killed at random moments during work; ``python -m tests.crash`` does it 200 times."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.crash.failing_calls import can_be_traced, every_fault
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


@pytest.mark.slow
def test_whatever_call_to_the_system_fails_in_a_save_the_file_holds_the_old_project_or_the_new_one() -> None:
    if not can_be_traced():
        pytest.skip("needs strace")
    faults = list(every_fault(errors_each=1))
    assert {"openat", "write", "fsync", "close", "link", "rename", "chmod", "read", "unlink"} <= {
        fault.call for fault in faults
    }
    assert [fault for fault in faults if fault.wrong] == []
