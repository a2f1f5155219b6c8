"""One sketch made into a piece: its parts put together under the names its texts give them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from editor.formats import piece_texts as texts
from editor.formats.clean_up import Kind
from editor.formats.dart_habits import with_usual_habits
from editor.formats.drawing import Shape
from editor.formats.import_report import ImportReport
from editor.formats.likely_parts import taken_folds, with_likely_parts
from editor.formats.recognise_edges import edge_ids, edges_of, fold_of
from editor.formats.recognise_names import Names, Thing, names_of
from editor.formats.recognise_notches import FoundNotch, ring_numbers
from editor.formats.recognise_outline import outline_of
from editor.formats.recognise_parts import Parts, Spot, parts_of
from editor.formats.recognise_sketches import LOOSE, Sketch
from geometry.affine import Point, as_point, frozen_points
from geometry.model.dart import Dart, DoubleDart
from geometry.model.edge import Edge
from geometry.model.marks import Grain, InnerKind, InnerLine, Mark, MarkKind, Notch
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM


@dataclass(frozen=True, slots=True)
class Fields:
    """What the texts of a sketch say about the piece, those that may name things on it, and grade rule numbers."""

    said: Mapping[str, str]
    words: tuple[Shape, ...]
    rules: tuple[tuple[int, str, Point], ...] = ()


def fields_of(sketch: Sketch, report: ImportReport) -> Fields:
    """The texts of a sketch, sorted."""
    said: dict[str, str] = {}
    words: list[Shape] = []
    rules: list[tuple[int, str, Point]] = []
    for shape in sketch.shapes:
        if shape.kind != "text" or not shape.text.strip():
            continue
        field = texts.field_of(shape.text)
        if texts.is_rule_number(shape.text):
            rules.append((int(shape.text.replace("#", " ")), shape.layer, as_point(shape.points[0])))
        elif field is None or field.keyword in texts.OF_THINGS:
            words.append(shape)
        elif field.keyword in texts.OF_PIECE and field.keyword not in said:
            said[field.keyword] = field.value
        else:
            report.unused(shape, f'nothing is kept of "{field.keyword}"')
    return Fields(said, tuple(words), tuple(rules))


def piece_of(sketch: Sketch, fields: Fields, name: str, size: str, report: ImportReport) -> Piece:
    """The piece that a sketch shows."""
    report.about(name, size)
    outline = outline_of(sketch, name, report)
    words = (*_said_now(name, size, report), *fields.words)
    parts = parts_of(sketch.shapes, words, outline, name, report)
    names = names_of(words, parts.nameables(), parts.ruler, outline.slack_mm)
    chains = parts.ruler.chains
    ids = edge_ids(len(chains), names.edges, name, report)
    edges = edges_of(parts.ruler, ids, outline.cutting, parts.darts)
    fold = fold_of(parts.mirrors, taken_folds(names, ids, chains, report), chains, name, report)
    spots, extra_notches = _points_on_edges(parts, names)
    piece = Piece(
        name,
        edges,
        size=size,
        quantity=_quantity(fields, names),
        material=fields.said.get(texts.MATERIAL, ""),
        fold=None if fold is None else ids[fold],
        grain=_grain(parts, names, report),
        darts=_darts(parts, edges, names),
        double_darts=_double_darts(parts.double_darts, names),
        notches=_notches((*parts.notches, *extra_notches), edges, names),
        inner_lines=_inner_lines(parts.lines, names),
        marks=_marks(spots, names),
        labels=tuple(names.labels),
    )
    piece = _with_stated_habits(with_usual_habits(piece), names)
    return with_likely_parts(piece, report) if outline.traced else piece


def _said_now(name: str, size: str, report: ImportReport) -> Iterator[Shape]:
    """The names given to edges in cleaning up, as if they had been written there."""
    for named in report.clean_up.names:
        if (named.piece, named.size) == (name, size):
            yield Shape(LOOSE, "text", frozen_points([named.at]), text=texts.field_text(texts.EDGE, named.name))


def _quantity(fields: Fields, names: Names) -> int:
    if texts.QUANTITY in fields.said:
        return texts.quantity_of(fields.said[texts.QUANTITY])
    in_words = (texts.quantity_in_words(label.text) for label in names.labels)
    return next((number for number in in_words if number), 1)


def _grain(parts: Parts, names: Names, report: ImportReport) -> Grain | None:
    shape = parts.grain
    if shape is None and names.grain is not None:
        shape = parts.lines[names.grain]
        text, at = "the grain, as written beside this line", as_point(shape.points[len(shape.points) // 2])
        if shape.layer == LOOSE and not report.suggest(Kind.GRAIN, text, at, drawn=[shape.points]):
            names.grain = None
            return None
    return None if shape is None else Grain(as_point(shape.points[0]), as_point(shape.points[-1]))


def _points_on_edges(parts: Parts, names: Names) -> tuple[list[tuple[int, Spot]], list[FoundNotch]]:
    """The drilled points by number, and as notches those without name or layer that lie on an edge."""
    if not any(spot.loose for spot in parts.spots):
        return list(enumerate(parts.spots)), []
    spots: list[tuple[int, Spot]] = []
    notches: list[FoundNotch] = []
    found = parts.ruler.nearest([spot.at for spot in parts.spots])
    for index, (spot, on_edge) in enumerate(zip(parts.spots, found, strict=True)):
        named = names.of(Thing.POINT, index) is not None or index in names.holes
        if spot.loose and not named and on_edge.gap_mm <= ON_EDGE_MM:
            notches.append(FoundNotch(on_edge.edge, on_edge.at_mm, spot.at))
        else:
            spots.append((index, spot))
    return spots, notches


def _darts(parts: Parts, edges: Sequence[Edge], names: Names) -> tuple[Dart, ...]:
    ids: list[str] = []
    for index, dart in enumerate(parts.darts):
        wanted = names.of(Thing.DART, index) or _name_of_hole(dart.tip, parts.spots, names)
        ids.append(_unique(wanted or f"{edges[dart.edge].id} dart", ids))
    return tuple(
        Dart(dart_id, edges[dart.edge].id, dart.from_mm, dart.to_mm, dart.tip)
        for dart_id, dart in zip(ids, parts.darts, strict=True)
    )


def _name_of_hole(tip: tuple[float, float], spots: Sequence[Spot], names: Names) -> str | None:
    """The name written at the drill hole that is a dart's tip; the hole itself then has none."""
    for index, spot in enumerate(spots):
        if spot.at == tip and "dart" in (names.of(Thing.POINT, index) or ""):
            return names.things.pop((Thing.POINT, index))
    return None


def _unique(wanted: str, taken: Sequence[str]) -> str:
    name, number = wanted, 1
    while name in taken:
        number += 1
        name = texts.numbered(wanted, number)
    return name


def _double_darts(found: Sequence[DoubleDart], names: Names) -> tuple[DoubleDart, ...]:
    return tuple(
        replace(dart, id=names.of(Thing.DOUBLE_DART, index) or texts.numbered("double dart", index + 1))
        for index, dart in enumerate(found)
    )


def _notches(found: Sequence[FoundNotch], edges: Sequence[Edge], names: Names) -> tuple[Notch, ...]:
    return tuple(
        Notch(
            names.notches.get(index) or texts.numbered("notch", number),
            edges[notch.edge].id,
            notch.at_mm,
            notch.kind,
            notch.depth_mm,
            notch.width_mm,
            names.of(Thing.NOTCH, index) or "",
        )
        for index, (notch, number) in enumerate(zip(found, ring_numbers(found), strict=True))
    )


def _inner_lines(shapes: Sequence[Shape], names: Names) -> tuple[InnerLine, ...]:
    lines: list[InnerLine] = []
    counts = dict.fromkeys(InnerKind, 0)
    for index, shape in enumerate(shapes):
        if index == names.grain:
            continue
        kind = texts.INNER_LAYERS.get(shape.layer, InnerKind.LINE)
        counts[kind] += 1
        name = names.of(Thing.LINE, index) or texts.numbered(kind.value, counts[kind])
        lines.append(InnerLine(_unique(name, [line.id for line in lines]), shape.points, kind, shape.closed))
    return tuple(lines)


def _marks(spots: Sequence[tuple[int, Spot]], names: Names) -> tuple[Mark, ...]:
    marks: list[Mark] = []
    drilled = 0
    for index, spot in spots:
        name = names.of(Thing.POINT, index)
        kind = MarkKind.DRILL if name is None else MarkKind.LANDMARK
        drilled += kind is MarkKind.DRILL
        wanted = name or names.holes.get(index) or texts.numbered("drill hole", drilled)
        taken = [mark.id for mark in marks if mark.kind is kind]
        marks.append(Mark(_unique(wanted, taken), spot.at, kind))
    return tuple(marks)


def _with_stated_habits(piece: Piece, names: Names) -> Piece:
    darts = []
    for index, dart in enumerate(piece.darts):
        stated = names.aims.get(dart.id, dart.aim)
        aim = None if index in names.aimless else stated
        pressed = names.pressed.get(index, dart.pressed)
        darts.append(replace(dart, aim=aim, pressed=pressed, stitched=index not in names.tucks))
    return replace(piece, darts=tuple(darts))
