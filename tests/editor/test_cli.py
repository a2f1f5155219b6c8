from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pypdfium2
import pytest

from editor import cli
from editor.cli import main
from editor.document.journal import journal_bytes
from editor.document.project_file import load_project, save_project
from geometry.alterations.anchors import on_edge
from geometry.alterations.replay import Record
from geometry.alterations.slash import Hinge, Slash, SlashCut
from tests.editor.project_samples import project
from tests.editor.told import Run
from tests.source_files import ROOT

CUT = SlashCut((on_edge("hem", 0.5), on_edge("waist", 0.75)), 20.0, Hinge.END)


@pytest.fixture
def saved(tmp_path: Path) -> Path:
    path = tmp_path / "choir.dartwise"
    save_project(project(), path)
    return path


def journal(folder: Path, *steps: Slash) -> Path:
    path = folder / "steps.json"
    path.write_bytes(journal_bytes(Record(str(index), step) for index, step in enumerate(steps, start=1)))
    return path


def spawn(*words: object, **options: Any) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "editor", *map(str, words)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=60, **options)


def test_info_tells_of_the_last_wearers_last_round(run: Run, saved: Path) -> None:
    status, out, _ = run("info", saved)
    assert status == 0
    assert out.startswith("choir.dartwise: 1 piece for Odile, toile 2, size 40; lengths to the nearest 0.1 mm\n")
    assert "  edge hem: 33 cm\n" in out
    assert "dart waist dart on waist: intake 2.4 cm, legs 11.07 cm and 11.07 cm" in out


def test_info_gives_the_published_json(run: Run, saved: Path) -> None:
    status, out, _ = run("info", saved, "--wearer", "maren", "--json")
    shape = json.loads(out)
    assert (status, list(shape), shape["findings"]) == (0, ["pieces", "findings"], [])
    (piece,) = shape["pieces"]
    assert list(piece) == ["name", "size", "quantity", "area_mm2", "bounds_mm", "edges", "darts", "notches", "grain"]
    # a trapezium of 190 and 320 by 600 mm
    assert piece["area_mm2"] == pytest.approx((190 + 320) / 2 * 600, abs=1e-6)
    assert piece["bounds_mm"] == [0.0, 0.0, 320.0, 600.0]
    assert piece["edges"][2] == {"id": "hem", "length_mm": 320.0}
    assert piece["darts"][0] == {
        "id": "waist dart",
        "intake_mm": 24.0,
        "legs_mm": pytest.approx([(12**2 + 110**2) ** 0.5] * 2),
        "tip": [98.0, 490.0],
    }
    assert piece["notches"][0]["at_mm"] == 400.0
    assert piece["grain"] == {"start": [60.0, 100.0], "end": [60.0, 500.0]}


def test_a_round_is_shown_as_its_journal_altered_it(run: Run, saved: Path) -> None:
    out = run("info", saved, "--round", "TOILE 1", "--json")[1]
    hem_mm = json.loads(out)["pieces"][0]["edges"][2]["length_mm"]
    assert 330 + 30 < hem_mm <= 330 + 40


def test_check_ends_with_one_where_a_finding_says_stop(run: Run, tmp_path: Path, saved: Path) -> None:
    status, out, _ = run("check", saved, "--journal", journal(tmp_path, Slash("sleeve", (CUT,))), "--json")
    stops = [finding for finding in json.loads(out)["findings"] if finding["level"] == "stop"]
    assert status == 1
    assert [finding["code"] for finding in stops] == ["step-does-not-fit"]
    fields = ["code", "level", "piece", "where", "measured_mm", "expected_mm", "text", "source", "fix"]
    assert list(stops[0]) == fields


def test_alter_writes_the_pieces_and_tells_what_changed(run: Run, tmp_path: Path, saved: Path) -> None:
    out_path = tmp_path / "altered.dxf"
    steps = journal(tmp_path, Slash("front skirt", (CUT,)))
    status, out, _ = run("alter", saved, "--journal", steps, "--out", out_path, "--json")
    shape = json.loads(out)
    assert (status, shape["out"]) == (0, str(out_path))
    changes = {change["edge"]: change for change in shape["steps"][0]["changes"]}
    assert changes["waist"]["after_mm"] == pytest.approx(changes["waist"]["before_mm"], abs=0.05)
    assert changes["hem"]["after_mm"] > changes["hem"]["before_mm"] + 15
    assert out_path.read_text().rstrip().endswith("EOF")


def test_a_journal_comes_after_the_rounds_own_steps(run: Run, tmp_path: Path, saved: Path) -> None:
    steps = journal(tmp_path, Slash("front skirt", (CUT,)))
    out = run("alter", saved, "--round", "toile 1", "--journal", steps, "--out", tmp_path / "a.dxf", "--json")[1]
    assert [step["id"] for step in json.loads(out)["steps"]] == ["1", "journal 1"]


@pytest.mark.parametrize("verb", ["alter", "print"])
def test_nothing_is_written_where_a_step_does_not_fit(run: Run, verb: str, tmp_path: Path, saved: Path) -> None:
    steps = journal(tmp_path, Slash("front skirt", (CUT,)), Slash("sleeve", (CUT,)))
    out_path = tmp_path / "out"
    status, out, _ = run(verb, saved, "--journal", steps, "--out", out_path)
    assert status == 1
    assert 'There is no piece called "sleeve"' in out
    assert "Nothing was written, since step 2 could not be done." in out
    assert not out_path.exists()


def test_print_writes_a_pdf_with_the_pages_it_tells(run: Run, tmp_path: Path, saved: Path) -> None:
    path = tmp_path / "skirt.pdf"
    words = ("print", saved, "--paper", "letter", "--overlap", "1/2", "--margin", "12mm", "--out", path, "--json")
    status, out, _ = run(*words)
    shape = json.loads(out)
    assert (status, shape["out"], shape["pieces"]) == (0, str(path), ["front skirt"])
    with pypdfium2.PdfDocument(path) as pdf:
        assert len(pdf) == shape["pages"]
        assert pdf[0].get_size() in ((612.0, 792.0), (792.0, 612.0))


def test_convert_writes_all_sizes_or_the_round_asked_for(run: Run, tmp_path: Path, saved: Path) -> None:
    status, out, _ = run("convert", saved, tmp_path / "out.dxf", "--json")
    assert (status, json.loads(out)["pieces"], json.loads(out)["sizes"]) == (0, ["front skirt"], ["40"])


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["info", "gone.dxf"], "There is no file gone.dxf; check the name and the folder."),
        (["info", "gone.dartwise"], "gone.dartwise cannot be read: no such file or directory."),
        (["info"], "The following arguments are required: FILE; see dartwise info --help."),
        (["alter", "x.dxf"], "The following arguments are required: --out; see dartwise alter --help."),
        (["chek", "x.dxf"], 'There is no verb "chek"; there are info, check, alter, alterations, print,'),
        (["print", "x.dxf", "--out", "x.pdf", "--overlap", "wide"], 'Argument --overlap: "wide" is not a length;'),
        (["info", "x.dxf", "--units", "ell"], "Argument --units:"),
    ],
)
def test_what_cannot_be_done_is_one_sentence_and_status_two(run: Run, words: list[str], sentence: str) -> None:
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert err.startswith(sentence)
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--wearer", "Ida"], 'has no wearer called "Ida"; there is "Maren", "Odile".'),
        (["--round", "toile 9"], 'Odile has no round called "toile 9"; there is "toile 1", "toile 2".'),
        (["--size", "60"], 'There is no size called "60"; the pattern has "38", "40".'),
        (["--units", "in"], "is a project and knows its own lengths; leave out --units."),
        (["--allowance", "15"], "is a project and knows its own lengths; leave out --allowance."),
        (["--journal", "gone.json"], "gone.json cannot be read or written: no such file or directory."),
    ],
)
def test_a_choice_a_project_does_not_offer_is_named(run: Run, words: list[str], sentence: str, saved: Path) -> None:
    status, _, err = run("info", saved, *words)
    assert status == 2
    assert sentence in err


def test_a_project_is_known_by_its_content_too(run: Run, tmp_path: Path, saved: Path) -> None:
    other = tmp_path / "choir.zip"
    other.write_bytes(saved.read_bytes())
    assert run("info", other)[0] == 0


def test_a_mistake_in_the_program_is_told_without_a_trace(
    run: Run, monkeypatch: pytest.MonkeyPatch, saved: Path
) -> None:
    monkeypatch.setitem(cli.VERBS, "info", ("no_such_module", ""))
    status, _, err = run("info", saved)
    assert status == 2
    assert err.startswith("A mistake in Dartwise stopped this (ModuleNotFoundError: ")
    assert "DARTWISE_TRACE=1" in err


def test_ctrl_c_ends_without_a_trace(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "_run", interrupt)
    assert run("info", "x.dxf") == (130, "", "Stopped.\n")


def test_a_reader_that_leaves_early_sees_no_trace(saved: Path) -> None:
    command = f"{sys.executable} -m editor info {saved} --json | head -c 1"
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, text=True, check=False, timeout=60)
    assert (done.stdout, done.stderr) == ("{", "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_behind_the_output_is_one_sentence(saved: Path) -> None:
    with open("/dev/full", "w") as full:
        command = [sys.executable, "-m", "editor", "info", str(saved)]
        done = subprocess.run(
            command, cwd=ROOT, stdout=full, stderr=subprocess.PIPE, text=True, check=False, timeout=60
        )
    assert (done.returncode, done.stderr) == (2, "A file cannot be read or written: no space left on device.\n")


def test_verbs_of_a_project_load_neither_qt_nor_what_they_do_not_use(saved: Path) -> None:
    program = (
        "import sys; from editor.cli import main; status = main(sys.argv[1:]);"
        "print([name for name in sys.modules if name in ('PySide6', 'ezdxf', 'reportlab', 'scipy')], file=sys.stderr)"
    )
    command = [sys.executable, "-c", program, "check", str(saved)]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=60)
    assert done.stderr == "[]\n"


def test_help_and_version_end_well(run: Run) -> None:
    status, out, _ = run("--help")
    assert status == 0
    assert all(f"dartwise {verb}" in out for verb in cli.VERBS)
    assert run("--version")[1].startswith("dartwise ")


@pytest.mark.skipif(sys.platform != "linux", reason="elsewhere there is always a display")
def test_the_editor_without_a_display_says_so() -> None:
    bare = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    bare.pop("QT_QPA_PLATFORM", None)
    for words in ([], ["dress.dxf"]):
        done = spawn(*words, env=bare)
        assert done.returncode == 2
        assert done.stderr.startswith("There is no display to open a window on;")


@pytest.mark.skipif(os.name != "posix", reason="signals")
def test_a_signal_from_ctrl_c_leaves_no_trace(saved: Path) -> None:
    program = (
        "import os, signal, editor.cli as c; "
        "signal.signal(signal.SIGINT, signal.default_int_handler); "  # a shell's background jobs start without it
        "c._run = lambda w: os.kill(os.getpid(), signal.SIGINT); raise SystemExit(c.main([]))"
    )
    done = subprocess.run([sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (128 + signal.SIGINT, "Stopped.\n")


def test_a_project_is_left_as_it_was_by_every_verb(run: Run, tmp_path: Path, saved: Path) -> None:
    before = saved.read_bytes()
    for words in (["info", saved], ["check", saved], ["convert", saved, tmp_path / "o.dxf"]):
        run(*words)
    assert saved.read_bytes() == before
    assert load_project(saved) == project()


def test_what_goes_wrong_leaves_the_output_of_the_caller(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with open(tmp_path / "heard.txt", "w+", encoding="utf-8") as heard:
        monkeypatch.setattr(sys, "stdout", heard)
        assert main(["info", str(tmp_path / "nothing.dxf")]) == 2
        heard.write("still here")
        heard.seek(0)
        assert heard.read() == "still here"
