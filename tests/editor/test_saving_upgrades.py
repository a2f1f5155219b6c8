"""Files of every version that ever was can be opened; each sample was written by the Dartwise of its time.

A new version of the format gets a sample here, a function in ``editor/document/upgrades.py``, and the projects that
the older samples hold are told anew in the words of the present model.
"""

from __future__ import annotations

import json
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from editor.document import project_file, upgrades
from editor.document.leftover import leftover
from editor.document.project import FitNote, Measurement, Unread
from editor.document.project_file import load_project, project_bytes, project_from_bytes
from editor.document.schema import FieldError
from editor.document.upgrades import FORMAT_VERSION, UPGRADES, upgraded, version_of
from geometry.alterations.kinds import STEP_KINDS
from geometry.errors import PatternError
from geometry.fitting.levels import SizeBlend
from geometry.fitting.size_chart import SizeChart
from geometry.model.pattern import Seam
from tests.editor.project_samples import project
from tests.editor.test_project_file import parts_of, zipped

FROZEN = Path(__file__).parent / "frozen"


def sample(version: int) -> Path:
    return FROZEN / f"version-{version}.dartwise"


@pytest.mark.parametrize("version", range(1, FORMAT_VERSION + 1))
def test_a_file_of_every_version_opens_as_what_it_was(version: int) -> None:
    assert json.loads(parts_of(sample(version).read_bytes())["project.json"])["format_version"] == version
    assert load_project(sample(version)) == project()


def test_there_is_a_way_from_every_version_to_the_next() -> None:
    assert sorted(UPGRADES) == list(range(1, FORMAT_VERSION))


def test_every_field_of_the_sample_is_still_known() -> None:
    """Where this fails a field was renamed, moved or dropped: that needs a new version, an upgrade and a sample.

    A new field with a default does not.
    """
    assert load_project(sample(FORMAT_VERSION)).unread == Unread()
    present, then = parts_of(project_bytes(project())), parts_of(sample(FORMAT_VERSION).read_bytes())
    assert leftover(json.loads(then["pattern.json"]), json.loads(present["pattern.json"])) == ()
    assert present["source.dxf"] == then["source.dxf"]


EVERYTHING = sorted(FROZEN.glob("version-*-everything.dartwise"))
"""A project of a version with every field that it had, and every kind of step with all its parameters."""


def holds(now: Any, then: Any) -> bool:
    """Whether all that was written then is written now; there may be more."""
    if isinstance(then, dict):
        return isinstance(now, dict) and all(name in now and holds(now[name], value) for name, value in then.items())
    if isinstance(then, list):
        return isinstance(now, list) and len(now) == len(then) and all(map(holds, now, then))
    return bool(now == then)


def fields_of(plain: Any) -> set[str]:
    inner = list(plain.values()) if isinstance(plain, dict) else plain if isinstance(plain, list) else []
    return set(plain if isinstance(plain, dict) else ()).union(*map(fields_of, inner))


@pytest.mark.parametrize("path", EVERYTHING, ids=lambda path: path.stem)
def test_every_field_that_ever_was_written_is_still_read_and_written(path: Path) -> None:
    """Where this fails a field, a word or a kind of step was renamed or dropped: that needs a new version."""
    opened = load_project(path)
    assert opened.unread.fields == ()
    then, now = parts_of(path.read_bytes()), parts_of(project_bytes(opened))
    for part in ("project.json", "pattern.json"):
        assert holds(json.loads(now[part]), json.loads(then[part]))
    assert {name: now[name] for name in then if name.endswith(".png")} == {
        name: data for name, data in then.items() if name.endswith(".png")
    }


def test_every_field_and_every_kind_of_step_is_in_a_sample() -> None:
    """Where this fails something is new: ``python -m tests.editor.freeze WORD`` keeps a sample that has it."""
    parts = [parts_of(path.read_bytes()) for path in EVERYTHING]
    plain = [json.loads(each["project.json"]) for each in parts]
    kinds = {
        record["kind"]
        for each in plain
        for wearer in each["wearers"]
        for shown in wearer["rounds"]
        for record in shown.get("records", ())
    }
    assert set(STEP_KINDS) - kinds == set()
    ours = (*project_file._Document.__struct_fields__, *project_file._Wearer.__struct_fields__)
    told = {*ours, *project_file._Round.__struct_fields__}
    told |= {field.name for kind in (FitNote, Measurement, SizeBlend, SizeChart, Seam) for field in fields(kind)}
    everything = set().union(*(fields_of(json.loads(each[name])) for each in parts for name in _TEXTS))
    assert told - everything == set()


_TEXTS = ("project.json", "pattern.json")


def later(monkeypatch: pytest.MonkeyPatch) -> None:
    """A next version that calls the wearers' size "starts_from" and the pattern's name "title"."""

    def one_to_two(content: dict[str, Any]) -> dict[str, Any]:
        document, nest = content["project.json"], content["pattern.json"]
        wearers = [wearer | {"name": wearer["name"].upper()} for wearer in document["wearers"]]
        return {"project.json": document | {"wearers": wearers}, "pattern.json": nest | {"name": "second"}}

    for module in (project_file, upgrades):
        monkeypatch.setattr(module, "FORMAT_VERSION", FORMAT_VERSION + 1)
    monkeypatch.setattr(upgrades, "UPGRADES", {FORMAT_VERSION: one_to_two})


def test_an_older_file_is_carried_over_and_saved_as_the_present_version(monkeypatch: pytest.MonkeyPatch) -> None:
    parts = parts_of(project_bytes(project()))
    plain = json.loads(parts["project.json"]) | {"settings": {"unit": "in"}}
    old = zipped(parts | {"project.json": json.dumps(plain).encode()})
    later(monkeypatch)
    opened = project_from_bytes(old)
    assert [wearer.name for wearer in opened.wearers] == ["MAREN", "ODILE"]
    assert opened.base.nest.name == "second"
    again = json.loads(parts_of(project_bytes(opened))["project.json"])
    assert again["format_version"] == FORMAT_VERSION + 1
    assert again["settings"] == {"unit": "in"}


def test_an_older_file_that_does_not_hold_together_gets_a_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    parts = parts_of(project_bytes(project()))
    plain = json.loads(parts["project.json"])
    del plain["wearers"][0]["name"]
    later(monkeypatch)
    with pytest.raises(PatternError, match="file of version 1 would not look like this"):
        project_from_bytes(zipped(parts | {"project.json": json.dumps(plain).encode()}))


def test_functions_run_one_after_the_other_from_the_version_of_the_file() -> None:
    table = {
        number: (lambda content, number=number: content | {"went": [*content["went"], number]}) for number in (1, 2, 3)
    }
    assert upgraded({"went": []}, version=2, upgrades=table) == {"went": [2, 3]}
    assert upgraded({"went": []}, version=4, upgrades=table) == {"went": []}


@pytest.mark.parametrize("version", [None, "1", 0, -1, True, 1.0, FORMAT_VERSION + 1, 10**30])
def test_a_version_that_is_none_or_newer_is_refused(version: object) -> None:
    with pytest.raises(FieldError, match="format_version"):
        version_of({"format_version": version})
