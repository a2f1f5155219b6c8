"""A dart: what it takes in, its length, how it aims and is pressed; split, merged, turned and let out from here."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QLabel, QMenu, QPushButton

from editor.panels.figures import Figures
from editor.panels.length_field import LengthField
from editor.session import Session
from editor.text import SEEN_MM
from geometry.affine import distance_mm, midpoint
from geometry.alterations.anchors import Anchor, On, anchor_at
from geometry.alterations.dart_sharing import MergeDarts
from geometry.alterations.dart_steps import AimDart, LengthenDart, MoveDart, PressDart, WidenDart
from geometry.alterations.dart_truing import TrueDart
from geometry.alterations.double_dart_steps import MoveDoubleDart, WidenDoubleDart
from geometry.alterations.edge_ends import End, neighbour
from geometry.model.dart import Dart, DoubleDart, Pressed
from geometry.model.piece import Piece


class DartSheet(Figures):
    """Every change is a step of the round.

    Signals:
        form_wanted: a small form is to be opened; its kind.
    """

    form_wanted = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__(session, "Dart")
        self._piece: Piece | None = None
        self._dart: Dart | DoubleDart | None = None
        self.intake = self.length_row("Takes in", "What the dart takes in", "Straight from leg to leg.", self._widen)
        self.length = self.length_row("Length", "Length of the dart", "From its mouth to its tip.", self._lengthen)
        self.stand_off = self.length_row(
            "Stops short by", "Stand-off of the dart", "From its tip to the body point it aims at.", self._stand_off
        )
        self.place_words = QLabel()
        self.place = LengthField("Where the dart opens", help_text="Along the sewn edge, other darts folded.")
        self.place.length_changed.connect(lambda amount: self.attempt(lambda: self._move(amount), self.place))
        self.place_words.setBuddy(self.place)
        self.rows.addRow(self.place_words, self.place)
        self.rows.addRow("", self.place.complaint)
        self.across = self.length_row(
            "Move across", "Move the dart across", "To the right; less than 0 to the left.",
            lambda by_mm: self._move_double(by_mm, 0.0),
        )  # fmt: skip
        self.upwards = self.length_row(
            "Move up",
            "Move the dart up",
            "Up the piece; less than 0 down.",
            lambda by_mm: self._move_double(0.0, by_mm),
        )
        self.pressed = QComboBox()
        self.pressed.setAccessibleName("Pressed towards")
        self.pressed.setToolTip("Which way it is pressed; the cutting line at its mouth follows")
        self.pressed.activated.connect(lambda _: self.attempt(self._press))
        self.rows.addRow("Pressed to", self.pressed)
        self.turn = self._form_button("Turn…", "Close it and open the same angle elsewhere", "dart-transfer")
        self.true = self.button("True legs", "Draw its legs equally long", self._true)
        self.split = self._form_button("Split…", "Make two darts of it", "split-dart")
        self.release = self._form_button("Let out…", "Into ease, gathers or a tuck", "release-dart")
        self.merge = self.button("Merge with", "Close it and let another dart take in as much more", lambda: None)
        self.others = QMenu(self.merge)
        self.merge.setMenu(self.others)

    def show_dart(self, piece: Piece, dart_id: str) -> None:
        """Show a dart as it is now; ``MissingPartError`` if there is none of that name."""
        double = next((dart for dart in piece.double_darts if dart.id == dart_id), None)
        dart = double or piece.dart(dart_id)
        if (self._piece and self._piece.name, self._dart and self._dart.id) != (piece.name, dart.id):
            self.forget_trouble()
        self._piece, self._dart = piece, dart
        self.heading.name.setText(dart.id)
        self.heading.set_detail(piece.name)
        if isinstance(dart, DoubleDart):
            self._show_double(dart)
        else:
            self._show_single(piece, dart)

    def _show_double(self, dart: DoubleDart) -> None:
        self._show_rows(single=False, aims=False)
        self.intake.show_length(distance_mm(dart.left, dart.right), self._session.unit)
        for field in (self.across, self.upwards):
            field.show_length(0.0, self._session.unit)

    def _show_single(self, piece: Piece, dart: Dart) -> None:
        unit = self._session.unit
        self._show_rows(single=True, aims=dart.aim is not None)
        self.intake.show_length(piece.intake_mm(dart), unit)
        self.length.show_length(distance_mm(midpoint(*piece.mouth(dart)), dart.tip), unit)
        self.place_words.setText(f"From {neighbour(piece, dart.edge, End.START).id}")
        self.place.show_length(piece.sewn_station_mm(dart.edge, dart.from_mm), unit)
        legs_mm = piece.legs_mm(dart)
        self.true.setEnabled(abs(legs_mm[0] - legs_mm[1]) >= SEEN_MM)
        if dart.aim is not None:
            self.stand_off.show_length(distance_mm(dart.tip, dart.aim), unit)
        self.pressed.clear()
        for end, way in ((End.START, Pressed.TO_START), (End.END, Pressed.TO_END)):
            self.pressed.addItem(f"the {neighbour(piece, dart.edge, end).id}", way)
        self.pressed.setCurrentIndex(self.pressed.findData(dart.pressed))
        self.others.clear()
        for other in piece.darts:
            if other.id != dart.id:
                step = MergeDarts(piece.name, dart.id, other.id)
                self.others.addAction(other.id, partial(self.attempt, partial(self._merge, step)))
        self.merge.setEnabled(not self.others.isEmpty())

    def _show_rows(self, *, single: bool, aims: bool) -> None:
        self.rows.setRowVisible(self.length, single)
        self.rows.setRowVisible(self.stand_off, aims)
        self.rows.setRowVisible(self.place, single)
        self.rows.setRowVisible(self.across, not single)
        self.rows.setRowVisible(self.upwards, not single)
        self.rows.setRowVisible(self.pressed, single)
        for button in (self.turn, self.true, self.split, self.release, self.merge):
            button.setVisible(single)

    def _form_button(self, words: str, help_text: str, kind: str) -> QPushButton:
        return self.button(words, help_text, lambda: self.form_wanted.emit(kind))

    def _widen(self, width_mm: float) -> None:
        if self._piece is None or self._dart is None:
            return
        if isinstance(self._dart, DoubleDart):
            by_mm = width_mm - distance_mm(self._dart.left, self._dart.right)
            self.do(WidenDoubleDart(self._piece.name, self._dart.id, by_mm))
        else:
            self.do(WidenDart(self._piece.name, self._dart.id, width_mm - self._piece.intake_mm(self._dart)))

    def _lengthen(self, length_mm: float) -> None:
        if self._piece is not None and isinstance(self._dart, Dart):
            now_mm = distance_mm(midpoint(*self._piece.mouth(self._dart)), self._dart.tip)
            self.do(LengthenDart(self._piece.name, self._dart.id, length_mm - now_mm))

    def _move(self, at_mm: float) -> None:
        if self._piece is not None and isinstance(self._dart, Dart):
            now_mm = self._piece.sewn_station_mm(self._dart.edge, self._dart.from_mm)
            self.do(MoveDart(self._piece.name, self._dart.id, at_mm - now_mm))

    def _move_double(self, dx_mm: float, dy_mm: float) -> None:
        if self._piece is not None and isinstance(self._dart, DoubleDart):
            self.do(MoveDoubleDart(self._piece.name, self._dart.id, dx_mm, dy_mm))

    def _true(self) -> None:
        if self._piece is not None and isinstance(self._dart, Dart):
            self.do(TrueDart(self._piece.name, self._dart.id))

    def _stand_off(self, length_mm: float) -> None:
        if self._piece is not None and isinstance(self._dart, Dart) and self._dart.aim is not None:
            self.do(AimDart(self._piece.name, self._dart.id, self._aim(self._piece, self._dart), length_mm))

    def _aim(self, piece: Piece, dart: Dart) -> Anchor:
        """The body point: as a landmark where one is marked there, else as what the dart aims at."""
        found = anchor_at(piece, dart.apex)
        return found if found.on is On.LANDMARK else Anchor(On.AIM, dart.id)

    def _press(self) -> None:
        if self._piece is not None and isinstance(self._dart, Dart):
            way = Pressed(self.pressed.currentData())
            if way is not self._dart.pressed:
                self.do(PressDart(self._piece.name, self._dart.id, way))

    def _merge(self, step: MergeDarts) -> None:
        self._session.add_step(step)
        self._session.select(piece=step.piece, dart=step.into)
