"""What stands in the window: menus, toolbar, the table in the middle, panels at its sides, the status bar.

Kept apart from the window, which is on the screen before any of this is loaded.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QLabel, QMenu, QSplitter, QStackedWidget, QVBoxLayout, QWidget

from editor.canvas.table import Table
from editor.canvas.viewport import is_seen
from editor.commands.actions import Actions
from editor.commands.all import MENUS
from editor.panels.beginning import Beginning
from editor.panels.compare import ComparePanel
from editor.panels.comparing import Comparing
from editor.panels.details import Details
from editor.panels.findings import FindingsPanel
from editor.panels.first_steps import FirstSteps
from editor.panels.inspector import Inspector
from editor.panels.journal import JournalPanel
from editor.panels.landmarks import LandmarksPanel
from editor.panels.lengths import LengthsPanel
from editor.panels.pieces import PiecesPanel
from editor.panels.seams import SeamsPanel
from editor.panels.unit_switch import UnitSwitch
from editor.panels.walk import WalkPanel
from editor.panels.wearers import WearerBar
from editor.session import Session
from editor.toolbar import ToolActions, ToolBar
from editor.window import sides_px
from geometry.errors import PatternError
from geometry.findings import Finding
from geometry.units import Unit

if TYPE_CHECKING:
    from editor.window import Window


class Furnishing:
    """Everything in the window, connected with each other."""

    def __init__(self, window: Window, session: Session, table: Table) -> None:
        self._window, self._session, self._table = window, session, table
        look = window.look
        self.actions = Actions(window, MENUS, window)
        self.menus = self.actions.fill(window.menuBar())
        self.recent = QMenu("Open &recent", window)
        self.menus["File"].insertMenu(self.actions.by_id["save"], self.recent)
        self.tools = ToolActions(look, window)
        window.addToolBar(ToolBar(self.actions.by_id.__getitem__, self.tools))
        self.pieces = PiecesPanel(session, look)
        self.lengths = LengthsPanel(session, look)
        self.comparing = Comparing(session, table)
        self.compared = ComparePanel(session, self.comparing, look)
        self.inspector = Inspector(session)
        self.seams = SeamsPanel(session, look)
        self.walk = WalkPanel(session, table.bench, look)
        self._lengths = QStackedWidget()
        for panel in (self.lengths, self.compared):
            self._lengths.addWidget(panel)
        self.landmarks = LandmarksPanel(session, table.bench, look)
        pages = {
            "Lengths": self._lengths,
            "Seams": self.seams,
            "Walk": self.walk,
            "Marks": self.landmarks,
            "Picked out": self.inspector,
        }
        self.details = Details(session, pages, picked="Picked out")
        self.wearer_bar = WearerBar(session, self.comparing, look)
        self.journal = JournalPanel(session, look)
        self.findings = FindingsPanel(session, look)
        self.unit_switch = UnitSwitch(session)
        self.hint = QLabel(table.hint)
        self.beginning = Beginning(_ways(self.actions.by_id), look)
        self.first_steps = FirstSteps(session, look, window.settings)
        self._fill_middle()
        self._fill_status_bar()
        self._connect()

    def _fill_middle(self) -> None:
        left = _side(_split(self.pieces, self.details, lower_px=470))
        form_place = QWidget()
        self.form_place = QVBoxLayout(form_place)
        self.form_place.setContentsMargins(10, 4, 10, 0)
        self.lists = _split(self.journal, self.findings)
        right = _side(self.wearer_bar, form_place, self.lists)
        middle = QSplitter(Qt.Orientation.Horizontal)
        middle.setHandleWidth(1)
        middle.setChildrenCollapsible(False)
        for widget in (left, _column(self.first_steps, self._table), right):
            middle.addWidget(widget)
        middle.setStretchFactor(1, 1)
        left_px, right_px = sides_px(self._window.width())
        middle.setSizes([left_px, 10_000, right_px])
        left.setMinimumWidth(200)
        right.setMinimumWidth(280)
        self.stage = QStackedWidget()
        self.stage.addWidget(self.beginning)
        self.stage.addWidget(middle)
        self._window.setCentralWidget(self.stage)

    def _set_stage(self) -> None:
        """Ways to begin while nothing is open, else the table and its sides."""
        is_open = self._session.project is not None
        self.tools.set_usable(is_open)
        self.hint.setVisible(is_open)
        if self.stage.currentIndex() != int(is_open):
            self.stage.setCurrentIndex(int(is_open))
            self._table.setFocus()

    def _fill_status_bar(self) -> None:
        bar = self._window.statusBar()
        self.hint.setContentsMargins(10, 0, 0, 0)
        bar.addWidget(self.hint, 1)
        bar.addPermanentWidget(self.unit_switch)
        bar.setSizeGripEnabled(False)

    def _connect(self) -> None:
        by_id, table = self.actions.by_id, self._table
        self._session.project_opened.connect(self._set_stage)
        self._set_stage()
        self.beginning.recent_wanted.connect(self._window.open_file)
        self._connect_first_steps()
        self.tools.chosen.connect(self._use_tool)
        table.tool_changed.connect(self.tools.tick)
        table.tool_changed.connect(self._turn_page)
        table.tool_changed.connect(lambda _: self.actions.refresh())
        table.hint_changed.connect(self.hint.setText)
        self.pieces.shown.connect(table.show_piece)
        self.findings.chosen.connect(self._show_finding)
        table.bench.taken_in_hand.connect(self._bring_into_view)
        table.bench.handbook_wanted.connect(lambda record: self._window.show_handbook(record=record))
        self.journal.reopen_wanted.connect(self._reopen)
        self.inspector.form_wanted.connect(self._window.show_form)
        self.inspector.walk_wanted.connect(self.walk.begin)
        self.seams.walk_wanted.connect(self.walk.begin)
        self.landmarks.table_wanted.connect(self._move_landmark)
        self.walk.begun.connect(lambda: self._use_tool("walk"))
        self.walk.begun_on.connect(table.show_piece)
        self.walk.print_wanted.connect(self._print_walk)
        self.wearer_bar.wearer_wanted.connect(by_id["add-wearer"].trigger)
        self.wearer_bar.edit_wanted.connect(by_id["edit-wearer"].trigger)
        self.wearer_bar.round_wanted.connect(by_id["next-round"].trigger)
        self.wearer_bar.round_edit_wanted.connect(by_id["edit-round"].trigger)
        self.comparing.changed.connect(self._show_compared)
        self.details.stays = lambda: self.comparing.other is not None and self.details.shown == "Lengths"
        settings = self._window.settings
        unit = str(settings.value("unit", Unit.CM.value))
        if unit in set(Unit):
            self._session.set_unit(Unit(unit))
        self._session.unit_changed.connect(lambda: settings.setValue("unit", self._session.unit.value))

    def compare(self) -> None:
        """Lay the wearer's toile before this one over it, else the latest of anybody, if none lies there yet."""
        if self.comparing.other is None and self.comparing.others:
            self.comparing.choose(self._earlier())
        self.wearer_bar.others.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def _earlier(self) -> tuple[str, str]:
        wearer, shown, others = self._session.wearer, self._session.round, self.comparing.others
        rounds = wearer.rounds if wearer else ()
        at = next((number for number, each in enumerate(rounds) if each is shown), 0)
        before = [other for other in others if at and other.wearer is wearer and other.round is rounds[at - 1]]
        return (before or others)[0].ids

    def _show_compared(self) -> None:
        was, wanted = self._lengths.currentWidget(), self.compared if self.comparing.other else self.lengths
        self._lengths.setCurrentWidget(wanted)
        if wanted is self.compared and was is not wanted:
            self.details.turn_to("Lengths")

    def _connect_first_steps(self) -> None:
        steps = self.first_steps
        self._table.looked.connect(lambda: steps.done("looked"))
        self.findings.chosen.connect(lambda _: steps.done("checked"))
        self.actions.by_id["print"].triggered.connect(lambda: steps.done("printed"))
        steps.left.connect(lambda: self._table.setFocus(Qt.FocusReason.OtherFocusReason))

    def _use_tool(self, name: str) -> None:
        self._table.set_tool(name)
        self._table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _reopen(self, record: str) -> None:
        if self._table.bench.reopen(record) and self._table.bench.tool.name == "slash":
            self._table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _bring_into_view(self, pieces: tuple[str, ...]) -> None:
        """What is to be worked on, unless each of them is seen already."""
        table = self._table
        boxes = [box for piece in pieces if (box := table.bench.sheets.box((piece,))) is not None]
        if not all(is_seen(box, table.viewport, table.width(), table.height()) for box in boxes):
            table.show_piece(*pieces)

    def _move_landmark(self, piece: str) -> None:
        self._table.show_piece(piece)
        self._table.setFocus(Qt.FocusReason.OtherFocusReason)

    def _print_walk(self) -> None:
        from editor.dialogs.walk_table import write_walk_table

        walked, stand = self.walk.walked, self.walk.stand

        def write(path: Path) -> None:
            try:
                if walked is not None:
                    write_walk_table(self._session, walked, stand, path)
                    self._window.inform(f"Wrote {path.name}")
            except PatternError as error:
                self._window.tell(error.sentence, title="The table was not written")

        self._window.choose_file("Table of differences", "PDF files (*.pdf)", write, save_as=".pdf", suggested="seam")

    def _turn_page(self, tool: str) -> None:
        page = {"seam": "Seams", "walk": "Walk", "landmark": "Marks"}.get(tool)
        if page is not None:
            self.details.turn_to(page)

    def _show_finding(self, finding: Finding) -> None:
        if finding.piece:
            self._session.select(piece=finding.piece)
            if finding.where is not None:
                self._table.show_place(finding.piece, finding.where)
            else:
                self._table.show_piece(finding.piece)


def _ways(by_id: Mapping[str, QAction]) -> tuple[tuple[QAction, str, str, str], ...]:
    """The ways to begin."""
    return (
        (by_id["new"], "A pattern", "A DXF drawing, as bought or as a digitiser left it", "new"),
        (by_id["open"], "A project", "Go on with what you saved", "open"),
        (by_id["sample"], "Our dress, to try things on", "A choir's concert dress, altered for two singers", "wearer"),
    )


def _side(*widgets: QWidget) -> QWidget:
    side = _column(*widgets)
    side.setObjectName("side")
    return side


def _column(*widgets: QWidget) -> QWidget:
    """Widgets one below the other; the last one takes the room that is left."""
    column = QWidget()
    layout = QVBoxLayout(column)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    for widget in widgets:
        layout.addWidget(widget)
    layout.setStretch(len(widgets) - 1, 1)
    return column


def _split(upper: QWidget, lower: QWidget, *, lower_px: int = 420) -> QSplitter:
    split = QSplitter(Qt.Orientation.Vertical)
    split.setHandleWidth(1)
    split.setChildrenCollapsible(False)
    split.addWidget(upper)
    split.addWidget(lower)
    split.setSizes([1000 - lower_px, lower_px])
    split.setStretchFactor(0, 3)
    split.setStretchFactor(1, 2)
    return split
