"""Finished measurement, body and ease at every level, before and after altering."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QTableWidgetItem, QVBoxLayout, QWidget

from editor.commands.registry import Desk
from editor.dialogs.rows import Rows, figure
from editor.dialogs.trouble_line import TroubleLine
from editor.document.wearing import body_of_wearer, with_ease
from editor.text import COLUMN_UNITS
from geometry.errors import PatternError
from geometry.fitting.ease import ease_row
from geometry.fitting.garment_table import Row, garment_table
from geometry.units import parse_length_mm

_COLUMNS = ("Body", "As bought", "Ease", "Altered", "Ease", "Usual ease", "You ask for", "", "Usual ease after")
_ASKED, _VERDICT, _SOURCE = 7, 8, 9


class GarmentPage(QWidget):
    """The garment beside the wearer, for the toile shown."""

    title = "Garment and body"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._session = desk, desk.session
        self._rows: tuple[Row, ...] = ()
        self._filling = False
        words = QLabel(
            "Seam to seam, darts folded, all the way round. Ease you ask for holds for this garment; left empty, the "
            "pattern's own or the usual is kept. Usual ease is for woven cloth that fits."
        )
        words.setObjectName("faint")
        words.setWordWrap(True)
        self.trouble = TroubleLine()
        self.table = Rows("Garment and body", ("", *_COLUMNS), figures=range(1, 8))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (words, self.trouble, self.table):
            layout.addWidget(widget)
        self.table.itemChanged.connect(self._typed)

    def refresh(self) -> None:
        """Show the toile as it is altered now."""
        session = self._session
        if session.project is None or session.wearer is None or session.base is None or session.pattern is None:
            return
        ease = session.project.ease
        self._rows = garment_table(body_of_wearer(session.wearer), session.base, session.pattern, ease=ease)
        self._filling = True
        self.table.head((COLUMN_UNITS[session.unit], *_COLUMNS), figures=range(1, 8))
        self.table.fill([self._texts(row) for row in self._rows])
        for number, row in enumerate(self._rows):
            asked = self.table.cell(number, _ASKED)
            asked.setFlags(asked.flags() | Qt.ItemFlag.ItemIsEditable)
            asked.setBackground(self._desk.look.colour("card"))
            if row.is_below:
                for column in (0, 5, _VERDICT):
                    self.table.cell(number, column).setForeground(self._desk.look.colour("stop"))
            self.table.cell(number, _VERDICT).setToolTip(row.words(session.unit))
            source = self.table.cell(number, _SOURCE)
            source.setForeground(self._desk.look.colour("soft"))
            source.setToolTip(source.text())
        self._filling = False

    def _texts(self, row: Row) -> tuple[str, ...]:
        asked = self._session.project.ease.mm(row.measure) if self._session.project else None
        usual = _band(*map(self._words, row.usual_mm)) if row.usual_mm else "as the body"
        figures = (row.body_mm, row.before_mm, row.ease_before_mm, row.after_mm, row.ease_after_mm)
        return (
            row.measure.value,
            *map(self._words, figures),
            usual,
            self._words(asked),
            self._verdict(row),
            ease_row(row.measure).source,
        )

    def _verdict(self, row: Row) -> str:
        """What is wrong in a few words; the whole sentence is the tip."""
        if not row.is_below or row.ease_after_mm is None:
            return ""
        if row.ease_after_mm < 0:
            return f"too small by {self._session.words(-row.ease_after_mm)}"
        return f"too little: at least {self._session.words(row.least_mm)}"

    def _words(self, mm: float | None) -> str:
        return figure(mm, self._session.unit)

    def _typed(self, item: QTableWidgetItem) -> None:
        project = self._session.project
        if self._filling or item.column() != _ASKED or project is None:
            return
        measure, text = self._rows[item.row()].measure, item.text().strip()
        try:
            ease_mm = parse_length_mm(text, default=self._session.unit) if text else None
        except PatternError as error:
            self.trouble.say(error.sentence)
            return
        self.trouble.say("")
        if self._words(project.ease.mm(measure)) != text:
            self._session.state("Change ease", with_ease(project, measure, ease_mm))


def _band(low: str, high: str) -> str:
    return low if low == high else f"{low} to {high}"
