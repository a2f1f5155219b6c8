"""Cuts drawn on the pieces as lines of their own, so that later steps take them along."""

from __future__ import annotations

from dataclasses import replace

from geometry.affine import Points
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.full_bust import FullBust
from geometry.alterations.slash import Slash
from geometry.alterations.step import Outcome, Step
from geometry.alterations.upper_arm import UpperArm
from geometry.model.marks import InnerLine
from geometry.model.pattern import Pattern

_CHALKED = "chalk of "


def cuts(step: Step) -> bool:
    """Whether the chalk of a step is a cut; other steps draw the edges there as they were."""
    return isinstance(step, Slash | FullBust | UpperArm | DartTransfer)


def with_cuts(outcome: Outcome, before: Pattern, names: tuple[str, ...], owner: str) -> Pattern:
    """The pattern after a step with its cuts drawn in: they stay where the part lies that did not move.

    Args:
        outcome: What the step did.
        before: The pattern it was done on.
        names: The pieces it touched; cuts of a step on several are not drawn.
        owner: What the cuts are known by, see ``drawn_cuts``.
    """
    if outcome.pattern is before or len(names) != 1 or not outcome.chalk:
        return outcome.pattern
    piece = outcome.pattern.piece(names[0])
    lines = tuple(InnerLine(f"{_CHALKED}{owner}", points) for points in outcome.chalk)
    return outcome.pattern.with_piece(replace(piece, inner_lines=(*piece.inner_lines, *lines)))


def drawn_cuts(pattern: Pattern) -> tuple[tuple[str, str, Points], ...]:
    """Every cut that is drawn on a pattern: whose it is, the name of its piece and its chain of shape (n, 2), mm."""
    return tuple(
        (line.id.partition(_CHALKED)[2], piece.name, line.points)
        for piece in pattern.pieces
        for line in piece.inner_lines
        if _CHALKED in line.id
    )
