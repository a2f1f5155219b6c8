"""Find an alteration of the handbook: by what is typed, by body region, or by looking through the drawings."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, QRect, QSize, Qt, Signal
from PySide6.QtGui import QFontMetrics, QKeyEvent, QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from editor.handbook import found
from editor.panels.diagram import SHAPE, diagram
from editor.text import counted
from editor.theme import Look
from geometry.alterations.handbook.entry import Entry, Region
from geometry.alterations.handbook.panels import role_of
from geometry.model.pattern import Pattern

_ENTRY: Final = Qt.ItemDataRole.UserRole
_FITS: Final = Qt.ItemDataRole.UserRole + 1
_DRAWING_PX: Final = 76
_ROW_PX: Final = 62
_ALL: Final = "All of the body"


class HandbookList(QWidget):
    """A field to type in, the regions, and what is found.

    Signals:
        chosen: an entry was clicked, or Enter was pressed on it.
    """

    chosen = Signal(object)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._pattern = Pattern(())
        self.field = QLineEdit()
        self.field.setPlaceholderText("Name, or what is seen: gapes, pulls…")
        self.field.setAccessibleName("Find an alteration by its name or by what the toile shows")
        self.field.setToolTip("Words of its name, of the body, or of what the toile shows; Enter takes the one marked")
        self.region = QComboBox()
        self.region.setAccessibleName("Region of the body")
        self.region.setToolTip("Region of the body")
        self.region.addItem(_ALL, "")
        for region in Region:
            self.region.addItem(f"{region.value[:1].upper()}{region.value[1:]}", region.value)
        self.list = QListWidget()
        self.list.setAccessibleName("Alterations found")
        self.list.setItemDelegate(_EntryDelegate(look, self.list))
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setUniformItemSizes(True)
        self.list.setMouseTracking(True)
        self.count = QLabel()
        self.count.setObjectName("faint")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(7)
        for widget in (self.field, self.region, self.count, self.list):
            layout.addWidget(widget)
        self.field.textChanged.connect(self._find)
        self.field.installEventFilter(self)
        self.region.currentIndexChanged.connect(self._find)
        self.list.itemClicked.connect(self._choose)
        self.list.itemActivated.connect(self._choose)
        look.changed.connect(self.list.viewport().update)
        self._find()

    def show_pattern(self, pattern: Pattern) -> None:
        """Entries without a piece in this pattern are shown paler."""
        if pattern is not self._pattern:
            self._pattern = pattern
            self._find()

    def eventFilter(self, _: QObject, event: QEvent) -> bool:
        """From the field the arrows go through the list, and Enter takes what is marked there."""
        if not isinstance(event, QKeyEvent) or event.type() != QEvent.Type.KeyPress:
            return False
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        if step is not None:
            self.list.setCurrentRow(min(max(self.list.currentRow() + step, 0), self.list.count() - 1))
            return True
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._choose(self.list.currentItem())
            return True
        return False

    def _find(self) -> None:
        is_told = any(role_of(piece) for piece in self._pattern.pieces)
        entries = found(self.field.text(), self.region.currentData())
        self.list.clear()
        for entry in sorted(entries, key=lambda each: not each.fits(self._pattern)) if is_told else entries:
            item = QListWidgetItem(entry.name)
            item.setData(_ENTRY, entry)
            item.setData(_FITS, entry.fits(self._pattern))
            item.setToolTip(entry.symptom)
            self.list.addItem(item)
        self.list.setCurrentRow(0)
        self.count.setText(
            counted(len(entries), "alteration", "alterations")
            if entries
            else "Nothing is found by these words; try fewer, or another region."
        )

    def _choose(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            self.chosen.emit(item.data(_ENTRY))


class _EntryDelegate(QStyledItemDelegate):
    """The drawing, the name, and how the toile shows it."""

    def __init__(self, look: Look, parent: QWidget) -> None:
        super().__init__(parent)
        self._look = look

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        """Every row alike."""
        return QSize(200, _ROW_PX)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        """Paint a row."""
        entry: Entry = index.data(_ENTRY)
        rect: QRect = option.rect
        state: QStyle.StateFlag = option.state
        if state & (QStyle.StateFlag.State_Selected | QStyle.StateFlag.State_MouseOver):
            picked = bool(state & QStyle.StateFlag.State_Selected)
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._look.colour("accent_soft" if picked else "press"))
            painter.drawRoundedRect(rect.adjusted(1, 1, -1, -1), 6, 6)
        ink = self._look.colour("ink" if index.data(_FITS) else "line_strong")
        high = _DRAWING_PX * SHAPE[1] // SHAPE[0]
        ratio = painter.device().devicePixelRatioF()
        drawing = diagram(entry.code, ink.name(), _DRAWING_PX, ratio, captions=False)
        painter.drawPixmap(rect.left() + 4, rect.top() + (rect.height() - high) // 2, drawing)
        font = option.font
        words = rect.adjusted(_DRAWING_PX + 14, 6, -8, -6)
        self._words(painter, words, entry, ink.name(), font.family(), font.pointSizeF())

    def _words(self, painter: QPainter, rect: QRect, entry: Entry, ink: str, family: str, size_pt: float) -> None:
        font = painter.font()
        font.setFamily(family)
        font.setPointSizeF(size_pt)
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(ink)
        metrics = painter.fontMetrics()
        names = lines_within(metrics, entry.name, rect.width(), 2)
        for number, line in enumerate(names):
            painter.drawText(rect.left(), rect.top() + metrics.ascent() + number * metrics.height(), line)
        below = rect.adjusted(0, len(names) * metrics.height() + 1, 0, 0)
        font.setBold(False)
        font.setPointSizeF(size_pt * 0.9)
        painter.setFont(font)
        painter.setPen(self._look.colour("soft"))
        metrics = painter.fontMetrics()
        for number, line in enumerate(lines_within(metrics, entry.symptom, below.width(), 3 - len(names))):
            painter.drawText(below.left(), below.top() + metrics.ascent() + number * metrics.height(), line)


def lines_within(metrics: QFontMetrics, text: str, width_px: int, most: int) -> list[str]:
    """A text broken between words into a few lines at most; the last one ends in "…" where more would follow."""
    lines: list[str] = []
    words = text.split()
    while words and len(lines) < most - 1:
        count = next(
            (n for n in range(len(words), 1, -1) if metrics.horizontalAdvance(" ".join(words[:n])) <= width_px), 1
        )
        lines.append(" ".join(words[:count]))
        words = words[count:]
    return [*lines, metrics.elidedText(" ".join(words), Qt.TextElideMode.ElideRight, width_px)] if words else lines
