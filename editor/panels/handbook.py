"""The handbook beside the table: find an alteration, see what it would do, do it."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QStackedWidget, QVBoxLayout

from editor.canvas.bench import Bench
from editor.document.wearing import case_of
from editor.handbook import landmark_names
from editor.panels.handbook_list import HandbookList
from editor.panels.handbook_sheet import HandbookSheet
from editor.refining import found_by, put_before, put_in_place, run_with
from editor.session import Session
from editor.text import in_unit
from editor.theme import Look
from editor.tools.draft import Draft, landmarks_for, pull_of
from editor.tools.handbook import HandbookTool
from geometry.alterations.handbook.alteration import Alteration, alteration
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.landmarks import Landmark
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.errors import PatternError
from geometry.fitting.advice import advise
from geometry.fitting.proposals import Proposal
from geometry.model.pattern import Pattern


class HandbookForm(QFrame):
    """Holds the alteration that is laid out; the table shows it and drags it, this form types it.

    Signals:
        closed: it was done or given up.
    """

    closed = Signal()

    def __init__(
        self,
        session: Session,
        bench: Bench,
        look: Look,
        code: str = "",
        *,
        step: Alteration | None = None,
        note: str = "",
        record: str = "",
    ) -> None:
        super().__init__()
        self._record = record
        self._session, self._bench = session, bench
        self._step: Alteration | None = None
        self._placing = ""
        self._proposal: Proposal | None = None
        self._landmarks: tuple[Pattern | None, str, tuple[Landmark, ...]] = (None, "", ())
        self._first, self._start, self._note = code, step, note
        tool = bench.tools.setdefault(HandbookTool.name, HandbookTool())
        assert isinstance(tool, HandbookTool)
        self._tool = tool
        self.setObjectName("form")
        self.setAccessibleName("Handbook of alterations")
        self.title = _title()
        self.back = QPushButton("All alterations")
        self.back.setObjectName("small")
        self.back.setToolTip("Back to the list, nothing done")
        self.finder, self.sheet = HandbookList(look), HandbookSheet(look)
        self.pages = QStackedWidget()
        self.pages.addWidget(self.finder)
        self.pages.addWidget(self.sheet)
        self.add = QPushButton("Add to the &journal")
        self.add.setDefault(True)
        self.add.setToolTip("Do this alteration on all its pieces and record it as one step (Enter)")
        self.cancel = QPushButton("&Cancel")
        self.cancel.setToolTip("Leave everything as it was (Escape)")
        self._lay_out()
        self._connect()
        self._renew()

    def begin(self) -> None:
        """Put the cursor where one begins."""
        recorded = self._recorded()
        if recorded is not None:
            self.choose(entry_of(recorded.entry), recorded)
        elif self._start is not None:
            self.choose(entry_of(self._start.entry), self._start)
        elif self._first:
            self.choose(entry_of(self._first))
        else:
            self._show_list()

    def leave(self) -> None:
        """Leave everything as it was."""
        self._disconnect()
        self._clear_table()
        self.closed.emit()

    def choose(self, entry: Entry, start: Alteration | None = None) -> None:
        """Lay out an entry by its usual amount, or as it is to start."""
        if start is None:
            self._note = ""
        self._show_title(entry)
        self.sheet.show_entry(entry, start.variant if start else "")
        self.pages.setCurrentWidget(self.sheet)
        self.back.setVisible(not self._record)
        self.add.show()
        self._tool.begin(self)
        self._bench.set_tool(HandbookTool.name)
        self._proposal = self._measured(entry)
        self.reshape(replace(start or alteration(entry), variant=self.sheet.variant))
        self.sheet.amount.setFocus(Qt.FocusReason.TabFocusReason)
        if self._tool.pieces:
            self._bench.taken_in_hand.emit(self._tool.pieces)

    # -- what the tool tells

    def reshape(self, step: Alteration) -> None:
        """Lay out this alteration: on the table, in the fields, with what is to be said before."""
        self._step = step
        before = found_by(self._session, self._record)
        if before is None:
            return
        run, trouble = None, ""
        try:
            run = run_with(self._session, step, self._record)
        except PatternError as error:
            trouble = error.sentence
        layout = step.laid_out(before)
        self._bench.lay(None if layout.ground is self._session.pattern else layout.ground)
        self._session.show_trial(run.shown_on(layout.ground) if run else None)
        if run is not None and run.after is before and step.amount_mm:
            trouble = "Nothing on these pieces would change; look at what it needs."
        pull = pull_of(layout.ground, run.after) if run else None
        landmarks = self._found(layout.ground)
        self.sheet.show_landmarks(landmark_names(entry_of(step.entry), landmarks))
        self._tool.show(Draft(step, replace(layout, trouble=trouble), pull, landmarks, self._placing))
        self.sheet.show_step(step, run.warned if run else layout.cautions, trouble, self._session.unit, pattern=before)
        self.sheet.show_measured(self._proposal, self._session.unit)
        self.sheet.show_notes(run.noted if run else (), self._session.unit)
        self.add.setEnabled(not trouble and step.amount_mm != 0.0 and not self._is_as_recorded(step))
        self._bench.refresh()

    def settle(self) -> None:
        """Do it and record it as one step, or change the step that was taken in hand."""
        self.sheet.take()
        if self._step is None or self.sheet.is_wrong:
            return
        if self._is_as_recorded(self._step):
            self.leave()
        elif self.add.isEnabled():
            step = self._step
            self._disconnect()
            self._clear_table()
            self._settle(step)

    def _settle(self, step: Alteration) -> None:
        try:
            if self._record:
                put_in_place(self._session, self._record, step)
            else:
                self._session.add_step(step, note=self._note)
        except PatternError as error:
            self._connect()
            self._bench.set_tool(HandbookTool.name)
            self.reshape(step)
            self.sheet.trouble.setText(in_unit(error.sentence, self._session.unit))
            self.sheet.trouble.show()
            return
        self.closed.emit()

    def give_up(self) -> None:
        """Leave everything as it was."""
        self.leave()

    def mark(self, step: PlaceLandmark | None) -> None:
        """Record a landmark, a step of its own; ``None`` places none after all."""
        self._placing = ""
        if step is not None:
            try:
                put_before(self._session, self._record, step)
            except PatternError as error:
                self._bench.hint_changed.emit(error.sentence)
        elif self._step is not None:
            self.reshape(self._step)

    # -- Qt's own events

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter does it, Escape leaves."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.settle()
        elif event.key() == Qt.Key.Key_Escape and self._placing:
            self.mark(None)
        elif event.key() == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    # -- inside

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.title, 1)
        head.addWidget(self.back, 0, Qt.AlignmentFlag.AlignTop)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.cancel)
        buttons.addWidget(self.add)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 10, 12, 12)
        layout.setSpacing(7)
        layout.addLayout(head)
        layout.addWidget(self.pages, 1)
        layout.addLayout(buttons)
        self.back.clicked.connect(self._go_back)
        self.add.clicked.connect(self.settle)
        self.cancel.clicked.connect(self.leave)
        self.finder.chosen.connect(self.choose)
        self.sheet.changed.connect(self._typed)
        self.sheet.measured_wanted.connect(self._take_measured)
        self.sheet.entry_wanted.connect(self._choose_other)
        self.sheet.landmark_wanted.connect(self._place)

    def _connect(self) -> None:
        self._session.project_changed.connect(self._renew)
        self._session.shown_changed.connect(self._other_round)
        self._session.unit_changed.connect(self._renew)
        self._bench.tool_changed.connect(self._other_tool)

    def _disconnect(self) -> None:
        self._session.project_changed.disconnect(self._renew)
        self._session.shown_changed.disconnect(self._other_round)
        self._session.unit_changed.disconnect(self._renew)
        self._bench.tool_changed.disconnect(self._other_tool)

    def _recorded(self) -> Alteration | None:
        """The recorded step that is in hand, as it is in the journal."""
        step = next((each.step for each in self._session.records if self._record and each.id == self._record), None)
        return step if isinstance(step, Alteration) else None

    def _is_as_recorded(self, step: Alteration) -> bool:
        recorded = self._recorded()
        return recorded is not None and step == replace(
            recorded, variant=entry_of(step.entry).variant(recorded.variant)
        )

    def _show_title(self, entry: Entry) -> None:
        ids = [each.id for each in self._session.records]
        number = f"Step {ids.index(self._record) + 1}: " if self._recorded() else ""
        self.title.setText(f"{number}{entry.name}")
        self.add.setText("Chan&ge the step" if number else "Add to the &journal")
        if number:
            self.add.setToolTip("Change this step where it stands; later steps run again (Enter)")

    def _other_round(self) -> None:
        """A step in hand belongs to the round that was shown."""
        if self._record:
            self.leave()

    def _renew(self) -> None:
        """The pattern is another one, by a step, by undo, or for another wearer."""
        if self._record and self._recorded() is None:
            self.leave()
            return
        self.finder.show_pattern(self._session.pattern or Pattern(()))
        if self._step is not None:
            self.reshape(self._step)

    def _typed(self) -> None:
        if self._step is not None:
            kept = self._step.places if self.sheet.variant == self._step.variant else ()
            amount_mm = self.sheet.amount.amount
            self.reshape(replace(self._step, amount_mm=amount_mm, variant=self.sheet.variant, places=kept))

    def _measured(self, entry: Entry) -> Proposal | None:
        """What the wearer's measurements ask for of this entry, on the pattern as the step finds it."""
        session, before = self._session, found_by(self._session, self._record)
        if session.project is None or session.wearer is None or before is None:
            return None
        found = advise(case_of(session.project, session.wearer, before))
        return next((each for each in found if each.entry == entry.code), None)

    def _choose_other(self, code: str) -> None:
        """Lay out another entry instead; a recorded step is left as it is."""
        self._record = ""
        self.choose(entry_of(code))

    def _take_measured(self) -> None:
        if self._step is not None and self._proposal is not None:
            variant = self._proposal.variant or self._step.variant
            self.sheet.show_variant(variant)
            self.reshape(replace(self._step, amount_mm=self._proposal.amount_mm, variant=variant))

    def _place(self, name: str) -> None:
        self._placing = name
        if self._step is not None:
            self.reshape(self._step)

    def _go_back(self) -> None:
        self._step, self._placing = None, ""
        self._clear_table()
        self._show_list()

    def _show_list(self) -> None:
        self.title.setText("Handbook")
        self.pages.setCurrentWidget(self.finder)
        self.back.hide()
        self.add.hide()
        self.finder.field.setFocus(Qt.FocusReason.TabFocusReason)

    def _clear_table(self) -> None:
        """Show the pattern as it is, with nothing laid out."""
        self._step = None
        self._session.show_trial(None)
        self._bench.lay(None)
        self._tool.show(None)
        if self._bench.tool is self._tool:
            self._bench.set_tool("select")

    def _other_tool(self, name: str) -> None:
        if name != HandbookTool.name and self._step is not None:
            self.leave()

    def _found(self, pattern: Pattern) -> tuple[Landmark, ...]:
        """Landmarks of the pieces in question; looked for once for each pattern and entry."""
        code = self._step.entry if self._step else ""
        if self._landmarks[0] is not pattern or self._landmarks[1] != code:
            self._landmarks = (pattern, code, landmarks_for(code, pattern))
        return self._landmarks[2]


def _title() -> QLabel:
    title = QLabel("Handbook")
    title.setObjectName("heading")
    title.setWordWrap(True)
    return title
