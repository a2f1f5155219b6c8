from __future__ import annotations

import io
import json
import os
import stat
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor import atomic_file
from editor.document import container
from editor.document.project import Project
from editor.document.project_file import load_project, project_bytes, project_from_bytes, save_project
from geometry.errors import PatternError
from tests.editor.project_samples import project, projects

PARTS = ("project.json", "pattern.json", "source.dxf")


def parts_of(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(data)) as opened:
        return {name: opened.read(name) for name in opened.namelist()}


def zipped(parts: dict[str, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, data in parts.items():
            made.writestr(name, data)
    return out.getvalue()


def edited(part: str, change: Callable[[Any], None]) -> bytes:
    parts = parts_of(project_bytes(project()))
    plain = json.loads(parts[part])
    change(plain)
    return zipped(parts | {part: json.dumps(plain).encode()})


def refusal(data: bytes, tmp_path: Path) -> str:
    path = tmp_path / "dress.dartwise"
    path.write_bytes(data)
    with pytest.raises(PatternError) as refused:
        load_project(path)
    assert refused.value.sentence.startswith(f"{path} cannot be opened: ")
    assert refused.value.sentence.endswith(".")
    return refused.value.sentence


@given(projects())
def test_a_project_saved_and_loaded_is_the_same_to_the_last_bit(made: Project) -> None:
    data = project_bytes(made)
    loaded = project_from_bytes(data)
    assert loaded == made
    assert repr(loaded) == repr(made)  # tells 0.0 from -0.0 outside arrays
    assert project_bytes(loaded) == data


def test_a_saved_file_holds_the_drawing_as_it_came_and_plain_json(tmp_path: Path) -> None:
    path = tmp_path / "dress.dartwise"
    save_project(project(), path)
    parts = parts_of(path.read_bytes())
    assert tuple(parts) == PARTS
    assert parts["source.dxf"] == project().base.source_bytes
    plain = json.loads(parts["project.json"])
    assert (plain["format"], plain["format_version"]) == ("dartwise-project", 1)
    assert plain["source"] == {"name": "skirt.dxf", "unit": "cm"}
    record = plain["wearers"][1]["rounds"][0]["records"][0]
    assert (record["kind"], record["cuts"][0]["opening_mm"]) == ("slash", 40.0)
    piece = json.loads(parts["pattern.json"])["patterns"][0]["pieces"][0]
    assert piece["edges"][0]["points"] == [[190.0, 600.0], [0.0, 600.0]]
    assert load_project(path) == project()


def test_unknown_fields_and_parts_survive_a_save() -> None:
    def add(plain: Any) -> None:
        plain["settings"] = {"unit": "in", "deep": [1, 2.5, None]}
        plain["wearers"][1]["colour"] = "green"
        plain["wearers"][1]["rounds"][0]["photos"] = ["a.jpg"]
        plain["wearers"][1]["rounds"][0]["records"][0]["why"] = "drag lines"
        plain["wearers"][1]["rounds"][0]["records"][0]["cuts"][0]["line"][1]["seen"] = True

    parts = parts_of(edited("project.json", add))
    nest = json.loads(parts["pattern.json"])
    nest["patterns"][1]["pieces"][0]["edges"][2]["stitches"] = 3
    parts["pattern.json"] = json.dumps(nest).encode()
    opened = project_from_bytes(zipped(parts | {"photos/a.jpg": b"\xff\xd8"}))
    altered = opened.with_records("1", "1", opened.wearer("2").round("1").records)
    again = parts_of(project_bytes(altered))
    assert again["photos/a.jpg"] == b"\xff\xd8"
    plain = json.loads(again["project.json"])
    assert plain["settings"] == {"unit": "in", "deep": [1, 2.5, None]}
    odile = plain["wearers"][1]
    assert odile["colour"] == "green"
    assert odile["rounds"][0]["photos"] == ["a.jpg"]
    assert odile["rounds"][0]["records"][0]["why"] == "drag lines"
    assert odile["rounds"][0]["records"][0]["cuts"][0]["line"][1]["seen"] is True
    assert json.loads(again["pattern.json"])["patterns"][1]["pieces"][0]["edges"][2]["stitches"] == 3


def test_unknown_fields_follow_their_wearer_and_go_with_her() -> None:
    opened = project_from_bytes(edited("project.json", lambda plain: plain["wearers"][1].update(colour="green")))
    swapped = Project(opened.base, opened.wearers[::-1], opened.unread)
    first, second = json.loads(parts_of(project_bytes(swapped))["project.json"])["wearers"]
    assert (first["colour"], "colour" in second) == ("green", False)
    alone = Project(opened.base, opened.wearers[:1], opened.unread)
    assert b"green" not in parts_of(project_bytes(alone))["project.json"]


def test_a_file_from_a_newer_version_is_refused_and_left_as_it_is(tmp_path: Path) -> None:
    data = edited("project.json", lambda plain: plain.update(format_version=2, wearers="something else"))
    assert "format_version: it is 2, from a newer Dartwise; this one reads up to 1" in refusal(data, tmp_path)
    assert (tmp_path / "dress.dartwise").read_bytes() == data


def _in_record(field: str, value: object) -> Callable[[Any], None]:
    return lambda plain: plain["wearers"][1]["rounds"][0]["records"][0].update({field: value})


@pytest.mark.parametrize(
    ("change", "part_of_sentence"),
    [
        (_in_record("reach_mm", "far"), "wearers[1].rounds[0].records[0].reach_mm: expected a number, got text"),
        (_in_record("kind", "knit"), 'wearers[1].rounds[0].records[0].kind: there is no kind of step called "knit"'),
        (lambda plain: plain["wearers"][0].pop("name"), "wearers[0].name: is missing"),
        (
            lambda plain: plain["wearers"][0].update(size="60"),
            'wearers[0].size: the pattern has no size "60"; it has 38',
        ),
        (lambda plain: plain["wearers"][0].update(id="2"), 'wearers[1].id: "2" is used twice'),
        (
            lambda plain: plain["wearers"][1]["measurements"][1].update(length_mm=[]),
            "measurements[1].length_mm: expected",
        ),
        (lambda plain: plain["source"].update(unit="ell"), 'source.unit: the word "ell" is not known here'),
        (lambda plain: plain.update(format="other"), 'format: expected "dartwise-project"'),
        (lambda plain: plain.update(format_version=True), "format_version: expected a whole number from 1"),
        (lambda plain: plain.update(wearers={}), "wearers: expected a list, got named values in { }"),
    ],
)
def test_a_wrong_field_of_a_project_is_named(
    change: Callable[[Any], None], part_of_sentence: str, tmp_path: Path
) -> None:
    sentence = refusal(edited("project.json", change), tmp_path)
    assert part_of_sentence in sentence
    assert sentence.endswith("(in its project.json).")


def _piece(change: Callable[[Any], None]) -> Callable[[Any], None]:
    return lambda plain: change(plain["patterns"][0]["pieces"][0])


@pytest.mark.parametrize(
    ("change", "part_of_sentence"),
    [
        (_piece(lambda piece: piece["edges"][0]["points"].__setitem__(1, [0, "a"])), "points[1][1]: expected a number"),
        (
            _piece(lambda piece: piece["edges"][0]["points"].__setitem__(1, [0, None])),
            "points[1][1]: expected a number",
        ),
        (_piece(lambda piece: piece["edges"][0]["points"].__setitem__(1, [0, 1, 2])), "points[1]: expected"),
        (_piece(lambda piece: piece["edges"][0]["points"].__setitem__(1, [0, 599])), 'the edge "waist" does not end'),
        (_piece(lambda piece: piece["edges"][0]["points"].__setitem__(0, [0, 1e300])), "within a kilometre"),
        (_piece(lambda piece: piece["edges"][0].update(points=[])), "edges[0].points: expected two or more"),
        (_piece(lambda piece: piece["edges"][0].update(id="hem")), 'edges[2].id: "hem" is used twice'),
        (
            _piece(lambda piece: piece["darts"][0].update(edge="neck")),
            'darts[0]: its mouth does not lie on an edge "neck"',
        ),
        (_piece(lambda piece: piece["darts"][0].update(to_mm=500)), "darts[0]: its mouth does not lie on"),
        (_piece(lambda piece: piece["notches"][0].update(at_mm=-1)), "notches[0]: it does not lie on"),
        (_piece(lambda piece: piece.update(fold="neck")), 'fold: there is no edge "neck"'),
        (_piece(lambda piece: piece.update(edges=[])), "edges: at least one is needed"),
        (lambda plain: plain.update(patterns=[]), "patterns: at least one size is needed"),
        (lambda plain: plain.update(sample_size="1"), 'sample_size: there is no size "1"'),
        (lambda plain: plain["patterns"][1].update(size="38"), 'patterns[1].size: "38" is used twice'),
    ],
)
def test_a_wrong_field_of_the_pattern_is_named(
    change: Callable[[Any], None], part_of_sentence: str, tmp_path: Path
) -> None:
    assert part_of_sentence in refusal(edited("pattern.json", change), tmp_path)


@pytest.mark.parametrize(
    ("data", "part_of_sentence"),
    [
        (b"", "it is no project file or it is damaged"),
        (b"PK\x03\x04 and no more", "it is no project file or it is damaged"),
        (zipped({"project.json": b"{}"}), 'its part "pattern.json" is missing'),
        (zipped({name: b"{" for name in PARTS}), "it ends too early"),
        (zipped({name: b"{}" for name in PARTS} | {"../away": b""}), 'its part "../away"'),
        (zipped({name: b"{}" for name in PARTS} | {"C:\\away": b""}), "is not one that a project would have"),
    ],
)
def test_what_is_no_project_is_refused_with_a_sentence(data: bytes, part_of_sentence: str, tmp_path: Path) -> None:
    assert part_of_sentence in refusal(data, tmp_path)


def test_a_part_that_swells_is_refused_before_it_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(container, "LARGEST_PART_BYTES", 100_000)
    data = zipped(parts_of(project_bytes(project())) | {"photo": bytes(1_000_000)})
    assert len(data) < 10_000
    assert 'its part "photo" is larger than any pattern' in refusal(data, tmp_path)


def test_a_part_that_lies_about_its_size_is_damaged(tmp_path: Path) -> None:
    data = bytearray(zipped({name: b"{}" * 500 for name in PARTS}))
    at = data.rindex(b"PK\x01\x02")  # the entry of the last part in the list at the end of the zip
    struct.pack_into("<L", data, at + 24, 10)
    assert "damaged" in refusal(bytes(data), tmp_path)


@given(st.data())
def test_a_flipped_byte_never_gives_a_trace(data: st.DataObject) -> None:
    whole = bytearray(project_bytes(project()))
    for _ in range(data.draw(st.integers(1, 3))):
        whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
    cut = data.draw(st.integers(0, len(whole)))
    for tried in (bytes(whole), bytes(whole[:cut])):
        try:
            project_from_bytes(tried)
        except PatternError as error:
            assert error.sentence  # noqa: PT017 - either it opens or it says why not


def test_a_missing_file_and_a_folder_give_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(PatternError, match=r"cannot be read: no such file or directory\."):
        load_project(tmp_path / "none.dartwise")
    with pytest.raises(PatternError, match=r"cannot be read: is a directory\."):
        load_project(tmp_path)


def test_a_save_that_fails_leaves_the_file_as_it_was(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "dress.dartwise"
    save_project(project(), path)
    before = path.read_bytes()
    for call in ("fsync", "replace", "chmod"):

        def full(*_: object) -> None:
            raise OSError(28, "No space left on device")

        with monkeypatch.context() as broken:
            broken.setattr(atomic_file.os, call, full)
            with pytest.raises(PatternError, match=r"cannot be written: the disk is full; make some room"):
                save_project(Project(project().base), path)
        assert path.read_bytes() == before
        assert [each.name for each in tmp_path.iterdir()] == ["dress.dartwise"]


def test_a_save_keeps_permissions_and_follows_a_link(tmp_path: Path) -> None:
    path, link = tmp_path / "dress.dartwise", tmp_path / "link.dartwise"
    save_project(project(), path)
    path.chmod(0o640)
    link.symlink_to(path)
    save_project(Project(project().base), link)
    assert link.is_symlink()
    assert load_project(path).wearers == ()
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_new_file_gets_the_usual_permissions(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        save_project(project(), tmp_path / "dress.dartwise")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "dress.dartwise").stat().st_mode) == 0o640


def test_saving_into_a_folder_that_is_not_there_says_so(tmp_path: Path) -> None:
    with pytest.raises(PatternError, match="cannot be written: its folder is not there"):
        save_project(project(), tmp_path / "gone" / "dress.dartwise")
    with pytest.raises(PatternError, match="cannot be written: it is a folder"):
        save_project(project(), tmp_path)


def test_a_project_that_could_not_be_read_again_is_not_written(tmp_path: Path) -> None:
    path = tmp_path / "dress.dartwise"
    made = project()
    odile = made.wearer("2").round("1").records[0].step.with_amount_mm(float("nan"))
    spoilt = made.with_records("2", "1", (type(made.wearer("2").round("1").records[0])("1", odile),))
    save_project(made, path)
    with pytest.raises(PatternError, match="was not written"):
        save_project(spoilt, path)
    assert load_project(path) == made
