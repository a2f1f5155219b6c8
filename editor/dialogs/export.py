"""Export: which sizes, in which kind of file."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

from PySide6.QtWidgets import QButtonGroup, QDialog, QDialogButtonBox, QGroupBox, QLabel, QRadioButton, QVBoxLayout

from editor.commands.registry import Desk
from editor.document.sizes import altered_nest
from editor.session import Session
from geometry.errors import PatternError
from geometry.model.pattern import Nest, Pattern


class Sizes(StrEnum):
    """What is written."""

    SHOWN = "shown"
    ALTERED = "altered"
    BOUGHT = "bought"


class Kind(StrEnum):
    """The kind of file."""

    DXF = "dxf"
    RULES = "rules"
    SVG = "svg"


_KIND_WORDS = {
    Kind.DXF: "a &DXF drawing, one block per piece and size",
    Kind.RULES: "a DXF drawing of the sample size with &grade rules (.rul) beside it",
    Kind.SVG: "an &SVG picture at true size",
}


class ExportDialog(QDialog):
    """Two choices, then the file is asked for."""

    def __init__(self, desk: Desk, *, suggested: str) -> None:
        super().__init__()
        self._desk, self._suggested = desk, suggested
        session = desk.session
        self.setWindowTitle("Export")
        self.setMinimumWidth(460)
        self.sizes = {
            Sizes.SHOWN: QRadioButton(_shown_words(session)),
            Sizes.ALTERED: QRadioButton("&every size, with the steps of this toile"),
            Sizes.BOUGHT: QRadioButton("every size as it was &bought"),
        }
        self.kinds = {kind: QRadioButton(words) for kind, words in _KIND_WORDS.items()}
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.button(QDialogButtonBox.StandardButton.Save).setText("Choose &file…")
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 16, 18, 14)
        layout.setSpacing(12)
        layout.addWidget(self._box("What", list(self.sizes.values())))
        layout.addWidget(self._box("As", list(self.kinds.values())))
        layout.addWidget(self.trouble)
        layout.addWidget(self.buttons)
        self.sizes[Sizes.SHOWN].setChecked(True)
        self.kinds[Kind.DXF].setChecked(True)
        count = len(session.project.base.nest.sizes) if session.project else 0
        for each in (Sizes.ALTERED, Sizes.BOUGHT):
            self.sizes[each].setEnabled(count > 1)
        self.sizes[Sizes.SHOWN].toggled.connect(self._allow_rules)
        self._allow_rules()

    def accept(self) -> None:
        """Make what is to be written, then ask for the file; stay open where it cannot be made."""
        kind = next(kind for kind, button in self.kinds.items() if button.isChecked())
        try:
            source = self._source()
        except PatternError as error:
            self.trouble.setText(error.sentence)
            self.trouble.show()
            return
        super().accept()
        ending = ".svg" if kind is Kind.SVG else ".dxf"
        kinds = "Pictures (*.svg)" if kind is Kind.SVG else "Drawings (*.dxf)"
        self._desk.choose_file(
            "Export", kinds, lambda path: self._write(source, kind, path), save_as=ending, suggested=self._suggested
        )

    def _source(self) -> Nest | Pattern:
        session = self._desk.session
        if session.project is None or session.pattern is None:
            raise PatternError("Open a pattern first.", code="nothing-open")
        if self.sizes[Sizes.BOUGHT].isChecked():
            return session.project.base.nest
        if self.sizes[Sizes.ALTERED].isChecked():
            return altered_nest(session.project, session.records)
        return session.pattern

    def _write(self, source: Nest | Pattern, kind: Kind, path: Path) -> None:
        try:
            write_source(source, kind, path)
        except (PatternError, OSError) as error:
            self._desk.tell(str(error), title="The file was not written")
            return
        self._desk.inform(f"Exported {path.name}")

    def _allow_rules(self) -> None:
        shown = self.sizes[Sizes.SHOWN].isChecked()
        self.kinds[Kind.RULES].setEnabled(not shown)
        if shown and self.kinds[Kind.RULES].isChecked():
            self.kinds[Kind.DXF].setChecked(True)

    def _box(self, title: str, choices: list[QRadioButton]) -> QGroupBox:
        box = QGroupBox(title)
        group = QButtonGroup(self)
        layout = QVBoxLayout(box)
        for button in choices:
            group.addButton(button)
            layout.addWidget(button)
        return box


def write_source(source: Nest | Pattern, kind: Kind, path: Path) -> None:
    """Write one size or all in a kind of file.

    Raises:
        PatternError: it cannot be written so; the sentence says why.
    """
    from editor.formats.dxf_writer import write_drawing
    from editor.formats.grade_rules import write_rules
    from editor.formats.grading_out import graded_drawing
    from editor.formats.pattern_to_drawing import drawing_of
    from editor.formats.svg_writer import write_svg

    if kind is Kind.SVG:
        write_svg(source, path)
    elif kind is Kind.RULES and isinstance(source, Nest):
        drawing, table = graded_drawing(source)
        write_drawing(drawing, path, unit="mm")
        write_rules(table, path.with_suffix(".rul"))
    else:
        write_drawing(drawing_of(source), path, unit="mm")


def _shown_words(session: Session) -> str:
    size = session.pattern.size if session.pattern else ""
    who = " · ".join(
        part for part in (session.wearer.name if session.wearer else "", f"size {size}" if size else "") if part
    )
    return f"the pieces &shown ({who})" if who else "the pieces &shown"
