"""Body points and levels of every piece in a list: what the pieces tell, and what was marked."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QLabel, QTreeWidget, QTreeWidgetItem, QVBoxLayout, QWidget

from editor.canvas.bench import Bench
from editor.panels.heading import Heading
from editor.session import Session
from editor.theme import Look
from editor.tools.landmark import LandmarkTool, told_by
from geometry.alterations.handbook.landmarks import Landmark

_WHOSE = Qt.ItemDataRole.UserRole
_HOW = (
    "Cuts and darts go by these. Drag one on the table (L), or pick it here and press Enter: then the arrow keys move"
    " it. What you move is marked and goes along with every alteration."
)


class LandmarksPanel(QWidget):
    """Lists landmarks by piece; picking one takes the tool for them in hand and picks it on the table.

    Signals:
        table_wanted: the one picked is to be moved by keys; the name of its piece.
    """

    table_wanted = Signal(str)

    def __init__(self, session: Session, bench: Bench, look: Look) -> None:
        super().__init__()
        self._session, self._bench, self._look = session, bench, look
        tool = bench.tools[LandmarkTool.name]
        assert isinstance(tool, LandmarkTool)
        self._tool = tool
        self._shown: tuple[Landmark, ...] = ()
        self.heading = Heading("Body points and levels")
        how = QLabel(_HOW)
        how.setObjectName("faint")
        how.setWordWrap(True)
        how.setContentsMargins(14, 0, 12, 4)
        self.list = QTreeWidget()
        self.list.setAccessibleName("Body points and levels by piece")
        self.list.setColumnCount(2)
        self.list.setHeaderHidden(True)
        self.list.setRootIsDecorated(False)
        self.list.setIndentation(10)
        self.list.setFrameShape(QTreeWidget.Shape.NoFrame)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.header().setSectionResizeMode(0, QHeaderView.ResizeMode.ResizeToContents)
        self.list.header().setStretchLastSection(True)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        layout.addWidget(self.heading)
        layout.addWidget(how)
        layout.addWidget(self.list, 1)
        self.list.currentItemChanged.connect(self._pick)
        self.list.itemActivated.connect(self._move)
        bench.changed.connect(self._follow)
        look.changed.connect(self._renew)

    def showEvent(self, event: QShowEvent) -> None:
        """The list is kept up to date only while it is seen."""
        super().showEvent(event)
        self._renew()

    def hideEvent(self, event: QHideEvent) -> None:
        """Hidden, its tool is put away."""
        super().hideEvent(event)
        if self._bench.tool is self._tool:
            self._bench.set_tool("select")

    def _follow(self) -> None:
        """The pieces or the landmark picked are others by now."""
        if not self.isVisible():
            return
        marks = self._tool.marks(self._bench.sheets.scene)
        if len(marks) != len(self._shown) or any(a is not b for a, b in zip(marks, self._shown, strict=True)):
            self._renew()
        else:
            self._show_picked()

    def _renew(self) -> None:
        self._shown = self._tool.marks(self._bench.sheets.scene)
        self.list.blockSignals(True)
        self.list.clear()
        groups: dict[str, QTreeWidgetItem] = {}
        for mark in self._shown:
            group = groups.get(mark.piece) or self._group(mark.piece)
            groups[mark.piece] = group
            group.addChild(self._row(mark))
        self.list.expandAll()
        self.list.blockSignals(False)
        marked = sum(mark.is_marked for mark in self._shown)
        self.heading.set_detail(f"{len(self._shown)}, {marked} marked" if self._shown else "")
        self._show_picked()

    def _group(self, piece: str) -> QTreeWidgetItem:
        item = QTreeWidgetItem(self.list, [piece])
        item.setFirstColumnSpanned(True)
        item.setFlags(Qt.ItemFlag.ItemIsEnabled)
        item.setForeground(0, self._look.colour("soft"))
        return item

    def _row(self, mark: Landmark) -> QTreeWidgetItem:
        item = QTreeWidgetItem([mark.name, told_by(mark)])
        item.setData(0, _WHOSE, (mark.piece, mark.name))
        item.setForeground(1, self._look.colour("accent" if mark.is_marked else "soft"))
        item.setToolTip(0, "Enter takes it to the table, where the arrow keys move it.")
        item.setToolTip(1, told_by(mark))
        return item

    def _show_picked(self) -> None:
        self.list.blockSignals(True)
        current = self.list.currentItem()
        if current is None or tuple(current.data(0, _WHOSE) or ("", "")) != self._tool.picked:
            self.list.setCurrentItem(self._item_of(self._tool.picked))  # type: ignore[arg-type]  # None picks nothing
        self.list.blockSignals(False)

    def _item_of(self, picked: tuple[str, str]) -> QTreeWidgetItem | None:
        groups = (self.list.topLevelItem(at) for at in range(self.list.topLevelItemCount()))
        rows = (group.child(at) for group in groups if group is not None for at in range(group.childCount()))
        return next((row for row in rows if row is not None and tuple(row.data(0, _WHOSE)) == picked), None)

    def _pick(self, item: QTreeWidgetItem | None) -> None:
        whose = item.data(0, _WHOSE) if item is not None else None
        if whose is not None:
            self._tool.pick(*whose)
            self._bench.set_tool(LandmarkTool.name)
            self._bench.changed.emit()

    def _move(self, item: QTreeWidgetItem) -> None:
        whose = item.data(0, _WHOSE)
        if whose is not None:
            self._pick(item)
            self.table_wanted.emit(whose[0])
