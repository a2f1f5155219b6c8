"""What gets onto paper, as plain data in millimetres with y up: lines, words and whole pieces."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Final

import numpy as np

from geometry.affine import Affine, Point, Points, frozen_points
from geometry.curves import polyline


class LineKind(StrEnum):
    """What a line means."""

    CUTTING = "cutting"
    STITCHING = "stitching"
    FOLD = "fold"
    GRAIN = "grain"
    NOTCH = "notch"
    DART_LEG = "dart leg"
    DART_CENTRE = "dart centre"
    INNER = "inner"
    DRILL = "drill"
    ALTERATION = "alteration"
    LENGTHEN = "lengthen"
    ARROW_HEAD = "arrow head"
    FRAME = "frame"
    TRIM = "trim"
    JOIN = "join"
    JOIN_MARK = "join mark"
    TEST_SQUARE = "test square"
    RULE = "rule"
    MAP_SHEET = "map sheet"
    MAP_PIECE = "map piece"
    MAP_NUMBER = "map number"
    BEFORE = "before"
    AFTER = "after"


@dataclass(frozen=True, slots=True)
class LineStyle:
    """How a kind of line looks.

    Attributes:
        weight_mm: Width of the line; 0 for a shape that is only filled.
        dash_mm: Lengths of dash and gap in turn; empty for a solid line.
        grey: 0 is black, 1 is white.
        fill_grey: Grey of the inside of a closed line, or ``None`` for nothing.
    """

    weight_mm: float
    dash_mm: tuple[float, ...] = ()
    grey: float = 0.0
    fill_grey: float | None = None


LINE_STYLES: Final[dict[LineKind, LineStyle]] = {
    # Every line a person cuts or sews along differs from the others by weight and dash, never by colour alone:
    # solid cutting line, broken stitching line, as the open textbooks of the trade have it.
    LineKind.CUTTING: LineStyle(0.55),
    LineKind.STITCHING: LineStyle(0.3, (3.0, 1.6)),
    LineKind.FOLD: LineStyle(0.55, (9.0, 1.6, 1.6, 1.6)),
    LineKind.GRAIN: LineStyle(0.3),
    LineKind.NOTCH: LineStyle(0.45),
    LineKind.DART_LEG: LineStyle(0.4, (6.0, 1.6)),
    LineKind.DART_CENTRE: LineStyle(0.25, (6.0, 1.2, 0.8, 1.2)),
    LineKind.INNER: LineStyle(0.3, (10.0, 2.0)),
    LineKind.DRILL: LineStyle(0.3),
    LineKind.ALTERATION: LineStyle(0.45, (0.7, 1.3)),
    LineKind.LENGTHEN: LineStyle(0.25),
    LineKind.ARROW_HEAD: LineStyle(0.0, fill_grey=0.0),
    # The sheets themselves stay lighter than the pattern. Below 0.1 mm cheap printers drop lines.
    LineKind.FRAME: LineStyle(0.12, grey=0.6),
    LineKind.TRIM: LineStyle(0.2),
    LineKind.JOIN: LineStyle(0.12, (1.0, 1.0), grey=0.35),
    LineKind.JOIN_MARK: LineStyle(0.2, fill_grey=0.9),
    LineKind.TEST_SQUARE: LineStyle(0.3),
    LineKind.RULE: LineStyle(0.12, grey=0.35),
    LineKind.MAP_SHEET: LineStyle(0.15, grey=0.45),
    LineKind.MAP_PIECE: LineStyle(0.25),
    LineKind.MAP_NUMBER: LineStyle(0.15, fill_grey=1.0),
    LineKind.BEFORE: LineStyle(0.2, (1.8, 1.0), grey=0.25),
    LineKind.AFTER: LineStyle(0.4),
}
"""The one table of line weights and dashes, for paper and for the preview alike."""


SIZE_DASHES_MM: Final = (
    (8.0, 1.2), (3.0, 1.2), (8.0, 1.2, 1.0, 1.2), (1.4, 1.2), (8.0, 1.2, 3.0, 1.2), (8.0, 1.2, 1.0, 1.2, 1.0, 1.2),
    (3.0, 1.2, 1.0, 1.2), (3.0, 3.0),
)  # fmt: skip
"""Dashes of the cutting lines of further sizes, in their order; the first size has the plain line."""

LAYERS: Final = {
    LineKind.CUTTING: "Cutting line",
    LineKind.STITCHING: "Stitching line",
    LineKind.FOLD: "Fold",
    LineKind.DART_LEG: "Darts",
    LineKind.DART_CENTRE: "Darts",
    LineKind.NOTCH: "Notches",
    LineKind.GRAIN: "Grain",
    LineKind.ARROW_HEAD: "Grain",
    LineKind.INNER: "Lines inside a piece",
    LineKind.DRILL: "Drill holes and landmarks",
    LineKind.LENGTHEN: "Lengthen or shorten",
    LineKind.ALTERATION: "Alteration lines",
}
"""The layer of a file that each kind of line of the pattern is on."""

WORDS_LAYER: Final = "Words"


class Anchor(StrEnum):
    """Which end of its base line a label is placed by."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle in mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def width_mm(self) -> float:
        """From left to right."""
        return self.x1 - self.x0

    @property
    def height_mm(self) -> float:
        """From bottom to top."""
        return self.y1 - self.y0

    @property
    def centre(self) -> Point:
        """The middle."""
        return ((self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2)

    @property
    def ring(self) -> Points:
        """The four corners, counter-clockwise from the lower left."""
        return frozen_points([(self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)])

    def moved(self, dx: float, dy: float) -> Box:
        """The same box elsewhere."""
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)

    def inset(self, by_mm: float) -> Box:
        """A smaller box inside (larger where negative)."""
        return Box(self.x0 + by_mm, self.y0 + by_mm, self.x1 - by_mm, self.y1 - by_mm)

    def touches(self, other: Box) -> bool:
        """Whether the two share at least a point."""
        return self.x0 <= other.x1 and other.x0 <= self.x1 and self.y0 <= other.y1 and other.y0 <= self.y1


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """A line drawn through points of shape (n, 2).

    Attributes:
        points: The points.
        kind: What the line means.
        closed: Whether it runs back to the first of them.
        size: The size of the pattern it belongs to, "" for none.
        dash_mm: Its own dashes where sizes must be told apart, ``None`` for those of its kind.
    """

    points: Points
    kind: LineKind
    closed: bool = False
    size: str = ""
    dash_mm: tuple[float, ...] | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", frozen_points(self.points))

    @property
    def style(self) -> LineStyle:
        """How it looks."""
        style = LINE_STYLES[self.kind]
        return style if self.dash_mm is None else replace(style, dash_mm=self.dash_mm)

    @property
    def path(self) -> Points:
        """All the points to be joined, the first one again at the end of a closed line."""
        return np.vstack([self.points, self.points[:1]]) if self.closed else self.points

    @property
    def box(self) -> Box:
        """The upright rectangle round it."""
        return box_round([self.points])

    def carried(self, motion: Affine) -> Stroke:
        """The same line elsewhere."""
        return replace(self, points=motion.points(self.points))


@dataclass(frozen=True, slots=True)
class Label:
    """Words on one line.

    Attributes:
        at: Where the base line begins, has its middle or ends, as ``anchor`` says.
        text: The words.
        height_mm: Size of the type (its body, not the height of a capital).
        angle_deg: Turn of the base line, counter-clockwise.
        anchor: What ``at`` is.
        bold: Whether in the bold face.
        grey: 0 is black, 1 is white.
        size: The size of the pattern they belong to, "" for none.
    """

    at: Point
    text: str
    height_mm: float
    angle_deg: float = 0.0
    anchor: Anchor = Anchor.MIDDLE
    bold: bool = False
    grey: float = 0.0
    size: str = ""

    def carried(self, motion: Affine) -> Label:
        """The same words elsewhere, turned with the motion."""
        turned_deg = self.angle_deg + math.degrees(motion.angle_rad)
        return replace(self, at=motion.point(self.at), angle_deg=turned_deg)


@dataclass(frozen=True, slots=True)
class Drawing:
    """Lines and words that belong together."""

    strokes: tuple[Stroke, ...] = ()
    labels: tuple[Label, ...] = ()

    def __add__(self, other: Drawing) -> Drawing:
        """Both."""
        return Drawing(self.strokes + other.strokes, self.labels + other.labels)

    def of_size(self, size: str) -> Drawing:
        """The same drawing, all of it belonging to a size."""
        return Drawing(
            tuple(replace(stroke, size=size) for stroke in self.strokes),
            tuple(replace(label, size=size) for label in self.labels),
        )

    def by_size(self) -> dict[str, Drawing]:
        """Its parts by the size they belong to, in the order they are first met."""
        return _parts(self, lambda part: part.size)

    def by_layer(self) -> dict[str, Drawing]:
        """Its parts by the layer they are on, in the order of ``LAYERS``."""
        parts = _parts(self, lambda part: LAYERS[part.kind] if isinstance(part, Stroke) else WORDS_LAYER)
        return {name: parts[name] for name in (*dict.fromkeys(LAYERS.values()), WORDS_LAYER) if name in parts}

    def carried(self, motion: Affine) -> Drawing:
        """The same drawing elsewhere."""
        return Drawing(
            tuple(stroke.carried(motion) for stroke in self.strokes),
            tuple(label.carried(motion) for label in self.labels),
        )


@dataclass(frozen=True, slots=True)
class WordRow:
    """One row of a block of words; it may be wrapped and made smaller when the block is placed."""

    text: str
    height_mm: float
    bold: bool = False


@dataclass(frozen=True, slots=True)
class WordBlock:
    """What is written on a piece, not yet placed: that waits until it is known where the sheets join.

    Attributes:
        rows: From top to bottom.
        grain_deg: Direction of the grain; the words may run along it.
    """

    rows: tuple[WordRow, ...]
    grain_deg: float = 90.0

    def with_row(self, before: str, after: str) -> WordBlock:
        """The same block with one row saying something else."""
        return replace(self, rows=tuple(replace(row, text=after) if row.text == before else row for row in self.rows))


@dataclass(frozen=True, slots=True, eq=False)
class Spot:
    """Something small that must come out right: a dart or a notch.

    Attributes:
        words: What it is, for a sentence: "the waist dart".
        points: A chain of shape (n, 2) along it.
    """

    words: str
    points: Points

    def carried(self, motion: Affine) -> Spot:
        """The same elsewhere."""
        return Spot(self.words, motion.points(self.points))


@dataclass(frozen=True, slots=True, eq=False)
class PiecePicture:
    """One pattern piece as it is printed.

    Attributes:
        name: What the piece is called; unique among what is printed.
        drawing: Its lines, and the words that belong to one place.
        outline: Ring of shape (n, 2) round everything that must be on paper; not closed again at its end.
        quantity: How it is cut, for the list of pieces, for example ``"cut 2"``.
        words: The block of words still to be placed, ``None`` if there is none.
        spots: Its darts and notches.
        group: Pieces of one group lie together; "" belongs to none.
    """

    name: str
    drawing: Drawing
    outline: Points
    quantity: str = ""
    words: WordBlock | None = None
    spots: tuple[Spot, ...] = ()
    group: str = ""
    box: Box = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "outline", frozen_points(self.outline))
        object.__setattr__(self, "box", box_round([self.outline, *(stroke.points for stroke in self.drawing.strokes)]))

    @property
    def area_mm2(self) -> float:
        """Paper it takes at least."""
        return abs(polyline.signed_area_mm2(self.outline))

    def carried(self, motion: Affine) -> PiecePicture:
        """The same piece elsewhere."""
        turn_deg = math.degrees(motion.angle_rad)
        return replace(
            self,
            drawing=self.drawing.carried(motion),
            outline=motion.points(self.outline),
            words=replace(self.words, grain_deg=self.words.grain_deg + turn_deg) if self.words else None,
            spots=tuple(spot.carried(motion) for spot in self.spots),
        )


def _parts(drawing: Drawing, name_of: Callable[[Stroke | Label], str]) -> dict[str, Drawing]:
    strokes: dict[str, list[Stroke]] = {}
    labels: dict[str, list[Label]] = {}
    for stroke in drawing.strokes:
        strokes.setdefault(name_of(stroke), []).append(stroke)
    for label in drawing.labels:
        labels.setdefault(name_of(label), []).append(label)
    names = dict.fromkeys([*strokes, *labels])
    return {name: Drawing(tuple(strokes.get(name, ())), tuple(labels.get(name, ()))) for name in names}


def box_round(point_sets: Iterable[Points]) -> Box:
    """The smallest upright rectangle round all the points."""
    points = np.vstack(list(point_sets))
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    return Box(float(x0), float(y0), float(x1), float(y1))


def joined(drawings: Iterable[Drawing]) -> Drawing:
    """All of them as one."""
    parts = list(drawings)
    return Drawing(
        tuple(stroke for part in parts for stroke in part.strokes),
        tuple(label for part in parts for label in part.labels),
    )


def line(a: Point, b: Point, kind: LineKind) -> Stroke:
    """A straight line from a to b."""
    return Stroke(frozen_points([a, b]), kind)
