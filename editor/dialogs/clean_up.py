"""A raw trace before it becomes a pattern: what it is read as, to be taken or left as traced, edge by edge."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from editor.dialogs.clean_up_rows import CleanUpRows
from editor.dialogs.clean_up_view import CleanUpView
from editor.dialogs.side_by_side import lay_side_by_side
from editor.dialogs.trouble_line import TroubleLine
from editor.dialogs.waiting import waiting
from editor.formats.clean_up import REDRAWN, CleanUp, NamedEdge, Suggestion
from editor.formats.import_pattern import Import, Opened
from editor.panels.length_field import LengthField
from editor.text import counted
from editor.theme import Look
from geometry.errors import PatternError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import EdgeRef
from geometry.units import Unit

_LEAST_MM, _MOST_MM = 0.02, 3.0
_NAMES: Final = tuple(role.value for role in EdgeRole if role is not EdgeRole.OTHER)


class CleanUpDialog(QDialog):
    """Shows the pieces with every suggestion on them; nothing is taken before "Go on".

    Signals:
        answered: the answers are given; ``clean_up`` holds them.
    """

    answered = Signal()

    def __init__(self, opened: Opened, found: Import, look: Look, unit: Unit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._opened, self._unit, self.found = opened, unit, found
        self._states, self._at = [CleanUp()], 0
        self._edge, self._shown = EdgeRef("", ""), ""
        self._is_trace = any(each.kind in REDRAWN for each in found.suggestions)
        self.setWindowTitle("Clean up the trace" if self._is_trace else "What the drawing is read as")
        self.view, self.rows = CleanUpView(look), CleanUpRows()
        self.view.unit = unit
        self.within = LengthField("Furthest that a traced point may be moved", help_text="What is straight goes by it.")
        self.name = QComboBox()
        self.corner = QPushButton("A &corner here")
        self.whole = QPushButton("&Whole drawing")
        self.undo, self.redo = QPushButton("&Undo"), QPushButton("&Redo")
        self.all, self.none = QPushButton("&Take all"), QPushButton("&Leave as traced")
        self.told = QLabel()
        self.trouble = TroubleLine()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self._furnish()
        self._arrange()
        self._connect()
        self._show()
        self._show_whole()
        self.rows.setFocus()

    @property
    def clean_up(self) -> CleanUp:
        """The answers now."""
        return self._states[self._at]

    def accept(self) -> None:
        """Give the answers; whoever asked closes the page."""
        self.within.take()
        if not self.within.complaint.text():
            self.answered.emit()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Enter in a field takes what was typed there; elsewhere it accepts."""
        enter = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress and event.key() in enter:
            if watched is self.within:
                self.within.take()
            else:
                self.name_edge(self.name.currentText())
            return True
        return super().eventFilter(watched, event)

    # -- answers

    def answer(self, key: str, taken: bool) -> None:
        """Take one suggestion or decline it."""
        self._answer([each for each in self.found.suggestions if each.key == key], taken)

    def toggle(self, key: str) -> None:
        """Take it if it is declined, and the other way round."""
        chosen = next((each for each in self.found.suggestions if each.key == key), None)
        if chosen is not None:
            self._answer([chosen], not self.clean_up.takes(chosen))

    def answer_piece(self, piece: str, taken: bool) -> None:
        """Take all suggestions of a piece but guesses, or none."""
        self._answer([each for each in self.found.suggestions if each.piece == piece and not each.is_guess], taken)

    def take_all(self) -> None:
        """Take everything that was found, guesses too."""
        self._answer(self.found.suggestions, True)

    def leave_as_traced(self) -> None:
        """Decline whatever moves a point."""
        self._answer([each for each in self.found.suggestions if each.kind in REDRAWN], False)

    def _answer(self, suggestions: Iterable[Suggestion], taken: bool) -> None:
        now = self.clean_up
        chosen = list(suggestions)
        keys = frozenset(each.key for each in chosen if not each.is_guess)
        guesses = frozenset(each.key for each in chosen if each.is_guess)
        declined = now.declined - keys if taken else now.declined | keys
        self._go_on(replace(now, declined=declined, guesses=now.guesses | guesses if taken else now.guesses - guesses))

    def set_within(self, within_mm: float) -> None:
        """Let traced points be moved so far and no further."""
        if not _LEAST_MM <= within_mm <= _MOST_MM:
            self.within.complain(f"Between {_LEAST_MM:g} and {_MOST_MM:g} mm: a hair, and what a pencil strays.")
            return
        self.within.accept_amount(within_mm)
        self._go_on(replace(self.clean_up, within_mm=within_mm))

    def name_edge(self, name: str) -> None:
        """Call the edge that is chosen so."""
        place, name = self.view.edge_place(), " ".join(name.split()).lower()
        if place is None or not name or name == self._edge.edge:
            return
        piece, size, at = place
        named = NamedEdge(piece, size, at, name)
        self._edge = EdgeRef(piece, name)
        self._go_on(replace(self.clean_up, names=(named, *self.clean_up.names)))
        self._choose_edge(piece, name, self.view.at_mm)

    def add_corner(self) -> None:
        """See a corner at the place chosen on the edge."""
        place = self.view.edge_place()
        if place is not None:
            self._go_on(replace(self.clean_up, corners=(*self.clean_up.corners, place)))

    def _go_on(self, clean_up: CleanUp) -> None:
        """Take over other answers, if a pattern can be made with them."""
        if clean_up == self.clean_up:
            return
        try:
            with waiting():
                self.found = self._opened.made(clean_up)
        except PatternError as error:
            self.trouble.say(error.sentence)
            self._show()
            return
        self.trouble.say("")
        self._states[self._at + 1 :] = [clean_up]
        self._at += 1
        self._show()

    def step(self, by: int) -> None:
        """Undo or redo an answer."""
        at = self._at + by
        if 0 <= at < len(self._states):
            self._at = at
            with waiting():
                self.found = self._opened.made(self.clean_up)
            self._show()

    # -- what is shown

    def _show(self) -> None:
        self.rows.fill(self.found, self.clean_up, self._unit)
        self.view.show_import(self.found, self.clean_up)
        self.within.show_length(self.clean_up.within_mm, Unit.MM)  # sixteenths of an inch are too coarse
        self.undo.setEnabled(self._at > 0)
        self.redo.setEnabled(self._at + 1 < len(self._states))
        taken = sum(self.clean_up.takes(each) for each in self.found.suggestions)
        of = counted(len(self.found.suggestions), "suggestion", "suggestions")
        left = "as traced" if self._is_trace else "as drawn"
        self.told.setText(f"{taken} of {of} taken. What is not ticked stays {left}.")

    def _chosen(self, key: str, piece: str, edge: str) -> None:
        """The row that is current."""
        self.view.show_suggestion(key)
        if edge:
            self._choose_edge(piece, edge)
        else:
            self._edge = EdgeRef(piece, "")
            self.view.show_edge(None)
            self._offer_name("")
        if piece != self._shown:
            self._shown = piece
            self.view.fit(piece)

    def _show_whole(self) -> None:
        self._shown = ""
        self.view.fit()

    def _picked_edge(self, piece: str, edge: str, at_mm: float) -> None:
        """An edge was clicked: its row becomes current, the pointer's place is kept, its name is ready to type."""
        self.rows.go_to_edge(piece, edge)
        self._choose_edge(piece, edge, at_mm)
        self.name.setFocus()
        line = self.name.lineEdit()
        if line is not None:
            line.selectAll()

    def _choose_edge(self, piece: str, edge: str, at_mm: float | None = None) -> None:
        self._edge = EdgeRef(piece, edge)
        found = next((each for each in self.found.nest.sample.pieces if each.name == piece), None)
        if found is not None and any(each.id == edge for each in found.edges):
            self.view.show_edge(self._edge, found.edge(edge).length_mm / 2 if at_mm is None else at_mm)
        self._offer_name(edge)

    def _offer_name(self, edge: str) -> None:
        self.name.setEnabled(bool(edge))
        self.corner.setEnabled(bool(edge))
        self.name.setEditText(edge)

    # -- inside

    def _furnish(self) -> None:
        self.name.setEditable(True)
        self.name.addItems(list(_NAMES))
        self.name.setAccessibleName("Name of the edge")
        self.name.setToolTip("What the edge is called: click one, type or choose, Enter takes it")
        self.name.setEnabled(False)
        self.corner.setEnabled(False)
        for button, words in (
            (self.corner, "Divide the edge at the place that was clicked; ← → in the drawing move the place"),
            (self.whole, "Show the whole drawing"),
            (self.undo, "Take back the last answer (Ctrl+Z)"),
            (self.redo, "Give it again (Ctrl+Shift+Z)"),
            (self.all, "Take every suggestion, guesses too"),
            (self.none, "Every line stays as it was traced; corners, darts and notches are still read"),
        ):
            button.setToolTip(words)
            button.setAutoDefault(False)
            button.setObjectName("small")
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        ok.setText("&Accept")
        ok.setToolTip("Go on with what is ticked (Enter)")
        ok.setDefault(True)
        back = self.buttons.button(QDialogButtonBox.StandardButton.Cancel)
        back.setText("&Back")
        back.setToolTip("Back to the lengths; nothing is begun (Escape)")
        self.told.setObjectName("faint")
        self.told.setWordWrap(True)

    def _connect(self) -> None:
        later = Qt.ConnectionType.QueuedConnection  # answering fills the rows anew
        self.rows.answered.connect(self.answer, later)
        self.rows.piece_answered.connect(self.answer_piece, later)
        self.rows.chosen.connect(self._chosen)
        self.view.picked.connect(self.rows.go_to)
        self.view.toggled.connect(self.toggle)
        self.view.edge_picked.connect(self._picked_edge)
        self.within.length_changed.connect(self.set_within)
        self.name.textActivated.connect(self.name_edge)
        line = self.name.lineEdit()
        assert line is not None
        for field in (line, self.within):
            field.installEventFilter(self)
        self.corner.clicked.connect(self.add_corner)
        self.whole.clicked.connect(self._show_whole)
        self.undo.clicked.connect(lambda: self.step(-1))
        self.redo.clicked.connect(lambda: self.step(1))
        self.all.clicked.connect(self.take_all)
        self.none.clicked.connect(self.leave_as_traced)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        QShortcut(QKeySequence("Ctrl+Z"), self, lambda: self.step(-1))
        QShortcut(QKeySequence("Ctrl+Shift+Z"), self, lambda: self.step(1))

    def _arrange(self) -> None:
        heading = QLabel(f"What the {'trace' if self._is_trace else 'drawing'} is read as")
        heading.setObjectName("heading")
        right = QVBoxLayout()
        right.setSpacing(8)
        right.addWidget(heading)
        right.addWidget(self.told)
        right.addLayout(_row(self.all, self.none, self.undo, self.redo))
        right.addWidget(self.rows, 1)
        fields = QFormLayout()
        fields.addRow("&Stay within", self.within)
        fields.addRow("", self.within.complaint)
        fields.addRow("&Edge is the", self.name)
        fields.addRow("", _widget(_row(self.corner, self.whole)))
        fields.setRowVisible(self.within, self._is_trace)
        self.none.setVisible(self._is_trace)
        self.corner.setVisible(self._is_trace)
        right.addLayout(fields)
        right.addWidget(self.trouble)
        right.addWidget(self.buttons)
        lay_side_by_side(self, self.view, right)
        self.resize(1180, 740)


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(6)
    for widget in widgets:
        row.addWidget(widget)
    row.addStretch(1)
    return row


def _widget(layout: QHBoxLayout) -> QWidget:
    holder = QWidget()
    layout.setContentsMargins(0, 0, 0, 0)
    holder.setLayout(layout)
    return holder
