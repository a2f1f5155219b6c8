"""``dartwise print``: a PDF at true scale."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from editor.commandline.options import add_journal, add_json, add_source, length_mm
from editor.commandline.report import finding_lines, finding_shape, say, say_json, status, written_line
from editor.commandline.source import Work, read_work
from editor.printing.compose import piece_picture
from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.job import PrintJob, SheetPlan, plan
from editor.printing.paper import PAPERS, paper_named
from editor.printing.pdf import write_pdf
from editor.printing.piece_label import Ticket
from geometry.alterations.chalk import JournalChalk

CAUTION = "Print at 100 %, then measure the test square on page one before you cut any paper."


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    add_journal(parser)
    parser.add_argument("--paper", default="a4", metavar="|".join(PAPERS), help="the paper in the printer")
    parser.add_argument("--out", type=Path, required=True, metavar="F.pdf", help="the PDF to write")
    parser.add_argument("--overlap", type=length_mm, default=0.0, metavar="MM", help="how far sheets lie on each other")
    parser.add_argument("--butt", action="store_true", help="trim every joining edge and put the sheets side by side")
    parser.add_argument("--margin", type=length_mm, default=10.0, metavar="MM", help="what the printer cannot reach")
    parser.add_argument(
        "--measured",
        nargs=2,
        type=length_mm,
        metavar=("A", "B"),
        help="printer correction: what sides A and B of the test square measure on a print without it",
    )
    parser.add_argument("--pieces", nargs="+", default=[], metavar="NAME", help="the pieces to print; else all")
    add_json(parser)


def run(options: argparse.Namespace) -> int:
    """Write the PDF and say what is in it."""
    work = read_work(options)
    misfits = work.misfits
    findings = work.checked()
    job = PrintJob(
        paper=paper_named(options.paper),
        margin_mm=options.margin,
        overlap_mm=options.overlap,
        butted=options.butt,
        correction=Correction(*options.measured) if options.measured else NO_CORRECTION,
        pieces=tuple(options.pieces),
    )
    sheets = sheets_of(work, job)
    if not misfits:
        write_pdf(sheets, options.out)
    if options.json:
        say_json(
            {
                "out": None if misfits else str(options.out),
                "pages": len(sheets.pages),
                "pieces": [piece.name for piece in sheets.pieces],
                "findings": [finding_shape(finding) for finding in findings],
            }
        )
    else:
        advice = [] if misfits else [f"{len(sheets.pages)} pages on {job.paper.name}. {CAUTION}"]
        say([*finding_lines(findings), written_line(options.out, misfits), *advice])
    return status(findings)


def sheets_of(work: Work, job: PrintJob) -> SheetPlan:
    """The plan of the sheets, each piece with its wearer, round and date."""
    source = work.source
    wearer, name, date = source.wearer_name, source.round_name, source.round.date if source.round else ""
    cuts = JournalChalk().cuts(work.start, work.records)
    ticket = Ticket(wearer, name, date, source.unit)
    pictures = [
        piece_picture(piece, ticket, chalk=[cut.points for cut in cuts if cut.piece == piece.name])
        for piece in work.pattern.pieces
    ]
    size = f"size {work.pattern.size}" if work.pattern.size else ""
    details = tuple(filter(None, (wearer, size, name, date)))
    return plan(pictures, replace(job, title=source.nest.name or source.path.stem, details=details))
