"""What differs between the toile on the table and the one laid over it: garment, edges, darts, seams."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from editor.panels.comparing import Comparing
from editor.panels.heading import Heading
from editor.selection import Selection
from editor.session import Session
from editor.text import COLUMN_UNITS, column_change, column_length
from editor.theme import Look
from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.fitting.comparing import Comparison, LengthChange

_GARMENT, _SEAMS = "garment, seam to seam", "ease of seams"


class ComparePanel(QWidget):
    """A list seam by seam, and the point at which the piece picked out lies together with its like."""

    def __init__(self, session: Session, comparing: Comparing, look: Look) -> None:
        super().__init__()
        self._session, self._comparing, self._look = session, comparing, look
        self.end = QPushButton("Take away")
        self.end.setObjectName("small")
        self.end.setToolTip("Take the other toile off the table")
        self.end.clicked.connect(comparing.end)
        self.heading = Heading("Compared", self.end)
        self.point = QComboBox()
        self.point.setAccessibleName("Laid together at")
        self.point.setToolTip("Grain on grain; the piece picked out and its like lie on each other at this point")
        self.point.activated.connect(self._choose_point)
        self.here = QPushButton("Picked out")
        self.here.setObjectName("small")
        self.here.setToolTip("Lay them together at the notch, the dart tip or the start of the edge picked out")
        self.here.clicked.connect(self._lay_at_picked)
        self.words, self.trouble = QLabel(), QLabel()
        self.words.setObjectName("faint")
        self.trouble.setObjectName("trouble")
        for label in (self.words, self.trouble):
            label.setWordWrap(True)
        self.table = QTreeWidget()
        self.table.setAccessibleName("Differences, seam by seam")
        self.table.setToolTip("Lengths as they are sewn, darts folded. Click one to see it on the table.")
        self.table.setColumnCount(4)
        self.table.setRootIsDecorated(False)
        self.table.setItemsExpandable(False)
        self.table.setIndentation(10)
        self.table.setUniformRowHeights(True)
        header = self.table.header()
        header.setStretchLastSection(False)
        header.setMinimumSectionSize(20)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.table.itemClicked.connect(self._pick)
        self._lay_out()
        comparing.changed.connect(self.refresh)
        session.selection_changed.connect(self._show_points)
        look.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show what differs now."""
        other, comparison = self._comparing.other, self._comparing.comparison
        self.table.clear()
        self.trouble.setText(self._comparing.trouble)
        self.trouble.setVisible(bool(self._comparing.trouble))
        wearer, shown = self._session.wearer, self._session.round
        if other is None or comparison is None or wearer is None or shown is None:
            return
        names = (other.round.name, shown.name) if other.wearer is wearer else (other.wearer.name, wearer.name)
        self.table.setHeaderLabels([f"Edge, {COLUMN_UNITS[self._session.unit]}", *names, "Change"])
        self._fill(comparison)
        self.table.expandAll()
        alone = [(comparison.only_first, "only on the table"), (comparison.only_second, f"only in {other.words}")]
        told = [f"{', '.join(pieces)}: {words}." for pieces, words in alone if pieces]
        same = "" if self.table.topLevelItemCount() else "Nothing differs. "
        self.words.setText(f"{same}{other.words} lies in colour over {wearer.name}, {shown.name}. {' '.join(told)}")
        self._show_points()

    def _fill(self, comparison: Comparison) -> None:
        self._group(_GARMENT, (row for _, row in comparison.finished))
        for piece in comparison.pieces:
            self._group(piece.piece, (*piece.edges, *piece.intakes))
        self._group(_SEAMS, comparison.seams)

    def _group(self, name: str, changes: Iterable[LengthChange]) -> None:
        rows = [self._row(change) for change in changes if change.is_notable]
        if rows:
            group = QTreeWidgetItem(self.table, [name])
            group.setFirstColumnSpanned(True)
            group.setForeground(0, self._look.colour("soft"))
            group.addChildren(rows)

    def _row(self, change: LengthChange) -> QTreeWidgetItem:
        """The other toile's length first: it is what the one on the table came from."""
        unit, by_mm = self._session.unit, change.change_mm
        lengths = (change.second_mm, change.first_mm)
        item = QTreeWidgetItem([change.what, *("" if mm is None else column_length(mm, unit) for mm in lengths)])
        item.setText(3, "" if by_mm is None else column_change(-by_mm, unit))
        for column in (1, 2, 3):
            item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        item.setForeground(1, self._look.colour("soft"))
        font = item.font(3)
        font.setBold(True)
        item.setFont(3, font)
        item.setToolTip(0, change.what)
        return item

    def _show_points(self) -> None:
        """The points of the piece picked out; the first piece where none is."""
        pattern = self._session.pattern
        self.point.clear()
        if pattern is None or not pattern.pieces:
            return
        known = {piece.name: piece for piece in pattern.pieces}
        piece = known.get(self._session.selection.piece, pattern.pieces[0])
        self._label.setText(f"{piece.name}, together at")
        self.here.setEnabled(_anchor_of(self._session.selection) is not None)
        chosen = self._comparing.point_of(piece.name)
        for words, anchor in self._comparing.points(piece):
            self.point.addItem(words, (piece.name, anchor))
            if anchor == chosen:
                self.point.setCurrentIndex(self.point.count() - 1)

    def _choose_point(self, row: int) -> None:
        self._comparing.lay_together(*self.point.itemData(row))

    def _lay_at_picked(self) -> None:
        anchor = _anchor_of(self._session.selection)
        if anchor is not None:
            self._comparing.lay_together(self._session.selection.piece, anchor)

    def _pick(self, item: QTreeWidgetItem) -> None:
        group, pattern = item.parent(), self._session.pattern
        name = group.text(0) if group is not None else item.text(0)
        piece = next((each for each in pattern.pieces if each.name == name), None) if pattern else None
        if piece is None:
            return
        what = item.text(0) if group is not None else ""
        is_edge, is_dart = what in {edge.id for edge in piece.edges}, what in {dart.id for dart in piece.darts}
        self._session.select(piece=name, edge=what if is_edge else "", dart=what if is_dart and not is_edge else "")

    def _lay_out(self) -> None:
        self._label = QLabel()
        self._label.setObjectName("faint")
        self._label.setBuddy(self.point)
        rows = QFormLayout()
        rows.setContentsMargins(14, 4, 12, 6)
        rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        rows.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapAllRows)
        rows.setVerticalSpacing(3)
        point = QHBoxLayout()
        point.setSpacing(6)
        point.addWidget(self.point, 1)
        point.addWidget(self.here)
        self.point.setMinimumContentsLength(8)
        self.point.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        rows.addRow(self._label, point)
        for label in (self.words, self.trouble):
            label.setContentsMargins(14, 2, 10, 4)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.heading)
        layout.addWidget(self.words)
        layout.addLayout(rows)
        layout.addWidget(self.trouble)
        layout.addWidget(self.table, 1)


def _anchor_of(picked: Selection) -> Anchor | None:
    """The point that goes with what is picked out on a piece."""
    if picked.notch:
        return Anchor(On.NOTCH, picked.notch)
    if picked.dart:
        return Anchor(On.TIP, picked.dart)
    return on_edge(picked.edge, 0.0) if picked.edge else None
