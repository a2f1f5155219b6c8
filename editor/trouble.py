"""What the person sees when something breaks that should not: a calm message that says what is kept.

Where it broke goes to a log without personal data: the places in the program and the kind of the fault, never its
words, since those may hold names of wearers or of files.
"""

from __future__ import annotations

import os
import platform
import sys
import threading
import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Final, Protocol

from PySide6.QtCore import QObject, Qt, QThread, QUrl, Signal, qVersion
from PySide6.QtGui import QDesktopServices

from editor.places import log_file
from geometry.errors import PatternError

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]

_LARGEST_LOG_BYTES: Final = 200_000
_LOGS: Final = 3
_PACKAGES: Final = Path(__file__).resolve().parents[1]


class Teller(Protocol):
    """Whoever can say something to the person."""

    def tell_trouble(self, title: str, sentence: str, open_folder: Callable[[], None] | None) -> None:
        """Say calmly what happened; offer to open the folder of the log where there is one."""

    def tell(self, sentence: str, *, title: str = "") -> None:
        """Say calmly what went wrong."""

    def close(self) -> bool:
        """Close the window, after asking about unsaved work."""

    def kept_words(self) -> str:
        """What is on the disk by now, in a sentence, or ""."""


def catch_trouble(teller: Teller) -> None:
    """From now on whatever breaks, on any thread, is told calmly and noted."""
    threads = _ThreadTrouble(report_trouble(teller))
    sys.excepthook = threads.report
    threading.excepthook = threads.report_thread


def report_trouble(teller: Teller) -> Hook:
    """A ``sys.excepthook`` that never ends the program."""

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        try:
            if isinstance(error, PatternError):
                teller.tell(error.sentence)
            elif isinstance(error, KeyboardInterrupt):
                teller.close()
            else:
                _report(teller, error, trace)
        except Exception:  # trouble while telling of trouble: the window stays all the same
            traceback.print_exc()

    return hook


class _ThreadTrouble(QObject):
    """Brings what breaks on another thread, Python's or Qt's, to the thread of the window."""

    _came = Signal(object)

    def __init__(self, hook: Hook) -> None:
        super().__init__()
        self._hook = hook
        self._came.connect(lambda came: self._hook(*came), Qt.ConnectionType.QueuedConnection)

    def report(self, kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        """A ``sys.excepthook``, which may be called on any thread."""
        if QThread.currentThread() == self.thread():
            self._hook(kind, error, trace)
        else:
            self._came.emit((kind, error, trace))

    def report_thread(self, arguments: threading.ExceptHookArgs) -> None:
        """What ``threading.excepthook`` is called with."""
        if arguments.exc_value is not None:
            self.report(arguments.exc_type, arguments.exc_value, arguments.exc_traceback)


def _report(teller: Teller, error: BaseException, trace: TracebackType | None) -> None:
    if os.environ.get("DARTWISE_TRACE"):
        traceback.print_exception(type(error), error, trace)
    path = _written(error, trace)
    kept = teller.kept_words()
    sentences = ["Something went wrong inside Dartwise. What you did last may not have been done."]
    sentences += [kept] if kept else []
    sentences += [f"Where it went wrong is noted in {path.name}, without names or files of yours."] if path else []
    open_folder = (lambda: _open_folder(path.parent)) if path else None
    teller.tell_trouble("That did not work", " ".join(sentences), open_folder)


def _open_folder(folder: Path) -> None:
    QDesktopServices.openUrl(QUrl.fromLocalFile(str(folder)))


def _written(error: BaseException, trace: TracebackType | None) -> Path | None:
    path = log_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        _turn_over(path)
        with path.open("a", encoding="utf-8") as log:
            log.write(entry(error, trace))
    except OSError:
        return None
    return path


def _turn_over(path: Path) -> None:
    """Begin a new log when the last one is full; the oldest goes."""
    if not path.exists() or path.stat().st_size < _LARGEST_LOG_BYTES:
        return
    for number in range(_LOGS - 1, 0, -1):
        older = path.with_name(f"{path.stem}-{number}{path.suffix}")
        newer = path if number == 1 else path.with_name(f"{path.stem}-{number - 1}{path.suffix}")
        if newer.exists():
            os.replace(newer, older)


def entry(error: BaseException, trace: TracebackType | None) -> str:
    """What is logged of a fault: when, with which versions, its kind, and the places in the program."""
    lines = [
        "",
        f"{datetime.now().isoformat(timespec='seconds')} Python {platform.python_version()}, Qt {qVersion()},"
        f" {sys.platform}",
    ]
    chain: BaseException | None = error
    for _ in range(10):  # causes of causes
        if chain is None:
            break
        number = f" {chain.errno}" if isinstance(chain, OSError) and chain.errno else ""
        lines.append(f"{type(chain).__name__}{number}")
        lines += [f"  {_place(frame)}" for frame in traceback.extract_tb(trace or chain.__traceback__)[-60:]]
        chain, trace = chain.__cause__ or chain.__context__, None
    return "\n".join(lines) + "\n"


def _place(frame: traceback.FrameSummary) -> str:
    """A place by its file inside the program or a library, never with the folders of this computer."""
    file = Path(frame.filename)
    inside = file.relative_to(_PACKAGES) if file.is_relative_to(_PACKAGES) else Path(*file.parts[-2:])
    return f"{inside.as_posix()}:{frame.lineno} {frame.name}"
