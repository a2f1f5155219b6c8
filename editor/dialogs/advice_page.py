"""What the figures ask for: each proposal with its sum, one click away from the journal and never done unasked."""

from __future__ import annotations

from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from editor.commands.registry import Desk
from editor.dialogs.spread_out import emptied, scrolled
from editor.dialogs.trouble_line import TroubleLine
from editor.document.wearing import case_of
from geometry.errors import PatternError
from geometry.fitting.advice import advise, unanswered
from geometry.fitting.ease import ease_row
from geometry.fitting.proposals import Proposal


class AdvicePage(QWidget):
    """A card for each proposal, lengths first and from the top down."""

    title = "Advice"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._session = desk, desk.session
        self.words, self.missing = QLabel(), QLabel()
        self.trouble = TroubleLine()
        self.words.setObjectName("faint")
        self.missing.setObjectName("faint")
        for label in (self.words, self.missing):
            label.setWordWrap(True)
        self._cards = QVBoxLayout()
        scroll = scrolled(self._cards)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (self.words, self.trouble, scroll, self.missing):
            layout.addWidget(widget, 1 if widget is scroll else 0)
        self.buttons: list[QPushButton] = []

    def refresh(self) -> None:
        """Work the advice out on the pattern as it is altered now."""
        project, wearer, pattern = self._session.project, self._session.wearer, self._session.pattern
        if project is None or wearer is None or pattern is None:
            return
        case = case_of(project, wearer, pattern)
        found = advise(case)
        emptied(self._cards)
        self.buttons = []
        for number, proposal in enumerate(found, start=1):
            self._cards.addWidget(self._card(number, proposal))
        self._cards.addStretch(1)
        self.words.setText(
            "Worked out on the pattern as it is altered now, lengths first. Follow one, then look again: each changes "
            "what is left to do. Nothing is done until you click."
            if found
            else "The figures ask for nothing more: what was measured fits the pattern as it is altered now."
        )
        open_ = ", ".join(measure.value for measure in unanswered(case))
        self.missing.setText(f"Would say more if these were measured: {open_}." if open_ else "")

    def _card(self, number: int, proposal: Proposal) -> QWidget:
        unit = self._session.unit
        card = QFrame()
        card.setObjectName("step")
        way = "more" if proposal.difference_mm > 0 else "less"
        name = QLabel(f"{number}. {proposal.title}, {self._session.words(abs(proposal.amount_mm))} {way}")
        name.setObjectName("key")
        total = QLabel(proposal.words(unit))
        total.setWordWrap(True)
        note = QLabel(proposal.note)
        note.setObjectName("faint")
        note.setWordWrap(True)
        note.setVisible(bool(proposal.note))
        source = QLabel(self._source(proposal))
        source.setObjectName("faint")
        source.setWordWrap(True)
        source.setVisible(bool(source.text()))
        follow, look = QPushButton("Into the &journal"), QPushButton("Open on the &table")
        follow.setToolTip("Add it as a step whose amount can be changed at any time")
        follow.setAccessibleName(f"{proposal.title} into the journal")
        follow.clicked.connect(lambda: self._follow(proposal))
        look.setToolTip("Lay it out on the table beside its page of the handbook, with this amount to start from")
        look.setAccessibleName(f"{proposal.title} on the table")
        look.clicked.connect(lambda: self._desk.show_handbook(step=proposal.step(), note=proposal.words(unit)))
        self.buttons.append(follow)
        words = QVBoxLayout()
        words.setSpacing(3)
        for label in (name, total, note, source):
            words.addWidget(label)
        row = QHBoxLayout(card)
        row.setContentsMargins(12, 9, 12, 10)
        row.addLayout(words, 1)
        for button in (look, follow):
            button.setAutoDefault(False)
            button.setObjectName("small")
            row.addWidget(button)
        return card

    def _source(self, proposal: Proposal) -> str:
        """Where usual ease in the sum comes from."""
        is_usual = any(term.words == "wearing ease" for term in proposal.terms)
        return f"Wearing ease after {ease_row(proposal.measure).source}." if is_usual else ""

    def _follow(self, proposal: Proposal) -> None:
        try:
            self._session.add_step(proposal.step(), note=proposal.words(self._session.unit))
            self.trouble.say("")
        except PatternError as error:
            self.trouble.say(error.sentence)
