"""Print to PDF: what is printed on which paper, every page to be seen beforehand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QLocale, Qt, QTimer
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from editor.commands.registry import Desk
from editor.dialogs.page_view import PageList, PageView
from editor.dialogs.pdf_writing import PdfWriting
from editor.panels.length_field import LengthField
from editor.printing.choosing import Choice, Subject, pictures_of
from editor.printing.job import PrintJob, SheetPlan
from editor.printing.paper import PAPERS
from editor.printing.piece_label import Ticket, quantity_words
from editor.printing.planning import plan
from editor.session import Session
from editor.text import CAUTIONS, counted, findings_summary
from geometry.alterations.chalk import JournalChalk
from geometry.errors import PatternError
from geometry.findings import Level, worst
from geometry.model.pattern import Pattern

_PLAN_AFTER_MS = 60
_PDF_KINDS = "PDF files (*.pdf)"


class PrintPreview(QDialog):
    """Options at the left, the pages in the middle, one of them large at the right."""

    def __init__(self, desk: Desk, *, suggested: str) -> None:
        super().__init__()
        self._desk, self._session, self._suggested = desk, desk.session, suggested
        self._subject = subject_of(desk.session)
        self._writing: PdfWriting | None = None
        self.plan: SheetPlan | None = None
        self.setWindowTitle("Print to PDF")
        self.resize(1180, 760)
        self.paper = QComboBox()
        self.paper.setToolTip("The paper in the printer")
        self.margin = LengthField("Margin", help_text="What the printer cannot reach, on every side.")
        self.overlap = LengthField("Overlap", help_text="How far neighbouring sheets lie on each other.")
        self.pieces = QListWidget()
        self.pieces.setAccessibleName("Pieces to print")
        self.pieces.setToolTip("Which pieces are printed (Space ticks)")
        self.count = QLabel()
        self.count.setObjectName("heading")
        self.trouble = QLabel()
        self.trouble.setObjectName("trouble")
        self.trouble.setWordWrap(True)
        self.page = PageView(desk.look)
        self.pages = PageList(desk.look)
        self.progress = QProgressBar()
        self.progress.hide()
        self.write = QPushButton("&Write PDF…")
        self.write.setDefault(True)
        self.write.setToolTip("Choose a file and write the PDF at true scale")
        self.cancel = QPushButton("&Cancel")
        self.cancel.setToolTip("Close without printing; while writing: stop and leave no file (Escape)")
        self.cancel.setAutoDefault(False)
        self.write.setFocus()
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_PLAN_AFTER_MS)
        self._later.timeout.connect(self.lay_out_pages)
        self._fill()
        self._arrange()
        self._connect()
        self.lay_out_pages()

    @property
    def job(self) -> PrintJob:
        """What is asked for now."""
        return replace(
            PrintJob(),
            paper=PAPERS[str(self.paper.currentData())],
            margin_mm=self.margin.amount,
            overlap_mm=self.overlap.amount,
            title=job_title(self._session),
            details=job_details(self._session),
        )

    def lay_out_pages(self) -> None:
        """Plan the pages anew and show them."""
        self._later.stop()
        ticked = self._ticked()
        sentence = "" if ticked else "Tick at least one piece to print."
        self.plan = None
        if ticked:
            try:
                self.plan = plan(pictures_of(self._subject, self._choices()), self.job)
            except PatternError as error:
                sentence = error.sentence
        self.trouble.setText(sentence)
        self.trouble.setVisible(bool(sentence))
        self.count.setText(self._count_words())
        self.write.setEnabled(self.plan is not None)
        self.pages.show_plan(self.plan)
        self._show_page(self.pages.currentRow())

    def write_to(self, path: Path) -> None:
        """Write the PDF beside the window, showing how far it is."""
        if self.plan is None or self._writing is not None:
            return
        self._remember()
        self._writing = PdfWriting(self.plan, path, self)
        self._writing.progressed.connect(self._show_progress)
        self._writing.written.connect(lambda: self._desk.inform(f"Wrote {path.name}. {CAUTIONS[0]}"))
        self._writing.failed.connect(self._say_failure)
        self._writing.finished.connect(self._end_writing)
        self._writing.written.connect(self._mark_done)
        self._done = False
        self.write.setEnabled(False)
        self.cancel.setText("&Stop")
        self.progress.show()
        self._writing.start()

    def reject(self) -> None:
        """Stop writing first, then close."""
        if self._writing is not None:
            self._writing.stop()
        else:
            super().reject()

    # -- inside

    def _fill(self) -> None:
        settings, unit = self._desk.settings, self._session.unit
        for key, paper in PAPERS.items():
            self.paper.addItem(paper.name, key)
        metric = QLocale().measurementSystem() is QLocale.MeasurementSystem.MetricSystem
        row = self.paper.findData(settings.value("print/paper", "a4" if metric else "letter"))
        self.paper.setCurrentIndex(max(row, 0))
        self.margin.show_length(_number(settings.value("print/margin_mm"), PrintJob().margin_mm), unit)
        self.overlap.show_length(_number(settings.value("print/overlap_mm"), PrintJob().overlap_mm), unit)
        for piece in self._subject.pattern.pieces:
            item = QListWidgetItem(piece.name, self.pieces)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Checked)
            item.setToolTip(quantity_words(piece))

    def _connect(self) -> None:
        self.paper.currentIndexChanged.connect(lambda _: self._later.start())
        self.pieces.itemChanged.connect(lambda _: self._later.start())
        for field in (self.margin, self.overlap):
            field.length_changed.connect(lambda amount, field=field: self._take(field, amount))
        self.pages.currentRowChanged.connect(self._show_page)
        self.write.clicked.connect(self._ask_file)
        self.cancel.clicked.connect(self.reject)

    def _arrange(self) -> None:
        rows = QFormLayout()
        rows.setVerticalSpacing(8)
        for words, field in (("&Paper", self.paper), ("&Margin", self.margin), ("&Overlap", self.overlap)):
            rows.addRow(words, field)
            if isinstance(field, LengthField):
                rows.addRow(field.complaint)
        left = QVBoxLayout()
        left.setSpacing(10)
        left.addLayout(rows)
        left.addWidget(_named("P&ieces", self.pieces))
        left.addWidget(self.pieces, 1)
        left.addWidget(self.count)
        left.addWidget(self.trouble)
        for words in (*_warning(self._session), CAUTIONS[0]):
            left.addWidget(_caution(words))
        left.addWidget(self.progress)
        buttons = QHBoxLayout()
        buttons.addStretch(1)
        buttons.addWidget(self.cancel)
        buttons.addWidget(self.write)
        left.addLayout(buttons)
        options = QWidget()
        options.setLayout(left)
        options.setFixedWidth(300)
        self.pages.setFixedWidth(258)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(12, 12, 12, 12)
        whole.setSpacing(12)
        whole.addWidget(options)
        whole.addWidget(self.pages)
        whole.addWidget(self.page, 1)

    def _take(self, field: LengthField, amount: float) -> None:
        before = field.amount
        field.accept_amount(amount)
        try:
            self.job.formats  # noqa: B018 - refuses what leaves no room
        except PatternError as error:
            field.accept_amount(before)
            field.complain(error.sentence)
            return
        self._later.start()

    def _choices(self) -> dict[str, Choice]:
        rows = [self.pieces.item(row) for row in range(self.pieces.count())]
        return {item.text(): Choice(int(item.checkState() is Qt.CheckState.Checked)) for item in rows}

    def _ticked(self) -> bool:
        return any(self.pieces.item(row).checkState() is Qt.CheckState.Checked for row in range(self.pieces.count()))

    def _count_words(self) -> str:
        if self.plan is None:
            return "No pages"
        return f"{counted(len(self.plan.pages), 'page', 'pages')} {self.plan.page.paper.name}"

    def _show_page(self, row: int) -> None:
        page = self.plan.pages[row] if self.plan is not None and 0 <= row < len(self.plan.pages) else None
        self.page.show_page(self.plan, page)

    def _ask_file(self) -> None:
        for field in (self.margin, self.overlap):
            field.take()
            if field.complaint.text():
                return
        if self._later.isActive():
            self.lay_out_pages()
        self._desk.choose_file("Write PDF", _PDF_KINDS, self.write_to, save_as=".pdf", suggested=self._suggested)

    def _remember(self) -> None:
        settings = self._desk.settings
        settings.setValue("print/paper", self.paper.currentData())
        settings.setValue("print/margin_mm", self.margin.amount)
        settings.setValue("print/overlap_mm", self.overlap.amount)

    def _show_progress(self, done: int, count: int) -> None:
        self.progress.setRange(0, count)
        self.progress.setValue(done)

    def _say_failure(self, sentence: str) -> None:
        self.trouble.setText(sentence or "Stopped; no file was written.")
        self.trouble.show()

    def _mark_done(self) -> None:
        self._done = True

    def _end_writing(self) -> None:
        self._writing = None
        self.progress.hide()
        self.cancel.setText("&Cancel")
        self.write.setEnabled(True)
        if self._done:
            self.accept()


def subject_of(session: Session) -> Subject:
    """The pattern shown with what is known of it."""
    wearer, shown = session.wearer, session.round
    ticket = Ticket(
        wearer.name if wearer else "", shown.name if shown else "", shown.date if shown else "", session.unit
    )
    cuts = JournalChalk().cuts(session.base, session.records) if session.base else ()
    return Subject(session.pattern or Pattern(()), ticket, cuts)


def job_title(session: Session) -> str:
    """What is printed above everything: the name of the pattern."""
    base = session.project.base if session.project else None
    return (base.nest.name or Path(base.source_name).stem) if base else ""


def job_details(session: Session) -> tuple[str, ...]:
    """Wearer, size, round and date, as far as they are known."""
    wearer, shown = session.wearer, session.round
    size = session.pattern.size if session.pattern else ""
    parts = (
        wearer.name if wearer else "",
        f"size {size}" if size else "",
        shown.name if shown else "",
        shown.date if shown else "",
    )
    return tuple(part for part in parts if part)


def _warning(session: Session) -> tuple[str, ...]:
    if worst(session.findings) is not Level.STOP:
        return ()
    return (f"Before cutting: {findings_summary(session.findings)}. Look at them before you print.",)


def _caution(words: str) -> QLabel:
    label = QLabel(words)
    label.setObjectName("caution")
    label.setWordWrap(True)
    return label


def _named(words: str, widget: QWidget) -> QLabel:
    label = QLabel(words)
    label.setBuddy(widget)
    return label


def _number(value: object, default: float) -> float:
    try:
        return float(str(value))
    except ValueError:
        return default
