"""Which text names what: words that lie on a thing are its name, the rest are labels of the piece.

Plain words at a point name, in this order, a drilled point, a dart's tip, a two-tipped dart, a notch (as the word
its partner shares) or a line; else the edge they lie on. "Keyword: value" says outright what is meant.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import IntEnum

import numpy as np

from editor.formats import piece_texts as texts
from editor.formats.drawing import Shape
from editor.formats.edge_ruler import EdgeRuler, OnEdge
from geometry.affine import Point, as_point
from geometry.model.dart import Pressed
from geometry.model.marks import Label


class Thing(IntEnum):
    """What can be named, in the order in which plain words are given out."""

    POINT = 0
    DART = 1
    DOUBLE_DART = 2
    NOTCH = 3
    LINE = 4


@dataclass(slots=True)
class Names:
    """The names found on one piece, by the number of what they name; ``outright`` are edges said to be called so."""

    edges: dict[int, str] = field(default_factory=dict)
    things: dict[tuple[Thing, int], str] = field(default_factory=dict)
    holes: dict[int, str] = field(default_factory=dict)
    notches: dict[int, str] = field(default_factory=dict)
    folds: list[int] = field(default_factory=list)
    grain: int | None = None
    pressed: dict[int, Pressed] = field(default_factory=dict)
    aimless: set[int] = field(default_factory=set)
    tucks: set[int] = field(default_factory=set)
    aims: dict[str, Point] = field(default_factory=dict)
    labels: list[Label] = field(default_factory=list)
    outright: set[int] = field(default_factory=set)

    def of(self, kind: Thing, index: int) -> str | None:
        """The name of a thing, ``None`` if it has none."""
        return self.things.get((kind, index))


@dataclass(frozen=True, slots=True)
class Nameable:
    """A point at which a text names a thing."""

    kind: Thing
    index: int
    at: Point


_KINDS = {texts.DART: (Thing.DART, Thing.DOUBLE_DART), texts.LINE: (Thing.LINE,), texts.PARTNER: (Thing.NOTCH,),
          texts.LANDMARK: (Thing.POINT,)}  # fmt: skip


def names_of(shapes: Sequence[Shape], nameables: Sequence[Nameable], ruler: EdgeRuler, slack_mm: float) -> Names:
    """The names that the texts of a piece give; piece and style fields are not looked at."""
    names = Names()
    if not shapes:
        return names
    places = np.array([shape.points[0] for shape in shapes])
    spots = np.array([thing.at for thing in nameables]).reshape(-1, 2)
    away = places[:, None, :] - spots[None, :, :]
    gaps = np.hypot(away[..., 0], away[..., 1])
    for shape, row, on_edge in zip(shapes, gaps, ruler.nearest(places), strict=True):
        close = np.flatnonzero(row <= slack_mm).tolist()
        near = sorted((nameables[index].kind, float(row[index]), index) for index in close)
        touching = [nameables[index] for _, _, index in near]
        _read(shape, touching, on_edge if on_edge.gap_mm <= slack_mm else None, names)
    return names


def _read(shape: Shape, touching: list[Nameable], on_edge: OnEdge | None, names: Names) -> None:
    place = as_point(shape.points[0])
    said = texts.field_of(shape.text)
    if said is None:
        if not _named_plainly(shape.text, touching, on_edge, names):
            names.labels.append(Label(shape.text, place))
    elif said.keyword == texts.ANNOTATION:
        names.labels.append(Label(said.value, place))
    elif said.keyword == texts.AIM and said.value != texts.NO_AIM:
        names.aims[said.value] = place
    elif said.keyword == texts.EDGE:
        if on_edge is not None:
            names.edges.setdefault(on_edge.edge, said.value)
            names.outright.add(on_edge.edge)
    else:
        _read_field(said, touching, names)


def _read_field(said: texts.Field, touching: list[Nameable], names: Names) -> None:
    for thing in touching:
        key = (thing.kind, thing.index)
        if thing.kind in _KINDS.get(said.keyword, ()) and key not in names.things:
            names.things[key] = said.value
            return
        if said.keyword == texts.DRILL and thing.kind is Thing.POINT and thing.index not in names.holes:
            names.holes[thing.index] = said.value
            return
        if said.keyword == texts.NOTCH and thing.kind is Thing.NOTCH and thing.index not in names.notches:
            names.notches[thing.index] = said.value
            return
        if said.keyword in (texts.AIM, texts.PRESSED, texts.STITCHED) and thing.kind is Thing.DART:
            _read_habit(said, thing.index, names)
            return


def _read_habit(said: texts.Field, dart: int, names: Names) -> None:
    if said.keyword == texts.AIM:
        names.aimless.add(dart)
    elif said.keyword == texts.STITCHED:
        names.tucks |= {dart} if said.value == texts.NOT_STITCHED else set()
    elif said.value in [pressed.value for pressed in Pressed]:
        names.pressed[dart] = Pressed(said.value)


def _named_plainly(text: str, touching: list[Nameable], on_edge: OnEdge | None, names: Names) -> bool:
    words = texts.plain_name(text)
    lines = [thing.index for thing in touching if thing.kind is Thing.LINE]
    if lines and names.grain is None and texts.says_grain(text):
        names.grain = lines[0]
        return True
    for thing in [] if texts.is_measure(text) else touching:
        if (thing.kind, thing.index) not in names.things:
            names.things[thing.kind, thing.index] = words
            return True
    if on_edge is None:
        return False
    if texts.says_fold(text):
        names.folds.append(on_edge.edge)
        return True
    if on_edge.edge in names.edges:
        return on_edge.edge in names.outright
    names.edges[on_edge.edge] = words
    return True
