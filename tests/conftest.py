"""What holds for every test: a display or Qt's offscreen platform, settings in a folder of the test run, quiet Qt."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

from editor.qt_libraries import missing_library

_XDG = ("XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME", "XDG_RUNTIME_DIR")
_OPEN_WINDOW = "from PySide6.QtWidgets import QApplication; QApplication([])"

settings.register_profile(
    "quick", derandomize=True, database=None, deadline=None, suppress_health_check=[HealthCheck.too_slow]
)
settings.register_profile("long", parent=settings.get_profile("quick"), derandomize=False, max_examples=2000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "quick"))

_server: subprocess.Popen[bytes] | None = None
_home: Path | None = None


@pytest.hookimpl(tryfirst=True)
def pytest_configure() -> None:
    """Runs before pytest-qt loads Qt, which would end in a trace where a library of the system is missing."""
    global _home
    _home = Path(tempfile.mkdtemp(prefix="dartwise-tests-"))
    for variable in _XDG:
        folder = _home / variable.lower()
        folder.mkdir(mode=0o700)
        os.environ[variable] = str(folder)
    if "QT_QPA_PLATFORM" not in os.environ:
        os.environ["QT_QPA_PLATFORM"] = _platform()
    elif "PYTEST_XDIST_WORKER" in os.environ and os.environ["QT_QPA_PLATFORM"] == "xcb":
        _start_server()  # two runs on one display take the keyboard from each other's windows
    error = _open_window()
    if error is not None:
        raise pytest.UsageError(missing_library(ImportError(error)))


def pytest_unconfigure() -> None:
    if _server is not None:
        _server.terminate()
        _server.wait(timeout=10)
    if _home is not None:
        shutil.rmtree(_home, ignore_errors=True)


def pytest_report_header() -> str:
    return f"window platform: {os.environ['QT_QPA_PLATFORM']}"


def _platform() -> str:
    """A real window where there is a display or Xvfb can give one, else Qt's offscreen platform."""
    if sys.platform != "linux":
        return "offscreen"
    if not os.environ.get("DISPLAY"):
        _start_server()
    if os.environ.get("DISPLAY") and _open_window(platform="xcb") is None:
        return "xcb"
    return "offscreen"


def _start_server() -> None:
    """Start Xvfb on a number of its own choosing, 1440 by 900, and make it the display."""
    global _server
    program = shutil.which("Xvfb")
    if program is None:
        return
    reading, writing = os.pipe()
    with open(reading) as answer:
        command = [program, "-displayfd", str(writing), "-screen", "0", "1440x900x24", "-nolisten", "tcp"]
        _server = subprocess.Popen(command, pass_fds=[writing], stderr=subprocess.DEVNULL)
        os.close(writing)
        number = answer.readline().strip()
    if number:
        os.environ["DISPLAY"] = f":{number}"


def _open_window(platform: str | None = None) -> str | None:
    """Try Qt in another process, since it aborts where it cannot go on: ``None`` or what it said last."""
    environment = os.environ | ({"QT_QPA_PLATFORM": platform} if platform else {})
    tried = subprocess.run(
        [sys.executable, "-c", _OPEN_WINDOW], env=environment, capture_output=True, text=True, check=False, timeout=60
    )
    return None if tried.returncode == 0 else (tried.stderr.strip().splitlines() or ["Qt ended at once"])[-1]
