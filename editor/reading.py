"""Reading a file whole, within bounds: a device, a pipe or a file that would fill the memory is refused unread."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from geometry.errors import PatternError


def readable_name(path: Path) -> str:
    """The name of a file with letters only, where the system allows names that are none."""
    return path.name.encode("utf-8", errors="replace").decode()


def read_limited(path: Path, *, most_bytes: int) -> bytes:
    """What a file holds.

    Raises:
        PatternError: it is no file, or larger than that.
        OSError: it cannot be opened or read.
    """
    with open(path, "rb", opener=_opened_at_once) as file:
        kind = os.fstat(file.fileno())
        if not stat.S_ISREG(kind.st_mode):
            raise PatternError(f"{path} is no file that could be read; choose another one.", code="no-file")
        if kind.st_size > most_bytes:
            mb = most_bytes >> 20
            raise PatternError(
                f"{path} is larger than {mb} MB, the most that is read of its kind; choose another file.",
                code="too-large",
            )
        return file.read()


def _opened_at_once(path: str, _flags: int) -> int:
    """A pipe that nobody writes to would be waited for."""
    return os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
