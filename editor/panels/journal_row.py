"""One step of the journal: its words, its amount, whether it is on, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QMenu,
    QToolButton,
    QWidget,
)

from editor.commands.take_apart import can_reopen, can_take_apart
from editor.panels.length_field import LengthField
from editor.session import MISFIT
from editor.text import amount_word, has_amount, in_unit, is_share, is_unsigned, step_sentence, step_words
from editor.theme import Look
from geometry.alterations.replay import Record, RecordOutcome
from geometry.units import Unit

Act = Callable[[str], None]


class JournalRow(QFrame):
    """A record of the journal, edited in place.

    Signals:
        picked: the row was clicked or its field was entered.
        amount_changed: another amount in mm was typed.
        switched: the step was turned on or off.
        noted: something was written beside the step.
        asked: "earlier", "later", "remove", "apart" or "reopen" was chosen from its menu; "reopen" by a double click
            or Enter on it as well.
    """

    picked = Signal()
    amount_changed = Signal(float)
    switched = Signal(bool)
    noted = Signal(str)
    asked = Signal(str)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self.setObjectName("step")
        self.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self.number = QLabel()
        self.number.setObjectName("number")
        self.on = QCheckBox()
        self.on.setToolTip("Carry this step out, or keep it in the journal without (Ctrl+/)")
        self.words = QLabel()
        self.words.setObjectName("stepWords")
        self.words.setWordWrap(True)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.verb = QLabel()
        self.verb.setObjectName("faint")
        self.amount = LengthField("Amount", help_text="How much; later steps run again.")
        self.amount.setFixedWidth(110)
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.note = QLabel()
        self.note.setObjectName("faint")
        self.note.setWordWrap(True)
        self.note_field = QLineEdit()
        self.note_field.setAccessibleName("Note")
        self.note_field.setToolTip("What to remember about this step; Enter keeps it")
        self.note_field.setMaxLength(400)
        self.note_field.hide()
        self.note_field.editingFinished.connect(self._end_note)
        self.more = self._menu_button()
        self._lay_out()
        self.on.clicked.connect(self.switched)
        self.amount.length_changed.connect(self._offer)
        for child in (self.on, self.amount, self.more):
            child.installEventFilter(self)

    @property
    def stops(self) -> tuple[QWidget, ...]:
        """Where Tab leads, in order."""
        return (self.on, self.amount, self.note_field, self.more)

    def show_record(
        self, number: int, record: Record, outcome: RecordOutcome | None, unit: Unit, *, selected: bool
    ) -> None:
        """Show a record as it is now."""
        misfit = next((f for f in outcome.findings if f.code == MISFIT), None) if outcome else None
        sentence = step_sentence(record.step, unit)
        self._takes_out = record.step.amount_mm < 0 and is_unsigned(record.step)
        self.number.setText(str(number))
        self.on.setChecked(record.on)
        self.on.setAccessibleName(f"Step {number} is carried out: {sentence}")
        self.words.setText(step_words(record.step))
        self.verb.setText(amount_word(record.step))
        self.amount.setAccessibleName(f"Amount of step {number}: {sentence}")
        if is_share(record.step):
            self.amount.show_share(record.step.amount_mm)
        else:
            self.amount.show_length(self._shown_mm(record.step.amount_mm), unit)
        self.verb.setVisible(has_amount(record.step))
        self.amount.setVisible(has_amount(record.step))
        self.trouble.setText(in_unit(misfit.text, unit) if misfit else "")
        self.trouble.setVisible(misfit is not None)
        self.note.setText(record.note)
        self.note.setVisible(bool(record.note) and self.note_field.isHidden())
        self.setAccessibleName(f"Step {number}: {sentence}")
        self.apart.setVisible(can_take_apart(record))
        self.reopen.setVisible(can_reopen(record))
        self._look_like(selected=selected, off=not record.on, misfit=misfit is not None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """A click anywhere picks the step."""
        self.picked.emit()
        super().mousePressEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """A double click takes the step in hand again, or its amount if the step cannot be."""
        self.asked.emit("reopen")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """So does Enter."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.asked.emit("reopen")
        else:
            super().keyPressEvent(event)

    def eventFilter(self, _: QObject, event: QEvent) -> bool:
        """Entering a field of the row picks the step."""
        if event.type() == QEvent.Type.FocusIn:
            self.picked.emit()
        return False

    def enter_amount(self) -> None:
        """Put the keys into the amount, all of it picked to be typed over."""
        if self.amount.isVisibleTo(self):
            self.amount.setFocus()
            self.amount.selectAll()

    def write_note(self) -> None:
        """Let the person write beside the step."""
        self.note_field.setText(self.note.text())
        self.note_field.show()
        self.note.hide()
        self.note_field.setFocus()

    def _end_note(self) -> None:
        if not self.note_field.isHidden():
            self.note_field.hide()
            self.note.setVisible(bool(self.note.text()))
            self.noted.emit(self.note_field.text().strip())

    def _offer(self, length_mm: float) -> None:
        self.amount_changed.emit(self._shown_mm(length_mm))

    def _shown_mm(self, amount_mm: float) -> float:
        """Folding out is written as what it takes out; the same rule leads back."""
        return -amount_mm if self._takes_out else amount_mm

    _takes_out = False

    def _look_like(self, *, selected: bool, off: bool, misfit: bool) -> None:
        state = (selected, off, misfit)
        if state != self.property("state"):
            self.setProperty("state", state)
            self.setProperty("selected", selected)
            self.setProperty("off", off)
            self.setProperty("misfit", misfit)
            for widget in (self, self.words, self.number):
                widget.style().unpolish(widget)
                widget.style().polish(widget)

    def _menu_button(self) -> QToolButton:
        button = QToolButton()
        button.setObjectName("flat")
        button.setIconSize(QSize(16, 16))
        button.setIcon(self._look.icon("more"))
        button.setToolTip("Move this step or take it out of the journal")
        button.setAccessibleName("More about this step")
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(button)
        for words, icon, name in (
            ("Move &earlier\tAlt+Up", "up", "earlier"),
            ("Move &later\tAlt+Down", "down", "later"),
            ("&Remove\tCtrl+Backspace", "remove", "remove"),
        ):
            menu.addAction(self._look.icon(icon), words).triggered.connect(lambda _=False, n=name: self.asked.emit(n))
        menu.addSeparator()
        self.reopen = menu.addAction("&Open on the table\tEnter")
        self.reopen.setToolTip("Take its lines and its amount in hand again (double click)")
        self.reopen.triggered.connect(lambda: self.asked.emit("reopen"))
        menu.addAction("Write a &note").triggered.connect(self.write_note)
        self.apart = menu.addAction("Take &apart")
        self.apart.setToolTip("Record its slashes and other steps one by one, to edit them freely")
        self.apart.triggered.connect(lambda: self.asked.emit("apart"))
        button.setMenu(menu)
        self._look.changed.connect(lambda: button.setIcon(self._look.icon("more")))
        return button

    def _lay_out(self) -> None:
        figures = QHBoxLayout()
        figures.setSpacing(6)
        figures.addWidget(self.verb)
        figures.addWidget(self.amount)
        figures.addStretch(1)
        grid = QGridLayout(self)
        grid.setContentsMargins(10, 8, 6, 9)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(5)
        grid.setColumnStretch(2, 1)
        top = Qt.AlignmentFlag.AlignTop
        grid.addWidget(self.on, 0, 0, top)
        grid.addWidget(self.number, 0, 1, top)
        grid.addWidget(self.words, 0, 2)
        grid.addWidget(self.more, 0, 3, 2, 1, top)
        grid.addLayout(figures, 1, 2)
        for row, widget in enumerate((self.amount.complaint, self.trouble, self.note, self.note_field), start=2):
            grid.addWidget(widget, row, 2, 1, 2)
