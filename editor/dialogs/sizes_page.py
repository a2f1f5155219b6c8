"""A size for every level: body, chart and the ease that each size leaves; the person decides by clicking."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDoubleSpinBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.nest_view import NestView
from editor.dialogs.rows import figure
from editor.dialogs.spread_out import emptied, scrolled
from editor.dialogs.trouble_line import TroubleLine
from editor.document.project import Project, Wearer
from editor.document.wearing import body_of_wearer, chart_of, sizes_of, with_sizes
from editor.text import COLUMN_UNITS, in_unit
from geometry.errors import PatternError
from geometry.fitting.blending import blend
from geometry.fitting.corner_pull import pulled
from geometry.fitting.levels import BodyLevel, EdgeTransition, SizeBlend, Transition
from geometry.fitting.size_choice import Bones, LevelChoice, propose_sizes


class SizesPage(QWidget):
    """One card for each level, and the nest with the blend on it."""

    title = "Sizes"

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, self._session = desk, desk.session
        self._cards = QVBoxLayout()
        scroll = scrolled(self._cards)
        self.nest = NestView(desk)
        self.nest.size_wanted.connect(self.choose)
        self.nest.corner_pulled.connect(self.pull)
        self.trouble = TroubleLine()
        self.fractions = QCheckBox("Propose &fractions of a size")
        self.fractions.toggled.connect(lambda _: self.refresh())
        self.bones = QComboBox()
        self.bones.setAccessibleName("Bones")
        self.bones.setToolTip("What decides where a measurement lies half-way between two sizes")
        for words, bones in (("not known", Bones.UNKNOWN), ("small", Bones.SMALL), ("large", Bones.LARGE)):
            self.bones.addItem(f"bones: {words}", bones)
        self.bones.activated.connect(lambda _: self._set_bones())
        self.found = QLabel()
        self.found.setObjectName("caution")
        self.found.setWordWrap(True)
        self.take_all = QPushButton("&Take what is proposed")
        self.take_all.setAutoDefault(False)
        self.take_all.clicked.connect(self._take_all)
        self.let_go = QPushButton("&Let corners go")
        self.let_go.setAutoDefault(False)
        self.let_go.setToolTip("Corners that were pulled follow their level again")
        self.let_go.clicked.connect(self._let_go)
        self.edge, self.way = QComboBox(), QComboBox()
        self.edge.setAccessibleName("Edge")
        self.way.setAccessibleName("How the edge goes over from size to size")
        for said, kind in (("as its shape suggests", None), ("straight", "straight"), ("smooth", "smooth")):
            self.way.addItem(said, kind)
        self.edge.activated.connect(lambda _: self._show_way())
        self.way.activated.connect(lambda _: self._set_way())
        self._arrange(scroll)

    def _arrange(self, scroll: QWidget) -> None:
        row = QHBoxLayout()
        said = QHBoxLayout()
        said.addWidget(self.fractions)
        said.addStretch(1)
        said.addWidget(self.bones)
        row.addStretch(1)
        row.addWidget(self.let_go)
        row.addWidget(self.take_all)
        left = QVBoxLayout()
        left.addWidget(scroll, 1)
        left.addWidget(self.found)
        left.addLayout(said)
        left.addLayout(row)
        right = QVBoxLayout()
        words = QLabel(
            "Below each size the ease it leaves. Click a corner of a size to take that size at its level; drag a "
            "corner of the blend to pull it alone."
        )
        words.setObjectName("faint")
        words.setWordWrap(True)
        right.addWidget(words)
        right.addWidget(self.nest, 1)
        for box in (self.edge, self.way):
            box.setMinimumContentsLength(17 if box is self.way else 12)
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        over = QHBoxLayout()
        for widget in (self.edge, QLabel("goes over"), self.way):
            over.addWidget(widget, 1 if widget is self.edge else 0)
        right.addLayout(over)
        right.addWidget(self.trouble)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(18)
        layout.addLayout(left, 4)
        layout.addLayout(right, 3)

    def refresh(self) -> None:
        """Show the sizes chosen and what is proposed."""
        project, wearer = self._session.project, self._session.wearer
        if project is None or wearer is None:
            return
        chosen = sizes_of(project, wearer)
        self._proposal = propose_sizes(
            body_of_wearer(wearer),
            chart_of(project),
            ease=project.ease,
            bones=wearer.bones,
            fractions=self.fractions.isChecked(),
            unit=self._session.unit,
        )
        emptied(self._cards)
        for choice in self._proposal.levels:
            self._cards.addWidget(self._card(choice, chosen))
        self._cards.addStretch(1)
        self.let_go.setEnabled(bool(chosen.corners))
        edges = [(piece.name, edge.id) for piece in project.base.nest.sample.pieces for edge in piece.edges]
        if [self.edge.itemData(row) for row in range(self.edge.count())] != edges:
            self.edge.clear()
            for each in edges:
                self.edge.addItem(f"{each[0]}: {each[1]}", each)
        self._show_way()
        self.bones.setCurrentIndex(self.bones.findData(wearer.bones))
        self._show_findings(project, wearer)
        self.nest.show_nest(project, wearer)

    def _show_findings(self, project: Project, wearer: Wearer) -> None:
        """What the blend has to say for itself."""
        found = blend(project.base.nest, wearer.sizes).findings if wearer.sizes else ()
        self.found.setText("\n".join(in_unit(finding.text, self._session.unit) for finding in found))
        self.found.setVisible(bool(found))

    def _set_bones(self) -> None:
        project, wearer = self._session.project, self._session.wearer
        if project is not None and wearer is not None:
            changed = replace(wearer, bones=Bones(self.bones.currentData()))
            self._session.state("Say how the bones are", project.with_wearer(changed))

    def choose(self, level: BodyLevel, position: float) -> None:
        """Take a size at one level."""
        project, wearer = self._session.project, self._session.wearer
        if project is not None and wearer is not None:
            self._take(sizes_of(project, wearer).with_level(level, position))

    def pull(self, piece: str, edge: str, position: float) -> None:
        """Pull one corner to another size than its level."""
        project, wearer = self._session.project, self._session.wearer
        if project is not None and wearer is not None:
            self._take(pulled(sizes_of(project, wearer), piece, edge, position))

    def _show_way(self) -> None:
        project, wearer, ref = self._session.project, self._session.wearer, self.edge.currentData()
        if project is None or wearer is None or ref is None:
            return
        said = sizes_of(project, wearer).transitions
        way = next((each.transition.value for each in said if (each.piece, each.edge) == tuple(ref)), None)
        self.way.setCurrentIndex(max(self.way.findData(way), 0))

    def _set_way(self) -> None:
        project, wearer, ref = self._session.project, self._session.wearer, self.edge.currentData()
        if project is None or wearer is None or ref is None:
            return
        sizes, way = sizes_of(project, wearer), self.way.currentData()
        kept = tuple(each for each in sizes.transitions if (each.piece, each.edge) != tuple(ref))
        own = (EdgeTransition(ref[0], ref[1], Transition(way)),) if way else ()
        self._take(replace(sizes, transitions=kept + own))

    def _let_go(self) -> None:
        project, wearer = self._session.project, self._session.wearer
        if project is not None and wearer is not None:
            self._take(replace(sizes_of(project, wearer), corners=()))

    def _take_all(self) -> None:
        self._take(self._proposal.blend)

    def _take(self, sizes: SizeBlend) -> None:
        project, wearer = self._session.project, self._session.wearer
        if project is None or wearer is None:
            return
        try:
            changed = with_sizes(project, wearer.id, sizes)
            changed.start(wearer.id)
        except PatternError as error:
            self.trouble.say(error.sentence)
            return
        self.trouble.say("")
        self._session.state("Choose sizes", changed)

    def _card(self, choice: LevelChoice, chosen: SizeBlend) -> QWidget:
        card = QFrame()
        card.setObjectName("step")
        grid = QGridLayout(card)
        grid.setContentsMargins(12, 8, 12, 10)
        grid.setHorizontalSpacing(4)
        grid.setVerticalSpacing(3)
        name = QLabel(choice.level.value[:1].upper() + choice.level.value[1:])
        name.setObjectName("key")
        body = f"{choice.measure.value} {self._session.words(choice.body_mm)}" if choice.body_mm is not None else ""
        told = QLabel(body)
        told.setObjectName("faint")
        last = len(choice.options)
        grid.addWidget(name, 0, 0, 1, 2)
        grid.addWidget(told, 0, 2, 1, max(last - 4, 1))
        grid.addWidget(self._place_field(choice, chosen), 0, max(last - 2, 0), 1, 2, Qt.AlignmentFlag.AlignRight)
        for column in range(last):
            button, ease = self._option(choice, column, is_chosen=chosen.at(choice.level) == column)
            grid.addWidget(button, 1, column)
            grid.addWidget(ease, 2, column)
        reasons = QLabel(" ".join(choice.reasons))
        reasons.setWordWrap(True)
        grid.addWidget(reasons, 3, 0, 1, last)
        return card

    def _place_field(self, choice: LevelChoice, chosen: SizeBlend) -> QWidget:
        """A field for fractions of a size."""
        own = _PlaceField(tuple(option.size for option in choice.options))
        own.setDecimals(2)
        own.setSingleStep(0.25)
        own.setRange(0, len(choice.options) - 1)
        own.setValue(chosen.at(choice.level))
        own.setToolTip("Up and down go a quarter of the way to the next size")
        own.setAccessibleName(f"Place between sizes, {choice.level.value}")
        own.setKeyboardTracking(False)
        own.valueChanged.connect(lambda value: self.choose(choice.level, value))
        return own

    def _option(self, choice: LevelChoice, column: int, *, is_chosen: bool) -> tuple[QPushButton, QLabel]:
        """One size to click, and the ease it leaves."""
        option, is_proposed = choice.options[column], abs(choice.position - column) < 0.5
        button = QPushButton(option.size)
        button.setObjectName("segment")
        button.setMinimumWidth(34)
        button.setCheckable(True)
        button.setAutoDefault(False)
        button.setChecked(is_chosen)
        button.setAccessibleName(f"Size {option.size} at the {choice.level.value}")
        button.setToolTip("proposed" if is_proposed else f"Take size {option.size} here")
        button.clicked.connect(lambda: self.choose(choice.level, float(column)))
        left = figure(option.ease_mm, self._session.unit)
        ease = QLabel(f"<b>{left}</b>" if is_proposed and left else left)
        ease.setObjectName("trouble" if option.ease_mm is not None and option.ease_mm < 0 else "faint")
        ease.setAlignment(Qt.AlignmentFlag.AlignHCenter)
        ease.setToolTip(f"Ease left at this size, {COLUMN_UNITS[self._session.unit]}; bold: proposed")
        ease.setVisible(bool(left))
        return button, ease


class _PlaceField(QDoubleSpinBox):
    """A place between sizes, told by their names."""

    def __init__(self, sizes: tuple[str, ...]) -> None:
        super().__init__()
        self._sizes = sizes
        self.setMinimumWidth(96)
        self.lineEdit().setReadOnly(True)

    def textFromValue(self, value: float) -> str:
        """The size, or how far it is on the way to the next."""
        low = min(int(value), len(self._sizes) - 1)
        part = round((value - low) * 100)
        return self._sizes[low] if not part else f"{self._sizes[low]} + {part} %"
