"""The pieces of the pattern shown, each with a small drawing, its size and how often it is cut."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter, QPen, QPolygonF
from PySide6.QtWidgets import (
    QAbstractItemView,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from editor.panels.heading import Heading
from editor.panels.row_card import painted_card
from editor.session import Session
from editor.text import counted
from editor.theme import Look
from geometry.model.piece import Piece

_PIECE = Qt.ItemDataRole.UserRole
_ALTERED = Qt.ItemDataRole.UserRole + 1
_DRAWING_PX = 40


class PiecesPanel(QWidget):
    """The list of pieces; picking one picks it on the table.

    Signals:
        shown: a piece was double-clicked or Enter was pressed on it: bring it into view.
    """

    shown = Signal(str)

    def __init__(self, session: Session, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.heading = Heading("Pieces")
        self.list = QListWidget()
        self.list.setAccessibleName("Pieces")
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setUniformItemSizes(True)
        self.list.setMouseTracking(True)
        self.list.setItemDelegate(_PieceDelegate(look, self.list))
        self.list.currentItemChanged.connect(self._pick)
        self.list.itemActivated.connect(lambda item: self.shown.emit(item.data(_PIECE).name))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.heading)
        layout.addWidget(self.list, 1)
        session.project_changed.connect(self.refresh)
        session.selection_changed.connect(self._show_selection)
        look.changed.connect(self.list.viewport().update)
        self.refresh()

    def refresh(self) -> None:
        """Show the pieces as they are now."""
        pieces = self._session.pattern.pieces if self._session.pattern else ()
        base = {piece.name: piece for piece in self._session.base.pieces} if self._session.base else {}
        self.list.blockSignals(True)
        while self.list.count() > len(pieces):
            self.list.takeItem(self.list.count() - 1)
        for row, piece in enumerate(pieces):
            item = self.list.item(row) or QListWidgetItem(self.list)
            altered = base.get(piece.name) is not piece
            item.setText(piece.name)
            item.setData(_PIECE, piece)
            item.setData(_ALTERED, altered)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{piece.name}, {_details(piece, altered=altered)}")
            item.setToolTip("Click to pick this piece out, double-click (Enter) to bring it into view.")
        self.list.blockSignals(False)
        self.heading.set_detail(counted(len(pieces), "piece", "pieces") if pieces else "")
        self._show_selection()

    def _pick(self, item: QListWidgetItem | None) -> None:
        if item is not None and item.text() != self._session.selection.piece:
            self._session.select(piece=item.text())

    def _show_selection(self) -> None:
        name = self._session.selection.piece
        found = next((row for row in range(self.list.count()) if self.list.item(row).text() == name), -1)
        self.list.blockSignals(True)
        self.list.setCurrentRow(found)
        self.list.blockSignals(False)


def _details(piece: Piece, *, altered: bool) -> str:
    parts = [f"size {piece.size}" if piece.size else "", f"cut {piece.quantity}"]
    parts += ["on the fold" if piece.fold else "", "altered" if altered else ""]
    return " · ".join(part for part in parts if part)


class _PieceDelegate(QStyledItemDelegate):
    """Draws the piece small, its name, and its details."""

    def __init__(self, look: Look, parent: QListWidget) -> None:
        super().__init__(parent)
        self._look = look

    def sizeHint(self, option: QStyleOptionViewItem, _: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(120, max(_DRAWING_PX + 12, option.fontMetrics.height() * 2 + 14))

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        piece: Piece = index.data(_PIECE)
        altered = bool(index.data(_ALTERED))
        painter.save()
        box = painted_card(painter, option, self._look)
        frame = QRect(box.left() + 6, box.center().y() - _DRAWING_PX // 2, _DRAWING_PX, _DRAWING_PX)
        self._draw_piece(painter, piece, frame, altered=altered)
        text = box.adjusted(_DRAWING_PX + 16, 0, -6, 0)
        half = text.height() // 2
        upper = text.adjusted(0, 0, 0, -half)
        lower = text.adjusted(0, half + 1, 0, 0)
        painter.setPen(self._look.colour("ink"))
        painter.drawText(upper, Qt.AlignmentFlag.AlignBottom, _elided(option, piece.name, upper.width()))
        painter.setPen(self._look.colour("soft"))
        details = _elided(option, _details(piece, altered=altered), lower.width())
        painter.drawText(lower, Qt.AlignmentFlag.AlignTop, details)
        painter.restore()

    def _draw_piece(self, painter: QPainter, piece: Piece, frame: QRect, *, altered: bool) -> None:
        x0, y0, x1, y1 = piece.bounds_mm
        scale = min(frame.width() / max(x1 - x0, 1.0), frame.height() / max(y1 - y0, 1.0))
        middle = QPointF(frame.center())
        ring = QPolygonF(
            [
                QPointF(middle.x() + (x - (x0 + x1) / 2) * scale, middle.y() - (y - (y0 + y1) / 2) * scale)
                for x, y in piece.outline.tolist()
            ]
        )
        painter.setPen(QPen(self._look.colour("accent" if altered else "soft"), 1.2))
        painter.setBrush(self._look.colour("card"))
        painter.drawPolygon(ring)


def _elided(option: QStyleOptionViewItem, words: str, width_px: int) -> str:
    return option.fontMetrics.elidedText(words, Qt.TextElideMode.ElideRight, width_px)
