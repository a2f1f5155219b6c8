"""What the person sees when something breaks that should not: a calm message; the trace goes to a file."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Protocol

import platformdirs

from geometry.errors import PatternError

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], None]

_LARGEST_LOG_BYTES = 1_000_000


class Teller(Protocol):
    """Whoever can say something to the person."""

    def tell(self, sentence: str, *, title: str = "") -> None:
        """Say calmly what went wrong."""


def log_file() -> Path:
    """Where traces go."""
    return Path(platformdirs.user_log_dir("dartwise", appauthor=False)) / "trouble.log"


def report_trouble(teller: Teller) -> Hook:
    """A ``sys.excepthook`` that writes the trace to a file and says in words where it is."""

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if isinstance(error, PatternError):
            teller.tell(error.sentence)
            return
        if isinstance(error, KeyboardInterrupt):
            raise SystemExit(130)
        path = _written(kind, error, trace)
        details = f" The details are in {path}." if path else ""
        teller.tell(
            "Something went wrong inside Dartwise. What you have open is as it was before; save it under another name"
            f" to be safe.{details}",
            title="That did not work",
        )

    return hook


def _written(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> Path | None:
    path = log_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        fresh = not path.exists() or path.stat().st_size > _LARGEST_LOG_BYTES
        with path.open("w" if fresh else "a", encoding="utf-8") as log:
            log.write(f"\n{datetime.now().isoformat(timespec='seconds')}\n")
            log.write("".join(traceback.format_exception(kind, error, trace)))
    except OSError:
        return None
    return path
