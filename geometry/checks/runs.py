"""Edges of one role that follow each other round a piece, and how a seam is walked along them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

from geometry.checks.limits import Band
from geometry.identity import Same
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import hand_in, layer_of
from geometry.model.pattern import EdgeRef, Seam, SeamKind
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class Run:
    """Edges of one role that follow each other in the ring of a piece, and how a seam is walked along them."""

    piece: Piece
    edges: tuple[Edge, ...]
    before: Edge
    after: Edge
    is_backward: bool = False

    @property
    def sewn_mm(self) -> float:
        """How long they are, darts folded."""
        return sum(self.piece.sewn_length_mm(edge.id) for edge in self.edges)

    def walked(self, *, backward: bool) -> Run:
        """The same edges, walked against the ring or with it."""
        return Run(self.piece, self.edges, self.before, self.after, backward)


def runs_of(piece: Piece) -> tuple[Run, ...]:
    """The edges of a piece gathered by role, in ring order; a piece with one role all round gives none."""
    return _runs_of(Same(piece))


@lru_cache(maxsize=256)
def _runs_of(key: Same[Piece]) -> tuple[Run, ...]:
    """Asked once for every kind of seam a piece may have."""
    piece, edges = key.value, key.value.edges
    corner = next((i for i, edge in enumerate(edges) if edge.role is not edges[i - 1].role), None)
    if corner is None:
        return ()
    groups = [tuple(group) for _, group in groupby(edges[corner:] + edges[:corner], key=lambda edge: edge.role)]
    return tuple(
        Run(piece, group, groups[i - 1][-1], groups[(i + 1) % len(groups)][0]) for i, group in enumerate(groups)
    )


def directed(piece: Piece, role: EdgeRole, starts: frozenset[EdgeRole], ends: frozenset[EdgeRole]) -> list[Run]:
    """The runs of a role between such neighbours, each walked from ``starts`` to ``ends``."""
    found = []
    for run in runs_of(piece):
        if run.edges[0].role is not role:
            continue
        if run.before.role in starts and run.after.role in ends:
            found.append(run)
        elif run.after.role in starts and run.before.role in ends:
            found.append(run.walked(backward=True))
    return found


def go_together(first: Piece, second: Piece) -> bool:
    """Whether two pieces are of the same layer and not of different hands."""
    hands = {hand_in(first.name), hand_in(second.name)} - {""}
    return layer_of(first) == layer_of(second) and len(hands) <= 1


def seam_of_runs(
    first: tuple[Run, ...],
    second: tuple[Run, ...],
    kind: SeamKind = SeamKind.PLAIN,
    ease_mm: Band = (0.0, 0.0),
) -> Seam:
    """The seam of two sides, each of one or more runs in the order met."""
    ours, our_ways = _walked(first)
    theirs, their_ways = _walked(second)
    name = " + ".join([f"{ref.piece} {ref.edge}" for ref in (*ours, *theirs)])
    return Seam(name, ours, theirs, our_ways, their_ways, kind, ease_mm)


def _walked(runs: tuple[Run, ...]) -> tuple[tuple[EdgeRef, ...], tuple[bool, ...]]:
    """The edges of one side by names, in the order walked, and which of them are walked backward."""
    refs: list[EdgeRef] = []
    ways: list[bool] = []
    for run in runs:
        edges = run.edges[::-1] if run.is_backward else run.edges
        refs += [EdgeRef(run.piece.name, edge.id) for edge in edges]
        ways += [run.is_backward] * len(edges)
    return tuple(refs), tuple(ways)
