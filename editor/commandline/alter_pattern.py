"""``dartwise alter``: carry out a journal and write the pieces."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from editor.commandline.options import add_journal, add_json, add_source
from editor.commandline.report import (
    change_lines,
    change_shape,
    finding_lines,
    finding_shape,
    say,
    say_json,
    status,
    written_line,
)
from editor.commandline.source import Work, read_work
from editor.formats.dxf_writer import write_drawing
from editor.formats.pattern_to_drawing import drawing_of
from editor.text import counted


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    add_journal(parser)
    parser.add_argument("--out", type=Path, required=True, metavar="OUT.dxf", help="the drawing to write")
    add_json(parser)


def run(options: argparse.Namespace) -> int:
    """Alter, write, and say what changed."""
    work = read_work(options)
    findings = work.checked()
    misfits = work.misfits
    if not misfits:
        write_drawing(drawing_of(work.pattern), options.out, unit="mm")
    if options.json:
        shapes = [finding_shape(finding) for finding in findings]
        say_json({"out": None if misfits else str(options.out), "steps": _step_shapes(work), "findings": shapes})
    else:
        say([*_step_lines(work), *finding_lines(findings), written_line(options.out, misfits)])
    return status(findings)


def _step_shapes(work: Work) -> list[dict[str, Any]]:
    return [
        {"id": outcome.record_id, "changes": [change_shape(change) for change in outcome.changes]}
        for outcome in work.replay.outcomes
    ]


def _step_lines(work: Work) -> Iterator[str]:
    for outcome in work.replay.outcomes:
        lines = change_lines(outcome.changes, work.source.unit)
        yield f"Step {outcome.record_id} changed the length of {counted(len(lines), 'edge', 'edges')}."
        yield from (f"  {line}" for line in lines)
