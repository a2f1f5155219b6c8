"""The window: the table in the middle, pieces and seam lengths at its left, journal and findings at its right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSettings, QSize, Qt
from PySide6.QtGui import QAction, QActionGroup, QCloseEvent, QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QDialog,
    QFileDialog,
    QLabel,
    QMainWindow,
    QMenu,
    QMessageBox,
    QSizePolicy,
    QSplitter,
    QToolBar,
    QVBoxLayout,
    QWidget,
)

from editor.canvas.table import Table
from editor.commands import file
from editor.commands.actions import Actions
from editor.commands.all import MENUS
from editor.panels.findings import FindingsPanel
from editor.panels.journal import JournalPanel
from editor.panels.lengths import LengthsPanel
from editor.panels.pieces import PiecesPanel
from editor.panels.unit_switch import UnitSwitch
from editor.panels.wearers import WearerBar
from editor.session import Session
from editor.theme import Look
from geometry.findings import Finding
from geometry.units import Unit

if TYPE_CHECKING:
    from editor.panels.alter_form import AlterForm

_TOOLS: Final = (
    ("select", "Select", "Pick out pieces and edges, lay them elsewhere on the table", "V"),
    ("slash", "Slash", "Draw a slash line across a piece, then open it or fold it out", "S"),
    ("measure", "Measure", "Measure between two places", "M"),
)
_RECENT_FILES: Final = 8
_SIDES_PX: Final = (318, 360)


class Window(QMainWindow):
    """The main window; commands see it as their desk."""

    def __init__(self, session: Session, table: Table, look: Look, settings: QSettings) -> None:
        super().__init__()
        self.session, self.table, self.look, self.settings = session, table, look, settings
        self._dialogs: list[QDialog] = []
        self.form: AlterForm | None = None
        self._leaving = False
        self.setObjectName("window")
        self.setAcceptDrops(True)
        self.setWindowIcon(look.icon("dartwise"))
        self.actions_of = Actions(self, MENUS, self)
        self.menus = self.actions_of.fill(self.menuBar())
        self._recent = QMenu("Open &recent", self)
        self.menus["File"].insertMenu(self.actions_of.by_id["save"], self._recent)
        self.tools = self._tool_actions()
        self._fill_toolbar()
        self._fill_middle()
        self._fill_status_bar()
        session.saved_changed.connect(self._show_title)
        session.unit_changed.connect(lambda: settings.setValue("unit", session.unit.value))
        look.changed.connect(lambda: settings.setValue("dark", look.is_dark))
        self._restore()
        self._show_title()
        table.setFocus()

    @property
    def dialog(self) -> QDialog | None:
        """The dialog in front, ``None`` if none is open."""
        return self._dialogs[-1] if self._dialogs else None

    # -- what commands ask for

    def choose_file(
        self, title: str, kinds: str, then: Callable[[Path], None], *, save_as: str = "", suggested: str = ""
    ) -> None:
        """Ask for a file without blocking."""
        folder = Path(str(self.settings.value("folder", "")))
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
        """Open a dialog over the window without blocking."""
        dialog.setParent(self.dialog or self, dialog.windowFlags())
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._dialogs.append(dialog)
        dialog.finished.connect(lambda: self._dialogs.remove(dialog))
        dialog.open()

    def show_form(self, kind: str) -> None:
        """Open the small form for a kind of step above the journal, in place of another one."""
        from editor.panels.alter_form import AlterForm

        if self.form is not None:
            self.form.leave()
        self.form = AlterForm(kind, self.session)
        self.form.closed.connect(self._drop_form)
        self._form_place.addWidget(self.form)
        self.form.show()
        self.form.begin()

    def tell(self, sentence: str, *, title: str = "") -> None:
        """Say calmly what went wrong."""
        box = QMessageBox(QMessageBox.Icon.NoIcon, "Dartwise", title or "This was not done", parent=self)
        box.setInformativeText(sentence)
        box.setIconPixmap(self.look.pixmap("warn", "warn", 40))
        self.show_dialog(box)

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
        box.buttonClicked.connect(lambda button: self._leave(box.standardButton(button), then))
        self.show_dialog(box)

    def remember_file(self, path: Path) -> None:
        """Put a file on top of the recent ones."""
        kept = [str(path.resolve()), *(each for each in self._recent_files() if each != str(path.resolve()))]
        self.settings.setValue("recent", kept[:_RECENT_FILES])
        self._show_recent()

    # -- Qt's own events

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask before work is lost."""
        if self.session.is_modified and not self._leaving:
            event.ignore()
            self.before_leaving(self._close_now)
            return
        self.settings.setValue("geometry", self.saveGeometry())
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
            file.open_path(self, path)

    # -- inside

    def _dropped(self, event: QDropEvent) -> Path | None:
        paths = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        return next((path for path in paths if path.suffix.lower() in (".dartwise", ".dxf")), None)

    def _leave(self, button: QMessageBox.StandardButton, then: Callable[[], None]) -> None:
        if button == QMessageBox.StandardButton.Save:
            file.save(self, then)
        elif button == QMessageBox.StandardButton.Discard:
            then()

    def _close_now(self) -> None:
        self._leaving = True
        self.close()

    def _drop_form(self) -> None:
        if self.form is not None:
            self.form.hide()
            self.form.deleteLater()
            self.form = None
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _tool_actions(self) -> dict[str, QAction]:
        group = QActionGroup(self)
        actions = {}
        for name, label, help_text, key in _TOOLS:
            action = QAction(self.look.icon(name), label, group)
            action.setCheckable(True)
            action.setShortcut(key)
            action.setToolTip(f"{help_text} ({key})")
            action.setStatusTip(help_text)
            action.triggered.connect(lambda _=False, chosen=name: self._use_tool(chosen))
            actions[name] = action
        self.look.changed.connect(self._renew_tool_icons)
        actions["select"].setChecked(True)
        return actions

    def _renew_tool_icons(self) -> None:
        for name, action in self.tools.items():
            action.setIcon(self.look.icon(name))

    def _use_tool(self, name: str) -> None:
        self.table.set_tool(name)
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _fill_toolbar(self) -> None:
        bar = QToolBar("Tools")
        bar.setObjectName("tools")
        bar.setMovable(False)
        bar.setIconSize(QSize(20, 20))
        bar.setContextMenuPolicy(Qt.ContextMenuPolicy.PreventContextMenu)
        by_id = self.actions_of.by_id
        for names in (("open", "save", "print"), ("undo", "redo")):
            bar.addActions([by_id[name] for name in names])
            bar.addSeparator()
        for action in self.tools.values():
            bar.addAction(action)
            bar.widgetForAction(action).setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)  # type: ignore[attr-defined]
        bar.addSeparator()
        for name in ("dart-transfer", "full-bust", "upper-arm"):
            bar.addAction(by_id[name])
            bar.widgetForAction(by_id[name]).setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)  # type: ignore[attr-defined]
        room = QWidget()
        room.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        bar.addWidget(room)
        bar.addActions([by_id[name] for name in ("zoom-out", "fit-all", "zoom-in")])
        bar.addSeparator()
        bar.addAction(by_id["dark"])
        for action in bar.actions():
            button = bar.widgetForAction(action)
            if button is not None and action.toolTip():
                button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
                button.setAccessibleName(action.toolTip())
        self.addToolBar(bar)

    def _fill_middle(self) -> None:
        self.pieces = PiecesPanel(self.session, self.look)
        self.lengths = LengthsPanel(self.session, self.look)
        self.wearer_bar = WearerBar(self.session, self.look)
        self.journal = JournalPanel(self.session, self.look)
        self.findings = FindingsPanel(self.session, self.look)
        left = _side(_split(self.pieces, self.lengths))
        form_place = QWidget()
        self._form_place = QVBoxLayout(form_place)
        self._form_place.setContentsMargins(10, 4, 10, 0)
        right = _side(self.wearer_bar, form_place, _split(self.journal, self.findings))
        middle = QSplitter(Qt.Orientation.Horizontal)
        middle.setHandleWidth(1)
        middle.setChildrenCollapsible(False)
        for widget in (left, self.table, right):
            middle.addWidget(widget)
        middle.setStretchFactor(1, 1)
        middle.setSizes([_SIDES_PX[0], 10_000, _SIDES_PX[1]])
        left.setMinimumWidth(200)
        right.setMinimumWidth(280)
        self.setCentralWidget(middle)
        self.pieces.shown.connect(self.table.show_piece)
        self.findings.chosen.connect(self._show_finding)
        by_id = self.actions_of.by_id
        self.wearer_bar.wearer_wanted.connect(by_id["add-wearer"].trigger)
        self.wearer_bar.edit_wanted.connect(by_id["edit-wearer"].trigger)
        self.wearer_bar.round_wanted.connect(by_id["next-round"].trigger)

    def _fill_status_bar(self) -> None:
        self.hint = QLabel()
        self.hint.setContentsMargins(10, 0, 0, 0)
        self.statusBar().addWidget(self.hint, 1)
        self.hint.setText(self.table.hint)
        self.table.hint_changed.connect(self.hint.setText)
        self.table.tool_changed.connect(lambda name: self.tools[name].setChecked(True))
        self.unit_switch = UnitSwitch(self.session)
        self.statusBar().addPermanentWidget(self.unit_switch)
        self.statusBar().setSizeGripEnabled(False)

    def _show_finding(self, finding: Finding) -> None:
        if finding.piece:
            self.session.select(piece=finding.piece)
            if finding.where is not None:
                self.table.show_place(finding.piece, finding.where)
            else:
                self.table.show_piece(finding.piece)

    def _file_name(self) -> str:
        return self.session.path.name if self.session.path else "this new project"

    def _show_title(self) -> None:
        self.hint.setVisible(self.session.project is not None)
        if self.session.project is None:
            self.setWindowTitle("Dartwise")
            return
        name = self.session.path.name if self.session.path else f"{file.suggested_name(self.session)}, not saved yet"
        self.setWindowTitle(f"{name}[*] · Dartwise")
        self.setWindowModified(self.session.is_modified)

    def _recent_files(self) -> list[str]:
        kept = self.settings.value("recent", [])
        return [kept] if isinstance(kept, str) else [str(name) for name in kept] if isinstance(kept, list) else []

    def _show_recent(self) -> None:
        self._recent.clear()
        for name in self._recent_files():
            action = self._recent.addAction(Path(name).name)
            action.setToolTip(name)
            action.triggered.connect(lambda _=False, path=Path(name): file.open_path(self, path))
        self._recent.setEnabled(not self._recent.isEmpty())
        self._recent.setToolTipsVisible(True)

    def _restore(self) -> None:
        unit = str(self.settings.value("unit", Unit.CM.value))
        if unit in set(Unit):
            self.session.set_unit(Unit(unit))
        geometry = self.settings.value("geometry")
        if geometry is None or not self.restoreGeometry(geometry):
            self.resize(1440, 900)
        self._show_recent()


def _side(*widgets: QWidget) -> QWidget:
    side = QWidget()
    side.setObjectName("side")
    layout = QVBoxLayout(side)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    for widget in widgets:
        layout.addWidget(widget)
    layout.setStretch(len(widgets) - 1, 1)
    return side


def _split(upper: QWidget, lower: QWidget) -> QSplitter:
    split = QSplitter(Qt.Orientation.Vertical)
    split.setHandleWidth(1)
    split.setChildrenCollapsible(False)
    split.addWidget(upper)
    split.addWidget(lower)
    split.setSizes([580, 420])
    split.setStretchFactor(0, 3)
    split.setStretchFactor(1, 2)
    return split
