"""Project files made to harm: they swell, nest, lie, point outside; each gets one sentence and touches nothing."""

from __future__ import annotations

import io
import json
import math
import os
import struct
import subprocess
import sys
import zipfile
import zlib
from pathlib import Path

import pytest

from editor.cli import main
from editor.document import container, project_file
from editor.document.journal import read_journal
from editor.document.leftover import DEEPEST
from editor.document.project_file import load_project, project_bytes, project_from_bytes
from editor.formats.dxf_reader import read_drawing
from geometry.errors import PatternError
from tests.editor.project_samples import project
from tests.editor.test_project_file import parts_of, refusal, zipped

SAMPLE_DRAWING = Path(__file__).parents[2] / "samples" / "dress.dxf"
SOUND = parts_of(project_bytes(project()))


def nested(depth: int) -> str:
    return "[" * depth + "]" * depth


def with_unknown(text: str) -> bytes:
    """The sample with an unknown field that holds this JSON."""
    whole = SOUND["project.json"].decode().rstrip().removesuffix("}")
    return zipped(SOUND | {"project.json": f'{whole}, "extra": {text}}}'.encode()})


@pytest.mark.parametrize("depth", [DEEPEST + 1, 500, 5_000, 1_000_000])
def test_lists_in_lists_in_lists_are_refused(depth: int, tmp_path: Path) -> None:
    assert "it is nested too deeply to be one of ours" in refusal(with_unknown(nested(depth)), tmp_path)


def test_what_is_nested_as_deep_as_it_may_be_is_kept() -> None:
    opened = project_from_bytes(with_unknown(nested(DEEPEST)))
    assert json.loads(parts_of(project_bytes(opened))["project.json"])["extra"] == json.loads(nested(DEEPEST))


@pytest.mark.parametrize("part", ["project.json", "pattern.json"])
def test_a_part_of_deep_brackets_alone_is_refused(part: str, tmp_path: Path) -> None:
    sentence = refusal(zipped(SOUND | {part: nested(200_000).encode()}), tmp_path)
    assert "nested too deeply" in sentence or "expected named values in { }, got a list" in sentence


def test_a_million_names_for_nothing_are_refused_by_their_number(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(project_file, "MOST_VALUES", 20_000)
    sentence = refusal(with_unknown(json.dumps([[] for _ in range(20_000)])), tmp_path)
    assert 'its part "project.json" is larger than any pattern' in sentence


def test_a_project_too_large_to_be_read_again_is_not_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "dress.dartwise"
    project_file.save_project(project(), path)
    before = path.read_bytes()
    monkeypatch.setattr(project_file, "MOST_VALUES", 10)
    with pytest.raises(PatternError, match=r"was not written: its part .* is larger than any pattern\."):
        project_file.save_project(project(), path)
    assert path.read_bytes() == before
    monkeypatch.undo()
    monkeypatch.setattr(container, "LARGEST_WHOLE_BYTES", 100)
    with pytest.raises(PatternError, match="is larger than any pattern"):
        project_file.save_project(project(), path)


def bomb(stated_bytes: int) -> bytes:
    """A zip of a few hundred kilobytes whose one extra part is a gigabyte of zeros, whatever it states."""
    packer = zlib.compressobj(9, wbits=-15)
    megabyte = bytes(1 << 20)
    body = b"".join(packer.compress(megabyte) for _ in range(256)) + packer.flush()
    data = bytearray(zipped(SOUND | {"photo": b"x" * len(body)}))
    stored = io.BytesIO()
    with zipfile.ZipFile(stored, "w") as made:
        for name, content in SOUND.items():
            made.writestr(name, content)
        made.writestr("photo", body)
    data = bytearray(stored.getvalue())
    local, listed = data.index(b"PK\x03\x04", data.index(body[:64]) - 60), data.rindex(b"PK\x01\x02")
    for at, kind in ((local, 8), (listed, 10)):
        struct.pack_into("<H", data, at + kind, zipfile.ZIP_DEFLATED)
        struct.pack_into("<L", data, at + kind + 14, stated_bytes)
    return bytes(data)


@pytest.mark.parametrize(
    ("stated", "words"),
    [(256 << 20, "is larger than any pattern"), (1000, "damaged"), (0xFFFFFFF0, "is larger than any pattern")],
)
def test_a_zip_that_swells_is_refused_in_little_memory(stated: int, words: str, tmp_path: Path) -> None:
    path = tmp_path / "bomb.dartwise"
    path.write_bytes(bomb(stated))
    assert path.stat().st_size < 2 << 20
    told = limited_load(path)
    assert words in told
    assert "bomb.dartwise cannot be opened" in told


def limited_load(path: Path) -> str:
    """Load a file in a process that may use 700 MB of addresses; returns what it says."""
    code = (
        "import resource, sys; from pathlib import Path\n"
        "from editor.document.project_file import load_project\n"
        "from geometry.errors import PatternError\n"
        "resource.setrlimit(resource.RLIMIT_DATA, (700 << 20, 700 << 20))\n"
        "try: load_project(Path(sys.argv[1]))\n"
        "except PatternError as error: print(error.sentence)\n"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, str(path)], capture_output=True, text=True, check=True, timeout=60
    )
    return ran.stdout


def test_a_list_of_a_hundred_thousand_parts_is_refused_unread(tmp_path: Path) -> None:
    assert "holds more parts than a project" in refusal(zipped({str(number): b"" for number in range(5000)}), tmp_path)


@pytest.mark.parametrize(
    "name", ["../../evil", "/etc/evil", "a/../../evil", "\\\\host\\share", "C:evil", "..", "a\\..\\b"]
)
def test_a_part_that_points_outside_is_refused_and_nothing_is_written(name: str, tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    assert "is not one that a project would have" in refusal(zipped(SOUND | {name: b"evil"}), tmp_path / "in")
    assert {each.name for each in tmp_path.rglob("*")} == {"in", "dress.dartwise"}


@pytest.mark.parametrize("kind", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_part_packed_in_a_way_that_wants_memory_is_refused(kind: int, tmp_path: Path) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name, content in SOUND.items():
            made.writestr(name, content, compress_type=kind)
    assert "is packed in a way that no project is" in refusal(out.getvalue(), tmp_path)


def test_a_part_twice_and_an_encrypted_part_are_refused(tmp_path: Path) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name in SOUND:
            made.writestr(name, SOUND[name])
        with pytest.warns(UserWarning, match="Duplicate"):
            made.writestr("project.json", b"{}")
    assert "is not one that a project would have" in refusal(out.getvalue(), tmp_path)
    data = bytearray(zipped(SOUND))
    struct.pack_into("<H", data, data.index(b"PK\x01\x02") + 8, 1)
    assert "damaged" in refusal(bytes(data), tmp_path)


def _amount(text: str) -> bytes:
    """The sample with this JSON as the amount of its slash."""
    return zipped(
        SOUND
        | {"project.json": SOUND["project.json"].replace(b'"opening_mm": 40.0', b'"opening_mm": ' + text.encode())}
    )


@pytest.mark.parametrize("text", ["NaN", "Infinity", "-Infinity", "1e999", "1" * 400, "0x10", "1_000"])
def test_numbers_that_are_none_are_refused(text: str, tmp_path: Path) -> None:
    assert "(in its project.json)" in refusal(_amount(text), tmp_path)


@pytest.mark.parametrize("text", ["1e300", "-1e18", "100001", "1.8e308"])
def test_amounts_past_all_bounds_are_refused_with_their_field(text: str, tmp_path: Path) -> None:
    sentence = refusal(_amount(text), tmp_path)
    assert "records[0].cuts[0].opening_mm: expected a number within 100000" in sentence or "too large" in sentence


@pytest.mark.parametrize("amount", [1e5, -1e5, 1e4, -1e4, 1e-300])
def test_amounts_at_the_bounds_are_findings_or_fit(amount: float) -> None:
    replayed = project_from_bytes(_amount(repr(amount))).replayed("2", "1")
    assert all(finding.text for finding in replayed.findings)
    assert all(math.isfinite(edge.length_mm) for piece in replayed.pattern.pieces for edge in piece.edges)


@pytest.mark.parametrize("place", [b'"tip":[1e300,', b'"at":[1e300,', b'"start":[-1e9,'])
def test_marks_past_all_bounds_are_refused_with_their_field(place: bytes, tmp_path: Path) -> None:
    key = place[: place.index(b"[") + 1]
    pattern = SOUND["pattern.json"]
    at = pattern.index(key)
    spoilt = pattern[:at] + place + pattern[pattern.index(b",", at) + 1 :]
    sentence = refusal(zipped(SOUND | {"pattern.json": spoilt}), tmp_path)
    assert "expected lengths and places within a kilometre" in sentence


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs pipes")
def test_a_named_pipe_and_a_device_are_refused_and_do_not_hang(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.dartwise"
    os.mkfifo(pipe)
    for path in (pipe, Path("/dev/zero")):
        with pytest.raises(PatternError, match="is no file that could be read"):
            load_project(path)
        with pytest.raises(PatternError, match="is no file that could be read"):
            read_drawing(path)
        assert main(["info", str(path)]) == 2
        assert main(["check", str(SAMPLE_DRAWING), "--journal", str(path)]) == 2


@pytest.mark.parametrize(
    "data",
    [
        nested(100_000).encode(),
        b'{"format": "dartwise-journal", "version": 1, "steps": ' + nested(100_000).encode() + b"}",
        b'{"format": "dartwise-journal", "version": 1, "steps": [{"kind": "slash", "piece": NaN}]}',
        b'{"format": "dartwise-journal", "version": 1, "steps": [{"kind": {"$type": "os.system"}}]}',
        b"\xff\xfe\x00",
        b'"\\ud800"',
    ],
)
def test_a_hostile_journal_gets_a_sentence(data: bytes) -> None:
    with pytest.raises(PatternError, match=r"^The journal evil\.json cannot be used: "):
        read_journal(data, name="evil.json")
