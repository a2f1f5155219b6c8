"""A sheet of figures: rows of names and fields, a line for what is wrong, buttons below."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFormLayout, QGridLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from editor.panels.heading import Heading
from editor.panels.length_field import LengthField
from editor.refining import refine
from editor.session import Session
from editor.text import in_unit
from geometry.alterations.step import Step
from geometry.errors import PatternError


class Figures(QWidget):
    """What one thing on a piece is, each figure to be changed in place."""

    def __init__(self, session: Session, title: str) -> None:
        super().__init__()
        self._session = session
        self.heading = Heading(title)
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        self.rows = QFormLayout()
        self.rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.rows.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        self.rows.setHorizontalSpacing(10)
        self.rows.setVerticalSpacing(6)
        self.buttons = QGridLayout()
        self.buttons.setSpacing(6)
        inner = QVBoxLayout()
        inner.setContentsMargins(14, 2, 12, 12)
        inner.setSpacing(8)
        inner.addLayout(self.rows)
        inner.addWidget(self.trouble)
        inner.addLayout(self.buttons)
        inner.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.heading)
        layout.addLayout(inner, 1)

    def length_row(self, label: str, name: str, help_text: str, change: Callable[[float], None]) -> LengthField:
        """A row with a length that can be changed."""
        field = LengthField(name, help_text=help_text)
        field.length_changed.connect(lambda amount: self.attempt(lambda: change(amount), field))
        self.rows.addRow(label, field)
        self.rows.addRow("", field.complaint)
        return field

    def button(self, words: str, help_text: str, do: Callable[[], None]) -> QPushButton:
        """One more button, two in a row."""
        button = QPushButton(words)
        button.setToolTip(help_text)
        button.setAutoDefault(False)
        button.setObjectName("small")
        button.clicked.connect(lambda: self.attempt(do))
        count = self.buttons.count()
        self.buttons.addWidget(button, count // 2, count % 2)
        return button

    def attempt(self, do: Callable[[], None], field: LengthField | None = None) -> None:
        """Do something, or say at the field or below the rows why it cannot be done."""
        try:
            do()
            sentence = ""
        except PatternError as error:
            sentence = in_unit(error.sentence, self._session.unit)
        if field is not None:
            field.complain(sentence)
        else:
            self.trouble.setText(sentence)
            self.trouble.setVisible(bool(sentence))

    def forget_trouble(self) -> None:
        """Another thing is shown."""
        self.trouble.hide()

    def do(self, step: Step) -> None:
        """Record a step, or change the last one where that did the same."""
        refine(self._session, step)
