"""Which other toile is laid over the one on the table, piece by piece at which point."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal

from editor.canvas.compared_lines import LaidOver, outline
from editor.canvas.table import Table
from editor.document.project import Round, Wearer
from editor.document.wearing import replayed
from editor.session import Session
from geometry.alterations.anchors import Anchor, On, on_edge, resolve
from geometry.errors import PatternError
from geometry.fitting.comparing import Comparison, compare, default_anchor
from geometry.model.marks import MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class Other:
    """A toile that can be laid over the one shown."""

    wearer: Wearer
    round: Round

    @property
    def ids(self) -> tuple[str, str]:
        """What tells it apart."""
        return (self.wearer.id, self.round.id)

    @property
    def words(self) -> str:
        """What it is called."""
        return f"{self.wearer.name}, {self.round.name}"


class Comparing(QObject):
    """Keeps the choice, works out what differs, and lays it over the table.

    Signals:
        changed: something else is compared, or what is compared changed.
    """

    changed = Signal()

    def __init__(self, session: Session, table: Table) -> None:
        super().__init__(table)
        self._session, self._table = session, table
        self._ids: tuple[str, str] | None = None
        self._at: dict[str, Anchor] = {}
        self.comparison: Comparison | None = None
        self.trouble = ""
        session.project_opened.connect(self.end)
        for signal in (session.project_changed, session.unit_changed):
            signal.connect(self.refresh)

    @property
    def others(self) -> tuple[Other, ...]:
        """The toiles that can be chosen: all but the one shown, the wearer's own first, the latest first."""
        project, wearer, shown = self._session.project, self._session.wearer, self._session.round
        if project is None or wearer is None:
            return ()
        wearers = [wearer, *(each for each in project.wearers if each is not wearer)]
        found = [Other(each, one) for each in wearers for one in reversed(each.rounds)]
        return tuple(other for other in found if not (other.wearer is wearer and other.round is shown))

    @property
    def ids(self) -> tuple[str, str] | None:
        """Ids of the wearer and the toile that is laid over."""
        return self.other.ids if self.other else None

    @property
    def other(self) -> Other | None:
        """The toile laid over, ``None`` if none is."""
        return next((other for other in self.others if other.ids == self._ids), None)

    def choose(self, ids: tuple[str, str] | None) -> None:
        """Lay another toile over the one shown, or none."""
        self._ids = ids
        self.refresh()

    def end(self) -> None:
        """Forget everything."""
        self._at = {}
        self.choose(None)

    # -- the point on which both lie

    def points(self, piece: Piece) -> list[tuple[str, Anchor | None]]:
        """Where a piece and its like can be laid together, in words; ``None`` the lower end of its centre line."""
        corners = [
            (f"corner of {piece.edges[number - 1].id} and {edge.id}", on_edge(edge.id, 0.0))
            for number, edge in enumerate(piece.edges)
        ]
        tips = [(f"tip of the {dart.id}", Anchor(On.TIP, dart.id)) for dart in piece.darts]
        notches = [(f"{notch.id} notch", Anchor(On.NOTCH, notch.id)) for notch in piece.notches]
        marks = [(mark.id, Anchor(On.LANDMARK, mark.id)) for mark in piece.marks if mark.kind is MarkKind.LANDMARK]
        return [("foot of the centre line", None), *corners, *marks, *tips, *notches]

    def point_of(self, piece: str) -> Anchor | None:
        """The point chosen for a piece."""
        return self._at.get(piece)

    def lay_together(self, piece: str, anchor: Anchor | None) -> None:
        """Lay a piece and its like together at another point."""
        self._at.pop(piece, None)
        if anchor is not None:
            self._at[piece] = anchor
        self.refresh()

    # -- inside

    def refresh(self) -> None:
        """Work out what differs now."""
        pattern, other = self._session.pattern, self._pattern()
        self.comparison, self.trouble = None, ""
        if pattern is not None and other is not None:
            try:
                self.comparison = compare(pattern, other, at=self._at)
            except PatternError as error:
                self._at, self.trouble = {}, f"{error.sentence} The pieces lie together at their centre lines again."
                self.comparison = compare(pattern, other)
        self._table.lay_over(self._laid(pattern, other))
        self.changed.emit()

    def _pattern(self) -> Pattern | None:
        project, other = self._session.project, self.other
        return None if project is None or other is None else replayed(project, other.wearer, other.round).pattern

    def _laid(self, shown: Pattern | None, other: Pattern | None) -> tuple[LaidOver, ...]:
        if shown is None or other is None or self.comparison is None:
            return ()
        laid = []
        for each in self.comparison.pieces:
            own = shown.piece(each.piece)
            together = resolve(own, self._at.get(each.piece) or default_anchor(own))
            worded = tuple((dimension, self._session.words(dimension.length_mm)) for dimension in each.dimensions)
            laid.append(LaidOver(each.piece, outline(other.piece(each.piece).moved(each.over)), together, worded))
        return tuple(laid)
