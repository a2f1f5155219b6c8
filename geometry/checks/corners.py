"""Corners: the line that a seam crosses runs smoothly over it, and squarely over the fold."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from geometry.affine import Point, Points, frozen_points, unit_vector
from geometry.checks.limits import Limits
from geometry.checks.line_shape import headings_rad, peak_mm
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Walk
from geometry.checks.wording import mm, side
from geometry.curves import polyline
from geometry.findings import Finding, Level
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import Seam, SeamSide
from geometry.model.piece import Piece

_CROSSING = (EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.WAIST, EdgeRole.HEM, EdgeRole.CAP, EdgeRole.CROTCH)
"""Lines of a garment that go on smoothly where a seam crosses them."""

_MEANT_RAD = math.radians(45.0)
"""A corner sharper than this was designed so: a pointed hem, a V at the neck; own choice."""

_V_DEG = 20.0
"""An edge that leaves the fold by more than this from square was designed so; own choice."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A piece where a seam ends: the edges that meet there, and at which end of its edge the crossing one does."""

    piece: Piece
    before: Edge
    after: Edge
    at: str

    @property
    def crossing(self) -> Edge:
        """The edge that crosses the seam."""
        return self.before if self.at == "end" else self.after

    @property
    def inside_rad(self) -> float:
        """Angle inside the piece, 0 to a full turn."""
        return (headings_rad(self.before.points)[1] - headings_rad(self.after.points)[0]) % math.tau

    def turn_rad(self, other: Corner) -> float:
        """By how much the crossing line turns from this piece to another, laid against it; to the outside negative."""
        return self.inside_rad + other.inside_rad - math.pi

    @property
    def place(self) -> Point:
        """Where the seam ends on this piece."""
        return self.crossing.start if self.at == "start" else self.crossing.end


def corner_across_seam(subject: Subject) -> Iterator[Finding]:
    """Lines that make a corner where a seam crosses them, the two pieces laid together.

    The finding is about (edge, "start" or "end", other piece, other edge, its end).
    """
    whole = {piece.name: piece for piece in subject.whole}
    for walk in subject.walks:
        for first, second in standing_corners(whole, walk.seam, subject.limits):
            yield _peak(subject, walk, first, second)


def standing_corners(pieces: Mapping[str, Piece], seam: Seam, limits: Limits) -> Iterator[tuple[Corner, Corner]]:
    """Where a line makes a corner across an end of a seam: how each side stands there; nothing for a corner meant so.

    Given pieces by name; a seam that names another piece or edge has none.
    """
    if any(ref.piece not in pieces for ref in (*seam.first, *seam.second)):
        return
    one, other = seam.sides
    for last in (False, True):
        if not (one.ends_at_corner(at_end=last) and other.ends_at_corner(at_end=last)):
            continue
        first, second = _corner(pieces, one, last), _corner(pieces, other, last)
        if first is None or second is None or first.crossing.role is not second.crossing.role:
            continue
        if first.crossing.role in _CROSSING:
            turn_rad = first.turn_rad(second)
            if peak_mm(turn_rad, limits.peak_reach_mm) > limits.peak_mm and abs(turn_rad) <= _MEANT_RAD:
                yield first, second


def off_square(piece: Piece, limits: Limits) -> Iterator[tuple[Edge, str, float]]:
    """Edges that do not leave the fold squarely: edge, "start" or "end", how far it runs along the fold, mm."""
    if piece.fold is None:
        return
    run_mm = limits.square_run_mm
    index = [edge.id for edge in piece.edges].index(piece.fold)
    fold, before, after = piece.edges[index], piece.edges[index - 1], piece.edges[(index + 1) % len(piece.edges)]
    for edge, at, chain in ((before, "end", _reversed(before)), (after, "start", after.points)):
        off_mm = _along_mm(fold, chain, min(run_mm, edge.length_mm))
        if limits.square_mm < abs(off_mm) <= run_mm * math.sin(math.radians(_V_DEG)):
            yield edge, at, off_mm


def fold_square(subject: Subject) -> Iterator[Finding]:
    """Edges that do not leave the fold squarely; the finding is about (edge, "start" or "end")."""
    for piece in subject.whole:
        for edge, at, off_mm in off_square(piece, subject.limits):
            shows = "hollow" if (off_mm > 0) is (at == "start") else "peak"
            text = (
                f'The {edge.id} of "{piece.name}" leaves the fold {mm(abs(off_mm))} off square within '
                f"{mm(subject.limits.square_run_mm)}, so that a {shows} shows when the piece is opened; draw it square "
                "to the fold first."
            )
            corner = edge.start if at == "start" else edge.end
            yield Finding("fold-square", Level.WARN, text, piece.name, corner, abs(off_mm), 0.0, (edge.id, at))


def _peak(subject: Subject, walk: Walk, first: Corner, second: Corner) -> Finding:
    turn_rad = first.turn_rad(second)
    high_mm = peak_mm(turn_rad, subject.limits.peak_reach_mm)
    sewn = _sewn(subject, walk)
    text = (
        f"Where {sewn} are sewn together, the {first.crossing.id} {'dips in' if turn_rad > 0 else 'stands out'} by "
        f"{mm(high_mm)}: its corners there are {_deg(first)} and {_deg(second)} degrees and should make 180; "
        "draw it in one smooth line across the seam."
    )
    about = (first.crossing.id, first.at, second.piece.name, second.crossing.id, second.at)
    return Finding("corner-across-seam", Level.WARN, text, first.piece.name, first.place, high_mm, 0.0, about)


def _sewn(subject: Subject, walk: Walk) -> str:
    first, second = (side(subject.pattern, one) for one in walk.seam.sides)
    return f"both halves of {first}" if first == second else f"{first} and {second}"


def _deg(corner: Corner) -> str:
    return f"{math.degrees(corner.inside_rad):.0f}"


def _corner(pieces: Mapping[str, Piece], side: SeamSide, last: bool) -> Corner | None:
    """The corner of one side at the start or end of its seam; ``None`` where its edge is not there."""
    ref, is_backward = (side.refs[-1], side.backward[-1]) if last else (side.refs[0], side.backward[0])
    piece = pieces[ref.piece]
    for index, edge in enumerate(piece.edges):
        if edge.id == ref.edge and last is is_backward:
            return Corner(piece, piece.edges[index - 1], edge, "end")
        if edge.id == ref.edge:
            return Corner(piece, edge, piece.edges[(index + 1) % len(piece.edges)], "start")
    return None


def _reversed(edge: Edge) -> Points:
    return frozen_points(edge.points[::-1])


def _along_mm(fold: Edge, chain: Points, run_mm: float) -> float:
    """How far a chain that starts on the fold has gone along it, in the direction of the ring, after a length."""
    ux, uy = unit_vector(fold.start, fold.end)
    x, y = polyline.point_at(chain, run_mm)
    return (x - float(chain[0, 0])) * ux + (y - float(chain[0, 1])) * uy


CHECKS = (
    Check(
        "corner-across-seam",
        "Neck, armhole, waist and hem run smoothly across their seams",
        corner_across_seam,
        ("peak_mm", "peak_reach_mm"),
        "the angles make 180 degrees where a seam is crossed: common practice, from memory",
    ),
    Check("fold-square", "Neck, waist and hem leave the fold squarely", fold_square, ("square_mm", "square_run_mm")),
)
