"""Opening and saving with a memory of what the file held: a file changed by someone else meanwhile is not run over."""

from __future__ import annotations

import hashlib
import os
import time
from pathlib import Path
from typing import Final

from editor.atomic_file import sweep, write_whole
from editor.document.project import Project
from editor.document.project_file import bytes_for, project_from_bytes, project_in, read_file
from geometry.errors import PatternError

CHANGED: Final = "changed-meanwhile"
GONE: Final = "gone-meanwhile"

_STALE_S: Final = 3600.0
"""No save takes an hour: what is half written for that long was left by a power cut."""


def stamp_of(data: bytes) -> str:
    """What tells one content of a file from another."""
    return hashlib.sha256(data).hexdigest()


def open_stamped(path: Path) -> tuple[Project, str, bytes]:
    """The project in a file, the stamp of what the file holds, and what it holds.

    Raises:
        PatternError: as ``load_project``.
    """
    data = read_file(path)
    return project_in(data, path), stamp_of(data), data


def earlier_copy(path: Path) -> Path:
    """Where a save keeps the last good copy: "dress.dartwise" as "dress.earlier.dartwise"."""
    target = path.resolve()
    return target.with_name(f"{target.stem}.earlier{target.suffix}")


def save_stamped(project: Project, path: Path, *, known: str | None = None) -> str:
    """Write a project whole, keep the last good copy beside it, and return the stamp of what the file now holds.

    Args:
        project: What to write.
        path: Where.
        known: Stamp of what the file held when it was last read or written here; ``None`` for a name just chosen,
            under which anything may be replaced.

    Raises:
        PatternError: it cannot be written, or (codes ``CHANGED`` and ``GONE``) the file is not what it was; it stays
            as it is then.
    """
    data = bytes_for(project, path)
    there = _present(path, is_known=known is not None)
    if there == data:
        return stamp_of(data)
    if known is not None:
        _refuse_changed(path, there, known)
    is_good = there is not None and (stamp_of(there) == known or _is_project(there))
    write_whole(path, data, earlier=earlier_copy(path) if is_good else None)
    sweep(path, older_than_s=_STALE_S, now_s=time.time())
    return stamp_of(data)


def _refuse_changed(path: Path, there: bytes | None, known: str) -> None:
    if there is None:
        if os.path.isdir(path.parent):
            raise PatternError(f"{path.name} is no longer in its folder; it was moved or removed.", code=GONE)
    elif stamp_of(there) != known:
        raise PatternError(f"{path.name} was changed by someone else since you opened it.", code=CHANGED)


def _present(path: Path, *, is_known: bool) -> bytes | None:
    """What the file holds, ``None`` where it is not there; one that cannot be read may hold anything."""
    try:
        return read_file(path)
    except PatternError as error:
        if is_known and os.path.exists(path):  # not Path.exists, which may itself fail
            raise PatternError(
                f"{error.sentence.rstrip('.')}, so nobody can tell whether someone else changed it.", code=CHANGED
            ) from None
        return None


def _is_project(data: bytes) -> bool:
    try:
        project_from_bytes(data)
    except PatternError:
        return False
    return True
