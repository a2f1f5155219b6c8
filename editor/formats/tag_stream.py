"""The lean reader: drawings of plain entities built straight from the tags.

Pattern files in the open standard hold POLYLINE, LINE, POINT and TEXT in blocks placed where they are
drawn, and nothing else. For those no general DXF library is needed. At the first sign of anything more
the lean reader gives up, and the full reader takes the whole file.
"""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from editor.formats.drawing import Shape
from editor.formats.dxf_content import (
    FLAT_POLYLINE_FLAGS,
    IDENTITY,
    LARGEST_COORDINATE,
    Content,
    Loaded,
    Placement,
    layer_of,
    plain_text,
    ring,
    text_anchor,
)
from editor.formats.dxf_structure import Contents, Entity
from geometry.affine import Points, frozen_points

CURVED = frozenset(("LWPOLYLINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE", "MTEXT"))
"""Entities that only the full reader understands."""

_IDENTITY_VALUES = {10: 0.0, 20: 0.0, 41: 1.0, 42: 1.0, 43: 1.0, 50: 0.0, 70: 1.0, 71: 1.0}

_BARE_POINT = [0, 8, 10, 20]
_BARE_VERTEX = [0, 8, 10, 20]


class NotPlainError(Exception):
    """The file holds something the lean reader does not read."""


def read_plain(contents: Contents) -> Loaded | None:
    """Return what the file holds, None if it holds more than the lean reader reads."""
    if not CURVED.isdisjoint(contents.counts):
        return None
    try:
        return _Stream(contents).load()
    except (NotPlainError, ValueError, KeyError, OverflowError):
        return None


class _Stream:
    """The tags of a file with the array views that make long vertex runs fast."""

    def __init__(self, contents: Contents) -> None:
        self.contents = contents
        self.codes = contents.tags.codes
        self.values = contents.tags.values
        self.code_array = contents.tags.code_array
        self.loaded = Loaded()
        self.layers: dict[str, str] = {}

    def load(self) -> Loaded:
        for block in self.contents.blocks:
            if self._moves(self._tags(block.head), (10, 20)):
                raise NotPlainError
            self.loaded.blocks[block.name] = self._content(block.entities, in_block=True)
        self.loaded.model = self._content(self.contents.model, in_block=False)
        return self.loaded

    def _content(self, entities: Sequence[Entity], *, in_block: bool) -> Content:
        content = Content()
        for entity in entities:
            self.loaded.taken[entity.type] += 1
            if entity.type == "POINT":
                content.shapes.append(self._point(entity))
            elif entity.type == "TEXT":
                content.shapes.append(self._text(entity))
            elif entity.type == "POLYLINE":
                self._polyline(entity, content)
            elif entity.type == "LINE":
                content.shapes.append(self._line(entity))
            elif entity.type == "INSERT":
                self._insert(entity, content, in_block=in_block)
            else:
                self._leave(entity.type, self._tags(entity))
        return content

    def _tags(self, entity: Entity) -> dict[int, str]:
        own = slice(entity.start, entity.body_end)
        tags = dict(zip(self.codes[own], self.values[own], strict=True))
        if 210 in tags and [float(tags.get(code, "0")) for code in (210, 220, 230)] != [0.0, 0.0, 1.0]:
            raise NotPlainError
        return tags

    def _layer(self, tags: dict[int, str]) -> str:
        return self._layer_key(tags.get(8, "0"))

    def _layer_key(self, name: str) -> str:
        key = self.layers.get(name)
        if key is None:
            key = self.layers[name] = layer_of(name)
        return key

    def _leave(self, kind: str, tags: dict[int, str]) -> None:
        self.loaded.unused[kind, self._layer(tags)] += 1

    def _point(self, entity: Entity) -> Shape:
        start, end = entity.start, entity.body_end
        if self.codes[start:end] == _BARE_POINT:  # most points of a drawing, and they are many
            _, layer, x, y = self.values[start:end]
            return Shape(self._layer_key(layer), "point", _place(x, y), entity="POINT")
        tags = self._tags(entity)
        return Shape(
            self._layer(tags),
            "point",
            _place(tags[10], tags[20]),
            z=_finite(tags.get(30)),
            thickness=_finite(tags.get(39)),
            angle_deg=_finite(tags.get(50)),
            entity="POINT",
        )

    def _text(self, entity: Entity) -> Shape:
        tags = self._tags(entity)
        x, y = text_anchor(lambda code: float(tags[code]), tags.__contains__)
        points = _place(tags[x], tags[y])
        return Shape(self._layer(tags), "text", points, text=plain_text(tags[1]), entity="TEXT")

    def _line(self, entity: Entity) -> Shape:
        tags = self._tags(entity)
        points = _sane([[float(tags[10]), float(tags[20])], [float(tags[11]), float(tags[21])]])
        return Shape(self._layer(tags), "path", points, entity="LINE")

    def _polyline(self, entity: Entity, content: Content) -> None:
        tags = self._tags(entity)
        flags = _flags(tags.get(70))
        if flags & ~FLAT_POLYLINE_FLAGS:
            raise NotPlainError
        raw = self._vertices(entity)
        self.loaded.taken["VERTEX"] += len(raw)
        points, closed = ring(raw, bool(flags & 1))
        if len(points) < 2:
            self._leave("POLYLINE", tags)
            return
        content.shapes.append(Shape(self._layer(tags), "path", points, closed, entity="POLYLINE"))

    def _vertices(self, entity: Entity) -> Points:
        start = entity.body_end
        codes = self.code_array[start : entity.end]
        if len(codes) % len(_BARE_VERTEX) == 0 and (codes.reshape(-1, len(_BARE_VERTEX)) == _BARE_VERTEX).all():
            x, y = (self.values[start + at : entity.end : len(_BARE_VERTEX)] for at in (2, 3))
            return _sane(np.column_stack((list(map(float, x)), list(map(float, y)))))
        numbers = {code: self._numbers(start, codes, code) for code in (10, 20, 42, 70)}
        count = int(np.count_nonzero(codes == 0))
        if not len(numbers[10]) == len(numbers[20]) == count or numbers[42].any() or numbers[70].any():
            raise NotPlainError
        return _sane(np.column_stack((numbers[10], numbers[20])))

    def _numbers(self, start: int, codes: npt.NDArray[np.int16], code: int) -> npt.NDArray[np.float64]:
        at = (np.flatnonzero(codes == code) + start).tolist()
        return np.array([float(self.values[index]) for index in at], dtype=np.float64)

    def _insert(self, entity: Entity, content: Content, *, in_block: bool) -> None:
        tags = self._tags(entity)
        if in_block or entity.end > entity.body_end or self._moves(tags, _IDENTITY_VALUES):
            raise NotPlainError
        target = self.contents.placed_by(entity)
        if target is None:
            self._leave("INSERT", tags)
            return
        content.inserts.append(Placement(target.name, IDENTITY))

    @staticmethod
    def _moves(tags: dict[int, str], codes: Sequence[int] | dict[int, float]) -> bool:
        """Tell whether any of the tags differs from the value that leaves a block where it is drawn."""
        return any(code in tags and float(tags[code]) != _IDENTITY_VALUES[code] for code in codes)


def _flags(value: str | None) -> int:
    return int(float(value)) if value else 0


def _finite(value: str | None) -> float:
    number = float(value) if value is not None else 0.0
    if not abs(number) <= LARGEST_COORDINATE:
        raise NotPlainError
    return number


def _place(x: str, y: str) -> Points:
    """Return one point; the checks on single numbers are far quicker than those on arrays."""
    point = np.array(((_finite(x), _finite(y)),))
    point.flags.writeable = False
    return point


def _sane(points: npt.ArrayLike) -> Points:
    array = frozen_points(points)
    if array.size and not np.abs(array).max() <= LARGEST_COORDINATE:
        raise NotPlainError
    return array
