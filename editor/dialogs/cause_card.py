"""A likely cause of what is seen on a toile, with the amount to start from and the ways to go on."""

from __future__ import annotations

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout

from editor.handbook import has_difference
from editor.panels.length_field import LengthField
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.registry import entry_of
from geometry.errors import PatternError
from geometry.fitting.toile_signs import Cause
from geometry.model.pattern import Pattern
from geometry.units import Unit


class CauseCard(QFrame):
    """What is wrong, the alteration that helps, and by how much: as pinned in all, or on each piece.

    Signals:
        to_table: lay the alteration out on the table.
        to_journal: add it to the journal as it is.
    """

    to_table = Signal(Alteration)
    to_journal = Signal(Alteration)

    def __init__(self, number: int, cause: Cause, unit: Unit, pattern: Pattern | None) -> None:
        super().__init__()
        self._cause = cause
        self._entry = entry_of(cause.entry)
        self._pattern = pattern
        self._share = self._entry.share(cause.variant, pattern)
        self.setObjectName("step")
        self.name = QLabel(f"{number}. {cause.words[:1].upper()}{cause.words[1:]}")
        self.name.setObjectName("key")
        self.does = QLabel(f"<b>{self._entry.name}.</b> {self._entry.does}")
        self.pinned = LengthField("Pinned in all", help_text="What you pinned out or let in, all the way round.")
        self.amount = LengthField("Amount", help_text="What each piece gets.")
        for field in (self.pinned, self.amount):
            field.setMaximumWidth(92)
        self.pinned.length_changed.connect(self._pinned)
        self.amount.length_changed.connect(self._typed)
        self.table = QPushButton("Open on the &table")
        self.table.setToolTip("Lay it out on the table beside its page of the handbook, with this amount to start from")
        self.journal = QPushButton("Into the &journal")
        self.journal.setToolTip("Do it as it stands here; its amount can be changed in the journal at any time")
        self.table.clicked.connect(lambda: self._go_on(self.to_table))
        self.journal.clicked.connect(lambda: self._go_on(self.to_journal))
        for button, does in ((self.table, "on the table"), (self.journal, "into the journal")):
            button.setAutoDefault(False)
            button.setObjectName("small")
            button.setAccessibleName(f"{cause.words} {does}")
        self._arrange()
        self.show_unit(unit)

    def show_unit(self, unit: Unit) -> None:
        """Write the amounts in a unit; what was typed stays."""
        if not self.amount.amount:
            self._start(self._cause.amount_mm, unit)
        else:
            self._start(self.amount.amount, unit)

    @property
    def step(self) -> Alteration:
        """The alteration by the amount that stands here."""
        return self._cause.step().with_amount_mm(self._cause.sign * self.amount.amount)

    def _start(self, amount_mm: float, unit: Unit) -> None:
        share = self._share
        self.amount.show_length(amount_mm, unit)
        self.pinned.show_length(amount_mm / (share.of_whole if share else 1.0), unit)

    def _arrange(self) -> None:
        for label in (self.name, self.does):
            label.setWordWrap(True)
        row = QHBoxLayout()
        row.setSpacing(6)
        share = self._share
        words = QLabel(f"{share.words[:1].upper()}{share.words[1:]}." if share else "")
        words.setObjectName("faint")
        words.setWordWrap(True)
        words.setVisible(has_difference(self._entry, self._cause.variant, self._pattern))
        if has_difference(self._entry, self._cause.variant, self._pattern):
            row.addWidget(QLabel("Pinned in all"))
            row.addWidget(self.pinned)
            row.addWidget(QLabel("makes"))
        else:
            row.addWidget(QLabel("Pinned"))
        row.addWidget(self.amount)
        row.addStretch(1)
        buttons = QHBoxLayout()
        buttons.setSpacing(6)
        buttons.addWidget(self.table)
        buttons.addWidget(self.journal)
        buttons.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(12, 9, 12, 10)
        layout.setSpacing(5)
        layout.addWidget(self.name)
        layout.addWidget(self.does)
        layout.addLayout(row)
        for label in (self.pinned.complaint, self.amount.complaint, words):
            layout.addWidget(label)
        layout.addLayout(buttons)

    def _pinned(self, whole_mm: float) -> None:
        amount_mm = self._entry.from_difference(whole_mm, self._cause.variant, self._pattern)
        if self._accept(self.pinned, whole_mm, amount_mm):
            self.amount.accept_amount(amount_mm)

    def _typed(self, amount_mm: float) -> None:
        share = self._share
        if self._accept(self.amount, amount_mm, amount_mm):
            self.pinned.accept_amount(amount_mm / (share.of_whole if share else 1.0))

    def _accept(self, field: LengthField, typed_mm: float, amount_mm: float) -> bool:
        try:
            self._entry.refuse_amount(self._cause.sign * amount_mm)
        except PatternError as error:
            field.complain(error.sentence)
            return False
        field.accept_amount(typed_mm)
        return True

    def _go_on(self, signal: SignalInstance) -> None:
        for field in (self.pinned, self.amount):
            field.take()
            if field.complaint.text():
                field.setFocus()
                return
        signal.emit(self.step)
