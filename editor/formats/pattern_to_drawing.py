"""A pattern as a drawing on the layers of ASTM D6673 (numbers from memory): one block per piece and size.

Every mark is written so that reading the drawing again gives the same piece. Names stand as texts on what they name:
an edge's in the middle of its stitching line, a dart's at its tip, a landmark's at its point, a notch's partner word
at the notch. What the usual reading would give differently (a dart pressed the other way ...) is said in words.
"""

import math
from collections.abc import Iterator

import numpy as np

from editor.formats import piece_texts as texts
from editor.formats.drawing import Block, Drawing, Shape
from editor.formats.recognise_darts import usual_aim, usual_pressed
from editor.formats.recognise_notches import place_on_edges
from geometry.affine import Point, Points, distance_mm, frozen_points
from geometry.allowance import cutting_chains, cutting_line
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.model.edge import Edge
from geometry.model.marks import InnerLine, MarkKind, Notch, NotchKind
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

LINE_STEP_MM = 12.0
"""Distance between the system texts, which stand one below the other in the middle of the piece."""

_CURVE_POINTS = 7
"""Most curve points written along an edge; the vertices between them are interpolation points."""

_CLEAR_MM = 2.0
"""An edge's name keeps this far from notches, whose partner words stand at them."""

_NOTCH_LAYER = {kind: layer for layer, kind in texts.NOTCH_LAYERS.items()} | {NotchKind.V: "4"}
_INNER_LAYER = {kind: layer for layer, kind in texts.INNER_LAYERS.items()}


def drawing_of(source: Nest | Pattern) -> Drawing:
    """The drawing, in millimetres, of every size of a nest or of one pattern; seams are not part of the format."""
    nest = source if isinstance(source, Nest) else Nest("", (source,), source.size)
    blocks = tuple(
        Block(_block_name(piece, pattern.size), tuple(_shapes(piece, piece.size or pattern.size)))
        for pattern in nest.patterns
        for piece in pattern.pieces
    )
    loose = [(texts.STYLE_NAME, nest.name), (texts.SAMPLE_SIZE, nest.sample_size)]
    fields = [texts.field_text(keyword, value) for keyword, value in loose if value]
    return Drawing(
        blocks,
        tuple(_text("1", (0.0, -LINE_STEP_MM * (row + 1)), words) for row, words in enumerate(fields)),
        units_hint="mm",
        units_source="the pattern itself",
        units_stated=True,
    )


def naming_point(piece: Piece, edge: Edge) -> Point:
    """Where the name of an edge is written: the middle of its stitching line, moved along it clear of notches."""
    middle = edge.length_mm / 2
    taken = [notch.at_mm for notch in piece.notches_on(edge.id)]
    steps = sorted(range(-len(taken) - 1, len(taken) + 2), key=abs)
    places = [middle + 2.0 * _CLEAR_MM * step for step in steps]
    clear = (at for at in places if 0 < at < edge.length_mm and all(abs(at - other) > _CLEAR_MM for other in taken))
    return edge.point_at(next(clear, middle))


def _block_name(piece: Piece, size: str) -> str:
    return f"{piece.name}_{size}" if size else piece.name


def _shapes(piece: Piece, size: str) -> Iterator[Shape]:
    yield from _outlines(piece)
    yield from _system_texts(piece, size)
    yield from _notches(piece)
    if piece.fold is not None:
        yield _path("6", piece.edge(piece.fold).points[[0, -1]])
    if piece.grain is not None:
        yield _path("7", frozen_points([piece.grain.start, piece.grain.end]))
    yield from _darts(piece)
    for line in piece.inner_lines:
        yield _path(_INNER_LAYER[line.kind], line.points, closed=line.closed)
    yield from _line_names(piece.inner_lines)
    yield from _marks(piece)
    for edge in piece.edges:
        yield _text("15", naming_point(piece, edge), edge.id)
    for label in piece.labels:
        yield _text("15", label.at, label.text)


def _outlines(piece: Piece) -> Iterator[Shape]:
    chains = cutting_chains(piece)
    yield _path("1", cutting_line(piece), closed=True)
    yield from _corners_and_curves(chains)
    if any(edge.allowance_mm > 0 for edge in piece.edges):
        yield _path("14", piece.outline, closed=True)
        yield from _corners_and_curves(tuple(edge.points for edge in piece.edges))


def _corners_and_curves(chains: tuple[Points, ...]) -> Iterator[Shape]:
    for chain in chains:
        yield Shape("2", "point", frozen_points(chain[:1]), entity="POINT")
    for chain in chains:
        inner = min(_CURVE_POINTS, len(chain) - 2)
        for index in np.linspace(0, len(chain) - 1, inner + 2).round().astype(int)[1:-1].tolist():
            yield Shape("3", "point", frozen_points(chain[index : index + 1]), entity="POINT")


def _system_texts(piece: Piece, size: str) -> Iterator[Shape]:
    fields = [(texts.PIECE_NAME, piece.name), (texts.SIZE, size), (texts.QUANTITY, piece.quantity)]
    fields.append((texts.MATERIAL, piece.material))
    x0, y0, x1, y1 = piece.bounds_mm
    for row, (keyword, value) in enumerate(fields):
        if value:
            place = (x0 + (x1 - x0) / 3, (y0 + y1) / 2 - row * LINE_STEP_MM)
            yield _text("1", place, texts.field_text(keyword, value))


def _notches(piece: Piece) -> Iterator[Shape]:
    """Points on the cutting line where it leads back to the same place on the stitching line, else on the latter."""
    ring = cutting_line(piece)
    cut = frozen_points(np.vstack([ring, ring[:1]]))
    order = [(edge.id, notch.id) for edge in piece.edges for notch in piece.notches_on(edge.id)]
    for notch in piece.notches:
        outwards = _outwards(piece, notch)
        place = _on_cutting_line(piece, notch, cut, outwards)
        yield Shape(
            _NOTCH_LAYER[notch.kind],
            "point",
            frozen_points([place]),
            z=notch.depth_mm,
            thickness=notch.width_mm,
            angle_deg=math.degrees(math.atan2(-outwards[1], -outwards[0])) % 360.0,
            entity="POINT",
        )
        if notch.partner:
            yield _text("15", place, notch.partner)
        if notch.id != texts.numbered("notch", order.index((notch.edge, notch.id)) + 1):
            yield _text("15", place, texts.field_text(texts.NOTCH, notch.id))


def _outwards(piece: Piece, notch: Notch) -> Point:
    ux, uy = polyline.direction_at(piece.edge(notch.edge).points, notch.at_mm)
    return (uy, -ux)


def _on_cutting_line(piece: Piece, notch: Notch, cut: Points, outwards: Point) -> Point:
    place = piece.notch_point(notch)
    reach = 2.0 * piece.edge(notch.edge).allowance_mm
    ray = frozen_points([place, (place[0] + reach * outwards[0], place[1] + reach * outwards[1])])
    for crossing in crossings(ray, cut)[:1]:
        index, at_mm, _ = place_on_edges(piece.edges, crossing.at, towards=outwards)
        if piece.edges[index].id == notch.edge and abs(at_mm - notch.at_mm) <= SAME_POINT_MM / 10:
            return crossing.at
    return place


def _darts(piece: Piece) -> Iterator[Shape]:
    for dart in piece.darts:
        start, end = piece.mouth(dart)
        yield _path("8", frozen_points([start, dart.tip, end]))
        yield _text("15", dart.tip, dart.id)
        if dart.pressed is not usual_pressed(piece, dart):
            yield _text("15", dart.tip, texts.field_text(texts.PRESSED, dart.pressed.value))
        usual = usual_aim(piece, dart)
        if dart.aim is None and usual is not None:
            yield _text("15", dart.tip, texts.field_text(texts.AIM, texts.NO_AIM))
        elif dart.aim is not None and (usual is None or distance_mm(dart.aim, usual) > 0.0):
            yield _text("15", dart.aim, texts.field_text(texts.AIM, dart.id))
    for double in piece.double_darts:
        yield _path("8", frozen_points([double.tip_start, double.left, double.tip_end, double.right]), closed=True)
        yield _text("15", double.tip_start, double.id)


def _line_names(lines: tuple[InnerLine, ...]) -> Iterator[Shape]:
    counts: dict[str, int] = {}
    for line in lines:
        counts[line.kind] = counts.get(line.kind, 0) + 1
        if line.id != texts.numbered(line.kind.value, counts[line.kind]):
            yield _text("15", _point(line.points[0]), line.id)


def _marks(piece: Piece) -> Iterator[Shape]:
    drilled = 0
    for mark in piece.marks:
        if mark.kind is MarkKind.CURVE_POINT:
            yield Shape("3", "point", frozen_points([mark.at]), entity="POINT")
            continue
        yield Shape("13", "point", frozen_points([mark.at]), entity="POINT")
        if mark.kind is MarkKind.LANDMARK:
            yield _text("15", mark.at, mark.id)
        else:
            drilled += 1
            if mark.id != texts.numbered("drill hole", drilled):
                yield _text("15", mark.at, texts.field_text(texts.DRILL, mark.id))


def _point(row: Points) -> Point:
    return (float(row[0]), float(row[1]))


def _text(layer: str, place: Point, words: str) -> Shape:
    return Shape(layer, "text", frozen_points([place]), text=words, entity="TEXT")


def _path(layer: str, points: Points, *, closed: bool = False) -> Shape:
    entity = "LINE" if len(points) == 2 and not closed else "POLYLINE"
    return Shape(layer, "path", frozen_points(points), closed=closed, entity=entity)
