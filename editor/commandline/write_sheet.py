"""``dartwise sheet``: the alteration sheet to take to the cutting table."""

from __future__ import annotations

import argparse
from pathlib import Path

from editor.commandline.options import add_journal, add_json, add_source
from editor.commandline.report import finding_lines, finding_shape, say, say_json, status, written_line
from editor.commandline.source import Work, read_work
from editor.document.wearing import body_of_wearer
from editor.printing.alteration_sheet import AlteredRound, alteration_sheet
from editor.printing.paper import paper_named
from editor.printing.pdf import write_booklet
from editor.text import counted
from geometry.findings import Finding
from geometry.fitting.body import Body
from geometry.fitting.garment_table import garment_table


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    add_journal(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="F.pdf", help="the PDF to write")
    parser.add_argument("--paper", default="a4", metavar="a4|letter", help="the paper in the printer")
    add_json(parser)


def run(options: argparse.Namespace) -> int:
    """Write the sheet and say what is in it."""
    work = read_work(options)
    findings = work.checked()
    altered = altered_round(work, findings)
    findings += altered.letter_findings
    paper = paper_named(options.paper)
    pages = alteration_sheet(altered, paper)
    write_booklet(pages, (paper.width_mm, paper.height_mm), options.out, title=altered.title)
    if options.json:
        shapes = [finding_shape(finding) for finding in findings]
        say_json({"out": str(options.out), "pages": len(pages), "steps": len(work.records), "findings": shapes})
    else:
        steps = counted(len(work.records), "step", "steps")
        told = f"{steps} on {counted(len(pages), 'page', 'pages')}."
        say([*finding_lines(findings), written_line(options.out, ()), told])
    return status(findings)


def altered_round(work: Work, findings: tuple[Finding, ...]) -> AlteredRound:
    """What the sheet tells of a round; the garment is measured even where nobody is."""
    source = work.source
    size, date = work.pattern.size, source.round.date if source.round else ""
    details = (source.wearer_name, f"size {size}" if size else "", source.round_name, date)
    body = body_of_wearer(source.wearer) if source.wearer else Body()
    return AlteredRound(
        source.nest.name or source.path.stem,
        tuple(filter(None, details)),
        work.start,
        work.records,
        work.replay,
        source.unit,
        findings,
        garment_table(body, work.start, work.pattern),
        tuple(note.text for note in source.round.notes) if source.round else (),
    )
