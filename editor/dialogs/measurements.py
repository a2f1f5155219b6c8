"""A wearer's measurements: one row each, with where the tape goes, when and by whom it was taken."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.body_figure import BodyFigure
from editor.dialogs.rows import figure
from editor.dialogs.trouble_line import TroubleLine
from editor.document.rounds import day_in
from editor.document.wearing import body_of_wearer, case_of, with_measurements, without_latest
from editor.text import COLUMN_UNITS
from geometry.errors import PatternError
from geometry.fitting.advice import unanswered
from geometry.fitting.body import Body, Hand, Taken
from geometry.fitting.measures import PREPARATION, TAPES, Measure, Tape, tape_of
from geometry.fitting.plausibility import questions
from geometry.units import parse_length_mm

_COLUMNS = ("Now", "Left", "Right", "Taken", "By", "Earlier")
_HANDS = {1: Hand.BOTH, 2: Hand.LEFT, 3: Hand.RIGHT}
_NO_EDIT = ~Qt.ItemFlag.ItemIsEditable
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class MeasurementsPage(QWidget):
    """Type what the tape shows; earlier values stay in the file."""

    title = "Measurements"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._session = desk, desk.session
        self._filling = False
        self.day = QLineEdit(date.today().isoformat())
        self.day.setMaximumWidth(120)
        self.day.setToolTip("The day of what is typed now, as 2026-05-17")
        self.by = QLineEdit()
        self.by.setPlaceholderText("who measured")
        self.by.setToolTip("Who held the tape")
        self.table = QTableWidget(len(TAPES), 1 + len(_COLUMNS))
        self.table.setAccessibleName("Measurements")
        self.table.verticalHeader().hide()
        self.table.setShowGrid(False)
        self.table.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(6, QHeaderView.ResizeMode.Stretch)
        self.figure = BodyFigure(desk.look)
        self.name, self.how, self.used, self.asked, self.past = QLabel(), QLabel(), QLabel(), QLabel(), QLabel()
        self.trouble = TroubleLine()
        self.name.setObjectName("heading")
        self.used.setObjectName("faint")
        self.asked.setObjectName("caution")
        for label in (self.how, self.used, self.asked, self.past):
            label.setWordWrap(True)
        self._arrange()
        self.table.itemChanged.connect(self._typed)
        self.table.currentCellChanged.connect(lambda row, *_: self._explain(row))
        self.refresh()
        self.table.setCurrentCell(_row(Measure.HIGH_BUST), 1)

    def refresh(self) -> None:
        """Show the wearer's measurements as they are now."""
        wearer = self._session.wearer
        body = body_of_wearer(wearer) if wearer else Body()
        self.table.setHorizontalHeaderLabels((COLUMN_UNITS[self._session.unit], *_COLUMNS))
        for column in range(1 + len(_COLUMNS)):
            head = self.table.horizontalHeaderItem(column)
            if head is not None:
                head.setTextAlignment(_RIGHT if column in _HANDS else _LEFT)
        asked, missing = questions(body, self._session.unit), self._missing()
        doubtful = {measure for question in asked for measure in question.measures}
        self._filling = True
        for row, tape in enumerate(TAPES):
            self._fill_row(row, tape, body, is_doubtful=tape.measure in doubtful)
            past = self.table.item(row, 6)
            if past is not None and tape.measure in missing:
                past.setText("wanted for the advice")
        self._filling = False
        self._explain(self.table.currentRow())
        self.asked.setText("\n".join(question.text for question in asked))
        self.asked.setVisible(bool(asked))

    def _missing(self) -> frozenset[Measure]:
        """What the advice could do with."""
        project, wearer, pattern = self._session.project, self._session.wearer, self._session.pattern
        if project is None or wearer is None or pattern is None:
            return frozenset()
        return frozenset(unanswered(case_of(project, wearer, pattern)))

    def _fill_row(self, row: int, tape: Tape, body: Body, *, is_doubtful: bool) -> None:
        latest = body.latest(tape.measure)
        sides = [body.latest(tape.measure, hand) for hand in (Hand.LEFT, Hand.RIGHT)]
        newest = max((each for each in (latest, *sides) if each), key=lambda each: each.date, default=None)
        earlier = [each for hand in Hand for each in body.history(tape.measure, hand)[:-1]]
        old = ", ".join(f"{self._session.words(each.length_mm)} ({each.date or 'undated'})" for each in earlier)
        texts = (tape.measure.value, self._words(latest), *map(self._words, sides))
        texts += (newest.date if newest else "", newest.taken_by if newest else "", old)
        for column, text in enumerate(texts):
            item = QTableWidgetItem(text)
            item.setTextAlignment(_RIGHT if column in _HANDS else _LEFT)
            if column not in _HANDS or (column > 1 and not tape.is_sided):
                item.setFlags(item.flags() & _NO_EDIT)
            if column >= 4:
                item.setForeground(self._desk.look.colour("soft"))
            if column in _HANDS and (column == 1 or tape.is_sided):
                item.setBackground(self._desk.look.colour("card"))
            if is_doubtful and text and column <= 3:
                item.setForeground(QColor(self._desk.look.colour("warn")))
                item.setToolTip("Looks like a slip; see the question below")
            self.table.setItem(row, column, item)

    def _words(self, taken: Taken | None) -> str:
        return figure(taken.length_mm if taken else None, self._session.unit)

    def _typed(self, item: QTableWidgetItem) -> None:
        wearer, project = self._session.wearer, self._session.project
        if self._filling or wearer is None or project is None or item.column() not in _HANDS:
            return
        measure, hand = TAPES[item.row()].measure, _HANDS[item.column()]
        try:
            if item.text().strip():
                length_mm = parse_length_mm(item.text(), default=self._session.unit)
                latest = body_of_wearer(wearer).latest(measure, hand)
                if latest is not None and self._words(latest) == item.text().strip():
                    return
                taken = Taken(measure, length_mm, day_in(self.day.text()), self.by.text().strip(), hand)
                project = with_measurements(project, wearer.id, (taken,))
            else:
                project = without_latest(project, wearer.id, measure, hand)
        except PatternError as error:
            self.trouble.say(error.sentence)
            self.refresh()
            return
        self.trouble.say("")
        if project != self._session.project:
            self._session.state("Measure", project)
        self.refresh()

    def _explain(self, row: int) -> None:
        if 0 <= row < len(TAPES):
            tape = tape_of(TAPES[row].measure)
            self.figure.show_measure(tape.measure)
            self.name.setText(tape.measure.value[:1].upper() + tape.measure.value[1:])
            self.how.setText(tape.how)
            self.used.setText(f"Decides {tape.used_for}.")
            body = body_of_wearer(self._session.wearer) if self._session.wearer else Body()
            self.past.setText("\n".join(self._told(each) for each in _newest_first(body, tape.measure)))

    def _told(self, taken: Taken) -> str:
        """One taking in words."""
        side = f", {taken.hand.value}" if taken.hand.value else ""
        by = f", by {taken.taken_by}" if taken.taken_by else ""
        return f"{taken.date or 'undated'}: {self._session.words(taken.length_mm)}{side}{by}"

    def _arrange(self) -> None:
        words = QLabel("Before you start: " + " ".join(PREPARATION[:3]))
        words.setObjectName("faint")
        words.setWordWrap(True)
        taking = QHBoxLayout()
        for widget in (QLabel("What is typed now was taken on"), self.day, QLabel("by"), self.by):
            taking.addWidget(widget)
        left, right = QVBoxLayout(), QVBoxLayout()
        left.addWidget(words)
        left.addLayout(taking)
        left.addWidget(self.table, 1)
        left.addWidget(self.trouble)
        left.addWidget(self.asked)
        left.setSpacing(8)
        right.addWidget(self.figure)
        right.addSpacing(10)
        for label in (self.name, self.how, self.used, self.past):
            right.addWidget(label)
        right.setSpacing(5)
        right.addStretch(1)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(18)
        grid.addLayout(left, 0, 0)
        grid.addLayout(right, 0, 1)
        grid.setColumnStretch(0, 5)
        grid.setColumnStretch(1, 3)


def _row(measure: Measure) -> int:
    return [tape.measure for tape in TAPES].index(measure)


def _newest_first(body: Body, measure: Measure) -> list[Taken]:
    taken = [each for hand in Hand for each in body.history(measure, hand)]
    return sorted(taken, key=lambda each: each.date, reverse=True)
