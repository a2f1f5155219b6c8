"""The Python files of the project and the names of their modules, for the tests that read the source."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = ("geometry", "editor", "samples", "tests")


def source_files(*packages: str) -> Iterator[Path]:
    """Every Python file of the packages (of all of them if none is named), in a steady order."""
    for package in packages or PACKAGES:
        yield from sorted((ROOT / package).rglob("*.py"))


def module_name(path: Path) -> str:
    """The dotted name of a file's module."""
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
