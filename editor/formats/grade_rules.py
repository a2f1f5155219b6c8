"""The grade rule table that goes beside a drawing of the sample size: a plain text file ending in .rul.

The grammar is that of ASTM D6673 as remembered (from memory; the standard itself was not at hand): a version line, a
header of keywords, then for each rule a line "RULE: DELTA n" and one pair of numbers per size, in the order of the
size list. Reading is forgiving: keywords in any case, blanks, commas or line breaks between numbers, a missing END.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from editor.atomic_file import write_whole
from editor.reading import read_limited
from geometry.affine import Point
from geometry.errors import PatternError
from geometry.units import Unit

VERSION_LINE: Final = "ASTM/D13Proposal 1 Version: D 6673-04"
_LARGEST_FILE: Final = 16_000_000
"""Bytes; a table of a hundred pieces in twenty sizes is well below a megabyte."""

_NUMBER: Final = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_RULE: Final = re.compile(r"RULE\s*:\s*DELTA\s*(\d+)\s*", re.IGNORECASE)
_FIELD: Final = re.compile(r"([A-Z][A-Z ]*?)\s*:\s*(.*)", re.IGNORECASE)
_UNITS: Final = {"METRIC": Unit.MM, "ENGLISH": Unit.INCH}


FARTHEST_STEP_MM = 10_000.0
"""No size is ten metres from another; a broken number easily is."""


@dataclass(frozen=True, slots=True)
class RuleTable:
    """How far each graded point moves from the sample size to every size.

    Attributes:
        sizes: Names of the sizes, in order.
        sample_size: The size that was drawn.
        rules: For each rule number one step (dx, dy) in mm per size, along x and y of the drawing.
        name: What the table is called.
    """

    sizes: tuple[str, ...]
    sample_size: str
    rules: Mapping[int, tuple[Point, ...]]
    name: str = ""


def write_rules(table: RuleTable, path: Path) -> None:
    """Write a table in millimetres; raises ``PatternError`` where that cannot be done."""
    write_whole(path, "\r\n".join(_lines(table)).encode("ascii", "replace"))


def _lines(table: RuleTable) -> Iterator[str]:
    yield VERSION_LINE
    yield "UNITS: METRIC"
    yield f"GRADE RULE TABLE: {table.name or 'TABLE'}"
    yield f"NUMBER OF SIZES: {len(table.sizes)}"
    yield f"SIZE LIST: {' '.join(table.sizes)}"
    yield f"SAMPLE SIZE: {table.sample_size}"
    yield ""
    for number, steps in sorted(table.rules.items()):
        yield f"RULE: DELTA {number}"
        yield from (f"{dx:.4f}, {dy:.4f}" for dx, dy in steps)
    yield ""
    yield "END"
    yield ""


def read_rules(path: Path) -> RuleTable:
    """The table in a file, in millimetres.

    Raises:
        PatternError: the file cannot be read, lacks its sizes or units, or a rule has not one pair of numbers per size.
    """
    try:
        text = read_limited(path, most_bytes=_LARGEST_FILE).decode("latin-1")
    except OSError as error:
        raise PatternError(f"{path.name} cannot be read: {(error.strerror or 'unknown reason').lower()}.") from error
    head, *bodies = _RULE.split(text)
    fields = _fields(head)
    unit = _UNITS.get(fields.get("UNITS", "").upper())
    if unit is None:
        raise PatternError(f'{path.name} does not say "UNITS: METRIC" or "UNITS: ENGLISH"; add the line and try again.')
    sizes = _sizes(fields, path.name)
    sample = fields.get("SAMPLE SIZE", "")
    if sample not in sizes:
        raise PatternError(
            f'{path.name} names "{sample}" as its sample size, which is not in its size list; mend that line.'
        )
    rules = {
        int(number): _steps(body, len(sizes), unit, f"rule {number} of {path.name}")
        for number, body in zip(bodies[::2], bodies[1::2], strict=True)
    }
    return RuleTable(sizes, sample, rules, fields.get("GRADE RULE TABLE", ""))


def _fields(head: str) -> dict[str, str]:
    found = (_FIELD.fullmatch(line.strip()) for line in head.splitlines())
    return {" ".join(match[1].upper().split()): match[2].strip() for match in found if match}


def _sizes(fields: dict[str, str], name: str) -> tuple[str, ...]:
    """The size list; names with blanks are told apart by double blanks or commas, as the number of sizes bids."""
    words, stated = fields.get("SIZE LIST", ""), fields.get("NUMBER OF SIZES", "")
    for pattern in (r"\s+", r"\s{2,}|\s*,\s*"):
        sizes = tuple(word for word in re.split(pattern, words) if word)
        if sizes and (not stated.isdigit() or len(sizes) == int(stated)):
            return sizes
    raise PatternError(f"{name} lists other sizes than it counts; mend its lines SIZE LIST and NUMBER OF SIZES.")


def _steps(body: str, count: int, unit: Unit, where: str) -> tuple[Point, ...]:
    numbers = [float(number) for number in _NUMBER.findall(body.split("END")[0])]
    if len(numbers) != 2 * count or not all(map(math.isfinite, numbers)):
        raise PatternError(f"The {where} has {len(numbers)} numbers for {count} sizes; it needs two for each.")
    if max(map(abs, numbers), default=0.0) * unit.mm > FARTHEST_STEP_MM:
        raise PatternError(f"The {where} moves a point farther than 10 m from size to size; mend its numbers.")
    return tuple((dx * unit.mm, dy * unit.mm) for dx, dy in zip(numbers[::2], numbers[1::2], strict=True))
