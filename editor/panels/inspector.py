"""What is picked out on the table, with its figures to change: an edge, a dart, a notch."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QStackedWidget, QVBoxLayout, QWidget

from editor.panels.dart_sheet import DartSheet
from editor.panels.edge_sheet import EdgeSheet
from editor.panels.notch_sheet import NotchSheet
from editor.session import Session
from geometry.errors import MissingPartError

_EMPTY = "Click an edge, a dart or a notch on the table to see its figures here and change them."


class Inspector(QWidget):
    """Turns to the sheet of what is picked out.

    Signals:
        form_wanted: a small form is to be opened; its kind.
        walk_wanted: a seam is to be walked; its id.
    """

    form_wanted = Signal(str)
    walk_wanted = Signal(str)

    def __init__(self, session: Session) -> None:
        super().__init__()
        self._session = session
        self.edge, self.dart, self.notch = EdgeSheet(session), DartSheet(session), NotchSheet(session)
        self._empty = QLabel(_EMPTY)
        self._empty.setObjectName("empty")
        self._empty.setWordWrap(True)
        self._empty.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._empty.setContentsMargins(14, 12, 12, 0)
        self.sheets = QStackedWidget()
        for sheet in (self._empty, self.edge, self.dart, self.notch):
            self.sheets.addWidget(sheet)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(self.sheets)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(area)
        self.sheets.setObjectName("cards")
        self.edge.form_wanted.connect(self.form_wanted)
        self.edge.walk_wanted.connect(self.walk_wanted)
        self.dart.form_wanted.connect(self.form_wanted)
        for signal in (session.project_changed, session.selection_changed, session.unit_changed):
            signal.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show what is picked out now."""
        pattern, picked = self._session.pattern, self._session.selection
        sheet: QWidget = self._empty
        if pattern is not None and picked.piece in {piece.name for piece in pattern.pieces}:
            piece = pattern.piece(picked.piece)
            try:
                if picked.edge:
                    self.edge.show_edge(pattern, piece, piece.edge(picked.edge))
                    sheet = self.edge
                elif picked.dart:
                    self.dart.show_dart(piece, picked.dart)
                    sheet = self.dart
                elif picked.notch:
                    self.notch.show_notch(piece, piece.notch(picked.notch))
                    sheet = self.notch
            except MissingPartError:
                sheet = self._empty
        self.sheets.setCurrentWidget(sheet)
