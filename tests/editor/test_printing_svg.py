"""Pages as drawings: their size, their scale, their layers, their words."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.job import PrintJob, SheetPlan
from editor.printing.picture import LAYERS
from editor.printing.planning import plan
from editor.printing.svg import svg_of, write_svg_pages
from geometry.errors import PatternError
from tests.editor.printed_pieces import small_pictures

SVG = "{http://www.w3.org/2000/svg}"


def made_with(correction: Correction = NO_CORRECTION) -> SheetPlan:
    return plan(small_pictures(), PrintJob(title="Kleid & Rock", correction=correction))


@pytest.mark.parametrize("correction", [NO_CORRECTION, Correction(98.0, 101.0)])
def test_a_page_has_the_size_of_the_sheet_and_its_squares_are_100_mm_on_paper(correction: Correction) -> None:
    made = made_with(correction)
    root = ElementTree.fromstring(svg_of(made, made.pages[0]))
    width, height = made.page.sent_mm
    assert (root.get("width"), root.get("height")) == (f"{width:g}mm", f"{height:g}mm")
    assert root.get("viewBox") == f"0 0 {width:g} {height:g}"
    across, _, _, up, *_ = map(float, re.findall(r"[-.\d]+", root.find(f"{SVG}g").get("transform")))
    sides = []
    for polygon in root.iter(f"{SVG}polygon"):
        points = np.array([tuple(map(float, pair.split(","))) for pair in polygon.get("points").split()])
        size = np.ptp(points, axis=0) * (across, -up) * made.page.printed
        sides.append(tuple(size.round(3)))
    assert (100.0, 100.0) in sides
    assert (101.6, 101.6) in sides


def test_lines_of_the_pattern_are_grouped_and_words_can_be_searched() -> None:
    made = made_with()
    sheets = [ElementTree.fromstring(svg_of(made, page)) for page in made.pages]
    groups = {group.get("id") for sheet in sheets[1:] for group in sheet.iter(f"{SVG}g")} - {None}
    drawn = {LAYERS[stroke.kind].lower().replace(" ", "-") for stroke in made.drawing.strokes}
    assert groups == drawn | {"words"}
    words = " ".join(text.text for sheet in sheets for text in sheet.iter(f"{SVG}text"))
    assert "Front bodice" in words
    assert "Kleid & Rock" in words


def test_every_page_is_a_file_named_after_its_sheet(tmp_path: Path) -> None:
    made = made_with()
    files = write_svg_pages(made, tmp_path / "dress.svg")
    assert sorted(tmp_path.iterdir()) == sorted(files)
    assert files[0].name == "dress-01.svg"
    assert files[1].name == "dress-02-A1.svg"
    assert len(files) == len(made.pages)


def test_stopping_takes_away_what_was_written(tmp_path: Path) -> None:
    assert write_svg_pages(made_with(), tmp_path / "dress.svg", progress=lambda done, _: done < 2) == ()
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_gets_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(PatternError, match="nowhere"):
        write_svg_pages(made_with(), tmp_path / "nowhere" / "dress.svg")
