"""Two toiles, of one wearer or of two, one over the other: drawn, dimensioned and listed."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QVBoxLayout, QWidget

from editor.commands.registry import Desk
from editor.dialogs.rows import Rows
from editor.dialogs.sketch import Sketch
from editor.dialogs.trouble_line import TroubleLine
from editor.document.wearing import replayed
from geometry.alterations.anchors import Anchor, on_edge
from geometry.errors import PatternError
from geometry.fitting.comparing import Comparison, LengthChange, compare
from geometry.model.pattern import Pattern

_MOST_DIMENSIONS = 6


class ComparePage(QWidget):
    """Choose two toiles, a piece and the point that both lie on."""

    title = "Compare"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._session = desk.session
        self.first, self.second, self.piece, self.point = QComboBox(), QComboBox(), QComboBox(), QComboBox()
        for box, words in (
            (self.first, "First toile"),
            (self.second, "Second toile"),
            (self.piece, "Piece"),
            (self.point, "Laid together at"),
        ):
            box.setAccessibleName(words)
            box.activated.connect(lambda _: self._show())
        self.piece.currentTextChanged.connect(lambda _: self._fill_points())
        self.sketch = Sketch(desk.look)
        self.table = Rows("Differences", ("", "First", "Second", "Change", ""))
        self.trouble = TroubleLine()
        top, below = QHBoxLayout(), QHBoxLayout()
        for widget in (self.first, QLabel("and, in colour,"), self.second):
            top.addWidget(widget)
        top.addStretch(1)
        for part in (QLabel("Piece"), self.piece, QLabel("grain on grain, laid together at"), self.point):
            top.addWidget(part)
        below.addWidget(self.sketch, 1)
        below.addWidget(self.table, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(top)
        layout.addWidget(self.trouble)
        layout.addLayout(below, 1)

    def refresh(self) -> None:
        """Offer the toiles there are now, at first the last two of the wearer shown."""
        project, wearer = self._session.project, self._session.wearer
        if project is None or wearer is None:
            return
        offered = [(f"{each.name}, {one.name}", (each.id, one.id)) for each in project.wearers for one in each.rounds]
        own = [number for number, row in enumerate(offered) if row[1][0] == wearer.id]
        wanted = (own[0], own[-1]) if len(own) > 1 else (0, own[0])
        for box, at in zip((self.first, self.second), wanted, strict=True):
            known = [box.itemText(row) for row in range(box.count())]
            if known != [row[0] for row in offered]:
                box.clear()
                for words, ids in offered:
                    box.addItem(words, ids)
                box.setCurrentIndex(at)
        names = [piece.name for piece in project.base.nest.sample.pieces]
        if [self.piece.itemText(row) for row in range(self.piece.count())] != names:
            self.piece.clear()
            self.piece.addItems(names)
        self._show()

    def _pattern(self, box: QComboBox) -> Pattern | None:
        project, ids = self._session.project, box.currentData()
        if project is None or ids is None:
            return None
        wearer = project.wearer(ids[0])
        return replayed(project, wearer, wearer.round(ids[1])).pattern

    def _fill_points(self) -> None:
        self.point.clear()
        self.point.addItem("the foot of its centre line", None)
        project = self._session.project
        if project is not None and self.piece.currentText():
            edges = project.base.nest.sample.piece(self.piece.currentText()).edges
            for number, edge in enumerate(edges):
                self.point.addItem(f"{edges[number - 1].id} and {edge.id}", edge.id)

    def _show(self) -> None:
        first, second, name = self._pattern(self.first), self._pattern(self.second), self.piece.currentText()
        if first is None or second is None or not name:
            return
        edge = self.point.currentData()
        at: dict[str, Anchor] = {name: on_edge(edge, 0.0)} if edge else {}
        try:
            compared = compare(first, second, at=at)
            own = next(each for each in compared.pieces if each.piece == name)
        except (PatternError, StopIteration) as error:
            self.trouble.say(getattr(error, "sentence", f'"{name}" is not in both.'))
            return
        self.trouble.say("")
        laid = second.piece(name).moved(own.over)
        lines = [(d.start, d.end, self._session.words(d.length_mm)) for d in own.dimensions[:_MOST_DIMENSIONS]]
        self.sketch.show_pieces((first.piece(name), laid), lines=lines)
        self.table.fill([*self._rows("garment", (row for _, row in compared.finished)), *self._parts(compared)])

    def _parts(self, compared: Comparison) -> list[tuple[str, ...]]:
        rows = []
        for each in compared.pieces:
            rows += self._rows(each.piece, each.edges)
            rows += self._rows(each.piece, each.intakes)
        return rows + self._rows("ease of seam", compared.seams)

    def _rows(self, what: str, changes: Iterable[LengthChange]) -> list[tuple[str, ...]]:
        return [
            (
                f"{what}: {row.what}",
                self._words(row.first_mm),
                self._words(row.second_mm),
                self._words(row.change_mm),
                "",
            )
            for row in changes
            if row.is_notable
        ]

    def _words(self, mm: float | None) -> str:
        return "" if mm is None else self._session.words(mm)
