"""Size charts as text: pasted from a spreadsheet or read from a CSV file."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass

from geometry.errors import PatternError
from geometry.fitting.measures import Measure, measure_named
from geometry.fitting.size_chart import ChartLine, SizeChart
from geometry.units import Unit, parse_length_mm

_CUP = re.compile(r"\b(cup|drafted (bust )?difference|bust difference)\b")
_FINISHED = re.compile(r"\b(finished|garment)\b")
_UNIT = re.compile(r"[(\[]\s*(mm|cm|in|inch|inches)\s*[)\]]")
_SEPARATORS = ("\t", ";", ",")
_CORNERS = ("", "size", "sizes", "measurement", "measure")


@dataclass(frozen=True, slots=True)
class Place:
    """Where in a text something stands, both counted from 1."""

    line: int
    column: int

    def __str__(self) -> str:
        return f"Line {self.line}, column {self.column}"


@dataclass(frozen=True, slots=True)
class _Cell:
    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class _Name:
    """What a row of values is about."""

    measure: Measure | None
    is_finished: bool
    is_cup: bool
    unit: Unit


def read_size_chart(text: str, unit: Unit) -> SizeChart:
    """The chart that a text tells: sizes across and measurements down, or the other way round.

    Cells are parted by tabs, semicolons or commas, whichever comes first in that order. A measurement is named by any
    of its words; with "finished" it is the garment's; "cup" or "bust difference" is what the pattern was drafted for.
    Lengths may be decimal (point or comma) or fractions; a unit in brackets behind a name holds for its row, else
    ``unit``. Empty cells and "-" are left open.

    Raises:
        PatternError: the text is no chart; the sentence names line and column.
    """
    grid = _grid(text)
    if len(grid) < 2 or max(len(row) for row in grid) < 2:
        raise PatternError(
            "Line 1, column 1: no size chart; give one row with the sizes and one row for each measurement.",
            code="no-chart",
        )
    if _measures_in(grid[0][1:]) > _measures_in([row[0] for row in grid[1:] if row]):
        grid = _turned(grid)
    sizes = _sizes(grid[0])
    body: dict[Measure, ChartLine] = {}
    made: dict[Measure, ChartLine] = {}
    cup_mm: float | None = None
    for row in grid[1:]:
        name = _name(row[0], unit)
        values = _values(row, len(sizes), name.unit, is_difference=name.is_cup)
        if name.is_cup:
            cup_mm = next((value for value in values if value is not None), None)
        elif name.measure is not None:
            lines = made if name.is_finished else body
            if name.measure in lines:
                raise PatternError(
                    f'{row[0].place}: "{row[0].text}" stands there twice; keep one row.', code="chart-twice"
                )
            lines[name.measure] = ChartLine(name.measure, values)
    return SizeChart(sizes, tuple(body.values()), tuple(made.values()), cup_mm)


def _grid(text: str) -> list[list[_Cell]]:
    """The cells of all lines that are not empty."""
    separator = next((each for each in _SEPARATORS if each in text), ",")
    rows = []
    reader = csv.reader(text.lstrip("\ufeff").splitlines(keepends=True), delimiter=separator)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                places = (Place(reader.line_num, column) for column in range(1, len(cells) + 1))
                rows.append([_Cell(cell.strip(), place) for cell, place in zip(cells, places, strict=True)])
    except csv.Error as error:
        raise PatternError(
            f"Line {reader.line_num}, column 1: the line cannot be parted into cells; look for a lone quotation mark.",
            code="no-chart",
        ) from error
    return rows


def _turned(grid: list[list[_Cell]]) -> list[list[_Cell]]:
    """Rows made columns; a short row is filled with empty cells."""
    width = max(len(row) for row in grid)
    full = [
        row + [_Cell("", Place(row[0].place.line, column + 1)) for column in range(len(row), width)] for row in grid
    ]
    return [list(column) for column in zip(*full, strict=True)]


def _measures_in(cells: list[_Cell]) -> int:
    return sum(_meant(cell.text)[0] is not None for cell in cells)


def _sizes(header: list[_Cell]) -> tuple[str, ...]:
    cells = header[1:]
    while cells and not cells[-1].text:
        cells = cells[:-1]
    for index, cell in enumerate(cells):
        if not cell.text:
            raise PatternError(f"{cell.place}: a size has no name; type one.", code="chart-size")
        if cell.text in {other.text for other in cells[:index]}:
            raise PatternError(f'{cell.place}: the size "{cell.text}" stands there twice; keep one.', code="chart-size")
    if not cells or (header[0].text.lower() not in _CORNERS and _meant(header[0].text)[0] is not None):
        raise PatternError(
            f"{header[0].place}: the names of the sizes are missing; put them into the first row.", code="chart-size"
        )
    return tuple(cell.text for cell in cells)


def _meant(text: str) -> tuple[Measure | None, bool]:
    """The measurement a name means, and whether it is the garment's."""
    words = _UNIT.sub("", text.lower())
    is_finished = _FINISHED.search(words) is not None
    return measure_named(_FINISHED.sub("", words)), is_finished


def _name(cell: _Cell, unit: Unit) -> _Name:
    words = cell.text.lower()
    told = _UNIT.search(words)
    own = Unit("in" if told[1].startswith("in") else told[1]) if told else unit
    is_cup = _CUP.search(words) is not None
    measure, is_finished = _meant(words)
    if measure is None and not is_cup:
        known = ", ".join(f'"{each.value}"' for each in (Measure.HIGH_BUST, Measure.BUST, Measure.WAIST, Measure.HIP))
        raise PatternError(
            f'{cell.place}: "{cell.text}" is no known measurement; name it for example {known}, '
            'or "finished bust girth" for the garment.',
            code="chart-measure",
        )
    return _Name(measure, is_finished, is_cup, own)


def _values(row: list[_Cell], count: int, unit: Unit, *, is_difference: bool) -> tuple[float | None, ...]:
    values: list[float | None] = []
    for cell in row[1 : count + 1]:
        if cell.text in ("", "-", "–", "—"):
            values.append(None)
            continue
        try:
            mm = parse_length_mm(cell.text, default=unit)
        except PatternError as error:
            raise PatternError(f"{cell.place}: {error.sentence}", code="chart-length") from error
        if not is_difference and mm <= 0:
            raise PatternError(
                f'{cell.place}: "{cell.text}" is no length of a body; type more than 0.', code="chart-length"
            )
        values.append(mm)
    for cell in row[count + 1 :]:
        if cell.text:
            raise PatternError(
                f'{cell.place}: "{cell.text}" stands beyond the last size; name a size for it or delete it.',
                code="chart-values",
            )
    return (*values, *[None] * (count - len(values)))
