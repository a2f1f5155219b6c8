"""Seam lengths: what the selected step, or the whole journal, changed on the edges."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHeaderView, QLabel, QTreeWidget, QTreeWidgetItem, QVBoxLayout, QWidget

from editor.panels.heading import Heading
from editor.session import Session
from editor.text import COLUMN_UNITS, column_change, column_length, counted
from editor.theme import Look
from geometry.alterations.step import EdgeChange, edge_changes
from geometry.model.garment import unhanded

_SEEN_MM = 0.25
"""A change below this is not listed: half the width of a pencil line."""

_COLUMNS = ("Edge", "Before", "After", "Change")


class LengthsPanel(QWidget):
    """A table of edges with their sewn length before and after."""

    def __init__(self, session: Session, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._look = session, look
        self.heading = Heading("Seam lengths")
        self.table = QTreeWidget()
        self.table.setAccessibleName("Seam lengths before and after, darts folded")
        self.table.setColumnCount(len(_COLUMNS))
        self.table.setHeaderLabels(_COLUMNS)
        self.table.setRootIsDecorated(False)
        self.table.setItemsExpandable(False)
        self.table.setIndentation(10)
        self.table.setUniformRowHeights(True)
        self.table.setToolTip("Lengths as they are sewn, darts folded. Only edges that changed are listed.")
        self.table.header().setStretchLastSection(False)
        self.table.header().setMinimumSectionSize(20)
        self.table.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.table.itemClicked.connect(self._pick)
        self._summary = QLabel()
        self._summary.setObjectName("faint")
        self._summary.setWordWrap(True)
        self._summary.setContentsMargins(14, 2, 10, 10)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        for widget in (self.heading, self._summary, self.table):
            layout.addWidget(widget)
        layout.setStretch(2, 1)
        layout.addStretch()
        session.project_changed.connect(self.refresh)
        session.selection_changed.connect(self.refresh)
        session.unit_changed.connect(self.refresh)
        look.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the changes of the selected step, or of all steps where none is selected."""
        record = self._session.selection.record
        number = next((n for n, each in enumerate(self._session.records, start=1) if each.id == record), None)
        self.heading.set_detail(f"step {number}" if number else "all steps" if self._session.records else "")
        changes = self._changes(record)
        seen = [change for change in changes if abs(change.change_mm) >= _SEEN_MM]
        self.table.clear()
        self.table.setHeaderLabels([f"Edge, {COLUMN_UNITS[self._session.unit]}", *_COLUMNS[1:]])
        groups: dict[str, QTreeWidgetItem] = {}
        for change in seen:
            group = groups.get(change.piece) or self._group(change.piece)
            groups[change.piece] = group
            group.addChild(self._row(change))
        self.table.expandAll()
        self.table.setVisible(bool(seen))
        self._summary.setText(self._words(len(seen), len(changes) - len(seen)))

    def _changes(self, record: str) -> tuple[EdgeChange, ...]:
        if record:
            outcome = self._session.outcome_of(record)
            return outcome.changes if outcome else ()
        base, pattern = self._session.base, self._session.pattern
        if base is None or pattern is None:
            return ()
        known = {piece.name: piece for piece in base.pieces}
        pairs = [(known.get(piece.name) or known.get(unhanded(piece.name), piece), piece) for piece in pattern.pieces]
        return tuple(change for before, after in pairs if before is not after for change in edge_changes(before, after))

    def _words(self, seen: int, same: int) -> str:
        if not self._session.records:
            return "No step has changed a seam yet."
        kept = counted(same, "other edge of these pieces keeps its length", "other edges of these pieces keep theirs")
        if not seen:
            return "No edge changes its sewn length."
        return f"Sewn length, darts folded; {kept}." if same else "Sewn length, darts folded."

    def _group(self, piece: str) -> QTreeWidgetItem:
        item = QTreeWidgetItem(self.table, [piece])
        item.setFirstColumnSpanned(True)
        item.setForeground(0, self._look.colour("soft"))
        return item

    def _row(self, change: EdgeChange) -> QTreeWidgetItem:
        unit = self._session.unit
        before, after = column_length(change.before_mm, unit), column_length(change.after_mm, unit)
        item = QTreeWidgetItem([change.edge, before, after, column_change(change.change_mm, unit)])
        for column in (1, 2, 3):
            item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        item.setForeground(1, self._look.colour("soft"))
        font = item.font(3)
        font.setBold(True)
        item.setFont(3, font)
        item.setToolTip(0, f"{change.piece}: {change.edge}")
        return item

    def _pick(self, item: QTreeWidgetItem) -> None:
        group = item.parent()
        if group is not None:
            selection = self._session.selection
            self._session.select(piece=group.text(0), edge=item.text(0), record=selection.record)
