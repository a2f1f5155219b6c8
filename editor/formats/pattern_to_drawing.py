"""A pattern as a drawing on the layers of ASTM D6673 (numbers from memory): one block per piece and size.

Every mark is written so that reading the drawing again gives the same piece. Names stand as texts on what they name:
an edge's in the middle of its stitching line, a dart's at its tip, a landmark's at its point, a notch's partner word
at the notch. Where plain words would be read as something else, a keyword goes before them; what the usual reading
would give differently (a dart pressed the other way ...) is said in words too.
"""

import math
from collections.abc import Iterator

import numpy as np

from editor.formats import piece_texts as texts
from editor.formats.dart_habits import usual_aim
from editor.formats.drawing import Block, Drawing, Shape
from editor.formats.edge_ruler import EdgeRuler
from geometry.affine import Point, Points, as_point, distance_mm, frozen_points
from geometry.allowance import cutting_chains, cutting_line
from geometry.curves import polyline
from geometry.curves.crossing import crossings
from geometry.model.edge import Edge
from geometry.model.marks import InnerLine, MarkKind, Notch, NotchKind
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from geometry.model.pressing import usual_pressed
from geometry.tolerance import ON_EDGE_MM, SAME_POINT_MM

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
        Block(_block_name(piece, pattern.size), tuple(_PieceDrawing(piece, piece.size or pattern.size).shapes()))
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


class _PieceDrawing:
    """The shapes of one piece, written one after the other."""

    def __init__(self, piece: Piece, size: str) -> None:
        self.piece = piece
        self.size = size
        self.chains = cutting_chains(piece)
        self.cut = cutting_line(piece)
        self.ruler = EdgeRuler([edge.points for edge in piece.edges])
        self.notch_places = [self._notch_place(notch) for notch in piece.notches]
        marks = [mark.at for mark in piece.marks if mark.kind is not MarkKind.CURVE_POINT]
        tips = [dart.tip for dart in piece.darts] + [dart.tip_start for dart in piece.double_darts]
        lines = [as_point(line.points[0]) for line in piece.inner_lines]
        self._named_at = np.array([*self.notch_places, *marks, *tips, *lines]).reshape(-1, 2)

    def shapes(self) -> Iterator[Shape]:
        """All shapes of the piece."""
        piece = self.piece
        yield from self._outlines()
        yield from self._system_texts()
        yield from self._notches()
        if piece.fold is not None:
            yield _path("6", piece.edge(piece.fold).points[[0, -1]])
        if piece.grain is not None:
            yield _path("7", frozen_points([piece.grain.start, piece.grain.end]))
        yield from self._darts()
        yield from self._inner_lines()
        yield from self._marks()
        for edge in piece.edges:
            yield self._name(texts.EDGE, edge.id, naming_point(piece, edge), at_point=False)
        for label in piece.labels:
            yield self._label(label.text, label.at)

    def _outlines(self) -> Iterator[Shape]:
        yield _path("1", self.cut, closed=True)
        yield from _corners_and_curves(self.chains)
        if any(edge.allowance_mm > 0 for edge in self.piece.edges):
            yield _path("14", self.piece.outline, closed=True)
            yield from _corners_and_curves(tuple(edge.points for edge in self.piece.edges))

    def _system_texts(self) -> Iterator[Shape]:
        piece = self.piece
        fields = [(texts.PIECE_NAME, piece.name), (texts.SIZE, self.size), (texts.QUANTITY, piece.quantity)]
        fields.append((texts.MATERIAL, piece.material))
        x0, y0, x1, y1 = piece.bounds_mm
        for row, (keyword, value) in enumerate(fields):
            if value:
                place = (x0 + (x1 - x0) / 3, (y0 + y1) / 2 - row * LINE_STEP_MM)
                yield _text("1", place, texts.field_text(keyword, value))

    def _notches(self) -> Iterator[Shape]:
        piece = self.piece
        order = [(edge.id, notch.id) for edge in piece.edges for notch in piece.notches_on(edge.id)]
        for notch, place in zip(piece.notches, self.notch_places, strict=True):
            outwards = self._outwards(notch)
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
                yield self._name(texts.PARTNER, notch.partner, place)
            if notch.id != texts.numbered("notch", order.index((notch.edge, notch.id)) + 1):
                yield _text("15", place, texts.field_text(texts.NOTCH, notch.id))

    def _outwards(self, notch: Notch) -> Point:
        ux, uy = polyline.direction_at(self.piece.edge(notch.edge).points, notch.at_mm)
        return (uy, -ux)

    def _notch_place(self, notch: Notch) -> Point:
        """On the cutting line where that leads back to the same place on the stitching line, else on the latter."""
        place, outwards = self.piece.notch_point(notch), self._outwards(notch)
        reach = 2.0 * self.piece.edge(notch.edge).allowance_mm
        ray = frozen_points([place, (place[0] + reach * outwards[0], place[1] + reach * outwards[1])])
        for crossing in crossings(ray, np.vstack([self.cut, self.cut[:1]]))[:1]:
            back = self.ruler.nearest([crossing.at], towards=[outwards])[0]
            same_edge = self.piece.edges[back.edge].id == notch.edge
            if same_edge and abs(back.at_mm - notch.at_mm) <= SAME_POINT_MM / 10:
                return crossing.at
        return place

    def _darts(self) -> Iterator[Shape]:
        for dart in self.piece.darts:
            start, end = self.piece.mouth(dart)
            yield _path("8", frozen_points([start, dart.tip, end]))
            yield self._name(texts.DART, dart.id, dart.tip)
            if dart.pressed is not usual_pressed(self.piece, dart):
                yield _text("15", dart.tip, texts.field_text(texts.PRESSED, dart.pressed.value))
            if not dart.stitched:
                yield _text("15", dart.tip, texts.field_text(texts.STITCHED, texts.NOT_STITCHED))
            usual = usual_aim(self.piece, dart)
            if dart.aim is None and usual is not None:
                yield _text("15", dart.tip, texts.field_text(texts.AIM, texts.NO_AIM))
            elif dart.aim is not None and (usual is None or distance_mm(dart.aim, usual) > 0.0):
                yield _text("15", dart.aim, texts.field_text(texts.AIM, dart.id))
        for double in self.piece.double_darts:
            corners = [double.tip_start, double.left, double.tip_end, double.right]
            yield _path("8", frozen_points(corners), closed=True)
            yield self._name(texts.DART, double.id, double.tip_start)

    def _inner_lines(self) -> Iterator[Shape]:
        for line in self.piece.inner_lines:
            yield _path(_INNER_LAYER[line.kind], line.points, closed=line.closed)
        for line in self.piece.inner_lines:
            if line.id != self._usual_line_name(line):
                yield self._name(texts.LINE, line.id, as_point(line.points[0]))

    def _usual_line_name(self, line: InnerLine) -> str:
        alike = [other for other in self.piece.inner_lines if other.kind is line.kind]
        return texts.numbered(line.kind.value, next(n for n, other in enumerate(alike, start=1) if other is line))

    def _marks(self) -> Iterator[Shape]:
        for mark in self.piece.marks:
            if mark.kind is MarkKind.CURVE_POINT:
                yield Shape("3", "point", frozen_points([mark.at]), entity="POINT")
                continue
            yield Shape("13", "point", frozen_points([mark.at]), entity="POINT")
            if mark.kind is MarkKind.LANDMARK:
                yield self._name(texts.LANDMARK, mark.id, mark.at)
            else:  # named even where the name is the usual one: an unnamed hole between two notches is read as a dart
                yield _text("15", mark.at, texts.field_text(texts.DRILL, mark.id))

    def _name(self, keyword: str, name: str, place: Point, *, at_point: bool = True) -> Shape:
        """A name in plain words, or with its keyword where they would be read otherwise."""
        plain = texts.is_plain_name(name) and self._points_near(place) == int(at_point)
        return _text("15", place, name if plain else texts.field_text(keyword, name))

    def _label(self, words: str, place: Point) -> Shape:
        on_edge = self.ruler.nearest([place])[0].gap_mm <= 2 * ON_EDGE_MM
        plain = texts.field_of(words) is None and not texts.is_rule_number(words)
        if plain and not on_edge and self._points_near(place) == 0:
            return _text("15", place, words)
        return _text("15", place, texts.field_text(texts.ANNOTATION, words))

    def _points_near(self, place: Point) -> int:
        """How many of the points that texts can name lie so near that a text here could mean them."""
        away = np.hypot(*(self._named_at - place).T)
        return int(np.count_nonzero(away <= 2 * ON_EDGE_MM))


def _corners_and_curves(chains: tuple[Points, ...]) -> Iterator[Shape]:
    for chain in chains:
        yield Shape("2", "point", frozen_points(chain[:1]), entity="POINT")
    for chain in chains:
        inner = min(_CURVE_POINTS, len(chain) - 2)
        for index in np.linspace(0, len(chain) - 1, inner + 2).round().astype(int)[1:-1].tolist():
            yield Shape("3", "point", frozen_points(chain[index : index + 1]), entity="POINT")


def _text(layer: str, place: Point, words: str) -> Shape:
    return Shape(layer, "text", frozen_points([place]), text=words, entity="TEXT")


def _path(layer: str, points: Points, *, closed: bool = False) -> Shape:
    entity = "LINE" if len(points) == 2 and not closed else "POLYLINE"
    return Shape(layer, "path", frozen_points(points), closed=closed, entity=entity)
