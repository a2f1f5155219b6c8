"""The record of a sitting: what is in it after any end, and who is offered it."""

from __future__ import annotations

import errno
import json
import os
import tempfile
import threading
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor.document import sitting
from editor.document.autosave import Autosave
from editor.document.differences import changed, changes
from editor.document.locking import Holder, this_process
from editor.document.project import FitNote, Measurement, Project, Round, Unread, Wearer
from editor.document.project_file import project_bytes
from editor.document.recovery import compare, differs_beside, left_behind
from editor.document.rounds import with_note
from editor.document.schema import to_json
from editor.document.sitting import ENDING, About, Writer, read_record
from editor.document.statements import with_edge_named
from geometry.alterations.replay import Record
from geometry.errors import PatternError
from tests.editor.project_samples import SLASH, project, projects

START = project()
GONE = Holder("sewing room", 1, since="2026-05-17T10:42:07", token="x")

json_values = st.recursive(
    st.sampled_from([None, True, False, 0, 1, -7]) | st.floats(-1e300, 1e300) | st.text(max_size=3),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from("abcd"), inner, max_size=3),
    max_leaves=12,
)  # fmt: skip


@given(json_values, json_values)
def test_what_changed_leads_from_one_value_to_the_other_to_the_last_bit(before: Any, after: Any) -> None:
    made = json.loads(json.dumps(changes(before, after)))
    kept = json.dumps(before)
    assert json.dumps(changed(before, made), sort_keys=True) == json.dumps(after, sort_keys=True)
    assert json.dumps(before) == kept
    assert changes(after, after) == []


def test_one_step_more_is_a_small_change() -> None:
    before = {"steps": [{"id": str(number), "opening_mm": 5.0} for number in range(200)]}
    after = {"steps": [*before["steps"], {"id": "200", "opening_mm": 6.0}]}
    other = {"steps": [*before["steps"][:100], {"id": "100", "opening_mm": 7.5}, *before["steps"][101:]]}
    assert changes(before, after) == [["splice", ["steps"], 200, 0, [{"id": "200", "opening_mm": 6.0}]]]
    assert changes(before, other) == [["set", ["steps", 100, "opening_mm"], 7.5]]


# -- the record


def grown(steps: int) -> Project:
    records = tuple(Record(str(number + 1), SLASH.with_amount_mm(5.0 + number)) for number in range(steps))
    return START.with_records("1", "1", records)


def written(file: Path, *, steps: int = 5, is_saved: bool = True) -> list[int]:
    """A record with that many changes; returns the length of the file after each of them."""
    about = About(GONE, "choir.dartwise", "abc", is_saved, "2026-05-17T10:42:07")
    writer = Writer(file, about, grown(0), project_bytes(grown(0)))
    lengths = [file.stat().st_size]
    for number in range(1, steps + 1):
        writer.change(grown(number), "Add step", f"2026-05-17T10:43:{number:02}.000")
        lengths.append(file.stat().st_size)
    writer.close()
    return lengths


def test_a_record_cut_anywhere_gives_the_last_whole_step(tmp_path: Path) -> None:
    file = tmp_path / f"a{ENDING}"
    lengths = written(file)
    whole = file.read_bytes()
    for cut in [*range(lengths[0], len(whole), 7), *lengths, *(length - 2 for length in lengths[1:])]:
        file.write_bytes(whole[:cut])
        record = read_record(file)
        steps = max(number for number, length in enumerate(lengths) if length - 1 <= cut)
        assert record.project == grown(steps)
        assert record.unsaved == steps
    file.write_bytes(whole[: lengths[0] - 2])
    with pytest.raises(PatternError):
        read_record(file)


def test_a_record_with_a_wrong_byte_or_zeros_at_its_end_gives_what_comes_before(tmp_path: Path) -> None:
    file = tmp_path / f"a{ENDING}"
    lengths = written(file)
    whole = bytearray(file.read_bytes())
    whole[lengths[3] + 40] ^= 1
    file.write_bytes(whole)
    assert read_record(file).project == grown(3)
    file.write_bytes(bytes(whole[: lengths[2]]) + bytes(4096))
    assert read_record(file).project == grown(2)


def test_what_was_saved_is_not_offered_again(tmp_path: Path) -> None:
    file = tmp_path / f"a{ENDING}"
    about = About(GONE, "", "", False, "2026-05-17T10:42:07")
    writer = Writer(file, about, grown(0), project_bytes(grown(0)))
    assert read_record(file).unsaved == 1
    writer.change(grown(1), "Add step", "1")
    writer.saved(tmp_path / "choir.dartwise", "stamp", "2")
    record = read_record(file)
    assert (record.unsaved, record.about.stamp, record.about.path) == (0, "stamp", str(tmp_path / "choir.dartwise"))
    writer.change(grown(2), "Add step", "3")
    assert read_record(file).unsaved == 1
    writer.change(grown(1), "Add step", "4")  # taken back
    assert read_record(file).unsaved == 0
    writer.close()


def test_an_entry_that_makes_no_project_is_passed_over_for_the_one_before(tmp_path: Path) -> None:
    file = tmp_path / f"a{ENDING}"
    written(file, steps=2)
    spoilt = to_json({"at": "x", "label": "y", "changes": [["set", ["wearers"], "nobody"]]})
    lost = to_json({"at": "x", "label": "y", "changes": [["set", ["wearers", 9, "name"], "nobody"]]})
    for entry in (spoilt, lost):
        with open(file, "ab") as record:
            record.write(sitting._entry(b"change", entry))
        assert read_record(file).project == grown(2)


@given(projects(), st.lists(projects(), min_size=1, max_size=2))
def test_a_record_gives_back_any_project_whatever_changed_in_it(start: Project, others: list[Project]) -> None:
    size = start.base.nest.sizes[0]
    with tempfile.TemporaryDirectory() as folder:
        writer = Writer(Path(folder) / "a", About(GONE, "", "", False, ""), start, project_bytes(start))
        for other in others:
            wearers = tuple(replace(wearer, size=size, sizes=None) for wearer in other.wearers)
            chart = start.chart if start.chart is None else replace(start.chart, cup_mm=70.0)
            changed_one = replace(other, base=start.base, wearers=wearers, chart=chart)
            writer.change(changed_one, "x", "y")
            assert read_record(writer.file).project == changed_one
            wearers = tuple(replace(wearer, name=f"{wearer.name}!") for wearer in (*start.wearers, *wearers[3:]))
            writer.change(replace(changed_one, wearers=wearers), "x", "y")
            assert read_record(writer.file).project.wearers == wearers
        writer.close()


def test_a_second_note_is_in_the_record_of_a_project_that_had_one(tmp_path: Path) -> None:
    """What is a tuple in a project and a list in JSON."""
    one = with_note(START, "2", "1", FitNote("pulls at the hip"))
    two = with_note(one, "2", "1", FitNote("too long"))
    writer = Writer(tmp_path / "a", About(GONE, "", "", True, ""), one, project_bytes(one))
    writer.change(two, "Add note", "y")
    writer.close()
    assert read_record(tmp_path / "a").project == two


# -- the thread


class Told:
    def __init__(self) -> None:
        self.words: list[str] = []

    def __call__(self, words: str) -> None:
        self.words.append(words)


def sittings(folder: Path) -> list[Path]:
    return sorted(folder.glob(f"*{ENDING}"))


def test_every_change_is_on_the_disk_and_a_closed_sitting_leaves_nothing(tmp_path: Path) -> None:
    autosave = Autosave(tmp_path / "new" / "folder", on_trouble=Told())
    autosave.opened(grown(0), path=tmp_path / "choir.dartwise", stamp="abc", is_saved=True)
    for number in range(1, 4):
        autosave.changed(grown(number), "Add step")
        assert autosave.wait()
        (file,) = sittings(tmp_path / "new" / "folder")
        record = read_record(file)
        assert record.project == grown(number)
        assert (record.label, record.unsaved) == ("Add step", number)
    assert autosave.kept is not None
    assert autosave.kept.label == "Add step"
    assert file.stat().st_mode & 0o077 == 0
    autosave.close(forget=True)
    assert sittings(tmp_path / "new" / "folder") == []


def test_nothing_is_written_on_the_thread_that_asks_and_each_entry_is_forced_to_the_disk_before_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []

    def noted(name: str) -> Any:
        real = getattr(os, name)

        def call(*arguments: Any) -> Any:
            done.append(f"{threading.current_thread().name} {name}")
            return real(*arguments)

        return call

    for name in ("write", "fsync"):
        monkeypatch.setattr(sitting.os, name, noted(name))
    autosave = Autosave(tmp_path, on_trouble=Told())
    autosave.opened(grown(0), is_saved=True)
    autosave.wait()
    done.clear()
    for number in (1, 2):
        autosave.changed(grown(number), "Add step")
        autosave.wait()
    assert done == ["autosave write", "autosave fsync"] * 2
    autosave.close(forget=True)


def test_another_project_takes_the_place_of_the_one_before(tmp_path: Path) -> None:
    autosave = Autosave(tmp_path, on_trouble=Told())
    autosave.opened(grown(0), is_saved=True)
    autosave.changed(grown(1), "Add step")
    autosave.opened(grown(4), is_saved=False)
    autosave.wait()
    (file,) = sittings(tmp_path)
    assert read_record(file).project == grown(4)
    more = replace(grown(4), unread=Unread(members=(("photos/a.jpg", b"\xff\xd8"),)))
    autosave.changed(more, "Add photo")  # a part of its own cannot be told by a small change
    autosave.wait()
    (file,) = sittings(tmp_path)
    assert read_record(file).project == more
    autosave.close(forget=False)
    assert len(sittings(tmp_path)) == 1


def test_a_full_disk_is_told_once_and_gone_on_with_when_there_is_room(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    told, real, full = Told(), os.write, threading.Event()

    def write(handle: int, data: bytes) -> int:
        if full.is_set() and threading.current_thread().name == "autosave":
            real(handle, bytes(data[:20]))
            raise OSError(errno.ENOSPC, "full")
        return real(handle, data)

    monkeypatch.setattr(sitting.os, "write", write)
    autosave = Autosave(tmp_path, on_trouble=told)
    autosave.opened(grown(0), is_saved=True)
    autosave.changed(grown(1), "Add step")
    autosave.wait()
    full.set()
    for number in (2, 3):
        autosave.changed(grown(number), "Add step")
        autosave.wait()
    assert told.words == ["the disk is full; make some room or choose another disk"]
    assert read_record(sittings(tmp_path)[0]).project == grown(1)  # torn behind, whole before
    assert [file.suffix for file in tmp_path.iterdir()] == [ENDING]
    full.clear()
    autosave.changed(grown(4), "Add step")
    autosave.wait()
    assert told.words[1:] == [""]
    (file,) = sittings(tmp_path)
    assert read_record(file).project == grown(4)
    assert read_record(file).label == "Add step"
    autosave.close(forget=True)


def test_changes_that_pile_up_behind_a_slow_disk_are_written_as_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    real, go, forced = os.fsync, threading.Event(), []

    def slow(handle: int) -> None:
        go.wait(10)
        forced.append(handle)
        real(handle)

    monkeypatch.setattr(sitting.os, "fsync", slow)
    autosave = Autosave(tmp_path, on_trouble=Told())
    autosave.opened(grown(0), is_saved=True)
    for number in range(1, 8):
        autosave.changed(grown(number), "Add step")
    go.set()
    autosave.wait()
    assert read_record(sittings(tmp_path)[0]).project == grown(7)
    assert len(forced) <= 3
    autosave.close(forget=True)


def test_a_slip_in_the_thread_does_not_end_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    told, logged = Told(), []
    monkeypatch.setattr(threading, "excepthook", lambda args: logged.append(args.exc_type))
    autosave = Autosave(tmp_path, on_trouble=told)
    autosave.opened(grown(0), is_saved=True)
    autosave.wait()
    with monkeypatch.context() as broken:
        broken.setattr(Writer, "change", lambda *_: [][0])
        autosave.changed(grown(1), "Add step")
        autosave.wait()
    assert (told.words, logged) == (["something went wrong inside Dartwise"], [IndexError])
    autosave.changed(grown(2), "Add step")
    autosave.wait()
    (file,) = sittings(tmp_path)
    assert read_record(file).project == grown(2)
    autosave.close(forget=True)


# -- what is offered


def test_what_an_editor_that_is_gone_left_behind_is_found_the_latest_first(tmp_path: Path) -> None:
    written(tmp_path / f"a{ENDING}", steps=2)
    written(tmp_path / f"b{ENDING}", steps=4)
    written(tmp_path / f"c{ENDING}", steps=0)
    (tmp_path / f"d{ENDING}").write_bytes(b"nothing")
    found = left_behind(tmp_path)
    assert [(each.name, each.record.unsaved, each.record.at) for each in found] == [
        ("choir.dartwise", 4, "2026-05-17T10:43:04.000"),
        ("choir.dartwise", 2, "2026-05-17T10:43:02.000"),
    ]
    assert not (tmp_path / f"c{ENDING}").exists()  # nothing in it that the project file lacks
    assert left_behind(tmp_path / "none") == ()


def test_the_sitting_of_a_running_editor_is_not_offered(tmp_path: Path) -> None:
    autosave = Autosave(tmp_path, on_trouble=Told())
    autosave.opened(grown(1), is_saved=False)
    autosave.wait()
    assert left_behind(tmp_path) == ()
    autosave.close(forget=False)
    assert [each.name for each in left_behind(tmp_path)] == ["skirt"]


def test_a_beginning_that_was_cut_short_is_taken_away_after_an_hour(tmp_path: Path) -> None:
    half = tmp_path / f"a{ENDING}.new"
    half.write_bytes(b"dartwise")
    left_behind(tmp_path)
    assert half.exists()
    os.utime(half, (1e9, 1e9))
    left_behind(tmp_path)
    assert not half.exists()


def test_the_comparison_shows_steps_side_by_side() -> None:
    before, after = START, grown(1)
    slashed = before.wearer("2").round("1").records
    changed_step = replace(slashed[0], step=SLASH.with_amount_mm(12.7))
    after = after.with_records("2", "1", (Record("2", SLASH), changed_step))
    first, second = compare(before, after)
    assert (first.wearer, first.round, [(line.before, line.after) for line in first.lines]) == (
        "Maren", "toile 1", [(None, after.wearer("1").round("1").records[0])],
    )  # fmt: skip
    assert [(line.before, line.after) for line in second.lines] == [
        (None, Record("2", SLASH)),
        (slashed[0], changed_step),
    ]
    assert [line.after for line in compare(after, before)[1].lines] == [slashed[0], None]
    assert compare(before, before) == ()


def test_the_comparison_tells_rounds_and_wearers_that_came_and_went() -> None:
    before = project()
    after = Project(before.base, (before.wearers[0], Wearer("3", "Ida", "38", (Round("1", "first"),))))
    assert [(each.wearer, each.round) for each in compare(before, after)] == [
        ("Ida", "first"), ("Odile", "toile 1"), ("Odile", "toile 2"),
    ]  # fmt: skip
    assert [(each.wearer, each.round) for each in compare(None, after)] == [("Maren", "toile 1"), ("Ida", "first")]


def test_this_process_is_known_by_more_than_its_number() -> None:
    assert this_process().is_this_process
    assert this_process().is_running
    assert not replace(this_process(), pid=2**30).is_running


def test_the_comparison_tells_what_differs_beside_the_steps() -> None:
    before = project()
    assert differs_beside(before, before) == ()
    assert differs_beside(None, before) == ()
    noted = with_note(before, "2", "1", FitNote("pulls at the hip"))
    assert differs_beside(before, noted) == ("notes of Odile, toile 1",)
    piece = before.base.nest.sample.pieces[0]
    named = with_edge_named(before, piece.name, piece.edges[0].id, "front hem")
    measured = named.with_wearer(
        replace(named.wearer("1"), size=named.base.nest.sizes[-1], measurements=(Measurement("bust", 900.0),))
    )
    assert differs_beside(before, replace(measured, forgotten_seams=("side",))) == (
        "names, seams or allowances of the pattern",
        "seams that are not sewn",
        "the size of Maren",
        "the measurements of Maren",
    )
