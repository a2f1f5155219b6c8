from __future__ import annotations

import importlib
import json
import pkgutil
from dataclasses import fields, is_dataclass
from typing import Any

import pytest

import geometry.alterations
from editor.document.journal import OWN_FIELDS, journal_bytes, plain_record, read_journal
from geometry.alterations.anchors import free, on_edge
from geometry.alterations.kinds import STEP_KINDS
from geometry.alterations.replay import Record
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.errors import PatternError

CUT = SlashCut((on_edge("waist", 0.5), free((1.5, -2.25))), 12.7, Hinge.END, Side.RIGHT)
RECORDS = (
    Record("1", Slash("front skirt", (CUT,)), note='room over the hip, 1/2"'),
    Record("7", Slash("back skirt", (CUT, SlashCut(CUT.line, None))), on=False),
)


def document(**changed: Any) -> dict[str, Any]:
    step = {
        "kind": "slash",
        "piece": "front skirt",
        "cuts": [
            {
                "line": [{"on": "edge", "name": "waist", "share": 0.5}, {"on": "edge", "name": "hem", "share": 0.5}],
                "opening_mm": 20,
            }
        ],
    }
    return {"format": "dartwise-journal", "version": 1, "steps": [step | changed]}


def read(plain: object) -> tuple[Record, ...]:
    return read_journal(json.dumps(plain).encode(), name="steps.json")


def refusal(plain: object) -> str:
    with pytest.raises(PatternError) as refused:
        read(plain)
    return refused.value.sentence


def test_a_journal_written_and_read_again_is_the_same() -> None:
    assert read_journal(journal_bytes(RECORDS), name="steps.json") == RECORDS


def test_a_written_journal_has_the_published_shape() -> None:
    plain = json.loads(journal_bytes(RECORDS))
    assert (plain["format"], plain["version"]) == ("dartwise-journal", 1)
    first = plain["steps"][0]
    assert list(first)[:4] == ["id", "kind", "on", "note"]
    assert (first["id"], first["kind"], first["on"], first["piece"]) == ("1", "slash", True, "front skirt")
    cut = first["cuts"][0]
    assert cut["line"][0] == {"on": "edge", "name": "waist", "share": 0.5, "x": 0.0, "y": 0.0}
    assert (cut["opening_mm"], cut["hinge"], cut["moving"]) == (12.7, "end", "right")


def test_a_short_entry_is_enough_and_gets_a_number() -> None:
    (record,) = read(document())
    assert (record.id, record.on, record.note) == ("1", True, "")
    assert record.step.amount_mm == 20.0


@pytest.mark.parametrize(
    ("changed", "part_of_sentence"),
    [
        ({"piece": 5}, "steps[0].piece: expected text, got a whole number."),
        ({"kind": "stretch"}, 'steps[0].kind: there is no kind of step called "stretch"; there are '),
        ({"note": None}, "steps[0].note: expected text, got nothing (null)."),
        ({"on": "yes"}, "steps[0].on: expected true or false, got text."),
        ({"opening": 3}, "steps[0].opening: this field is not known; a step of kind"),
        ({"cuts": [{"line": [], "opening_mm": "wide"}]}, "steps[0].cuts[0].opening_mm: expected a number or nothing"),
        ({"cuts": [{"line": [], "opening_mm": 1, "hing": "end"}]}, "steps[0].cuts[0].hing: this field is not known"),
        ({"cuts": [{"line": []}]}, "steps[0].cuts[0].opening_mm: is missing."),
        ({"cuts": [{"line": [], "opening_mm": 1, "hinge": "middle"}]}, 'steps[0].cuts[0].hinge: the word "middle"'),
        ({"cuts": [{"line": [{"on": "edge", "share": True}], "opening_mm": 1}]}, "line[0].share: expected a number"),
        ({"cuts": 3}, "steps[0].cuts: expected a list, got a whole number."),
    ],
)
def test_a_wrong_field_is_named(changed: dict[str, Any], part_of_sentence: str) -> None:
    sentence = refusal(document(**changed))
    assert sentence.startswith("The journal steps.json cannot be used: steps[0].")
    assert part_of_sentence in sentence


@pytest.mark.parametrize(
    ("plain", "part_of_sentence"),
    [
        ([], 'format: expected "dartwise-journal"'),
        ({"format": "dartwise-journal", "steps": []}, "version: expected 1"),
        ({"format": "dartwise-journal", "version": 2, "steps": []}, "use a newer Dartwise"),
        ({"format": "dartwise-journal", "version": 1, "steps": {}}, "steps: expected a list"),
        ({"format": "dartwise-journal", "version": 1, "steps": [3]}, "steps[0]: expected named values"),
        ({"format": "dartwise-journal", "version": 1, "steps": [{}]}, "steps[0].kind: is missing"),
    ],
)
def test_what_is_no_journal_is_refused_with_a_sentence(plain: object, part_of_sentence: str) -> None:
    assert part_of_sentence in refusal(plain)


def test_an_id_used_twice_is_refused() -> None:
    plain = document(id="1")
    assert 'steps[1].id: "1" is used twice' in refusal(plain | {"steps": plain["steps"] * 2})


@pytest.mark.parametrize(
    ("data", "part_of_sentence"),
    [
        (b"", "it ends too early"),
        (b'{\n "format": nothing}', "line 2 cannot be read"),
        (b"\xff\xfe", "line 1 cannot be read"),
        (b"[" * 100_000, "nested too deeply"),
        (json.dumps(document()).replace("20", "1e999").encode(), "A number is too large"),
        (json.dumps(document()).replace("20", "NaN").encode(), "cannot be read"),
    ],
)
def test_what_is_no_json_is_refused_with_a_sentence(data: bytes, part_of_sentence: str) -> None:
    with pytest.raises(PatternError, match=r"^The journal steps\.json cannot be used: ") as refused:
        read_journal(data, name="steps.json")
    assert part_of_sentence in refused.value.sentence


def test_every_kind_of_step_there_is_can_stand_in_a_journal() -> None:
    modules = [
        importlib.import_module(f"geometry.alterations.{module.name}")
        for module in pkgutil.iter_modules(geometry.alterations.__path__)
    ]
    made = {
        each for module in modules for each in vars(module).values() if isinstance(each, type) and is_dataclass(each)
    }
    assert {each for each in made if hasattr(each, "kind") and hasattr(each, "apply")} == set(STEP_KINDS.values())


def test_no_parameter_of_a_step_has_the_name_of_a_field_of_the_entry() -> None:
    for step_class in STEP_KINDS.values():
        assert not {field.name for field in fields(step_class)} & set(OWN_FIELDS)  # type: ignore[arg-type]


def test_every_step_in_the_journal_tells_its_kind() -> None:
    assert [plain_record(record)["kind"] for record in RECORDS] == ["slash", "slash"]
