"""What is open: the only holder of the project, of the wearer and round shown, of the selection and of undo.

Every change goes through here and makes a whole new project; panels, dialogs and the table listen to the signals and
read the properties. What is shown is always the replay of the round's records on the base pattern.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from PySide6.QtCore import QObject, QTimer, Signal

from editor.document.history import History, opened
from editor.document.project import Project, Round, Wearer, next_id
from editor.document.statements import as_said, start_as_said
from editor.selection import Selection
from geometry.alterations.replay import LEFT_OUT, Record, RecordOutcome, Replay, replay
from geometry.alterations.step import Outcome, Step
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.errors import PatternError, StepError
from geometry.findings import Finding
from geometry.model.pattern import Pattern
from geometry.units import Unit, format_length

MISFIT = "step-does-not-fit"
"""Code of the finding about a record that could not be carried out."""

_FINDINGS_AFTER_MS = 120
"""The checks run when nothing has changed for this long, so that a held key or a dragged amount stays smooth."""


class Session(QObject):
    """The open project and what is shown of it.

    Signals:
        project_opened: another project is open; the other signals follow.
        project_changed: the project, or the wearer or round shown, is another one.
        shown_changed: another wearer or round is shown (``project_changed`` follows).
        selection_changed: something else is picked out.
        findings_changed: the list of findings is up to date again.
        preview_changed: a step is being tried out, or no longer.
        unit_changed: lengths are shown in another unit.
        saved_changed: the file, or whether there is something to save, is another one.
    """

    project_opened = Signal()
    project_changed = Signal()
    shown_changed = Signal()
    selection_changed = Signal()
    findings_changed = Signal()
    preview_changed = Signal()
    unit_changed = Signal()
    saved_changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._history: History | None = None
        self._import_findings: tuple[Finding, ...] = ()
        self._shown = ("", "")
        self._selection = Selection()
        self._preview: Outcome | None = None
        self._unit = Unit.CM
        self._path: Path | None = None
        self._findings: tuple[Finding, ...] | None = None
        self._later = QTimer(self, singleShot=True, interval=_FINDINGS_AFTER_MS)
        self._later.timeout.connect(self.findings_changed)

    # -- what is open

    @property
    def project(self) -> Project | None:
        """The project, ``None`` before anything is open."""
        return None if self._history is None else self._history.project

    @property
    def path(self) -> Path | None:
        """The project's file, ``None`` if it was never saved."""
        return self._path

    @property
    def is_modified(self) -> bool:
        """Whether closing now would lose something."""
        return self._history is not None and not self._history.is_saved

    def open_project(
        self, project: Project, *, path: Path | None = None, findings: tuple[Finding, ...] = (), saved: bool = True
    ) -> None:
        """Show another project, its last wearer's last round first; earlier undo is forgotten."""
        self._history = opened(project, saved=saved)
        self._path = path
        self._import_findings = findings
        self._selection = Selection()
        self._preview = None
        self._shown = _last_shown(project.wearers)
        self.project_opened.emit()
        self.shown_changed.emit()
        self._changed()

    def mark_saved(self, path: Path) -> None:
        """The project as it is now is what the file holds."""
        if self._history is not None:
            self._history = self._history.marked_saved()
        self._path = path
        self.saved_changed.emit()

    # -- what is shown

    @property
    def wearer(self) -> Wearer | None:
        """The wearer shown."""
        wearers = self.project.wearers if self.project else ()
        return next((wearer for wearer in wearers if wearer.id == self._shown[0]), None)

    @property
    def round(self) -> Round | None:
        """The round (toile) shown."""
        rounds = self.wearer.rounds if self.wearer else ()
        return next((each for each in rounds if each.id == self._shown[1]), None)

    @property
    def records(self) -> tuple[Record, ...]:
        """The journal of the round shown."""
        return self.round.records if self.round else ()

    @property
    def base(self) -> Pattern | None:
        """The pattern as it came in and what was said about it, in the wearer's size, else in the sample size."""
        if self.project is None:
            return None
        if self.wearer is None:
            return as_said(self.project, self.project.base.nest.sample_size)
        return start_as_said(self.project, self.wearer)

    @property
    def replay(self) -> Replay | None:
        """The records carried out on the base; remembered inside ``replay``, so asking again costs nothing."""
        return None if self.base is None else replay(self.base, self.records)

    @property
    def pattern(self) -> Pattern | None:
        """The pattern as altered."""
        return self.replay.pattern if self.replay else None

    def outcome_of(self, record_id: str) -> RecordOutcome | None:
        """What a record of the round shown did."""
        outcomes = self.replay.outcomes if self.replay else ()
        return next((outcome for outcome in outcomes if outcome.record_id == record_id), None)

    def is_misfit(self, record_id: str) -> bool:
        """Whether a record does not fit (any more) and was left out."""
        outcome = self.outcome_of(record_id)
        return outcome is not None and any(finding.code == MISFIT for finding in outcome.findings)

    def show(self, wearer_id: str, round_id: str = "") -> None:
        """Show another wearer or round; without a round, the wearer's last one."""
        wearer = next((each for each in self.project.wearers if each.id == wearer_id), None) if self.project else None
        shown = (wearer_id, round_id) if round_id or wearer is None else _last_shown((wearer,))
        if wearer is None or shown == self._shown:
            return
        self._shown = shown
        self._selection = replace(self._selection, record="")
        self._preview = None
        self.shown_changed.emit()
        self.selection_changed.emit()
        self._changed()

    # -- what is picked out, what is tried out, how lengths are written

    @property
    def selection(self) -> Selection:
        """What is picked out."""
        return self._selection

    def select(
        self, *, piece: str = "", edge: str = "", record: str = "", dart: str = "", notch: str = "", seam: str = ""
    ) -> None:
        """Pick out a piece, something on it, a record of the journal or a seam (and with it nothing else)."""
        selection = Selection(piece, edge, record, dart, notch, seam)
        if selection != self._selection:
            self._selection = selection
            self.selection_changed.emit()

    @property
    def preview(self) -> Outcome | None:
        """What the step being tried out would do to the pattern shown, ``None`` if none is."""
        return self._preview

    def try_out(self, step: Step | None) -> None:
        """Show what a step would do without doing it; ``None`` ends it.

        Raises:
            PatternError: the step does not fit; nothing is shown then.
        """
        trial = None
        try:
            if step is not None and self.pattern is not None:
                trial = step.apply(self.pattern)
        finally:
            self.show_trial(trial)

    def show_trial(self, trial: Outcome | None) -> None:
        """Show what something that is not done yet would make of the pattern; ``None`` ends it."""
        if trial is not self._preview:
            self._preview = trial
            self.preview_changed.emit()

    @property
    def unit(self) -> Unit:
        """The unit that lengths are shown in."""
        return self._unit

    def set_unit(self, unit: Unit) -> None:
        """Show lengths in another unit."""
        if unit is not self._unit:
            self._unit = unit
            self.unit_changed.emit()

    def words(self, length_mm: float) -> str:
        """A length as it is shown."""
        return format_length(length_mm, self._unit)

    # -- findings

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say before cutting: import, replay and checks, worked out when first asked for."""
        if self._findings is None:
            self._findings = self._import_findings + self._found()
        return self._findings

    def _found(self) -> tuple[Finding, ...]:
        from geometry.checks.run import check_pattern

        if self.replay is None:
            return ()
        limits = self.project.limits if self.project else DEFAULT_LIMITS
        checked = check_pattern(self.replay.pattern, base=self.base, limits=limits)
        return self.replay.findings + checked

    # -- changes

    def add_step(self, step: Step, *, note: str = "") -> str:
        """Do a step at the end of the round shown; returns the id of its record.

        Raises:
            PatternError: the step does not fit; nothing is changed.
        """
        if self.round is None:
            raise PatternError("Open a pattern and add a wearer first.", code="nothing-open")
        record = Record(next_id(each.id for each in self.records), step, note=note)
        records = (*self.records, record)
        self._refuse_misfit(records, record.id)
        self._change_records("Add step", records)
        self.select(piece=step.piece_names[0] if step.piece_names else "", record=record.id)
        return record.id

    def set_amount(self, record_id: str, amount_mm: float) -> None:
        """Give a record another amount; the records after it run again.

        Raises:
            PatternError: the step cannot be done with this amount; nothing is changed.
        """
        records = tuple(
            replace(each, step=each.step.with_amount_mm(amount_mm)) if each.id == record_id else each
            for each in self.records
        )
        if not self.is_misfit(record_id):
            self._refuse_misfit(records, record_id)
        self._change_records("Change amount", records, joins=f"amount {record_id}")

    def set_on(self, record_id: str, on: bool) -> None:
        """Carry a record out, or keep it in the list without doing so."""
        label = "Turn step on" if on else "Turn step off"
        self._change_record(label, record_id, lambda record: replace(record, on=on))

    def set_note(self, record_id: str, note: str) -> None:
        """Write something beside a record."""
        self._change_record("Change note", record_id, lambda record: replace(record, note=note))

    def remove(self, record_id: str) -> None:
        """Take a record out of the list."""
        self._change_records("Remove step", tuple(each for each in self.records if each.id != record_id))
        if self._selection.record == record_id:
            self.select()

    def move(self, record_id: str, by: int) -> None:
        """Move a record up (negative) or down in the list; past an end it stays there."""
        records = list(self.records)
        here = next((index for index, each in enumerate(records) if each.id == record_id), None)
        if here is None:
            return
        there = min(max(here + by, 0), len(records) - 1)
        records.insert(there, records.pop(here))
        if there != here:
            self._change_records("Move step", tuple(records))

    def begin_round(self) -> None:
        """Begin the wearer's next round with a copy of the steps shown, and show it."""
        if self.project is None or self.wearer is None or self.round is None:
            return
        wearer = self.wearer
        new = next_id(each.id for each in wearer.rounds)
        begun = Round(new, f"toile {len(wearer.rounds) + 1}", date.today().isoformat(), self.records)
        self._commit("Begin toile", self.project.with_wearer(wearer.with_round(begun)))
        self.show(wearer.id, new)

    def add_wearer(self, name: str, size: str) -> None:
        """Add a wearer with an empty first round, and show it."""
        if self.project is None:
            return
        new = next_id(each.id for each in self.project.wearers)
        first = Round("1", "toile 1", date.today().isoformat())
        self._commit("Add wearer", self.project.with_wearer(Wearer(new, name, size, (first,))))
        self.show(new)

    def change_wearer(self, name: str, size: str) -> None:
        """Give the wearer shown another name or size; the steps run again on that size."""
        if self.project is not None and self.wearer is not None:
            sizes = self.wearer.sizes if size == self.wearer.size else None
            changed = replace(self.wearer, name=name, size=size, sizes=sizes)
            self._commit("Change wearer", self.project.with_wearer(changed))

    def state(self, label: str, project: Project, *, joins: str = "") -> None:
        """Take over what was said about the bought pattern; one change to undo."""
        self._commit(label, project, joins=joins)

    # -- undo

    @property
    def undo_label(self) -> str:
        """What undo would take back, "" if nothing."""
        return (self._history and self._history.undo_label) or ""

    @property
    def redo_label(self) -> str:
        """What redo would do again, "" if nothing."""
        return (self._history and self._history.redo_label) or ""

    def undo(self) -> None:
        """Take back the last change."""
        if self._history is not None and self.undo_label:
            self._history = self._history.undone()
            self._changed()

    def redo(self) -> None:
        """Do the change again that was taken back last."""
        if self._history is not None and self.redo_label:
            self._history = self._history.redone()
            self._changed()

    # -- inside

    def _refuse_misfit(self, records: tuple[Record, ...], record_id: str) -> None:
        for outcome in replay(self.base, records).outcomes if self.base else ():
            for finding in outcome.findings:
                if outcome.record_id == record_id and finding.code == MISFIT:
                    raise StepError(finding.text.removeprefix(LEFT_OUT).strip(), code=MISFIT)  # nothing is left out

    def _change_record(self, label: str, record_id: str, change: Callable[[Record], Record]) -> None:
        self._change_records(label, tuple(change(each) if each.id == record_id else each for each in self.records))

    def _change_records(self, label: str, records: tuple[Record, ...], *, joins: str = "") -> None:
        if self.project is None or self.wearer is None or self.round is None or records == self.records:
            return
        self._commit(label, self.project.with_records(self.wearer.id, self.round.id, records), joins=joins)

    def _commit(self, label: str, project: Project, *, joins: str = "") -> None:
        if self._history is not None:
            self._history = self._history.done(project, label, joins=joins)
            self._changed()

    def _changed(self) -> None:
        self._findings = None
        self._preview = None
        self._keep_shown_valid()
        self.project_changed.emit()
        self.saved_changed.emit()
        self._later.start()

    def _keep_shown_valid(self) -> None:
        """Undo may have taken away the wearer, the round or the record that was shown."""
        if self.project is not None and (self.wearer is None or self.round is None):
            shown = _last_shown((self.wearer,) if self.wearer else self.project.wearers)
            if shown != self._shown:
                self._shown = shown
                self.shown_changed.emit()
        if self._selection.record and all(each.id != self._selection.record for each in self.records):
            self.select()


def _last_shown(wearers: Sequence[Wearer]) -> tuple[str, str]:
    """The ids of the last wearer and of that wearer's last round, "" where there is none."""
    if not wearers:
        return ("", "")
    rounds = wearers[-1].rounds
    return (wearers[-1].id, rounds[-1].id if rounds else "")
