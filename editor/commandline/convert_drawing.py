"""``dartwise convert``: any drawing of a pattern as standard DXF."""

from __future__ import annotations

import argparse
from pathlib import Path

from editor.commandline.options import add_json, add_source
from editor.commandline.report import finding_lines, finding_shape, say, say_json, status, written_line
from editor.commandline.source import read_work
from editor.formats.dxf_writer import write_drawing
from editor.formats.pattern_to_drawing import drawing_of


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    parser.add_argument("out", type=Path, metavar="OUT.dxf", help="the drawing to write")
    add_json(parser)
    parser.epilog = f"A drawing is written in all its sizes unless --size names one. {parser.epilog or ''}"


def run(options: argparse.Namespace) -> int:
    """Read and write."""
    work = read_work(options)
    misfits = work.misfits
    is_whole_nest = work.source.wearer is None and not options.size
    source = work.source.nest if is_whole_nest else work.pattern
    if not misfits:
        write_drawing(drawing_of(source), options.out, unit="mm")
    if options.json:
        names = [piece.name for piece in work.pattern.pieces]
        sizes = list(work.source.nest.sizes) if is_whole_nest else [work.pattern.size]
        shapes = [finding_shape(finding) for finding in work.findings]
        say_json({"out": None if misfits else str(options.out), "pieces": names, "sizes": sizes, "findings": shapes})
    else:
        say([*finding_lines(work.findings), written_line(options.out, misfits)])
    return status(work.findings)
