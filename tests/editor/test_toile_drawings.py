"""Drawings of the toile guide: one for every symptom, as the script draws it, and no two alike."""

from __future__ import annotations

import re

import pytest

from geometry.fitting.toile_reading import SYMPTOMS
from geometry.fitting.toile_signs import Symptom
from samples.draw_toiles import FOLDER, SCENES, drawing
from samples.toile_views import SIGN


@pytest.mark.parametrize("symptom", SYMPTOMS, ids=lambda symptom: symptom.name)
def test_the_drawing_of_a_symptom_is_what_the_script_draws(symptom: Symptom) -> None:
    assert (FOLDER / f"{symptom.name}.svg").read_text("utf-8") == drawing(symptom)


def test_there_are_drawings_of_symptoms_and_of_nothing_else() -> None:
    names = {symptom.name for symptom in SYMPTOMS}
    assert {path.stem for path in FOLDER.glob("*.svg")} == names == set(SCENES)


def test_no_two_symptoms_look_alike() -> None:
    signs = [tuple(re.findall(rf'd="([^"]*)"[^>]*{SIGN}', drawing(symptom))) for symptom in SYMPTOMS]
    assert all(signs)
    assert len(set(signs)) == len(signs)


@pytest.mark.parametrize("name", SCENES)
def test_what_is_to_be_seen_lies_in_the_drawing(name: str) -> None:
    """Both ends of a fold, and where an arrow points: three pixels of it may be out of sight."""
    scene = SCENES[name]
    reach = scene.window.side / 2 + 3 / scene.window.scale
    ends = [place for x0, y0, x1, y1, *_ in (*scene.folds, *scene.one, *scene.arrows) for place in ((x0, y0), (x1, y1))]
    assert all(abs(x - scene.window.x) < reach and abs(y - scene.window.y) < reach for x, y in ends)
