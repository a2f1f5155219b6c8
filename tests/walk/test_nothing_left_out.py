"""The walk goes over everything: whoever adds a way to change a project finds here that it is not in the walk yet."""

from __future__ import annotations

import ast
import importlib
import inspect
from collections.abc import Iterator
from pathlib import Path

from editor.document.project import Project
from editor.session import Session
from tests.source_files import ROOT, module_name, source_files
from tests.walk.sayings import SAYINGS

WALKED = [path for path in Path(__file__).parent.glob("*.py") if path.name != Path(__file__).name]
BEGINS = {"new_project", "load_project", "project_in", "project_from_bytes", "project_from_parts"}
"""What makes a project anew instead of changing one; the walk begins, saves and opens by other ways."""


def names_in(path: Path) -> set[str]:
    found = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        found |= {node.id} if isinstance(node, ast.Name) else {node.attr} if isinstance(node, ast.Attribute) else set()
    return found


def words_of(node: ast.AST) -> set[str]:
    return {each.value for each in ast.walk(node) if isinstance(each, ast.Constant) and isinstance(each.value, str)}


def named_calls(tree: ast.AST, name: str) -> Iterator[ast.Call]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute | ast.Name):
            called = node.func.attr if isinstance(node.func, ast.Attribute) else node.func.id
            if called == name and node.args:
                yield node


def labels_in(path: Path) -> set[str]:
    """The names under which ``session.state`` is told of changes; those that are handed on, where they come from."""
    tree = ast.parse(path.read_text("utf-8"))
    found: set[str] = set()
    for function in [node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)]:
        for call in named_calls(function, "state"):
            label = call.args[0]
            if not isinstance(label, ast.Name):
                found |= words_of(label)
                continue
            given = [each.arg for each in function.args.args if each.arg != "self"]
            if label.id in given:
                at = given.index(label.id)
                handed = [words_of(each.args[at]) for each in named_calls(tree, function.name) if len(each.args) > at]
            else:
                ways = [node for node in ast.walk(function) if isinstance(node, ast.Assign)]
                handed = [
                    words_of(way.value) for way in ways if label.id in {ast.unparse(each) for each in way.targets}
                ]
            assert handed, f"{module_name(path)}: a name for undo that cannot be found"
            found |= set().union(*handed)
    return found


def test_whatever_can_be_said_in_the_window_is_said_in_the_walk() -> None:
    files = [path for path in source_files("editor") if "session.state(" in path.read_text("utf-8")]
    found = {label: module_name(path) for path in files for label in labels_in(path)}
    assert len(found) > 15
    assert {label: module for label, module in found.items() if label not in SAYINGS} == {}


def test_whatever_the_session_can_change_is_changed_in_the_walk() -> None:
    (path,) = [path for path in source_files("editor") if module_name(path) == "editor.session"]
    changing = {
        function.name
        for function in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(function, ast.FunctionDef)
        for name in ("_commit", "_change_records", "_change_record")
        if any(named_calls(function, name))
    }
    ways = {name for name in changing if not name.startswith("_")} | {"undo", "redo", "open_project"}
    assert len(ways) > 10
    assert all(hasattr(Session, name) for name in ways)
    assert ways - set().union(*map(names_in, WALKED)) == set()


def test_whatever_makes_another_project_of_one_is_called_in_the_walk() -> None:
    folder = ROOT / "editor" / "document"
    modules = [importlib.import_module(module_name(path)) for path in sorted(folder.glob("*.py"))]
    ways = {
        name
        for module in modules
        for name, way in inspect.getmembers(module, inspect.isfunction)
        if way.__module__ == module.__name__
        and not name.startswith("_")
        and inspect.signature(way).return_annotation == Project.__name__
    }
    assert "with_seam" in ways
    assert ways - BEGINS - set().union(*map(names_in, WALKED)) == set()
