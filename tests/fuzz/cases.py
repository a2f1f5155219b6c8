"""One case by its number: what is made of which file, and what the program says to it."""

from __future__ import annotations

import random
import tempfile
import warnings
from dataclasses import dataclass
from pathlib import Path

from editor.document.journal import read_journal
from editor.document.project import Base, Project, new_project
from editor.document.project_file import load_project, project_bytes, project_from_bytes
from editor.formats.import_pattern import Import, import_pattern
from geometry.alterations.replay import replay
from geometry.checks.run import check_pattern
from geometry.errors import PatternError
from geometry.fitting.chart_text import read_size_chart
from geometry.model.pattern import Pattern
from geometry.units import Unit
from tests.fuzz import seeds
from tests.fuzz.mutations import mutated_drawing, mutated_json, mutated_project, mutated_text

DRAWING, PROJECT, JOURNAL, RULES, CHART = ".dxf", ".dartwise", ".json", ".rul", ".csv"


@dataclass(frozen=True, slots=True)
class Case:
    """An input: its number, what kind of file it is (by its ending), and its bytes."""

    number: int
    kind: str
    data: bytes


def case(number: int) -> Case:
    """The case of that number; always the same one."""
    rng = random.Random(number)
    kind = rng.choices((DRAWING, PROJECT, JOURNAL, RULES, CHART), (10, 6, 4, 1, 1))[0]
    if kind == DRAWING:
        return Case(number, kind, mutated_drawing(rng.choice(seeds.drawings()), seeds.drawings(), rng))
    if kind == PROJECT:
        return Case(number, kind, mutated_project(rng.choice(seeds.projects()), rng))
    if kind in (RULES, CHART):
        return Case(number, kind, mutated_text(seeds.graded()[1] if kind == RULES else seeds.CHART, rng))
    return Case(number, kind, mutated_json(rng.choice(seeds.journals()), rng))


def tried(kind: str, data: bytes) -> str:
    """Do with a file what opening, checking and saving do; returns the sentence of a refusal, "" where there is none.

    Anything but a refusal in one sentence comes out as the exception it is; so does a warning of the numbers.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        try:
            {DRAWING: _drawing, PROJECT: _project, JOURNAL: _journal, RULES: _rules, CHART: _chart}[kind](data)
        except PatternError as error:
            return _sentence(error)
    return ""


def _sentence(error: PatternError) -> str:
    if not error.sentence.strip().endswith(".") or "Traceback" in error.sentence:
        raise AssertionError(f"no sentence: {error.sentence!r}") from error
    return error.sentence


def _drawing(data: bytes) -> None:
    with tempfile.TemporaryDirectory(prefix="dartwise-fuzz-") as folder:
        path = Path(folder) / "case.dxf"
        path.write_bytes(data)
        _imported(import_pattern(path, unit=Unit.MM))


def _rules(data: bytes) -> None:
    with tempfile.TemporaryDirectory(prefix="dartwise-fuzz-") as folder:
        path, table = Path(folder) / "case.dxf", Path(folder) / "case.rul"
        path.write_bytes(seeds.graded()[0])
        table.write_bytes(data)
        _imported(import_pattern(path, unit=Unit.MM, rules=table))


def _chart(data: bytes) -> None:
    read_size_chart(data.decode("utf-8", errors="replace"), Unit.CM)


def _imported(came: Import) -> None:
    for finding in came.findings:
        assert finding.text
    base = Base(came.source_name, came.source_bytes, came.unit, came.nest)
    project = new_project(base)
    assert project_from_bytes(project_bytes(project)) == project
    _check(came.nest.sample)


def _project(data: bytes) -> None:
    with tempfile.TemporaryDirectory(prefix="dartwise-fuzz-") as folder:
        path = Path(folder) / "case.dartwise"
        path.write_bytes(data)
        project = load_project(path)
    assert project_from_bytes(project_bytes(project)) == project
    _replay(project)


def _journal(data: bytes) -> None:
    records = read_journal(data, name="case.json")
    project = seeds.pattern_of_journals()
    _replay(project.with_records("2", "1", records))


def _replay(project: Project) -> None:
    for wearer in project.wearers:
        for each in wearer.rounds:
            replayed = replay(project.start(wearer.id), each.records)
            assert all(finding.text for finding in replayed.findings)
            _check(replayed.pattern)


def _check(pattern: Pattern) -> None:
    assert all(finding.text for finding in check_pattern(pattern))
