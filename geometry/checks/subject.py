"""What the checks look at: a pattern, its seams walked once, what it was before, and the limits."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from geometry import regions
from geometry.affine import distance_mm
from geometry.checks.limits import DEFAULT_LIMITS, LIMITS_TOLD, Limits
from geometry.checks.pairing import propose_seams
from geometry.checks.walking import Walk, walk
from geometry.curves.corners import is_rough
from geometry.errors import MissingPartError
from geometry.findings import Finding
from geometry.model.dart import Dart
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamSide
from geometry.model.piece import Piece
from geometry.tolerance import DOUBLED_POINT_MM, SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class Subject:
    """A pattern ready to be checked.

    Attributes:
        pattern: The pattern, with every piece.
        pieces: Its pieces whose names are unlike, in which every dart, notch and fold names an edge that is there
            and every dart opens within its edge, beside the others.
        whole: Those of them whose outline is closed and does not cross itself, and whose edges all have a length.
        walks: Its seams, walked; proposed ones where the pattern tells none, without those that name lost parts.
        limits: What is still right.
        base: The pattern before it was altered, ``None`` if that is not known.
        bases: Its pieces before that, by name, where the same is true of them.
    """

    pattern: Pattern
    pieces: tuple[Piece, ...]
    whole: tuple[Piece, ...]
    walks: tuple[Walk, ...]
    limits: Limits
    base: Pattern | None
    bases: Mapping[str, Piece]

    @staticmethod
    def of(pattern: Pattern, *, base: Pattern | None = None, limits: Limits = DEFAULT_LIMITS) -> Subject:
        """The pattern with its seams walked."""
        pieces = _sound(pattern)
        sound = Pattern(pieces, pattern.seams, pattern.size)
        seams = pattern.seams or propose_seams(sound, limits=limits)
        known = edge_names(sound)
        sewn = (seam for seam in seams if has_edges(known, seam) and has_ends(sound, seam))
        walks = (walk(sound, seam, reach_mm=limits.notch_reach_mm) for seam in sewn)
        whole = tuple(piece for piece in pieces if _is_whole(piece))
        bases = {piece.name: piece for piece in _sound(base)} if base else {}
        return Subject(pattern, pieces, whole, tuple(walks), limits, base, bases)


@dataclass(frozen=True, slots=True)
class Check:
    """One question asked before cutting.

    Attributes:
        code: Stable word its findings carry.
        title: What is asked, for a list.
        find: Asks it.
        limits: Names of the limits it uses.
        rule: Where the rule comes from if no limit says it.
    """

    code: str
    title: str
    find: Callable[[Subject], Iterable[Finding]]
    limits: tuple[str, ...] = ()
    rule: str = ""

    @property
    def source(self) -> str:
        """Where its rule or limits come from."""
        return "; ".join(
            dict.fromkeys([*filter(None, [self.rule]), *(LIMITS_TOLD[name].source for name in self.limits)])
        )


def lost_names(piece: Piece) -> tuple[tuple[str, str], ...]:
    """What on a piece names an edge that is not there: ("dart ...", edge id)."""
    edges = {edge.id for edge in piece.edges}
    named = [
        *((f'dart "{dart.id}"', dart.edge) for dart in piece.darts),
        *((f'notch "{notch.id}"', notch.edge) for notch in piece.notches),
        *([("fold", piece.fold)] if piece.fold is not None else []),
    ]
    return tuple((what, edge) for what, edge in named if edge not in edges)


def doubled(names: Iterable[str]) -> tuple[str, ...]:
    """The names that are there more than once, each once."""
    return tuple(name for name, count in Counter(names).items() if count > 1)


def doubled_ids(piece: Piece) -> tuple[tuple[str, str], ...]:
    """What on a piece is there twice under one name: ("edge", "side")."""
    parts = (("edge", piece.edges), ("dart", piece.darts), ("notch", piece.notches))
    return tuple((what, name) for what, each in parts for name in doubled(part.id for part in each))


def wrong_mouths(piece: Piece) -> tuple[Dart, ...]:
    """The darts that do not open within their edge."""
    lengths = {edge.id: edge.length_mm for edge in piece.edges}
    return tuple(
        dart
        for dart in piece.darts
        if dart.edge in lengths
        and not -SAME_POINT_MM <= dart.from_mm < dart.to_mm <= lengths[dart.edge] + SAME_POINT_MM
    )


def overlapping_darts(piece: Piece) -> tuple[tuple[Dart, Dart], ...]:
    """Darts of one edge whose mouths lie over one another, in the order met along it."""
    return tuple(
        (first, second)
        for edge in {dart.edge: None for dart in piece.darts}
        for first, second in pairwise(piece.darts_on(edge))
        if second.from_mm < first.to_mm - SAME_POINT_MM
    )


@lru_cache(maxsize=256)
def is_traced(piece: Piece) -> bool:
    """Whether the outline still shakes as a hand on a digitiser left it."""
    return is_rough(piece.outline)


def _sound(pattern: Pattern) -> tuple[Piece, ...]:
    """The pieces about which something can be measured; of those with one name, the first."""
    first = {piece.name: piece for piece in reversed(pattern.pieces)}
    wrong = (lost_names, doubled_ids, wrong_mouths, overlapping_darts)
    return tuple(
        piece for piece in pattern.pieces if first[piece.name] is piece and not any(each(piece) for each in wrong)
    )


def _is_whole(piece: Piece) -> bool:
    gaps = (
        distance_mm(before.end, after.start)
        for before, after in zip((piece.edges[-1], *piece.edges), piece.edges, strict=False)
    )
    return (
        max(gaps) <= SAME_POINT_MM
        and all(edge.length_mm > DOUBLED_POINT_MM for edge in piece.edges)
        and regions.is_simple(piece.outline)
    )


def edge_names(pattern: Pattern) -> frozenset[EdgeRef]:
    """Every edge of a pattern by names."""
    return frozenset(EdgeRef(piece.name, edge.id) for piece in pattern.pieces for edge in piece.edges)


def has_edges(known: frozenset[EdgeRef], seam: Seam) -> bool:
    """Whether every edge that a seam names is among the known ones."""
    return known.issuperset((*seam.first, *seam.second))


def has_ends(pattern: Pattern, seam: Seam) -> bool:
    """Whether every notch where a seam starts or stops is there, in its order; the edges must be."""
    return not seam.is_partial or not any(lost_ends(pattern, side) for side in seam.sides)


def lost_ends(pattern: Pattern, side: SeamSide) -> tuple[EdgeRef, ...]:
    """The edges of a side of which it cannot be told any more from where to where they are sewn."""
    found = []
    for ref, _, stretch in side.parts:
        try:
            low_mm, high_mm = stretch.bounds_mm(pattern.piece(ref.piece), ref.edge)
        except MissingPartError:
            low_mm = high_mm = 0.0
        if high_mm - low_mm <= SAME_POINT_MM:
            found.append(ref)
    return tuple(found)
