"""A newcomer's first minutes: one line above the table at a time, gone for good once it is not wanted."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QSettings, Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QToolButton

from editor.session import Session
from editor.theme import Look
from geometry.alterations.slash import Slash

STEPS: Final = (
    ("looked", "Look round", "Turn the wheel to zoom. Hold Space and drag to move the table. Ctrl+0 shows everything."),
    ("picked", "Pick something", "Click a piece, an edge or a dart: its figures appear at the left."),
    ("slashed", "Slash a piece", "Press S. Click the hem of a skirt, then its waist, and that end once more to hinge it"
     " there. Drag the handle, and press Enter."),
    ("changed", "Change your mind", "The journal keeps every step. Type another amount there: the piece follows."),
    ("checked", "Look before you cut", "Before cutting lists what no longer fits. Click a line to see the place."),
    ("printed", "Print", "Ctrl+P lays the pieces out on sheets of paper. Undo (Ctrl+Z) takes back whatever you did."),
)  # fmt: skip
"""What is done, what it is called, how it is done."""

_KEY: Final = "first_steps"
_OVER: Final = "over"


class FirstSteps(QFrame):
    """Says what to try next; goes on by itself when that was done.

    Signals:
        left: it is not wanted any more.
    """

    left = Signal()

    def __init__(self, session: Session, look: Look, settings: QSettings) -> None:
        super().__init__()
        self._session, self._settings = session, settings
        self._at = 0
        self._known: tuple[int, float] = (0, 0.0)
        self.setObjectName("firstSteps")
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Maximum)
        self.count = QLabel()
        self.count.setObjectName("faint")
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.further = QPushButton("Next")
        self.further.setObjectName("small")
        self.further.setToolTip("Go on without doing this")
        self.close_button = QToolButton()
        self.close_button.setObjectName("flat")
        self.close_button.setIcon(look.icon("remove"))
        self.close_button.setToolTip("No more of this; Help ▸ First steps brings it back")
        self.close_button.setAccessibleName("Leave the first steps")
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 7, 8, 7)
        row.setSpacing(10)
        row.addWidget(self.count)
        row.addWidget(self.words, 1)
        row.addWidget(self.further)
        row.addWidget(self.close_button)
        self.further.clicked.connect(self._go_on)
        self.close_button.clicked.connect(self.leave)
        look.changed.connect(lambda: self.close_button.setIcon(look.icon("remove")))
        session.project_opened.connect(self.follow)
        session.project_changed.connect(self._see_change)
        session.selection_changed.connect(self._see_selection)
        self.follow()

    def begin(self) -> None:
        """Show them from the first one on."""
        self._settings.remove(_KEY)
        self._at = 0
        self.follow()

    def leave(self) -> None:
        """Not wanted any more, in later sittings either."""
        self._settings.setValue(_KEY, _OVER)
        self.hide()
        self.left.emit()

    def follow(self) -> None:
        """Show where things stand; nothing while nothing is open."""
        self._known = self._journal()
        wanted = self._settings.value(_KEY) != _OVER and self._session.project is not None
        self.setVisible(wanted)
        _, name, words = STEPS[self._at]
        self.count.setText(f"{self._at + 1} of {len(STEPS)}")
        self.words.setText(f"<b>{name}.</b> {words}")
        self.further.setText("Done" if self._at == len(STEPS) - 1 else "Next")

    def done(self, what: str) -> None:
        """Something was done; if it is what the line asks for, the next one comes."""
        if not self.isHidden() and STEPS[self._at][0] == what:
            self._go_on()

    def _go_on(self) -> None:
        if self._at == len(STEPS) - 1:
            self.leave()
        else:
            self._at += 1
            self.follow()

    def _see_selection(self) -> None:
        if self._session.selection.piece:
            self.done("picked")

    def _see_change(self) -> None:
        before, now = self._known, self._journal()
        self._known = now
        records = self._session.records
        if now[0] > before[0] and isinstance(records[-1].step, Slash):
            self.done("slashed")
        elif now[0] == before[0] and now[1] != before[1]:
            self.done("changed")

    def _journal(self) -> tuple[int, float]:
        """How many steps it has, and the sum of their amounts."""
        records = self._session.records
        return len(records), sum(record.step.amount_mm for record in records)
