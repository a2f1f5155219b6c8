"""Which pieces are printed, how often and how, and what is drawn on them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QSettings, QSize, Qt, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QFormLayout,
    QHeaderView,
    QLabel,
    QListView,
    QListWidget,
    QListWidgetItem,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from editor.printing.choosing import Choice
from editor.printing.piece_label import quantity_words
from editor.printing.rectangles import Turning
from geometry.model.piece import Piece

PIECE, TWICE, PAIR, WHOLE, GROUP = range(5)
_HEADS: Final = (
    ("Piece", "Print this piece (Space ticks)"),
    ("2×", "Print it twice"),
    ("Pair", "Print a mirrored one with it"),
    ("Whole", "Print it whole instead of on the fold"),
    ("Group", "Pieces of one group lie together on sheets of their own; type any word or number"),
)
_TURNS: Final = {
    Turning.KEEP_GRAIN: "Grain stays upright",
    Turning.HALF: "Upright or upside down",
    Turning.FREE: "By quarter turns",
    Turning.EIGHTHS: "By steps of 45°",
    Turning.FINE: "By steps of 15°",
}


_SIZE_CELL_PX: Final = QSize(76, 26)


class PieceOptions(QWidget):
    """The pieces and how they are laid.

    Signals:
        changed: something else is asked for.
    """

    changed = Signal()

    def __init__(self, settings: QSettings, pieces: Sequence[Piece], sizes: Sequence[str]) -> None:
        super().__init__()
        self._settings = settings
        self.pieces = QTableWidget(len(pieces), len(_HEADS))
        self.pieces.setAccessibleName("Pieces to print")
        self.turning = QComboBox()
        self.turning.setToolTip("How pieces may be turned on the paper; the cloth does not mind, the grain is printed")
        self.looks_on = QCheckBox("Loo&k for fewer pages")
        self.looks_on.setToolTip("Lay the true shapes between each other: a second or some, often a page or two less")
        self.alteration_lines = QCheckBox("Alteration lin&es of this round")
        self.alteration_lines.setToolTip("Dotted lines along which the steps of the journal cut the pieces")
        self.sizes = QListWidget()
        self.sizes.setAccessibleName("Further sizes")
        self.sizes.setToolTip("Sizes to draw on the same pieces, each with dashes and a layer of its own")
        self._fill(pieces, sizes)
        self._arrange(bool(sizes))
        self.pieces.itemChanged.connect(lambda _: self.changed.emit())
        self.sizes.itemChanged.connect(lambda _: self.changed.emit())
        self.turning.currentIndexChanged.connect(self.changed)
        self.looks_on.toggled.connect(self.changed)
        self.alteration_lines.toggled.connect(self.changed)

    def choices(self) -> dict[str, Choice]:
        """How each piece is printed."""
        return {self._cell(row, PIECE).text(): self._choice(row) for row in range(self.pieces.rowCount())}

    def is_any(self) -> bool:
        """Whether there is a piece to print."""
        return any(choice.copies for choice in self.choices().values())

    def turn(self) -> Turning:
        """How pieces may be turned."""
        return Turning(self.turning.currentData())

    def further_sizes(self) -> tuple[str, ...]:
        """The further sizes that are ticked."""
        items = [self.sizes.item(row) for row in range(self.sizes.count())]
        return tuple(item.text() for item in items if item.checkState() is Qt.CheckState.Checked)

    def remember(self) -> None:
        """Keep it for the next time."""
        self._settings.setValue("print/turning", self.turning.currentData())
        self._settings.setValue("print/looks_on", int(self.looks_on.isChecked()))
        self._settings.setValue("print/alteration_lines", int(self.alteration_lines.isChecked()))

    # -- inside

    def _choice(self, row: int) -> Choice:
        def ticked(column: int) -> bool:
            return self._cell(row, column).checkState() is Qt.CheckState.Checked

        copies = (2 if ticked(TWICE) else 1) if ticked(PIECE) else 0
        return Choice(copies, ticked(PAIR), ticked(WHOLE), self._cell(row, GROUP).text().strip())

    def _cell(self, row: int, column: int) -> QTableWidgetItem:
        cell = self.pieces.item(row, column)
        return cell if cell is not None else QTableWidgetItem()

    def _fill(self, pieces: Sequence[Piece], sizes: Sequence[str]) -> None:
        for row, piece in enumerate(pieces):
            for column in range(len(_HEADS)):
                self.pieces.setItem(row, column, _item(piece, column))
        for size in sizes:
            item = QListWidgetItem(size, self.sizes)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Unchecked)
            item.setSizeHint(_SIZE_CELL_PX)
        for way, words in _TURNS.items():
            self.turning.addItem(words, way.value)
        kept = str(self._settings.value("print/turning", Turning.FREE.value))
        self.turning.setCurrentIndex(max(self.turning.findData(kept), 0))
        for box, name in ((self.looks_on, "looks_on"), (self.alteration_lines, "alteration_lines")):
            box.setChecked(str(self._settings.value(f"print/{name}", 1)) != "0")

    def _arrange(self, has_sizes: bool) -> None:
        self.pieces.setHorizontalHeaderLabels([words for words, _ in _HEADS])
        for column, (_, help_text) in enumerate(_HEADS):
            head = self.pieces.horizontalHeaderItem(column)
            if head is not None:
                head.setToolTip(help_text)
        header = self.pieces.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(PIECE, QHeaderView.ResizeMode.Stretch)
        self.pieces.verticalHeader().hide()
        self.pieces.setShowGrid(False)
        self.pieces.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.pieces.setTabKeyNavigation(False)
        whole = QVBoxLayout(self)
        whole.addWidget(self.pieces, 1)
        rows = QFormLayout()
        rows.addRow("T&urn pieces", self.turning)
        whole.addLayout(rows)
        whole.addWidget(self.looks_on)
        whole.addWidget(self.alteration_lines)
        if has_sizes:
            label = QLabel("Further si&zes")
            label.setBuddy(self.sizes)
            whole.addWidget(label)
            self.sizes.setFlow(QListView.Flow.LeftToRight)
            self.sizes.setWrapping(True)
            self.sizes.setResizeMode(QListView.ResizeMode.Adjust)
            self.sizes.setMaximumHeight(84)
            whole.addWidget(self.sizes)


def _item(piece: Piece, column: int) -> QTableWidgetItem:
    item = QTableWidgetItem(piece.name if column == PIECE else "")
    item.setToolTip(quantity_words(piece) if column == PIECE else _HEADS[column][1])
    usable = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable
    if column == GROUP:
        item.setFlags(usable | Qt.ItemFlag.ItemIsEditable)
    elif column != WHOLE or piece.fold is not None:
        item.setFlags(usable | Qt.ItemFlag.ItemIsUserCheckable)
        item.setCheckState(Qt.CheckState.Checked if column == PIECE else Qt.CheckState.Unchecked)
    else:
        item.setFlags(Qt.ItemFlag.NoItemFlags)
    return item
