"""``dartwise convert``: any drawing of a pattern as standard DXF, with grade rules, or as SVG."""

from __future__ import annotations

import argparse
from pathlib import Path

from editor.commandline.options import add_json, add_source
from editor.commandline.report import finding_lines, finding_shape, say, say_json, status, written_line
from editor.commandline.source import read_work
from editor.formats.dxf_writer import write_drawing
from editor.formats.grade_rules import write_rules
from editor.formats.grading_out import graded_drawing
from editor.formats.pattern_to_drawing import drawing_of
from editor.formats.svg_writer import write_svg
from geometry.errors import PatternError
from geometry.model.pattern import Nest, Pattern


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    parser.add_argument("out", type=Path, metavar="OUT.dxf", help="the drawing to write; OUT.svg for an SVG drawing")
    parser.add_argument(
        "--graded", action="store_true", help="write the sample size and a table of grade rules, OUT.rul, beside it"
    )
    add_json(parser)
    parser.epilog = f"A drawing is written in all its sizes unless --size names one. {parser.epilog or ''}"


def run(options: argparse.Namespace) -> int:
    """Read and write."""
    work = read_work(options)
    misfits = work.misfits
    is_whole_nest = work.source.wearer is None and not options.size
    source = work.source.nest if is_whole_nest else work.pattern
    if not misfits:
        _write(source, options.out, graded=options.graded)
    if options.json:
        names = [piece.name for piece in work.pattern.pieces]
        sizes = list(work.source.nest.sizes) if is_whole_nest else [work.pattern.size]
        shapes = [finding_shape(finding) for finding in work.findings]
        say_json({"out": None if misfits else str(options.out), "pieces": names, "sizes": sizes, "findings": shapes})
    else:
        say([*finding_lines(work.findings), written_line(options.out, misfits)])
    return status(work.findings)


def _write(source: Nest | Pattern, out: Path, *, graded: bool) -> None:
    if out.suffix.lower() == ".svg":
        write_svg(source, out)
    elif graded:
        if not isinstance(source, Nest) or len(source.sizes) < 2:
            raise PatternError("Grade rules need a drawing with two sizes or more; leave out --graded and --size.")
        drawing, table = graded_drawing(source)
        write_drawing(drawing, out, unit="mm")
        write_rules(table, out.with_suffix(".rul"))
    else:
        write_drawing(drawing_of(source), out, unit="mm")
