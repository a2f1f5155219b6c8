"""Reading a pattern file: its unit made sure of, its pieces recognised."""

from dataclasses import dataclass, replace
from pathlib import Path

from editor.formats.clean_up import ALL_TAKEN, CleanUp
from editor.formats.drawing import Drawing
from editor.formats.dxf_reader import read_drawing
from editor.formats.grade_rules import read_rules
from editor.formats.grading_in import graded_nest
from editor.formats.import_report import ImportReport, counted
from editor.formats.recognise import (
    GAP_MM,
    NOTHING_SAID,
    Import,
    Sketched,
    accepted,
    recognise,
    refuse_boundless,
    sketched,
)
from editor.formats.recognise_allowance import OnlyLine
from editor.reading import readable_name
from geometry.affine import Point
from geometry.errors import PatternError
from geometry.findings import Level
from geometry.units import MM_PER_INCH, Unit

__all__ = ["Import", "MeasuredLine", "import_pattern", "measured_line", "recognise"]

_METRIC_FROM = 150.0
"""A drawing wider than this many units is measured as if in millimetres, a smaller one in inches: only to join its
segments; what is shown is in file units."""


@dataclass(frozen=True, slots=True)
class MeasuredLine:
    """One edge measured in the file's own unit, for asking a person what that unit is.

    Attributes:
        piece: Name of its piece.
        edge: Id of the edge.
        length_units: Its length in the file's unit.
        start: Its first corner, in the file's unit.
        end: Its last corner.
    """

    piece: str
    edge: str
    length_units: float
    start: Point
    end: Point

    @property
    def sentence(self) -> str:
        """How long it would be in each unit."""
        number = f"{self.length_units:.1f}"
        in_cm = self.length_units * MM_PER_INCH / 10
        return (
            f'the longest edge of the piece "{self.piece}" would be {number} mm, {number} cm or '
            f"{number} in ({in_cm:.1f} cm)"
        )


@dataclass(frozen=True, slots=True)
class Opened:
    """A file that was read and put together; ``made`` makes the pattern of it, as often as answers change."""

    path: Path
    drawing: Sketched
    rules: Path | None

    def made(self, clean_up: CleanUp = ALL_TAKEN, said: OnlyLine = NOTHING_SAID) -> Import:
        """The pattern as its suggestions were answered, in all sizes.

        Raises:
            PatternError: it reaches beyond any table, or a table of rules cannot be read.
        """
        report = self.drawing.report.answered(clean_up)
        found = accepted(self.drawing, clean_up, said, report=report)
        table = self.rules or _table_beside(self.path)
        found = _with_graded_sizes(found, table, asked=self.rules is not None, report=report)
        refuse_boundless((piece for pattern in found.nest.patterns for piece in pattern.pieces), found.unit)
        name = readable_name(self.path)
        nest = found.nest if found.nest.name else replace(found.nest, name=Path(name).stem)
        return replace(found, nest=nest, source_bytes=self.path.read_bytes(), source_name=name)


def opened(
    path: Path | str,
    *,
    unit: Unit | None = None,
    gap_mm: float = GAP_MM,
    rules: Path | None = None,
    encoding: str | None = None,
    drawing: Drawing | None = None,
) -> Opened:
    """A pattern file, read and put together; arguments and errors as of ``import_pattern``.

    ``drawing`` is what the file holds, if it was read before.
    """
    path = Path(path)
    drawing = drawing or read_drawing(path, unit_mm=None if unit is None else unit.mm, encoding=encoding)
    report = ImportReport()
    chosen = _unit(drawing, unit, path.name, report)
    return Opened(path, sketched(drawing, chosen, gap_mm=gap_mm, report=report), rules)


def import_pattern(
    path: Path | str,
    *,
    unit: Unit | None = None,
    gap_mm: float = GAP_MM,
    allowance_mm: float | None = None,
    add_mm: float | None = None,
    hem_mm: float | None = None,
    rules: Path | None = None,
    encoding: str | None = None,
    clean_up: CleanUp = ALL_TAKEN,
) -> Import:
    """The pattern in a DXF file.

    Args:
        path: The file.
        unit: The unit of its numbers; if ``None``, what the file itself says.
        gap_mm: Ends of lines up to this far apart are joined.
        allowance_mm: That a line drawn alone round a piece is the cutting line, with this allowance.
        add_mm: That a line drawn alone is the stitching line and gets this allowance, hems apart.
        hem_mm: The allowance of hems, if it is another one than that of seams.
        rules: The table of grade rules that makes the other sizes; if ``None``, the file of the same name ending in
            .rul beside the drawing, if there is one and the drawing holds one size.
        encoding: Name of the coding of its letters; worked out from the file if ``None``.
        clean_up: Which suggestions are taken; all but guesses, unless said otherwise.

    Raises:
        PatternError: the file cannot be read, holds no closed outline, or (code "unit-unknown") neither caller nor
            file say the unit.
    """
    file = opened(path, unit=unit, gap_mm=gap_mm, rules=rules, encoding=encoding)
    return file.made(clean_up, OnlyLine(allowance_mm, add_mm, hem_mm))


def _table_beside(path: Path) -> Path | None:
    tables = (path.with_suffix(suffix) for suffix in (".rul", ".RUL"))
    return next((table for table in tables if table.is_file()), None)


def _with_graded_sizes(found: Import, table: Path | None, *, asked: bool, report: ImportReport) -> Import:
    """The import with the sizes a rule table adds, or with a note on why its rule numbers were not used."""
    if not found.ruled and not asked:
        return found
    if len(found.nest.sizes) > 1:
        report.note("rules-not-needed", "Every size is drawn, so the grade rule numbers were not needed.")
        return replace(found, findings=report.findings())
    if table is None:
        count = sum(len(ruled) for ruled in found.ruled.values())
        carry = counted(count, "point carries a grade rule number", "points carry grade rule numbers")
        report.note(
            "rules-missing",
            f"{carry}, but no table of rules (.rul) lies beside the drawing; only the size that is drawn was read.",
            level=Level.WARN,
        )
        return replace(found, findings=report.findings())
    rules = read_rules(table)
    lost = sorted({number for ruled in found.ruled.values() for number, *_ in ruled} - set(rules.rules))
    if lost:
        numbers = ", ".join(map(str, lost[:8]))
        text = f"{table.name} has no rule {numbers}; the points with that number stay where they are in every size."
        report.note("rule-missing", text, level=Level.WARN)
    sizes = ", ".join(rules.sizes)
    report.note(
        "sizes-graded", f"The sizes {sizes} were made from size {rules.sample_size} by the rules of {table.name}."
    )
    return replace(found, nest=graded_nest(found.nest, found.ruled, rules), findings=report.findings())


def _unit(drawing: Drawing, stated: Unit | None, name: str, report: ImportReport) -> Unit:
    hint = None if drawing.units_hint is None else Unit(drawing.units_hint)
    if stated is None and hint is None:
        line = measured_line(drawing)
        sentence = f"{name} does not say its unit: {line.sentence}; say --units mm, cm or in."
        raise PatternError(sentence, code="unit-unknown")
    if stated is None and hint is not None:
        if drawing.units_stated:
            report.note("unit", f"The unit of {name} is {hint.value}, as {drawing.units_source} says.")
            return hint
        report.note(
            "unit",
            f"The unit of {name} is taken as {hint.value} from {drawing.units_source}, which is often left at a "
            "default; check the length of one line.",
            level=Level.WARN,
        )
        return hint
    assert stated is not None
    if hint is not None and hint is not stated and drawing.units_stated:
        report.note(
            "unit-disagrees",
            f"{name} was read in {stated.value} as you said, but {drawing.units_source} says {hint.value}; check the "
            "length of one line.",
            level=Level.WARN,
        )
    return stated


def measured_line(drawing: Drawing) -> MeasuredLine:
    """The longest edge of the drawing's pieces, in the file's unit.

    Raises:
        PatternError: no line of the drawing closes.
    """
    guess = _guess(drawing)
    pieces = [piece for pattern in recognise(drawing, guess).nest.patterns for piece in pattern.pieces]
    piece, edge = max(((piece, edge) for piece in pieces for edge in piece.edges), key=lambda found: found[1].length_mm)
    (x0, y0), (x1, y1) = edge.start, edge.end
    mm = guess.mm
    return MeasuredLine(piece.name, edge.id, edge.length_mm / mm, (x0 / mm, y0 / mm), (x1 / mm, y1 / mm))


def _guess(drawing: Drawing) -> Unit:
    shapes = [shape for block in drawing.blocks for shape in block.shapes] + list(drawing.loose)
    widest = max((float((s.points.max(axis=0) - s.points.min(axis=0)).max()) for s in shapes if s.kind == "path"),
                 default=0.0)  # fmt: skip
    spread = [s.points.mean(axis=0) for s in drawing.loose if s.kind == "path"]
    if spread:
        low, high = zip(*((min(axis), max(axis)) for axis in zip(*spread, strict=True)), strict=True)
        widest = max(widest, *(b - a for a, b in zip(low, high, strict=True)))
    return Unit.MM if widest > _METRIC_FROM else Unit.INCH
