"""What each small form asks for, and the step it makes of the answers."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QComboBox, QFormLayout, QHBoxLayout, QLabel, QWidget

from editor.commands import proposals
from editor.panels.length_field import LengthField
from editor.selection import NOTHING_PICKED
from geometry.alterations.anchors import Anchor
from geometry.alterations.slash import Hinge, Side
from geometry.alterations.step import Step
from geometry.model.edge import EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import Unit

_FIRST_AMOUNT_MM = {Unit.INCH: 12.7}
"""A half inch where people work in inches, else a centimetre: enough to be seen, easily typed over."""

_NOT_CUT = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


class PlaceField(QWidget):
    """A place on an edge: the edge, and how far along it in hundredths."""

    changed = Signal()

    def __init__(self, name: str) -> None:
        super().__init__()
        self.edge = QComboBox()
        self.edge.setAccessibleName(f"{name}: edge")
        self.edge.setToolTip("The edge")
        self.share = LengthField(f"{name}: how far along", help_text="How far along the edge, from its start.")
        self.share.setFixedWidth(72)
        self.share.show_share(50)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.edge, 1)
        layout.addWidget(QLabel("at"))
        layout.addWidget(self.share)
        self.setFocusProxy(self.edge)
        self.edge.currentTextChanged.connect(lambda _: self.changed.emit())
        self.share.length_changed.connect(self._other_share)

    def show_piece(self, piece: Piece, edge: str, *, without: tuple[str, ...] = ()) -> None:
        """Offer the edges of a piece and choose one."""
        self.edge.blockSignals(True)
        self.edge.clear()
        self.edge.addItems([each.id for each in piece.edges if each.id not in without])
        self.edge.setCurrentText(edge)
        self.edge.blockSignals(False)

    def anchor(self, piece: Piece) -> Anchor:
        """The place chosen."""
        return proposals.at_share(piece, self.edge.currentText(), self.share.amount / 100)

    def _other_share(self, share: float) -> None:
        if not 0 <= share <= 100:
            self.share.complain("Type a share from 0 % to 100 %.")
        else:
            self.share.accept_amount(share)
            self.changed.emit()


class Fields(QObject):
    """The fields of one form; each has an amount.

    Attributes:
        pattern: The pattern shown.
        picked: What was picked out when the form was opened; offered first.

    Signals:
        changed: an answer is another one.
    """

    changed = Signal()
    amount_label = "A&mount"

    def __init__(self, unit: Unit) -> None:
        super().__init__()
        self.pattern = Pattern(())
        self.picked = NOTHING_PICKED
        self.amount = LengthField("Amount")
        self.amount.show_length(_FIRST_AMOUNT_MM.get(unit, 10.0), unit)
        self.amount.length_changed.connect(self._other_amount)

    @property
    def first_field(self) -> QWidget:
        """Where the cursor goes first."""
        return self.amount

    @property
    def is_wrong(self) -> bool:
        """Whether a text is typed that is no amount."""
        return bool(self.amount.complaint.text())

    def add_rows(self, rows: QFormLayout) -> None:
        """Put the fields in a form, the amount last."""
        rows.addRow(self.amount_label, self.amount)
        rows.addRow("", self.amount.complaint)

    def show_unit(self, unit: Unit) -> None:
        """Write lengths in another unit."""
        self.amount.show_length(self.amount.amount, unit)

    def show_piece(self, piece: Piece) -> None:
        """Offer what a piece has."""

    def step(self, piece: Piece) -> Step:
        """The step as answered; raises ``PatternError`` if it cannot be made."""
        raise NotImplementedError

    def _other_amount(self, amount: float) -> None:
        self.amount.accept_amount(amount)
        self.changed.emit()


class SlashFields(Fields):
    """From where to where, where it stays joined, which part moves."""

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self._piece: Piece | None = None
        self.start, self.end = PlaceField("From"), PlaceField("To")
        self.hinge = QComboBox()
        self.hinge.setToolTip("Where the piece stays joined")
        self.hinge.setAccessibleName("Hinge")
        self.moving = QComboBox()
        self.moving.addItems(["the left part, seen from the start", "the right part, seen from the start"])
        self.moving.setToolTip("Which part moves; the other stays where it lies")
        self.moving.setAccessibleName("Moving part")
        for place in (self.start, self.end):
            place.changed.connect(self._name_hinges)
            place.changed.connect(self._choose_part)
            place.changed.connect(self.changed)
        self.hinge.currentIndexChanged.connect(lambda _: self.changed.emit())
        self.moving.currentIndexChanged.connect(lambda _: self.changed.emit())

    def add_rows(self, rows: QFormLayout) -> None:
        """The places, the hinge, the part, the amount."""
        rows.addRow("F&rom", self.start)
        rows.addRow("Up t&o", self.end)
        rows.addRow("Hin&ge", self.hinge)
        rows.addRow("Move&s", self.moving)
        super().add_rows(rows)

    def show_piece(self, piece: Piece) -> None:
        """Offer a cut from the hem up, or across: between the two longest edges that are no neighbours."""
        ids = [edge.id for edge in piece.edges]
        hem = next((edge.id for edge in piece.edges_with_role(EdgeRole.HEM)), ids[0])
        across = ids[(ids.index(hem) + len(ids) // 2) % len(ids)]
        self.start.show_piece(piece, hem)
        self.end.show_piece(piece, across)
        self._piece = piece
        self._name_hinges()
        self._choose_part()

    def step(self, piece: Piece) -> Step:
        """The slash."""
        hinge = (Hinge.END, Hinge.START, Hinge.NONE)[max(self.hinge.currentIndex(), 0)]
        moving = (Side.LEFT, Side.RIGHT)[self.moving.currentIndex()]
        places = self.start.anchor(piece), self.end.anchor(piece)
        return proposals.slash_between(piece, *places, self.amount.amount, hinge=hinge, moving=moving)

    def _choose_part(self) -> None:
        """The part that usually moves, until the person says otherwise."""
        if self._piece is not None:
            side = proposals.moving_part(self._piece, self.start.anchor(self._piece), self.end.anchor(self._piece))
            self.moving.blockSignals(True)
            self.moving.setCurrentIndex((Side.LEFT, Side.RIGHT).index(side))
            self.moving.blockSignals(False)

    def _name_hinges(self) -> None:
        at = max(self.hinge.currentIndex(), 0)
        self.hinge.blockSignals(True)
        self.hinge.clear()
        names = self.end.edge.currentText(), self.start.edge.currentText()
        self.hinge.addItems([*(f"stays joined at the {name}" for name in names), "none: the parts move apart evenly"])
        self.hinge.setCurrentIndex(at)
        self.hinge.blockSignals(False)


class TransferFields(Fields):
    """Which dart, to where, how much of it."""

    amount_label = "How m&uch"

    def __init__(self, unit: Unit) -> None:
        super().__init__(unit)
        self.dart = QComboBox()
        self.dart.setToolTip("The dart that closes")
        self.dart.setAccessibleName("Dart that closes")
        self.place = PlaceField("Opens on")
        self.amount.show_share(100)
        self.dart.currentTextChanged.connect(lambda _: self.changed.emit())
        self.place.changed.connect(self.changed)

    def add_rows(self, rows: QFormLayout) -> None:
        """The dart, the place, the share."""
        rows.addRow("&Dart", self.dart)
        rows.addRow("&Opens on", self.place)
        super().add_rows(rows)

    def show_unit(self, unit: Unit) -> None:
        """A share has no unit."""

    def show_piece(self, piece: Piece) -> None:
        """Offer its darts, and the shoulder first as the place to go."""
        self.dart.blockSignals(True)
        self.dart.clear()
        self.dart.addItems([dart.id for dart in piece.darts])
        self.dart.setCurrentIndex(max(self.dart.findText(self.picked.dart), 0))
        self.dart.blockSignals(False)
        fold = (piece.fold,) if piece.fold else ()
        free = [edge for edge in piece.edges if edge.role not in _NOT_CUT and not piece.darts_on(edge.id)]
        first = next((e.id for e in free if e.role is EdgeRole.SHOULDER), free[0].id if free else piece.edges[0].id)
        self.place.show_piece(piece, first, without=fold)

    def step(self, piece: Piece) -> Step:
        """The transfer."""
        return proposals.transfer_to(piece, self.dart.currentText(), self.place.anchor(piece), self.amount.amount / 100)
