"""The pages of fitting in their order."""

from __future__ import annotations

from collections.abc import Callable

from editor.commands.registry import Desk
from editor.dialogs.advice_page import AdvicePage
from editor.dialogs.chart_page import ChartPage
from editor.dialogs.garment_page import GarmentPage
from editor.dialogs.measurements import MeasurementsPage
from editor.dialogs.notes_page import NotesPage
from editor.dialogs.sizes_page import SizesPage
from editor.dialogs.taking_over_page import TakingOverPage
from editor.dialogs.toile_page import ToilePage

AnyPage = MeasurementsPage | ChartPage | SizesPage | AdvicePage | GarmentPage | ToilePage | NotesPage | TakingOverPage
"""A widget with a title that can be brought up to date."""

PAGES: tuple[Callable[[Desk], AnyPage], ...] = (
    MeasurementsPage,
    ChartPage,
    SizesPage,
    AdvicePage,
    GarmentPage,
    ToilePage,
    NotesPage,
    TakingOverPage,
)
