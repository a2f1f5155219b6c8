"""Opening the editor, the one thing on the command line that needs Qt."""

from __future__ import annotations

from pathlib import Path

from editor.qt_libraries import missing_library, why_no_window
from geometry.errors import PatternError


def open_window(path: Path | None) -> int:
    """Open the editor, with a file if one is given, and stay until it is closed.

    Raises:
        PatternError: there is no display, or Qt or a library it needs is missing; the sentence says which.
    """
    reason = why_no_window()
    if reason is not None:
        raise PatternError(reason, code="no-window")
    try:
        from editor.app import main
    except ModuleNotFoundError as error:
        if error.name is None or error.name.split(".")[0] != "PySide6":
            raise
        raise PatternError("Qt is not installed; run: pip install PySide6-Essentials", code="no-window") from None
    except ImportError as error:
        raise PatternError(missing_library(error), code="no-window") from None
    return main(path)
