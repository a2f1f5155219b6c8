"""What can be done, each with its words, key, icon and condition; menus, toolbar and help read from here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QSettings

from editor.session import Session

if TYPE_CHECKING:
    from PySide6.QtWidgets import QDialog

    from editor.canvas.table import Table
    from editor.keeper import Keeper
    from editor.theme import Look
    from geometry.alterations.handbook.alteration import Alteration


class Desk(Protocol):
    """What a command works with: the window, seen from the commands."""

    session: Session
    table: Table
    look: Look
    settings: QSettings
    keeper: Keeper

    def choose_file(
        self, title: str, kinds: str, then: Callable[[Path], None], *, save_as: str = "", suggested: str = ""
    ) -> None:
        """Ask for a file without blocking; ``save_as`` is the ending of a file to be written."""

    def show_dialog(self, dialog: QDialog) -> None:
        """Open a dialog over the window without blocking."""

    def show_form(self, kind: str) -> None:
        """Open the small form for a kind of step."""

    def show_handbook(self, code: str = "", *, step: Alteration | None = None, note: str = "") -> None:
        """Open the handbook of alterations at an entry, at an alteration laid out, or at the list."""

    def show_first_steps(self) -> None:
        """Say again what a newcomer tries first."""

    def show_fitting(self, page: str) -> None:
        """Open a page of fitting beside the window."""

    def compare(self) -> None:
        """Lay another toile over the one on the table."""

    def tell(self, sentence: str, *, title: str = "") -> None:
        """Say calmly what went wrong."""

    def inform(self, sentence: str) -> None:
        """Say in passing what was done."""

    def before_leaving(self, then: Callable[[], None]) -> None:
        """Go on at once, or after asking what to do with changes that were not saved."""

    def remember_file(self, path: Path) -> None:
        """Put a file on top of the recent ones."""

    def close(self) -> bool:
        """Close the window."""


def always(_: Session) -> bool:
    """Enabled at any time."""
    return True


def when_open(session: Session) -> bool:
    """Enabled while a project is open."""
    return session.project is not None


@dataclass(frozen=True, slots=True)
class Command:
    """Something that can be done.

    Attributes:
        id: Stable name.
        label: What the menu says, with its mnemonic; "…" where it asks something first.
        help: One sentence on what it does.
        run: Does it.
        shortcut: Its key in Qt's portable spelling, or "".
        icon: Name of its icon, or "".
        enabled: Whether it can be done now.
        title: What the menu says now, where that depends on the session.
        is_on: For a switch, whether it is on.
    """

    id: str
    label: str
    help: str
    run: Callable[[Desk], None]
    shortcut: str = ""
    icon: str = ""
    enabled: Callable[[Session], bool] = always
    title: Callable[[Session], str] | None = None
    is_on: Callable[[Desk], bool] | None = None

    @property
    def tip(self) -> str:
        """What it does and its key."""
        return f"{self.help} ({self.shortcut})" if self.shortcut else self.help


@dataclass(frozen=True, slots=True)
class Menu:
    """A menu: its title and its commands; ``None`` draws a line."""

    title: str
    commands: tuple[Command | None, ...]
