"""What is in a file is never run, nobody is called over a network, and no XML from outside is ever taken apart."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest

from tests.source_files import ROOT, module_name, source_files
from tests.test_imports import imported

SOURCE = ("geometry", "editor", "samples")

RUNS = {"pickle", "marshal", "shelve", "dill", "code", "codeop", "runpy", "multiprocessing", "pty"}
CALLS_OUT = {
    "socket",
    "ssl",
    "urllib",
    "http",
    "ftplib",
    "smtplib",
    "poplib",
    "imaplib",
    "xmlrpc",
    "webbrowser",
    "asyncio",
}
ASKS_THE_DISPLAY = "editor.qt_libraries"
"""Knocks at the socket of the display on this computer, to tell why no window can be opened."""

TAKES_XML = {"xml.sax", "xml.dom", "xml.parsers", "lxml", "PySide6.QtXml"}
WRITES_XML = "xml.sax.saxutils"
QT_OUT = {"PySide6.QtNetwork", "PySide6.QtWebSockets", "PySide6.QtWebEngineCore", "PySide6.QtWebEngineWidgets"}
WORDS_THAT_RUN = {"eval", "exec", "compile", "__import__"}
PARSERS = {"parse", "fromstring", "fromstringlist", "iterparse", "XML", "XMLParser", "XMLPullParser"}
WRITERS = {
    "editor.atomic_file": "what a person asked for, whole or not at all",
    "editor.document.sitting": "the record of a sitting, which only grows",
    "editor.document.locking": "the mark that a project is open",
    "editor.trouble": "the log",
    "editor.cli": "sends what nobody listens to any more nowhere",
    "samples.draw_diagrams": "our own drawings, when they are made anew",
    "samples.draw_toiles": "our own drawings, when they are made anew",
}
"""The only modules that open files for writing."""

WRITES = {"write_text", "write_bytes", "touch", "QSaveFile", "QFile", "symlink_to", "hardlink_to"}
STARTS_PROGRAMS = {"system", "popen", "startfile", "execv", "execvp", "execve", "spawnv", "posix_spawn"}


def calls(tree: ast.AST) -> Iterator[tuple[int, str, str]]:
    """Line, owner ("" for a plain name) and name of everything that is called."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            if isinstance(node.func, ast.Name):
                yield node.lineno, "", node.func.id
            elif isinstance(node.func, ast.Attribute):
                yield node.lineno, ast.unparse(node.func.value), node.func.attr


@pytest.mark.parametrize("forbidden", [RUNS, CALLS_OUT, TAKES_XML, QT_OUT], ids=["runs", "network", "xml", "qt"])
def test_no_module_imports_what_could_do_it(forbidden: set[str]) -> None:
    found = [
        f"{module_name(path)}, line {line}: {name}"
        for path in source_files(*SOURCE)
        for line, name in imported(path)
        if any(name == each or name.startswith(f"{each}.") for each in forbidden)
        and name != WRITES_XML
        and (module_name(path), name) != (ASKS_THE_DISPLAY, "socket")
    ]
    assert found == []


def test_nothing_is_evaluated_and_no_program_is_started() -> None:
    found = [
        f"{module_name(path)}, line {line}: {owner}.{name}"
        for path in source_files(*SOURCE)
        for line, owner, name in calls(ast.parse(path.read_text("utf-8")))
        if (not owner and name in WORDS_THAT_RUN)
        or (owner == "os" and name in STARTS_PROGRAMS)
        or owner == "subprocess"
    ]
    assert found == []


def test_xml_is_written_but_never_read() -> None:
    found = [
        f"{module_name(path)}, line {line}: {owner}.{name}"
        for path in source_files(*SOURCE)
        if "xml" in path.read_text("utf-8")
        for line, owner, name in calls(ast.parse(path.read_text("utf-8")))
        if name in PARSERS and ("ElementTree" in owner or owner in ("ET", "etree", ""))
    ]
    assert found == []


def test_svg_is_drawn_from_our_own_folder_only_and_asks_for_nothing_else() -> None:
    drawers = [path for path in source_files(*SOURCE) if "QSvg" in path.read_text("utf-8")]
    assert drawers
    assert [module_name(path) for path in drawers if "RESOURCES /" not in path.read_text("utf-8")] == []
    pictures = [path for path in source_files(*SOURCE) if re.search(r"loadFromData\([^,)]*\)", path.read_text("utf-8"))]
    assert pictures == []  # without a stated kind Qt would try every one it knows, SVG too
    own = list((ROOT / "resources").rglob("*.svg"))
    assert own
    for path in own:
        text = path.read_text("utf-8").lower()
        assert not any(
            word in text for word in ("<!doctype", "<!entity", "<script", "href", "javascript", "<foreignobject")
        )


def opens_for_writing(call: ast.Call) -> bool:
    """Whether it opens a file in a mode that writes, or writes one in one go."""
    name = call.func.id if isinstance(call.func, ast.Name) else getattr(call.func, "attr", "")
    if name in WRITES:
        return True
    if name == "QPdfWriter":
        return "str(" in ast.unparse(call)
    if name != "open":
        return False
    if isinstance(call.func, ast.Attribute) and ast.unparse(call.func.value) == "os":
        return "O_RDONLY" not in ast.unparse(call.args[1])
    is_method = isinstance(call.func, ast.Attribute)
    given = [each.value for each in call.keywords if each.arg == "mode"] + call.args[0 if is_method else 1 :][:1]
    modes = [str(each.value) if isinstance(each, ast.Constant) else "" if is_method else "w" for each in given]
    return any(set("wax+") & set(mode) for mode in modes)


def test_files_are_written_by_a_few_modules_only() -> None:
    """Whoever else wants to write hands the bytes to ``editor.atomic_file``."""
    found = {
        module_name(path)
        for path in source_files(*SOURCE)
        for node in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(node, ast.Call) and opens_for_writing(node)
    }
    assert found == set(WRITERS)
