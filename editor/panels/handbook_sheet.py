"""One alteration of the handbook: its drawing, what it does and why, how it is done, by how much."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from editor.handbook import has_difference, told_html
from editor.panels.diagram import diagram
from editor.panels.length_field import LengthField
from editor.text import in_unit
from editor.theme import Look
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.entry import Entry, Share
from geometry.alterations.handbook.landmarks import LANDMARKS
from geometry.errors import PatternError
from geometry.fitting.proposals import Proposal
from geometry.model.pattern import Pattern
from geometry.units import Unit, format_length

_DRAWING_PX = 236


class HandbookSheet(QWidget):
    """Shows an entry and asks for the way and the amount.

    Signals:
        changed: another way or amount was chosen; see ``variant`` and ``amount_mm``.
        landmark_wanted: a landmark is to be placed by mouse; its name.
        entry_wanted: another entry is to be laid out instead; its code.
        measured_wanted: the amount that the wearer's measurements ask for is to be taken.
    """

    changed = Signal()
    entry_wanted = Signal(str)
    measured_wanted = Signal()
    landmark_wanted = Signal(str)

    def __init__(self, look: Look) -> None:
        super().__init__()
        self._look = look
        self._entry: Entry | None = None
        self._pattern: Pattern | None = None
        self.drawing, self.words = QLabel(), QLabel()
        self.drawing.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        self.drawing.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.words.setWordWrap(True)
        self.words.setTextFormat(Qt.TextFormat.RichText)
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.words.setTextInteractionFlags(
            Qt.TextInteractionFlag.LinksAccessibleByMouse | Qt.TextInteractionFlag.LinksAccessibleByKeyboard
        )
        self.way = QComboBox()
        self.way.setAccessibleName("How it is done")
        self.way.setToolTip("Ways to do it")
        self.way_words, self.share = _faint(), _faint()
        self.difference = LengthField("Difference in all", help_text="Body and ease, less the pattern.")
        self.amount = LengthField("Amount", help_text="Less than nothing does the reverse.")
        self.landmark = QComboBox()
        self.landmark.setAccessibleName("Landmark")
        self.place = QPushButton("Place")
        self.place.setObjectName("small")
        self.place.setAccessibleName("Place the landmark on the table")
        self.place.setToolTip("Then click where it is on a piece; recorded as a step of its own")
        self.measured, self.sum = QPushButton(), _faint()
        self.measured.setObjectName("small")
        self.notes = _faint()
        self.cautions, self.trouble = QLabel(), QLabel()
        self.cautions.setObjectName("caution")
        self.trouble.setObjectName("trouble")
        for label in (self.notes, self.cautions, self.trouble):
            label.setWordWrap(True)
            label.hide()
        self._lay_out()
        self._connect()

    @property
    def variant(self) -> str:
        """The way chosen, "" where there is only one."""
        return self.way.currentData() or ""

    @property
    def is_wrong(self) -> bool:
        """Whether a text is typed that is no amount."""
        return bool(self.amount.complaint.text() or self.difference.complaint.text())

    def take(self) -> None:
        """Take over what is typed."""
        self.difference.take()
        self.amount.take()

    def show_entry(self, entry: Entry, variant: str = "") -> None:
        """Show another entry, done one way or, where nothing is said, the first."""
        self._entry = entry
        self.way.blockSignals(True)
        self.way.clear()
        for each in entry.variants:
            self.way.addItem(each.name, each.name)
            self.way.setItemData(self.way.count() - 1, each.words, Qt.ItemDataRole.ToolTipRole)
        self.way.setCurrentIndex(max(self.way.findData(variant), 0))
        self.way.blockSignals(False)
        self.rows.setRowVisible(self.way, bool(entry.variants))
        self.way_words.setVisible(bool(entry.variants))
        self.area.verticalScrollBar().setValue(0)
        self._show_way()
        self._draw()

    def show_step(
        self, step: Alteration, cautions: tuple[str, ...], trouble: str, unit: Unit, *, pattern: Pattern
    ) -> None:
        """Show its amount on a pattern, and what to say before it is done."""
        self._pattern = pattern
        self._show_share()
        self.amount.show_length(step.amount_mm, unit)
        share = self._share()
        self.difference.show_length(step.amount_mm / (share.of_whole if share else 1.0), unit)
        self.cautions.setText("\n".join(in_unit(text, unit) for text in cautions))
        self.cautions.setVisible(bool(cautions))
        self.trouble.setText(in_unit(trouble, unit))
        self.trouble.setVisible(bool(trouble))
        missing = next((name for name in LANDMARKS if f"the {name} is not known" in trouble), "")
        if missing:
            if self.landmark.findText(missing) < 0:
                self.landmark.addItem(missing)
            self.landmark.setCurrentText(missing)

    def show_landmarks(self, names: tuple[str, ...]) -> None:
        """Offer landmarks to be placed, the likeliest first."""
        if names != tuple(self.landmark.itemText(row) for row in range(self.landmark.count())):
            self.landmark.clear()
            self.landmark.addItems(names)

    def show_variant(self, variant: str) -> None:
        """Choose a way without saying so."""
        self.way.blockSignals(True)
        self.way.setCurrentIndex(max(self.way.findData(variant), 0))
        self.way.blockSignals(False)
        self._show_way()

    def show_measured(self, proposal: Proposal | None, unit: Unit) -> None:
        """Show what the wearer's measurements ask for, with the sum; nothing where they ask for nothing."""
        for widget in (self.measured, self.sum):
            widget.setVisible(proposal is not None)
        if proposal is not None:
            amount = format_length(proposal.amount_mm, unit)
            self.measured.setText(f"Take {amount}, as meas&ured")
            self.measured.setToolTip("The wearer's measurement and ease, less the pattern as this step finds it")
            self.sum.setText(proposal.words(unit))

    def show_notes(self, notes: tuple[str, ...], unit: Unit) -> None:
        """Show what is good to know of the step."""
        self.notes.setText("\n".join(in_unit(text, unit) for text in notes))
        self.notes.setVisible(bool(notes))

    def _connect(self) -> None:
        self.way.currentIndexChanged.connect(self._other_way)
        self.difference.length_changed.connect(self._other_difference)
        self.amount.length_changed.connect(self._other_amount)
        self.measured.clicked.connect(self.measured_wanted)
        self.place.clicked.connect(lambda: self.landmark_wanted.emit(self.landmark.currentText()))
        self.words.linkActivated.connect(lambda link: self.entry_wanted.emit(link.removeprefix("entry:")))
        self._look.changed.connect(self._draw)

    def _lay_out(self) -> None:
        self.area = QScrollArea()
        self.area.setWidgetResizable(True)
        self.area.setFrameShape(QFrame.Shape.NoFrame)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.area.setObjectName("told")
        self.area.setWidget(self._page())
        self.rows = self._fields()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(7)
        layout.addWidget(self.area, 1)
        layout.addLayout(self.rows)
        beneath = (self.way_words, self.share, self.measured, self.sum, self.notes, self.cautions, self.trouble)
        for widget in beneath:  # not in the rows, where words would have half the width
            layout.addWidget(widget)

    def _page(self) -> QWidget:
        """The drawing and what is told under it."""
        page = QWidget()
        page.setObjectName("told")
        told = QVBoxLayout(page)
        told.setContentsMargins(0, 0, 6, 0)
        told.addWidget(self.drawing)
        told.addWidget(self.words)
        told.addStretch(1)
        return page

    def _fields(self) -> QFormLayout:
        marks = QHBoxLayout()
        marks.setSpacing(6)
        marks.addWidget(self.landmark, 1)
        marks.addWidget(self.place)
        rows = QFormLayout()
        rows.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        rows.setHorizontalSpacing(10)
        rows.setVerticalSpacing(5)
        rows.addRow("H&ow", self.way)
        rows.addRow("&Difference", self.difference)
        rows.addRow("", self.difference.complaint)
        rows.addRow("A&mount", self.amount)
        rows.addRow("", self.amount.complaint)
        landmark = QLabel("Mar&k")
        landmark.setBuddy(self.landmark)
        self.landmark.setToolTip("Body points and levels that cuts go by; small crosses on the table")
        rows.addRow(landmark, marks)
        return rows

    def _draw(self) -> None:
        if self._entry is not None:
            ink = self._look.colour("ink").name()
            self.drawing.setPixmap(diagram(self._entry.code, ink, _DRAWING_PX, self.devicePixelRatioF()))
            self.words.setText(_linked(self._entry, self._look.colour("accent").name()))
            self.drawing.setAccessibleName(f"Drawing of {self._entry.name}: thin before, bold after, dashed the cuts")

    def _show_way(self) -> None:
        variants = self._entry.variants if self._entry else ()
        words = variants[max(self.way.currentIndex(), 0)].words if variants else ""
        self.way_words.setText(f"{words[:1].upper()}{words[1:]}.")
        self._show_share()

    def _share(self) -> Share | None:
        return self._entry.share(self.variant, self._pattern) if self._entry else None

    def _show_share(self) -> None:
        """What the amount is, and which part of a difference, done the way that is chosen."""
        if self._entry is not None:
            share, meaning = self._share(), self._entry.amount.meaning
            words = f" It is {share.words}." if share else ""
            self.share.setText(f"{meaning[:1].upper()}{meaning[1:]}.{words}")
            self.rows.setRowVisible(self.difference, has_difference(self._entry, self.variant, self._pattern))

    def _other_way(self) -> None:
        self._show_way()
        self.changed.emit()

    def _other_amount(self, amount_mm: float) -> None:
        try:
            if self._entry is not None:
                self._entry.refuse_amount(amount_mm)
        except PatternError as error:
            self.amount.complain(error.sentence)
            return
        self.amount.accept_amount(amount_mm)
        self.changed.emit()

    def _other_difference(self, difference_mm: float) -> None:
        if self._entry is None:
            return
        amount_mm = self._entry.from_difference(difference_mm, self.variant, self._pattern)
        try:
            self._entry.refuse_amount(amount_mm)
        except PatternError as error:
            self.difference.complain(error.sentence)
            return
        self.difference.accept_amount(difference_mm)
        self.amount.accept_amount(amount_mm)
        self.changed.emit()


def _faint() -> QLabel:
    label = QLabel()
    label.setObjectName("faint")
    label.setWordWrap(True)
    return label


def _linked(entry: Entry, accent: str) -> str:
    """The texts of an entry with its links in the colour for what can be clicked."""
    return told_html(entry).replace("<a ", f"<a style='color:{accent}' ")
