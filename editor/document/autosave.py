"""Every committed change on the disk at once, on a thread of its own, so that the window never waits for it."""

from __future__ import annotations

import contextlib
import secrets
import threading
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from queue import Empty, SimpleQueue

from editor.atomic_file import reason
from editor.document.locking import this_process
from editor.document.project import Project
from editor.document.project_file import project_bytes
from editor.document.sitting import ENDING, About, Writer
from geometry.errors import PatternError


@dataclass(frozen=True, slots=True)
class Kept:
    """What is on the disk: the last change and when it was written."""

    label: str
    at: str


@dataclass(frozen=True, slots=True)
class _Opened:
    project: Project
    data: bytes | None
    path: Path | None
    stamp: str
    is_saved: bool
    label: str = ""


@dataclass(frozen=True, slots=True)
class _Changed:
    project: Project
    label: str


@dataclass(frozen=True, slots=True)
class _Saved:
    path: Path
    stamp: str


@dataclass(frozen=True, slots=True)
class _Asked:
    done: threading.Event
    is_last: bool = False
    forgets: bool = False


_Wish = _Opened | _Changed | _Saved | _Asked


class Autosave:
    """Keeps the record of one window's sitting.

    The methods return at once; a thread does the writing. ``on_trouble`` is called on that thread with a clause
    when writing fails, and with "" when it works again.
    """

    def __init__(self, folder: Path, *, on_trouble: Callable[[str], None]) -> None:
        self._folder = folder
        self._on_trouble = on_trouble
        self._wishes: SimpleQueue[_Wish] = SimpleQueue()
        self._thread: threading.Thread | None = None
        self._writer: Writer | None = None
        self._state: _Opened | None = None
        self._torn: list[Path] = []
        self._has_trouble = False
        self.kept: Kept | None = None

    def opened(
        self, project: Project, *, data: bytes | None = None, path: Path | None = None, stamp: str = "", is_saved: bool
    ) -> None:
        """Begin the record of another project; ``data`` are its bytes where they are at hand."""
        self._ask(_Opened(project, data, path, stamp, is_saved))

    def changed(self, project: Project, label: str) -> None:
        """A change was made."""
        self._ask(_Changed(project, label))

    def saved(self, path: Path, stamp: str) -> None:
        """The project as it is now was saved."""
        self._ask(_Saved(path, stamp))

    @property
    def is_well(self) -> bool:
        """Whether the last writing went well."""
        return not self._has_trouble

    def wait(self, timeout_s: float = 5.0) -> bool:
        """Wait until all that was asked for so far is on the disk; whether it is."""
        if self._thread is None:
            return True
        done = threading.Event()
        self._wishes.put(_Asked(done))
        return done.wait(timeout_s)

    def close(self, *, forget: bool, timeout_s: float = 5.0) -> None:
        """End the sitting; ``forget`` takes its record away, since nothing in it will be missed."""
        if self._thread is not None:
            done = threading.Event()
            self._wishes.put(_Asked(done, is_last=True, forgets=forget))
            done.wait(timeout_s)
            self._thread = None

    # -- on the thread that writes

    def _ask(self, wish: _Wish) -> None:
        if self._thread is None:
            self._thread = threading.Thread(target=self._work, name="autosave", daemon=True)
            self._thread.start()
        self._wishes.put(wish)

    def _work(self) -> None:
        while True:
            for wish in _without_overtaken(self._waiting()):
                if isinstance(wish, _Asked):
                    if wish.is_last:
                        self._end(forget=wish.forgets)
                    wish.done.set()
                    if wish.is_last:
                        return
                else:
                    self._try(wish)

    def _waiting(self) -> list[_Wish]:
        """All that was asked for, at least one."""
        wishes = [self._wishes.get()]
        with contextlib.suppress(Empty):
            while True:
                wishes.append(self._wishes.get_nowait())
        return wishes

    def _try(self, wish: _Wish) -> None:
        try:
            self._carry_out(wish)
        except Exception as error:  # the thread must live on, whatever it was
            self._let_go()
            if isinstance(error, OSError | PatternError):
                self._tell(reason(error))
            else:
                self._tell("something went wrong inside Dartwise")
                threading.excepthook(threading.ExceptHookArgs((type(error), error, error.__traceback__, self._thread)))
        else:
            self._tell("")

    def _carry_out(self, wish: _Wish) -> None:
        now = datetime.now().isoformat(timespec="milliseconds")
        match wish:
            case _Opened():
                self._state, self.kept = wish, None
                self._begin(now)
            case _Changed(project, label) if self._state is not None:
                self._state = _Opened(project, None, self._state.path, self._state.stamp, False, label)
                if self._writer is None or not self._writer.takes(project):
                    self._begin(now)
                else:
                    self._writer.change(project, label, now)
                self.kept = Kept(label, now)
            case _Saved(path, stamp) if self._state is not None:
                self._state = _Opened(self._state.project, None, path, stamp, True)
                if self._writer is None:
                    self._begin(now)
                else:
                    self._writer.saved(path, stamp, now)

    def _begin(self, now: str) -> None:
        """A new record; the one before it goes when the new one is on the disk."""
        state, before = self._state, self._writer
        if state is None:
            return
        self._folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        file = self._folder / f"{secrets.token_hex(8)}{ENDING}"
        path = "" if state.path is None else str(state.path)
        about = About(this_process(), path, state.stamp, state.is_saved, now, state.label)
        data = project_bytes(state.project, at_once=True) if state.data is None else state.data
        self._writer = Writer(file, about, state.project, data)
        if before is not None:
            _end(before, forget=True)
        for torn in self._torn:
            torn.unlink(missing_ok=True)
        self._torn.clear()

    def _end(self, *, forget: bool) -> None:
        if self._writer is not None:
            _end(self._writer, forget=forget)
            self._writer = None

    def _let_go(self) -> None:
        """Leave a record whose end may be torn: what is whole in it counts until the next one is on the disk."""
        if self._writer is not None:
            self._torn.append(self._writer.file)
        self._end(forget=False)

    def _tell(self, trouble: str) -> None:
        if bool(trouble) != self._has_trouble:
            self._has_trouble = bool(trouble)
            self._on_trouble(trouble)


def _without_overtaken(wishes: list[_Wish]) -> list[_Wish]:
    """Of changes that follow each other while the disk is slow, the last one: it holds all of them."""
    pairs = zip(wishes, [*wishes[1:], None], strict=True)
    return [wish for wish, following in pairs if not (isinstance(wish, _Changed) and isinstance(following, _Changed))]


def _end(writer: Writer, *, forget: bool) -> None:
    with contextlib.suppress(OSError):
        writer.close()
    if forget:
        with contextlib.suppress(OSError):
            writer.file.unlink()
