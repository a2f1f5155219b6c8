"""A step replaced by the single steps it is made of, each to be altered by itself."""

from __future__ import annotations

from geometry.alterations.full_bust import FullBust, bust_slash
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.slash import Slash
from geometry.alterations.step import Step
from geometry.alterations.upper_arm import UpperArm, arm_slash
from geometry.model.pattern import Pattern


def taken_apart(step: Step, pattern: Pattern) -> tuple[Step, ...]:
    """The steps that do the same to a pattern: slashes, darts and redrawn edges.

    A full bust that opens a new dart, and any step that is single already, is given as it is.

    Raises:
        PatternError: the step cannot be done on the pattern.
    """
    found: list[Step] = []
    for part in step.parts(pattern) if isinstance(step, Alteration) else (step,):
        found.append(_slash(part, pattern) or part)
        pattern = part.apply(pattern).pattern
    return tuple(found)


def _slash(step: Step, pattern: Pattern) -> Slash | None:
    if isinstance(step, FullBust):
        return bust_slash(pattern.piece(step.piece), step)
    if isinstance(step, UpperArm):
        return arm_slash(pattern.piece(step.piece), step)
    return None
