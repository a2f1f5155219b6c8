"""The record of a sitting: one file that is only ever added to, from which everything done since can be had again.

A first line tells the format; then come entries, each a line with its kind, length and checksum and then its content:

- ``about``: who writes it, for which project file, whether the project as it starts is on disk;
- ``start``: that project, as the bytes of a project file;
- ``change``: what the next step changed, with its name and time;
- ``saved``: what the project is now is in the project file.

An entry that was cut short by a crash ends the record; what comes before it counts.
"""

from __future__ import annotations

import contextlib
import os
import sys
import zlib
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Final

from editor.atomic_file import settle
from editor.document.container import LARGEST_WHOLE_BYTES, unpacked
from editor.document.differences import Change, changed, changes
from editor.document.locking import Holder, keep_hold
from editor.document.project import Project
from editor.document.project_file import PROJECT_PART, plain_document, project_from_parts
from editor.document.schema import FieldError, from_json, parsed, to_json
from geometry.errors import PatternError

ENDING: Final = ".sitting"
_FIRST: Final = b"dartwise-sitting 1\n"
_LARGEST_BYTES: Final = 2 * LARGEST_WHOLE_BYTES


@dataclass(frozen=True, slots=True)
class About:
    """Whose record it is.

    Attributes:
        holder: The editor that writes it.
        path: The project's file, "" if it was never saved.
        stamp: What that file held when it was last read or written, "" if it was never saved.
        is_saved: Whether the project as it starts is what the file holds.
        began: When, as 2026-05-17T10:42:07.
        label: Name of the change that led to the project as it starts, "" if there was none.
    """

    holder: Holder
    path: str
    stamp: str
    is_saved: bool
    began: str
    label: str = ""


@dataclass(frozen=True, slots=True)
class _Change:
    at: str
    label: str
    changes: list[Change]


@dataclass(frozen=True, slots=True)
class _Saved:
    at: str
    path: str
    stamp: str


@dataclass(frozen=True, slots=True)
class Record:
    """What a record of a sitting tells.

    Attributes:
        about: Whose it is; its path and stamp are those of the last save.
        project: The project after the last whole entry.
        label: Name of the last change in it, "" if there is none.
        at: Time of the last change, or of the beginning.
        unsaved: How many changes were made since the project file was written; 0 where they come to nothing, at least
            1 for a project that never was saved.
    """

    about: About
    project: Project
    label: str
    at: str
    unsaved: int


class Writer:
    """Adds to a record. Every call returns when the entry is on the disk, or raises ``OSError``."""

    def __init__(self, file: Path, about: About, project: Project, data: bytes) -> None:
        """Begin a record with a project and its bytes; the file appears when both are on the disk."""
        self.file = file
        self._base, self._members = project.base, project.unread.members
        self._plain = plain_document(project)
        own = file.with_name(f"{file.name}.new")
        self._handle = os.open(own, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | getattr(os, "O_BINARY", 0), 0o600)
        keep_hold(self._handle)
        try:
            self._write(_FIRST + _entry(b"about", to_json(about)) + _entry(b"start", data))
            self._move(own)
        except BaseException:
            os.close(self._handle)
            own.unlink(missing_ok=True)
            raise

    def _move(self, own: Path) -> None:
        """Give the record its name; where an open file cannot be renamed it is opened anew."""
        if sys.platform == "win32":
            os.close(self._handle)
            os.replace(own, self.file)
            self._handle = os.open(self.file, os.O_WRONLY | os.O_APPEND | os.O_BINARY)
        else:
            os.replace(own, self.file)
        settle(self.file.parent)

    def takes(self, project: Project) -> bool:
        """Whether the project can follow in this record: only what ``project.json`` holds may change in it."""
        return project.base is self._base and project.unread.members is self._members

    def change(self, project: Project, label: str, at: str) -> None:
        """Add what leads to this project."""
        plain = plain_document(project)
        made = changes(self._plain, plain)
        if made:
            self._write(_entry(b"change", to_json(_Change(at, label, made))))
            self._plain = plain

    def saved(self, path: Path, stamp: str, at: str) -> None:
        """Note that the project as it is now is in its file."""
        self._write(_entry(b"saved", to_json(_Saved(at, str(path), stamp))))

    def close(self) -> None:
        """End it; the file stays."""
        os.close(self._handle)

    def _write(self, data: bytes) -> None:
        left = memoryview(data)
        while left:
            left = left[os.write(self._handle, left) :]
        os.fsync(self._handle)


def read_record(file: Path) -> Record:
    """What a record tells.

    Raises:
        PatternError: it cannot be read, or not even its start is whole.
    """
    try:
        if file.stat().st_size > _LARGEST_BYTES:
            raise _unreadable()
        entries = _entries(file.read_bytes())
    except OSError:
        raise _unreadable() from None
    if len(entries) < 2 or [kind for kind, _ in entries[:2]] != [b"about", b"start"]:
        raise _unreadable()
    return _told(from_json(entries[0][1], About), entries[1][1], entries[2:])


def read_about(file: Path) -> About:
    """Whose record it is; ``PatternError`` where that cannot be told."""
    try:
        with open(file, "rb") as record:
            entries = _entries(record.read(100_000))
    except OSError:
        raise _unreadable() from None
    if not entries or entries[0][0] != b"about":
        raise _unreadable()
    return from_json(entries[0][1], About)


@dataclass(frozen=True, slots=True)
class _State:
    """What is known after an entry; ``saved`` is what the project file holds, ``None`` where that is not known."""

    about: About
    plain: Any
    saved: Any
    label: str
    at: str
    unsaved: int

    def after(self, kind: bytes, content: bytes) -> _State:
        if kind == b"change":
            change = from_json(content, _Change)
            plain = changed(self.plain, change.changes)
            count = self.unsaved + 1 if self.saved is None or changes(self.saved, plain) else 0
            return replace(self, plain=plain, label=change.label, at=change.at, unsaved=count)
        if kind == b"saved":
            saved = from_json(content, _Saved)
            about = replace(self.about, path=saved.path, stamp=saved.stamp)
            return replace(self, about=about, saved=self.plain, unsaved=0)
        return self


def _told(about: About, start: bytes, entries: list[tuple[bytes, bytes]]) -> Record:
    parts = dict(unpacked(start))
    project = project_from_parts(parts)
    plain = parsed(to_json(plain_document(project)))  # lists, as the changes were told of
    states = [
        _State(about, plain, plain if about.is_saved else None, about.label, about.began, 0 if about.is_saved else 1),
    ]
    with contextlib.suppress(FieldError):  # what cannot be understood ends the record as a torn end does
        for kind, content in entries:
            states.append(states[-1].after(kind, content))
    for state in reversed(states[1:]):
        with contextlib.suppress(PatternError):
            project = project_from_parts(parts | {PROJECT_PART: to_json(state.plain)})
            return Record(state.about, project, state.label, state.at, state.unsaved)
    return Record(about, project, about.label, about.began, states[0].unsaved)


def _entry(kind: bytes, content: bytes) -> bytes:
    return b"%b %d %08x\n%b\n" % (kind, len(content), zlib.crc32(content), content)


def _entries(data: bytes) -> list[tuple[bytes, bytes]]:
    """All whole entries from the start on."""
    found: list[tuple[bytes, bytes]] = []
    at = len(_FIRST) if data.startswith(_FIRST) else len(data)
    while (end := data.find(b"\n", at, at + 100)) >= 0:
        words = data[at:end].split(b" ")
        if len(words) != 3 or not words[1].isdigit():
            break
        content = data[end + 1 : end + 1 + int(words[1])]
        if words[2] != b"%08x" % zlib.crc32(content) or len(content) != int(words[1]):
            break
        found.append((words[0], content))
        at = end + 2 + len(content)
    return found


def _unreadable() -> PatternError:
    return PatternError("the record of a sitting cannot be read", code="bad-sitting")
