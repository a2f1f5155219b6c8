"""The binding to Qt itself."""

from __future__ import annotations

import subprocess
import sys

LOOP = "from PySide6.QtCore import QObject\nit = QObject()\nfor _ in range(20_000):\n    it.setObjectName('hem')\n"


def test_twenty_thousand_calls_without_result_do_not_end_the_interpreter() -> None:
    """Some releases of the binding lose a reference to None with each such call and the interpreter ends."""
    ended = subprocess.run([sys.executable, "-c", LOOP], capture_output=True, text=True, check=False, timeout=60)
    assert ended.returncode == 0, ended.stderr
