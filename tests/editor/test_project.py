from __future__ import annotations

from dataclasses import replace

import pytest

from editor.document.project import Measurement, Round, Wearer, new_project, next_id
from geometry.errors import MissingPartError
from tests.editor.project_samples import project


def test_a_new_project_has_one_wearer_in_the_sample_size_and_one_round_without_steps() -> None:
    made = new_project(project().base, date="2026-05-17")
    (wearer,) = made.wearers
    assert (wearer.size, wearer.rounds) == ("38", (Round("1", "toile 1", "2026-05-17"),))
    assert made.replayed(wearer.id, "1").pattern is made.base.nest.sample


def test_a_round_shows_the_wearers_size_with_the_journal_carried_out() -> None:
    shown = project().replayed("2", "1")
    assert project().start("2").size == "40"
    before = project().start("2").piece("front skirt").edge("hem").length_mm
    assert shown.pattern.piece("front skirt").edge("hem").length_mm > before + 30


def test_changing_a_journal_leaves_everything_else_the_same_object() -> None:
    before = project()
    after = before.with_records("2", "2", before.wearer("2").round("1").records)
    assert after.base is before.base
    assert after.wearers[0] is before.wearers[0]
    assert after.wearer("2").rounds[0] is before.wearer("2").rounds[0]
    assert after.wearer("2").round("2").records == before.wearer("2").round("1").records


def test_an_unknown_id_adds_at_the_end() -> None:
    third = Wearer("3", "Ida", "40", (Round("1", "toile 1"),))
    assert [wearer.name for wearer in project().with_wearer(third).wearers] == ["Maren", "Odile", "Ida"]
    assert third.with_round(Round("2", "toile 2")).rounds[-1].name == "toile 2"


def test_asking_for_what_is_not_there_names_what_is() -> None:
    with pytest.raises(MissingPartError, match=r'no wearer with the id "9"; there is "1", "2"\.'):
        project().wearer("9")
    with pytest.raises(MissingPartError, match=r'no round of "Odile" with the id "9"; there is "1", "2"\.'):
        project().wearer("2").round("9")


def test_the_next_id_is_after_the_largest_number() -> None:
    assert next_id([]) == "1"
    assert next_id(["2", "10", "a", "٣"]) == "11"


def test_earlier_measurements_are_kept_beside_later_ones() -> None:
    odile = project().wearer("2")
    later = replace(odile, measurements=(*odile.measurements, Measurement("waist girth", 800.0, "2026-06-01")))
    assert [taken.length_mm for taken in later.measurements] == [801.5, 804.0, 800.0]
