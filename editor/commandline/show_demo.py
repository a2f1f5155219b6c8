"""``dartwise demo``: the whole job on a dress of our own, for two singers of a choir."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Final

import samples
from editor.commandline.options import add_json
from editor.commandline.print_sheets import sheets_of
from editor.commandline.report import change_lines, finding_lines, finding_shape, say, say_json, status
from editor.commandline.source import Source, Work, read_records
from editor.commandline.window import open_window
from editor.document.project import Base, Project, Wearer
from editor.document.project_file import save_project
from editor.formats.import_pattern import import_pattern
from editor.printing.job import PrintJob
from editor.printing.pdf import write_pdf
from editor.qt_libraries import has_display
from editor.text import CAUTIONS, counted, step_sentence
from geometry.allowance import SEAM_MM
from geometry.errors import PatternError
from geometry.findings import Finding
from geometry.units import Unit
from samples import singers
from samples.choir import STYLE, choir_project

SAMPLES: Final = Path(samples.__file__).parent
TRACE: Final = SAMPLES / "dress-trace.dxf"
SINGERS: Final = (("Maren", "maren.json"), ("Odile", "odile.json"))
"""Each singer with the journal of her first toile; the last one's round is printed."""

SHOWN_IN: Final = Unit.CM

FOLDER: Final = Path("dartwise-demo")
PROJECT: Final = FOLDER / "choir-dress.dartwise"


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("--no-window", action="store_true", help="do not open the editor at the end")
    add_json(parser)


def run(options: argparse.Namespace) -> int:
    """Import, alter, check, print, save, and open the editor on it where that can be done."""
    imported = import_pattern(TRACE, unit=Unit.INCH, add_mm=SEAM_MM)
    nest = replace(imported.nest, name=STYLE)  # a trace has no name of its own
    base = Base(imported.source_name, imported.source_bytes, imported.unit, nest)
    project = Project(base, tuple(_singer(base, *each) for each in enumerate(SINGERS, start=1)))
    odile = project.wearers[-1]
    toile = odile.rounds[0]
    source = Source(TRACE, SHOWN_IN, base.nest, imported.findings, odile, toile)
    work = Work(source, project.start(odile.id), toile.records, project.replayed(odile.id, toile.id))
    findings = work.checked()
    pdf = FOLDER / f"{odile.name.lower()}-{toile.name.replace(' ', '-')}-a4.pdf"
    FOLDER.mkdir(exist_ok=True)
    sheets = sheets_of(work, PrintJob())
    write_pdf(sheets, pdf)
    save_project(choir_project(), PROJECT)  # in all its sizes; the trace has the sample size only
    if options.json:
        say_json({"out": [str(pdf), str(PROJECT)], "findings": [finding_shape(finding) for finding in findings]})
    else:
        say(_story(work, findings, f"{pdf}, {counted(len(sheets.pages), 'page', 'pages')}"))
    if not options.no_window and has_display():
        _open()
    return status(findings)


def _singer(base: Base, number: int, singer: tuple[str, str]) -> Wearer:
    name, journal = singer
    rounds = singers.rounds(name, read_records(SAMPLES / journal))
    return Wearer(str(number), name, base.nest.sample_size, rounds, singers.measurements(name))


def _story(work: Work, findings: tuple[Finding, ...], printed: str) -> Iterator[str]:
    source = work.source
    pieces = counted(len(source.nest.sample.pieces), "piece", "pieces")
    yield f"A choir's dress as a digitiser left it, in inches: {pieces}."
    yield from (f"  {line}" for line in finding_lines(source.findings))
    yield ""
    yield f"Altered for {source.wearer_name}, {source.round_name}:"
    yield from _step_lines(work)
    yield ""
    yield "Before cutting:"
    yield from (f"  {line}" for line in finding_lines(findings[len(source.findings) :]))
    yield ""
    yield f"Wrote {printed}."
    yield (
        f"Wrote {PROJECT}, with both singers: it holds the same dress as drawn, in all its sizes, since the trace "
        "above has only one."
    )
    yield ""
    yield from CAUTIONS


def _step_lines(work: Work) -> Iterator[str]:
    for record, outcome in zip(work.records, work.replay.outcomes, strict=True):
        yield f"  {record.id}. {step_sentence(record.step, SHOWN_IN)}"
        if record.note:
            yield f"     {record.note}"
        yield from (f"     {line}" for line in change_lines(outcome.changes, SHOWN_IN))


def _open() -> None:
    """The job is done without a window; where there is none, that is said and nothing more."""
    try:
        open_window(PROJECT)
    except PatternError as error:
        say([f"The editor was not opened. {error.sentence}"])
