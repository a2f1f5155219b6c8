"""``dartwise print`` and ``dartwise sheet`` with their options."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

import samples
from editor.cli import main
from editor.document.project_file import save_project
from editor.printing import packing
from geometry.fitting.levels import SizeBlend
from tests.editor.pdf_reading import page_text
from tests.gui.choir import choir

DRESS = str(Path(samples.__file__).parent / "dress.dxf")
ODILE = str(Path(samples.__file__).parent / "odile.json")
ONE = ("--pieces", "back skirt", "--quick")


def told(capsys: pytest.CaptureFixture[str], *words: object) -> dict:
    status = main([str(word) for word in (*words, "--json")])
    out, err = capsys.readouterr()
    assert status in (0, 1), err
    return json.loads(out)


def test_what_is_filled_and_the_least_that_could_be_are_told(capsys, tmp_path: Path) -> None:
    found = told(capsys, "print", DRESS, *ONE, "--out", tmp_path / "x.pdf")
    assert found["least_sheets"] <= found["sheets"] == found["pages"] - 1
    assert 0 < found["fill"] <= 1


def test_pieces_are_left_out_doubled_paired_and_unfolded(capsys, tmp_path: Path) -> None:
    words = (
        "--leave-out",
        "sleeve",
        "back bodice",
        "--twice",
        "back skirt",
        "--pairs",
        "front skirt",
        "--whole",
        "front bodice",
    )
    found = told(capsys, "print", DRESS, *words, "--quick", "--paper", "a0", "--out", tmp_path / "x.pdf")
    assert found["pieces"] == [
        "front bodice",
        "front skirt",
        "front skirt, mirrored",
        "back skirt, copy 1 of 2",
        "back skirt, copy 2 of 2",
    ]


def test_a_correction_a_roll_and_butted_sheets_are_taken(capsys, tmp_path: Path) -> None:
    path = tmp_path / "x.pdf"
    told(capsys, "print", DRESS, *ONE, "--measured", "98.5", "101", "--butt", "--out", path)
    assert "corrected for A 98.5, B 101 mm" in page_text(path, 1)
    assert "Cut every edge that has scissors" in page_text(path, 0)
    found = told(capsys, "print", DRESS, *ONE, "--paper", "roll 914", "--out", path)
    assert found["pages"] == 1
    with pikepdf.open(path) as pdf:
        width, _ = [float(side) * 25.4 / 72 for side in pdf.pages[0].mediabox[2:]]
    assert width == pytest.approx(914.0)


def test_alteration_lines_can_be_left_out(capsys, tmp_path: Path) -> None:
    layers = []
    for more in ((), ("--no-alteration-lines",)):
        path = tmp_path / "x.pdf"
        told(capsys, "print", DRESS, "--journal", ODILE, "--quick", *more, "--out", path)
        with pikepdf.open(path) as pdf:
            layers.append({str(layer.Name) for layer in pdf.Root.OCProperties.OCGs})
    assert layers[0] - layers[1] == {"Alteration lines"}


def test_further_sizes_become_layers(capsys, tmp_path: Path) -> None:
    path = tmp_path / "x.pdf"
    told(capsys, "print", DRESS, *ONE, "--sizes", "8", "14", "--out", path)
    with pikepdf.open(path) as pdf:
        names = {str(layer.Name) for layer in pdf.Root.OCProperties.OCGs}
    assert {"Size 10", "Size 8", "Size 14"} <= names


def test_further_sizes_beside_a_blend_are_said_to_be_whole_ones(capsys, tmp_path: Path) -> None:
    """On the piece and on the terminal; beside a whole size there is nothing to say."""
    project = choir()
    wearer = replace(project.wearers[0], sizes=SizeBlend(0.0, 0.0, 1.0, 1.0, 0.0, 0.0))
    saved, path = tmp_path / "x.dartwise", tmp_path / "x.pdf"
    save_project(project.with_wearer(wearer), saved)
    found = told(capsys, "print", saved, "--wearer", wearer.name, *ONE, "--sizes", "14", "--out", path)
    (note,) = [finding["text"] for finding in found["findings"] if finding["code"] == "whole-sizes"]
    assert "blend of sizes (12-14)" in note
    assert "size 14 is a whole size" in note
    pages = "".join(page_text(path, number) for number in range(found["pages"]))
    assert "blend of sizes 12-14, whole size 14" in " ".join(pages.split())
    found = told(capsys, "print", DRESS, *ONE, "--sizes", "8", "--out", path)
    assert not [finding for finding in found["findings"] if finding["code"] == "whole-sizes"]


def test_a_drawing_per_page_is_written_for_an_svg(capsys, tmp_path: Path) -> None:
    found = told(capsys, "print", DRESS, *ONE, "--out", tmp_path / "x.svg")
    assert len(list(tmp_path.glob("x-*.svg"))) == found["pages"]


def test_the_search_is_made_unless_it_is_not_wanted(capsys, monkeypatch, tmp_path: Path) -> None:
    monkeypatch.setattr(packing, "_PLACINGS", 20)
    words = ("print", DRESS, "--pieces", "sleeve", "back bodice", "--out", tmp_path / "x.pdf")
    quick, searched = (told(capsys, *words, *more)["sheets"] for more in (("--quick",), ()))
    assert searched <= quick


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--measured", "90", "100"), "Side A of the 100 mm square is said to measure 90 mm"),
        (("--overlap", "10", "--butt"), "Sheets that are trimmed and put side by side do not overlap"),
        (("--paper", "papyrus"), 'There is no paper called "papyrus"'),
        (("--pieces", "cuff"), 'There is no piece called "cuff" to print'),
        (("--leave-out", "sleeve", "--twice", "sleeve"), 'The piece "sleeve" is to be left out and printed'),
        (("--sizes", "99"), 'There is no size called "99"'),
    ],
)
def test_what_cannot_be_printed_is_one_sentence(capsys, tmp_path: Path, words: tuple[str, ...], sentence: str) -> None:
    assert main(["print", DRESS, *words, "--quick", "--out", str(tmp_path / "x.pdf")]) == 2
    assert capsys.readouterr().err.startswith(sentence)
    assert list(tmp_path.iterdir()) == []


def test_the_sheet_tells_the_steps(capsys, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    found = told(capsys, "sheet", DRESS, "--journal", ODILE, "--paper", "letter", "--out", path)
    assert found["steps"] == 4
    with pikepdf.open(path) as pdf:
        assert len(pdf.pages) == found["pages"]
    words = "".join(page_text(path, index) for index in range(found["pages"]))
    assert "Full bust, darted front: waist and side dart, by 12.7 mm" in words
    assert "Spread the first cut until its edges are 12.7 mm" in words
