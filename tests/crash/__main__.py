"""``python -m tests.crash [COUNT] [FIRST_SEED]`` kills the editor that often, 200 times if nothing is said."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.crash.killing import killed_at_a_random_moment


def main(count: int = 200, first_seed: int = 0) -> int:
    """Tell each outcome that is not as it must be, and the sum."""
    bad = changes = 0
    for seed in range(first_seed, first_seed + count):
        with tempfile.TemporaryDirectory(prefix="dartwise-crash-") as folder:
            outcome = killed_at_a_random_moment(Path(folder), seed)
        changes += outcome.changes
        if outcome.lost or outcome.fault:
            bad += 1
            sys.stdout.write(f"{outcome}\n")
            sys.stdout.flush()
    sys.stdout.write(f"killed {count} times amid {changes} changes: {bad} not as they must be\n")
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main(*map(int, sys.argv[1:])))
