"""Writing a file so that it is there whole or not at all."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from geometry.errors import PatternError


def write_whole(path: Path, data: bytes) -> None:
    """Put ``data`` in the place of ``path``: written beside it, forced to the disk, then moved over it.

    A link is followed; an existing file keeps its permissions. When anything fails the file is what it was.

    Raises:
        PatternError: the file cannot be written; the sentence says which and why.
    """
    try:
        target = path.resolve()
        if target.is_dir():
            raise IsADirectoryError(None, "it is a folder")
        _replace(target, data)
    except (OSError, RuntimeError) as error:  # RuntimeError: links that run in a circle
        reason = getattr(error, "strerror", None) or str(error)
        raise PatternError(f"{path} cannot be written: {_lowered(reason)}.", code="cannot-write") from None


def _replace(target: Path, data: bytes) -> None:
    handle, beside = tempfile.mkstemp(prefix=f".{target.name[:80]}.", suffix=".part", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(beside, _mode(target))
        os.replace(beside, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(beside)
        raise
    _settle(target.parent)


def _mode(target: Path) -> int:
    try:
        return target.stat().st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def _settle(folder: Path) -> None:
    """Force the new name to the disk where the system can; the data are there already."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _lowered(sentence: str) -> str:
    return sentence[:1].lower() + sentence[1:].rstrip(".")
