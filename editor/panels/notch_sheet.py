"""A notch: where it is on its edge, its shape and the word of its partner."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel

from editor.panels.figures import Figures
from editor.session import Session
from geometry.alterations.notch_steps import MoveNotch, RemoveNotch
from geometry.model.marks import Notch
from geometry.model.piece import Piece


class NotchSheet(Figures):
    """Moved and taken away as steps of the round."""

    def __init__(self, session: Session) -> None:
        super().__init__(session, "Notch")
        self._at: tuple[str, str, float] = ("", "", 0.0)
        self.partner = QLabel()
        self.edge = QLabel()
        self.rows.addRow("On", self.edge)
        self.rows.addRow("Meets", self.partner)
        self.place = self.length_row(
            "From its start", "Distance along the edge", "Along the stitching line, darts folded.", self._move
        )
        self.button("Take away", "Remove this notch", self._remove)

    def show_notch(self, piece: Piece, notch: Notch) -> None:
        """Show a notch as it is now."""
        self._at = piece.name, notch.id, piece.sewn_station_mm(notch.edge, notch.at_mm)
        self.heading.name.setText(f"Notch {notch.partner or notch.id}")
        self.heading.set_detail(piece.name)
        self.edge.setText(notch.edge)
        self.partner.setText(notch.partner or "no partner is named")
        self.place.show_length(self._at[2], self._session.unit)

    def _move(self, sewn_mm: float) -> None:
        piece, notch, now_mm = self._at
        self.do(MoveNotch(piece, notch, sewn_mm - now_mm))

    def _remove(self) -> None:
        self._session.add_step(RemoveNotch(*self._at[:2]))
