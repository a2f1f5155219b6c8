"""Every alteration of the handbook has a drawing, words, a row of the table and a test; it is found by what is seen."""

from __future__ import annotations

import json
import re
from xml.etree import ElementTree

import pytest
from shapely import MultiLineString

from editor.cli import main
from editor.handbook import found, shape, table
from editor.text import step_sentence, step_words
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.edge_ends import End
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.registry import ENTRIES, entry_of
from geometry.units import Unit
from samples.draw_diagrams import FOLDER, diagram
from tests.geometry.handbook import test_invariants
from tests.source_files import ROOT

EVERY = [pytest.param(entry, id=entry.code) for entry in ENTRIES]
TABLE = (ROOT / "resources" / "help" / "alterations.md").read_text(encoding="utf-8")
SEEN_PX = 1.5
"""A drawing may be older than a change that nobody could see in it."""


def lines_of(drawing: str) -> MultiLineString:
    """The strokes of a drawing, its arrows left out."""
    paths = re.findall(r'<path d="M([^"Z]+)"/>', drawing)
    return MultiLineString([[tuple(map(float, pair.split(","))) for pair in path.split()] for path in paths])


def test_the_table_is_the_one_made_of_the_registry() -> None:
    assert table() == TABLE


@pytest.mark.parametrize("entry", EVERY)
def test_every_entry_has_a_row_with_its_source(entry: Entry) -> None:
    rows = [row for row in TABLE.splitlines() if row.startswith(f"| {entry.code} ")]
    assert len(rows) == 1
    assert entry.name in rows[0]
    assert entry.source in rows[0]


def test_there_is_one_drawing_for_every_entry() -> None:
    assert sorted(path.name for path in FOLDER.iterdir()) == [f"{entry.code}.svg" for entry in ENTRIES]


@pytest.mark.parametrize("entry", EVERY)
def test_every_drawing_is_the_one_made_of_the_entry(entry: Entry) -> None:
    kept = lines_of((FOLDER / f"{entry.code}.svg").read_text(encoding="utf-8"))
    assert kept.hausdorff_distance(lines_of(diagram(entry))) < SEEN_PX


@pytest.mark.parametrize("entry", EVERY)
def test_every_drawing_shows_before_and_after_in_the_colour_of_the_text(entry: Entry) -> None:
    drawing = ElementTree.parse(FOLDER / f"{entry.code}.svg").getroot()
    assert drawing.get("stroke") == "currentColor"
    widths = {group.get("stroke-width") for group in drawing.iter("{http://www.w3.org/2000/svg}g")}
    assert {"0.9", "1.9"} <= widths
    assert "#" not in (FOLDER / f"{entry.code}.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize("entry", EVERY)
def test_every_entry_is_tried_on_pieces_in_all_its_variants(entry: Entry) -> None:
    tried = {each.values[1] for each in test_invariants.BY_VARIANT if each.values[0] is entry}
    assert tried == ({variant.name for variant in entry.variants} or {""})


@pytest.mark.parametrize("entry", EVERY)
def test_every_entry_comes_first_by_its_name_and_by_its_code(entry: Entry) -> None:
    assert found(entry.name)[0] is entry
    assert found(entry.code)[0] is entry
    assert entry in found("", entry.region.value)


@pytest.mark.parametrize(
    ("words", "code"),
    [("full bust", "D01"), ("gap neck front", "B01"), ("sleeve upper arm", "I01"), ("sway", "E06"), ("knock", "J08")],
)
def test_words_of_name_and_symptom_find_an_entry(words: str, code: str) -> None:
    assert entry_of(code) in found(words)[:3]


@pytest.mark.parametrize(
    ("typed", "name"),
    [("swayback", "Sway back"), ("neckline gaping", "Front neckline gapes"), ("thin arms", "Thin arm")],
)
def test_other_endings_and_words_written_as_one_find_as_well(typed: str, name: str) -> None:
    assert found(typed)[0].name.startswith(name)


def test_words_that_fit_nothing_find_nothing() -> None:
    assert found("zzz") == ()


def test_a_recorded_alteration_is_told_by_its_name_and_way() -> None:
    assert step_words(Alteration("I01", 20.0)) == "Full upper arm: cap seam kept"
    assert step_words(Alteration("A01", -20.0)) == "Bodice length below the armhole"
    assert step_sentence(Alteration("A01", -20.0), Unit.CM) == "Bodice length below the armhole, by −2 cm"


def test_a_line_drawn_over_a_seam_of_a_piece_with_itself_names_the_piece_once() -> None:
    step = JoinCorner("sleeve", "cap", End.START, "sleeve", "cap", End.END)
    assert step_words(step) == "Draw the cap of the sleeve in one smooth line where its ends are sewn together"


def test_the_command_lists_what_each_needs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["alterations", "gapes"]) == 0
    said = capsys.readouterr().out
    assert "B01 Front neckline gapes" in said
    assert "  needs: neck edge, armhole, bust point for the bust dart" in said


def test_the_command_lists_all_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["alterations", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["alterations"] == [shape(entry) for entry in ENTRIES]


def test_the_command_says_when_nothing_is_found(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["alterations", "zzz"]) == 2
    assert capsys.readouterr().err == 'No alteration is found by "zzz"; try fewer or other words.\n'
