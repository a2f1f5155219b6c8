"""Read-only tables of figures, alike on every page."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QHeaderView, QTableWidget, QTableWidgetItem


class Rows(QTableWidget):
    """A table without grid whose last column takes the room that is left."""

    def __init__(self, name: str, columns: Sequence[str]) -> None:
        super().__init__(0, len(columns))
        self.setAccessibleName(name)
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setWordWrap(True)
        self.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        self.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
        self.head(columns)

    def head(self, columns: Sequence[str]) -> None:
        """Give the columns other names."""
        self.setColumnCount(len(columns))
        self.setHorizontalHeaderLabels(list(columns))
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(len(columns) - 1, QHeaderView.ResizeMode.Stretch)

    def cell(self, row: int, column: int) -> QTableWidgetItem:
        """A cell that is filled."""
        item = self.item(row, column)
        assert item is not None
        return item

    def fill(self, rows: Sequence[Sequence[str]], colours: Sequence[QColor | None] | None = None) -> None:
        """Show rows of text; a colour for a row marks its words."""
        self.setRowCount(len(rows))
        for number, row in enumerate(rows):
            for column, text in enumerate(row):
                item = QTableWidgetItem(text)
                item.setFlags(item.flags() & ~Qt.ItemFlag.ItemIsEditable)
                if colours is not None and (colour := colours[number]) is not None:
                    item.setForeground(colour)
                self.setItem(number, column, item)
            self.setRowHeight(number, 26)
