"""Small things all pages of fitting need: the room pieces take in all their sizes, a list of cards emptied."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from geometry.model.piece import Piece


def box_of(pieces: Iterable[Piece]) -> tuple[float, float, float, float]:
    """Left, lower, right and upper end of all of the pieces together."""
    lefts, lowers, rights, uppers = zip(*(piece.bounds_mm for piece in pieces), strict=True)
    return min(lefts), min(lowers), max(rights), max(uppers)


def emptied(cards: QVBoxLayout) -> None:
    """Take everything out of a column of cards."""
    while (item := cards.takeAt(0)) is not None:
        card = item.widget()
        if card is not None:
            card.hide()
            card.deleteLater()


def scrolled(cards: QVBoxLayout) -> QScrollArea:
    """A column of cards that scrolls."""
    cards.setSpacing(8)
    inner = QWidget()
    inner.setObjectName("cards")
    inner.setLayout(cards)
    scroll = QScrollArea()
    scroll.setWidget(inner)
    scroll.setWidgetResizable(True)
    scroll.setFrameShape(QFrame.Shape.NoFrame)
    return scroll
