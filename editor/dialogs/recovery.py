"""What a crash left behind, beside what the project's file holds."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from editor.dialogs.question import Question, Way
from editor.document.locking import spoken_time
from editor.document.recovery import Found, RoundDifference, compare, differs_beside
from editor.text import step_sentence
from editor.theme import Look
from geometry.alterations.replay import Record
from geometry.units import Unit


class RecoveryDialog(QDialog):
    """Offers each of them, with what is in it and since when.

    Signals:
        opened: one is to be opened.
        thrown_away: one is not wanted.
    """

    opened = Signal(object)
    thrown_away = Signal(object)

    def __init__(self, found: tuple[Found, ...], look: Look, unit: Unit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look, self._unit = look, unit
        self._found = list(found)
        self.setWindowTitle("Work that was not saved")
        self.resize(820, 560)
        self._names = QListWidget()
        self._names.setToolTip("What was open when Dartwise ended")
        self._names.setFixedWidth(230)
        self._names.setSpacing(3)
        self._names.addItems([f"{each.name}\n{spoken_time(each.record.at)}" for each in found])
        self._about = _label("", "faint")
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QScrollArea.Shape.NoFrame)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 16, 18, 14)
        layout.setSpacing(12)
        layout.addLayout(self._heading())
        middle = QHBoxLayout()
        middle.setSpacing(12)
        middle.addWidget(self._names)
        middle.addWidget(self._area, 1)
        layout.addLayout(middle, 1)
        layout.addWidget(self._buttons())
        self._names.setVisible(len(found) > 1)
        self._names.currentRowChanged.connect(self._show)
        self._names.setCurrentRow(0)

    @property
    def chosen(self) -> Found:
        """The one that is shown."""
        return self._found[max(self._names.currentRow(), 0)]

    def _heading(self) -> QHBoxLayout:
        sign = QLabel()
        sign.setPixmap(self._look.pixmap("save", "accent", 32))
        words = QVBoxLayout()
        words.setSpacing(3)
        words.addWidget(_label("Dartwise ended without being closed; your steps were written down.", "heading"))
        words.addWidget(self._about)
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(sign)
        row.addLayout(words, 1)
        return row

    def _buttons(self) -> QDialogButtonBox:
        box = QDialogButtonBox()
        roles = QDialogButtonBox.ButtonRole
        self.open_button = box.addButton("&Open it", roles.AcceptRole)
        self.throw_button = box.addButton("&Throw away…", roles.DestructiveRole)
        self.later_button = box.addButton("&Later", roles.RejectRole)
        self.later_button.setToolTip("It stays written down and is offered again next time")
        self.open_button.setDefault(True)
        self.throw_button.clicked.connect(self._ask_to_throw_away)
        box.accepted.connect(self.accept)
        box.rejected.connect(self.reject)
        return box

    def accept(self) -> None:
        """Open the one that is shown."""
        chosen = self.chosen
        super().accept()
        self.opened.emit(chosen)

    def _ask_to_throw_away(self) -> None:
        chosen = self.chosen
        sentence = f"What was done in {chosen.name} after it was last saved will be gone for good."
        way = Way("Throw it away", partial(self._throw_away, chosen), loses=True)
        question = Question(self._look, "Throw this away?", sentence, way, leave="Keep it")
        question.setParent(self, question.windowFlags())
        question.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        question.open()

    def _throw_away(self, chosen: Found) -> None:
        self.thrown_away.emit(chosen)
        row = self._found.index(chosen)
        self._found.remove(chosen)
        if not self._found:
            self.reject()
            return
        self._names.takeItem(row)
        self._show()

    def _show(self) -> None:
        self._about.setText(_about(self.chosen))
        self._area.setWidget(_comparison(self.chosen, self._unit))


def _about(found: Found) -> str:
    where = f"{found.name}, in {found.path.parent}" if found.path else f"{found.name}, never saved"
    record = found.record
    last = f"; the last change, “{record.label}”, at {spoken_time(record.at)}" if record.label else ""
    return f"{where}{last}"


def _comparison(found: Found, unit: Unit) -> QWidget:
    saved = found.saved()
    page = QWidget()
    page.setObjectName("side")
    grid = QGridLayout(page)
    grid.setContentsMargins(16, 14, 16, 14)
    grid.setHorizontalSpacing(10)
    grid.setVerticalSpacing(8)
    grid.setColumnStretch(0, 1)
    grid.setColumnStretch(2, 1)
    there = "In the file, changed by someone else since" if found.is_file_changed else "In the file"
    grid.addWidget(_label(there if saved else "Not in any file", "heading"), 0, 0)
    grid.addWidget(_label(f"Written down {spoken_time(found.record.at)}", "heading"), 0, 2)
    differences = compare(saved, found.record.project)
    for difference in differences:
        _add(grid, difference, unit)
    beside = differs_beside(saved, found.record.project)
    if beside:
        also = "Also different" if differences else "The steps are the same; different"
        words = ", ".join(beside)
        grid.addWidget(_label(f"{also}: {words}.", ""), grid.rowCount(), 0, 1, 3)
    grid.setRowStretch(grid.rowCount(), 1)
    return page


def _add(grid: QGridLayout, difference: RoundDifference, unit: Unit) -> None:
    row = grid.rowCount()
    grid.addWidget(_label(f"{difference.wearer}, {difference.round}", "key"), row, 0, 1, 3)
    if not difference.lines:
        grid.addWidget(_label("no steps", "faint"), row + 1, 2)
    for at, line in enumerate(difference.lines, start=row + 1):
        is_same = line.before == line.after
        name, top = "faint" if is_same else "", Qt.AlignmentFlag.AlignTop
        grid.addWidget(_label(_words(line.before, unit, "–"), name), at, 0, top)
        grid.addWidget(_label("" if is_same else "→", "key"), at, 1, top)
        grid.addWidget(_label(_words(line.after, unit, "taken out"), name), at, 2, top)


def _words(record: Record | None, unit: Unit, none: str) -> str:
    if record is None:
        return none
    off = " (turned off)" if not record.on else ""
    note = f"\n“{record.note}”" if record.note else ""
    return f"{step_sentence(record.step, unit)}{off}{note}"


def _label(words: str, name: str) -> QLabel:
    label = QLabel(words)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setObjectName(name)
    label.setWordWrap(True)
    return label
