"""A drawing made into a pattern: its pieces in every size, and what there is to say about them."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from editor.formats import piece_texts as texts
from editor.formats.clean_up import ALL_TAKEN, CleanUp, Suggestion
from editor.formats.drawing import Drawing
from editor.formats.grading_in import RuledPoints
from editor.formats.import_report import ImportReport, counted
from editor.formats.own_ids import with_own_ids
from editor.formats.recognise_allowance import OnlyLine, with_only_line
from editor.formats.recognise_piece import Fields, fields_of, piece_of
from editor.formats.recognise_sketches import Sketch, sketches_of
from geometry.errors import PatternError
from geometry.findings import Finding, Level
from geometry.model.marks import Label
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from geometry.model.reach import reach_mm
from geometry.units import Unit

GAP_MM = 0.5
"""Ends of lines up to this far apart are joined unless another tolerance is stated: the reading of a cross-hair."""

LARGEST_PIECE_MM, SMALLEST_PIECE_MM = 5_000.0, 10.0
"""Longest side of the smallest and largest piece that is believed without a word: a wrong unit shows here."""

FARTHEST_MM = 1e6
"""No table is a kilometre long; a project file holds nothing beyond."""


NOTHING_SAID = OnlyLine()


@dataclass(frozen=True, slots=True)
class Import:
    """A pattern read from a file.

    Attributes:
        nest: The pattern in every size found.
        findings: What was assumed, mended or left out, gravest first.
        unit: The unit in which the file was read.
        source_bytes: The file as it was.
        source_name: Its name.
        ruled: For each piece by name the grade rule numbers written on it, with their places.
        suggestions: What was read into it and can be declined, taken or not.
        has_only_line: Whether only one line is drawn round some piece.
    """

    nest: Nest
    findings: tuple[Finding, ...]
    unit: Unit
    source_bytes: bytes = b""
    source_name: str = ""
    ruled: Mapping[str, RuledPoints] = field(default_factory=dict)
    suggestions: tuple[Suggestion, ...] = ()
    has_only_line: bool = False


@dataclass(frozen=True, slots=True)
class Sketched:
    """A drawing whose loose lines were put together, once for all answers to suggestions."""

    unit: Unit
    sketches: tuple[Sketch, ...]
    fields: tuple[Fields, ...]
    style: Mapping[str, str]
    report: ImportReport


def sketched(drawing: Drawing, unit: Unit, *, gap_mm: float = GAP_MM, report: ImportReport | None = None) -> Sketched:
    """The outlines of a drawing, each with what lies on it and in it.

    Args:
        drawing: What the file holds, in the file's unit.
        unit: That unit.
        gap_mm: Ends of lines up to this far apart are joined.
        report: Where findings go on from, for what was said before.

    Raises:
        PatternError: no line of the drawing closes (code "no-outline").
    """
    report = report or ImportReport()
    for note in drawing.notes:
        report.note("file-mended", note, level=Level.WARN)
    for entity, layer, count in drawing.unused:
        report.unused_entities(entity, layer, "this kind is not read", count=count)
    sketches = sketches_of(drawing, unit.mm, gap_mm, report)
    if not sketches:
        raise _no_outline(report)
    fields = tuple(fields_of(sketch, report) for sketch in sketches)
    return Sketched(unit, tuple(sketches), fields, _style_fields(drawing), report)


def suggestions(drawing: Sketched, clean_up: CleanUp = ALL_TAKEN) -> tuple[Suggestion, ...]:
    """What can be read into a drawing and declined."""
    return accepted(drawing, clean_up).suggestions


def accepted(
    drawing: Sketched,
    clean_up: CleanUp = ALL_TAKEN,
    said: OnlyLine = NOTHING_SAID,
    *,
    report: ImportReport | None = None,
) -> Import:
    """The pieces of a drawing as the suggestions were answered.

    Args:
        drawing: The drawing put together.
        clean_up: The answers.
        said: What the line is where only one is drawn round a piece.
        report: Goes on from the drawing's own and knows the answers; made here where ``None``.
    """
    report = report or drawing.report.answered(clean_up)
    pieces = _pieces(drawing.sketches, drawing.fields, report)
    refuse_boundless(pieces, drawing.unit)
    _tell_implausible(pieces, drawing.unit, report)
    single = [sketch.sew is None for sketch in drawing.sketches]
    pieces = with_only_line(pieces, single, said, report)
    nest = _nest(pieces, drawing.style, report)
    ruled = {piece.name: written.rules for piece, written in zip(pieces, drawing.fields, strict=True) if written.rules}
    return Import(
        nest, report.findings(), drawing.unit, ruled=ruled, suggestions=report.suggestions(), has_only_line=any(single)
    )


def recognise(
    drawing: Drawing,
    unit: Unit,
    *,
    gap_mm: float = GAP_MM,
    allowance_mm: float | None = None,
    add_mm: float | None = None,
    hem_mm: float | None = None,
    clean_up: CleanUp = ALL_TAKEN,
    report: ImportReport | None = None,
) -> Import:
    """The pieces of a drawing in one go: ``sketched``, then ``accepted``.

    Args:
        drawing: What the file holds, in the file's unit.
        unit: That unit.
        gap_mm: Ends of lines up to this far apart are joined.
        allowance_mm: Where only one line is drawn round a piece: that it is the cutting line, this far outside the
            stitching line. Without it the line is taken as the stitching line.
        add_mm: Where only one line is drawn: that it is the stitching line and gets this allowance, hems
            ``HEM_MM`` and the fold none.
        hem_mm: The allowance of hems, if it is another one than that of seams.
        clean_up: Which suggestions are taken; all, unless said otherwise.
        report: Where findings go on from, for what was said before.

    Raises:
        PatternError: no line of the drawing closes (code "no-outline").
    """
    together = sketched(drawing, unit, gap_mm=gap_mm, report=report)
    return accepted(together, clean_up, OnlyLine(allowance_mm, add_mm, hem_mm))


def _no_outline(report: ImportReport) -> PatternError:
    told = [finding.text for finding in report.findings() if finding.code == "open-outline"]
    return PatternError(told[0] if told else "No closed outline was found; draw the edge of each piece as one closed "
                        "line, or let its ends meet.", code="no-outline")  # fmt: skip


def _style_fields(drawing: Drawing) -> dict[str, str]:
    said: dict[str, str] = {}
    for shape in drawing.loose:
        stated = texts.field_of(shape.text) if shape.kind == "text" else None
        if stated is not None:
            said.setdefault(stated.keyword, stated.value)
    return said


# ---- pieces, their names and sizes ----


def _pieces(sketches: Sequence[Sketch], fields: Sequence[Fields], report: ImportReport) -> list[Piece]:
    names_and_sizes = _names_and_sizes(sketches, fields)
    taken: set[tuple[str, str]] = set()
    pieces = []
    for sketch, said, (wanted, size) in zip(sketches, fields, names_and_sizes, strict=True):
        name, number = wanted, 1
        while (name, size) in taken:
            number += 1
            name = texts.numbered(wanted, number)
        taken.add((name, size))
        if name != wanted:
            of_size = f" of size {size}" if size else ""
            text = f'More than one piece{of_size} is called "{wanted}"; one is now "{name}".'
            report.note("piece-renamed", text, piece=name)
        pieces.append(with_own_ids(piece_of(sketch, said, name, size, report)))
    return [_named_by_label(piece) if piece.name.startswith(_NAMELESS) else piece for piece in pieces]


_NAMELESS = "piece "


def _names_and_sizes(sketches: Sequence[Sketch], fields: Sequence[Fields]) -> list[tuple[str, str]]:
    """The name and size of every sketch: from its texts, else from its block's name, else by number."""
    sizes = [said.said.get(texts.SIZE, "") for said in fields]
    names = [
        said.said.get(texts.PIECE_NAME, "") or sketch.source for sketch, said in zip(sketches, fields, strict=True)
    ]
    if not any(sizes) and all(sketch.source for sketch in sketches):
        split = _split_names([sketch.source for sketch in sketches])
        if split is not None:
            sizes = [size for _, size in split]
            stated = [said.said.get(texts.PIECE_NAME, "") for said in fields]
            names = [name or stem for name, (stem, _) in zip(stated, split, strict=True)]
    numbered = []
    for number, (name, size) in enumerate(zip(names, sizes, strict=True), start=1):
        numbered.append((name or f"{_NAMELESS}{number}", size))
    return numbered


def _split_names(names: Sequence[str]) -> list[tuple[str, str]] | None:
    """Names such as FRONT_38 as piece and size, if every piece then comes in the same two sizes or more."""
    parts = [re.fullmatch(r"(.+?)[ _-]+([^ _-]+)", name) for name in names]
    if any(part is None for part in parts):
        return None
    split = [(part[1], part[2]) for part in parts if part is not None]
    by_name: dict[str, list[str]] = {}
    for name, size in split:
        by_name.setdefault(name, []).append(size)
    sizes = {tuple(sorted(found)) for found in by_name.values()}
    alike = len(sizes) == 1 and len(set(next(iter(sizes)))) == len(next(iter(sizes))) >= 2
    return split if alike else None


def _named_by_label(piece: Piece) -> Piece:
    """A piece without a name takes the first words written on it that do not say how many to cut."""
    for label in piece.labels:
        if texts.quantity_in_words(label.text) is None and any(letter.isalpha() for letter in label.text):
            left: tuple[Label, ...] = tuple(other for other in piece.labels if other is not label)
            return replace(piece, name=" ".join(label.text.split()), labels=left)
    return piece


# ---- what holds for all pieces ----


def refuse_boundless(pieces: Iterable[Piece], unit: Unit) -> None:
    """Raises ``PatternError`` where a piece reaches farther than any project may."""
    for piece in pieces:
        if not reach_mm(piece) <= FARTHEST_MM:
            sentence = f'Read in {unit.value} the piece "{piece.name}" reaches farther than a kilometre; choose another'
            raise PatternError(f"{sentence} unit, or correct the file.", code="bad-number")


def _tell_implausible(pieces: Iterable[Piece], unit: Unit, report: ImportReport) -> None:
    for piece in pieces:
        x0, y0, x1, y1 = piece.bounds_mm
        longest = max(x1 - x0, y1 - y0)
        if not SMALLEST_PIECE_MM <= longest <= LARGEST_PIECE_MM:
            report.note(
                "implausible-size",
                f'Read in {unit.value} the piece "{piece.name}" is {(x1 - x0) / 10:.1f} by {(y1 - y0) / 10:.1f} cm; '
                "check the unit before you go on.",
                level=Level.WARN,
                piece=piece.name,
                measured_mm=longest,
            )


def _nest(pieces: Sequence[Piece], style: Mapping[str, str], report: ImportReport) -> Nest:
    sizes = list(dict.fromkeys(piece.size for piece in pieces))
    wanted = style.get(texts.SAMPLE_SIZE, "")
    sample = wanted if wanted in sizes else sizes[len(sizes) // 2]
    if wanted and wanted not in sizes:
        text = f'The file names "{wanted}" as its sample size but has only {", ".join(sizes)}; "{sample}" is used.'
        report.note("sample-size", text)
    by_name: dict[str, list[Piece]] = {}
    for piece in pieces:
        by_name.setdefault(piece.name, []).append(piece)
    for name, grades in by_name.items():
        _tell_different(name, grades, sizes, report)
    patterns = tuple(Pattern(tuple(piece for piece in pieces if piece.size == size), size=size) for size in sizes)
    return Nest(style.get(texts.STYLE_NAME, ""), patterns, sample)


def _tell_different(name: str, grades: Sequence[Piece], sizes: Sequence[str], report: ImportReport) -> None:
    """A warning where the sizes of a piece do not have the same parts."""
    missing = [size for size in sizes if size not in [piece.size for piece in grades]]
    if missing:
        text = f'The piece "{name}" is missing in size {", ".join(missing)}.'
        report.note("sizes-differ", text, level=Level.WARN, piece=name)
    first = grades[0]
    for piece in grades[1:]:
        for one, many, mine, theirs in (
            ("edge", "edges", [edge.id for edge in first.edges], [edge.id for edge in piece.edges]),
            ("dart", "darts", [dart.id for dart in first.darts], [dart.id for dart in piece.darts]),
            ("notch", "notches", [notch.id for notch in first.notches], [notch.id for notch in piece.notches]),
        ):
            if mine != theirs:
                has = f"{counted(len(mine), one, many)} in size {first.size} ({', '.join(mine) or 'none'})"
                report.note(
                    "sizes-differ",
                    f'The piece "{name}" has {has} but {len(theirs)} in size {piece.size} '
                    f"({', '.join(theirs) or 'none'}); check them before altering.",
                    level=Level.WARN,
                    piece=name,
                )
