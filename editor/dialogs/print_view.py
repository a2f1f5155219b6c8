"""The print dialog as it is seen: options at the left, the joined sheet or the pages at the right."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QProgressBar,
    QPushButton,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from editor.dialogs.joined_sheet import JoinedSheet
from editor.dialogs.page_view import PageList, PageView
from editor.dialogs.paper_options import PaperOptions
from editor.dialogs.piece_options import PieceOptions
from editor.theme import Look

_OPTIONS_WIDE_PX = 372
_NOTE_MARGIN_PX = 28


class PrintView(QDialog):
    """The parts of the dialog and where they stand."""

    def __init__(self, look: Look, paper: PaperOptions, pieces: PieceOptions, *, warnings: Sequence[str]) -> None:
        super().__init__()
        self.setWindowTitle("Print")
        self.resize(1240, 800)
        self.paper, self.pieces = paper, pieces
        self.count = _label("heading")
        self.fill, self.trouble = _label("faint"), _label("trouble")
        self.notes = QListWidget()
        self.sheet, self.page, self.pages = JoinedSheet(look), PageView(look), PageList(look)
        self.options, self.views = QTabWidget(), QTabWidget()
        self.progress = QProgressBar()
        self.anew = _button("Lay out a&new", "Let the pieces be laid out again, without what was moved by hand")
        self.turn = _button("Turn p&iece", "Turn the piece picked out by a quarter ([ and ])")
        self.write = _button("&Write PDF…", "Choose a file and write the PDF at true scale")
        self.print = _button("&Print…", "Choose a printer and print at true scale, on this paper")
        self.drawings = _button("S&VG…", "Write a drawing for every page, for a plotter or another program")
        self.stop = _button("S&top looking", "Keep the best layout found so far")
        self.cancel = _button("&Cancel", "Close without printing; while writing: stop and leave no file (Escape)")
        self._set_up(warnings)

    def allow_output(self, allowed: bool) -> None:
        """Whether something can be written or printed now."""
        for button in (self.write, self.print, self.drawings):
            button.setEnabled(allowed)

    def add_note(self, text: str, piece: str) -> None:
        """A note on a piece, as high as its words are: Qt reckons with a little more width than it then has."""
        wide = _OPTIONS_WIDE_PX - _NOTE_MARGIN_PX
        words = self.notes.fontMetrics().boundingRect(0, 0, wide, 1000, Qt.TextFlag.TextWordWrap, text)
        item = QListWidgetItem(text, self.notes)
        item.setData(Qt.ItemDataRole.UserRole, piece)
        item.setSizeHint(QSize(wide, words.height() + 6))

    def show_looking(self, looking: bool) -> None:
        """Whether a better layout is being looked for: how long that takes nobody knows."""
        if looking:
            self.progress.setRange(0, 0)
        self.progress.setVisible(looking)
        self.stop.setVisible(looking)

    def _set_up(self, warnings: Sequence[str]) -> None:
        self.write.setDefault(True)
        self.anew.setEnabled(False)
        self.turn.setEnabled(False)
        self.trouble.hide()
        self.progress.hide()
        self.progress.setTextVisible(False)
        self.stop.setObjectName("small")
        self.stop.hide()
        self.notes.setAccessibleName("On the joins of sheets")
        self.notes.setToolTip("Darts and notches that lie where sheets are joined; pick one out to see its piece")
        self.notes.setWordWrap(True)
        self.notes.setMaximumHeight(112)
        self.notes.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.notes.hide()
        whole = QHBoxLayout(self)
        whole.setContentsMargins(12, 12, 12, 12)
        whole.setSpacing(12)
        whole.addWidget(self._left(warnings))
        whole.addLayout(self._right(), 1)

    def _left(self, warnings: Sequence[str]) -> QWidget:
        self.options.addTab(self.paper, "Paper and printer")
        self.options.addTab(self.pieces, "Pieces and lines")
        column = QVBoxLayout()
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self.options, 1)
        for part in (self.count, self.fill, self.trouble, self.notes):
            column.addWidget(part)
        for words in warnings:
            caution = _label("caution")
            caution.setText(words)
            column.addWidget(caution)
        watched = QHBoxLayout()
        watched.addWidget(self.progress, 1)
        watched.addWidget(self.stop)
        column.addLayout(watched)
        left = QWidget()
        left.setLayout(column)
        left.setFixedWidth(_OPTIONS_WIDE_PX)
        return left

    def _right(self) -> QVBoxLayout:
        self.pages.setFixedWidth(258)
        by_page = QWidget()
        row = QHBoxLayout(by_page)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.pages)
        row.addWidget(self.page, 1)
        self.views.addTab(self.sheet, "Joined sheet")
        self.views.addTab(by_page, "Page by page")
        buttons = QHBoxLayout()
        for button in (self.turn, self.anew):
            buttons.addWidget(button)
        hint = _label("faint")
        hint.setText("Drag pieces; arrows nudge them, or the whole; the wheel looks closer.")
        buttons.addWidget(hint, 1)
        for button in (self.cancel, self.drawings, self.print, self.write):
            buttons.addWidget(button)
        column = QVBoxLayout()
        column.addWidget(self.views, 1)
        column.addLayout(buttons)
        return column


def _label(name: str) -> QLabel:
    label = QLabel()
    label.setObjectName(name)
    label.setWordWrap(True)
    return label


def _button(words: str, help_text: str) -> QPushButton:
    button = QPushButton(words)
    button.setToolTip(help_text)
    button.setAutoDefault(False)
    return button
