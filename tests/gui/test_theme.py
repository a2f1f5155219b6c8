"""Colours that can be read, in light and dark."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication

from editor.canvas.palette import DAYLIGHT, LAMPLIGHT, Palette
from editor.text import LEVEL_WORDS
from editor.theme import Look
from editor.window import Window
from geometry.findings import Level

TEXT = ("ink", "soft", *Level)
GROUNDS = ("window", "panel", "card", "card_off")


def luminance(colour: QColor) -> float:
    """Relative luminance as WCAG 2.2 defines it."""

    def linear(channel: float) -> float:
        return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(channel) for channel in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: QColor, other: QColor) -> float:
    """Contrast ratio as WCAG 2.2 defines it, from 1 to 21."""
    bright, dim = sorted((luminance(one), luminance(other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("text", TEXT)
def test_text_stands_out_from_its_ground_as_wcag_asks(qapp: QApplication, dark: bool, ground: str, text: str) -> None:
    look = Look(qapp, dark=dark)
    assert contrast(look.colour(text), look.colour(ground)) >= 4.5


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["card", "panel", "window"])
@pytest.mark.parametrize("role", ["accent", "line_strong"])
def test_frames_of_fields_stand_out_as_wcag_asks(qapp: QApplication, dark: bool, ground: str, role: str) -> None:
    look = Look(qapp, dark=dark)
    assert contrast(look.colour(role), look.colour(ground)) >= 3.0


@pytest.mark.parametrize("palette", [DAYLIGHT, LAMPLIGHT], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["paper", "table"])
@pytest.mark.parametrize("line", ["cutting", "before", "chalk", "mark"])
def test_lines_on_the_table_stand_out_as_wcag_asks(palette: Palette, ground: str, line: str) -> None:
    assert contrast(QColor(getattr(palette, line)), QColor(getattr(palette, ground))) >= 3.0


def test_levels_differ_in_word_and_shape_and_not_in_colour_alone(qapp: QApplication) -> None:
    look = Look(qapp)
    shapes = {look.pixmap(level.value, "ink", 32).toImage().bits().tobytes() for level in Level}
    assert len(shapes) == len(set(LEVEL_WORDS.values())) == 3


def test_the_window_follows_the_desktop_until_light_or_dark_is_chosen(
    qapp: QApplication, empty_window: Window, kept_settings: QSettings
) -> None:
    hints = qapp.styleHints()
    kept_settings.remove("dark")
    try:
        hints.setColorScheme(Qt.ColorScheme.Dark)
        assert empty_window.look.is_dark is (hints.colorScheme() is Qt.ColorScheme.Dark)
        kept_settings.setValue("dark", False)
        hints.setColorScheme(Qt.ColorScheme.Light)
        hints.setColorScheme(Qt.ColorScheme.Dark)
        assert not empty_window.look.is_dark
    finally:
        hints.unsetColorScheme()
