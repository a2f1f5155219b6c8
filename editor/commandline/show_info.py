"""``dartwise info``: what the pieces are."""

from __future__ import annotations

import argparse
import math
from collections.abc import Iterator

from editor.commandline.options import add_journal, add_json, add_source
from editor.commandline.report import finding_lines, finding_shape, piece_shape, say, say_json, status
from editor.commandline.source import Source, Work, read_work
from editor.text import counted
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import Unit, format_length

ALL = "all"
_ROUNDED_TO = {Unit.MM: "0.1 mm", Unit.CM: "0.1 mm", Unit.INCH: "1/16 in"}


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    add_journal(parser)
    add_json(parser)
    parser.epilog = (
        "A drawing in several sizes: the words show its sample size, --size all shows every size, and the JSON holds"
        f" every size unless --size names one. {parser.epilog or ''}"
    )


def run(options: argparse.Namespace) -> int:
    """Show the pieces."""
    asked, options.size = options.size, "" if options.size == ALL else options.size
    work = read_work(options)
    wants_all = asked == ALL or (options.json and not asked and not work.replay.outcomes)
    patterns = work.source.nest.patterns if wants_all and work.source.wearer is None else (work.pattern,)
    if options.json:
        pieces = [piece_shape(piece) for pattern in patterns for piece in pattern.pieces]
        say_json({"pieces": pieces, "findings": [finding_shape(finding) for finding in work.findings]})
    else:
        say([*_lines(work, patterns), *finding_lines(work.findings)])
    return status(work.findings)


def _lines(work: Work, patterns: tuple[Pattern, ...]) -> Iterator[str]:
    yield _title(work.source, work.pattern)
    for pattern in patterns:
        for piece in pattern.pieces:
            yield from _piece_lines(piece, work.source.unit)


def _title(source: Source, pattern: Pattern) -> str:
    title = f"{source.path.name}: {counted(len(pattern.pieces), 'piece', 'pieces')}"
    sizes = source.nest.sizes
    if source.wearer:
        title += f" for {', '.join(filter(None, (source.wearer_name, source.round_name)))}, size {pattern.size}"
    elif len(sizes) > 1:
        title += f" in {len(sizes)} sizes ({', '.join(sizes)})"
    return f"{title}; lengths to the nearest {_ROUNDED_TO[source.unit]}"


def _piece_lines(piece: Piece, unit: Unit) -> Iterator[str]:
    x0, y0, x1, y1 = piece.bounds_mm
    cut = f"cut {piece.quantity}{' on the fold' if piece.fold else ''}"
    cut += f" from {piece.material}" if piece.material else ""
    yield f"{piece.name}{f', size {piece.size}' if piece.size else ''}, {cut}"
    yield f"  {_words(x1 - x0, unit)} wide, {_words(y1 - y0, unit)} high, {piece.area_mm2 / 100:.0f} cm²"
    for edge in piece.edges:
        yield f"  edge {edge.id}: {_words(edge.length_mm, unit)}"
    for dart in piece.darts:
        legs = " and ".join(_words(leg, unit) for leg in piece.legs_mm(dart))
        yield f"  dart {dart.id} on {dart.edge}: intake {_words(piece.intake_mm(dart), unit)}, legs {legs}"
    for notch in piece.notches:
        yield f"  notch {notch.id} on {notch.edge} at {_words(notch.at_mm, unit)}"
    yield f"  {_grain_words(piece, unit)}"


def _grain_words(piece: Piece, unit: Unit) -> str:
    if piece.grain is None:
        return "no grain line"
    (x0, y0), (x1, y1) = piece.grain.start, piece.grain.end
    lean_deg = math.degrees(math.atan2(x1 - x0, y1 - y0))
    lean_deg -= 180 * round(lean_deg / 180)
    leaning = "upright" if abs(lean_deg) < 0.05 else f"{lean_deg:.1f}° from upright"
    return f"grain line {_words(math.hypot(x1 - x0, y1 - y0), unit)}, {leaning}"


def _words(length_mm: float, unit: Unit) -> str:
    return format_length(length_mm, unit).removeprefix("~")  # the title says how far lengths are rounded
