from __future__ import annotations

import os
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from editor import qt_libraries
from editor.document.project_file import save_project
from editor.qt_libraries import DEBIAN_PACKAGES, has_display, why_no_window
from tests.editor.project_samples import project
from tests.source_files import ROOT

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="elsewhere Qt brings all it needs")

NO_EGL = "libEGL.so.1: cannot open shared object file: No such file or directory"


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    return monkeypatch


@pytest.fixture
def without_egl(tmp_path: Path) -> dict[str, str]:
    """Variables that put a Qt in front which fails as it does where libegl1 is not installed."""
    (tmp_path / "PySide6").mkdir()
    (tmp_path / "PySide6" / "__init__.py").write_text(f"raise ImportError({NO_EGL!r})\n")
    variables = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    return variables | {"PYTHONPATH": str(tmp_path), "QT_QPA_PLATFORM": "offscreen"}


def test_no_display_is_told(bare: pytest.MonkeyPatch) -> None:
    assert "There is no display" in str(why_no_window())


def test_a_display_that_nobody_serves_is_none(bare: pytest.MonkeyPatch) -> None:
    bare.setenv("DISPLAY", ":54321")
    assert "There is no display" in str(why_no_window())


def test_a_display_that_answers_will_do(bare: pytest.MonkeyPatch) -> None:
    with socket.socket(socket.AF_UNIX) as server:
        server.bind("\0/tmp/.X11-unix/X54321")
        server.listen()
        bare.setattr(qt_libraries, "_load_error", lambda platform: None)
        bare.setenv("DISPLAY", ":54321.0")
        assert why_no_window() is None


def test_a_missing_library_is_named_with_the_packages(bare: pytest.MonkeyPatch) -> None:
    bare.setenv("WAYLAND_DISPLAY", "wayland-0")
    bare.setattr(qt_libraries, "_load_error", lambda platform: OSError(f"lib{platform}-cursor.so.0: not found"))
    sentence = str(why_no_window())
    assert "libwayland-cursor.so.0: not found" in sentence
    assert all(package in sentence for package in DEBIAN_PACKAGES)


def test_one_platform_that_loads_is_enough(bare: pytest.MonkeyPatch) -> None:
    bare.setenv("WAYLAND_DISPLAY", "wayland-0")
    bare.setenv("DISPLAY", "elsewhere:0")
    bare.setattr(qt_libraries, "_load_error", lambda platform: OSError("no") if platform == "wayland" else None)
    assert why_no_window() is None


def test_a_platform_chosen_by_hand_is_left_to_qt(bare: pytest.MonkeyPatch) -> None:
    bare.setenv("QT_QPA_PLATFORM", "offscreen")
    assert why_no_window() is None
    assert not has_display()


def test_without_a_library_the_editor_says_which_and_the_verbs_work(
    without_egl: dict[str, str], tmp_path: Path
) -> None:
    path = tmp_path / "choir.dartwise"
    save_project(project(), path)
    opened, told = (
        subprocess.run(
            [sys.executable, "-m", "editor", *words],
            cwd=ROOT, env=without_egl, capture_output=True, text=True, check=False, timeout=60,
        )
        for words in ([str(path)], ["check", str(path)])
    )  # fmt: skip
    assert (opened.returncode, told.returncode, told.stderr) == (2, 0, "")
    assert opened.stderr.startswith(f"Qt cannot open a window here ({NO_EGL})")
    assert "libegl1" in opened.stderr
    assert opened.stderr.count("\n") == 1


def test_without_a_library_the_tests_say_which_and_show_no_trace(without_egl: dict[str, str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "tests/editor/test_history.py"],
        cwd=ROOT, env=without_egl, capture_output=True, text=True, check=False, timeout=60,
    )  # fmt: skip
    said = done.stdout + done.stderr
    assert done.returncode == 4
    assert "ERROR: Qt cannot open a window here" in said
    assert NO_EGL in said
    assert "libegl1" in said
    assert "Traceback" not in said
