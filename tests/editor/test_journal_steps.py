"""Steps on darts, edges, seams, notches and allowances written to a journal and read again."""

from __future__ import annotations

import json

import pytest

from editor.document.journal import journal_bytes, read_journal
from editor.text import has_amount, step_sentence
from geometry.alterations.allowance_steps import CutCorner, SetAllowance
from geometry.alterations.anchors import Anchor, On, free, on_edge
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.dart_release import Release, ReleaseDart
from geometry.alterations.dart_sharing import MergeDarts, SplitDart
from geometry.alterations.dart_steps import AimDart, LengthenDart, MakeDart, MoveDart, PressDart, WidenDart
from geometry.alterations.double_dart_steps import MakeDoubleDart, MoveDoubleDart, WidenDoubleDart
from geometry.alterations.edge_ends import End
from geometry.alterations.edge_steps import BlendEdge, Hold, SquareCorner, StraightenCentre, StraightenEdge
from geometry.alterations.notch_steps import AddNotch, MoveNotch, RemoveNotch
from geometry.alterations.replay import Record
from geometry.alterations.seam_steps import LevelHem, MatchDart, MatchNotch, ShareDifference
from geometry.alterations.step import Step
from geometry.model.dart import Pressed
from geometry.model.edge import CornerCut
from geometry.model.marks import NotchKind
from geometry.units import Unit

BUST = Anchor(On.LANDMARK, "bust point")

STEPS: tuple[Step, ...] = (
    MakeDart("front", on_edge("side", 0.25), BUST, 30.5, "side dart", True, 38.1),
    MoveDart("front", "side dart", -12.25),
    WidenDart("front", "side dart", 6.0),
    LengthenDart("front", "side dart", -10.0),
    AimDart("front", "side dart", BUST, 25.4),
    PressDart("front", "side dart", Pressed.TO_END),
    SplitDart("front", "side dart", 20.0, 0.4, "lower dart"),
    MergeDarts("front", "lower dart", "side dart"),
    ReleaseDart("front", "waist dart", Release.GATHERS, 45.0),
    MakeDoubleDart("front", free((10.0, 20.0)), free((10.0, 220.5)), 15.0, "fish"),
    MoveDoubleDart("front", "fish", 1.5, -2.5),
    WidenDoubleDart("front", "fish", 3.0),
    StraightenEdge("front", "side", on_edge("side", 0.0), on_edge("side", 1.0)),
    BlendEdge("front", "armhole", on_edge("armhole", 0.5), 40.0),
    SquareCorner("front", "neck", End.END, 9.525, 30.0),
    JoinCorner("front", "armhole", End.START, "back", "armhole", End.END, 35.0, True),
    LevelHem("skirt", "hem", End.END, "back skirt", "side", 1.5, 12.0, 50.0),
    StraightenCentre("front", "centre front", Hold.START),
    MoveNotch("front", "bust", 4.0, on_edge("side", 0.5)),
    MoveNotch("front", "bust", 4.0),
    AddNotch("front", on_edge("side", 0.5), 2.0, "level", NotchKind.V, "level", 5.0, 3.0),
    RemoveNotch("front", "level"),
    ShareDifference("front", "side", End.START, "back", "side", End.END, 0.25, 3.0),
    MatchDart("front", "waist dart", "skirt", "waist dart", End.END, -1.0),
    MatchNotch("sleeve", "top", "front", "", End.START, 15.0),
    SetAllowance("skirt", "hem", 50.8),
    CutCorner("skirt", "hem", End.END, CornerCut.MIRRORED),
)


def test_steps_come_back_as_they_were_written() -> None:
    records = tuple(Record(str(number), step) for number, step in enumerate(STEPS, start=1))
    assert read_journal(journal_bytes(records), name="steps.json") == records


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.kind)
def test_a_step_is_plain_values_and_told_in_words_of_its_own(step: Step) -> None:
    (entry,) = json.loads(journal_bytes((Record("1", step),)))["steps"]
    assert entry["kind"] == step.kind
    sentence = step_sentence(step, Unit.MM)
    assert step.piece_names[0] in sentence
    assert step.kind.replace("-", " ") + "," not in sentence.lower()
    assert sentence.endswith("mm") is has_amount(step)
