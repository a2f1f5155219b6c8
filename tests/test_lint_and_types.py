"""Lint, layout and types are part of the one test command."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.source_files import PACKAGES, ROOT


def refuse_complaints(*words: str) -> None:
    """Run a tool from this environment; what it says is the failure."""
    done = subprocess.run(
        [sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False, timeout=240
    )
    if done.returncode != 0:
        pytest.fail(f"{words[0]}:\n{done.stdout}{done.stderr}", pytrace=False)


def test_ruff_finds_nothing() -> None:
    refuse_complaints("ruff", "check", "--no-cache", "--output-format=concise", *PACKAGES)


def test_ruff_would_lay_out_nothing_differently() -> None:
    refuse_complaints("ruff", "format", "--check", "--no-cache", *PACKAGES)


@pytest.mark.slow
def test_mypy_finds_nothing() -> None:
    refuse_complaints("mypy", "--no-error-summary")
