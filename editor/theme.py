"""The look of the window: colours for light and dark, one small style sheet, icons drawn in the colour of the text."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from string import Template
from typing import Final

from PySide6.QtCore import QByteArray, QObject, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QPainter, QPalette, QPixmap
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QApplication

RESOURCES: Final = Path(__file__).resolve().parents[1] / "resources"

_LIGHT: Final = {
    "window": "#ece4d5", "panel": "#f5f0e5", "card": "#fdfaf3", "card_off": "#f1ebde", "ink": "#2e2a25",
    "soft": "#5f574c", "line": "#d8cdb9", "line_strong": "#897b5f", "accent": "#2f5d73", "accent_ink": "#ffffff",
    "accent_soft": "#dfe7e6", "stop": "#a8321f", "warn": "#8a5a00", "note": "#3d617a", "fine": "#3d6b45",
    "stop_soft": "#f7e2da", "press": "#e2d9c6",
}  # fmt: skip
_DARK: Final = {
    "window": "#211e1b", "panel": "#2a2622", "card": "#353029", "card_off": "#2c2824", "ink": "#efe7d8",
    "soft": "#b9ae9c", "line": "#453f36", "line_strong": "#8f8573", "accent": "#9cc5d6", "accent_ink": "#16242b",
    "accent_soft": "#33444a", "stop": "#f08b74", "warn": "#e8b75a", "note": "#9ec3dc", "fine": "#9ccaa2",
    "stop_soft": "#4a2c25", "press": "#3e3830",
}  # fmt: skip


class Look(QObject):
    """Light or dark, and what follows from it.

    Signals:
        changed: another one was chosen; icons and painted rows must be made anew.
    """

    changed = Signal()

    def __init__(self, app: QApplication, *, dark: bool = False) -> None:
        super().__init__()
        self._app = app
        self.is_dark = dark
        app.setStyle("Fusion")
        self._apply()

    def set_dark(self, dark: bool) -> None:
        """Change to light or dark."""
        if dark != self.is_dark:
            self.is_dark = dark
            self._apply()
            self.changed.emit()

    def colour(self, role: str) -> QColor:
        """A colour by its role, for example "ink", "card", "stop"."""
        return QColor(self._colours[role])

    def icon(self, name: str) -> QIcon:
        """An icon in the colour of the text, paler where it cannot be used."""
        return _icon(name, self._colours["ink"], self._colours["line_strong"], self._colours["accent"])

    def pixmap(self, name: str, role: str, size_px: int) -> QPixmap:
        """An icon in the colour of a role."""
        return _pixmap(name, self._colours[role], size_px, self._app.devicePixelRatio())

    @property
    def _colours(self) -> dict[str, str]:
        return _DARK if self.is_dark else _LIGHT

    def _apply(self) -> None:
        self._app.setPalette(_palette(self._colours))
        tick = RESOURCES / "icons" / ("tick-dark.svg" if self.is_dark else "tick-light.svg")
        chevron = RESOURCES / "icons" / ("chevron-dark.svg" if self.is_dark else "chevron-light.svg")
        sheet = Template((RESOURCES / "window.qss").read_text("utf-8"))
        self._app.setStyleSheet(sheet.substitute(self._colours, tick=tick.as_posix(), chevron=chevron.as_posix()))


def _palette(colours: dict[str, str]) -> QPalette:
    palette = QPalette()
    role = QPalette.ColorRole
    for names, colour in (
        ((role.Window, role.Button), "panel"),
        ((role.Base, role.ToolTipBase), "card"),
        ((role.AlternateBase,), "card_off"),
        ((role.WindowText, role.Text, role.ButtonText, role.ToolTipText), "ink"),
        ((role.PlaceholderText,), "soft"),
        ((role.Highlight, role.Accent, role.Link), "accent"),
        ((role.HighlightedText,), "accent_ink"),
        ((role.Mid, role.Midlight), "line"),
        ((role.Dark, role.Shadow), "line_strong"),
        ((role.Light,), "card"),
    ):
        for name in names:
            palette.setColor(name, QColor(colours[colour]))
    for name in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, name, QColor(colours["line_strong"]))
    return palette


@cache
def _drawing(name: str) -> str:
    return (RESOURCES / "icons" / f"{name}.svg").read_text("utf-8")


@cache
def _icon(name: str, ink: str, pale: str, accent: str) -> QIcon:
    icon = QIcon()
    for size in (16, 20, 24, 40):
        icon.addPixmap(_pixmap(name, ink, size, 1.0))
        icon.addPixmap(_pixmap(name, pale, size, 1.0), QIcon.Mode.Disabled)
        icon.addPixmap(_pixmap(name, accent, size, 1.0), QIcon.Mode.Normal, QIcon.State.On)
    return icon


@cache
def _pixmap(name: str, colour: str, size_px: int, ratio: float) -> QPixmap:
    pixmap = QPixmap(QSize(size_px, size_px) * ratio)
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    renderer = QSvgRenderer(QByteArray(_drawing(name).replace("currentColor", colour).encode()))
    renderer.render(painter, QRectF(0, 0, size_px, size_px))
    painter.end()
    return pixmap
