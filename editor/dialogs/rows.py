"""Read-only tables of figures, alike on every page."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QHeaderView, QTableWidget, QTableWidgetItem

from editor.text import column_length
from geometry.units import Unit

_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


_LEAST_PX = 54


class Rows(QTableWidget):
    """A table without grid whose last column takes the room that is left.

    Args:
        name: What it is called to those who do not see it.
        columns: The words above its columns.
        figures: Numbers of the columns of figures, which stand at the right.
    """

    def __init__(self, name: str, columns: Sequence[str], *, figures: Collection[int] = ()) -> None:
        super().__init__(0, len(columns))
        self._figures: Collection[int] = ()
        self.setAccessibleName(name)
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setWordWrap(True)
        self.setSelectionBehavior(QTableWidget.SelectionBehavior.SelectRows)
        self.setSelectionMode(QTableWidget.SelectionMode.SingleSelection)
        self.head(columns, figures=figures)

    def head(self, columns: Sequence[str], *, figures: Collection[int] = ()) -> None:
        """Give the columns other names."""
        self._figures = figures
        self.setColumnCount(len(columns))
        self.setHorizontalHeaderLabels(list(columns))
        header = self.horizontalHeader()
        header.setMinimumSectionSize(_LEAST_PX if figures else -1)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(len(columns) - 1, QHeaderView.ResizeMode.Stretch)
        for column in range(len(columns)):
            item = self.horizontalHeaderItem(column)
            assert item is not None
            item.setTextAlignment(_RIGHT if column in figures else _LEFT)

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
                item.setTextAlignment(_RIGHT if column in self._figures else _LEFT)
                if colours is not None and (colour := colours[number]) is not None:
                    item.setForeground(colour)
                self.setItem(number, column, item)
            self.setRowHeight(number, 26)


def figure(length_mm: float | None, unit: Unit) -> str:
    """A length for a column of figures, "" where there is none."""
    return "" if length_mm is None else column_length(length_mm, unit).replace("-", "\N{MINUS SIGN}")
