"""Before a drawing becomes a project: its units, and who it is for."""

from __future__ import annotations

import math
from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Final

import numpy as np
from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)

from editor.dialogs.measured_piece import MeasuredPiece, measured
from editor.dialogs.waiting import waiting
from editor.document.project import Base, Project, Round, Wearer
from editor.formats.drawing import Drawing
from editor.formats.dxf_reader import read_drawing
from editor.formats.import_pattern import Import, opened
from editor.text import UNIT_WORDS
from editor.theme import Look
from geometry.errors import PatternError
from geometry.units import Unit

_UNITS: Final = (Unit.CM, Unit.MM, Unit.INCH)
_USUAL_SPAN_MM: Final = 1500.0
"""Pieces of a garment side by side span about this; only used to choose how the small picture is made."""


class UnitsDialog(QDialog):
    """Shows one measured line of the largest piece and asks which length is right.

    Signals:
        answered: an answer was given and the drawing read with it; ``opened`` and ``found`` hold it.

    Raises:
        PatternError: the file is no drawing of a pattern; the sentence says why.
    """

    answered = Signal()

    def __init__(self, path: Path, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._path = path
        self._drawing = read_drawing(path)
        self._stated = Unit(self._drawing.units_hint) if self._drawing.units_hint else None
        trial = self._stated or _likely(self._drawing)
        self.opened = opened(path, unit=trial, drawing=self._drawing)
        self.found = self.opened.made()
        self._nest = self.found.nest
        self._measured = measured(self._nest, trial)
        self.setWindowTitle(f"New from {path.name}")
        self.picture = MeasuredPiece(look)
        self.units: dict[Unit, QRadioButton] = {}
        self.says = QLabel(self._stated_words())
        self.says.setWordWrap(True)
        self.result_words = QLabel()
        self.result_words.setObjectName("faint")
        self.result_words.setWordWrap(True)
        self.wearer = QLineEdit("wearer 1")
        self.wearer.setToolTip("What the wearer is called; printed on every piece")
        self.sizes = QComboBox()
        self.sizes.setToolTip("The size to start from")
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self._fill()
        self._arrange()
        self._other_unit()

    @property
    def unit(self) -> Unit | None:
        """The unit confirmed, ``None`` while none is."""
        return next((unit for unit, button in self.units.items() if button.isChecked()), None)

    def project_of(self, came_in: Import) -> Project:
        """The project begun with a pattern, for the wearer and in the size chosen here."""
        base = Base(came_in.source_name, came_in.source_bytes, came_in.unit, came_in.nest)
        first = Round("1", "toile 1", date.today().isoformat())
        name = self.wearer.text().strip() or "wearer 1"
        return Project(base, (Wearer("1", name, self.sizes.currentText(), (first,)),))

    def accept(self) -> None:
        """Read the drawing in the unit confirmed; stay open where that cannot be done, and while more is asked."""
        if self.unit is None:
            return
        try:
            if self.unit is not self.found.unit:
                with waiting():
                    self.opened = opened(self._path, unit=self.unit)
                    self.found = self.opened.made()
        except PatternError as error:
            self.trouble.setText(error.sentence)
            self.trouble.show()
            return
        self.answered.emit()

    # -- inside

    def _fill(self) -> None:
        group = QButtonGroup(self)
        for unit in _UNITS:
            button = QRadioButton(f"{self._measured.line_words(unit)}")
            button.setToolTip(f"The file's numbers are {UNIT_WORDS[unit]}")
            button.setAccessibleName(f"{self._measured.line_words(unit)}: the file is in {UNIT_WORDS[unit]}")
            button.setChecked(unit is self._stated)
            button.toggled.connect(self._other_unit)
            group.addButton(button)
            self.units[unit] = button
        self.sizes.addItems(list(self._nest.sizes))
        self.sizes.setCurrentText(self._nest.sample_size)
        more = self.found.has_only_line or self.found.suggestions
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText("&Go on…" if more else "&Begin")
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)

    def _arrange(self) -> None:
        right = QVBoxLayout()
        right.setSpacing(8)
        question = QLabel("How long is the marked line?")
        question.setObjectName("heading")
        for widget in (question, self.says, *self.units.values(), self.result_words):
            right.addWidget(widget)
        rows = QFormLayout()
        rows.addRow("&For", self.wearer)
        if self.sizes.count() > 1:
            rows.addRow("Si&ze", self.sizes)
        right.addSpacing(6)
        right.addLayout(rows)
        right.addWidget(self.trouble)
        right.addStretch(1)
        right.addWidget(self.buttons)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(18, 18, 18, 16)
        whole.setSpacing(20)
        whole.addWidget(self.picture, 1)
        whole.addLayout(right, 1)
        self.resize(760, 480)
        if self._stated is not None:
            self.units[self._stated].setFocus()

    def _stated_words(self) -> str:
        edge, piece = self._measured.edge.id, self._measured.piece.name
        line = f"It is the {edge} of the {piece}."
        if self._stated is None:
            return f"{line} The file does not say what its numbers are. Which length is right?"
        where = f" ({self._drawing.units_source})" if self._drawing.units_source else ""
        doubt = "" if self._drawing.units_stated else ", which is often a setting nobody chose"
        return f"{line} The file says {UNIT_WORDS[self._stated]}{where}{doubt}. Is that right?"

    def _other_unit(self) -> None:
        unit = self.unit
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(unit is not None)
        self.picture.show_measured(self._measured, self._measured.line_words(unit) if unit else "?")
        words = f"Size of the {self._measured.piece.name} then: {self._measured.piece_words(unit)}." if unit else ""
        self.result_words.setText(words or "Measure it on your paper pattern if you are not sure.")


def _likely(drawing: Drawing) -> Unit:
    """The unit in which the whole drawing has the size of a garment's pieces; for the small picture only."""
    span = max(_spans([shape.points for block in drawing.blocks for shape in block.shapes]), default=0.0)
    span = max(span, *_spans([shape.points for shape in drawing.loose]), 1e-9)
    return min(_UNITS, key=lambda unit: abs(math.log(span * unit.mm / _USUAL_SPAN_MM)))


def _spans(chains: Iterable[np.ndarray]) -> list[float]:
    points = [chain for chain in chains if len(chain)]
    if not points:
        return [0.0]
    joined = np.vstack(points)
    return [float(span) for span in joined.max(axis=0) - joined.min(axis=0)]
