"""What the checks look at: a pattern, its seams walked once, what it was before, and the limits."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from geometry.checks.limits import DEFAULT_LIMITS, LIMIT_SOURCES, Limits
from geometry.checks.pairing import propose_seams
from geometry.checks.walking import Walk, walk
from geometry.findings import Finding
from geometry.model.pattern import EdgeRef, Pattern, Seam
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class Subject:
    """A pattern ready to be checked.

    Attributes:
        pattern: The pattern, with every piece.
        pieces: Its pieces in which every dart, notch and fold names an edge that is there.
        walks: Its seams, walked; proposed ones where the pattern tells none, without those that name lost parts.
        limits: What is still right.
        base: The pattern before it was altered, ``None`` if that is not known.
    """

    pattern: Pattern
    pieces: tuple[Piece, ...]
    walks: tuple[Walk, ...]
    limits: Limits
    base: Pattern | None

    @staticmethod
    def of(pattern: Pattern, *, base: Pattern | None = None, limits: Limits = DEFAULT_LIMITS) -> Subject:
        """The pattern with its seams walked."""
        pieces = tuple(piece for piece in pattern.pieces if not lost_names(piece))
        sound = Pattern(pieces, pattern.seams, pattern.size)
        seams = pattern.seams or propose_seams(sound, limits=limits)
        known = edge_names(sound)
        walks = (walk(sound, seam, reach_mm=limits.notch_reach_mm) for seam in seams if has_edges(known, seam))
        return Subject(pattern, pieces, tuple(walks), limits, base)


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
        return "; ".join(dict.fromkeys([*filter(None, [self.rule]), *(LIMIT_SOURCES[name] for name in self.limits)]))


def lost_names(piece: Piece) -> tuple[tuple[str, str], ...]:
    """What on a piece names an edge that is not there: ("dart ...", edge id)."""
    edges = {edge.id for edge in piece.edges}
    named = [
        *((f'dart "{dart.id}"', dart.edge) for dart in piece.darts),
        *((f'notch "{notch.id}"', notch.edge) for notch in piece.notches),
        *([("fold", piece.fold)] if piece.fold is not None else []),
    ]
    return tuple((what, edge) for what, edge in named if edge not in edges)


def edge_names(pattern: Pattern) -> frozenset[EdgeRef]:
    """Every edge of a pattern by names."""
    return frozenset(EdgeRef(piece.name, edge.id) for piece in pattern.pieces for edge in piece.edges)


def has_edges(known: frozenset[EdgeRef], seam: Seam) -> bool:
    """Whether every edge that a seam names is among the known ones."""
    return known.issuperset((*seam.first, *seam.second))
