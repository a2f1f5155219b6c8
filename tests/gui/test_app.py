"""The program as a whole."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from editor.app import build
from editor.self_test import self_test
from geometry.units import Unit

pytestmark = pytest.mark.gui


def test_the_self_test_opens_draws_prints_and_saves_the_sample(qapp: QApplication, tmp_path: Path) -> None:
    assert self_test(tmp_path) == 0
    assert {"self-test.pdf", "self-test.dartwise"} <= {path.name for path in tmp_path.iterdir()}


def test_unit_and_darkness_are_as_they_were_left(qtbot: QtBot, qapp: QApplication, kept_settings: QSettings) -> None:
    first = build(qapp, kept_settings)
    qtbot.addWidget(first)
    first.session.set_unit(Unit.INCH)
    first.furnishing.actions.by_id["dark"].trigger()
    second = build(qapp, kept_settings)
    qtbot.addWidget(second)
    assert second.session.unit is Unit.INCH
    assert second.look.is_dark
    second.look.set_dark(False)


def test_the_window_starts_without_the_libraries_for_drawings_and_paper() -> None:
    slow = "{'ezdxf', 'reportlab', 'scipy', 'rectpack', 'msgspec'}"
    code = f"import sys, editor.app; found = {slow} & set(sys.modules); assert not found, found"
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, timeout=60)
    assert ended.returncode == 0, ended.stderr


def test_sources_of_what_is_loaded_beside_qt_are_not_kept() -> None:
    code = (
        "import linecache; from editor.app import application; application(); import wave; "
        "assert wave.__file__ not in linecache.cache"
    )
    ended = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, timeout=60)
    assert ended.returncode == 0, ended.stderr
