"""The sheet to take to the cutting table."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QLocale

from editor.commands.registry import Desk
from editor.document.wearing import body_of_wearer
from editor.printing.paper import PAPERS, Paper
from editor.text import CAUTIONS
from geometry.fitting.body import Body
from geometry.fitting.garment_table import garment_table

if TYPE_CHECKING:
    from editor.printing.alteration_sheet import AlteredRound

_PDF_KINDS: Final = "PDF files (*.pdf)"


def ask_alteration_sheet(desk: Desk, suggested: str) -> None:
    """Ask for a file and write the sheet into it."""
    then = partial(write_alteration_sheet, desk)
    desk.choose_file("Write alteration sheet", _PDF_KINDS, then, save_as=".pdf", suggested=f"{suggested}-sheet")


def write_alteration_sheet(desk: Desk, path: Path) -> None:
    """Write the sheet of the round shown, beside the window."""
    from editor.dialogs.file_writing import FileWriting, Progress, show_progress
    from editor.printing.alteration_sheet import alteration_sheet
    from editor.printing.pdf import write_booklet

    altered, paper = altered_round(desk), _paper(desk)
    if altered is None:
        return

    def write(progress: Progress) -> bool:
        """The drawings are the first half of the work, the file is the second."""
        pages = alteration_sheet(altered, paper, progress=lambda done, count: progress(done, 2 * count))
        return write_booklet(
            pages, (paper.width_mm, paper.height_mm), path, title=altered.title,
            progress=lambda done, count: progress(count + done, 2 * count),
        )  # fmt: skip

    work = FileWriting(write, desk.table)
    show_progress(work, "Writing the alteration sheet", desk.table.window())
    said = " ".join((f"Wrote {path.name}.", *(finding.text for finding in altered.letter_findings), CAUTIONS[0]))
    work.written.connect(lambda: desk.inform(said))
    work.failed.connect(partial(_say_failure, desk))
    work.begin()


def _say_failure(desk: Desk, sentence: str) -> None:
    if sentence:
        desk.tell(sentence, title="The alteration sheet was not written")
    else:
        desk.inform("Stopped; no file was written.")


def altered_round(desk: Desk) -> AlteredRound | None:
    """What the sheet tells of, ``None`` while nothing is open."""
    from editor.dialogs.print_subject import job_details, job_title
    from editor.printing.alteration_sheet import AlteredRound

    session = desk.session
    if session.project is None or session.base is None or session.replay is None:
        return None
    body = body_of_wearer(session.wearer) if session.wearer else Body()
    rows = garment_table(body, session.base, session.replay.pattern, ease=session.project.ease)
    return AlteredRound(
        job_title(session),
        job_details(session),
        session.base,
        session.records,
        session.replay,
        session.unit,
        session.findings,
        rows,
        tuple(note.text for note in session.round.notes) if session.round else (),
    )


def _paper(desk: Desk) -> Paper:
    metric = QLocale().measurementSystem() is QLocale.MeasurementSystem.MetricSystem
    usual = "a4" if metric else "letter"
    kept = str(desk.settings.value("print/paper", usual))
    return PAPERS[kept if kept in ("a4", "letter") else usual]
