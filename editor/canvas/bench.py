"""The tool in hand, working on the pieces of the session: carries out what it asks for, keeps what it shows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import asdict
from typing import Final

import numpy as np
from PySide6.QtCore import QObject, Signal

from editor.canvas.pointer import Key, Pointer
from editor.canvas.sheets import Sheets
from editor.document.statements import proposed_ids, with_seam
from editor.refining import found_by, put_in_place, refine, run_with
from editor.session import Session
from editor.text import has_amount, in_unit
from editor.tools.base import Adjust, ChangeStep, Lay, Pick, Preview, Propose, Reopen, Reply, Sew, Tool
from editor.tools.dart import DartTool
from editor.tools.landmark import LandmarkTool
from editor.tools.measure import MeasureTool
from editor.tools.seam import SeamTool
from editor.tools.select import SelectTool
from editor.tools.slash import SlashTool
from editor.tools.walk import WalkTool
from geometry.affine import Points
from geometry.alterations.chalk import JournalChalk
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import replay
from geometry.alterations.slash import Slash
from geometry.checks.stretches import held_by
from geometry.errors import PatternError
from geometry.model.pattern import Pattern, Seam
from geometry.model.piece import Piece

_TOOLS: Final[tuple[Callable[[], Tool], ...]] = (
    SelectTool,
    SlashTool,
    DartTool,
    SeamTool,
    WalkTool,
    MeasureTool,
    LandmarkTool,
)
_AMOUNT_ONLY: Final = (
    "This kind of step is not laid out again: change its amount in the journal, or remove it and do it anew."
)
_NO_AMOUNT: Final = "This kind of step is not laid out again: remove it from the journal and do it anew."


class Bench(QObject):
    """Where tools meet the session.

    Signals:
        changed: something else is to be seen.
        laid_out: the sheets were laid out anew.
        hint_changed: what can be done next, or why something was refused, in one sentence.
        tool_changed: another tool is in hand; its name.
        taken_in_hand: these pieces are to be worked on; their names.
        handbook_wanted: a recorded alteration of the handbook is to be taken in hand again; the id of its record.
    """

    changed = Signal()
    laid_out = Signal()
    hint_changed = Signal(str)
    tool_changed = Signal(str)
    taken_in_hand = Signal(tuple)
    handbook_wanted = Signal(str)

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._chalk = JournalChalk()
        self.tools: dict[str, Tool] = {tool.name: tool for tool in (make() for make in _TOOLS)}
        self.sheets = Sheets()
        self._ground: Pattern | None = None
        self.tool: Tool = self.tools["select"]
        self.preview = Preview()
        self.carried = ""
        session.project_changed.connect(self._show_pattern)
        session.selection_changed.connect(self._show_selection)
        session.unit_changed.connect(self._show_selection)
        session.preview_changed.connect(self.changed)
        self._show_pattern()

    def set_tool(self, name: str) -> None:
        """Take a tool in hand; what was begun with the last one is dropped."""
        self.cancel()
        if name != self.tool.name:
            self.tool = self.tools[name]
            self.tool_changed.emit(name)
        self.refresh()

    def cancel(self) -> bool:
        """Drop whatever is begun and leave everything as it was; whether there was anything."""
        busy = self.tool.is_busy
        self._carry_out(self.tool.cancel())
        self.carried = ""
        self.refresh()
        self.changed.emit()
        return busy

    # -- mouse and keys

    def pressed(self, pointer: Pointer) -> None:
        """The first button went down."""
        self._carry_out(self.tool.press(pointer, self.sheets.scene))
        self.refresh()

    def dragged(self, pointer: Pointer) -> None:
        """The mouse moved with it held."""
        self._carry_out(self.tool.drag(pointer, self.sheets.scene))
        self.refresh()

    def released(self, pointer: Pointer) -> None:
        """It came up."""
        self._carry_out(self.tool.release(pointer, self.sheets.scene))
        self.carried = ""
        self.refresh()
        self.changed.emit()

    def hovered(self, pointer: Pointer) -> None:
        """The mouse moved with nothing held."""
        self.tool.hover(pointer, self.sheets.scene)
        self.refresh()

    def key(self, key: Key) -> bool:
        """A key for the tool; whether it used it."""
        reply = self.tool.key(key, self.sheets.scene)
        self._carry_out(reply)
        self.refresh()
        return reply is not None

    def set_amount(self, amount_mm: float) -> None:
        """An amount is typed."""
        self.tool.set_amount(amount_mm, self.sheets.scene)
        self.refresh()
        self.hint_changed.emit(self.preview.hint)  # in place of what was refused while it was half typed

    # -- what is seen

    @property
    def tried(self) -> tuple[Piece, ...]:
        """Pieces as they would be, by the tool in hand or by a form that tries a step out."""
        if self.preview.piece is not None:
            return (self.preview.piece,)
        trial = self._session.preview
        if trial is None:
            return ()
        shown = self.sheets.scene.sheets
        return tuple(
            piece for piece in trial.pattern.pieces if piece.name in shown and shown[piece.name].piece is not piece
        )

    @property
    def tried_cuts(self) -> tuple[Points, ...]:
        """Where the step cuts that a form tries out, on the table; a tool draws its own."""
        trial, tried = self._session.preview, self.tried
        if trial is None or len(tried) != 1 or self.preview.chalk:
            return ()
        at = self.sheets.scene.sheets[tried[0].name].at
        return tuple(points + np.array(at) for points in trial.chalk)

    def lay(self, ground: Pattern | None) -> None:
        """Lay these pieces on the table instead of the session's, for a form to work on; ``None`` puts them away."""
        if ground is not self._ground:
            self._ground = ground
            self._show_sheets()

    def refresh(self) -> None:
        """Ask the tool what to show now; the very same preview as before needs no drawing."""
        preview, before = self.tool.preview(self.sheets.scene), self.preview
        self.preview = preview
        if preview.hint != before.hint:
            self.hint_changed.emit(preview.hint)
        if preview is not before:
            self.changed.emit()

    # -- what tools ask for

    def _carry_out(self, reply: Reply | None) -> None:
        try:
            match reply:
                case Propose(step):
                    self._session.add_step(step)
                case Adjust(step):
                    refine(self._session, step)
                case Sew(seam, replacing):
                    self._sew(seam, replacing)
                case ChangeStep(record, step):
                    picked = self._session.selection
                    put_in_place(self._session, record, step, joins=f"amount {record}")
                    self._session.select(**asdict(picked))
                    self.cancel()
                case Pick():
                    self._session.select(**asdict(reply))
                case Reopen(record):
                    self.reopen(record)
                case Lay(piece, at):
                    self.sheets.lay(piece, at)
                    self.carried = piece
                    self.changed.emit()
        except PatternError as error:
            self.hint_changed.emit(in_unit(error.sentence, self._session.unit))

    def _sew(self, seam: Seam, replacing: str) -> None:
        project = self._session.project
        if project is not None:
            if self._session.base is not None and self._session.pattern is not None:
                seam = held_by(seam, self._session.base, self._session.pattern)
            joins = f"seam {replacing}" if replacing else f"seam {seam.id}"
            self._session.state("Say what is sewn together", with_seam(project, seam, replacing=replacing), joins=joins)
            self._session.select(seam=seam.id)

    def reopen(self, record_id: str) -> bool:
        """Take a recorded slash or alteration of the handbook in hand again; whether it is one that can be."""
        record = next((each for each in self._session.records if each.id == record_id), None)
        if record is None:
            return False
        if not isinstance(record.step, Slash | Alteration):
            self.hint_changed.emit(_AMOUNT_ONLY if has_amount(record.step) else _NO_AMOUNT)
            return False
        if not record.on:
            self.hint_changed.emit("Turn this step on first; then it can be taken in hand again.")
            return False
        if isinstance(record.step, Slash):
            return self._reopen_slash(record_id, record.step)
        self.handbook_wanted.emit(record_id)
        return True

    def _reopen_slash(self, record_id: str, step: Slash) -> bool:
        """To give it another amount."""
        session, tool, before = self._session, self.tools["slash"], found_by(self._session, record_id)
        if before is None or not isinstance(tool, SlashTool):
            return False
        self.set_tool(tool.name)
        try:
            tool.reopen(
                record_id, step, before.piece(step.piece), lambda other: run_with(session, other, record_id).outcome
            )
        except PatternError as error:
            self.hint_changed.emit(error.sentence)
        self.refresh()
        if tool.is_busy:
            self.taken_in_hand.emit((step.piece,))
        return tool.is_busy

    # -- what the session says

    def _show_pattern(self) -> None:
        self.cancel()
        self._show_sheets()

    def _show_sheets(self) -> None:
        session = self._session
        fresh = self.sheets.show(self._ground or session.pattern or Pattern(()), session.base or Pattern(()))
        self._show_selection()
        if fresh:
            self.laid_out.emit()

    def _show_selection(self) -> None:
        session = self._session
        base = session.base if self._ground is None else None
        cuts = self._chalk.cuts(base, session.records) if base is not None else ()
        proposed = proposed_ids(session.project, session.base) if session.project and session.base else frozenset()
        self.sheets.pick(session.selection, cuts, session.unit, proposed=proposed)
        self.sheets.show_before(self._pieces_before())
        self.refresh()
        self.changed.emit()

    def _pieces_before(self) -> tuple[Piece, ...]:
        """Altered pieces as the selected record found them; without one, as the pattern came in."""
        session = self._session
        base, records, pattern = session.base, session.records, session.pattern
        if base is None or pattern is None:
            return ()
        index = self._index_of(session.selection.record)
        if index is None:
            now = {piece.name: piece for piece in pattern.pieces}
            return tuple(piece for piece in base.pieces if now.get(piece.name) is not piece)
        before, after = (replay(base, records[:end]).pattern for end in (index, index + 1))
        then = {piece.name: piece for piece in after.pieces}
        return tuple(piece for piece in before.pieces if then.get(piece.name) is not piece)

    def _index_of(self, record_id: str) -> int | None:
        return next((i for i, record in enumerate(self._session.records) if record.id == record_id), None)
