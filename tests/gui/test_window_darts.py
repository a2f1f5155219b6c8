"""Corners of allowances, and changes of a dart, by key in the panel of what is picked out."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from editor.panels.length_field import LengthField
from editor.session import Session
from editor.window import Window
from geometry.allowance import cutting_line
from geometry.alterations.allowance_steps import CutCorner
from geometry.alterations.anchors import Anchor, On
from geometry.alterations.dart_steps import MoveDart
from geometry.alterations.double_dart_steps import MakeDoubleDart, MoveDoubleDart
from geometry.alterations.edge_ends import End
from geometry.model.edge import CornerCut

pytestmark = pytest.mark.gui


@pytest.fixture
def session(window: Window) -> Session:
    """Maren's round, which has no steps."""
    window.session.show("1")
    return window.session


def type_into(field: LengthField, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)
    QTest.keyClick(field, Qt.Key.Key_Return)


def test_the_corner_of_a_hem_is_cut_mirrored_and_said_anew_as_one_step(window: Window, session: Session) -> None:
    session.select(piece="back skirt", edge="hem")
    sheet = window.furnishing.inspector.edge
    words, choice = sheet.corners[End.END]
    plain = cutting_line(session.pattern.piece("back skirt"))
    for cut in (CornerCut.SQUARED, CornerCut.MIRRORED):
        choice.setCurrentIndex(choice.findData(cut))
        choice.activated.emit(choice.currentIndex())
    assert [record.step for record in session.records] == [CutCorner("back skirt", "hem", End.END, CornerCut.MIRRORED)]
    assert words.text().startswith("At ")
    assert not np.array_equal(cutting_line(session.pattern.piece("back skirt")), plain)
    session.undo()
    session.undo()
    assert not session.records


def test_the_corner_at_the_fold_cannot_be_cut_otherwise(window: Window, session: Session) -> None:
    piece = next(piece for piece in session.pattern.pieces if piece.fold is not None)
    session.select(piece=piece.name, edge=piece.fold or "")
    assert not any(choice.isEnabled() for _, choice in window.furnishing.inspector.edge.corners.values())


def test_a_dart_is_moved_along_its_edge_by_typing_where_it_opens(window: Window, session: Session) -> None:
    piece = session.pattern.piece("front skirt")
    dart = piece.darts[0]
    session.select(piece=piece.name, dart=dart.id)
    sheet = window.furnishing.inspector.dart
    at_mm = sheet.place.amount
    type_into(sheet.place, f"{at_mm + 10:.3f} mm")
    (record,) = session.records
    assert record.step == MoveDart("front skirt", dart.id, pytest.approx(10.0, abs=0.01))
    moved = session.pattern.piece("front skirt").dart(dart.id)
    assert moved.from_mm - dart.from_mm == pytest.approx(10.0, abs=0.01)


def test_equal_legs_need_no_truing(window: Window, session: Session) -> None:
    piece = session.pattern.piece("front skirt")
    session.select(piece=piece.name, dart=piece.darts[0].id)
    legs = piece.legs_mm(piece.darts[0])
    assert window.furnishing.inspector.dart.true.isEnabled() == (abs(legs[0] - legs[1]) >= 0.05)


def test_a_dart_of_two_tips_is_moved_by_typing(window: Window, session: Session) -> None:
    x0, y0, x1, y1 = session.pattern.piece("back skirt").bounds_mm
    x, y = (x0 + x1) / 2, (y0 + y1) / 2
    tips = (Anchor(On.FREE, x=x, y=y - 60.0), Anchor(On.FREE, x=x, y=y + 60.0))
    session.add_step(MakeDoubleDart("back skirt", *tips, 20.0))
    dart = session.pattern.piece("back skirt").double_darts[0]
    session.select(piece="back skirt", dart=dart.id)
    type_into(window.furnishing.inspector.dart.across, "12 mm")
    assert session.records[-1].step == MoveDoubleDart("back skirt", dart.id, 12.0, 0.0)
    moved = session.pattern.piece("back skirt").double_darts[0]
    assert moved.tip_start[0] - dart.tip_start[0] == pytest.approx(12.0)
