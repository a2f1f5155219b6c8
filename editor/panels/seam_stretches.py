"""From where to where each edge of a seam is sewn: chosen from its corners, its notches and parts of its length."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QSizePolicy, QWidget

from geometry.checks.stretches import with_stretch
from geometry.checks.walking import edge_words, neighbours
from geometry.model.pattern import EdgePlace, EdgeRef, Pattern, Seam, Stretch
from geometry.model.piece import Piece

_PARTS = ((0.25, "a quarter of it"), (1 / 3, "a third of it"), (0.5, "its middle"), (2 / 3, "two thirds of it"))
_FROM = "Where the edge starts to be sewn, as the seam is walked. The ends can be dragged with the seam tool (E), too."
_TO = "Where the edge stops being sewn, as the seam is walked. The ends can be dragged with the seam tool (E), too."


class SeamStretches(QWidget):
    """A row for each edge of a seam: its name, and from where to where it is sewn.

    Signals:
        seam_changed: other ends were chosen; the seam with them.
    """

    seam_changed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.boxes: list[tuple[QComboBox, QComboBox]] = []
        self._seam: Seam | None = None
        self._rows = QGridLayout(self)
        self._rows.setContentsMargins(0, 0, 0, 0)
        self._rows.setHorizontalSpacing(6)
        self._rows.setVerticalSpacing(3)
        self._rows.setColumnStretch(1, 1)
        self._rows.setColumnStretch(3, 1)

    def show_seam(self, seam: Seam, pattern: Pattern) -> None:
        """Show the ends of a seam on a pattern that has its edges."""
        self._seam = seam
        while (item := self._rows.takeAt(0)) is not None:
            if (widget := item.widget()) is not None:
                widget.deleteLater()
        self.boxes = []
        for number, side in enumerate(seam.sides[:1] if seam.first == seam.second else seam.sides):
            for part, (ref, backward, stretch) in enumerate(side.parts):
                self._add_row(pattern.piece(ref.piece), ref, stretch, (number, part, backward))

    def _add_row(self, piece: Piece, ref: EdgeRef, stretch: Stretch, at: tuple[int, int, bool]) -> None:
        row = len(self.boxes)
        name = QLabel(f"{ref.piece}: {ref.edge}")
        name.setObjectName("faint")
        ends = (False, True) if not at[2] else (True, False)
        boxes = []
        for column, (at_end, words, help_text) in enumerate(((ends[0], "from", _FROM), (ends[1], "to", _TO))):
            box = QComboBox()
            box.setAccessibleName(f"{ref.piece} {ref.edge} sewn {words}")
            box.setToolTip(help_text)
            box.setMinimumContentsLength(6)
            box.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            _offer(box, piece, ref.edge, stretch.end if at_end else stretch.start)
            box.activated.connect(lambda _, box=box, at_end=at_end: self._choose(box, stretch, at, at_end=at_end))
            label = QLabel(words)
            label.setBuddy(box)
            self._rows.addWidget(label, 2 * row + 1, 2 * column, Qt.AlignmentFlag.AlignRight)
            self._rows.addWidget(box, 2 * row + 1, 2 * column + 1)
            boxes.append(box)
        self._rows.addWidget(name, 2 * row, 0, 1, 4)
        self.boxes.append((boxes[0], boxes[1]))

    def _choose(self, box: QComboBox, stretch: Stretch, at: tuple[int, int, bool], *, at_end: bool) -> None:
        notch, share = box.currentData()
        place = EdgePlace(notch, share)
        changed = Stretch(stretch.start, place) if at_end else Stretch(place, stretch.end)
        if self._seam is not None and changed != stretch:
            self.seam_changed.emit(with_stretch(self._seam, at[0], at[1], changed))


def _offer(box: QComboBox, piece: Piece, edge_id: str, chosen: EdgePlace) -> None:
    """Fill a box with the places on an edge in the order met along it, the chosen one picked out."""
    before, after = neighbours(piece, edge_id)
    length_mm = piece.edge(edge_id).length_mm
    places = [(0.0, EdgePlace(), f"{edge_words(before)} corner")]
    places += [(share * length_mm, EdgePlace(share=share), words) for share, words in _PARTS]
    places += [(notch.at_mm, EdgePlace(notch.id), f"notch {notch.id}") for notch in piece.notches_on(edge_id)]
    places.append((length_mm, EdgePlace(share=1.0), f"{edge_words(after)} corner"))
    if all(place != chosen for _, place, _ in places):
        lost = f"notch {chosen.notch} (gone)" if chosen.notch else f"{chosen.share:.0%} of it"
        places.append((chosen.share * length_mm, chosen, lost))
    places.sort(key=lambda row: row[0])
    for _, place, words in places:
        box.addItem(words, (place.notch, place.share))
    box.setCurrentIndex([place for _, place, _ in places].index(chosen))
