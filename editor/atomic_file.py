"""Writing a file so that it is there whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
from pathlib import Path
from typing import Final

from geometry.errors import PatternError

PART: Final = ".part"
"""Ending of a file being written; one that stays behind after a power cut is never read."""

_NEW: Final = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0) | getattr(os, "O_CLOEXEC", 0)
_WITHOUT: Final = (errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EINVAL, errno.ENOSYS, errno.EACCES, errno.EBADF)
"""What a file system answers that does not know hard links, permissions or folders forced to the disk."""

_REASONS: Final = {
    errno.ENOSPC: "the disk is full; make some room or choose another disk",
    errno.EDQUOT: "your share of the disk is used up; make some room or choose another disk",
    errno.EROFS: "the disk can only be read; choose another place",
    errno.EACCES: "you may not write there; choose a folder of your own",
    errno.EPERM: "you may not write there; choose a folder of your own",
    errno.ENOENT: "its folder is not there (any more); choose another folder",
    errno.ENOTDIR: "its folder is not there (any more); choose another folder",
    errno.ESTALE: "the network folder has gone; choose a folder on this computer",
    errno.EIO: "the disk reports a fault; choose another disk",
    errno.EFBIG: "the disk takes no file that large; choose another disk",
    errno.ENAMETOOLONG: "its name is too long; choose a shorter one",
    errno.EISDIR: "it is a folder; choose another name",
}


def write_whole(path: Path, data: bytes, *, earlier: Path | None = None) -> None:
    """Put ``data`` in the place of ``path``: written beside it, forced to the disk, then moved over it.

    A link is followed; an existing file keeps its permissions. When anything fails the file holds what it held.

    Args:
        path: The file.
        data: What it is to hold.
        earlier: Where what it holds now is kept, if that can be done at all.

    Raises:
        PatternError: the file cannot be written; the sentence says which and why.
    """
    try:
        target = Path(os.path.realpath(path, strict=False))
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, "it is a folder")
        _replace(target, data, earlier)
    except (OSError, ValueError) as error:  # ValueError: a name with a zero byte
        raise PatternError(f"{path} cannot be written: {reason(error)}.", code="cannot-write") from None


def reason(error: Exception) -> str:
    """Why the system refused, in words, to be put behind a colon."""
    told = _REASONS.get(getattr(error, "errno", None) or 0)
    words = told or getattr(error, "strerror", None) or str(error)
    return words[:1].lower() + words[1:].rstrip(".")


def sweep(path: Path, *, older_than_s: float, now_s: float) -> None:
    """Take away what saves of this file left half written when the power went; never fails."""
    with contextlib.suppress(OSError):
        for entry in os.scandir(path.parent):
            if entry.name.startswith(_prefix(path.name)) and entry.name.endswith(PART):
                with contextlib.suppress(OSError):
                    if now_s - entry.stat().st_mtime > older_than_s:
                        os.unlink(entry.path)


def _replace(target: Path, data: bytes, earlier: Path | None) -> None:
    beside = _written(target, data)
    try:
        _set_mode(beside, _mode(target))
        if earlier is not None:
            with contextlib.suppress(OSError):  # a save is worth more than its earlier copy
                _keep(target, earlier)
        os.replace(beside, target)
    except BaseException:
        _drop(beside)
        raise
    settle(target.parent)


def _written(target: Path, data: bytes) -> Path:
    """A new file beside ``target`` with the data on the disk."""
    beside = target.with_name(f"{_prefix(target.name)}{secrets.token_hex(4)}{PART}")
    handle = os.open(beside, _NEW, 0o600)
    try:
        try:
            left = memoryview(data)
            while left:
                left = left[os.write(handle, left) :]
            os.fsync(handle)
        finally:
            os.close(handle)
    except BaseException:
        _drop(beside)
        raise
    return beside


def _keep(target: Path, earlier: Path) -> None:
    """Give what ``target`` holds the name ``earlier`` too."""
    spare = earlier.with_name(f"{_prefix(earlier.name)}{secrets.token_hex(4)}{PART}")
    try:
        os.link(target, spare)
    except FileNotFoundError:
        return
    except OSError:  # no hard links here
        spare = _written(earlier, target.read_bytes())
    try:
        os.replace(spare, earlier)
    finally:
        _drop(spare)  # stays where both names are the same file already


def _prefix(name: str) -> str:
    return f".{name.encode()[:80].decode(errors='ignore')}."


def _drop(path: Path) -> None:
    with contextlib.suppress(OSError):
        os.unlink(path)


def _set_mode(path: Path, mode: int) -> None:
    try:
        os.chmod(path, mode)
    except OSError as error:
        if error.errno not in _WITHOUT:
            raise


def _mode(target: Path) -> int:
    try:
        return os.stat(target).st_mode & 0o777
    except FileNotFoundError:
        mask = os.umask(0)
        os.umask(mask)
        return 0o666 & ~mask


def settle(folder: Path) -> None:
    """Force the new name to the disk where the system can; the data are there already."""
    try:
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        if error.errno not in _WITHOUT:
            raise
