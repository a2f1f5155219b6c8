"""README.md and DEVELOPERS.md tell the truth: commands, options, JSON, kinds of steps, paths."""

from __future__ import annotations

import argparse
import importlib
import json
import re
from dataclasses import fields

import pytest

from editor.cli import VERBS
from editor.document.journal import read_journal
from editor.qt_libraries import DEBIAN_PACKAGES
from geometry.alterations.kinds import STEP_KINDS
from tests.source_files import ROOT

README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
DEMO = "python3 -m venv .venv && .venv/bin/pip install -e . && .venv/bin/dartwise demo"
TESTS = "python3 -m venv .venv && .venv/bin/pip install -e '.[test]' && .venv/bin/python -m pytest"
JSON_TEXTS = re.findall(r"```json\n(.*?)```", README, re.DOTALL)


def options_of(verb: str) -> set[str]:
    parser = argparse.ArgumentParser()
    importlib.import_module(f"editor.commandline.{VERBS[verb][0]}").configure(parser)
    return {name for action in parser._actions for name in action.option_strings}


def test_the_job_comes_first_and_then_the_two_commands() -> None:
    _, job, _, demo, _, tests = README.split("\n\n")[:6]
    assert job.startswith("You sew for real bodies")
    assert demo.strip() == DEMO
    assert tests.strip() == TESTS


def test_the_gate_is_the_command_of_the_readme() -> None:
    gate = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert gate.rstrip().endswith(TESTS)
    assert (ROOT / ".ci" / "run").stat().st_mode & 0o111
    assert DEBIAN_PACKAGES  # the gate reads them from editor/qt_libraries.py


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_stands_in_the_readme_with_its_options(verb: str) -> None:
    assert f"| `dartwise {verb}" in README
    line = next(each for each in README.splitlines() if each.startswith(f"| `dartwise {verb}"))
    assert set(re.findall(r"--[a-z-]+", line)) <= options_of(verb)


def test_every_option_in_the_readme_is_one() -> None:
    known = set().union(*(options_of(verb) for verb in VERBS))
    assert set(re.findall(r"(?<![\w-])--[a-z][a-z-]*", README)) - {"--help"} <= known


@pytest.mark.parametrize("text", JSON_TEXTS)
def test_every_json_text_in_the_readme_is_json(text: str) -> None:
    json.loads(text)


def test_the_journal_in_the_readme_can_be_read() -> None:
    text = next(each for each in JSON_TEXTS if "dartwise-journal" in each)
    (record,) = read_journal(text.encode(), name="README.md")
    assert (record.step.kind, record.step.amount_mm) == ("slash", 40.0)


def test_the_readme_lists_every_kind_of_step_with_its_fields() -> None:
    table = README[README.index("| kind | fields |") :].split("\n\n")[0]
    rows = re.findall(r"^\| `([a-z-]+)` \| ([^|]*) \|", table, re.MULTILINE)
    told = {kind: re.findall(r"`(\w+)`", names) for kind, names in rows}
    assert told == {kind: [field.name for field in fields(step)] for kind, step in STEP_KINDS.items()}  # type: ignore[arg-type]


@pytest.mark.parametrize("text", [README, DEVELOPERS], ids=["README.md", "DEVELOPERS.md"])
def test_paths_that_are_named_exist(text: str) -> None:
    named = set(re.findall(r"`((?:editor|geometry|resources|samples|tests|\.ci)/[\w./-]*)`", text))
    assert named
    assert {path for path in named if not (ROOT / path).exists()} == set()
