"""The size chart of the pattern: pasted from a spreadsheet, read from a file, or measured off the pieces."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QTableWidgetItem, QVBoxLayout, QWidget

from editor.commands.registry import Desk
from editor.dialogs.rows import Rows, figure
from editor.dialogs.trouble_line import TroubleLine
from editor.document.project import Project
from editor.document.wearing import chart_of, with_chart
from editor.panels.length_field import LengthField
from editor.reading import read_limited
from editor.text import COLUMN_UNITS
from geometry.errors import PatternError
from geometry.fitting.chart_text import read_size_chart
from geometry.fitting.ease import DRAFTED_CUP_MM
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart
from geometry.units import parse_length_mm

_LARGEST_CHART_BYTES = 1024 * 1024
_USUAL = (Measure.HIGH_BUST, Measure.BUST, Measure.WAIST, Measure.HIP, Measure.BACK_LENGTH, Measure.UPPER_ARM)
"""Rows that are offered although nobody filled them in."""


class ChartPage(QWidget):
    """Bodies and finished measurements in every size."""

    title = "Size chart"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._session = desk, desk.session
        self.words, self.trouble = QLabel(), TroubleLine()
        self.words.setObjectName("faint")
        self.words.setWordWrap(True)
        self.table = Rows("Size chart", ("",))
        self.table.itemChanged.connect(self._typed)
        self._filling = False
        self._lines: tuple[ChartLine, ...] = ()
        self._begun: tuple[Measure, ...] = ()
        self.more = QComboBox()
        self.more.setAccessibleName("One more row")
        self.more.setToolTip("A further measurement of the body to type in for every size")
        self.more.activated.connect(self._begin_row)
        self.cup = LengthField("Drafted bust difference", help_text="Bust less upper chest that it was drafted for.")
        self.cup.setMaximumWidth(90)
        self.cup.length_changed.connect(self._set_cup)
        self.paste = QPushButton("&Paste from a spreadsheet")
        self.paste.setToolTip("Copy the cells there first: sizes in one row, one row for each measurement")
        self.open = QPushButton("&Open a CSV file…")
        self.clear = QPushButton("&Measured off the pieces only")
        self.clear.setToolTip("Leave out the bodies and show what the pieces measure")
        self._arrange()
        self.paste.clicked.connect(lambda: self.take_text(QGuiApplication.clipboard().text()))
        self.open.clicked.connect(
            lambda: desk.choose_file("Open a size chart", "Tables (*.csv *.txt *.tsv)", self._take_file)
        )
        self.clear.clicked.connect(lambda: self._take(None))

    def refresh(self) -> None:
        """Show the chart as it is now."""
        project = self._session.project
        if project is None:
            return
        chart = chart_of(project)
        figures = range(1, len(chart.sizes) + 1)
        self.table.head((COLUMN_UNITS[self._session.unit], *chart.sizes, ""), figures=figures)
        told = {line.measure for line in chart.body}
        offered = dict.fromkeys((*_USUAL, *self._begun))
        empty = tuple(ChartLine(each, (None,) * len(chart.sizes)) for each in offered if each not in told)
        self._lines = chart.body + empty
        self._offer_more(told | set(offered))
        rows = [
            (words + line.measure.value, *(self._words(mm) for mm in line.lengths_mm), "")
            for words, lines in (("Body: ", self._lines), ("Garment: ", chart.finished), ("Ease: ", _eases(chart)))
            for line in lines
        ]
        soft = self._desk.look.colour("soft")
        self._filling = True
        self.table.fill(rows, [None if row[0].startswith("Body") else soft for row in rows])
        for number in range(len(self._lines)):
            for column in range(1, len(chart.sizes) + 1):
                cell = self.table.cell(number, column)
                cell.setFlags(cell.flags() | Qt.ItemFlag.ItemIsEditable)
                cell.setBackground(self._desk.look.colour("card"))
        self._filling = False
        self.cup.show_length(DRAFTED_CUP_MM if chart.cup_mm is None else chart.cup_mm, self._session.unit)
        has_both = {Measure.BUST, Measure.HIGH_BUST} <= told
        self.cup.setEnabled(not has_both)
        if chart.body:
            middle = chart.drafted_cup_mm(len(chart.sizes) / 2)
            cup = f" Drafted for a bust {self._session.words(middle)} over the upper chest." if middle else ""
            self.words.setText(f"Bodies as given; the garment as the pieces measure, seam to seam, darts folded.{cup}")
        else:
            self.words.setText(
                "Nobody has said for whom the sizes were drafted. Type, paste or open the maker's chart; until then "
                "there is only what the pieces measure, seam to seam, darts folded."
            )

    def _offer_more(self, known: set[Measure]) -> None:
        self.more.clear()
        self.more.addItem("One more row…", None)
        for each in Measure:
            if each not in known:
                self.more.addItem(each.value, each)

    def _begin_row(self, row: int) -> None:
        measure = self.more.itemData(row)
        if measure is not None:
            self._begun = (*self._begun, Measure(measure))
            self.refresh()
            self.table.setCurrentCell(len(self._lines) - 1, 1)
            self.table.setFocus()

    def take_text(self, text: str) -> None:
        """Take over a chart given as text, or say where it cannot be read."""
        try:
            chart = read_size_chart(text, self._session.unit)
        except PatternError as error:
            self.trouble.say(error.sentence)
            return
        self._take(chart)

    def _take_file(self, path: Path) -> None:
        try:
            text = read_limited(path, most_bytes=_LARGEST_CHART_BYTES).decode("utf-8", errors="replace")
        except (OSError, ValueError) as error:
            self.trouble.say(getattr(error, "sentence", f"{path.name} cannot be read."))
            return
        self.take_text(text)

    def _take(self, chart: SizeChart | None) -> None:
        self.trouble.say("")
        if self._session.project is not None:
            try:
                self._session.state("Change size chart", with_chart(self._session.project, chart))
            except PatternError as error:
                self.trouble.say(error.sentence)
        self.refresh()

    def _arrange(self) -> None:
        row = QHBoxLayout()
        for button in (self.paste, self.open, self.clear):
            button.setAutoDefault(False)
            row.addWidget(button)
        row.addWidget(self.more)
        row.addStretch(1)
        drafted = QHBoxLayout()
        drafted.addWidget(QLabel("Drafted for a bust over the upper chest by"))
        drafted.addWidget(self.cup)
        drafted.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (self.words, self.trouble, self.table):
            layout.addWidget(widget, 1 if widget is self.table else 0)
        layout.addLayout(drafted)
        layout.addLayout(row)

    def _typed(self, item: QTableWidgetItem) -> None:
        project, row, place = self._session.project, item.row(), item.column() - 1
        if self._filling or project is None or row >= len(self._lines) or place < 0:
            return
        text = item.text().strip()
        try:
            mm = parse_length_mm(text, default=self._session.unit) if text else None
            if mm is not None and mm <= 0:
                raise PatternError(f'"{text}" is no length of a body; type more than 0.')
        except PatternError as error:
            self.refresh()
            self.trouble.say(error.sentence)
            return
        line = self._lines[row]
        if self._words(line.lengths_mm[place]) == text or line.lengths_mm[place] == mm:
            return
        values = (*line.lengths_mm[:place], mm, *line.lengths_mm[place + 1 :])
        changed = (*self._lines[:row], replace(line, lengths_mm=values), *self._lines[row + 1 :])
        body = tuple(each for each in changed if any(value is not None for value in each.lengths_mm))
        self._take(replace(self._own_chart(project), body=body))

    def _set_cup(self, cup_mm: float) -> None:
        if self._session.project is not None:
            self._take(replace(self._own_chart(self._session.project), cup_mm=cup_mm))

    def _own_chart(self, project: Project) -> SizeChart:
        return project.chart or SizeChart(project.base.nest.sizes)

    def _words(self, mm: float | None) -> str:
        return figure(mm, self._session.unit)


def _eases(chart: SizeChart) -> tuple[ChartLine, ...]:
    """What the garment leaves beyond the body it was drafted for."""
    made = {line.measure: line.lengths_mm for line in chart.finished}
    return tuple(
        ChartLine(line.measure, tuple(
            None if body is None or whole is None else whole - body
            for body, whole in zip(line.lengths_mm, made[line.measure], strict=True)
        ))
        for line in chart.body
        if line.measure in made
    )  # fmt: skip
