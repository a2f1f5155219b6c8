"""Print: what is printed on which paper, the joined sheet and every page to be seen beforehand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Final

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog

from editor.commands.registry import Desk
from editor.dialogs.file_writing import FileWriting, Progress
from editor.dialogs.paper_options import PaperOptions
from editor.dialogs.paper_out import PaperOut, printer_for
from editor.dialogs.piece_options import PieceOptions
from editor.dialogs.planning_work import MakePlan, PlanningWork
from editor.dialogs.print_subject import further_sizes, job_details, job_title, subject_of
from editor.dialogs.print_view import PrintView
from editor.printing.choosing import pictures_of
from editor.printing.job import PrintJob, SheetPlan
from editor.printing.packing import GoOn, Layout
from editor.printing.planning import plan, plan_arranged
from editor.session import Session
from editor.text import CAUTIONS, counted, findings_summary
from geometry.errors import PatternError
from geometry.findings import Level, worst

_PLAN_AFTER_MS: Final = 60
_PDF_KINDS: Final = "PDF files (*.pdf)"
_SVG_KINDS: Final = "SVG drawings, one per page (*.svg)"


class PrinterDialog(QPrintDialog):
    """The printer's own dialog, opened as every other one is; Qt hides that behind one with a slot."""

    def open(self) -> None:  # type: ignore[override]
        """Open it without blocking."""
        QDialog.open(self)


class PrintPreview(PrintView):
    """What the dialog does: plans, writes, prints."""

    def __init__(self, desk: Desk, *, suggested: str) -> None:
        pieces = desk.session.pattern.pieces if desk.session.pattern else ()
        super().__init__(
            desk.look,
            PaperOptions(desk.settings, desk.session.unit),
            PieceOptions(desk.settings, pieces, further_sizes(desk.session)),
            warnings=(*_warning(desk.session), CAUTIONS[0]),
        )
        self._desk, self._session, self._suggested = desk, desk.session, suggested
        self._working: FileWriting | PaperOut | None = None
        self._planning: PlanningWork | None = None
        self._arranged: Layout | None = None
        self.plan: SheetPlan | None = None
        self.is_settled = False
        self._later = QTimer(self)
        self._later.setSingleShot(True)
        self._later.setInterval(_PLAN_AFTER_MS)
        self._later.timeout.connect(self.lay_out_pages)
        self._connect()
        self.write.setFocus()
        self.lay_out_pages()

    @property
    def job(self) -> PrintJob:
        """What is asked for now; raises ``PatternError`` where that cannot be."""
        return replace(
            self.paper.job(),
            turning=self.pieces.turn(),
            title=job_title(self._session),
            details=job_details(self._session),
        )

    def lay_out_pages(self) -> None:
        """Plan the pages anew, beside the window."""
        self._later.stop()
        self._drop_planning()
        self.is_settled = False
        try:
            make = self._maker()
        except PatternError as error:
            self._say_no_plan(error.sentence)
            return
        work = PlanningWork(make, self, look_on=self.pieces.looks_on.isChecked() and self._arranged is None)
        work.planned.connect(self._show_plan)
        work.looked.connect(self._show_looking)
        work.failed.connect(self._say_no_plan)
        self._planning = work
        work.begin()

    def write_to(self, path: Path) -> None:
        """Write the PDF beside the window, showing how far it is."""
        from editor.printing.pdf import write_pdf

        self._write(lambda made, progress: write_pdf(made, path, progress=progress), path.name)

    def write_drawings_to(self, path: Path) -> None:
        """Write an SVG drawing for every page."""
        from editor.printing.svg import write_svg_pages

        self._write(lambda made, progress: write_svg_pages(made, path, progress=progress), f"{path.stem}-….svg")

    def print_on(self, printer: QPrinter) -> None:
        """Print the pages on a printer, showing how far it is."""
        if self.plan is None or self._working is not None:
            return
        self._remember()
        out = PaperOut(self.plan, printer, self)
        out.progressed.connect(self._show_progress)
        out.finished.connect(self._end_printing)
        self._begin(out)
        out.start()

    def reject(self) -> None:
        """Stop writing or printing first, then close."""
        if self._working is not None:
            self._working.stop()
        else:
            super().reject()

    def done(self, result: int) -> None:
        """Close; what is done beside the window ends with it."""
        self._drop_planning()
        if self._working is not None:
            self._working.stop()
        super().done(result)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Closing by its frame is cancelling."""
        self.reject()
        event.setAccepted(not self.isVisible())

    def _connect(self) -> None:
        self.paper.changed.connect(self._later.start)
        self.pieces.changed.connect(self._lay_anew)
        self.anew.clicked.connect(self._lay_anew)
        self.turn.clicked.connect(partial(self.sheet.turn, 90.0))
        self.sheet.arranged.connect(self._take_arranged)
        self.sheet.counted.connect(self._show_carried)
        self.sheet.picked.connect(lambda name: self.turn.setEnabled(bool(name)))
        self.pages.currentRowChanged.connect(self._show_page)
        self.notes.currentRowChanged.connect(self._show_noted)
        self.write.clicked.connect(partial(self._ask_file, _PDF_KINDS, ".pdf", self.write_to))
        self.drawings.clicked.connect(partial(self._ask_file, _SVG_KINDS, ".svg", self.write_drawings_to))
        self.print.clicked.connect(self._ask_printer)
        self.stop.clicked.connect(self._stop_looking)
        self.cancel.clicked.connect(self.reject)

    # -- planning

    def _maker(self) -> MakePlan:
        job, arranged = self.job, self._arranged
        if not self.pieces.is_any():
            raise PatternError("Tick at least one piece to print.")
        choices = self.pieces.choices()
        subject = subject_of(
            self._session,
            alteration_lines=self.pieces.alteration_lines.isChecked(),
            sizes=self.pieces.further_sizes(),
        )

        def make(go_on: GoOn | None) -> SheetPlan:
            pictures = pictures_of(subject, choices)
            if arranged is not None and len(arranged.motions) == len(pictures):
                return plan_arranged(pictures, arranged, job)
            return plan(pictures, job, go_on=go_on)

        return make

    def _stop_looking(self) -> None:
        """What is shown stays."""
        self._drop_planning()
        if self.plan is not None:
            self._show_plan(self.plan, True)

    def _drop_planning(self) -> None:
        if self._planning is not None:
            self._planning.drop()
            self._planning = None
        self.show_looking(False)

    def _show_plan(self, made: SheetPlan, is_last: bool) -> None:
        self.plan, self.is_settled = made, is_last
        self.trouble.hide()
        self.sheet.show_plan(made)
        self.pages.show_plan(made)
        self._show_page(self.pages.currentRow())
        self._show_counts(made)
        self._show_notes(made)
        self.allow_output(self._working is None)
        if is_last:
            self.show_looking(False)

    def _show_counts(self, made: SheetPlan) -> None:
        self.count.setText(f"{counted(len(made.pages), 'page', 'pages')} {made.page.paper.name}")
        least = counted(made.least_sheets, "sheet", "sheets")
        self.fill.setText(
            f"{round(100 * made.fill)} % of the sheets filled; by their area alone the pieces would fill {least}."
        )

    def _show_carried(self, sheets: int) -> None:
        """While a piece is in the hand no better layout takes it away."""
        self._drop_planning()
        self.is_settled = True
        if self.plan is not None:
            pages = sheets + len(self.plan.pages) - len(self.plan.tiles)
            self.count.setText(f"{counted(pages, 'page', 'pages')} {self.plan.page.paper.name}")

    def _show_notes(self, made: SheetPlan) -> None:
        self.notes.clear()
        for finding in made.findings:
            self.add_note(finding.text, finding.piece or "")
        for name in sorted(self.sheet.lying_on_another()):
            self.add_note(f"The {name} lies on another piece: move one of them.", name)
        self.notes.setVisible(self.notes.count() > 0)

    def _show_looking(self, sheets: int) -> None:
        if self._working is None and self.plan is not None:
            self.show_looking(True)
            self.fill.setText(f"Looking for fewer pages; the best so far needs {counted(sheets, 'sheet', 'sheets')}.")

    def _say_no_plan(self, sentence: str) -> None:
        self.plan, self.is_settled = None, True
        self.show_looking(False)
        self.trouble.setText(sentence)
        self.trouble.show()
        self.count.setText("No pages")
        self.fill.setText("")
        self.notes.hide()
        self.sheet.show_plan(None)
        self.pages.show_plan(None)
        self._show_page(-1)
        self.allow_output(False)

    def _take_arranged(self, layout: Layout) -> None:
        self._arranged = layout
        self.anew.setEnabled(True)
        self._later.start()

    def _lay_anew(self) -> None:
        self._arranged = None
        self.anew.setEnabled(False)
        self._later.start()

    def _show_noted(self, row: int) -> None:
        """The piece that a note is about."""
        if row >= 0:
            self.sheet.select(self.notes.item(row).data(Qt.ItemDataRole.UserRole))
            self.views.setCurrentIndex(0)

    def _show_page(self, row: int) -> None:
        page = self.plan.pages[row] if self.plan is not None and 0 <= row < len(self.plan.pages) else None
        self.page.show_page(self.plan, page)

    # -- writing and printing

    def _ask_file(self, kinds: str, ending: str, then: Callable[[Path], None]) -> None:
        if not self.paper.take():
            return
        if self._later.isActive():
            self.lay_out_pages()
        self._desk.choose_file("Write pages", kinds, then, save_as=ending, suggested=self._suggested)

    def _ask_printer(self) -> None:
        if self.plan is None or not self.paper.take():
            return
        printer = printer_for(self.plan)
        dialog = PrinterDialog(printer)
        dialog.setMinMax(1, len(self.plan.pages))
        dialog.setWindowTitle("Print at true scale")
        dialog.accepted.connect(partial(self.print_on, printer))
        self._desk.show_dialog(dialog)

    def _write(self, write: Callable[[SheetPlan, Progress], object], name: str) -> None:
        made = self.plan
        if made is None or self._working is not None:
            return
        self._remember()
        work = FileWriting(lambda progress: write(made, progress), self)
        work.progressed.connect(self._show_progress)
        work.written.connect(partial(self._end_well, f"Wrote {name}."))
        work.failed.connect(self._end_badly)
        self._begin(work)
        work.begin()

    def _begin(self, work: FileWriting | PaperOut) -> None:
        self._drop_planning()
        self._working = work
        self.trouble.hide()
        self.allow_output(False)
        self.cancel.setText("&Stop")
        self.progress.show()

    def _end_printing(self, well: bool) -> None:
        if well:
            self._end_well("Sent to the printer.")
        else:
            self._end_badly("Printing was stopped, or the printer does not answer; look at its queue.")

    def _end_well(self, said: str) -> None:
        self._end_work()
        self._desk.inform(f"{said} {CAUTIONS[0]}")
        self.accept()

    def _end_badly(self, sentence: str) -> None:
        self._end_work()
        self.trouble.setText(sentence or "Stopped; no file was written.")
        self.trouble.show()

    def _end_work(self) -> None:
        self._working = None
        self.progress.hide()
        self.cancel.setText("&Cancel")
        self.allow_output(self.plan is not None)

    def _show_progress(self, done: int, count: int) -> None:
        self.progress.setRange(0, count)
        self.progress.setValue(done)

    def _remember(self) -> None:
        self.paper.remember()
        self.pieces.remember()


def _warning(session: Session) -> tuple[str, ...]:
    if worst(session.findings) is not Level.STOP:
        return ()
    return (f"Before cutting: {findings_summary(session.findings)}. Look at them before you print.",)
