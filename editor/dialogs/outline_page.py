"""Where only one outline came in: which line it is, and how wide the allowances are, piece by piece, edge by edge."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QLabel,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from editor.dialogs.outline_box import OutlineBox
from editor.dialogs.outline_picture import OutlinePicture
from editor.dialogs.side_by_side import lay_side_by_side
from editor.dialogs.trouble_line import TroubleLine
from editor.dialogs.waiting import waiting
from editor.formats.clean_up import CleanUp
from editor.formats.import_pattern import Import, Opened
from editor.formats.recognise_allowance import OnlyLine
from editor.theme import Look
from geometry.errors import PatternError
from geometry.model.pattern import EdgeRef
from geometry.model.piece import Piece
from geometry.units import Unit, format_length, parse_length_mm

_REF: Final = Qt.ItemDataRole.UserRole
_EDITABLE: Final = Qt.ItemFlag.ItemIsEditable
_PAUSE_MS: Final = 150
_ROW_PX: Final = 22


class OutlineDialog(QDialog):
    """Asks once; the stitching line is then derived, or the cutting line, and both are drawn.

    Signals:
        answered: the answer is given; ``only_line`` holds it.
    """

    answered = Signal()

    def __init__(
        self, opened: Opened, clean_up: CleanUp, look: Look, unit: Unit, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self._opened, self._clean_up, self._unit = opened, clean_up, unit
        self._bare = opened.made(clean_up).nest.sample.pieces
        self._edges_mm: dict[tuple[str, str], float] = {}
        self._filling = False
        self.found: Import | None = None
        self.setWindowTitle("Stitching line and cutting line")
        self.box = OutlineBox(unit)
        self.rows = QTreeWidget()
        self.picture = OutlinePicture(look)
        self.trouble = TroubleLine()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self._soon = QTimer(self, singleShot=True, interval=_PAUSE_MS)
        self._soon.timeout.connect(self._preview)
        self._furnish()
        self._arrange()
        self.refill()
        self._preview()
        self.box.adding.setFocus()

    @property
    def only_line(self) -> OnlyLine:
        """The answer."""
        stated = self.box.stated
        line = OnlyLine(stated.allowance_mm, stated.add_mm, stated.hem_mm, asked=True)
        return line if self.box.stitching.isChecked() else replace(line, edges_mm=dict(self._edges_mm))

    def accept(self) -> None:
        """Give the answer, if a pattern can be made with it; whoever asked closes the page."""
        if not self.box.is_wrong and self._preview():
            self.answered.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter in a field takes what was typed there; elsewhere it begins."""
        enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if enter and self.focusWidget() in (self.box.allowance, self.box.hem):
            self.rows.setFocus()
        else:
            super().keyPressEvent(event)

    def refill(self) -> None:
        """Show the width of every edge; the widths of seams and hems may have changed."""
        self._filling = True
        self.rows.setEnabled(not self.box.stitching.isChecked())
        for row, piece in enumerate(self._bare):
            top = self.rows.topLevelItem(row) or self._row(self.rows, piece.name, EdgeRef(piece.name, ""))
            widths = self.only_line.widths_on(piece)
            for place, edge in enumerate(piece.edges):
                item = top.child(place) or self._row(top, edge.id, EdgeRef(piece.name, edge.id))
                own = (piece.name, edge.id) in self._edges_mm
                item.setText(1, format_length(widths[edge.id], self._unit))
                item.setText(0, f"{edge.id} (fold)" if edge.id == piece.fold else edge.id)
                font = item.font(1)
                font.setBold(own)
                item.setFont(1, font)
            top.setText(1, self._words_of_piece(piece, widths))
        self._filling = False
        self._soon.start()

    def _words_of_piece(self, piece: Piece, widths: dict[str, float]) -> str:
        there = {widths[edge.id] for edge in piece.edges if edge.id != piece.fold}
        return format_length(there.pop(), self._unit) if len(there) == 1 else "several"

    def _row(self, parent: QTreeWidget | QTreeWidgetItem, words: str, ref: EdgeRef) -> QTreeWidgetItem:
        item = QTreeWidgetItem(parent, [words, ""])
        item.setFlags(item.flags() | _EDITABLE)
        item.setData(0, _REF, (ref.piece, ref.edge))
        item.setTextAlignment(1, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        item.setSizeHint(0, QSize(0, _ROW_PX))
        return item

    def _typed(self, item: QTreeWidgetItem, column: int) -> None:
        """A width typed at an edge, or at a piece for all of its edges; none typed takes the usual one again."""
        if self._filling or column != 1:
            return
        piece_name, edge_id = item.data(0, _REF)
        piece = next(each for each in self._bare if each.name == piece_name)
        edges = [edge_id] if edge_id else [edge.id for edge in piece.edges if edge.id != piece.fold]
        words = item.text(1).strip()
        try:
            width_mm = parse_length_mm(words, default=self._unit) if words else None
            if width_mm is not None and width_mm < 0:
                raise PatternError("Type an allowance of 0 or more.", code="bad-length")
        except PatternError as error:
            self.trouble.say(error.sentence)
        else:
            self.trouble.say("")
            for edge in edges:
                self._edges_mm.pop((piece_name, edge), None)
                if width_mm is not None:
                    self._edges_mm[piece_name, edge] = width_mm
        self.refill()

    def _preview(self) -> bool:
        self._soon.stop()
        if self.box.is_wrong:
            return False
        try:
            with waiting():
                self.found = self._opened.made(self._clean_up, self.only_line)
        except PatternError as error:
            self.trouble.say(error.sentence)
            return False
        self.picture.show_pieces(self.found.nest.sample.pieces)
        return True

    def _went(self, item: QTreeWidgetItem | None) -> None:
        if item is not None:
            self.picture.show_edge(EdgeRef(*item.data(0, _REF)))

    def _picked(self, piece: str, edge: str) -> None:
        for row, each in enumerate(self._bare):
            top = self.rows.topLevelItem(row)
            if each.name == piece and top is not None:
                place = [other.id for other in each.edges].index(edge)
                top.setExpanded(True)
                item = top.child(place)
                if item is not None:
                    self.rows.setCurrentItem(item, 1)
                    self.rows.setFocus()

    def _furnish(self) -> None:
        self.rows.setColumnCount(2)
        self.rows.setObjectName("sections")
        self.rows.setHeaderLabels(["Edge", "Allowance"])
        self.rows.setAccessibleName("Allowance of each piece and edge")
        self.rows.setToolTip(
            "Type the width of one edge, or of all edges of a piece, in the second column (F2). Empty it for the usual."
        )
        self.rows.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.rows.header().setStretchLastSection(False)
        self.rows.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
        )
        self.rows.itemChanged.connect(self._typed)
        self.rows.currentItemChanged.connect(self._went)
        self.picture.picked.connect(self._picked)
        for button in (self.box.stitching, self.box.adding, self.box.cutting):
            button.toggled.connect(self.refill)
        for field in (self.box.allowance, self.box.hem):
            field.length_changed.connect(self.refill, Qt.ConnectionType.QueuedConnection)
        ok = self.buttons.button(QDialogButtonBox.StandardButton.Ok)
        ok.setText("&Begin")
        ok.setDefault(True)
        self.buttons.button(QDialogButtonBox.StandardButton.Cancel).setText("&Back")
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)

    def _arrange(self) -> None:
        words = QLabel("Single edges, where they differ. The stitching line is derived once and kept.")
        words.setObjectName("faint")
        words.setWordWrap(True)
        right = QVBoxLayout()
        right.setSpacing(8)
        for widget in (self.box, words):
            right.addWidget(widget)
        right.addWidget(self.rows, 1)
        right.addWidget(self.trouble)
        right.addWidget(self.buttons)
        lay_side_by_side(self, self.picture, right)
        self.resize(1080, 680)
