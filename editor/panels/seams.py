"""Seams: what is sewn to what, as said or as proposed with reasons; accepted, eased, turned round, forgotten."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from editor.document.project import Project
from editor.document.statements import proposed_ids, with_seam, without_seam
from editor.panels.heading import Heading
from editor.panels.length_field import LengthField
from editor.panels.seam_rows import ROW, SeamDelegate, SeamRow
from editor.panels.seam_stretches import SeamStretches
from editor.session import Session
from editor.text import counted, in_unit, signed_length
from editor.theme import Look
from geometry.checks.agreement import misfit
from geometry.checks.sewing import reasons, turned
from geometry.checks.stretches import held_by, with_gap
from geometry.checks.walking import Walk, walk
from geometry.checks.wording import from_to
from geometry.errors import PatternError
from geometry.model.pattern import Pattern, Seam, SeamSide

_EMPTY = "No seam is known yet. Take the seam tool (E) and click two edges that are sewn together."


class SeamsPanel(QWidget):
    """The list of seams, and below it the figures of the one picked out.

    Signals:
        walk_wanted: a seam is to be walked; its id.
        shown: a seam was picked in the list: bring it into view.
    """

    walk_wanted = Signal(str)
    shown = Signal(str)

    def __init__(self, session: Session, look: Look) -> None:
        super().__init__()
        self._session = session
        self.list = QListWidget()
        self.list.setAccessibleName("Seams")
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setMouseTracking(True)
        self.list.setItemDelegate(SeamDelegate(look, self.list))
        self.accept_all = QPushButton("Accept all")
        self.accept_all.setObjectName("small")
        self.accept_all.setToolTip("Take every proposed seam as said")
        self.accept_all.clicked.connect(self._accept_all)
        self.heading = Heading("Seams", self.accept_all)
        self.form = SeamForm(session)
        self.form.walk_wanted.connect(self.walk_wanted)
        self._empty = QLabel(_EMPTY)
        self._empty.setObjectName("empty")
        self._empty.setWordWrap(True)
        self._empty.setContentsMargins(14, 4, 12, 8)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        for widget in (self.heading, self._empty, self.list, self.form):
            layout.addWidget(widget, 1 if widget is self.list else 0)
        self.list.currentItemChanged.connect(lambda item, _: self._pick(item))
        for signal in (session.project_changed, session.unit_changed):
            signal.connect(self._refresh_if_seen)
        session.selection_changed.connect(self._show_selection)
        look.changed.connect(self.list.viewport().update)
        self.refresh()

    def refresh(self) -> None:
        """Show the seams as they are now."""
        rows = self._rows()
        proposed = sum(not row.is_stated for row in rows)
        words = counted(len(rows), "seam", "seams") if not proposed else f"{proposed} of {len(rows)} proposed"
        self.heading.set_detail(words if rows else "")
        self.accept_all.setVisible(proposed > 0)
        self._empty.setVisible(not rows and self._session.project is not None)
        self.list.blockSignals(True)
        self.list.clear()
        for row in rows:
            item = QListWidgetItem(self.list)
            item.setData(ROW, row)
            item.setData(Qt.ItemDataRole.AccessibleTextRole, row.spoken)
            item.setToolTip(row.spoken)
        self.list.blockSignals(False)
        self._show_selection()

    def showEvent(self, event: QShowEvent) -> None:
        """Nothing is walked while the page is turned away; now it is."""
        super().showEvent(event)
        self.refresh()

    def _refresh_if_seen(self) -> None:
        if self.isVisible():
            self.refresh()

    def _rows(self) -> list[SeamRow]:
        project, base, pattern = self._session.project, self._session.base, self._session.pattern
        if project is None or base is None or pattern is None:
            return []
        proposed = proposed_ids(project, base)
        found = []
        for number, seam in enumerate(pattern.seams, start=1):
            try:
                walked = walk(pattern, seam)
            except PatternError:
                continue
            is_stated = seam.id not in proposed
            is_off = misfit(walked, project.limits) is not None
            details = self._difference(walked) if is_stated else self._reasons(walked)
            details = "; ".join([*_in_part(pattern, seam), details])
            found.append(SeamRow(seam.id, number, _sides(seam), details, is_stated, is_off))
        return found

    def _difference(self, walked: Walk) -> str:
        low, high = walked.seam.ease_mm
        words = signed_length(walked.ease_mm, self._session.unit)
        if (low, high) == (0.0, 0.0):
            return "sides equally long" if words == "±0" else f"upper side {words}"
        return f"upper side {words}, wanted {self._session.words(low)} to {self._session.words(high)}"

    def _reasons(self, walked: Walk) -> str:
        return in_unit(f"proposed: {'; '.join(reasons(walked))}", self._session.unit)

    def _pick(self, item: QListWidgetItem | None) -> None:
        if item is not None and item.data(ROW).id != self._session.selection.seam:
            self._session.select(seam=item.data(ROW).id)
            self.shown.emit(item.data(ROW).id)

    def _show_selection(self) -> None:
        picked = self._session.selection.seam
        rows = [self.list.item(at).data(ROW) for at in range(self.list.count())]
        at = next((at for at, row in enumerate(rows) if row.id == picked), -1)
        self.list.blockSignals(True)
        self.list.setCurrentRow(at)
        self.list.blockSignals(False)
        if at >= 0:
            self.list.scrollToItem(self.list.item(at))
        self.form.show_seam(rows[at] if at >= 0 else None)

    def _accept_all(self) -> None:
        project, base = self._session.project, self._session.base
        if project is None or base is None:
            return
        proposed = proposed_ids(project, base)
        for seam in base.seams:
            if seam.id in proposed:
                project = with_seam(project, seam)
        self._session.state("Accept seams", project)


class SeamForm(QWidget):
    """Ease and buttons of one seam."""

    walk_wanted = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self._row: SeamRow | None = None
        self.low = LengthField("Least ease", help_text="By how much the upper side may be longer at least.")
        self.high = LengthField("Most ease", help_text="By how much the upper side may be longer at most.")
        ease = _row(QLabel("Ease"), self.low, QLabel("to"), self.high)
        ease.setStretch(1, 1)
        ease.setStretch(3, 1)
        self.accept = _button("Accept", "Take it as said", self._accept)
        self.forget = _button("Forget", "They are not sewn together; it is not proposed again", self._forget)
        self.turn = _button("Turn round", "Walk the lower side from its other end", self._turn)
        self.part = _button("In part…", "Say from where to where each edge is sewn", self._show_stretches)
        self.part.setCheckable(True)
        self.gap = _button(
            "Leave a gap", "Leave the middle of the seam open, as for a pocket; then say where", self._gap
        )
        self.stretches = SeamStretches()
        self.stretches.seam_changed.connect(self._stretch)
        self.walk = _button("Walk…", "Lay one side along the other on the table", self._walk)
        buttons = _row(self.accept, self.forget, self.turn, self.walk)
        parts = _row(self.part, self.gap)
        parts.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 6, 12, 10)
        layout.setSpacing(6)
        layout.addLayout(ease)
        layout.addWidget(self.low.complaint)
        layout.addWidget(self.high.complaint)
        layout.addWidget(self.stretches)
        layout.addLayout(parts)
        layout.addLayout(buttons)
        self.low.length_changed.connect(lambda mm: self._ease(self.low, mm, None))
        self.high.length_changed.connect(lambda mm: self._ease(self.high, None, mm))

    def show_seam(self, row: SeamRow | None) -> None:
        """Show a seam, or nothing."""
        self._row = row
        self.setVisible(row is not None)
        seam = self._seam
        if row is not None and seam is not None:
            self.low.show_length(seam.ease_mm[0], self._session.unit)
            self.high.show_length(seam.ease_mm[1], self._session.unit)
            self.accept.setVisible(not row.is_stated)
            self.part.setChecked(seam.is_partial)
            self._show_stretches()

    @property
    def _seam(self) -> Seam | None:
        seams = self._session.base.seams if self._session.base else ()
        return next((seam for seam in seams if self._row is not None and seam.id == self._row.id), None)

    def _ease(self, field: LengthField, low: float | None, high: float | None) -> None:
        seam = self._seam
        if seam is None:
            return
        band = (seam.ease_mm[0] if low is None else low, seam.ease_mm[1] if high is None else high)
        if band[0] > band[1]:
            field.complain("The least ease is at most as large as the most.")
            return
        self._change("Change ease", lambda project: with_seam(project, replace(seam, ease_mm=band)))

    def _accept(self) -> None:
        seam = self._seam
        if seam is not None:
            self._change("Accept seam", lambda project: with_seam(project, seam))

    def _forget(self) -> None:
        seam = self._seam
        if seam is not None:
            self._change("Forget seam", lambda project: without_seam(project, seam.id))
            self._session.select()

    def _turn(self) -> None:
        seam = self._seam
        if seam is not None:
            self._change("Turn seam round", lambda project: with_seam(project, turned(seam)))

    def _show_stretches(self) -> None:
        seam, pattern = self._seam, self._session.pattern
        is_shown = self.part.isChecked() and seam is not None and pattern is not None
        if is_shown and seam is not None and pattern is not None:
            self.stretches.show_seam(seam, pattern)
        self.stretches.setVisible(is_shown)
        self.gap.setVisible(is_shown and seam is not None and len(seam.first) == len(seam.second) == 1)

    def _stretch(self, seam: Seam) -> None:
        base, pattern = self._session.base, self._session.pattern
        if base is not None and pattern is not None:
            held = held_by(seam, base, pattern)
            self._change("Say from where to where it is sewn", lambda project: with_seam(project, held))

    def _gap(self) -> None:
        seam = self._seam
        if seam is not None:
            self._change("Leave a gap in a seam", lambda project: with_seam(project, with_gap(seam)))

    def _walk(self) -> None:
        if self._row is not None:
            self.walk_wanted.emit(self._row.id)

    def _change(self, label: str, change: Callable[[Project], Project]) -> None:
        if self._session.project is not None:
            self._session.state(label, change(self._session.project))


def _row(*widgets: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.setSpacing(5)
    for widget in widgets:
        row.addWidget(widget)
    return row


def _button(words: str, help_text: str, do: Callable[[], None]) -> QPushButton:
    button = QPushButton(words)
    button.setObjectName("small")
    button.setToolTip(help_text)
    button.setAutoDefault(False)
    button.clicked.connect(lambda: do())
    return button


def _sides(seam: Seam) -> tuple[str, str]:
    first, second = seam.sides
    return _side_words(first), _side_words(second)


def _in_part(pattern: Pattern, seam: Seam) -> list[str]:
    """From where to where the edges are sewn that are not sewn whole, each once."""
    parts = dict.fromkeys(part for side in seam.sides for part in side.parts if not part[2].is_whole)
    return [
        f"{ref.piece} {from_to(pattern.piece(ref.piece), ref.edge, stretch, backward=backward)} only"
        for ref, backward, stretch in parts
    ]


def _side_words(side: SeamSide) -> str:
    return " + ".join(f"{ref.piece}: {ref.edge}" for ref in dict.fromkeys(side.refs))
