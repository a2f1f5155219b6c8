"""Before cutting: what import, steps and checks have to say, gravest first; a click goes to the place or puts right."""

from __future__ import annotations

from collections import deque

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QLabel, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from editor.panels.finding_rows import FINDING, FIX_WORDS, FindingDelegate
from editor.panels.heading import Heading
from editor.session import Session
from editor.text import CAUTIONS, LEVEL_HELP, LEVEL_WORDS, findings_summary, in_unit, step_sentence
from editor.theme import Look
from geometry.alterations.step import Step
from geometry.errors import PatternError
from geometry.findings import Finding, Level

_GRAVEST_FIRST = (Level.STOP, Level.WARN, Level.NOTE)


class FindingsPanel(QWidget):
    """The list of findings; those that can be put right safely have a button that does it.

    Signals:
        chosen: a finding was clicked, or picked by key.
    """

    chosen = Signal(object)

    def __init__(self, session: Session, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.heading = Heading("Before cutting")
        self.list = _FindingList()
        self.list.setAccessibleName("Before cutting: what was found")
        self.list.setWordWrap(True)
        self.list.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setMouseTracking(True)
        delegate = FindingDelegate(look, self.list)
        delegate.pressed.connect(self.put_right)
        self.list.setItemDelegate(delegate)
        self.list.itemClicked.connect(self._choose)
        self.list.itemActivated.connect(self._choose)
        self.list.fix_wanted.connect(lambda: self.put_right(self.list.currentRow()))
        self._fixes: dict[int, Step] = {}
        self._untried: deque[int] = deque()
        self._trying = QTimer(self)
        self._trying.setInterval(0)
        self._trying.timeout.connect(self._try_one)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(self.heading)
        layout.addWidget(self.list, 1)
        layout.addWidget(self._caution())
        session.findings_changed.connect(self.refresh)
        session.unit_changed.connect(self.refresh)
        look.changed.connect(self.list.viewport().update)
        self.refresh()

    def refresh(self) -> None:
        """Show the findings as they are now; what can be put right is found out afterwards, one by one."""
        findings = self._session.findings if self._session.project else ()
        self.heading.set_detail(findings_summary(findings) if self._session.project else "")
        self.list.clear()
        for finding in sorted(findings, key=lambda each: _GRAVEST_FIRST.index(each.level)):
            self.list.addItem(_item(finding, in_unit(finding.text, self._session.unit)))
        self._fixes = {}
        self._untried = deque(range(self.list.count()))
        self._trying.start()

    def put_right(self, row: int) -> None:
        """Do the step that puts a finding right, if there is one."""
        step = self._fixes.get(row)
        if step is None:
            return
        try:
            self._session.add_step(step)
        except PatternError as error:
            item = self.list.item(row)
            item.setData(FIX_WORDS, error.sentence)

    def _try_one(self) -> None:
        """Find out whether the next finding can be put right."""
        session = self._session
        if not self._untried or session.pattern is None or session.project is None:
            self._trying.stop()
            return
        from geometry.checks.fixing import fixes

        row = self._untried.popleft()
        item = self.list.item(row)
        step = fixes(session.pattern, item.data(FINDING), base=session.base, limits=session.project.limits)
        if step is not None:
            self._fixes[row] = step
            words = step_sentence(step, session.unit)
            item.setData(FIX_WORDS, words)
            item.setToolTip(f"{item.toolTip()} Put right (Shift+Enter): {words}.")
            self.list.scheduleDelayedItemsLayout()

    def _caution(self) -> QLabel:
        label = QLabel(CAUTIONS[1])
        label.setObjectName("faint")
        label.setContentsMargins(14, 6, 10, 8)
        return label

    def _choose(self, item: QListWidgetItem) -> None:
        self.chosen.emit(item.data(FINDING))


class _FindingList(QListWidget):
    """Shift+Enter puts the current finding right.

    Signals:
        fix_wanted: it was pressed.
    """

    fix_wanted = Signal()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Shift+Enter, else as usual."""
        is_enter = event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter)
        if is_enter and event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.fix_wanted.emit()
        else:
            super().keyPressEvent(event)


def _item(finding: Finding, words: str) -> QListWidgetItem:
    spoken = f"{LEVEL_WORDS[finding.level]}: {words}"
    item = QListWidgetItem(words)
    item.setData(FINDING, finding)
    item.setData(Qt.ItemDataRole.AccessibleTextRole, spoken)
    item.setToolTip(
        f"{LEVEL_HELP[finding.level]} " + ("Click to see the place (Enter)." if finding.piece else "").strip()
    )
    return item
