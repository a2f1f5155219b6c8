"""What the checks let pass in this project: every limit with what it means and where its usual figure comes from."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFrame,
    QGridLayout,
    QLabel,
    QLineEdit,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from editor.panels.length_field import LengthField
from editor.session import Session
from geometry.checks.chosen_limits import changed_limits, limits_from
from geometry.checks.limits import DEFAULT_LIMITS, LIMITS_TOLD, Limits
from geometry.errors import PatternError


class LimitsDialog(QDialog):
    """One row per limit; what differs from the usual figure is kept with the project."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowTitle("What the checks let pass")
        self.resize(640, 640)
        self.search = QLineEdit()
        self.search.setPlaceholderText("Find: notch, cap, hem …")
        self.search.setAccessibleName("Find a limit")
        self.search.setToolTip("Show only the limits with these letters")
        self.search.setClearButtonEnabled(True)
        self.fields: dict[str, tuple[LengthField, ...]] = {}
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        buttons = QDialogButtonBox.StandardButton
        self.buttons = QDialogButtonBox(buttons.Ok | buttons.Cancel | buttons.RestoreDefaults)
        self.usual = self.buttons.button(buttons.RestoreDefaults)
        self.usual.setText("As &usual")
        self.usual.setToolTip("Put the usual figures back into every row")
        self.usual.clicked.connect(lambda: self._show(DEFAULT_LIMITS))
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        self._rows: list[tuple[str, list[QWidget]]] = []
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setWidget(self._table())
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 14, 16, 12)
        layout.setSpacing(10)
        for widget in (self.search, area, self.trouble, self.buttons):
            layout.addWidget(widget)
        self.search.textChanged.connect(self._find)
        self._show(session.project.limits if session.project else DEFAULT_LIMITS)

    def accept(self) -> None:
        """Check again with these limits."""
        for fields in self.fields.values():
            for field in fields:
                field.take()
                if field.complaint.text():
                    field.setFocus()
                    return
        project = self._session.project
        try:
            limits = limits_from(changed_limits(self._limits()))
        except PatternError as error:
            self.trouble.setText(error.sentence)
            self.trouble.show()
            return
        if project is not None and limits != project.limits:
            self._session.state("Change limits", replace(project, limits=limits))
        super().accept()

    def _limits(self) -> Limits:
        values = {
            name: tuple(field.amount for field in fields) if len(fields) > 1 else fields[0].amount
            for name, fields in self.fields.items()
        }
        return replace(DEFAULT_LIMITS, **values)  # type: ignore[arg-type]

    def _table(self) -> QWidget:
        table = QWidget()
        grid = QGridLayout(table)
        grid.setContentsMargins(10, 8, 10, 8)
        grid.setHorizontalSpacing(8)
        grid.setVerticalSpacing(6)
        grid.setColumnStretch(0, 1)
        for row, (name, told) in enumerate(LIMITS_TOLD.items()):
            words = QLabel(told.words)
            words.setWordWrap(True)
            words.setToolTip(f"Usual figure: {told.source}.")
            count = 2 if isinstance(getattr(DEFAULT_LIMITS, name), tuple) else 1
            fields = tuple(LengthField(told.words, help_text=f"Usual figure: {told.source}.") for _ in range(count))
            shown: list[QWidget] = [words, *fields]
            grid.addWidget(words, 2 * row, 0, Qt.AlignmentFlag.AlignVCenter)
            for column, field in enumerate(fields):
                field.setFixedWidth(86)
                grid.addWidget(field, 2 * row, 1 + column)
                grid.addWidget(field.complaint, 2 * row + 1, 0, 1, 3)
            self.fields[name] = fields
            self._rows.append((f"{told.words} {name}".lower(), shown))
        grid.setRowStretch(2 * len(LIMITS_TOLD), 1)
        return table

    def _show(self, limits: Limits) -> None:
        for name, fields in self.fields.items():
            value = getattr(limits, name)
            for field, amount in zip(fields, value if isinstance(value, tuple) else (value,), strict=True):
                if name.endswith("_deg"):
                    field.show_degrees(amount)
                elif name.endswith("_percent"):
                    field.show_share(amount)
                else:
                    field.show_length(amount, self._session.unit)

    def _find(self, words: str) -> None:
        for text, widgets in self._rows:
            for widget in widgets:
                widget.setVisible(all(word in text for word in words.lower().split()))
