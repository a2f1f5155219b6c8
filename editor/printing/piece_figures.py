"""Small drawings of pieces with their lengths, for the alteration sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from editor.by_hand import HandWork
from editor.printing import wording
from editor.printing.ink import ink_points
from editor.printing.lettering import CAPITAL, face
from editor.printing.picture import Anchor, Drawing, Label, LineKind, Stroke, box_round, line
from editor.printing.typesetting import PALE, SMALL_MM, Block
from editor.text import SEEN_MM, signed_length
from geometry.affine import Affine, Point, Points, frozen_points
from geometry.curves import polyline
from geometry.model.edge import Edge
from geometry.model.piece import Piece
from geometry.units import Unit, format_length

_LARGEST_SCALE: Final = 0.3
_WORDS_ROOM_MM: Final = 36.0
_WORDS_HIGH_MM: Final = 10.0
_OFFS_MM: Final = (2.2, 4.0, 7.0)
_SHARES: Final = (0.5, 0.4, 0.6, 0.3, 0.7)
"""How far from an edge and where along it its words may stand, in the order of liking."""
_AIR_MM: Final = 0.6
_ASIDE: Final = 0.15
"""Words go to the side of an edge that leans by more than this share."""
_DOT_MM: Final = 0.9


def before_and_after(before: Piece | None, after: Piece, unit: Unit, *, width_mm: float, height_mm: float) -> Block:
    """A piece as it is now with the length of every edge, over what it was before, broken."""
    pieces = [after] if before is None else [before, after]
    small, size = _fit(pieces, width_mm - 2 * _WORDS_ROOM_MM, height_mm - 2 * _WORDS_HIGH_MM)
    strokes = [stroke for piece in pieces[:-1] for stroke in _outline(piece, LineKind.BEFORE)]
    strokes += _outline(after, LineKind.AFTER)
    drawing = Drawing(tuple(strokes)).carried(small)
    drawing += Drawing((), tuple(_length_labels(before, after, small, unit)))
    aside = (width_mm - size[0]) / 2
    return Block(drawing.carried(Affine.moved(aside, -_WORDS_HIGH_MM)), size[1] + 2 * _WORDS_HIGH_MM)


def size_sentences(before: Piece | None, after: Piece, unit: Unit) -> tuple[str, ...]:
    """What no edge tells: how large the piece is as it lies, and how wide its darts are, with what changed."""
    old, new = (box_round([each.outline]) for each in (before or after, after))
    spans = ((old.width_mm, new.width_mm), (old.height_mm, new.height_mm))
    said = wording.extent(*(_told(was, now, unit) for was, now in spans))
    widths = {dart.id: before.intake_mm(dart) for dart in before.darts} if before else {}
    darts = [
        wording.dart_width(dart.id, _told(widths.get(dart.id), after.intake_mm(dart), unit)) for dart in after.darts
    ]
    return (said, f"{wording.capital(', '.join(darts))}.") if darts else (said,)


def _told(was_mm: float | None, now_mm: float, unit: Unit) -> str:
    """A length, with what it changed by where it did."""
    change_mm = 0.0 if was_mm is None else now_mm - was_mm
    length = format_length(now_mm, unit)
    return f"{length} ({signed_length(change_mm, unit)})" if abs(change_mm) >= SEEN_MM else length


def cutting_figure(work: HandWork, *, width_mm: float, height_mm: float) -> Block:
    """The piece with the lines it is cut along, what stays joined as dots, and what it becomes, broken."""
    small, size = _fit([work.before, work.after], width_mm, height_mm)
    strokes = [*_outline(work.after, LineKind.BEFORE), *_outline(work.before, LineKind.AFTER)]
    strokes += [Stroke(points, LineKind.ALTERATION) for points in work.cuts]
    drawing = Drawing(tuple(strokes)).carried(small)
    dots = Drawing(tuple(_dot(small.point(hinge)) for hinge in work.hinges))
    return Block((drawing + dots).carried(Affine.moved(0.0, -1.0)), size[1] + 4.0)


def figure_key(*, hands: bool) -> Block:
    """What the lines of these drawings mean."""
    first, second = (wording.NOW, wording.BEFORE) if not hands else (wording.BEFORE_STEP, wording.AFTER_STEP)
    kinds = [(LineKind.AFTER, first), (LineKind.BEFORE, second)]
    if hands:
        kinds.append((LineKind.ALTERATION, wording.CUT_HERE))
    x, strokes, labels = 0.0, [], []
    for kind, words in kinds:
        strokes.append(Stroke(frozen_points([(x, -1.4), (x + 10.0, -1.4)]), kind))
        labels.append(Label((x + 11.5, -1.4 - SMALL_MM * CAPITAL / 2), words, SMALL_MM, anchor=Anchor.START, grey=PALE))
        x += 11.5 + face().width_mm(words, SMALL_MM) + 6.0
    if hands:
        strokes.append(_dot((x + 1.0, -1.4)))
        at = (x + 3.0, -1.4 - SMALL_MM * CAPITAL / 2)
        labels.append(Label(at, wording.STAYS_JOINED, SMALL_MM, anchor=Anchor.START, grey=PALE))
    return Block(Drawing(tuple(strokes), tuple(labels)), 6.0, leads=True)


def _fit(pieces: list[Piece], width_mm: float, height_mm: float) -> tuple[Affine, tuple[float, float]]:
    """The motion that puts the pieces small below and right of (0, 0), and how large they get."""
    box = box_round([piece.outline for piece in pieces])
    scale = min(width_mm / box.width_mm, height_mm / box.height_mm, _LARGEST_SCALE)
    motion = Affine(scale, 0.0, 0.0, scale, -scale * box.x0, -scale * box.y1)
    return motion, (scale * box.width_mm, scale * box.height_mm)


def _outline(piece: Piece, kind: LineKind) -> list[Stroke]:
    """Its stitching line, the legs of its darts and, where it is drawn plain, its grain line."""
    legs = [frozen_points([a, dart.tip, b]) for dart in piece.darts for a, b in [piece.mouth(dart)]]
    doubles = [frozen_points([d.tip_start, d.left, d.tip_end, d.right]) for d in piece.double_darts]
    return [
        Stroke(piece.outline, kind, closed=True),
        *(Stroke(leg, kind) for leg in legs),
        *(Stroke(ring, kind, closed=True) for ring in doubles),
        *([line(piece.grain.start, piece.grain.end, LineKind.RULE)] if piece.grain and kind is LineKind.AFTER else []),
    ]


def _length_labels(before: Piece | None, after: Piece, small: Affine, unit: Unit) -> Iterator[Label]:
    """Beside every edge its name and its sewn length, in bold what it changed by, where no line and no word is."""
    lines = [stroke for piece in (before, after) if piece for stroke in _outline(piece, LineKind.AFTER)]
    taken = ink_points(Drawing(tuple(lines)).carried(small), every_mm=_AIR_MM)
    for edge in after.edges:
        is_new = before is None or edge.id not in {each.id for each in before.edges}
        now_mm = after.sewn_length_mm(edge.id)
        was_mm = None if is_new or before is None else before.sewn_length_mm(edge.id)
        changed = was_mm is not None and abs(now_mm - was_mm) >= SEEN_MM
        told = Label((0.0, 0.0), _told(was_mm, now_mm, unit), SMALL_MM, bold=changed)
        tries = [_beside(edge, share, off_mm, told, small) for off_mm in _OFFS_MM for share in _SHARES]
        labels = min(tries, key=lambda pair: _covered(pair, taken))  # the first of equals
        taken = np.vstack([taken, ink_points(Drawing((), labels))])
        yield from labels


def _beside(edge: Edge, share: float, off_mm: float, told: Label, small: Affine) -> tuple[Label, Label]:
    """The two lines of words at a place outside of an edge."""
    dx, dy = polyline.direction_at(edge.points, edge.length_mm * share)
    (x, y), (out_x, out_y) = small.point(edge.point_at(edge.length_mm * share)), (dy, -dx)
    anchor = Anchor.START if out_x > _ASIDE else Anchor.END if out_x < -_ASIDE else Anchor.MIDDLE
    drop = SMALL_MM * 1.25
    base = y + out_y * off_mm + (drop + 0.3 if out_y > 0.4 else -SMALL_MM * CAPITAL if out_y < -0.4 else 0.0)
    at = (x + out_x * off_mm, base)
    name = Label(at, edge.id, SMALL_MM, anchor=anchor, grey=PALE)
    return name, replace(told, at=(at[0], base - drop), anchor=anchor)


def _covered(labels: Sequence[Label], taken: Points) -> int:
    """How much of the lines and words that are there lies under the labels."""
    ink = ink_points(Drawing((), tuple(labels)))
    low, high = ink.min(axis=0) - _AIR_MM, ink.max(axis=0) + _AIR_MM
    return int(((taken > low) & (taken < high)).all(axis=1).sum())


def _dot(at: Point) -> Stroke:
    turns = np.linspace(0.0, 2 * np.pi, 16, endpoint=False)
    ring: Points = np.column_stack([at[0] + _DOT_MM * np.cos(turns), at[1] + _DOT_MM * np.sin(turns)])
    return Stroke(ring, LineKind.ARROW_HEAD, closed=True)
