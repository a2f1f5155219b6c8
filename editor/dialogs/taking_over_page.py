"""Another wearer's journal as a start, amounts that came from measurements worked out for this body."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from editor.commands.registry import Desk
from editor.dialogs.rows import Rows, figure
from editor.document.project import Round, Wearer, next_id
from editor.document.rounds import with_round
from editor.document.wearing import case_of, start_for
from editor.text import COLUMN_UNITS, step_sentence
from geometry.fitting.advice import advise
from geometry.fitting.proposals import Proposal
from geometry.fitting.taking_over import TakenOver, taken_over

_COLUMNS = ("Step", "Was", "Amount", "Why")


class TakingOverPage(QWidget):
    """Choose a toile of somebody else, look at the amounts, begin a toile with them."""

    title = "Take over"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._session = desk.session
        self.source = QComboBox()
        self.source.setAccessibleName("Take over from")
        self.source.activated.connect(lambda _: self._show())
        self.words = QLabel(
            "Amounts that the first wearer's measurements led to are worked out anew from this wearer's; all others "
            "were found on the body and stay as they are, to be looked at."
        )
        self.words.setObjectName("faint")
        self.words.setWordWrap(True)
        self.table = Rows("Steps taken over", _COLUMNS, figures=(1, 2))
        self.begin = QPushButton("&Begin a toile with these steps")
        self.begin.setAutoDefault(False)
        self.begin.clicked.connect(self._begin)
        self._taken: tuple[TakenOver, ...] = ()
        row = QHBoxLayout()
        for widget in (QLabel("Take over from"), self.source):
            row.addWidget(widget)
        row.addStretch(1)
        row.addWidget(self.begin)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.words)
        layout.addLayout(row)
        layout.addWidget(self.table, 1)

    def refresh(self) -> None:
        """Offer the other wearers' toiles."""
        project, wearer = self._session.project, self._session.wearer
        others = [each for each in (project.wearers if project else ()) if each is not wearer]
        offered = [(f"{each.name}, {one.name}", (each.id, one.id)) for each in others for one in reversed(each.rounds)]
        if [self.source.itemText(row) for row in range(self.source.count())] != [row[0] for row in offered]:
            self.source.clear()
            for words, ids in offered:
                self.source.addItem(words, ids)
        self._show()

    def _advice(self, wearer: Wearer) -> tuple[Proposal, ...]:
        project = self._session.project
        assert project is not None
        return advise(case_of(project, wearer, start_for(project, wearer)))

    def _show(self) -> None:
        project, wearer, ids = self._session.project, self._session.wearer, self.source.currentData()
        self.begin.setEnabled(ids is not None)
        if project is None or wearer is None or ids is None:
            self._taken = ()
            self.table.fill([])
            return
        self.table.head((f"Step, {COLUMN_UNITS[self._session.unit]}", *_COLUMNS[1:]), figures=(1, 2))
        other = project.wearer(ids[0])
        self._taken = taken_over(other.round(ids[1]).records, self._advice(other), self._advice(wearer))
        self.table.fill([self._texts(each) for each in self._taken])

    def _texts(self, each: TakenOver) -> tuple[str, ...]:
        unit, step = self._session.unit, each.record.step
        why = "as found on the toile; look at it"
        if each.is_from_figures:
            why = "from the measurements" if each.record.on else "this body asks for nothing here: switched off"
        return step_sentence(step, unit), figure(each.was_mm, unit), figure(step.amount_mm, unit), why

    def _note(self, each: TakenOver) -> str:
        """The sum for this body in place of the one for the other."""
        if each.proposal is not None:
            return each.proposal.words(self._session.unit)
        return each.record.note if not each.is_from_figures else "The measurements ask for nothing here."

    def _begin(self) -> None:
        project, wearer = self._session.project, self._session.wearer
        if project is None or wearer is None:
            return
        new = next_id(each.id for each in wearer.rounds)
        records = tuple(replace(each.record, note=self._note(each)) for each in self._taken)
        begun = Round(new, f"toile {len(wearer.rounds) + 1}", date.today().isoformat(), records)
        self._session.state("Take over steps", with_round(project, wearer.id, begun))
        self._session.show(wearer.id, new)
