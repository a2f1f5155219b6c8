"""Short help with every key, and the standing cautions."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from editor.commands.all import MENUS
from editor.commands.registry import Command
from editor.text import CAUTIONS
from editor.theme import Look
from editor.toolbar import TOOLS

_ROUND = (
    ("Begin", "File ▸ New from DXF takes a drawn or digitised pattern. Confirm its units: one line is shown measured."),
    ("Alter", "Press S and draw a slash line from edge to edge; click an end to hinge it there; drag, or type an"
     " amount; Enter does it, Escape leaves everything as it was. The Alter menu has forms for whole alterations."),
    ("Sew", "Press E and click two edges that are sewn together, or accept what is proposed at the left. Press W to"
     " walk a seam: one piece is laid along the other and what lands where is told, with a button to put it right."),
    ("True", "Click an edge or a dart: its figures stand at the left, its handles on the table. The Trueing menu"
     " blends, squares and joins; what is changed is shown before it is done."),
    ("Change", "Every step stays in the journal. Type another amount at any time: the later steps run again."),
    ("Check", "Before cutting lists what does not fit. A click goes to the place, Put right does what is safe. Stop"
     " means: do not cut yet."),
    ("Print", "File ▸ Print lays the pieces out on sheets. Measure the test square on page one first."),
)  # fmt: skip
_MOUSE = (
    ("Wheel", "zoom about the pointer"),
    ("Middle button, or Space and drag", "move the table"),
    ("Click", "pick out a piece, an edge, a dart, a notch or a recorded cut"),
    ("Drag", "move a sheet on the table, or pull a handle of what is picked out"),
)
_AMOUNTS = (
    ("5/8   1 1/2\"   12.7mm   1,5 cm", "amounts can be typed in any of these ways"),
    ("↑ ↓", "in an amount: a millimetre or a sixteenth of an inch more or less"),
)  # fmt: skip


class HelpDialog(QDialog):
    """How a round goes, and every key."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Short help")
        self.resize(640, 640)
        page = QWidget()
        page.setObjectName("side")
        layout = QVBoxLayout(page)
        layout.setContentsMargins(22, 18, 22, 18)
        layout.setSpacing(10)
        layout.addWidget(_heading("How a round goes"))
        layout.addLayout(_table(_ROUND))
        layout.addWidget(_heading("On the table"))
        layout.addLayout(_table((*_MOUSE, *_AMOUNTS)))
        layout.addWidget(_heading("Tools"))
        layout.addLayout(_table(tuple((key, words) for _, _, words, key in TOOLS)))
        for menu in MENUS:
            keyed = [command for command in menu.commands if command is not None and command.shortcut]
            if keyed:
                layout.addWidget(_heading(menu.title.replace("&", "")))
                layout.addLayout(_table(tuple(_row(command) for command in keyed)))
        layout.addStretch(1)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 12)
        whole.addWidget(area)
        whole.addWidget(_closing(self))


class CautionsDialog(QDialog):
    """What to mind before printing, sewing and cutting."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Cautions")
        self.setMinimumWidth(480)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 14)
        layout.setSpacing(12)
        for words in CAUTIONS:
            row, sign, text = QHBoxLayout(), QLabel(), QLabel(words)
            sign.setPixmap(look.pixmap("caution", "warn", 24))
            text.setWordWrap(True)
            row.setSpacing(12)
            row.addWidget(sign, 0, Qt.AlignmentFlag.AlignTop)
            row.addWidget(text, 1)
            layout.addLayout(row)
        layout.addWidget(_closing(self))


def _row(command: Command) -> tuple[str, str]:
    return command.shortcut, command.help


def _heading(words: str) -> QLabel:
    label = QLabel(words)
    label.setObjectName("heading")
    return label


def _table(rows: tuple[tuple[str, str], ...]) -> QGridLayout:
    grid = QGridLayout()
    grid.setHorizontalSpacing(16)
    grid.setVerticalSpacing(6)
    grid.setColumnMinimumWidth(0, 150)
    grid.setColumnStretch(1, 1)
    for at, (left, right) in enumerate(rows):
        name, words = QLabel(left), QLabel(right)
        name.setObjectName("key")
        name.setWordWrap(True)
        words.setWordWrap(True)
        grid.addWidget(name, at, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(words, at, 1)
    return grid


def _closing(dialog: QDialog) -> QDialogButtonBox:
    box = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
    box.setContentsMargins(0, 0, 14, 0)
    box.rejected.connect(dialog.reject)
    return box
