"""Who may import whom: the table in DEVELOPERS.md, carried out.

A module goes by the row with the longest name that it starts with. It may import the standard library and what the
row names in its first two cells; names end at a dot, so that ``geometry.model`` stands for everything in it. A module
without a row may import the standard library only.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from tests.source_files import ROOT, module_name, source_files

NO_FILES = {"io", "os", "pathlib", "shutil", "tempfile", "zipfile", "json", "sqlite3", "socket", "subprocess", "urllib"}
"""Parts of the standard library that have no business in ``geometry``."""

SOURCE = ("geometry", "editor", "samples")


@cache
def table() -> dict[str, tuple[str, ...]]:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    start = text.index("<!-- import table -->")
    rows = {}
    for line in text[start : text.index("<!-- end of import table -->")].splitlines():
        if line.startswith("| `"):
            modules, allowed = (re.findall(r"`([^`]+)`", cell) for cell in line.strip("|").split("|")[:2])
            rows |= {module: (*modules, *allowed) for module in modules}
    return rows


def starts_with(module: str, name: str) -> bool:
    return module == name or module.startswith(f"{name}.")


def row_of(module: str) -> tuple[str, ...]:
    names = [name for name in table() if starts_with(module, name)]
    return table()[max(names, key=len)] if names else ()


def imported(path: Path) -> Iterator[tuple[int, str]]:
    """Line and full name of everything a file imports, in functions too."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, name.name) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: write the full name of the module"
            for name in node.names:
                full = f"{node.module}.{name.name}"
                yield node.lineno, full if is_own_module(full) else str(node.module)


def is_own_module(name: str) -> bool:
    place = ROOT / Path(*name.split("."))
    return name.split(".")[0] in SOURCE and (place.with_suffix(".py").exists() or place.is_dir())


def is_standard(name: str) -> bool:
    return name.split(".")[0] in sys.stdlib_module_names


def test_modules_import_only_what_the_table_in_developers_md_allows() -> None:
    wrong = [
        f"{module_name(path)}, line {line}: {name}"
        for path in source_files(*SOURCE)
        for line, name in imported(path)
        if not is_standard(name) and not any(starts_with(name, allowed) for allowed in row_of(module_name(path)))
    ]
    assert wrong == []


def test_the_geometry_touches_no_files() -> None:
    names = [(module_name(path), name) for path in source_files("geometry") for _, name in imported(path)]
    assert [(module, name) for module, name in names if name.split(".")[0] in NO_FILES] == []


def test_every_row_of_the_table_is_about_something_there_is() -> None:
    modules = {module_name(path) for path in source_files(*SOURCE)}
    assert [name for name in table() if not any(starts_with(module, name) for module in modules)] == []


@pytest.mark.parametrize("library", ["shapely", "ezdxf", "reportlab", "rectpack", "platformdirs", "fontTools", "bidi"])
def test_a_library_has_one_door(library: str) -> None:
    doors = {
        module_name(path)
        for path in source_files(*SOURCE)
        for _, name in imported(path)
        if name.split(".")[0] == library
    }
    assert len(doors) == 1


def test_what_runs_without_a_window_imports_nothing_that_needs_one() -> None:
    """By the table alone: the command line's way to the window is the only one."""
    needs_qt = {module for module, row in table().items() if "PySide6" in row}
    crossings = {
        (module, name)
        for module, row in table().items()
        if module not in needs_qt
        for name in row[1:]
        if (any(starts_with(other, name) for other in needs_qt) and name not in table()) or name in needs_qt
    }
    assert crossings == {("editor.commandline.window", "editor.app")}
