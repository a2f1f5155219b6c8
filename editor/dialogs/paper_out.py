"""Pages straight to a printer, at true scale: Qt hands over the paper, the plan says what is on it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QMarginsF, QObject, QRectF, QSizeF, QTimer, Signal
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from editor.dialogs.page_painter import paint_page
from editor.printing.job import Page, SheetPlan
from geometry.units import MM_PER_INCH


def printer_for(plan: SheetPlan) -> QPrinter:
    """A printer set to the paper of the plan: the whole sheet, no scaling, no margins of its own."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    set_paper(printer, plan)
    printer.setDocName(plan.job.title or "Pattern")
    printer.setCreator("Dartwise")
    printer.setFromTo(0, 0)
    return printer


def set_paper(printer: QPrinter, plan: SheetPlan) -> None:
    """Give a printer the paper of the plan, whatever was chosen for it: the plan was made for that."""
    paper = plan.page.paper
    size = QPageSize(
        QSizeF(paper.width_mm, paper.height_mm),
        QPageSize.Unit.Millimeter,
        paper.name,
        QPageSize.SizeMatchPolicy.FuzzyMatch,
    )
    way = QPageLayout.Orientation.Landscape if plan.page.landscape else QPageLayout.Orientation.Portrait
    printer.setFullPage(True)
    printer.setPageLayout(QPageLayout(size, way, QMarginsF(), QPageLayout.Unit.Millimeter))
    printer.setFullPage(True)


def chosen_pages(printer: QPrinter, plan: SheetPlan) -> tuple[Page, ...]:
    """The pages of the range that was asked for."""
    first, last = printer.fromPage(), printer.toPage()
    return tuple(page for page in plan.pages if not first or first <= page.number <= (last or first))


class PaperOut(QObject):
    """Prints a page whenever the window has nothing else to do.

    Signals:
        progressed: pages done, pages in all.
        finished: all are printed (``True``), or it was stopped or the printer refused.
    """

    progressed = Signal(int, int)
    finished = Signal(bool)

    def __init__(self, plan: SheetPlan, printer: QPrinter, parent: QObject) -> None:
        super().__init__(parent)
        set_paper(printer, plan)
        self._plan, self._printer = plan, printer
        self._pages: Sequence[Page] = chosen_pages(printer, plan)
        self._painter = QPainter()
        self._done = 0
        self._turn = QTimer(self)
        self._turn.timeout.connect(self._print_next)

    def start(self) -> None:
        """Begin."""
        if not self._pages or not self._painter.begin(self._printer):
            self.finished.emit(False)
            return
        self._turn.start(0)

    def stop(self) -> None:
        """Leave off; a printer that has begun is told to drop the job."""
        if self._turn.isActive():
            self._printer.abort()
            self._end(False)

    def _print_next(self) -> None:
        self.progressed.emit(self._done, len(self._pages))
        if self._done == len(self._pages):
            self._end(True)
            return
        if self._done and not self._printer.newPage():
            self._end(False)
            return
        width_mm, height_mm = self._plan.page.sent_mm
        dots_per_mm = self._printer.resolution() / MM_PER_INCH
        frame = QRectF(0.0, 0.0, width_mm * dots_per_mm, height_mm * dots_per_mm)
        paint_page(self._painter, self._plan, self._pages[self._done], frame)
        self._done += 1

    def _end(self, well: bool) -> None:
        self._turn.stop()
        self._painter.end()
        self.finished.emit(well)
