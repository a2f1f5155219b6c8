"""The pages of fitting in their order."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from PySide6.QtWidgets import QWidget

from editor.commands.registry import Desk
from editor.dialogs.chart_page import ChartPage
from editor.dialogs.measurements import MeasurementsPage
from editor.dialogs.sizes_page import SizesPage


class Page(Protocol):
    """A widget that can be brought up to date."""

    title: str

    def refresh(self) -> None:
        """Show things as they are now."""


PAGES: tuple[Callable[[Desk], QWidget], ...] = (MeasurementsPage, ChartPage, SizesPage)
