"""A small form for a new step, above the journal; the table shows what it would do while it is filled in."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QFormLayout, QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from editor.commands.proposals import suitable
from editor.panels.form_fields import Fields, SlashFields, TransferFields
from editor.panels.trueing_fields import (
    BlendFields,
    HemFields,
    JoinFields,
    ReleaseFields,
    SplitFields,
    SquareFields,
    StraightenFields,
)
from editor.session import Session
from editor.text import in_unit
from geometry.alterations.step import Step
from geometry.errors import PatternError

_FORMS: Final[dict[str, tuple[str, str, type[Fields]]]] = {
    "slash": (
        "Slash and spread",
        "Cut from edge to edge and open it; an amount with a minus folds out.",
        SlashFields,
    ),
    "dart-transfer": (
        "Dart transfer",
        "Close a dart about the point it aims at; the same angle opens at another place.",
        TransferFields,
    ),
    "straighten": ("Straighten an edge", "Draw it straight from end to end, its darts folded shut.", StraightenFields),
    "blend-edge": ("Blend an edge", "Smooth it round a place, the darts there folded shut.", BlendFields),
    "square-corner": (
        "Square corner",
        "Let an edge leave the fold or centre line squarely, so that neither peak nor hollow shows.",
        SquareFields,
    ),
    "join-corner": (
        "Line across a seam",
        "Lay two pieces together along their seam and draw the edge that crosses it in one smooth line.",
        JoinFields,
    ),
    "level-hem": ("Level a hem", "Bring it to where its seam is as long as what it is sewn to.", HemFields),
    "split-dart": ("Split a dart", "Make two darts of one, beside each other on the same edge.", SplitFields),
    "release-dart": ("Let a dart out", "Its cloth stays in the edge, or is folded in only.", ReleaseFields),
}


class AlterForm(QFrame):
    """Chooses a piece, places and an amount, tries the step out at every change, and adds it.

    Signals:
        closed: the form was done or given up.
    """

    closed = Signal()

    def __init__(self, kind: str, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        title, explanation, fields = _FORMS[kind]
        self.kind = kind
        self._session = session
        self.setObjectName("form")
        self.setAccessibleName(title)
        self.piece = QComboBox()
        self.piece.setAccessibleName("Piece")
        self.piece.setToolTip("The piece to alter")
        self.fields = fields(session.unit)
        self.fields.picked = session.selection
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.add = QPushButton("Add to the &journal")
        self.add.setDefault(True)
        self.add.setToolTip("Do this step and record it (Enter)")
        self.add.clicked.connect(self._add)
        self.give_up = QPushButton("&Cancel")
        self.give_up.setToolTip("Leave everything as it was (Escape)")
        self.give_up.clicked.connect(self.leave)
        self._lay_out(title, explanation)
        self._fill()
        self.piece.currentTextChanged.connect(self._other_piece)
        self.fields.changed.connect(self._try_out)
        session.unit_changed.connect(lambda: self.fields.show_unit(session.unit))
        session.project_changed.connect(self._try_out)

    def begin(self) -> None:
        """Put the cursor into the amount and show the first result."""
        self.fields.first_field.setFocus(Qt.FocusReason.TabFocusReason)
        self._try_out()

    def leave(self) -> None:
        """Leave everything as it was."""
        self._session.project_changed.disconnect(self._try_out)
        self._session.try_out(None)
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter adds the step, Escape leaves."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._add()
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    def _lay_out(self, title: str, explanation: str) -> None:
        heading, words = QLabel(title), QLabel(explanation)
        heading.setObjectName("heading")
        words.setObjectName("faint")
        words.setWordWrap(True)
        rows = QFormLayout()
        rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        rows.setLabelAlignment(Qt.AlignmentFlag.AlignLeft)
        rows.setHorizontalSpacing(10)
        rows.setVerticalSpacing(6)
        rows.addRow("&Piece", self.piece)
        self.fields.add_rows(rows)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.give_up)
        buttons.addWidget(self.add)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 10, 12, 12)
        layout.setSpacing(7)
        layout.addWidget(heading)
        layout.addWidget(words)
        layout.addLayout(rows)
        layout.addWidget(self.trouble)
        layout.addLayout(buttons)

    def _fill(self) -> None:
        pattern = self._session.pattern
        names = suitable(self.kind, pattern) if pattern else ()
        self.piece.addItems(list(names))
        if self._session.selection.piece in names:
            self.piece.setCurrentText(self._session.selection.piece)
        self._other_piece()

    def _other_piece(self) -> None:
        pattern, name = self._session.pattern, self.piece.currentText()
        if pattern is not None and name:
            self.fields.pattern = pattern
            self.fields.show_piece(pattern.piece(name))
        self._try_out()

    def _step(self) -> Step:
        pattern, name = self._session.pattern, self.piece.currentText()
        if pattern is None or not name:
            raise PatternError("No piece of this pattern has what this alteration needs.", code="no-such-piece")
        return self.fields.step(pattern.piece(name))

    def _try_out(self) -> None:
        try:
            self._session.try_out(self._step())
            sentence = ""
        except PatternError as error:
            sentence = in_unit(error.sentence, self._session.unit)
        self.trouble.setText(sentence)
        self.trouble.setVisible(bool(sentence))
        self.add.setEnabled(not sentence)

    def _add(self) -> None:
        self.fields.amount.take()
        if self.fields.is_wrong:
            return
        try:
            step = self._step()
            self._session.project_changed.disconnect(self._try_out)
            self._session.try_out(None)
            self._session.add_step(step)
        except PatternError as error:
            self._session.project_changed.connect(self._try_out)
            self.trouble.setText(in_unit(error.sentence, self._session.unit))
            self.trouble.show()
            return
        self.closed.emit()
