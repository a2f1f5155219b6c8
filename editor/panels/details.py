"""The lower left of the window: seam lengths, seams, or what is picked out, one at a time."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QStackedWidget, QVBoxLayout, QWidget

from editor.session import Session


class Details(QWidget):
    """A row of names and the page of the one chosen; picking out an edge or a dart turns to its page by itself.

    Args:
        session: Says what is picked out.
        pages: Pages by name, in order; the page called ``picked`` is the one turned to.
        picked: Name of that page.

    Attributes:
        stays: Whether the page shown is kept although something is picked out.
    """

    def __init__(self, session: Session, pages: dict[str, QWidget], *, picked: str) -> None:
        super().__init__()
        self._session, self._picked = session, picked
        self._names = list(pages)
        self._left = self._names[0]
        self.stays: Callable[[], bool] = lambda: False
        self.pages = QStackedWidget()
        self.buttons: dict[str, QPushButton] = {}
        row = QHBoxLayout()
        row.setContentsMargins(8, 8, 6, 0)
        row.setSpacing(2)
        group = QButtonGroup(self)
        for name, page in pages.items():
            button = QPushButton(name)
            button.setObjectName("segment")
            button.setCheckable(True)
            button.setToolTip(f"Show here: {name.lower()}")
            button.setAccessibleName(f"Show {name.lower()}")
            button.clicked.connect(lambda _=False, chosen=name: self.turn_to(chosen))
            group.addButton(button)
            row.addWidget(button)
            self.buttons[name] = button
            self.pages.addWidget(page)
        row.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addLayout(row)
        layout.addWidget(self.pages, 1)
        session.selection_changed.connect(self._follow)
        self.turn_to(self._left)

    @property
    def shown(self) -> str:
        """Name of the page shown."""
        return self._names[self.pages.currentIndex()]

    def turn_to(self, name: str) -> None:
        """Show a page."""
        self.pages.setCurrentIndex(self._names.index(name))
        self.buttons[name].setChecked(True)

    def _follow(self) -> None:
        picked = self._session.selection
        is_thing = bool(picked.edge or picked.dart or picked.notch)
        if is_thing and not picked.record and self.shown != self._picked and not self.stays():
            self._left = self.shown
            self.turn_to(self._picked)
        elif not is_thing and self.shown == self._picked:
            self.turn_to(self._left)
