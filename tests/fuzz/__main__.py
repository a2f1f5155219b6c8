"""``python -m tests.fuzz [COUNT] [FIRST]``: so many cases, 100,000 if nothing is said; findings go to a folder.

``python -m tests.fuzz --case NUMBER`` tries one of them; ``--shell COUNT FIRST`` is what the command starts inside
limits of memory and time.
"""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import sys
import tempfile
import time
import traceback
from pathlib import Path
from types import FrameType

from tests.fuzz.cases import case, tried

LONGEST_S = 5.0
"""Of processor time, so that a busy machine is no finding; who only waits falls silent and is ended after a minute."""

MOST_BYTES = 1 << 30
LONGEST_SILENCE_S = 60.0
ROOT = Path(__file__).parents[2]


class HangError(BaseException):
    """A case took too long; not an ``Exception``, so that nothing on the way catches it."""


def _hang(_number: int, _frame: FrameType | None) -> None:
    raise HangError


def shell(count: int, first: int, folder: Path) -> int:
    """Try cases one by one; says each number before it, and writes down what it finds."""
    resource.setrlimit(resource.RLIMIT_DATA, (MOST_BYTES, MOST_BYTES))
    signal.signal(signal.SIGPROF, _hang)
    for number in range(first, first + count):
        sys.stdout.write(f"{number}\n")
        sys.stdout.flush()
        made = case(number)
        signal.setitimer(signal.ITIMER_PROF, LONGEST_S)
        try:
            tried(made.kind, made.data)
        except (Exception, HangError) as error:
            signal.setitimer(signal.ITIMER_PROF, 0)
            _write_down(folder, number, made.kind, made.data, error)
        finally:
            signal.setitimer(signal.ITIMER_PROF, 0)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    sys.stdout.write(f"peak {peak}\n")
    return 0


def _write_down(folder: Path, number: int, kind: str, data: bytes, error: BaseException) -> None:
    places = traceback.extract_tb(error.__traceback__)
    (folder / f"{number}{kind}").write_bytes(data)
    told = "".join(traceback.format_exception(error))
    (folder / f"{number}.txt").write_text(told, encoding="utf-8")
    where = f"{Path(places[-1].filename).name}:{places[-1].lineno}" if places else "-"
    with open(folder / "summary.txt", "a", encoding="utf-8") as summary:
        summary.write(f"{type(error).__name__} {where} {str(error)[:80]!r} {number}{kind}\n")


def main(count: int = 100_000, first: int = 0) -> int:
    """Start shells until all cases are tried; one that falls silent or dies is a finding, and the next goes on."""
    folder = Path(os.environ.get("DARTWISE_FUZZ", "") or tempfile.mkdtemp(prefix="dartwise-fuzz-"))
    folder.mkdir(parents=True, exist_ok=True)
    sys.stdout.write(f"findings go to {folder}\n")
    at, end, started, peak = first, first + count, time.monotonic(), 0
    while at < end:
        at, peak_here = _run_shell(at, min(5000, end - at), folder)
        peak = max(peak, peak_here)
        sys.stdout.write(f"{at - first} cases, {time.monotonic() - started:.0f} s\n")
        sys.stdout.flush()
    found = len(list(folder.glob("*.txt"))) - (folder / "summary.txt").exists()
    sys.stdout.write(f"{count} cases: {found} findings, at most {peak / 1024:.0f} MB\n")
    return 1 if found else 0


def _run_shell(first: int, count: int, folder: Path) -> tuple[int, int]:
    """Returns the number to go on with, and the most memory used in kB."""
    command = [sys.executable, "-m", "tests.fuzz", "--shell", str(count), str(first), str(folder)]
    with tempfile.TemporaryFile("w+") as said:
        ran = subprocess.Popen(command, cwd=ROOT, stdout=said, stderr=subprocess.PIPE)
        silent_since, length = time.monotonic(), -1
        while ran.poll() is None:
            time.sleep(0.5)
            now = os.fstat(said.fileno()).st_size
            if now != length:
                silent_since, length = time.monotonic(), now
            elif time.monotonic() - silent_since > LONGEST_SILENCE_S:
                ran.kill()
        said.seek(0)
        lines = said.read().split()
        errors = ran.stderr.read().decode() if ran.stderr else ""
    if ran.returncode == 0:
        return first + count, int(lines[-1])
    last = int(lines[-1]) if lines and lines[-1].isdigit() else first
    made = case(last)
    _write_down(folder, last, made.kind, made.data, RuntimeError(f"ended with {ran.returncode}: {errors[-500:]}"))
    return last + 1, 0


if __name__ == "__main__":
    if sys.argv[1:2] == ["--shell"]:
        raise SystemExit(shell(int(sys.argv[2]), int(sys.argv[3]), Path(sys.argv[4])))
    if sys.argv[1:2] == ["--case"]:
        one = case(int(sys.argv[2]))
        sys.stdout.write(f"{tried(one.kind, one.data) or 'taken'}\n")
        raise SystemExit(0)
    raise SystemExit(main(*map(int, sys.argv[1:])))
