"""The size chart of the pattern: pasted from a spreadsheet, read from a file, or measured off the pieces."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from editor.commands.registry import Desk
from editor.dialogs.rows import Rows
from editor.dialogs.trouble_line import TroubleLine
from editor.document.wearing import chart_of, with_chart
from editor.reading import read_limited
from geometry.errors import PatternError
from geometry.fitting.chart_text import read_size_chart
from geometry.fitting.size_chart import SizeChart

_LARGEST_CHART_BYTES = 1024 * 1024


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
        self.paste = QPushButton("&Paste from a spreadsheet")
        self.paste.setToolTip("Copy the cells there first: sizes in one row, one row for each measurement")
        self.open = QPushButton("&Open a CSV file…")
        self.clear = QPushButton("&Measured off the pieces only")
        self.clear.setToolTip("Leave out the bodies and show what the pieces measure")
        row = QHBoxLayout()
        for button in (self.paste, self.open, self.clear):
            button.setAutoDefault(False)
            row.addWidget(button)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (self.words, self.trouble, self.table):
            layout.addWidget(widget, 1 if widget is self.table else 0)
        layout.addLayout(row)
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
        self.table.head(("", *chart.sizes, ""))
        rows = [
            (words + line.measure.value, *(self._words(mm) for mm in line.lengths_mm), "")
            for words, lines in (("Body: ", chart.body), ("Garment: ", chart.finished))
            for line in lines
        ]
        soft = self._desk.look.colour("soft")
        self.table.fill(rows, [None if row[0].startswith("Body") else soft for row in rows])
        if chart.body:
            middle = chart.drafted_cup_mm(len(chart.sizes) / 2)
            cup = f" Drafted for a bust {self._session.words(middle)} over the upper chest." if middle else ""
            self.words.setText(f"Bodies as given; the garment as the pieces measure, seam to seam, darts folded.{cup}")
        else:
            self.words.setText(
                "Nobody has said for whom the sizes were drafted. Paste or open the maker's chart; until then there is "
                "only what the pieces measure, seam to seam, darts folded."
            )

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

    def _words(self, mm: float | None) -> str:
        return "" if mm is None else self._session.words(mm)
