"""Lint, layout and types are part of the one test command."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.source_files import PACKAGES, ROOT

CHECKED = (*PACKAGES,)


def run(*words: str) -> str:
    done = subprocess.run(
        [sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False, timeout=240
    )
    return "" if done.returncode == 0 else done.stdout + done.stderr or f"exit status {done.returncode}"


def test_ruff_finds_nothing() -> None:
    complaints = run("ruff", "check", "--no-cache", *CHECKED)
    assert complaints == "", f"\n{complaints}"


def test_ruff_would_lay_out_nothing_differently() -> None:
    complaints = run("ruff", "format", "--check", "--no-cache", *CHECKED)
    assert complaints == "", f"\n{complaints}"


@pytest.mark.slow
def test_mypy_finds_nothing() -> None:
    complaints = run("mypy", "--no-error-summary")
    assert complaints == "", f"\n{complaints}"
