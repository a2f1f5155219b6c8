"""Walking a seam: which one, from which end, how far; the table of what lands where, and fixes from there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QSlider,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from editor.canvas.bench import Bench
from editor.commands.walk_fixes import Fix, length_fixes, mark_fixes
from editor.panels.heading import Heading
from editor.session import Session
from editor.text import COLUMN_UNITS, SEEN_MM, column_change, column_length
from editor.theme import Look
from editor.tools.walk import Stand, WalkTool, distance_walked, end_words, mark_words, offset_mm
from geometry.checks.walking import Meeting, Walk
from geometry.errors import PatternError

_PER_MM = 4
"""Steps of the slider per millimetre."""

_EMPTY = "Choose a seam. Its pieces are laid along each other on the table, darts folded shut."


class WalkPanel(QWidget):
    """Works the walk tool together with the mouse on the table.

    Signals:
        begun: a seam is to be walked: the tool is to be taken in hand.
        begun_on: it is walked on this piece, which is to be brought into view.
        print_wanted: the table of differences is to be printed.
    """

    begun = Signal()
    begun_on = Signal(str)
    print_wanted = Signal()

    def __init__(self, session: Session, bench: Bench, look: Look) -> None:
        super().__init__()
        self._session, self._bench, self._look = session, bench, look
        self.seams = QComboBox()
        self.seams.setAccessibleName("Seam to walk")
        self.seams.setPlaceholderText("Choose a seam…")
        self.print = QPushButton("Print…")
        self.print.setObjectName("small")
        self.print.setToolTip("Write the table of differences as a PDF")
        self.print.clicked.connect(self.print_wanted)
        self.heading = Heading("Walk", self.print)
        self.from_words = QLabel("From")
        self.start, self.end = _segment(), _segment()
        self.swap = QPushButton("Swap")
        self.swap.setObjectName("small")
        self.swap.setToolTip("Change which piece lies still and which is laid on (X)")
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName("How far the seam is walked")
        self.slider.setToolTip("How far it is walked")
        self.slider.setPageStep(20 * _PER_MM)
        self.far = QLabel()
        self.far.setObjectName("faint")
        self.table = _table()
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        self._empty = QLabel(_EMPTY)
        self._empty.setObjectName("empty")
        self._empty.setWordWrap(True)
        self.fixes = QVBoxLayout()
        self.fixes.setSpacing(4)
        self._fix_buttons: list[QPushButton] = []
        self._shown: tuple[object, ...] = ()
        self._lay_out()
        self._connect()
        self.refresh()

    def begin(self, seam_id: str) -> None:
        """Walk a seam from its start."""
        self._tool.stand = Stand(seam_id)
        self.begun.emit()
        self._bench.refresh()
        self.refresh()
        walked = self.walked
        if walked is not None:
            self.begun_on.emit(walked.seam.first[0].piece)

    @property
    def walked(self) -> Walk | None:
        """The seam walked from end to end."""
        return self._tool.walked(self._bench.sheets.scene)

    @property
    def stand(self) -> Stand:
        """How far it is walked, and from which end."""
        return self._tool.stand

    def refresh(self) -> None:
        """Show the seam and how far it is walked."""
        self._fill_seams()
        walked = self.walked
        for widget in (self.from_words, self.start, self.end, self.swap, self.slider, self.far, self.table):
            widget.setVisible(walked is not None)
        self.print.setEnabled(walked is not None)
        self._empty.setVisible(walked is None and self._session.project is not None)
        if walked is not None:
            self._show(walked)

    def showEvent(self, event: QShowEvent) -> None:
        """Nothing is walked while the page is turned away; now it is."""
        super().showEvent(event)
        self.refresh()

    # -- inside

    def _refresh_if_seen(self) -> None:
        if self.isVisible():
            self.refresh()

    @property
    def _tool(self) -> WalkTool:
        tool = self._bench.tools["walk"]
        assert isinstance(tool, WalkTool)
        return tool

    def _connect(self) -> None:
        for signal in (self._session.project_changed, self._session.unit_changed):
            signal.connect(self._refresh_if_seen)
        self._bench.changed.connect(self._follow)
        self.seams.activated.connect(lambda _: self.begin(self.seams.currentData()))
        self.start.clicked.connect(lambda: self._stand(from_end=False))
        self.end.clicked.connect(lambda: self._stand(from_end=True))
        self.swap.clicked.connect(lambda: self._set(replace(self._tool.stand, swapped=not self._tool.stand.swapped)))
        self.slider.valueChanged.connect(self._slide)
        self.table.currentItemChanged.connect(lambda item, _: self._show_fixes(item))

    def _stand(self, *, from_end: bool) -> None:
        if from_end is not self._tool.stand.from_end:
            self._set(replace(self._tool.stand, from_end=from_end, walked_mm=0.0))

    def _set(self, stand: Stand) -> None:
        self._tool.stand = stand
        self._bench.refresh()
        self.refresh()

    def _slide(self, value: int) -> None:
        self._tool.go_to(value / _PER_MM, self._bench.sheets.scene)
        self._bench.refresh()
        self._show_far()

    def _follow(self) -> None:
        """The mouse walked on the table."""
        if self.isVisible() and self._bench.tool is self._tool:
            stand = self._tool.stand
            if (stand.seam, stand.from_end) != self._shown[:2]:
                self.refresh()
            else:
                self._show_far()

    def _fill_seams(self) -> None:
        pattern = self._session.pattern
        entries = [
            (seam.id, _seam_words(number, seam.first, seam.second))
            for number, seam in enumerate(pattern.seams if pattern else (), start=1)
        ]
        if [(self.seams.itemData(at), self.seams.itemText(at)) for at in range(self.seams.count())] != entries:
            self.seams.clear()
            for seam_id, words in entries:
                self.seams.addItem(words, seam_id)
        self.seams.setCurrentIndex(self.seams.findData(self._tool.stand.seam))
        self.seams.setToolTip(self.seams.currentText() or "The seam to walk")

    def _show(self, walked: Walk) -> None:
        stand = self._tool.stand
        self._shown = (stand.seam, stand.from_end)
        for button, words in zip((self.start, self.end), end_words(walked), strict=True):
            button.setText(words)
        (self.end if stand.from_end else self.start).setChecked(True)
        self.slider.blockSignals(True)
        self.slider.setRange(0, round(max(walked.first_mm, walked.second_mm) * _PER_MM))
        self.slider.blockSignals(False)
        self._show_far()
        self._fill_table(walked)

    def _show_far(self) -> None:
        self.slider.blockSignals(True)
        self.slider.setValue(round(self._tool.stand.walked_mm * _PER_MM))
        self.slider.blockSignals(False)
        self.far.setText(self._session.words(self._tool.stand.walked_mm))
        for at in range(self.table.topLevelItemCount()):
            item = self.table.topLevelItem(at)
            meeting = item.data(0, Qt.ItemDataRole.UserRole) if item is not None else None
            if item is not None and isinstance(meeting, Meeting):
                passed = _reached_mm(meeting, self._tool.stand) <= self._tool.stand.walked_mm + 0.01
                for column in range(4):
                    item.setForeground(column, self._look.colour("ink" if passed else "soft"))

    def _fill_table(self, walked: Walk) -> None:
        unit, stand = self._session.unit, self._tool.stand
        current = self.table.currentItem()
        picked = self.table.indexOfTopLevelItem(current) if current is not None else -1
        self.table.blockSignals(True)
        self.table.clear()
        self.table.setHeaderLabels([f"Mark, {COLUMN_UNITS[unit]}", "Upper", "Lower", "Off"])
        meetings = sorted(walked.meetings, key=lambda each: _reached_mm(each, stand))
        for meeting in meetings:
            sides = [
                column_length(distance_walked(s, stand), unit) if s else "none" for s in (meeting.first, meeting.second)
            ]
            off_mm = offset_mm(meeting, stand)
            off = column_change(off_mm, unit) if off_mm is not None else ""
            self._add_row([mark_words(meeting.stop), *sides, off], meeting)
        ease = column_change(walked.ease_mm, unit)
        self._add_row(
            ["whole seam", column_length(walked.first_mm, unit), column_length(walked.second_mm, unit), ease], None
        )
        self.table.blockSignals(False)
        item = self.table.topLevelItem(picked)
        if item is not None:
            self.table.setCurrentItem(item)
        self._show_fixes(item)
        self._show_far()

    def _add_row(self, words: list[str], meeting: Meeting | None) -> None:
        item = QTreeWidgetItem(self.table, words)
        item.setData(0, Qt.ItemDataRole.UserRole, meeting)
        item.setToolTip(0, words[0])
        for column in (1, 2, 3):
            item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        font = item.font(3)
        font.setBold(True)
        item.setFont(3, font)

    def _show_fixes(self, item: QTreeWidgetItem | None) -> None:
        for old in self._fix_buttons:
            self.fixes.removeWidget(old)
            old.hide()
            old.deleteLater()
        self._fix_buttons = []
        self.trouble.hide()
        walked = self.walked
        if item is None or walked is None:
            return
        from_end = self._tool.stand.from_end
        meeting = item.data(0, Qt.ItemDataRole.UserRole)
        fixes = mark_fixes(meeting, from_end=from_end) if meeting else length_fixes(walked, from_end=from_end)
        if isinstance(meeting, Meeting) and abs(offset_mm(meeting, self._tool.stand) or 0.0) < SEEN_MM:
            fixes = ()
        for fix in fixes:
            button = QPushButton(fix.words)
            button.setObjectName("small")
            button.setToolTip(f"{fix.words}; it is recorded as a step")
            button.setAutoDefault(False)
            button.clicked.connect(self._doing(fix))
            self.fixes.addWidget(button)
            self._fix_buttons.append(button)

    def _doing(self, fix: Fix) -> Callable[[], None]:
        def do() -> None:
            try:
                self._session.add_step(fix.step)
            except PatternError as error:
                self.trouble.setText(error.sentence)
                self.trouble.show()

        return do

    def _lay_out(self) -> None:
        ends = QHBoxLayout()
        ends.setSpacing(4)
        group = QButtonGroup(self)
        ends.addWidget(self.from_words)
        for button in (self.start, self.end):
            group.addButton(button)
            ends.addWidget(button)
        ends.addStretch(1)
        ends.addWidget(self.swap)
        far = QHBoxLayout()
        far.addWidget(self.slider, 1)
        far.addWidget(self.far)
        upper = QVBoxLayout()
        upper.setContentsMargins(14, 0, 12, 4)
        upper.setSpacing(7)
        for part in (self.seams, self._empty):
            upper.addWidget(part)
        upper.addLayout(ends)
        upper.addLayout(far)
        lower = QVBoxLayout()
        lower.setContentsMargins(14, 4, 12, 10)
        lower.setSpacing(5)
        lower.addWidget(self.trouble)
        lower.addLayout(self.fixes)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.heading)
        layout.addLayout(upper)
        layout.addWidget(self.table, 1)
        layout.addLayout(lower)
        layout.addStretch()


def _reached_mm(meeting: Meeting, stand: Stand) -> float:
    return max(distance_walked(stop, stand) for stop in (meeting.first, meeting.second) if stop)


def _seam_words(number: int, *sides: tuple[object, ...]) -> str:
    words = (" + ".join(f"{ref.piece} {ref.edge}" for ref in side) for side in sides)  # type: ignore[attr-defined]
    return f"{number}  {' / '.join(words)}"


def _segment() -> QPushButton:
    button = QPushButton()
    button.setObjectName("segment")
    button.setCheckable(True)
    button.setToolTip("Walk from this end (E changes it)")
    return button


def _table() -> QTreeWidget:
    table = QTreeWidget()
    table.setAccessibleName("What lands where when the seam is walked")
    table.setColumnCount(4)
    table.setRootIsDecorated(False)
    table.setUniformRowHeights(True)
    table.setToolTip("Distances from the end walked from, darts folded; off: how much further on the upper side")
    header = table.header()
    header.setStretchLastSection(False)
    header.setMinimumSectionSize(20)
    header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
    header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
    return table
