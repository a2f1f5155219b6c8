"""Who has a project open: a small file beside it names host and process; one that was left behind is recognised."""

from __future__ import annotations

import contextlib
import os
import platform
import secrets
import sys
import time
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from editor.document.schema import FieldError, from_json, to_json
from geometry.errors import PatternError

if sys.platform == "win32":
    import ctypes
else:
    import fcntl

_QUERY_LIMITED_INFORMATION: Final = 0x1000
"""The least one may ask of a process on Windows."""

_HALF_MADE_S: Final = 30.0
"""A lock that cannot be read and is older than this was cut short by a power cut, not just being made."""

_LARGEST_BYTES: Final = 10_000


@dataclass(frozen=True, slots=True)
class Holder:
    """A running editor.

    Attributes:
        host: Name of its computer.
        pid: Number of its process there.
        started: When that process started, as the system counts it, "" where it does not say: numbers are used again.
        since: When it began to hold what it holds, as 2026-05-17T10:42:07.
        token: Tells two holds of the same process apart.
    """

    host: str
    pid: int
    started: str = ""
    since: str = ""
    token: str = ""

    @property
    def is_here(self) -> bool:
        """Whether it runs, or ran, on this computer."""
        return self.host == platform.node()

    @property
    def is_this_process(self) -> bool:
        """Whether it is the very process that asks."""
        return self.is_here and self.pid == os.getpid() and self.started == _started(self.pid)

    @property
    def is_running(self) -> bool:
        """Whether it still runs, as far as can be known from here: on another computer it is taken to."""
        if not self.is_here:
            return True
        return _is_running(self.pid) and self.started in ("", _started(self.pid))


class HeldError(PatternError):
    """Another window has the project open.

    Attributes:
        holder: Which one; ``None`` where its lock cannot be read.
    """

    def __init__(self, path: Path, holder: Holder | None) -> None:
        super().__init__(_sentence(path, holder), code="open-elsewhere")
        self.holder = holder


def this_process() -> Holder:
    """The process that asks, beginning to hold something now."""
    now = datetime.now().isoformat(timespec="seconds")
    return Holder(platform.node(), os.getpid(), _started(os.getpid()), now, secrets.token_hex(8))


@dataclass(frozen=True, slots=True)
class Lock:
    """A project held by this process; ``file`` is ``None`` where the folder takes no lock."""

    file: Path | None
    holder: Holder

    def release(self) -> None:
        """Let it go, unless another window has taken it over meanwhile; never fails."""
        with contextlib.suppress(OSError):
            if self.file is not None and _read(self.file) == self.holder:
                self.file.unlink()


def lock_file(path: Path) -> Path:
    """The lock of a project: hidden, in the project's folder, so that other computers see it too."""
    target = path.resolve()
    return target.with_name(f".{target.name}.open")


def take(path: Path, *, by_force: bool = False) -> Lock:
    """Hold a project.

    Args:
        path: The project's file.
        by_force: Take it over from whoever holds it.

    Raises:
        HeldError: another window that still runs holds it.
    """
    file, holder = lock_file(path), this_process()
    for _ in range(3):  # once for a lock left behind, once more for one that came meanwhile
        if _made(file, holder):
            return Lock(file, holder)
        if not file.exists():
            return Lock(None, holder)  # a folder that takes no file; the project can be read all the same
        other = _read(file)
        if not by_force and not _is_left_behind(file, other):
            raise HeldError(path, other)
        _put_aside(file, other)
    raise HeldError(path, _read(file))


def _made(file: Path, holder: Holder) -> bool:
    """Write the lock in one go under a name of its own, then give it the name nobody else may have yet."""
    own = file.with_name(f"{file.name}.{holder.token}")
    try:
        own.write_bytes(to_json(holder))
        try:
            os.link(own, file)
        except FileExistsError:
            return False
        except OSError:  # no hard links here
            with open(file, "xb") as lock:
                lock.write(to_json(holder))
    except OSError:
        return False
    finally:
        with contextlib.suppress(OSError):
            own.unlink()
    return _read(file) == holder


def _put_aside(file: Path, seen: Holder | None) -> None:
    """Take a lock away, but only the one that was looked at."""
    aside = file.with_name(f"{file.name}.{secrets.token_hex(4)}")
    with contextlib.suppress(OSError):
        os.rename(file, aside)
        if _read(aside) != seen:
            os.rename(aside, file)
        else:
            aside.unlink()


def _is_left_behind(file: Path, holder: Holder | None) -> bool:
    if holder is not None:
        return holder.is_this_process or not holder.is_running
    with contextlib.suppress(OSError):
        return time.time() - file.stat().st_mtime > _HALF_MADE_S
    return True


def _read(file: Path) -> Holder | None:
    try:
        with open(file, "rb") as lock:
            return from_json(lock.read(_LARGEST_BYTES), Holder)
    except (OSError, FieldError):
        return None


def _is_running(pid: int) -> bool:
    if sys.platform == "win32":  # signal 0 would end the process there
        kernel = ctypes.windll.kernel32
        handle = kernel.OpenProcess(_QUERY_LIMITED_INFORMATION, False, pid)
        kernel.CloseHandle(handle)
        return bool(handle)
    try:
        os.kill(pid, 0)
    except PermissionError:
        return True
    except (OSError, OverflowError):
        return False
    return True


def keep_hold(handle: int) -> None:
    """Mark an open file as in use until this process ends, however it ends; never fails."""
    if sys.platform != "win32":
        with contextlib.suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def is_in_use(file: Path, holder: Holder) -> bool:
    """Whether the process that writes a file of this computer still runs.

    Where the system lets go of files by itself that is asked, since the name of a computer may change from one network
    to the next; elsewhere the number of the process tells.
    """
    if sys.platform == "win32":
        return holder.is_running
    with open(file, "rb") as opened:
        try:
            fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return True
        except OSError:  # a file system without such locks
            return holder.is_running
    return False


def _started(pid: int) -> str:
    """Ticks from the start of the system to that of the process, where there is a /proc to ask."""
    try:
        text = Path(f"/proc/{pid}/stat").read_text("utf-8", errors="replace")
    except OSError:
        return ""
    return text.rpartition(")")[2].split()[19]  # field 22 of proc(5); the name in brackets may hold blanks


def _sentence(path: Path, holder: Holder | None) -> str:
    if holder is None:
        return f"{path.name} is open in another window."
    where = "in another window" if holder.is_here else f'on another computer, "{holder.host}"'
    since = f" since {spoken_time(holder.since)}" if holder.since else ""
    return f"{path.name} is open {where}{since}."


def spoken_time(stamp: str) -> str:
    """A time as a person says it: "10:42" today, else "17 May, 10:42"."""
    try:
        when = datetime.fromisoformat(stamp).replace(tzinfo=None)
    except ValueError:
        return "an unknown time"
    hour = f"{when:%H:%M}"
    return hour if when.date() == datetime.now().date() else f"{when.day} {when:%B}, {hour}"
