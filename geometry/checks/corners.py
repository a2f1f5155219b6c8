"""Corners: the line that a seam crosses runs smoothly over it, and squarely over the fold."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from geometry.affine import Point, Points, as_point, frozen_points, unit_vector
from geometry.checks.line_shape import heading_rad, peak_mm
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Walk
from geometry.checks.wording import mm, side
from geometry.curves import polyline
from geometry.findings import Finding, Level
from geometry.identity import Same
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import EdgeRef
from geometry.model.piece import Piece

_CROSSING = (EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.WAIST, EdgeRole.HEM, EdgeRole.CAP, EdgeRole.CROTCH)
"""Lines of a garment that go on smoothly where a seam crosses them."""

_MEANT_RAD = math.radians(45.0)
"""A corner sharper than this was designed so: a pointed hem, a V at the neck; own choice."""

_V_DEG = 20.0
"""An edge that leaves the fold by more than this from square was designed so; own choice."""


@dataclass(frozen=True, slots=True)
class _Corner:
    """A piece where a seam ends: its edge that crosses the seam there, and the angle inside it (radians)."""

    piece: Piece
    crossing: Edge
    at: str
    inside_rad: float

    @property
    def place(self) -> Point:
        return self.crossing.start if self.at == "start" else self.crossing.end


def corner_across_seam(subject: Subject) -> Iterator[Finding]:
    """Lines that make a corner where a seam crosses them, the two pieces laid together.

    The finding is about (edge, "start" or "end", other piece, other edge, its end).
    """
    whole = {piece.name: piece for piece in subject.whole}
    for walk in subject.walks:
        if any(ref.piece not in whole for ref in (*walk.seam.first, *walk.seam.second)):
            continue
        for last in (False, True):
            if not all(side.ends_at_corner(at_end=last) for side in walk.seam.sides):
                continue
            first, second = (_corner(whole, refs, back, last) for refs, back in _sides(walk))
            if first.crossing.role is second.crossing.role and first.crossing.role in _CROSSING:
                yield from _peak(subject, walk, first, second)


def fold_square(subject: Subject) -> Iterator[Finding]:
    """Edges that do not leave the fold squarely; the finding is about (edge, "start" or "end")."""
    run_mm = subject.limits.square_run_mm
    for piece in subject.whole:
        if piece.fold is None:
            continue
        index = [edge.id for edge in piece.edges].index(piece.fold)
        fold, before, after = piece.edges[index], piece.edges[index - 1], piece.edges[(index + 1) % len(piece.edges)]
        for edge, at, chain in ((before, "end", _reversed(before)), (after, "start", after.points)):
            off_mm = _along_mm(fold, chain, min(run_mm, edge.length_mm))
            meant_mm = run_mm * math.sin(math.radians(_V_DEG))
            if subject.limits.square_mm < abs(off_mm) <= meant_mm:
                shows = "hollow" if (off_mm > 0) is (at == "start") else "peak"
                text = (
                    f'The {edge.id} of "{piece.name}" leaves the fold {mm(abs(off_mm))} off square within '
                    f"{mm(run_mm)}, so that a {shows} shows when the piece is opened; draw it square to the fold first."
                )
                yield Finding(
                    "fold-square", Level.WARN, text, piece.name, as_point(chain[0]), abs(off_mm), 0.0, (edge.id, at)
                )


def _peak(subject: Subject, walk: Walk, first: _Corner, second: _Corner) -> Iterator[Finding]:
    limits = subject.limits
    turn_rad = first.inside_rad + second.inside_rad - math.pi
    high_mm = peak_mm(turn_rad, limits.peak_reach_mm)
    if high_mm <= limits.peak_mm or abs(turn_rad) > _MEANT_RAD:
        return
    sewn = _sewn(subject, walk)
    text = (
        f"Where {sewn} are sewn together, the {first.crossing.id} {'dips in' if turn_rad > 0 else 'stands out'} by "
        f"{mm(high_mm)}: its corners there are {_deg(first)} and {_deg(second)} degrees and should make 180; "
        "draw it in one smooth line across the seam."
    )
    about = (first.crossing.id, first.at, second.piece.name, second.crossing.id, second.at)
    yield Finding("corner-across-seam", Level.WARN, text, first.piece.name, first.place, high_mm, 0.0, about)


def _sewn(subject: Subject, walk: Walk) -> str:
    first, second = (side(subject.pattern, one) for one in walk.seam.sides)
    return f"both halves of {first}" if first == second else f"{first} and {second}"


def _deg(corner: _Corner) -> str:
    return f"{math.degrees(corner.inside_rad):.0f}"


def _sides(walk: Walk) -> tuple[tuple[tuple[EdgeRef, ...], tuple[bool, ...]], ...]:
    seam = walk.seam
    return (seam.first, seam.first_backward), (seam.second, seam.second_backward)


def _corner(whole: dict[str, Piece], refs: tuple[EdgeRef, ...], backward: tuple[bool, ...], last: bool) -> _Corner:
    """The corner of one side at the start or end of its seam."""
    ref, is_backward = (refs[-1], backward[-1]) if last else (refs[0], backward[0])
    piece = whole[ref.piece]
    index = [edge.id for edge in piece.edges].index(ref.edge)
    angles = _insides_rad(Same(piece))
    if last is is_backward:
        return _Corner(piece, piece.edges[index - 1], "end", angles[index])
    after = (index + 1) % len(piece.edges)
    return _Corner(piece, piece.edges[after], "start", angles[after])


@lru_cache(maxsize=256)
def _insides_rad(key: Same[Piece]) -> tuple[float, ...]:
    """Angle inside a piece at the start of each edge, 0 to a full turn; most pieces are as they were a moment ago."""
    edges = key.value.edges
    pairs = zip((edges[-1], *edges), edges, strict=False)
    return tuple((heading_rad(_reversed(before)) - heading_rad(after.points)) % math.tau for before, after in pairs)


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
