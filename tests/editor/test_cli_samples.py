"""The command line on our own dress, as drawn and as traced."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest

from editor.commandline import show_demo
from editor.document.project_file import load_project
from geometry.errors import PatternError
from tests.editor.told import Run

SAMPLES = Path(show_demo.__file__).parents[2] / "samples"
DRESS, TRACE, ODILE = SAMPLES / "dress.dxf", SAMPLES / "dress-trace.dxf", SAMPLES / "odile.json"
PIECES = ["front bodice", "back bodice", "sleeve", "front skirt", "back skirt"]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_info_tells_every_size_of_the_drawing(run: Run) -> None:
    status, out, _ = run("info", DRESS, "--json")
    pieces = json.loads(out)["pieces"]
    assert status == 0
    assert len(pieces) == 7 * 5
    assert sorted({piece["name"] for piece in pieces}) == sorted(PIECES)
    bodices = [piece for piece in pieces if piece["name"] == "front bodice"]
    areas = [piece["area_mm2"] for piece in bodices]
    assert areas == sorted(areas)
    for piece in bodices:
        assert {dart["id"] for dart in piece["darts"]} == {"side dart", "waist dart"}
        assert all(dart["legs_mm"][0] == pytest.approx(dart["legs_mm"][1], abs=0.01) for dart in piece["darts"])


def test_info_of_one_size_and_of_the_sample_size(run: Run) -> None:
    shown = json.loads(run("info", DRESS, "--size", "14", "--json")[1])["pieces"]
    assert [piece["size"] for piece in shown] == ["14"] * 5
    words = run("info", DRESS)[1]
    assert words.startswith("dress.dxf: 5 pieces in 7 sizes (4, 6, 8, 10, 12, 14, 16);")
    assert words.count("front bodice, size") == 1
    assert run("info", DRESS, "--size", "all")[1].count("front bodice, size") == 7


def test_a_trace_without_a_unit_is_not_guessed(run: Run) -> None:
    status, out, err = run("check", TRACE)
    assert (status, out) == (2, "")
    assert "does not say its unit" in err
    assert all(f"{unit}" in err for unit in ("24.5 mm", "24.5 cm", "24.5 in"))


def test_drawing_and_trace_are_the_same_dress(run: Run) -> None:
    drawn = {piece["name"]: piece for piece in json.loads(run("info", DRESS, "--size", "10", "--json")[1])["pieces"]}
    traced = json.loads(run("info", TRACE, "--units", "in", "--json")[1])["pieces"]
    assert sorted(piece["name"] for piece in traced) == sorted(drawn)
    for piece in traced:
        lengths = {edge["id"]: edge["length_mm"] for edge in drawn[piece["name"]]["edges"]}
        assert {edge["id"]: edge["length_mm"] for edge in piece["edges"]} == pytest.approx(lengths, abs=0.5)


def test_the_dress_and_its_alterations_pass_the_checks(run: Run) -> None:
    for words in ([], ["--journal", ODILE], ["--size", "6", "--journal", SAMPLES / "maren.json"]):
        assert run("check", DRESS, *words)[0] == 0


def test_a_finding_comes_with_its_source_and_the_step_that_puts_it_right(run: Run) -> None:
    def told(*words: object) -> dict[str, dict]:
        return {each["code"]: each for each in json.loads(run("check", DRESS, *words, "--json")[1])["findings"]}

    shoulder = ("--size", "6", "--journal", SAMPLES / "maren.json")
    corner = told(*shoulder)["corner-across-seam"]
    assert "1/16 in, common practice, from memory" in corner["source"]
    assert corner["fix"]["kind"] == "join-corner"
    assert corner["fix"]["words"].startswith(
        "Draw the armhole of the back bodice on into the armhole of the front bodice"
    )
    assert told("--journal", ODILE)["neighbour-not-changed"]["fix"] is None
    words = run("check", DRESS, *shoulder)[1]
    assert "measured 3 mm, expected 0 mm" in words
    assert "a step puts it right: Draw the armhole of the back bodice on" in words


def test_an_altered_drawing_reads_as_it_was_written(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "odile.dxf"
    assert run("alter", DRESS, "--journal", ODILE, "--out", out)[0] == 0
    altered = json.loads(run("info", DRESS, "--journal", ODILE, "--json")[1])["pieces"]
    again = {piece["name"]: piece for piece in json.loads(run("info", out, "--json")[1])["pieces"]}
    for piece in altered:
        assert again[piece["name"]]["area_mm2"] == pytest.approx(piece["area_mm2"], rel=1e-3)
        assert {edge["id"] for edge in again[piece["name"]]["edges"]} == {edge["id"] for edge in piece["edges"]}


def test_a_trace_becomes_a_drawing_that_says_its_unit(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "dress.dxf"
    assert run("convert", TRACE, out, "--units", "in")[0] == 0
    status, said, _ = run("info", out, "--json")
    assert (status, len(json.loads(said)["pieces"])) == (0, 5)


@pytest.mark.parametrize(
    "content", [b"", b"not a drawing", b"  0\nSECTION\n  2\nENTITIES\n  0\nPOLYLINE\n", b"\0" * 64]
)
def test_what_is_no_whole_drawing_is_one_sentence(run: Run, tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "broken.dxf"
    path.write_bytes(content)
    for words in (["info", path], ["check", path], ["print", path, "--out", tmp_path / "x.pdf"]):
        status, out, err = run(*words)
        assert (status, out, err.count("\n")) == (2, "", 1)
        assert "broken.dxf" in err
    assert not (tmp_path / "x.pdf").exists()


def test_the_demo_does_the_whole_job(run: Run, folder: Path) -> None:
    status, out, err = run("demo", "--no-window")
    assert (status, err) == (0, "")
    assert "Altered for Odile, toile 1:" in out
    assert "Before cutting:" in out
    assert "Measure the printed test square before you cut any paper." in out
    project = load_project(folder / "dartwise-demo" / "choir-dress.dartwise")
    assert [wearer.name for wearer in project.wearers] == ["Maren", "Odile"]
    assert project.base.source_bytes == (SAMPLES / "dress.dxf").read_bytes()
    assert len(project.wearers[1].rounds[0].records) == 4
    with pypdfium2.PdfDocument(folder / "dartwise-demo" / "odile-toile-1-a4.pdf") as pdf:
        assert len(pdf) > 10
        assert {round(size) for size in pdf[1].get_size()} == {595, 842}
        told = "".join(page.get_textpage().get_text_bounded() for page in pdf)
    assert "allowance 1.5 cm included" in told  # as everything else that the demo tells


def test_the_demo_gives_json_and_may_run_again(run: Run, folder: Path) -> None:
    for _ in range(2):
        status, out, _ = run("demo", "--no-window", "--json")
        shape = json.loads(out)
        assert (status, list(shape)) == (0, ["out", "findings"])
        assert all((folder / path).exists() for path in shape["out"])
    codes = {finding["code"] for finding in shape["findings"] if finding["level"] == "stop"}
    assert codes == set()


def test_the_demos_project_can_be_printed_and_checked(run: Run, folder: Path) -> None:
    run("demo", "--no-window")
    project = folder / "dartwise-demo" / "choir-dress.dartwise"
    assert run("check", project, "--wearer", "Maren")[0] == 0
    status, out, _ = run("print", project, "--pieces", "sleeve", "--out", "sleeve.pdf", "--json")
    assert (status, json.loads(out)["pieces"]) == (0, ["sleeve"])


def test_the_demo_opens_the_editor_where_there_is_a_display(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened: list[Path] = []
    monkeypatch.setattr(show_demo, "has_display", lambda: True)
    monkeypatch.setattr(show_demo, "open_window", opened.append)
    assert run("demo")[0] == 0
    assert opened == [show_demo.PROJECT]


def test_the_demo_without_a_display_is_done_all_the_same(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_: Path) -> int:
        raise PatternError("There is no display to open a window on.")

    monkeypatch.setattr(show_demo, "has_display", lambda: True)
    monkeypatch.setattr(show_demo, "open_window", refuse)
    status, out, err = run("demo")
    assert (status, err) == (0, "")
    assert out.endswith("The editor was not opened. There is no display to open a window on.\n")


def test_the_demo_in_a_folder_it_may_not_write_is_one_sentence(run: Run, folder: Path) -> None:
    (folder / "dartwise-demo").write_text("in the way")
    status, _, err = run("demo", "--no-window")
    assert (status, err.count("\n")) == (2, 1)
    assert "dartwise-demo" in err
