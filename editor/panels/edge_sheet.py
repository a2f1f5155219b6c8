"""An edge: what it is called and is, how long, its allowance, what it is sewn to; trued from here."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit

from editor.commands import trueing
from editor.document.statements import with_edge_named, with_edge_role
from editor.panels.figures import Figures
from editor.session import Session
from editor.text import counted
from geometry.alterations.allowance_steps import CutCorner, SetAllowance
from geometry.alterations.edge_ends import End, neighbour
from geometry.model.edge import CornerCut, Edge, EdgeRole
from geometry.model.pattern import EdgeRef, Pattern, Seam
from geometry.model.piece import Piece

_CUT_WORDS: Final = {
    CornerCut.MITRED: "corner mitred",
    CornerCut.SQUARED: "corner squared",
    CornerCut.MIRRORED: "corner mirrored",
}
_LABEL_PX: Final = 90


class EdgeSheet(Figures):
    """Name and role are said about the bought pattern; the rest are steps of the round.

    Signals:
        form_wanted: a small form is to be opened; its kind.
        walk_wanted: a seam is to be walked; its id.
    """

    form_wanted = Signal(str)
    walk_wanted = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__(session, "Edge")
        self._ref = EdgeRef("", "")
        self.name = QLineEdit()
        self.name.setAccessibleName("Name of the edge")
        self.name.setToolTip("What it is called; steps and seams go along with it (Enter)")
        self.name.editingFinished.connect(lambda: self.attempt(self._rename))
        self.role = QComboBox()
        self.role.setAccessibleName("What the edge is on the garment")
        self.role.setToolTip("What it is on the garment; checks and alterations go by it")
        for role in EdgeRole:
            self.role.addItem(role.value, role)
        self.role.activated.connect(lambda _: self.attempt(self._change_role))
        self.length = QLabel()
        self.sewn_to = QLabel()
        self.sewn_to.setWordWrap(True)
        self.rows.addRow("Name", self.name)
        self.rows.addRow("Is the", self.role)
        self.rows.addRow("Sewn length", self.length)
        self.rows.addRow("Sewn to", self.sewn_to)
        self.allowance = self.length_row(
            "Allowance", "Allowance of the edge", "Between stitching line and cutting line.", self._change_allowance
        )
        self.corners = {at: self._corner_row(at) for at in End}
        for words, help_text, kind in (
            ("Straighten…", "Draw it straight from end to end", "straighten"),
            ("Blend…", "Smooth it round a place", "blend-edge"),
            ("Square corner…", "Let it leave the centre line squarely", "square-corner"),
            ("Across a seam…", "Draw it on in one smooth line over the seam", "join-corner"),
        ):
            self.button(words, help_text, lambda kind=kind: self.form_wanted.emit(kind))  # type: ignore[misc]
        self.walk = self.button("Walk the seam", "Lay it along what it is sewn to", self._walk)
        self.level = self.button(
            "Level hem…", "Bring it to where its seam is right", lambda: self.form_wanted.emit("level-hem")
        )

    def show_edge(self, pattern: Pattern, piece: Piece, edge: Edge) -> None:
        """Show an edge as it is now."""
        ref = EdgeRef(piece.name, edge.id)
        if ref != self._ref:
            self._ref = ref
            self.forget_trouble()
        self.heading.name.setText(edge.id)
        self.heading.set_detail(piece.name)
        if not self.name.isModified():
            self.name.setText(edge.id)
        self.role.setCurrentIndex(self.role.findData(edge.role))
        self.length.setText(self._length_words(piece, edge))
        self._seams = trueing.seams_of_edge(pattern, ref)
        self.sewn_to.setText("; ".join(_other_side(seam, ref) for seam in self._seams) or "nothing yet")
        self.walk.setEnabled(bool(self._seams))
        self.allowance.setEnabled(edge.id != piece.fold)
        self.allowance.show_length(edge.allowance_mm, self._session.unit)
        self.level.setVisible(edge.role is EdgeRole.HEM)
        for at, (words, choice) in self.corners.items():
            other = neighbour(piece, edge.id, at)
            full = f"At {other.id}"
            words.setText(words.fontMetrics().elidedText(full, Qt.TextElideMode.ElideRight, _LABEL_PX))
            words.setToolTip(f"How the allowance is cut at the corner with the {other.id}")
            choice.setAccessibleName(f"Allowance of the {edge.id} at the corner with the {other.id}")
            cut = edge.start_cut if at is End.START else edge.end_cut
            choice.setCurrentIndex(choice.findData(cut))
            choice.setEnabled(edge.allowance_mm > 0 and piece.fold not in (edge.id, other.id))

    _seams: tuple[Seam, ...] = ()

    def _length_words(self, piece: Piece, edge: Edge) -> str:
        words = self._session.words(piece.sewn_length_mm(edge.id))
        darts = len(piece.darts_on(edge.id))
        return f"{words}, {counted(darts, 'dart', 'darts')} folded" if darts else words

    def _rename(self) -> None:
        if not self.name.isModified() or self._session.project is None:
            return
        self.name.setModified(False)
        name = " ".join(self.name.text().split())
        try:
            project = with_edge_named(self._session.project, self._ref.piece, self._ref.edge, name)
        finally:
            self.name.setText(self._ref.edge)
        if project is not self._session.project:
            self._session.state("Name edge", project)
            self._session.select(piece=self._ref.piece, edge=name)

    def _change_role(self) -> None:
        project = self._session.project
        if project is not None:
            role = self.role.currentData()
            self._session.state("Say what an edge is", with_edge_role(project, *self._pair, EdgeRole(role)))

    @property
    def _pair(self) -> tuple[str, str]:
        return self._ref.piece, self._ref.edge

    def _change_allowance(self, width_mm: float) -> None:
        self.do(SetAllowance(*self._pair, width_mm))

    def _corner_row(self, at: End) -> tuple[QLabel, QComboBox]:
        """How the allowance is cut at one end."""
        words, choice = QLabel(), QComboBox()
        choice.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        choice.setMinimumContentsLength(8)
        words.setBuddy(choice)
        choice.setToolTip(
            "Mitred runs on to the next allowance; squared ends square to this seam, which is sewn first; mirrored is "
            "cut as the piece above it, to lie flat when this hem is turned up. Where both edges say something, "
            "mirrored goes before squared and squared before mitred."
        )
        for cut in CornerCut:
            choice.addItem(_CUT_WORDS[cut], cut)
        choice.activated.connect(lambda _: self.attempt(lambda: self._cut_corner(at)))
        self.rows.addRow(words, choice)
        return words, choice

    def _cut_corner(self, at: End) -> None:
        self.do(CutCorner(*self._pair, at, CornerCut(self.corners[at][1].currentData())))

    def _walk(self) -> None:
        if self._seams:
            self.walk_wanted.emit(self._seams[0].id)


def _other_side(seam: Seam, ref: EdgeRef) -> str:
    side = seam.second if ref in seam.first else seam.first
    return " and ".join(f"{each.piece} {each.edge}" for each in side)
