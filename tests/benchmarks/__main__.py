"""Measure everything, or the parts named: engine, bodies, paper, window."""

from __future__ import annotations

import importlib
import sys

PARTS = ("engine", "bodies", "paper", "window")

for name in sys.argv[1:] or PARTS:
    for figure in importlib.import_module(f"tests.benchmarks.{name}").figures():
        print(figure.row, flush=True)  # noqa: T201 - this is its output
