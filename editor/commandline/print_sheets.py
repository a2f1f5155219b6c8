"""``dartwise print``: a PDF at true scale."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from editor.commandline.options import add_journal, add_json, add_source, length_mm
from editor.commandline.report import finding_lines, finding_shape, say, say_json, status, written_line
from editor.commandline.source import Work, read_work
from editor.printing.choosing import Choice, Subject, pictures_of
from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.job import Orientation, PrintJob, SheetPlan
from editor.printing.packing import GoOn
from editor.printing.paper import PAPERS, paper_named
from editor.printing.pdf import write_pdf
from editor.printing.piece_label import Ticket
from editor.printing.planning import plan
from editor.printing.rectangles import Turning
from editor.printing.svg import write_svg_pages
from editor.text import counted
from geometry.alterations.chalk import JournalChalk
from geometry.alterations.replay import replay
from geometry.errors import PatternError
from geometry.findings import Finding, Level

CAUTION: Final = "Print at 100 %, then measure the test square on page one before you cut any paper."

TURNINGS: Final = {
    "upright": Turning.KEEP_GRAIN,
    "half": Turning.HALF,
    "quarter": Turning.FREE,
    "45": Turning.EIGHTHS,
    "15": Turning.FINE,
}


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    add_journal(parser)
    out = parser.add_argument
    out("--out", type=Path, required=True, metavar="F.pdf", help="the PDF to write; F.svg writes a drawing per page")
    _add_paper(parser)
    _add_pieces(parser)
    out("--no-alteration-lines", action="store_true", help="leave out where the round cut the pieces")
    out("--sizes", nargs="+", default=[], metavar="NAME", help="further whole sizes to draw on the same pieces")
    out("--quick", action="store_true", help="take the first layout that will do, without looking for a better one")
    add_json(parser)


def _add_paper(parser: argparse.ArgumentParser) -> None:
    add = parser.add_argument_group("paper").add_argument
    add("--paper", default="a4", metavar="|".join(PAPERS), help='also its sides ("500 x 700") or a roll ("roll 914")')
    add("--lie", type=Orientation, choices=list(Orientation), default=Orientation.AUTO, help="how the sheets lie")
    add("--overlap", type=length_mm, default=0.0, metavar="MM", help="how far sheets lie on each other")
    add("--butt", action="store_true", help="trim every joining edge and put the sheets side by side")
    add("--margin", type=length_mm, default=10.0, metavar="MM", help="what the printer cannot reach")
    add(
        "--measured", nargs=2, type=length_mm, metavar=("A", "B"),
        help="printer correction: what sides A and B of the test square measure on a print without it",
    )  # fmt: skip


def _add_pieces(parser: argparse.ArgumentParser) -> None:
    add = parser.add_argument_group("pieces").add_argument
    add("--pieces", nargs="+", default=[], metavar="NAME", help="the pieces to print; else all")
    add("--leave-out", nargs="+", default=[], metavar="NAME", help="pieces not to print")
    add("--twice", nargs="+", default=[], metavar="NAME", help="pieces to print twice")
    add("--pairs", nargs="+", default=[], metavar="NAME", help="pieces to print with a mirrored one")
    add("--whole", nargs="+", default=[], metavar="NAME", help="pieces to print whole instead of on the fold")
    add("--together", nargs="+", action="append", default=[], metavar="NAME", help="pieces to keep on sheets of theirs")
    add("--turn", choices=list(TURNINGS), default="quarter", help="how pieces may be turned; upright keeps the grain")
    add("--gap", type=length_mm, default=5.0, metavar="MM", help="least distance between pieces")
    add(
        "--nudge", nargs=2, type=length_mm, default=[0.0, 0.0], metavar=("X", "Y"), help="push the pattern right and up"
    )


def run(options: argparse.Namespace) -> int:
    """Write the PDF and say what is in it."""
    work = read_work(options)
    misfits = work.misfits
    lines = not options.no_alteration_lines
    job = job_of(options)
    sheets = sheets_of(
        work, job, choices=_choices(options, work), sizes=options.sizes, alteration_lines=lines,
        go_on=None if options.quick else _always,
    )  # fmt: skip
    findings = (*work.checked(), *sheets.findings, *_whole_sizes(work, options.sizes))
    if not misfits:
        _write(sheets, options.out)
    if options.json:
        say_json(
            {
                "out": None if misfits else str(options.out),
                "pages": len(sheets.pages),
                "sheets": len(sheets.tiles),
                "least_sheets": sheets.least_sheets,
                "fill": round(sheets.fill, 3),
                "pieces": [piece.name for piece in sheets.pieces],
                "findings": [finding_shape(finding) for finding in findings],
            }
        )
    else:
        advice = [] if misfits else [f"{pages_words(sheets)} {CAUTION}"]
        say([*finding_lines(findings), written_line(options.out, misfits), *advice])
    return status(findings)


def job_of(options: argparse.Namespace) -> PrintJob:
    """What the options ask for."""
    return PrintJob(
        paper=paper_named(options.paper),
        margin_mm=options.margin,
        overlap_mm=options.overlap,
        butted=options.butt,
        correction=Correction(*options.measured) if options.measured else NO_CORRECTION,
        orientation=options.lie,
        turning=TURNINGS[options.turn],
        gap_mm=options.gap,
        nudge_mm=tuple(options.nudge),
    )


def sheets_of(
    work: Work,
    job: PrintJob,
    *,
    choices: dict[str, Choice] | None = None,
    sizes: Sequence[str] = (),
    alteration_lines: bool = True,
    go_on: GoOn | None = None,
) -> SheetPlan:
    """The plan of the sheets, each piece with its wearer, round and date."""
    source = work.source
    wearer, name, date = source.wearer_name, source.round_name, source.round.date if source.round else ""
    cuts = JournalChalk().cuts(work.start, work.records) if alteration_lines else ()
    others = tuple(replay(source.nest.pattern(size), work.records).pattern for size in sizes)
    ticket = Ticket(wearer, name, date, source.unit, blended=source.nest.is_blend(work.start))
    subject = Subject(work.pattern, ticket, cuts, others)
    size = f"size {work.pattern.size}" if work.pattern.size else ""
    details = tuple(filter(None, (wearer, size, name, date)))
    named = replace(job, title=source.nest.name or source.path.stem, details=details)
    return plan(pictures_of(subject, choices or {}), named, go_on=go_on)


def _whole_sizes(work: Work, sizes: Sequence[str]) -> Iterator[Finding]:
    """That further sizes are whole ones of the pattern where the wearer's own is a blend of several."""
    if sizes and work.source.nest.is_blend(work.start):
        one, have, are = ("size", "has", "is a whole size") if len(sizes) == 1 else ("sizes", "have", "are whole sizes")
        text = (
            f"The pattern is a blend of sizes ({work.start.size}) for {work.source.wearer_name}; the further {one} "
            f"{', '.join(sizes)} {are} of the drawing, altered in the same steps, and {have} none of that blend."
        )
        yield Finding("whole-sizes", Level.NOTE, text)


def pages_words(sheets: SheetPlan) -> str:
    """How much paper it takes, and how little it could."""
    pages, least = counted(len(sheets.pages), "page", "pages"), counted(sheets.least_sheets, "sheet", "sheets")
    return (
        f"{pages} on {sheets.page.paper.name}, {round(100 * sheets.fill)} % of the sheets filled; by their area alone"
        f" the pieces would fill {least}."
    )


def _choices(options: argparse.Namespace, work: Work) -> dict[str, Choice]:
    known = [piece.name for piece in work.pattern.pieces]
    chosen = {name: Choice() for name in options.pieces} or {name: Choice() for name in known}
    left_out = [name for name in known if name not in chosen] + options.leave_out
    choices = chosen | {name: Choice(copies=0) for name in left_out}
    for names, change in (
        (options.twice, {"copies": 2}),
        (options.pairs, {"pair": True}),
        (options.whole, {"whole": True}),
    ):
        for name in names:
            if choices.get(name) == Choice(copies=0):
                raise PatternError(f'The piece "{name}" is to be left out and printed; say one of the two.')
            choices[name] = replace(choices.get(name, Choice()), **change)
    for number, names in enumerate(options.together, start=1):
        choices |= {name: replace(choices.get(name, Choice()), group=str(number)) for name in names}
    return choices


def _write(sheets: SheetPlan, path: Path) -> None:
    if path.suffix.lower() == ".svg":
        write_svg_pages(sheets, path)
    else:
        write_pdf(sheets, path)


def _always(_: int) -> bool:
    return True
