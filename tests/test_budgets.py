"""Files and functions stay small, and names say what is in them."""

from __future__ import annotations

import ast
import re
from pathlib import Path

from tests.source_files import ROOT, source_files

LONGEST_FILE = 400
LONGEST_FUNCTION = 40
EMPTY_NAMES = {
    "utils",
    "util",
    "helpers",
    "helper",
    "misc",
    "common",
    "manager",
    "managers",
    "tools_",
    "stuff",
    "base_",
}
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "editor", "geometry", "resources", "tests", "samples"}


def functions(tree: ast.AST) -> list[ast.FunctionDef | ast.AsyncFunctionDef]:
    return [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)]


def body_lines(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Lines from the name to the end, the docstring left out."""
    whole = (function.end_lineno or function.lineno) - function.lineno + 1
    first = function.body[0]
    if ast.get_docstring(function) is not None and isinstance(first, ast.Expr):
        whole -= (first.end_lineno or first.lineno) - first.lineno + 1
    return whole


def test_no_file_has_more_than_400_lines() -> None:
    lengths = {str(path.relative_to(ROOT)): len(path.read_text("utf-8").splitlines()) for path in source_files()}
    assert {name: length for name, length in lengths.items() if length > LONGEST_FILE} == {}


def test_no_function_has_more_than_40_lines() -> None:
    lengths = {
        f"{path.relative_to(ROOT)}:{each.lineno} {each.name}": body_lines(each)
        for path in source_files()
        for each in functions(ast.parse(path.read_text("utf-8")))
    }
    assert {name: length for name, length in lengths.items() if length > LONGEST_FUNCTION} == {}


def test_no_module_has_a_name_that_says_nothing() -> None:
    parts = {part for path in source_files() for part in path.relative_to(ROOT).with_suffix("").parts}
    assert not parts & EMPTY_NAMES


def test_small_numbers_of_the_geometry_stand_in_one_file() -> None:
    """A bare 1e-something anywhere else would have no sentence on where it comes from."""
    found = [
        f"{path.relative_to(ROOT)}:{number}"
        for path in source_files("geometry")
        if path.name != "tolerance.py"
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1)
        if re.search(r"\d[eE]-\d", line.split("#")[0])
    ]
    assert found == []


def test_the_top_level_holds_what_the_guide_names_and_nothing_else() -> None:
    made_by_tools = {"build", "dist", "dartwise-demo"}
    names = {path.name for path in ROOT.iterdir() if not path.name.startswith(".") and path.suffix != ".egg-info"}
    assert names - made_by_tools - {"__pycache__"} == TOP_LEVEL


def test_source_names_no_folder_of_a_machine() -> None:
    own = Path(__file__).resolve()
    places = re.compile(r"/(?:home|root|Users|work)/")
    found = [str(path) for path in source_files() if path != own and places.search(path.read_text(encoding="utf-8"))]
    assert found == []
