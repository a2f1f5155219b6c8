"""Allowances of the whole pattern in one go: seams and hems, in all sizes; single edges are changed where they lie."""

from __future__ import annotations

from PySide6.QtWidgets import QCheckBox, QDialog, QDialogButtonBox, QFormLayout, QLabel, QVBoxLayout, QWidget

from editor.dialogs.outline_box import SEAM_MM
from editor.document.statements import with_allowances
from editor.panels.length_field import LengthField
from editor.session import Session
from geometry.allowance import HEM_MM
from geometry.errors import PatternError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import EdgeRef


class AllowancesDialog(QDialog):
    """Said about the bought pattern, with undo; the stitching line stays where it is."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowTitle("Allowances of the whole pattern")
        self.setMinimumWidth(400)
        self.seam = LengthField("Allowance of seams", help_text="Between stitching line and cutting line.")
        self.hem = LengthField("Allowance of hems", help_text="Hems are turned up and need more.")
        self.seam.show_length(SEAM_MM, session.unit)
        self.hem.show_length(HEM_MM, session.unit)
        self.bare = QCheckBox("&only edges that have none")
        self.bare.setToolTip("Leave edges alone that have an allowance already")
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.trouble.hide()
        words = QLabel("For every piece in every size. Edges on the fold stay without; the stitching line stays put.")
        words.setObjectName("faint")
        words.setWordWrap(True)
        rows = QFormLayout()
        for label, field in (("&Seams", self.seam), ("&Hems", self.hem)):
            rows.addRow(label, field)
            rows.addRow("", field.complaint)
        rows.addRow("", self.bare)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 16, 18, 14)
        layout.setSpacing(12)
        for part in (words, self.trouble, self.buttons):
            layout.addWidget(part)
        layout.insertLayout(1, rows)

    def accept(self) -> None:
        """Say so."""
        for field in (self.seam, self.hem):
            field.take()
            if field.complaint.text():
                return
        project = self._session.project
        if project is not None:
            try:
                self._session.state("Set allowances", with_allowances(project, self._widths()))
            except PatternError as error:
                self.trouble.setText(error.sentence)
                self.trouble.show()
                return
        super().accept()

    def _widths(self) -> dict[EdgeRef, float]:
        project = self._session.project
        pieces = project.base.nest.sample.pieces if project else ()
        return {
            EdgeRef(piece.name, edge.id): self.hem.amount if edge.role is EdgeRole.HEM else self.seam.amount
            for piece in pieces
            for edge in piece.edges
            if edge.id != piece.fold and not (self.bare.isChecked() and edge.allowance_mm > 0)
        }
