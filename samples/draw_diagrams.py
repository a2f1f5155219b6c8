"""Draw a small picture of every alteration of the handbook: ``python -m samples.draw_diagrams``.

Each is carried out on our own sample pieces by an amount large enough to be seen: thin the outline before, dashed the
lines that are cut, bold the outline after, arrows where it moved most. All strokes are in the colour of the text.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from geometry.affine import Point, Points, distance_mm, frozen_points
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.handbook.alteration import Alteration, Layout
from geometry.alterations.handbook.bench import ChalkLine
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.panels import PieceRole
from geometry.alterations.handbook.registry import ENTRIES
from geometry.alterations.handbook.shifts import Shift, shifts
from geometry.alterations.single_pieces import CutSingle
from geometry.curves import polyline
from geometry.errors import PatternError
from geometry.model.dart import Dart
from geometry.model.marks import Notch
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples import draft_trousers
from samples.draft_dress import draft_nest
from samples.further_pieces import collars, dartless_dress, princess_front
from samples.size_table import SAMPLE_SIZE

FOLDER = Path(__file__).resolve().parents[1] / "resources" / "diagrams"

WIDE, HIGH = 240.0, 170.0
_MARGIN = 12.0
_CAPTION = 20.0
_BETWEEN = 34.0
_LETTER = 4.9
"""Room between pieces for arrows and names; width of a letter of a name."""
_MOST_PIECES = 3
_SEEN_SHARE = 0.055
"""How far things move in the picture, against the height of the pieces."""

_ARROW, _HEAD, _CLEAR, _ASIDE = 13.0, 4.0, 2.5, 5.0
_ARROWS_PER_PIECE = 2
_WORTH_AN_ARROW = 0.45
_NOTCH = 3.5
_ARROWS_APART_SHARE = 0.3

_TROUSERS = {PieceRole.FRONT_TROUSERS, PieceRole.BACK_TROUSERS}
_MOST_MM = {"B09": 14.0}
"""Where the most an entry takes would leave little of a piece: here of the shoulder beside the back dart."""

_SPECIAL = {"D03": dartless_dress, "D04": princess_front, "B06": collars, "B07": collars}


@dataclass(frozen=True, slots=True)
class Scene:
    """What is drawn of an alteration: pieces before and after, cuts, places that moved."""

    before: tuple[Piece, ...]
    after: tuple[Piece, ...]
    chalk: tuple[ChalkLine, ...]
    moved: tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a piece lies in the picture: its scale and what is added after scaling; y points down there."""

    scale: float
    dx: float
    dy: float

    def at(self, point: Point) -> Point:
        """A point of the piece in the picture."""
        return (point[0] * self.scale + self.dx, self.dy - point[1] * self.scale)


def diagram(entry: Entry) -> str:
    """The picture of an entry as SVG text."""
    scene = _scene(entry)
    places = _places(scene)
    rows = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {HIGH:g}" fill="none" stroke="currentColor"'
        ' stroke-linejoin="round" stroke-linecap="round">',
        f"<title>{entry.code} {entry.name}</title>",
    ]
    for before, after in zip(scene.before, scene.after, strict=True):
        place = places[before.name]
        rows += ['<g stroke-width="0.9" stroke-opacity="0.6">', *_piece(before, place), "</g>"]
        rows += ['<g stroke-width="1.9">', *_piece(after, place), "</g>"]
        cuts = [line.points for line in scene.chalk if line.piece == before.name]
        if cuts:
            rows += ['<g stroke-width="1.3" stroke-dasharray="5 3">', *(_path(cut, place) for cut in cuts), "</g>"]
        arrows = _arrows([shift for shift in scene.moved if shift.piece == before.name], before, after, place)
        rows += ['<g stroke-width="1.4">', *arrows, "</g>"] if arrows else []
        rows.append(_caption(before, place))
    return "\n".join([*rows, "</svg>", ""])


def _scene(entry: Entry) -> Scene:
    """The alteration by an amount that can be seen, or as near to it as can be done."""
    pattern = _pattern(entry)
    for amount in _amounts(entry, pattern):
        step = Alteration(entry.code, amount)
        layout = step.laid_out(pattern)
        if not layout.trouble:
            return _carried_out(pattern, layout)
    raise PatternError(f"{entry.code} cannot be carried out on the sample pieces.", code="no-diagram")


def _pattern(entry: Entry) -> Pattern:
    if entry.code in _SPECIAL:
        return _SPECIAL[entry.code](SAMPLE_SIZE)
    if set(entry.touches) <= _TROUSERS | {PieceRole.WAISTBAND}:
        return draft_trousers.draft_nest().sample
    return draft_nest().sample


def _amounts(entry: Entry, pattern: Pattern) -> Iterator[float]:
    tallest = max(_size(piece)[1] for piece in pattern.pieces)
    usual, most = entry.amount.default_mm, _MOST_MM.get(entry.code, entry.amount.most_mm)
    seen = max(usual, min(most, tallest * _SEEN_SHARE))
    yield from (usual + (seen - usual) * share for share in (1.0, 0.8, 0.6, 0.4, 0.2, 0.0))


def _carried_out(pattern: Pattern, layout: Layout) -> Scene:
    """Pieces that are first cut single are shown so before as well; a corner trued in the end is left out."""
    before = after = pattern
    for step in layout.steps:
        if isinstance(step, JoinCorner):
            continue
        after = step.apply(after).pattern
        if isinstance(step, CutSingle):
            before = after
    moved = shifts(before, after)
    changed = {piece.name for piece in after.pieces} & {piece.name for piece in before.pieces}
    known = {piece.name: piece for piece in after.pieces}
    shown = [piece for piece in before.pieces if piece.name in changed and _differs(piece, known[piece.name])]
    shown = shown[:_MOST_PIECES]
    return Scene(tuple(shown), tuple(known[piece.name] for piece in shown), layout.chalk, moved)


def _differs(before: Piece, after: Piece) -> bool:
    return before is not after and (
        before.outline.shape != after.outline.shape
        or float(np.abs(before.outline - after.outline).max()) > 0.5
        or before.darts != after.darts
        or before.notches != after.notches
    )


# -- where things lie


def _size(piece: Piece) -> Point:
    x0, y0, x1, y1 = piece.bounds_mm
    return (x1 - x0, y1 - y0)


def _places(scene: Scene) -> dict[str, Place]:
    """Pieces side by side at one scale, in the middle of the picture."""
    boxes = [_box(pair) for pair in zip(scene.before, scene.after, strict=True)]
    room_x = WIDE - _BETWEEN * len(boxes)
    room_y = HIGH - 2 * _MARGIN - _CAPTION
    scale = min(room_x / sum(x1 - x0 for x0, _, x1, _ in boxes), room_y / max(y1 - y0 for _, y0, _, y1 in boxes))
    slots = [
        max((x1 - x0) * scale + _BETWEEN, _LETTER * len(piece.name))
        for piece, (x0, _, x1, _) in zip(scene.before, boxes, strict=True)
    ]
    left = (WIDE - sum(slots)) / 2
    places = {}
    for piece, slot, (x0, y0, x1, y1) in zip(scene.before, slots, boxes, strict=True):
        top = _MARGIN + (room_y - (y1 - y0) * scale) / 2
        places[piece.name] = Place(scale, left + slot / 2 - (x0 + x1) / 2 * scale, top + y1 * scale)
        left += slot
    return places


def _box(pieces: Iterable[Piece]) -> tuple[float, float, float, float]:
    x0, y0, x1, y1 = zip(*(piece.bounds_mm for piece in pieces), strict=True)
    return (min(x0), min(y0), max(x1), max(y1))


# -- what is drawn


def _piece(piece: Piece, place: Place) -> list[str]:
    """Its outline with open mouths of darts, and their legs."""
    rows = []
    for edge in piece.edges:
        darts = sorted(piece.darts_on(edge.id), key=lambda dart: dart.from_mm)
        ends = [0.0, *(end for dart in darts for end in (dart.from_mm, dart.to_mm)), edge.length_mm]
        for start, end in zip(ends[::2], ends[1::2], strict=True):
            if end - start > 0.1:
                rows.append(_path(polyline.part_between(edge.points, start, end), place))
        rows += [_legs(piece, dart, place) for dart in darts]
    return rows + [_notch(piece, notch, place) for notch in piece.notches]


def _notch(piece: Piece, notch: Notch, place: Place) -> str:
    """A tick into the piece."""
    (x, y), (dx, dy) = piece.notch_point(notch), polyline.direction_at(piece.edge(notch.edge).points, notch.at_mm)
    reach = _NOTCH / place.scale
    return _path(np.array([(x, y), (x - dy * reach, y + dx * reach)]), place)


def _legs(piece: Piece, dart: Dart, place: Place) -> str:
    start, end = piece.mouth(dart)
    return _path(np.array([start, dart.tip, end]), place)


def _path(chain: Points, place: Place) -> str:
    points = _thinned([place.at((x, y)) for x, y in chain.tolist()])
    return f'<path d="M{" ".join(f"{x:.1f},{y:.1f}" for x, y in points)}"/>'


def _thinned(points: list[Point], within: float = 0.12) -> list[Point]:
    """Fewer points of a chain, none left out farther than that from it."""
    if len(points) < 3:
        return points
    (ax, ay), (bx, by) = points[0], points[-1]
    chord = distance_mm(points[0], points[-1])
    if chord < within:
        gaps = [distance_mm(points[0], point) for point in points[1:-1]]
    else:
        gaps = [abs((bx - ax) * (ay - y) - (ax - x) * (by - ay)) / chord for x, y in points[1:-1]]
    far = max(range(len(gaps)), key=gaps.__getitem__) + 1
    if gaps[far - 1] <= within:
        return [points[0], points[-1]]
    return [*_thinned(points[: far + 1], within)[:-1], *_thinned(points[far:], within)]


def _arrows(moved: list[Shift], before: Piece, after: Piece, place: Place) -> list[str]:
    """Arrows at the places that moved most, well apart from each other."""
    apart = max(_size(before)) * _ARROWS_APART_SHARE
    chosen: list[Shift] = []
    for shift in moved:
        if shift.length_mm < moved[0].length_mm * _WORTH_AN_ARROW or len(chosen) == _ARROWS_PER_PIECE:
            break
        if all(distance_mm(shift.before, other.before) > apart for other in chosen):
            chosen.append(shift)
    return [
        row for shift in chosen for row in _arrow(*_beside(_arrow_ends(shift, before, place), before, after, place))
    ]


def _arrow_ends(shift: Shift, before: Piece, place: Place) -> tuple[Point, Point]:
    """Tail and head: outside the piece, away from it where it grows, towards it where it shrinks; inside, ahead."""
    (x0, y0), (x1, y1) = place.at(shift.before), place.at(shift.after)
    length = max(np.hypot(x1 - x0, y1 - y0), 0.1)
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    grows = not polyline.contains(before.outline, np.array([shift.after]))[0]
    if grows or before.nearest_edge(shift.before)[2] * place.scale > _CLEAR:
        tail = (x1 + ux * _CLEAR, y1 + uy * _CLEAR)
        return tail, (tail[0] + ux * _ARROW, tail[1] + uy * _ARROW)
    head = (x0 - ux * _CLEAR, y0 - uy * _CLEAR)
    return (head[0] - ux * _ARROW, head[1] - uy * _ARROW), head


def _beside(ends: tuple[Point, Point], before: Piece, after: Piece, place: Place) -> tuple[Point, Point]:
    """An arrow that would lie on a line of the picture put beside it, on the side where there is more room."""
    (x0, y0), (x1, y1) = ends
    lines = [[place.at((x, y)) for x, y in piece.outline.tolist()] for piece in (before, after)]
    lines += [
        [place.at(point) for point in (start, dart.tip, end)]
        for piece in (before, after)
        for dart in piece.darts
        for start, end in [piece.mouth(dart)]
    ]
    chains = [frozen_points(line) for line in lines]
    nx, ny = -(y1 - y0) / _ARROW * _ASIDE, (x1 - x0) / _ARROW * _ASIDE
    moves = [(0.0, 0.0), *((side * by * nx, side * by * ny) for by in (1.0, 1.5, 2.0) for side in (1, -1))]

    def room(move: Point) -> float:
        middle = [(x0 + (x1 - x0) * share + move[0], y0 + (y1 - y0) * share + move[1]) for share in (0.3, 0.6, 1.0)]
        return min(polyline.nearest(chain, each)[1] for chain in chains for each in middle)

    best = next((move for move in moves if room(move) >= _CLEAR - 0.1), max(moves, key=room))
    return (x0 + best[0], y0 + best[1]), (x1 + best[0], y1 + best[1])


def _arrow(tail: Point, head: Point) -> list[str]:
    """A shaft with a solid head."""
    ux, uy = (head[0] - tail[0]) / _ARROW, (head[1] - tail[1]) / _ARROW
    wings = [
        (head[0] - ux * _HEAD + side * uy * _HEAD * 0.6, head[1] - uy * _HEAD - side * ux * _HEAD * 0.6)
        for side in (1, -1)
    ]
    shaft = f"M{tail[0]:.1f},{tail[1]:.1f} {head[0] - ux * _HEAD:.1f},{head[1] - uy * _HEAD:.1f}"
    tip = " ".join(f"{x:.1f},{y:.1f}" for x, y in (head, *wings))
    return [f'<path d="{shaft}"/>', f'<path d="M{tip}Z" fill="currentColor" stroke="none"/>']


def _caption(piece: Piece, place: Place) -> str:
    x0, _, x1, _ = piece.bounds_mm
    x = (place.at((x0, 0.0))[0] + place.at((x1, 0.0))[0]) / 2
    return (
        f'<text x="{x:.1f}" y="{HIGH - 5:g}" font-size="8.5" text-anchor="middle" fill="currentColor" stroke="none"'
        f' font-family="sans-serif">{piece.name}</text>'
    )


def write_diagrams(folder: Path) -> None:
    """Draw every entry into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for entry in ENTRIES:
        (folder / f"{entry.code}.svg").write_text(diagram(entry), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write_diagrams(FOLDER)
    print(f"Drawn: {len(ENTRIES)} pictures")
