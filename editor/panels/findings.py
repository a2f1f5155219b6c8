"""Before cutting: what import, steps and checks have to say, gravest first; a click goes to the place."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRect, QSize, Qt, Signal
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import (
    QAbstractItemView,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from editor.panels.heading import Heading
from editor.session import Session
from editor.text import CAUTIONS, LEVEL_HELP, LEVEL_WORDS, findings_summary, in_unit
from editor.theme import Look
from geometry.findings import Finding, Level

_FINDING = Qt.ItemDataRole.UserRole
_GRAVEST_FIRST = (Level.STOP, Level.WARN, Level.NOTE)
_PAD_PX = 10
_SIGN_PX = 18


class FindingsPanel(QWidget):
    """The list of findings.

    Signals:
        chosen: a finding was clicked, or picked by key.
    """

    chosen = Signal(object)

    def __init__(self, session: Session, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.heading = Heading("Before cutting")
        self.list = QListWidget()
        self.list.setAccessibleName("Before cutting: what was found")
        self.list.setWordWrap(True)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setMouseTracking(True)
        self.list.setItemDelegate(_FindingDelegate(look, self.list))
        self.list.itemClicked.connect(self._choose)
        self.list.itemActivated.connect(self._choose)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.heading)
        layout.addWidget(self.list, 1)
        layout.addWidget(self._caution())
        session.findings_changed.connect(self.refresh)
        session.unit_changed.connect(self.refresh)
        look.changed.connect(self.list.viewport().update)
        self.refresh()

    def refresh(self) -> None:
        """Show the findings as they are now."""
        findings = self._session.findings if self._session.project else ()
        self.heading.set_detail(findings_summary(findings) if self._session.project else "")
        self.list.clear()
        for finding in sorted(findings, key=lambda each: _GRAVEST_FIRST.index(each.level)):
            self.list.addItem(_item(finding, in_unit(finding.text, self._session.unit)))

    def _caution(self) -> QLabel:
        label = QLabel(CAUTIONS[1])
        label.setObjectName("faint")
        label.setContentsMargins(14, 6, 10, 8)
        return label

    def _choose(self, item: QListWidgetItem) -> None:
        self.chosen.emit(item.data(_FINDING))


def _item(finding: Finding, words: str) -> QListWidgetItem:
    spoken = f"{LEVEL_WORDS[finding.level]}: {words}"
    item = QListWidgetItem(words)
    item.setData(_FINDING, finding)
    item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)
    item.setToolTip(
        f"{LEVEL_HELP[finding.level]} " + ("Click to see the place (Enter)." if finding.piece else "").strip()
    )
    return item


class _FindingDelegate(QStyledItemDelegate):
    """Draws shape and word of the level in its colour, then the sentence."""

    def __init__(self, look: Look, parent: QListWidget) -> None:
        super().__init__(parent)
        self._look, self._list = look, parent

    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        width = self._list.viewport().width()
        words = option.fontMetrics.boundingRect(
            QRect(0, 0, width - _SIGN_PX - 3 * _PAD_PX - 4, 10_000), Qt.TextFlag.TextWordWrap, str(index.data())
        )
        return QSize(width, words.height() + option.fontMetrics.height() + _PAD_PX * 2 - 4)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        finding: Finding = index.data(_FINDING)
        role = finding.level.value
        box = option.rect.adjusted(4, 1, -4, -1)
        picked = bool(option.state & (QStyle.StateFlag.State_Selected | QStyle.StateFlag.State_MouseOver))
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if picked:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(self._look.colour("card"))
            painter.drawRoundedRect(box, 6, 6)
        if option.state & QStyle.StateFlag.State_HasFocus:
            painter.setPen(self._look.colour("accent"))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(box, 6, 6)
        sign = self._look.pixmap(finding.level.value, role, _SIGN_PX)
        painter.drawPixmap(QPoint(box.left() + 6, box.top() + 7), sign)
        text = box.adjusted(_SIGN_PX + _PAD_PX + 6, 6, -_PAD_PX, 0)
        line_px = option.fontMetrics.height()
        font = painter.font()
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(self._look.colour(role))
        where = f" · {finding.piece}" if finding.piece else ""
        painter.drawText(text, Qt.AlignmentFlag.AlignTop, LEVEL_WORDS[finding.level] + where)
        font.setBold(False)
        painter.setFont(font)
        painter.setPen(self._look.colour("ink"))
        words = text.adjusted(0, line_px + 1, 0, 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap, str(index.data()))
        painter.restore()
