"""Steps that look at one piece only and change no other: what they do to it is remembered.

So a changed amount on the sleeve does not alter the bodice again, however early in the journal it is.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from geometry.affine import Points
from geometry.alterations.step import EdgeChange, Outcome, edge_changes
from geometry.findings import Finding
from geometry.identity import Same
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece

_KEPT = 512
"""How many (piece, step) results are kept: as many as the journal keeps of patterns."""

AnyStep = TypeVar("AnyStep")


@dataclass(frozen=True, slots=True, eq=False)
class Altered:
    """A piece after a step, with what the step says of it and the cut lines as they lay on the piece before."""

    piece: Piece
    findings: tuple[Finding, ...] = ()
    chalk: tuple[Points, ...] = ()


def outcome_on(pattern: Pattern, name: str, step: AnyStep, alter: Callable[[Piece, AnyStep], Altered]) -> Outcome:
    """The outcome of a step on the piece of that name, the very same pattern if the piece stays the same object.

    Given how the step alters a piece: a plain function of the piece and the step.

    Raises:
        MissingPartError: there is no such piece.
    """
    piece = pattern.piece(name)
    altered, changes = _altered(Same(piece), step, alter)
    after = pattern if altered.piece is piece else pattern.with_piece(altered.piece)
    return Outcome(after, changes, altered.findings, altered.chalk)


@lru_cache(maxsize=_KEPT)
def _altered(
    key: Same[Piece], step: AnyStep, alter: Callable[[Piece, AnyStep], Altered]
) -> tuple[Altered, tuple[EdgeChange, ...]]:
    altered = alter(key.value, step)
    return altered, edge_changes(key.value, altered.piece)
