"""What a trace is read as, piece by piece, each with a box to tick."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Final

import numpy as np
from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QHeaderView, QTreeWidget, QTreeWidgetItem

from editor.dialogs.clean_up_view import moved_words
from editor.formats.clean_up import CleanUp, Kind, Suggestion
from editor.formats.import_pattern import Import
from geometry.affine import Points
from geometry.curves import polyline
from geometry.model.piece import Piece
from geometry.units import Unit

_KEY: Final = Qt.ItemDataRole.UserRole
_PIECE: Final = Qt.ItemDataRole.UserRole + 1
_EDGE: Final = Qt.ItemDataRole.UserRole + 2
_TICK: Final = Qt.ItemFlag.ItemIsUserCheckable
_ROW_PX: Final = 22
_SAME_THING_MM: Final = 8.0
"""A dart or notch this near a suggestion is what became of it: longer than a tick."""

_ORDER: Final = (Kind.SIDE, Kind.CORNER, Kind.DART, Kind.NOTCH, Kind.FOLD, Kind.GRAIN, Kind.LINE)


class CleanUpRows(QTreeWidget):
    """One row per suggestion under its piece; the space bar ticks, arrows go from row to row.

    Signals:
        answered: key of a suggestion, and whether it is taken.
        piece_answered: a piece whose suggestions are all taken, or none.
        chosen: key of the suggestion, piece, and edge of the row that is current; "" for what it has none of.
    """

    answered = Signal(str, bool)
    piece_answered = Signal(str, bool)
    chosen = Signal(str, str, str)

    def __init__(self) -> None:
        super().__init__()
        self.setColumnCount(2)
        self.setHeaderLabels(["Read as", "Moves"])
        self.setAccessibleName("What the trace is read as")
        self.setToolTip("Tick what is right. The space bar ticks and unticks; what is not ticked stays as traced.")
        self.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.header().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self.header().setStretchLastSection(False)
        self.setObjectName("sections")
        self.setUniformRowHeights(True)
        self._filling = False
        self.itemChanged.connect(self._ticked)
        self.currentItemChanged.connect(self._went)

    def fill(self, found: Import, clean_up: CleanUp, unit: Unit) -> None:
        """Show what was found; the row that was current stays so."""
        current = self._name(self.currentItem())
        closed = {self._name(item) for item in self._tops() if not item.isExpanded()}
        first = self.topLevelItemCount() == 0
        self._filling = True
        self.clear()
        pieces = [piece for pattern in found.nest.patterns for piece in pattern.pieces]
        for piece in pieces:
            mine = [each for each in found.suggestions if (each.piece, each.size) == (piece.name, piece.size)]
            top = QTreeWidgetItem(self, [piece.name, ""])
            top.setData(0, _PIECE, piece.name)
            top.setSizeHint(0, QSize(0, _ROW_PX))
            for suggestion in sorted(mine, key=lambda each: _ORDER.index(each.kind)):
                self._add(top, piece, suggestion, clean_up, unit)
            self._add_edges(top, piece, mine)
            if mine:
                top.setFlags(top.flags() | _TICK)
                top.setCheckState(0, _state([clean_up.takes(each) for each in mine]))
            top.setExpanded(self._name(top) not in closed if not first else len(pieces) == 1)
        self._filling = False
        for item in self._all():
            if self._name(item) == current:
                self.setCurrentItem(item)
        if self.currentItem() is None and self._tops():
            self.setCurrentItem(self._tops()[0])

    def go_to(self, key: str) -> None:
        """Make the row of a suggestion the current one."""
        self._go(lambda name: name[0] == key)

    def go_to_edge(self, piece: str, edge: str) -> None:
        """Make a row of an edge the current one."""
        self._go(lambda name: name[1:] == (piece, edge))

    def _go(self, wanted: Callable[[tuple[str, ...]], bool]) -> None:
        found = next((item for item in self._all() if wanted(self._name(item))), None)
        if found is not None:
            self.setCurrentItem(found)

    def _add(self, top: QTreeWidgetItem, piece: Piece, suggestion: Suggestion, clean_up: CleanUp, unit: Unit) -> None:
        words = _words(piece, suggestion)
        moved = "" if suggestion.moved_mm is None else moved_words(suggestion.moved_mm, unit)
        item = QTreeWidgetItem(top, [words, moved])
        item.setFlags(item.flags() | _TICK)
        item.setCheckState(0, _state([clean_up.takes(suggestion)]))
        item.setData(0, _KEY, suggestion.key)
        item.setData(0, _PIECE, piece.name)
        is_side = suggestion.kind is Kind.SIDE
        item.setData(0, _EDGE, piece.nearest_edge(suggestion.at)[0].id if is_side else "")
        item.setToolTip(0, words)
        item.setTextAlignment(1, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        item.setSizeHint(0, QSize(0, _ROW_PX))

    def _add_edges(self, top: QTreeWidgetItem, piece: Piece, mine: list[Suggestion]) -> None:
        """Rows for the edges about which nothing is suggested, so that they can be named by key."""
        told = {piece.nearest_edge(each.at)[0].id for each in mine if each.kind is Kind.SIDE}
        for edge in piece.edges:
            if edge.id not in told:
                item = QTreeWidgetItem(top, [f"{edge.id}: as drawn", ""])
                item.setData(0, _PIECE, piece.name)
                item.setData(0, _EDGE, edge.id)

    def _tops(self) -> list[QTreeWidgetItem]:
        items = (self.topLevelItem(row) for row in range(self.topLevelItemCount()))
        return [item for item in items if item]

    def _all(self) -> list[QTreeWidgetItem]:
        tops = self._tops()
        return [each for top in tops for each in (top, *(top.child(row) for row in range(top.childCount()))) if each]

    def _name(self, item: QTreeWidgetItem | None) -> tuple[str, ...]:
        return tuple(str(item.data(0, role) or "") for role in (_KEY, _PIECE, _EDGE)) if item else ()

    def _ticked(self, item: QTreeWidgetItem, _: int) -> None:
        if self._filling:
            return
        taken = item.checkState(0) is Qt.CheckState.Checked
        key = item.data(0, _KEY)
        if key:
            self.answered.emit(key, taken)
        else:
            self.piece_answered.emit(item.data(0, _PIECE), taken)

    def _went(self, item: QTreeWidgetItem | None) -> None:
        if item is not None and not self._filling:
            self.chosen.emit(*self._name(item))


def _words(piece: Piece, suggestion: Suggestion) -> str:
    """What a row says: the thing by its name, then what is made of it."""
    things: dict[Kind, list[tuple[str, Points]]] = {
        Kind.DART: [(dart.id, np.array([dart.tip, dart.tip])) for dart in piece.darts],
        Kind.NOTCH: [(notch.id, np.array([piece.notch_point(notch)] * 2)) for notch in piece.notches],
        Kind.LINE: [(line.id, line.points) for line in piece.inner_lines],
    }
    if piece.grain is not None:
        things[Kind.LINE].append(("grain line", np.array([piece.grain.start, piece.grain.end])))
    at, guess = suggestion.at, " (a guess)" if suggestion.is_guess else ""
    edges = sorted(piece.edges, key=lambda edge: polyline.nearest(edge.points, at)[1])
    if suggestion.kind is Kind.SIDE:
        return f"{edges[0].id}: {suggestion.text}"
    if suggestion.kind is Kind.CORNER and len(edges) > 1:
        return f"{edges[1].id} – {edges[0].id}: {suggestion.text}"
    near = [(polyline.nearest(points, at)[1], name) for name, points in things.get(suggestion.kind, [])]
    gap_mm, name = min(near, default=(math.inf, ""))
    if gap_mm <= _SAME_THING_MM:
        where = f" on the {edges[0].id}" if suggestion.kind is Kind.NOTCH else ""
        return f"{name}: {suggestion.text}{where}"
    return f"line: {suggestion.text}" if suggestion.kind is Kind.LINE else f"{suggestion.text}{guess}"


def _state(taken: list[bool]) -> Qt.CheckState:
    if all(taken):
        return Qt.CheckState.Checked
    return Qt.CheckState.PartiallyChecked if any(taken) else Qt.CheckState.Unchecked
