"""A save that fails at any call to the system, and one that ends there, as in a power cut."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from editor import atomic_file
from editor.document import project_file
from editor.document.project import Project
from editor.document.project_file import load_project, project_bytes
from editor.document.saving import CHANGED, GONE, earlier_copy, save_stamped
from geometry.errors import PatternError
from tests.editor.project_samples import project

ERRORS = (errno.ENOSPC, errno.EIO, errno.EACCES, errno.EROFS, errno.EDQUOT)
FIRST, SECOND = Project(project().base), project()


class CountedSystem:
    """The ``os`` module, whose n-th call from the module under test does something else."""

    def __init__(self, at: int, fault: Callable[[], Any]) -> None:
        self.calls: list[str] = []
        self._at, self._fault = at, fault

    def __getattr__(self, name: str) -> Any:
        real = getattr(os, name)
        if not callable(real) or isinstance(real, ModuleType | type):
            return real

        def counted(*args: Any, **named: Any) -> Any:
            self.calls.append(name)
            if len(self.calls) == self._at:
                self._fault()
            return real(*args, **named)

        return counted


def calls_of_a_save(folder: Path) -> list[str]:
    path = folder / "counted.dartwise"
    save_stamped(FIRST, path)
    with pytest.MonkeyPatch.context() as patched:
        system = CountedSystem(0, lambda: None)
        patched.setattr(atomic_file, "os", system)
        save_stamped(SECOND, path)
    return system.calls


def moved(calls: list[str]) -> int:
    """The number of the call that puts the new file in the place of the old one."""
    return len(calls) - calls[::-1].index("replace")


def test_a_save_forces_file_and_folder_to_the_disk_in_the_right_order(tmp_path: Path) -> None:
    calls = [name for name in calls_of_a_save(tmp_path) if name in ("write", "fsync", "close", "link", "replace")]
    assert calls == ["write", "fsync", "close", "link", "replace", "replace", "fsync", "close"]


@pytest.mark.parametrize("number", ERRORS, ids=errno.errorcode.get)
def test_an_error_at_any_call_leaves_the_old_project_or_the_new_one_whole(number: int, tmp_path: Path) -> None:
    calls = calls_of_a_save(tmp_path)
    moved_at = moved(calls)
    assert len(calls) >= 12
    for at in range(1, len(calls) + 1):
        path = tmp_path / str(at) / "dress.dartwise"
        path.parent.mkdir()
        save_stamped(FIRST, path)

        def fail() -> None:
            raise OSError(number, os.strerror(number))

        told = None
        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(atomic_file, "os", CountedSystem(at, fail))
            try:
                save_stamped(SECOND, path)
            except PatternError as error:
                told = error
        assert load_project(path) == (SECOND if told is None or at > moved_at else FIRST), calls[at - 1]
        if told is not None:
            assert told.code == "cannot-write"
            assert "dress.dartwise cannot be written: " in told.sentence
        # what could not even be taken away again has a name that nothing reads
        assert {each.suffix for each in path.parent.iterdir()} <= {".dartwise", ".part"}
        save_stamped(SECOND, path)
        assert load_project(path) == SECOND


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_an_end_at_any_call_leaves_the_old_project_or_the_new_one_whole(tmp_path: Path) -> None:
    calls = calls_of_a_save(tmp_path)
    for at in range(1, len(calls) + 1):
        path = tmp_path / str(at) / "dress.dartwise"
        path.parent.mkdir()
        save_stamped(FIRST, path)
        child = os.fork()
        if child == 0:
            atomic_file.os = CountedSystem(at, lambda: os._exit(9))  # type: ignore[attr-defined]
            save_stamped(SECOND, path)
            os._exit(0)
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 9
        assert load_project(path) == (SECOND if at > moved(calls) else FIRST), calls[at - 1]


def test_a_write_that_takes_only_part_of_the_data_is_gone_on_with(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real = os.write
    monkeypatch.setattr(atomic_file.os, "write", lambda handle, data: real(handle, bytes(data[:7])))
    save_stamped(SECOND, tmp_path / "dress.dartwise")
    monkeypatch.undo()
    assert load_project(tmp_path / "dress.dartwise") == SECOND


def test_a_disk_without_links_and_permissions_takes_a_save_all_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "dress.dartwise"
    save_stamped(FIRST, path)

    def refuse(*_: object) -> None:
        raise OSError(errno.EPERM, "not here")

    monkeypatch.setattr(atomic_file.os, "link", refuse)
    monkeypatch.setattr(atomic_file.os, "chmod", refuse)
    save_stamped(SECOND, path)
    assert (load_project(path), load_project(earlier_copy(path))) == (SECOND, FIRST)


def test_the_last_good_copy_is_kept_beside_and_a_damaged_file_does_not_take_its_place(tmp_path: Path) -> None:
    path = tmp_path / "dress.dartwise"
    save_stamped(FIRST, path)
    assert not earlier_copy(path).exists()
    save_stamped(SECOND, path)
    assert load_project(earlier_copy(path)) == FIRST
    save_stamped(SECOND, path)  # nothing new: the copy stays the one before
    assert load_project(earlier_copy(path)) == FIRST
    path.write_bytes(path.read_bytes()[:100])
    save_stamped(SECOND, path)
    assert load_project(earlier_copy(path)) == FIRST
    assert sorted(each.name for each in tmp_path.iterdir()) == ["dress.dartwise", "dress.earlier.dartwise"]


def test_a_file_that_someone_else_changed_is_not_run_over(tmp_path: Path) -> None:
    path = tmp_path / "dress.dartwise"
    known = save_stamped(FIRST, path)
    theirs = Project(project().base, project().wearers[:1])
    save_stamped(theirs, path)
    with pytest.raises(PatternError, match=r"dress\.dartwise was changed by someone else") as refused:
        save_stamped(SECOND, path, known=known)
    assert refused.value.code == CHANGED
    assert load_project(path) == theirs
    save_stamped(SECOND, path)  # the person said so
    assert (load_project(path), load_project(earlier_copy(path))) == (SECOND, theirs)


def test_the_same_change_made_by_someone_else_is_no_quarrel(tmp_path: Path) -> None:
    path = tmp_path / "dress.dartwise"
    known = save_stamped(FIRST, path)
    there = save_stamped(SECOND, path)
    assert save_stamped(SECOND, path, known=known) == there


def test_a_file_that_was_moved_away_and_a_folder_that_vanished_are_told_apart(tmp_path: Path) -> None:
    path = tmp_path / "network" / "dress.dartwise"
    path.parent.mkdir()
    known = save_stamped(FIRST, path)
    path.unlink()
    with pytest.raises(PatternError, match="no longer in its folder") as refused:
        save_stamped(SECOND, path, known=known)
    assert refused.value.code == GONE
    path.parent.rmdir()
    with pytest.raises(PatternError, match="its folder is not there") as refused:
        save_stamped(SECOND, path, known=known)
    assert refused.value.code == "cannot-write"
    assert not path.parent.exists()


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may write everywhere")
def test_a_folder_that_can_only_be_read_gets_a_sentence(tmp_path: Path) -> None:
    path = tmp_path / "dress.dartwise"
    save_stamped(FIRST, path)
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(PatternError, match="you may not write there"):
            save_stamped(SECOND, path)
        assert load_project(path) == FIRST
    finally:
        tmp_path.chmod(0o700)


@pytest.mark.skipif(os.name == "nt", reason="needs limits on the size of files")
def test_a_disk_that_is_really_full_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    import resource
    import signal

    path = tmp_path / "dress.dartwise"
    save_stamped(FIRST, path)
    before, handler = resource.getrlimit(resource.RLIMIT_FSIZE), signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (len(project_bytes(SECOND)) // 2, before[1]))
    try:
        with pytest.raises(PatternError, match="the disk takes no file that large"):
            save_stamped(SECOND, path)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
        signal.signal(signal.SIGXFSZ, handler)
    assert load_project(path) == FIRST
    assert [each.name for each in tmp_path.iterdir()] == ["dress.dartwise"]


def test_what_a_power_cut_left_half_written_is_swept_away_after_an_hour(tmp_path: Path) -> None:
    path = tmp_path / "dress.dartwise"
    save_stamped(FIRST, path)
    fresh, old, other = (
        tmp_path / name for name in (".dress.dartwise.1.part", ".dress.dartwise.2.part", ".coat.dartwise.3.part")
    )
    for each in (fresh, old, other):
        each.write_bytes(b"half")
    for each in (old, other):
        os.utime(each, (1e9, 1e9))
    save_stamped(SECOND, path)
    assert (fresh.exists(), old.exists(), other.exists()) == (True, False, True)


def test_a_file_that_cannot_be_read_any_more_is_not_run_over_unseen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "dress.dartwise"
    known = save_stamped(FIRST, path)

    def fault(*_: object, **__: object) -> bytes:
        raise OSError(errno.EIO, "Input/output error")

    with monkeypatch.context() as broken:
        broken.setattr(project_file, "read_limited", fault)
        with pytest.raises(PatternError, match=r"cannot be read: input/output error, so nobody can tell") as refused:
            save_stamped(SECOND, path, known=known)
    assert refused.value.code == CHANGED
    assert load_project(path) == FIRST
