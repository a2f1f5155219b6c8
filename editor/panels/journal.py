"""The journal: the recorded steps of the wearer and round shown."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from editor.commands.take_apart import is_drawn_again, take_apart
from editor.panels.heading import Heading
from editor.panels.journal_row import JournalRow
from editor.session import Session
from editor.text import counted, in_unit
from editor.theme import Look
from geometry.errors import PatternError

_CLOSED = "Nothing is open. Begin with a pattern drawn in a DXF file (File ▸ New from DXF), or open a project."
_EMPTY = (
    "No steps yet.\n\nPick a tool above and draw a slash line across a piece, or choose an alteration from the Alter"
    " menu. Every step is kept here and its amount can be changed at any time."
)


class JournalPanel(QWidget):
    """The list of steps, each edited in place; rows are kept while the list stays the same, so typing goes on.

    Signals:
        reopen_wanted: a step is to be taken in hand again on the table; the id of its record.
    """

    reopen_wanted = Signal(str)

    def __init__(self, session: Session, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._look = session, look
        self.rows: dict[str, JournalRow] = {}
        self.heading = Heading("Journal")
        self._empty = QLabel()
        self._empty.setObjectName("empty")
        self._empty.setWordWrap(True)
        self._list = QWidget()
        self._list.setObjectName("cards")
        self._list.setFocusPolicy(Qt.FocusPolicy.ClickFocus)  # Qt lets Tab lead on from nothing less
        self._rows = QVBoxLayout(self._list)
        self._rows.setContentsMargins(10, 2, 10, 10)
        self._rows.setSpacing(6)
        self._rows.addWidget(self._empty)
        self._rows.addStretch(1)
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.area.setWidget(self._list)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.heading)
        layout.addWidget(self.area, 1)
        self.area.verticalScrollBar().rangeChanged.connect(self._show_selected)  # rows get their heights in two goes
        session.project_changed.connect(self.refresh)
        session.selection_changed.connect(self.refresh)
        session.unit_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the records as they are now."""
        records = self._session.records
        if [record.id for record in records] != list(self.rows):
            self._renew([record.id for record in records])
        for number, record in enumerate(records, start=1):
            selected = record.id == self._session.selection.record
            outcome = self._session.outcome_of(record.id)
            self.rows[record.id].show_record(number, record, outcome, self._session.unit, selected=selected)
        self._empty.setText(_EMPTY if self._session.project else _CLOSED)
        self._empty.setVisible(not records)
        self.heading.set_detail(counted(len(records), "step", "steps") if records else "")
        selected_row = self.rows.get(self._session.selection.record)
        if selected_row is not None:
            QTimer.singleShot(0, self, self._show_selected)  # once the rows have their places

    def _show_selected(self) -> None:
        row = self.rows.get(self._session.selection.record)
        if row is not None:
            self.area.ensureWidgetVisible(row, 0, 12)

    def _renew(self, ids: list[str]) -> None:
        """Take the rows that stay in their new order, make new ones, drop the rest."""
        kept = {each: self.rows.pop(each) if each in self.rows else self._row(each) for each in ids}
        for row in self.rows.values():
            self._rows.removeWidget(row)
            row.hide()
            row.deleteLater()
        stop: QWidget = self._list
        for place, row in enumerate(kept.values(), start=1):
            self._rows.removeWidget(row)
            self._rows.insertWidget(place, row)
            for after in row.stops:  # a new row would be reached after everything else in the window
                QWidget.setTabOrder(stop, after)
                stop = after
        self.rows = kept

    def _row(self, record_id: str) -> JournalRow:
        row = JournalRow(self._look)
        row.picked.connect(partial(self._pick, record_id))
        row.amount_changed.connect(partial(self._set_amount, record_id))
        row.switched.connect(partial(self._session.set_on, record_id))
        row.noted.connect(partial(self._session.set_note, record_id))
        row.asked.connect(partial(self._do, record_id))
        return row

    def _pick(self, record_id: str) -> None:
        record = next((each for each in self._session.records if each.id == record_id), None)
        if record is not None:
            pieces = record.step.piece_names
            self._session.select(piece=pieces[0] if pieces else "", record=record_id)

    def _set_amount(self, record_id: str, amount_mm: float) -> None:
        try:
            self._session.set_amount(record_id, amount_mm)
        except PatternError as error:
            self.rows[record_id].amount.complain(in_unit(error.sentence, self._session.unit))

    def _do(self, record_id: str, what: str) -> None:
        if what == "remove":
            self._session.remove(record_id)
        elif what == "apart":
            self._take_apart(record_id)
        elif what == "reopen":
            self._take_in_hand(record_id)
        else:
            self._session.move(record_id, -1 if what == "earlier" else 1)

    def _take_in_hand(self, record_id: str) -> None:
        """On the table, which says so if it cannot be; then the keys go to the amount."""
        record = next((each for each in self._session.records if each.id == record_id), None)
        if record is not None and not is_drawn_again(record.step):
            self.rows[record_id].enter_amount()
        self.reopen_wanted.emit(record_id)

    def _take_apart(self, record_id: str) -> None:
        try:
            take_apart(self._session, record_id)
        except PatternError as error:
            self.rows[record_id].trouble.setText(in_unit(error.sentence, self._session.unit))
            self.rows[record_id].trouble.show()
            return
        first = self.rows.get(self._session.selection.record)
        if first is not None:  # the row the keys were on is gone
            first.more.setFocus(Qt.FocusReason.OtherFocusReason)
