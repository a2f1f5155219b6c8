"""What Qt needs from the system, asked before Qt is loaded: without it Qt ends the program with a dump."""

from __future__ import annotations

import ctypes
import importlib.util
import os
import socket
import sys
from pathlib import Path
from typing import Final

DEBIAN_PACKAGES: Final = (
    "libegl1",
    "libgl1",
    "libglib2.0-0",
    "libfontconfig1",
    "libdbus-1-3",
    "libxkbcommon0",
    "libxkbcommon-x11-0",
    "libxcb-cursor0",
    "libxcb-icccm4",
    "libxcb-image0",
    "libxcb-keysyms1",
    "libxcb-randr0",
    "libxcb-render-util0",
    "libxcb-shape0",
    "libxcb-xinerama0",
    "libxcb-xkb1",
)
"""Found with ``ldd`` on PySide6's QtWidgets and its plugin for X11; names as in Debian 12 and Ubuntu 22.04."""

INSTALL: Final = f"apt-get install {' '.join(DEBIAN_PACKAGES)}"


def has_display() -> bool:
    """Whether somebody could look at a window: Qt can also be told to draw one that nobody sees."""
    return os.environ.get("QT_QPA_PLATFORM", "").split(":")[0] not in ("offscreen", "minimal")


def missing_library(error: BaseException) -> str:
    """The sentence for an import or load of Qt that failed for want of a library of the system."""
    return (
        f"Qt cannot open a window here ({str(error).splitlines()[0]}). On Debian or Ubuntu, install what it needs as"
        f" root with: {INSTALL}. The commands info, check, alter, print and convert work without it."
    )


def why_no_window() -> str | None:
    """Why no window can be opened, as a sentence; ``None`` where nothing speaks against it."""
    if not sys.platform.startswith("linux") or os.environ.get("QT_QPA_PLATFORM"):
        return None
    platforms = [
        name for name, variable in (("wayland", "WAYLAND_DISPLAY"), ("xcb", "DISPLAY")) if os.environ.get(variable)
    ]
    if not platforms or (platforms == ["xcb"] and not _answers(os.environ["DISPLAY"])):
        return (
            "There is no display to open a window on; start Dartwise in a desktop session, or use the commands info,"
            " check, alter, print and convert."
        )
    errors = [error for name in platforms if (error := _load_error(name))]
    return missing_library(errors[-1]) if len(errors) == len(platforms) else None


def _load_error(platform: str) -> OSError | None:
    spec = importlib.util.find_spec("PySide6")
    if spec is None or not spec.submodule_search_locations:
        return None  # the import will say so
    plugin = Path(spec.submodule_search_locations[0], "Qt", "plugins", "platforms", f"libq{platform}.so")
    if not plugin.exists():  # Qt comes from the system, which then looks after its libraries
        return None
    try:
        ctypes.CDLL(str(plugin))
    except OSError as error:
        return error
    return None


def _answers(display: str) -> bool:
    """Whether a server listens on an X display of this machine; one elsewhere gets the benefit of the doubt."""
    number = display.removeprefix("unix").removeprefix(":").split(".")[0]
    if display.removeprefix("unix")[:1] != ":" or not number.isdigit():
        return True
    place = f"/tmp/.X11-unix/X{number}"
    for address in (place, "\0" + place):
        with socket.socket(socket.AF_UNIX) as listener:
            if listener.connect_ex(address) == 0:
                return True
    return False
