"""Two windows on one project are noticed; a lock that was left behind is not in the way."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from editor.document import locking
from editor.document.locking import HeldError, lock_file, take, this_process
from editor.document.schema import to_json

HOLD = (
    "import sys; from pathlib import Path; from editor.document.locking import take; "
    "take(Path(sys.argv[1])); print('held', flush=True); sys.stdin.readline()"
)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "dress.dartwise"


def test_a_project_open_in_another_process_is_told_with_the_time(path: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", HOLD, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == b"held\n"
        with pytest.raises(HeldError, match=r"dress\.dartwise is open in another window since \d\d:\d\d\.") as held:
            take(path)
        assert held.value.holder is not None
        assert held.value.holder.pid == other.pid
        other.kill()
        other.wait()
    lock = take(path)  # whoever was killed holds nothing
    assert lock.file == lock_file(path)


def test_letting_go_takes_the_lock_away_and_nothing_else(path: Path) -> None:
    lock = take(path)
    assert [each.name for each in path.parent.iterdir()] == [".dress.dartwise.open"]
    lock.release()
    assert list(path.parent.iterdir()) == []
    lock.release()


def test_a_lock_of_another_computer_is_told_and_can_be_taken_over(path: Path) -> None:
    other = replace(this_process(), host="sewing room", since="2020-05-17T10:42:07")
    lock_file(path).write_bytes(to_json(other))
    with pytest.raises(HeldError, match='on another computer, "sewing room" since 17 May, 10:42'):
        take(path)
    lock = take(path, by_force=True)
    assert locking._read(lock_file(path)) == lock.holder
    lock.release()
    assert not lock_file(path).exists()


def test_a_lock_taken_over_by_another_window_is_not_released(path: Path) -> None:
    lock = take(path)
    other = to_json(replace(this_process(), token="another"))
    lock_file(path).write_bytes(other)
    lock.release()
    assert lock_file(path).read_bytes() == other


def test_a_number_of_a_process_that_was_used_again_is_no_running_editor(path: Path) -> None:
    gone = replace(this_process(), started="1")
    lock_file(path).write_bytes(to_json(gone))
    assert take(path).file == lock_file(path)


def test_a_lock_that_cannot_be_read_counts_while_it_is_fresh(path: Path) -> None:
    lock_file(path).write_bytes(b"")
    with pytest.raises(HeldError, match=r"dress\.dartwise is open in another window\."):
        take(path)
    os.utime(lock_file(path), (1e9, 1e9))
    assert take(path).file is not None


def test_a_folder_that_takes_no_lock_does_not_keep_from_reading(tmp_path: Path) -> None:
    lock = take(tmp_path / "gone" / "dress.dartwise")
    assert lock.file is None
    lock.release()


def test_a_disk_without_links_has_locks_all_the_same(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(1, "not here")

    monkeypatch.setattr(locking.os, "link", refuse)
    lock = take(path)
    assert lock.file is not None
    lock_file(path).write_bytes(to_json(replace(lock.holder, host="sewing room")))
    with pytest.raises(HeldError):
        take(path)


def test_of_two_that_find_a_stale_lock_one_gets_it(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between looking and taking away another process may have put a lock of its own."""
    stale = replace(this_process(), started="1")
    winner = replace(this_process(), host="sewing room")
    lock_file(path).write_bytes(to_json(stale))
    real = locking._put_aside

    def late(file: Path, seen: locking.Holder | None) -> None:
        if locking._read(file) == stale:
            file.write_bytes(to_json(winner))
        real(file, seen)

    monkeypatch.setattr(locking, "_put_aside", late)
    with pytest.raises(HeldError, match="sewing room"):
        take(path)
    assert locking._read(lock_file(path)) == winner


@pytest.mark.parametrize(
    ("stamp", "words"),
    [
        (f"{datetime.now():%Y-%m-%d}T10:42:07", "10:42"),
        ("2020-05-17T10:42:07", "17 May, 10:42"),
        ("soon", "an unknown time"),
    ],
)
def test_times_are_said_as_people_say_them(stamp: str, words: str) -> None:
    assert locking.spoken_time(stamp) == words
