"""Which paper, how it lies, how sheets meet, and what the printer makes of 100 mm."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtCore import QLocale, QSettings, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLabel, QVBoxLayout, QWidget

from editor.panels.length_field import LengthField
from editor.printing.correction import Correction
from editor.printing.job import Orientation, PrintJob
from editor.printing.paper import PAPERS, Paper, own_size, roll
from geometry.errors import PatternError
from geometry.units import Unit

_OWN, _ROLL = "own", "roll"
_LIES: Final = {
    Orientation.AUTO: "Whichever needs fewer pages",
    Orientation.PORTRAIT: "Upright",
    Orientation.LANDSCAPE: "Across",
}


class PaperOptions(QWidget):
    """The paper and the printer.

    Signals:
        changed: something else is asked for.
    """

    changed = Signal()

    def __init__(self, settings: QSettings, unit: Unit) -> None:
        super().__init__()
        self._settings = settings
        self.paper = _box("The paper in the printer")
        self.width_field = LengthField("Width", help_text="Of a sheet or a roll of your own.")
        self.height_field = LengthField("Length", help_text="Of a sheet of your own.")
        self.lie = _box("How the sheets lie")
        self.margin = LengthField("Margin", help_text="What the printer cannot reach, on every side.")
        self.overlap = LengthField("Overlap", help_text="How far neighbouring sheets lie on each other.")
        self.butted = QCheckBox("&Trim every edge, put side by side")
        self.butted.setToolTip("Sheets are cut along every joining edge and taped edge to edge, without an overlap")
        self.side_a = LengthField("Side A", help_text="What side A of the test square measures on paper.")
        self.side_b = LengthField("Side B", help_text="What side B of the test square measures on paper.")
        self._fill(unit)
        self._arrange()
        self._connect()
        self._show_own_fields()

    def job(self) -> PrintJob:
        """What is asked for of paper and printer; raises ``PatternError`` where that cannot be."""
        return replace(
            PrintJob(),
            paper=self._paper(),
            orientation=Orientation(self.lie.currentData()),
            margin_mm=self.margin.amount,
            overlap_mm=0.0 if self.butted.isChecked() else self.overlap.amount,
            butted=self.butted.isChecked(),
            correction=Correction(self.side_a.amount, self.side_b.amount),
        )

    def take(self) -> bool:
        """Take over what is being typed; whether nothing is wrong with it."""
        for field in self._fields:
            field.take()
        return not any(field.complaint.text() for field in self._fields)

    def remember(self) -> None:
        """Keep it for the next time."""
        for name, value in (
            ("paper", self.paper.currentData()),
            ("lie", self.lie.currentData()),
            ("margin_mm", self.margin.amount),
            ("overlap_mm", self.overlap.amount),
            ("butted", int(self.butted.isChecked())),
            ("side_a_mm", self.side_a.amount),
            ("side_b_mm", self.side_b.amount),
            ("own_width_mm", self.width_field.amount),
            ("own_length_mm", self.height_field.amount),
        ):
            self._settings.setValue(f"print/{name}", value)

    # -- inside

    @property
    def _fields(self) -> tuple[LengthField, ...]:
        return (self.width_field, self.height_field, self.margin, self.overlap, self.side_a, self.side_b)

    def _paper(self) -> Paper:
        kind = str(self.paper.currentData())
        if kind == _ROLL:
            return roll(self.width_field.amount)
        return own_size(self.width_field.amount, self.height_field.amount) if kind == _OWN else PAPERS[kind]

    def _fill(self, unit: Unit) -> None:
        for key, paper in PAPERS.items():
            self.paper.addItem(paper.name, key)
        self.paper.addItem("Sheets of my own size", _OWN)
        self.paper.addItem("A roll", _ROLL)
        for way, words in _LIES.items():
            self.lie.addItem(words, way.value)
        metric = QLocale().measurementSystem() is QLocale.MeasurementSystem.MetricSystem
        self._pick(self.paper, "paper", "a4" if metric else "letter")
        self._pick(self.lie, "lie", Orientation.AUTO.value)
        self.butted.setChecked(self._kept("butted", 0.0) > 0)
        usual = PrintJob()
        for field, name, length_mm in (
            (self.margin, "margin_mm", usual.margin_mm),
            (self.overlap, "overlap_mm", usual.overlap_mm),
            (self.width_field, "own_width_mm", 914.0),
            (self.height_field, "own_length_mm", 1200.0),
        ):
            field.show_length(self._kept(name, length_mm), unit)
        for field, name in ((self.side_a, "side_a_mm"), (self.side_b, "side_b_mm")):
            # The square is measured in millimetres whatever the pattern is drawn in.
            field.show_length(self._kept(name, usual.correction.a_mm), Unit.MM)
        self.overlap.setEnabled(not self.butted.isChecked())

    def _pick(self, box: QComboBox, name: str, usual: str) -> None:
        box.setCurrentIndex(max(box.findData(self._settings.value(f"print/{name}", usual)), 0))

    def _kept(self, name: str, usual: float) -> float:
        try:
            return float(str(self._settings.value(f"print/{name}", usual)))
        except ValueError:
            return usual

    def _arrange(self) -> None:
        rows = QFormLayout()
        rows.setVerticalSpacing(7)
        self._rows = rows
        for words, field in (
            ("Pape&r", self.paper),
            ("Wi&dth", self.width_field),
            ("Len&gth", self.height_field),
            ("Sheets &lie", self.lie),
            ("&Margin", self.margin),
            ("&Overlap", self.overlap),
        ):
            self._add_row(words, field)
        rows.addRow(self.butted)
        correcting = QLabel("Printer correction: what the 100 mm square on page one measures, printed without it.")
        correcting.setWordWrap(True)
        correcting.setObjectName("faint")
        rows.addRow(correcting)
        self._add_row("Side &A", self.side_a)
        self._add_row("Side &B", self.side_b)
        whole = QVBoxLayout(self)
        whole.addLayout(rows)
        whole.addStretch(1)

    def _add_row(self, words: str, field: QWidget) -> None:
        self._rows.addRow(words, field)
        if isinstance(field, LengthField):
            self._rows.addRow(field.complaint)

    def _connect(self) -> None:
        for box in (self.paper, self.lie):
            box.currentIndexChanged.connect(self._tell)
        self.butted.toggled.connect(self._tell)
        for field in self._fields:
            field.length_changed.connect(lambda amount, field=field: self._take(field, amount))

    def _tell(self) -> None:
        self._show_own_fields()
        self.overlap.setEnabled(not self.butted.isChecked())
        self.changed.emit()

    def _show_own_fields(self) -> None:
        kind = self.paper.currentData()
        self._rows.setRowVisible(self.width_field, kind in (_OWN, _ROLL))
        self._rows.setRowVisible(self.height_field, kind == _OWN)
        self._rows.setRowVisible(self.lie, kind != _ROLL)

    def _take(self, field: LengthField, amount: float) -> None:
        before = field.amount
        field.accept_amount(amount)
        try:
            self.job().formats  # noqa: B018 - refuses what leaves no room
        except PatternError as error:
            field.accept_amount(before)
            field.complain(error.sentence)
            return
        self.changed.emit()


def _box(help_text: str) -> QComboBox:
    box = QComboBox()
    box.setToolTip(help_text)
    box.setMinimumWidth(60)
    return box
