"""Pieces told by what they are, and places on them told by the edges that meet there."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from geometry.affine import Point, midpoint, unit_vector
from geometry.alterations.anchors import Anchor, On, on_edge, resolve
from geometry.alterations.frame import Frame
from geometry.alterations.redraw import Pull
from geometry.curves import polyline
from geometry.curves.crossing import met_by_line
from geometry.errors import StepError
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import Part, half_of, hand_in, is_beside, is_beside_in, layer_of, part_of
from geometry.model.gores import side_seam_edge
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

_COLLAR = re.compile(r"\b(collar|neckband|stand)\b")
_WAISTBAND = re.compile(r"\b(waistband|waist band)\b")
_CLEAR_MM = 15.0
"""A cut keeps this far from the mouth of a dart it does not belong to; own choice."""

_TOPS = (EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.CAP, EdgeRole.WAIST)
_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


class PieceRole(StrEnum):
    """What a piece is on the garment; linings have the role of the piece they line."""

    FRONT_BODICE = "front bodice"
    BACK_BODICE = "back bodice"
    SIDE_FRONT = "side front"
    SIDE_BACK = "side back"
    SLEEVE = "sleeve"
    COLLAR = "collar"
    FRONT_FACING = "front facing"
    BACK_FACING = "back facing"
    FRONT_SKIRT = "front skirt"
    BACK_SKIRT = "back skirt"
    WAISTBAND = "waistband"
    FRONT_TROUSERS = "front trousers"
    BACK_TROUSERS = "back trousers"


def role_of(piece: Piece) -> PieceRole | None:
    """What a piece is, told from the words of its name and the roles of its edges; ``None`` if they do not tell."""
    return _role(piece.name.lower(), half_of(piece), layer_of(piece), part_of(piece))


def hands_of(piece: Piece) -> tuple[str, ...]:
    """The halves of the body that a piece holds: both if all its edges are called left or right, else "" for either."""
    words = dict.fromkeys(hand_in(edge.id) for edge in piece.edges)
    return ("",) if "" in words else tuple(words)


@lru_cache
def _role(words: str, half: str, layer: str, part: Part | None) -> PieceRole | None:
    if _COLLAR.search(words):
        return PieceRole.COLLAR
    if _WAISTBAND.search(words):
        return PieceRole.WAISTBAND
    if layer == "facing":
        return {"front": PieceRole.FRONT_FACING, "back": PieceRole.BACK_FACING}.get(half)
    if is_beside_in(words):
        return PieceRole.SIDE_BACK if half == "back" else PieceRole.SIDE_FRONT
    if part is Part.SLEEVE:
        return PieceRole.SLEEVE
    return PieceRole(f"{half} {part.value}") if part and half else None


@dataclass(frozen=True, slots=True)
class Panel:
    """A piece seen by the roles of its edges, whichever way round it lies.

    Attributes:
        piece: The piece.
        hand: "left" or "right" to see only that half of a piece that holds both; its edge ids begin with the word.
    """

    piece: Piece
    hand: str = ""

    @property
    def name(self) -> str:
        """The name of the piece."""
        return self.piece.name

    def edges(self, role: EdgeRole) -> tuple[Edge, ...]:
        """Its edges of a role, in ring order; may be empty."""
        edges = self.piece.edges_with_role(role)
        return tuple(edge for edge in edges if hand_in(edge.id) == self.hand) if self.hand else edges

    def has(self, role: EdgeRole) -> bool:
        """Whether it has an edge of a role."""
        return bool(self.edges(role))

    def edge(self, role: EdgeRole, beside: EdgeRole | None = None) -> Edge:
        """The edge of a role; with ``beside`` the one that touches an edge of that role.

        Of the two long edges of a gore the one at the side seam is taken.

        Raises:
            StepError: there is none.
        """
        found = self.edges(role)
        if beside is not None:
            found = tuple(edge for edge in found if any(self._touches(edge, other) for other in self.edges(beside)))
        if not found:
            where = f" beside the {beside.value}" if beside is not None and self.has(role) else ""
            raise StepError(
                f'On "{self.name}" no edge is known as the {role.value}{where}; say which edge is the {role.value}.'
            )
        at_side = side_seam_edge(self.piece, ()) if role is EdgeRole.SIDE and is_beside(self.piece) else None
        return next((edge for edge in found if edge is at_side), found[0])

    def sewn_mm(self, role: EdgeRole) -> float:
        """Length of its edges of a role together, darts folded."""
        return sum(self.piece.sewn_length_mm(edge.id) for edge in self.edges(role))

    def corner(self, role: EdgeRole, beside: EdgeRole) -> Anchor:
        """The corner where an edge of a role meets its neighbour of another role."""
        edge = self.edge(role, beside)
        return on_edge(edge.id, 0.0 if self._starts_at(edge, beside) else 1.0)

    def along(self, role: EdgeRole, share: float, beside: EdgeRole) -> Anchor:
        """A place at a share of an edge's length, counted from its corner with another."""
        edge = self.edge(role, beside)
        return on_edge(edge.id, share if self._starts_at(edge, beside) else 1.0 - share)

    def along_mm(self, role: EdgeRole, at_mm: float, beside: EdgeRole) -> Anchor:
        """A place at a length along an edge, counted from its corner with another; its far end where that is nearer."""
        length = self.edge(role, beside).length_mm
        return self.along(role, min(at_mm / length, 1.0), beside)

    def clear(self, role: EdgeRole, share: float, beside: EdgeRole) -> Anchor:
        """The place nearest a share of an edge's length, counted from its corner with another, beyond a dart."""
        edge = self.edge(role, beside)
        at_mm = (share if self._starts_at(edge, beside) else 1.0 - share) * edge.length_mm
        for dart in self.piece.darts_on(edge.id):
            low, high = dart.from_mm - _CLEAR_MM, dart.to_mm + _CLEAR_MM
            if low < at_mm < high:
                at_mm = high if self._starts_at(edge, beside) else low
        return on_edge(edge.id, min(max(at_mm / edge.length_mm, 0.0), 1.0))

    def below(self, anchor: Anchor, by_mm: float) -> Point:
        """The point so far below a place, along the centre line's direction."""
        x, y = self.point(anchor)
        dx, dy = self.frame.step(0.0, -by_mm)
        return x + dx, y + dy

    def middle(self, role: EdgeRole) -> Anchor:
        """The middle of an edge."""
        return on_edge(self.edge(role).id, 0.5)

    @property
    def centre(self) -> Anchor:
        """The middle of the centre line, which usually stays; without one, of the fold, else of the first edge."""
        for role in _CENTRES:
            if self.has(role):
                return self.middle(role)
        if self.hand:
            return self._meeting()
        return on_edge(self.piece.fold or self.piece.edges[0].id, 0.5)

    def across(self, role: EdgeRole, share: float) -> Anchor:
        """The place of the outline straight across the piece from a place on an edge."""
        edge = self.edge(role)
        x, y = edge.point_at(share * edge.length_mm)
        ahead = self.inward(role, share)
        return self._chord((x + ahead[0], y + ahead[1]), ahead)[1]

    def point(self, anchor: Anchor) -> Point:
        """Where an anchor is."""
        return resolve(self.piece, anchor)

    def mouth(self, dart_id: str) -> Anchor:
        """The middle of a dart's mouth."""
        dart = self.piece.dart(dart_id)
        return on_edge(dart.edge, (dart.from_mm + dart.to_mm) / 2 / self.piece.edge(dart.edge).length_mm)

    def dart_on(self, role: EdgeRole) -> str | None:
        """The id of the widest dart that opens on an edge of a role, ``None`` if there is none."""
        darts = [dart for edge in self.edges(role) for dart in self.piece.darts_on(edge.id)]
        widest = max(darts, key=self.piece.intake_mm, default=None)
        return widest.id if widest else None

    def next_stop(self, role: EdgeRole, beside: EdgeRole) -> Anchor:
        """Along an edge from its corner with another: the nearest dart mouth or notch, else its far end."""
        edge = self.edge(role, beside)
        marks = [at_mm for dart in self.piece.darts_on(edge.id) for at_mm in (dart.from_mm, dart.to_mm)]
        marks += [notch.at_mm for notch in self.piece.notches_on(edge.id)]
        if self._starts_at(edge, beside):
            return on_edge(edge.id, min([*marks, edge.length_mm]) / edge.length_mm)
        return on_edge(edge.id, max([*marks, 0.0]) / edge.length_mm)

    def inward(self, role: EdgeRole, share: float) -> Point:
        """Unit direction square to an edge into the piece, at a share of its length in ring order."""
        edge = self.edge(role)
        dx, dy = polyline.direction_at(edge.points, share * edge.length_mm)
        return -dy, dx

    def tapered(
        self, role: EdgeRole, beside: EdgeRole, at_corner: Point, at_other_end: Point = (0.0, 0.0)
    ) -> list[Pull]:
        """An edge moved by one vector at its corner with another and by a second at its other end, evenly between.

        A dart on it goes along unbent: both ends of its mouth move alike.
        """
        edge = self.edge(role, beside)
        first, last = (at_corner, at_other_end) if self._starts_at(edge, beside) else (at_other_end, at_corner)
        pulls = [Pull(on_edge(edge.id, 0.0), *first), Pull(on_edge(edge.id, 1.0), *last)]
        for dart in self.piece.darts_on(edge.id):
            share = (dart.from_mm + dart.to_mm) / 2 / edge.length_mm
            way = first[0] + share * (last[0] - first[0]), first[1] + share * (last[1] - first[1])
            pulls += [Pull(on_edge(edge.id, at_mm / edge.length_mm), *way) for at_mm in (dart.from_mm, dart.to_mm)]
        return pulls

    def towards(self, start: Anchor, end: Anchor, by_mm: float) -> Pull:
        """A place pulled straight towards another one (negative: away from it)."""
        ux, uy = unit_vector(self.point(start), self.point(end))
        return Pull(start, ux * by_mm, uy * by_mm)

    @property
    def frame(self) -> Frame:
        """Directions out from the centre line and up along it; trousers and sleeves go by their grain, else by y."""
        start, end = self._axis()
        top = next((self.edges(role)[0] for role in _TOPS if self.has(role)), self.piece.edges[0])
        return Frame.along(start, end, out_towards=self._out(start, end), up_towards=top.point_at(top.length_mm / 2))

    def level(self, inside: Point) -> tuple[Anchor, Anchor]:
        """The ends of the level line through a place inside: towards the centre line, and away from it.

        Raises:
            StepError: the line does not cross the piece there.
        """
        return self._chord(inside, self.frame.out)

    def plumb(self, inside: Point) -> tuple[Anchor, Anchor]:
        """The ends of the line through a place inside along the centre line's direction: lower, upper.

        Raises:
            StepError: the line does not cross the piece there.
        """
        return self._chord(inside, self.frame.up)

    def _chord(self, inside: Point, ahead: Point) -> tuple[Anchor, Anchor]:
        """The nearest places of the outline behind and ahead of a place inside."""
        behind: tuple[float, Anchor] | None = None
        beyond: tuple[float, Anchor] | None = None
        for edge in self.piece.edges:
            for along_mm, at_mm in met_by_line(edge.points, inside, ahead):
                if along_mm <= SAME_POINT_MM and (behind is None or along_mm > behind[0]):
                    behind = along_mm, on_edge(edge.id, at_mm / edge.length_mm)
                elif along_mm > SAME_POINT_MM and (beyond is None or along_mm < beyond[0]):
                    beyond = along_mm, on_edge(edge.id, at_mm / edge.length_mm)
        if behind is None or beyond is None:
            raise StepError(f'A line to cut along misses "{self.name}" there; choose a place inside the piece.')
        return behind[1], beyond[1]

    def pull(self, at: Anchor, *, out_mm: float = 0.0, up_mm: float = 0.0) -> Pull:
        """A place of the outline moved out from the centre line and up along it; without a distance, held."""
        if out_mm == 0.0 and up_mm == 0.0:
            return Pull(at)
        return Pull(at, *self.frame.step(out_mm, up_mm))

    def ring_place(self, anchor: Anchor) -> float:
        """Where on the outline a place is, as number of its edge and share of that edge; the nearest, if inside."""
        number_of = {edge.id: number for number, edge in enumerate(self.piece.edges)}
        if anchor.on is On.EDGE and anchor.name in number_of:
            return number_of[anchor.name] + anchor.share
        if anchor.on is On.NOTCH:
            notch = self.piece.notch(anchor.name)
            return number_of[notch.edge] + notch.at_mm / self.piece.edge(notch.edge).length_mm
        edge, at_mm, _ = self.piece.nearest_edge(self.point(anchor))
        return number_of[edge.id] + at_mm / edge.length_mm

    def _touches(self, edge: Edge, other: Edge) -> bool:
        ring = self.piece.edges
        gap = (ring.index(edge) - ring.index(other)) % len(ring)
        return gap in (1, len(ring) - 1)

    def _starts_at(self, edge: Edge, beside: EdgeRole) -> bool:
        ring = self.piece.edges
        return ring[ring.index(edge) - 1] in self.edges(beside)

    def _meeting(self) -> Anchor:
        """On a piece that holds both halves, a corner where they meet."""
        ring = self.piece.edges
        return next(
            on_edge(edge.id, 0.0)
            for number, edge in enumerate(ring)
            if hand_in(edge.id) == self.hand and hand_in(ring[number - 1].id) != self.hand
        )

    def _axis(self) -> tuple[Point, Point]:
        centres = [edge for role in _CENTRES for edge in self.piece.edges_with_role(role)]
        if self.piece.fold is not None:
            centres = [self.piece.edge(self.piece.fold)]
        if self.piece.grain is not None and (not centres or self.has(EdgeRole.INSEAM)):
            return self.piece.grain.start, self.piece.grain.end
        return (centres[0].start, centres[0].end) if centres else ((0.0, 0.0), (0.0, 1.0))

    def _out(self, start: Point, end: Point) -> Point:
        """A place away from the centre line: on the side or the armhole, else the front of a sleeve."""
        for role in (EdgeRole.SIDE, EdgeRole.ARMHOLE):
            if self.has(role):
                edge = self.edge(role)
                return edge.point_at(edge.length_mm / 2)
        fronts = [edge for edge in self.piece.edges if "front" in edge.id.lower()]
        edge = fronts[0] if fronts else self.piece.edges[0]
        middle = edge.point_at(edge.length_mm / 2)
        return middle if middle != midpoint(start, end) else edge.start
