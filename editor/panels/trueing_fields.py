"""What the small forms about edges and darts ask for: blends, square corners, lines across a seam, splits, releases."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QWidget

from editor.commands import trueing
from editor.panels.form_fields import Fields, PlaceField
from editor.panels.length_field import LengthField
from geometry.alterations.dart_release import Release, ReleaseDart
from geometry.alterations.dart_sharing import SplitDart
from geometry.alterations.edge_ends import End, neighbour
from geometry.alterations.edge_steps import SQUARE_MM, BlendEdge
from geometry.alterations.step import Step
from geometry.alterations.trueing import DEFAULT_REACH_MM
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.piece import Piece
from geometry.units import Unit

_BETWEEN_MM: Final = 30.0
"""Cloth between two darts made of one, to begin with (own choice)."""
_REACH: Final = "How far the new line reaches to either side."


class BlendFields(Fields):
    """Where on which edge, and how far the blend reaches."""

    amount_label = "&Reach"

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.amount.setToolTip(f"{_REACH} {self.amount.toolTip()}".strip())
        self.place = PlaceField("Blend at")
        self.amount.show_length(DEFAULT_REACH_MM, unit)
        self.place.changed.connect(self.changed)

    def add_rows(self, rows: QFormLayout) -> None:
        """The place, the reach."""
        rows.addRow("&Blend at", self.place)
        super().add_rows(rows)

    def show_piece(self, piece: Piece) -> None:
        """Offer its edges, the one picked out first."""
        self.place.show_piece(piece, self.picked.edge or piece.edges[0].id)

    def step(self, piece: Piece) -> Step:
        """The blend."""
        return BlendEdge(piece.name, self.place.edge.currentText(), self.place.anchor(piece), self.amount.amount)


class SquareFields(Fields):
    """Which edge, and how far it runs square."""

    amount_label = "Runs &square for"

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.edge = _box("The edge that leaves the centre line")
        self.amount.show_length(SQUARE_MM, unit)
        self.edge.currentTextChanged.connect(lambda _: self.changed.emit())

    def add_rows(self, rows: QFormLayout) -> None:
        """The edge, the length."""
        rows.addRow("Ed&ge", self.edge)
        super().add_rows(rows)

    def show_piece(self, piece: Piece) -> None:
        """Offer the edges that meet the centre line."""
        names = [
            each.id
            for each in piece.edges
            if trueing.centre_end(piece, each.id) and not trueing.is_centre(piece, each.id)
        ]
        _offer(self.edge, names, self.picked.edge)

    def step(self, piece: Piece) -> Step:
        """The square corner."""
        return trueing.squared(piece, _chosen(self.edge, piece), self.amount.amount)


class JoinFields(Fields):
    """Which corner, how far the line reaches, and whether it goes through the old corner."""

    amount_label = "&Reach"

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.amount.setToolTip(f"{_REACH} {self.amount.toolTip()}".strip())
        self.corner = _box("The edge that runs on across the seam, and where")
        self.keeps = QCheckBox("&keep the corner where it is")
        self.keeps.setToolTip("The seams keep their lengths; only the lines that cross them change")
        self.amount.show_length(DEFAULT_REACH_MM, unit)
        self.corner.currentIndexChanged.connect(lambda _: self.changed.emit())
        self.keeps.toggled.connect(lambda _: self.changed.emit())

    def add_rows(self, rows: QFormLayout) -> None:
        """The corner, the reach."""
        rows.addRow("C&orner", self.corner)
        super().add_rows(rows)
        rows.addRow("", self.keeps)

    def show_piece(self, piece: Piece) -> None:
        """Offer every corner at which another piece is sewn on."""
        ends = [(edge.id, end) for edge in piece.edges for end in trueing.seam_ends(self.pattern, piece, edge.id)]
        _offer_ends(self.corner, piece, ends, self.picked.edge)

    def step(self, piece: Piece) -> Step:
        """The line across the seam."""
        edge, end = _chosen_end(self.corner, piece)
        step = trueing.joined(self.pattern, piece, edge, end, self.amount.amount)
        return replace(step, keep_corner=self.keeps.isChecked())


class HemFields(Fields):
    """Which hem, at which seam, and how much longer the seam may stay."""

    amount_label = "Seam longer &by"

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.corner = _box("The hem and the seam at which it is levelled")
        self.amount.show_length(0.0, unit)
        self.corner.currentIndexChanged.connect(lambda _: self.changed.emit())

    def add_rows(self, rows: QFormLayout) -> None:
        """The hem, the rest."""
        rows.addRow("He&m", self.corner)
        super().add_rows(rows)

    def show_piece(self, piece: Piece) -> None:
        """Offer its hems."""
        hems = piece.edges_with_role(EdgeRole.HEM) or piece.edges
        ends = [(edge.id, end) for edge in hems for end in trueing.seam_ends(self.pattern, piece, edge.id)]
        _offer_ends(self.corner, piece, ends, self.picked.edge)

    def step(self, piece: Piece) -> Step:
        """The levelled hem."""
        edge, end = _chosen_end(self.corner, piece)
        return trueing.levelled(self.pattern, piece, edge, end).with_amount_mm(self.amount.amount)


class StraightenFields(Fields):
    """Which edge."""

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.edge = _box("The edge to draw straight from end to end")
        self.edge.currentTextChanged.connect(lambda _: self.changed.emit())

    @property
    def first_field(self) -> QWidget:
        """The edge."""
        return self.edge

    def add_rows(self, rows: QFormLayout) -> None:
        """The edge; there is no amount."""
        rows.addRow("Ed&ge", self.edge)

    def show_piece(self, piece: Piece) -> None:
        """Offer its edges, the one picked out first."""
        _offer(self.edge, [edge.id for edge in piece.edges], self.picked.edge)

    def step(self, piece: Piece) -> Step:
        """The straight edge."""
        return trueing.straightened(piece, _chosen(self.edge, piece))


class SplitFields(Fields):
    """Which dart, how much of it the new one gets, how far apart they are."""

    amount_label = "Apart &by"

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.dart = _box("The dart to make two of")
        self.share = LengthField("Share of the new dart", help_text="How much of the dart the new one gets.")
        self.share.show_share(50)
        self.amount.show_length(_BETWEEN_MM, unit)
        self.dart.currentTextChanged.connect(lambda _: self.changed.emit())
        self.share.length_changed.connect(self._other_share)

    def add_rows(self, rows: QFormLayout) -> None:
        """The dart, the share, the cloth between."""
        rows.addRow("&Dart", self.dart)
        rows.addRow("&Share", self.share)
        rows.addRow("", self.share.complaint)
        super().add_rows(rows)

    def show_piece(self, piece: Piece) -> None:
        """Offer its darts."""
        _offer(self.dart, [dart.id for dart in piece.darts], self.picked.dart)

    def step(self, piece: Piece) -> Step:
        """The split."""
        return SplitDart(piece.name, _chosen(self.dart, piece), self.amount.amount, self.share.amount / 100)

    def _other_share(self, share: float) -> None:
        if not 0 < share < 100:
            self.share.complain("Type a share between 0 % and 100 %.")
        else:
            self.share.accept_amount(share)
            self.changed.emit()


class ReleaseFields(Fields):
    """Which dart, and what becomes of its cloth."""

    amount_label = "&Over"

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.dart = _box("The dart to let out")
        self.into = _box("What becomes of the cloth it took in")
        for release, words in (
            (Release.EASE, "ease, without a fold"),
            (Release.GATHERS, "gathers"),
            (Release.TUCK, "a tuck, not sewn to its tip"),
        ):
            self.into.addItem(words, release)
        self.amount.show_length(DEFAULT_REACH_MM, unit)
        self.dart.currentTextChanged.connect(lambda _: self.changed.emit())
        self.into.currentIndexChanged.connect(lambda _: self.changed.emit())

    def add_rows(self, rows: QFormLayout) -> None:
        """The dart, what it becomes, the length."""
        rows.addRow("&Dart", self.dart)
        rows.addRow("Into", self.into)
        super().add_rows(rows)

    def show_piece(self, piece: Piece) -> None:
        """Offer its darts."""
        _offer(self.dart, [dart.id for dart in piece.darts], self.picked.dart)

    def step(self, piece: Piece) -> Step:
        """The release."""
        return ReleaseDart(piece.name, _chosen(self.dart, piece), Release(self.into.currentData()), self.amount.amount)


def _box(help_text: str) -> QComboBox:
    box = QComboBox()
    box.setToolTip(help_text)
    box.setAccessibleName(help_text)
    return box


def _offer(box: QComboBox, names: list[str], first: str) -> None:
    box.blockSignals(True)
    box.clear()
    box.addItems(names)
    if first in names:
        box.setCurrentText(first)
    box.blockSignals(False)


def _offer_ends(box: QComboBox, piece: Piece, ends: list[tuple[str, End]], first: str) -> None:
    box.blockSignals(True)
    box.clear()
    for edge, end in ends:
        box.addItem(f"{edge} at the {neighbour(piece, edge, end).id}", (edge, end.value))
    box.setCurrentIndex(max(next((at for at, (edge, _) in enumerate(ends) if edge == first), 0), 0))
    box.blockSignals(False)


def _chosen(box: QComboBox, piece: Piece) -> str:
    if not box.currentText():
        raise StepError(f'"{piece.name}" has nothing that this could be done to; choose another piece.')
    return box.currentText()


def _chosen_end(box: QComboBox, piece: Piece) -> tuple[str, End]:
    _chosen(box, piece)
    edge, end = box.currentData()
    return edge, End(end)
