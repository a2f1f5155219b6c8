"""Killing the editor at a random moment, and what must be found afterwards."""

from __future__ import annotations

import os
import random
import subprocess
import sys
import time
from dataclasses import dataclass
from pathlib import Path

from editor.document.locking import take
from editor.document.project_file import load_project, save_project
from editor.document.recovery import left_behind
from tests.crash.scripted_editor import digest
from tests.gui.choir import choir

GRACE_S = 0.25
"""A change that was made longer ago than this must be on the disk."""

LONGEST_WORK_S = 1.2
ROOT = Path(__file__).parents[2]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one kill came to; ``lost`` counts the changes older than ``GRACE_S`` that were not found."""

    seed: int
    worked_s: float
    changes: int
    lost: int
    fault: str = ""


def killed_at_a_random_moment(folder: Path, seed: int) -> Outcome:
    """Start the editor on a project of its own in ``folder``, kill it, and look at what it left."""
    path, state = folder / "choir.dartwise", folder / "state"
    save_project(choir(), path)
    environment = os.environ | {"XDG_STATE_HOME": str(state), "QT_QPA_PLATFORM": "offscreen"}
    command = [sys.executable, "-m", "tests.crash.scripted_editor", str(path), str(seed)]
    work_s = random.Random(seed).uniform(0.0, LONGEST_WORK_S)
    with (
        open(folder / "errors.txt", "w+", encoding="utf-8") as errors,
        subprocess.Popen(
            command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=errors, text=True
        ) as editor,
    ):
        assert editor.stdout is not None
        said: list[str] = []
        while (line := editor.stdout.readline().strip()) not in ("ready", ""):
            said.append(line)
        time.sleep(work_s)
        at = time.monotonic_ns()
        editor.kill()
        rest = editor.stdout.read()
        errors.seek(0)
        complaint = errors.read()[-2000:]
    said += rest.split("\n")[:-1]  # the last line may be cut short
    if "Traceback" in complaint or not said:
        return Outcome(seed, work_s, len(said), 0, complaint or "it did not start")
    return _judged(seed, work_s, path, state / "dartwise" / "sittings", [line.split() for line in said], at)


def _judged(seed: int, work_s: float, path: Path, sittings: Path, said: list[list[str]], at: int) -> Outcome:
    saved = load_project(path)  # raises where it cannot be read
    take(path).release()  # whoever was killed holds nothing
    found = left_behind(sittings)
    state = digest(found[0].record.project if found else saved)
    states = [words[1] for words in said]
    due = max(number for number, words in enumerate(said) if number == 0 or int(words[0]) <= at - GRACE_S * 1e9)
    if state not in states:
        return Outcome(seed, work_s, len(said) - 1, 0, "what was found is no state that ever was")
    got = len(states) - 1 - states[::-1].index(state)
    return Outcome(seed, work_s, len(said) - 1, max(0, due - got))
