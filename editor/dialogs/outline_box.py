"""What the only outline of a drawing is: the stitching line, with allowances to be added, or the cutting line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtWidgets import QButtonGroup, QGridLayout, QGroupBox, QLabel, QRadioButton

from editor.panels.length_field import LengthField
from geometry.allowance import HEM_MM
from geometry.units import Unit

SEAM_MM: Final = 15.0
"""What most bought patterns include (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Stated:
    """What the import is told: the widths taken off the cutting line or added to the stitching line, mm."""

    allowance_mm: float | None = None
    add_mm: float | None = None
    hem_mm: float | None = None


class OutlineBox(QGroupBox):
    """Three answers and the widths of seams and hems, in the unit of the window."""

    def __init__(self, unit: Unit) -> None:
        super().__init__("Only one outline came in. It is")
        self._unit = unit
        self.stitching = QRadioButton("the &stitching line; leave it without allowances")
        self.adding = QRadioButton("the stitching line; &add allowances")
        self.cutting = QRadioButton("the c&utting line, its allowances included")
        self.allowance = LengthField("Allowance of seams", help_text="Between stitching line and cutting line.")
        self.hem = LengthField("Allowance of hems", help_text="Hems are turned up and need more.")
        group = QButtonGroup(self)
        grid = QGridLayout(self)
        grid.setVerticalSpacing(6)
        for row, button in enumerate((self.adding, self.stitching, self.cutting)):
            group.addButton(button)
            grid.addWidget(button, row, 0, 1, 4)
        for column, widget in enumerate((QLabel("Seams"), self.allowance, QLabel("hems"), self.hem)):
            grid.addWidget(widget, 3, column)
        grid.addWidget(self.allowance.complaint, 4, 0, 1, 4)
        grid.addWidget(self.hem.complaint, 5, 0, 1, 4)
        self.allowance.show_length(SEAM_MM, self._unit)
        self.hem.show_length(HEM_MM, self._unit)
        for field in (self.allowance, self.hem):
            field.length_changed.connect(lambda amount, field=field: _take(field, amount))
        self.stitching.toggled.connect(self._enable)
        self.cutting.toggled.connect(self._begin_cutting)
        self.adding.setChecked(True)

    @property
    def stated(self) -> Stated:
        """The answer."""
        if self.stitching.isChecked():
            return Stated()
        if self.cutting.isChecked():
            return Stated(allowance_mm=self.allowance.amount, hem_mm=self.hem.amount)
        return Stated(add_mm=self.allowance.amount, hem_mm=self.hem.amount)

    @property
    def is_wrong(self) -> bool:
        """Whether a width is typed that is none."""
        for field in (self.allowance, self.hem):
            field.take()
        return bool(self.allowance.complaint.text() or self.hem.complaint.text())

    def _enable(self) -> None:
        for field in (self.allowance, self.hem):
            field.setEnabled(not self.stitching.isChecked())

    def _begin_cutting(self, is_cutting: bool) -> None:
        """Drawn hems are most often as wide as what was drawn says; nothing is guessed beyond the seams."""
        if is_cutting and self.hem.amount == HEM_MM:
            self.hem.show_length(self.allowance.amount, self._unit)
        elif not is_cutting and self.hem.amount == self.allowance.amount:
            self.hem.show_length(HEM_MM, self._unit)


def _take(field: LengthField, amount_mm: float) -> None:
    if amount_mm < 0:
        field.complain("Type an allowance of 0 or more.")
    else:
        field.accept_amount(amount_mm)
