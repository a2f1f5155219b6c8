"""The window: on the screen at once, bare; furnished with table, panels and menus as soon as these are loaded."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QObject, QSettings, QSize, Qt, QTimer
from PySide6.QtGui import QCloseEvent, QDragEnterEvent, QDropEvent, QGuiApplication, QKeyEvent
from PySide6.QtWidgets import QApplication, QDialog, QFileDialog, QHBoxLayout, QLabel, QMainWindow, QMessageBox, QWidget

from editor.canvas.palette import DAYLIGHT, LAMPLIGHT
from editor.theme import Look

if TYPE_CHECKING:
    from editor.canvas.table import Table
    from editor.dialogs.fitting import FittingDialog
    from editor.furnishing import Furnishing
    from editor.keeper import Keeper
    from editor.panels.alter_form import AlterForm
    from editor.panels.handbook import HandbookForm
    from editor.session import Session
    from geometry.alterations.handbook.alteration import Alteration

_RECENT_FILES: Final = 8
_SIDES_PX: Final = (318, 360)
_SIDES_SHARES: Final = (0.21, 0.26)
_SIZE_PX: Final = QSize(1440, 900)
_FRAME_PX: Final = QSize(0, 30)
"""What the desktop may put round a window."""


def is_dark(settings: QSettings) -> bool:
    """As chosen once, else as the desktop is."""
    chosen = settings.value("dark")
    if chosen is not None:
        return str(chosen).lower() == "true"
    return QGuiApplication.styleHints().colorScheme() is Qt.ColorScheme.Dark


def sides_px(window_px: int) -> tuple[int, int]:
    """Widths of the sides: less where the window is narrow."""
    left, right = (min(most, round(part * window_px)) for most, part in zip(_SIDES_PX, _SIDES_SHARES, strict=True))
    return left, right


class Window(QMainWindow):
    """The main window; commands see it as their desk.

    Attributes:
        session: What is open; there once the window is furnished, like all that follows.
        keeper: Its file, and the record of this sitting.
        table: The table in the middle.
        furnishing: Everything else that stands in the window.
        fitting: The window of fitting beside this one, ``None`` while it is closed.
    """

    session: Session
    keeper: Keeper
    table: Table
    furnishing: Furnishing

    def __init__(self, look: Look, settings: QSettings, *, opening: str = "") -> None:
        super().__init__()
        self.look, self.settings = look, settings
        self._dialogs: list[QDialog] = []
        self.form: AlterForm | HandbookForm | None = None
        self.fitting: FittingDialog | None = None
        self._leaving = False
        self._is_furnished = False
        self.setObjectName("window")
        self.setWindowTitle("Dartwise")
        self.setWindowIcon(look.icon("dartwise"))
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow_desktop)
        geometry = settings.value("geometry")
        if geometry is None or not self.restoreGeometry(geometry):
            self.resize(_SIZE_PX.boundedTo(self.screen().availableSize() - _FRAME_PX))
        self.setCentralWidget(_bare(sides_px(self.width()) if opening else (), opening, dark=look.is_dark))

    def furnish(self) -> None:
        """Load and put in everything that stands in the window; nothing is open then."""
        from editor.canvas.table import Table
        from editor.furnishing import Furnishing
        from editor.keeper import Keeper
        from editor.places import sittings_folder
        from editor.session import Session

        self.session = Session(self)
        self.keeper = Keeper(self.session, sittings_folder(), self)
        self.table = Table(self.session)
        self.furnishing = Furnishing(self, self.session, self.table)
        self._is_furnished = True
        self.setAcceptDrops(True)
        self.session.saved_changed.connect(self._show_title)
        self.keeper.trouble_changed.connect(self._tell_unwritten)
        self._show_recent()
        self._show_title()
        self.furnishing.beginning.setFocus()

    @property
    def dialog(self) -> QDialog | None:
        """The dialog in front, ``None`` if none is open."""
        return self._dialogs[-1] if self._dialogs else None

    # -- what commands ask for

    def choose_file(
        self, title: str, kinds: str, then: Callable[[Path], None], *, save_as: str = "", suggested: str = ""
    ) -> None:
        """Ask for a file without blocking."""
        folder = self._folder()
        dialog = QFileDialog(self, title, str(folder / f"{suggested}{save_as}" if suggested else folder), kinds)
        if save_as:
            dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
            dialog.setDefaultSuffix(save_as.removeprefix("."))
            dialog.selectFile(f"{suggested}{save_as}")
        else:
            dialog.setFileMode(QFileDialog.FileMode.ExistingFile)

        def chosen(name: str) -> None:
            self.settings.setValue("folder", str(Path(name).parent))
            then(Path(name))

        dialog.fileSelected.connect(chosen)
        self.show_dialog(dialog)

    def show_dialog(self, dialog: QDialog) -> None:
        """Open a dialog over the window in front without blocking; the others wait until it is closed."""
        from editor.dialogs.room import keep_on_screen

        front = self.fitting if self.fitting and QApplication.activeWindow() is self.fitting else self
        above = next((each for each in reversed(self._dialogs) if each.isVisible()), front)
        dialog.setParent(above, dialog.windowFlags())
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._dialogs.append(dialog)
        for ended in (dialog.finished, dialog.destroyed):
            ended.connect(lambda *_: self._forget(dialog))
        dialog.setModal(True)
        keep_on_screen(dialog)
        dialog.show()

    def show_form(self, kind: str) -> None:
        """Open the small form for a kind of step above the journal, in place of another one."""
        from editor.panels.alter_form import AlterForm

        self._open_form(lambda: AlterForm(kind, self.session))

    def show_handbook(
        self, code: str = "", *, step: Alteration | None = None, note: str = "", record: str = ""
    ) -> None:
        """Open the handbook in place of the journal: at an entry, an alteration laid out, a record, or the list."""
        from editor.panels.handbook import HandbookForm

        session, bench = self.session, self.table.bench
        self._open_form(lambda: HandbookForm(session, bench, self.look, code, step=step, note=note, record=record))
        self.furnishing.lists.hide()
        self._come_to_front(self)

    def show_fitting(self, page: str) -> None:
        """Open a page of fitting in a window beside this one, which stays usable."""
        from editor.dialogs.fitting import FittingDialog
        from editor.dialogs.room import keep_on_screen

        if self.fitting is None:
            by_id = self.furnishing.actions.by_id
            self.fitting = FittingDialog(self, [by_id[name] for name in ("undo", "redo", "save")])
            self.fitting.finished.connect(self._drop_fitting)
            keep_on_screen(self.fitting)
            self.fitting.show()
        self.fitting.turn_to(page)
        self._come_to_front(self.fitting)

    def compare(self) -> None:
        """Lay another toile over the one on the table."""
        self.furnishing.compare()

    def open_file(self, path: Path) -> None:
        """Open a project or begin one from a drawing."""
        from editor.commands.file import open_path

        open_path(self, path)

    def show_first_steps(self) -> None:
        """Say again what to try first."""
        self.furnishing.first_steps.begin()

    def tell(self, sentence: str, *, title: str = "") -> None:
        """Say calmly what went wrong."""
        box = QMessageBox(QMessageBox.Icon.NoIcon, "Dartwise", title or "This was not done", parent=self)
        box.setInformativeText(sentence)
        box.setIconPixmap(self.look.pixmap("warn", "warn", 40))
        self.show_dialog(box)

    def tell_trouble(self, title: str, sentence: str, open_folder: Callable[[], None] | None) -> None:
        """Say calmly what broke, once: while that stands there, what breaks again is only noted."""
        from editor.dialogs.question import Question, Way

        if not any(isinstance(dialog, Question) and dialog.text() == title for dialog in self._dialogs):
            ways = () if open_folder is None else (Way("Open the log's folder", open_folder),)
            self.show_dialog(Question(self.look, title, sentence, *ways, leave="Go on", enter_leaves=True))

    def kept_words(self) -> str:
        """What is on the disk by now, in a sentence."""
        return self.keeper.kept_words() if self._is_furnished else ""

    def inform(self, sentence: str) -> None:
        """Say in passing what was done."""
        self.statusBar().showMessage(sentence, 6000)

    def before_leaving(self, then: Callable[[], None]) -> None:
        """Go on at once, or after asking what to do with changes that were not saved."""
        if not self.session.is_modified:
            then()
            return
        buttons = QMessageBox.StandardButton
        box = QMessageBox(
            QMessageBox.Icon.NoIcon,
            "Dartwise",
            f"Save the changes to {self._file_name()}?",
            buttons.Save | buttons.Discard | buttons.Cancel,
            self,
        )
        box.setInformativeText("Without saving, what you did since the last time is lost.")
        box.setIconPixmap(self.look.pixmap("save", "accent", 40))
        box.setDefaultButton(buttons.Save)
        self.show_dialog(box)
        # closed by then, so that what is asked next does not close together with it
        box.finished.connect(lambda: self._leave(box.standardButton(box.clickedButton()), then))

    def remember_file(self, path: Path) -> None:
        """Put a file on top of the recent ones."""
        kept = [str(path.resolve()), *(each for each in self._recent_files() if each != str(path.resolve()))]
        self.settings.setValue("recent", kept[:_RECENT_FILES])
        self.settings.setValue("folder", str(path.resolve().parent))
        self._show_recent()

    # -- Qt's own events

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape that nothing else has a use for leaves what is open above the journal."""
        if event.key() == Qt.Key.Key_Escape and self.form is not None:
            self.form.leave()
        else:
            super().keyPressEvent(event)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask before work is lost."""
        if self._is_furnished and self.session.is_modified and not self._leaving:
            event.ignore()
            self.before_leaving(self._close_now)
            return
        self.settings.setValue("geometry", self.saveGeometry())
        if self._is_furnished:
            self.keeper.finish()
        if self.fitting is not None:
            self.fitting.reject()
        event.accept()

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take project and drawing files."""
        if self._dropped(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open what was dropped."""
        path = self._dropped(event)
        if path is not None:
            event.acceptProposedAction()
            self.open_file(path)

    # -- inside

    def _forget(self, dialog: QDialog) -> None:
        self._dialogs = [each for each in self._dialogs if each is not dialog]

    def _dropped(self, event: QDropEvent) -> Path | None:
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        return next((path for path in paths if path.suffix.lower() in (".dartwise", ".dxf")), None)

    def _leave(self, button: QMessageBox.StandardButton, then: Callable[[], None]) -> None:
        from editor.commands import file

        if button == QMessageBox.StandardButton.Save:
            file.save(self, then)
        elif button == QMessageBox.StandardButton.Discard:
            then()

    def _follow_desktop(self) -> None:
        self.look.set_dark(is_dark(self.settings))

    def _close_now(self) -> None:
        self._leaving = True
        self.close()

    def _open_form(self, make: Callable[[], AlterForm | HandbookForm]) -> None:
        if self.form is not None:
            self.form.leave()
        self.form = make()
        self.form.closed.connect(self._drop_form)
        self.furnishing.form_place.addWidget(self.form)
        self.form.show()
        self.form.begin()

    def _drop_fitting(self) -> None:
        if self.fitting is not None:
            self.fitting.deleteLater()
            self.fitting = None
            self.activateWindow()

    @staticmethod
    def _come_to_front(window: QWidget) -> None:
        window.raise_()
        window.activateWindow()

    def _drop_form(self) -> None:
        self.furnishing.lists.show()
        if self.form is not None:
            self.form.hide()
            self.form.deleteLater()
            self.form = None
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _tell_unwritten(self, reason: str) -> None:
        if reason:
            self.tell(
                f"{reason[:1].upper()}{reason[1:]}. Save often until then.", title="Your steps cannot be written down"
            )
        else:
            self.inform("Your steps are written down again")

    def _file_name(self) -> str:
        return self.session.path.name if self.session.path else "this new project"

    def _show_title(self) -> None:
        from editor.commands import file

        if self.session.project is None:
            self.setWindowTitle("Dartwise")
            return
        name = self.session.path.name if self.session.path else f"{file.suggested_name(self.session)}, not saved yet"
        self.setWindowTitle(f"{name}[*] · Dartwise")
        self.setWindowModified(self.session.is_modified)

    def _folder(self) -> Path:
        """Where files are looked for first: where the last one was, if that is there, else at home."""
        last = Path(str(self.settings.value("folder", "")) or Path.home())
        return last if last.is_dir() else Path.home()

    def _recent_files(self) -> list[str]:
        kept = self.settings.value("recent", [])
        return [kept] if isinstance(kept, str) else [str(name) for name in kept] if isinstance(kept, list) else []

    def _show_recent(self) -> None:
        self.furnishing.recent.clear()
        for name in self._recent_files():
            action = self.furnishing.recent.addAction(Path(name).name)
            action.setToolTip(name)
            action.triggered.connect(lambda _=False, path=Path(name): self.open_file(path))
        self.furnishing.recent.setEnabled(not self.furnishing.recent.isEmpty())
        self.furnishing.recent.setToolTipsVisible(True)
        self.furnishing.beginning.show_recent(Path(name) for name in self._recent_files())


class OncePainted(QObject):
    """Calls something as soon as a widget was painted for the first time."""

    def __init__(self, widget: QWidget, then: Callable[[], None]) -> None:
        super().__init__(widget)
        self._then = then

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Wait for the paint; the rest comes once it is done."""
        if event.type() == QEvent.Type.Paint:
            watched.removeEventFilter(self)
            QTimer.singleShot(0, self._then)
        return False


def _bare(sides: tuple[int, ...], opening: str, *, dark: bool) -> QWidget:
    """The table, and the sides if there will be any, before anything stands there; says what is being opened."""
    bare = QWidget()
    row = QHBoxLayout(bare)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(1)
    palette = LAMPLIGHT if dark else DAYLIGHT
    table = QLabel(f"Opening {opening} …" if opening else "")
    table.setAlignment(Qt.AlignmentFlag.AlignCenter)
    table.setStyleSheet(f"background: {palette.table}; color: {palette.text}")
    row.addWidget(table, 1)
    for at, width_px in zip((0, -1), sides, strict=False):
        side = QWidget()
        side.setObjectName("side")
        side.setFixedWidth(width_px)
        row.insertWidget(at, side)
    return bare
