"""A save whose every call to the system fails once, injected by strace from outside the process.

``python -m tests.crash.failing_calls`` tells each call that was made to fail and what became of the file.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from editor.document.locking import take
from editor.document.project import Project
from editor.document.project_file import load_project
from editor.document.saving import earlier_copy, save_stamped
from geometry.errors import PatternError
from tests.editor.project_samples import project

ERRORS = ("ENOSPC", "EIO", "EACCES", "EROFS")
BEGIN, END = "/begin-of-save", "/end-of-save"
"""Asked for with ``access``, so that the save can be found in the trace."""

NO_FILES = {"getrandom"}
"""What has to do with no file."""

SAVED, REFUSED, BROKEN = 0, 3, 4
BEFORE, AFTER = Project(project().base), project()
_CALL = re.compile(r"^(?:\d+\s+)?(\w+)\((.*)")


@dataclass(frozen=True, slots=True)
class Fault:
    """A call by its name and number from the moment of attaching, the error it ends with, and what was done about it.

    ``wrong`` says what should not have been, "" if all was well.
    """

    call: str
    number: int
    error: str
    ended: int
    wrong: str


def can_be_traced() -> bool:
    """Whether strace is here and may look at other processes."""
    if shutil.which("strace") is None:
        return False
    with tempfile.TemporaryDirectory() as folder:
        return _save(Path(folder), "").ended == SAVED and (Path(folder) / "trace").stat().st_size > 0


def calls_of_a_save() -> list[tuple[str, int]]:
    """The calls between the two marks, each with its number among those of the same name since the attaching."""
    with tempfile.TemporaryDirectory() as folder:
        _save(Path(folder), "")
        lines = (Path(folder) / "trace").read_text("utf-8", errors="replace").splitlines()
    counts, found, is_save = Counter[str](), list[tuple[str, int]](), False
    for name, rest in (match.groups() for line in lines if (match := _CALL.match(line))):
        counts[name] += 1
        if name == "access" and (BEGIN in rest or END in rest):
            is_save = BEGIN in rest
        elif is_save and name not in NO_FILES:
            found.append((name, counts[name]))
    return found


def every_fault(*, errors_each: int = len(ERRORS)) -> Iterator[Fault]:
    """Each call of a save fails with each error, or with so many of them in turn."""
    turn = 0
    for name, number in calls_of_a_save():
        for _ in range(errors_each):
            error = ERRORS[turn % len(ERRORS)]
            turn += 1
            with tempfile.TemporaryDirectory() as folder:
                yield _save(Path(folder), f"inject={name}:error={error}:when={number}")


def _save(folder: Path, inject: str) -> Fault:
    path = folder / "dress.dartwise"
    known = save_stamped(BEFORE, path)
    child = os.fork()
    if child == 0:
        _child(path, known)
    options = ["-e", inject] if inject else []
    command = ["strace", "-f", "-o", str(folder / "trace"), *options, "-p", str(child)]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as strace:
        assert strace.stderr is not None
        attached = "attached" in strace.stderr.readline()
        (folder / "go").touch()
        ended = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        strace.stderr.read()
    if not attached:
        (folder / "trace").write_text("")
    name, _, rest = inject.removeprefix("inject=").partition(":")
    error, _, number = rest.removeprefix("error=").partition(":when=")
    return Fault(name, int(number or 0), error, ended, _wrong(path, ended))


def _child(path: Path, known: str) -> None:
    """Wait with calls that no save makes, then save; never comes back."""
    ended = BROKEN
    try:
        while not os.access(path.with_name("go"), os.F_OK):
            time.sleep(0.002)
        os.access(BEGIN, os.F_OK)
        lock = take(path)
        save_stamped(AFTER, path, known=known)
        lock.release()
        os.access(END, os.F_OK)
        ended = SAVED
    except PatternError:
        ended = REFUSED
    finally:
        os._exit(ended)


def _wrong(path: Path, ended: int) -> str:
    if ended not in (SAVED, REFUSED):
        return f"it ended with {ended}"
    try:
        there = load_project(path)
        earlier = load_project(earlier_copy(path)) if earlier_copy(path).exists() else BEFORE
    except PatternError as error:
        return error.sentence
    if there not in ((AFTER,) if ended == SAVED else (BEFORE, AFTER)):
        return "the file holds neither the project before nor the one after"
    return "" if earlier == BEFORE else "the earlier copy is not what the file held"


def main() -> int:
    """Tell all of them."""
    if not can_be_traced():
        sys.stdout.write("strace is not here or may not look at other processes\n")
        return 1
    faults = list(every_fault())
    for fault in faults:
        done = "saved" if fault.ended == SAVED else "refused"
        sys.stdout.write(f"{fault.call} {fault.number} {fault.error}: {fault.wrong or done}\n")
    bad = sum(bool(fault.wrong) for fault in faults)
    sys.stdout.write(f"{len(faults)} faults in {len(calls_of_a_save())} calls: {bad} not as they must be\n")
    return 1 if bad else 0


if __name__ == "__main__":
    raise SystemExit(main())
