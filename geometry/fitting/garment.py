"""The pieces of a garment gathered by what they are, and level lines laid across them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from geometry.affine import Point
from geometry.alterations.handbook import landmarks
from geometry.alterations.handbook.landmarks import landmark
from geometry.alterations.handbook.panels import Panel, PieceRole, role_of
from geometry.errors import PatternError
from geometry.fitting.level_line import Stretch, level_beside_side_dart, level_line
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, layer_of, part_of
from geometry.model.pattern import Pattern

BUST_BELOW_UNDERARM_MM = 25.0
"""Where the bust line is taken if no bust point is marked: 2.5 cm below the underarm level (a published metric draft
of a close-fitting bodice)."""

_BANDS = (PieceRole.WAISTBAND, PieceRole.COLLAR)


@dataclass(frozen=True, slots=True)
class Across:
    """A level laid across one piece.

    Attributes:
        piece: Name of the piece.
        width_mm: How wide the piece is there, darts left out.
        times: How often that width comes round the body: twice for a half, once for a whole.
        parts: Where the line runs on the piece.
    """

    piece: str
    width_mm: float
    times: int
    parts: tuple[Stretch, ...]


class Garment:
    """A pattern's own pieces by role and by part, linings and facings left out."""

    def __init__(self, pattern: Pattern) -> None:
        own = [(role_of(piece), part_of(piece), Panel(piece)) for piece in pattern.pieces if layer_of(piece) == ""]
        self._own = tuple((role, part, panel) for role, part, panel in own if role not in _BANDS)

    def first(self, *roles: PieceRole) -> Panel | None:
        """The first piece of some roles, ``None`` if there is none."""
        return next((panel for wanted in roles for role, _, panel in self._own if role is wanted), None)

    def part(self, *parts: Part) -> tuple[Panel, ...]:
        """The pieces of some parts of the garment, bands and collars left out."""
        return tuple(panel for _, part, panel in self._own if part in parts)


def times_round(panel: Panel) -> int:
    """How often a piece comes round the body: twice if it lies on the fold or is cut twice."""
    return 2 if panel.piece.fold is not None or panel.piece.quantity > 1 else 1


def known(find: Callable[[], float | None]) -> float | None:
    """What is found, ``None`` where the piece does not tell."""
    try:
        return find()
    except PatternError:
        return None


def height_mm(panel: Panel, place: Point, origin: Point) -> float:
    """How far a place lies above another along a piece's centre line."""
    return panel.frame.seen(place, origin)[1]


def from_side(panel: Panel, place: Point) -> Across | None:
    """The level from a place on a seam straight through the piece to the other outline."""
    out = panel.frame.out
    lines = [level_line(panel.piece, place, (way * out[0], way * out[1])) for way in (-1.0, 1.0)]
    line = max((line for line in lines if line is not None), key=lambda line: line.length_mm, default=None)
    return None if line is None else Across(panel.name, line.length_mm, times_round(panel), line.parts)


def bust_level(garment: Garment) -> tuple[Across, ...]:
    """The level of the bust point round the bodice: front, side front, back, side back, as far as there are pieces.

    Where it meets the side seam is carried over to the neighbours by its distance below the underarm.
    """
    found: list[Across] = []
    drop_mm, front = BUST_BELOW_UNDERARM_MM, garment.first(PieceRole.FRONT_BODICE)
    if front is not None and front.has(EdgeRole.SIDE):
        told = _through_apex(front)
        if told is not None:
            drop_mm = told[1]
            found.append(told[0])
    for panel in garment.part(Part.BODICE):
        if panel.has(EdgeRole.SIDE) and panel.name not in {across.piece for across in found}:
            beside = from_side(panel, _below_underarm(panel, drop_mm))
            found += [beside] if beside else []
    centres = [panel for panel in garment.part(Part.BODICE) if not panel.has(EdgeRole.SIDE)]
    found += [across for panel in centres if (across := _at_bust_height(panel, garment, drop_mm)) is not None]
    return tuple(found)


def _through_apex(front: Panel) -> tuple[Across, float] | None:
    """The level through the bust point of a front with a side seam, and how far below the underarm it ends."""
    try:
        apex = front.point(landmark(front, landmarks.BUST_POINT))
    except PatternError:
        return None
    out = front.frame.out
    heading, over = level_beside_side_dart(front.piece, apex, out, front.frame.up)
    outer = level_line(front.piece, apex, heading, over=over)
    inner = level_line(front.piece, apex, (-out[0], -out[1]))
    if outer is None or inner is None or outer.edge.role is not EdgeRole.SIDE:
        return None
    piece, edge_id = front.piece, outer.edge.id
    station = piece.sewn_station_mm(edge_id, outer.at_mm)
    from_top = front.corner(EdgeRole.SIDE, EdgeRole.ARMHOLE).share == 0.0
    drop_mm = station if from_top else piece.sewn_length_mm(edge_id) - station
    across = Across(front.name, inner.length_mm + outer.length_mm, times_round(front), inner.parts + outer.parts)
    return across, drop_mm


def _below_underarm(panel: Panel, drop_mm: float) -> Point:
    """The place of a side seam so far below the underarm, darts folded."""
    edge = panel.edge(EdgeRole.SIDE, EdgeRole.ARMHOLE)
    is_down = panel.corner(EdgeRole.SIDE, EdgeRole.ARMHOLE).share == 0.0
    darts = panel.piece.darts_on(edge.id)
    at_mm = drop_mm
    for dart in darts if is_down else darts[::-1]:
        start_mm = dart.from_mm if is_down else edge.length_mm - dart.to_mm
        if start_mm < at_mm:
            at_mm += dart.to_mm - dart.from_mm
    return edge.point_at(at_mm if is_down else edge.length_mm - at_mm)


def _at_bust_height(panel: Panel, garment: Garment, drop_mm: float) -> Across | None:
    """The bust level across a panel without a side seam: as high above its waist as beside it."""
    beside = garment.first(PieceRole.SIDE_FRONT, PieceRole.SIDE_BACK)
    if beside is None or not (panel.has(EdgeRole.WAIST) and beside.has(EdgeRole.WAIST) and beside.has(EdgeRole.SIDE)):
        return None
    foot = beside.point(beside.corner(EdgeRole.SIDE, EdgeRole.WAIST))
    up_mm = height_mm(beside, _below_underarm(beside, drop_mm), foot)
    waist = panel.edge(EdgeRole.WAIST)
    x, y = waist.point_at(waist.length_mm / 2)
    dx, dy = panel.frame.step(0.0, up_mm)
    return across_both_ways(panel, (x + dx, y + dy))


def across_both_ways(panel: Panel, inside: Point) -> Across | None:
    """The level through a place inside a piece, to both sides."""
    out = panel.frame.out
    lines = [level_line(panel.piece, inside, (way * out[0], way * out[1])) for way in (-1.0, 1.0)]
    inner, outer = lines
    if inner is None or outer is None:
        return None
    width_mm = inner.length_mm + outer.length_mm
    return Across(panel.name, width_mm, times_round(panel), inner.parts + outer.parts)


def hip_level(garment: Garment) -> tuple[Across, ...]:
    """The level of the hip round skirt or trousers, or round a body cut without a waist seam."""
    found: list[Across] = []
    for panel in garment.part(Part.SKIRT, Part.TROUSERS):
        try:
            place = panel.point(landmark(panel, landmarks.HIP_AT_SIDE))
        except PatternError:
            continue
        across = from_side(panel, place)
        found += [across] if across else []
    return tuple(found) or marked_level(garment, "hip")


def marked_level(garment: Garment, word: str) -> tuple[Across, ...]:
    """The level of a line drawn inside bodice pieces whose id has the word: for dresses without a waist seam."""
    found: list[Across] = []
    for panel in garment.part(Part.BODICE):
        for line in panel.piece.inner_lines:
            if word in line.id.lower():
                (x0, y0), (x1, y1) = line.points[[0, -1]].tolist()
                across = across_both_ways(panel, ((x0 + x1) / 2, (y0 + y1) / 2))
                found += [across] if across else []
                break
    return tuple(found)


def round_mm(level: tuple[Across, ...]) -> float | None:
    """All the way round a level, ``None`` where no piece crosses it."""
    return sum(across.width_mm * across.times for across in level) or None
