"""What a verb has to say: JSON in the shapes that README.md promises, or words for people."""

from __future__ import annotations

import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from editor.cli import FINDINGS_STOP, FINE
from editor.text import LEVEL_WORDS, findings_summary, signed_length
from geometry.alterations.step import EdgeChange
from geometry.findings import Finding, Level, worst
from geometry.model.piece import Piece
from geometry.units import Unit, format_length

_WIDEST = 110
_UNCHANGED_MM = 0.05
"""Half of the last digit that is shown."""


def say(lines: Iterable[str]) -> None:
    """Write lines for people, folded to the width of the terminal; unfolded where no person reads them."""
    is_terminal = sys.stdout is not None and sys.stdout.isatty()
    width = min(shutil.get_terminal_size().columns, _WIDEST) if is_terminal else 0
    for line in lines:
        indent = " " * (len(line) - len(line.lstrip()) + 4)
        print(textwrap.fill(line, width, subsequent_indent=indent) if width > 40 else line)  # noqa: T201


def say_json(shape: object) -> None:
    """Write one JSON value."""
    print(json.dumps(shape, indent=2, allow_nan=False))  # noqa: T201


def status(findings: Sequence[Finding]) -> int:
    """The exit status that follows from the findings."""
    return FINDINGS_STOP if worst(tuple(findings)) is Level.STOP else FINE


def written_line(out: Path, misfits: Sequence[str]) -> str:
    """What became of the file that was to be written."""
    if not misfits:
        return f"Wrote {out}."
    which = "step " if len(misfits) == 1 else "steps "
    return f"Nothing was written, since {which}{', '.join(misfits)} could not be done."


def finding_shape(finding: Finding) -> dict[str, Any]:
    """A finding as JSON."""
    return {
        "code": finding.code,
        "level": finding.level.value,
        "piece": finding.piece,
        "where": None if finding.where is None else list(finding.where),
        "measured_mm": finding.measured_mm,
        "expected_mm": finding.expected_mm,
        "text": finding.text,
    }


def piece_shape(piece: Piece) -> dict[str, Any]:
    """A piece as JSON."""
    return {
        "name": piece.name,
        "size": piece.size,
        "quantity": piece.quantity,
        "area_mm2": piece.area_mm2,
        "bounds_mm": list(piece.bounds_mm),
        "edges": [{"id": edge.id, "length_mm": edge.length_mm} for edge in piece.edges],
        "darts": [
            {
                "id": dart.id,
                "intake_mm": piece.intake_mm(dart),
                "legs_mm": list(piece.legs_mm(dart)),
                "tip": list(dart.tip),
            }
            for dart in piece.darts
        ],
        "notches": [
            {
                "id": notch.id,
                "edge": notch.edge,
                "at_mm": notch.at_mm,
                "point": list(piece.notch_point(notch)),
                "kind": notch.kind.value,
                "partner": notch.partner,
            }
            for notch in piece.notches
        ],
        "grain": piece.grain and {"start": list(piece.grain.start), "end": list(piece.grain.end)},
    }


def change_shape(change: EdgeChange) -> dict[str, Any]:
    """The change of an edge's sewn length as JSON."""
    return {
        "piece": change.piece,
        "edge": change.edge,
        "before_mm": change.before_mm,
        "after_mm": change.after_mm,
    }


def finding_lines(findings: Sequence[Finding]) -> list[str]:
    """The findings for people, gravest first, else in their order."""
    ordered = sorted(findings, key=lambda finding: -list(Level).index(finding.level))
    return [*map(finding_line, ordered), f"{findings_summary(findings)}."]


def change_lines(changes: Sequence[EdgeChange], unit: Unit) -> list[str]:
    """The edges whose sewn length changed, for people."""
    return [
        f"{change.piece}, {change.edge}: {format_length(change.before_mm, unit)} is now"
        f" {format_length(change.after_mm, unit)} ({signed_length(change.change_mm, unit)})"
        for change in changes
        if abs(change.change_mm) > _UNCHANGED_MM
    ]


def finding_line(finding: Finding) -> str:
    """One finding for people."""
    piece = f"{finding.piece}: " if finding.piece and finding.piece not in finding.text else ""
    return f"{LEVEL_WORDS[finding.level]:<5} {piece}{finding.text}"
