"""The pages of a plan: all of them small, one of them large."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QKeyEvent, QPainter, QPaintEvent, QPen, QPixmap, QWheelEvent
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from editor.dialogs.page_painter import paint_page
from editor.printing.job import Page, SheetPlan
from editor.theme import Look

_THUMBNAIL_PX = 96
_CLOSEST = 6.0


class PageView(QWidget):
    """One page, as large as fits; the wheel looks closer."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._plan: SheetPlan | None = None
        self._page: Page | None = None
        self._closer = 1.0
        self._middle = QPointF(0.5, 0.5)
        self.setMinimumSize(260, 320)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("The page, large")
        self.setToolTip("Wheel or + and −: look closer. 0: the whole page.")

    def show_page(self, plan: SheetPlan | None, page: Page | None) -> None:
        """Show another page."""
        self._plan, self._page = plan, page
        self._closer, self._middle = 1.0, QPointF(0.5, 0.5)
        self.setAccessibleDescription(f"Page {page.number} {page.label}".strip() if page else "No page")
        self.update()

    def paintEvent(self, _: QPaintEvent) -> None:
        """Draw the page with a soft edge."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.colour("press"))
        if self._plan is None or self._page is None:
            return
        frame = self._frame()
        painter.fillRect(frame.translated(2, 3), QColor(0, 0, 0, 40))
        paint_page(painter, self._plan, self._page, frame)
        painter.setPen(QPen(self._look.colour("line_strong"), 0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRect(frame)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Closer about the pointer."""
        frame = self._frame()
        if frame.width() > 0:
            at = event.position()
            self._look_closer(
                1.25 if event.angleDelta().y() > 0 else 0.8,
                QPointF((at.x() - frame.left()) / frame.width(), (at.y() - frame.top()) / frame.height()),
            )

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Plus and minus look closer and further, zero shows the whole page."""
        if event.key() in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self._look_closer(1.25, self._middle)
        elif event.key() == Qt.Key.Key_Minus:
            self._look_closer(0.8, self._middle)
        elif event.key() == Qt.Key.Key_0:
            self._look_closer(0.0, self._middle)
        else:
            super().keyPressEvent(event)

    def _look_closer(self, factor: float, about: QPointF) -> None:
        closer = min(max(self._closer * factor, 1.0), _CLOSEST)
        share = self._closer / closer
        self._middle = about + (self._middle - about) * share if closer > 1.0 else QPointF(0.5, 0.5)
        self._closer = closer
        self.update()

    def _frame(self) -> QRectF:
        if self._plan is None:
            return QRectF()
        wide, high = self._plan.page.width_mm, self._plan.page.height_mm
        scale = min((self.width() - 28) / wide, (self.height() - 28) / high) * self._closer
        frame = QRectF(0, 0, wide * scale, high * scale)
        middle = QPointF(self._middle.x() * frame.width(), self._middle.y() * frame.height())
        frame.translate(QPointF(self.width() / 2, self.height() / 2) - middle)
        return frame


class PageList(QListWidget):
    """All pages as small pictures, drawn when they come into view."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plan: SheetPlan | None = None
        self._pictures: dict[int, QPixmap] = {}
        self.setViewMode(QListWidget.ViewMode.IconMode)
        self.setMovement(QListWidget.Movement.Static)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self.setSpacing(4)
        self.setAccessibleName("Pages")
        self.setItemDelegate(_PageDelegate(self, look))

    @property
    def plan(self) -> SheetPlan | None:
        """The plan whose pages are shown."""
        return self._plan

    def show_plan(self, plan: SheetPlan | None) -> None:
        """Show the pages of another plan, the same place of the list in view."""
        row = max(self.currentRow(), 0)
        self._plan = plan
        self._pictures.clear()
        self.clear()
        for page in plan.pages if plan else ():
            name = page.label or "Start here"
            item = QListWidgetItem(name)
            item.setToolTip(f"Page {page.number}, {name}")
            self.addItem(item)
        self.setCurrentRow(min(row, self.count() - 1))

    def picture(self, row: int) -> QPixmap:
        """A page, small; drawn once."""
        if row not in self._pictures and self._plan is not None:
            page = self._plan.page
            size = QSize(round(_THUMBNAIL_PX * page.width_mm / page.height_mm), _THUMBNAIL_PX)
            if page.width_mm > page.height_mm:
                size = QSize(_THUMBNAIL_PX, round(_THUMBNAIL_PX * page.height_mm / page.width_mm))
            picture = QPixmap(size * self.devicePixelRatioF())
            picture.setDevicePixelRatio(self.devicePixelRatioF())
            painter = QPainter(picture)
            paint_page(painter, self._plan, self._plan.pages[row], QRectF(0, 0, size.width(), size.height()))
            painter.end()
            self._pictures[row] = picture
        return self._pictures[row]


class _PageDelegate(QStyledItemDelegate):
    """Draws a small page and its label."""

    def __init__(self, pages: PageList, look: Look) -> None:
        super().__init__(pages)
        self._pages, self._look = pages, look

    def sizeHint(self, option: QStyleOptionViewItem, _: QModelIndex | QPersistentModelIndex) -> QSize:
        return QSize(_THUMBNAIL_PX + 12, _THUMBNAIL_PX + option.fontMetrics.height() + 16)

    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        picture = self._pages.picture(index.row())
        size = picture.deviceIndependentSize()
        box = QRectF(option.rect).adjusted(1, 1, -1, -1)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.setPen(QPen(self._look.colour("accent"), 1))
            painter.setBrush(self._look.colour("accent_soft"))
            painter.drawRoundedRect(box, 6, 6)
        at = QPointF(box.center().x() - size.width() / 2, box.top() + 6 + (_THUMBNAIL_PX - size.height()) / 2)
        painter.drawPixmap(at, picture)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(self._look.colour("line_strong"), 0))
        painter.drawRect(QRectF(at, size))
        painter.setPen(self._look.colour("ink"))
        words = box.adjusted(0, _THUMBNAIL_PX + 9, 0, 0)
        painter.drawText(words, Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop, str(index.data()))
        painter.restore()
