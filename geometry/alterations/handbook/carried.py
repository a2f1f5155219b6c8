"""Cuts and handles of an entry taken along by its later steps, to lie on the pieces as they come out."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import replace

from geometry.affine import Point, distance_mm
from geometry.alterations.drawn_cuts import cuts, drawn_cuts, with_cuts
from geometry.alterations.handbook.bench import ChalkLine, Handle
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.replay import Record, replay
from geometry.alterations.single_pieces import CutSingle
from geometry.alterations.step import Step
from geometry.errors import PatternError
from geometry.model.pattern import Pattern
from geometry.tolerance import SAME_POINT_MM


def carried(
    pattern: Pattern, steps: tuple[Step, ...], handles: Iterable[Handle], made: tuple[ChalkLine, ...]
) -> tuple[tuple[Handle, ...], tuple[ChalkLine, ...]]:
    """Handles and cuts as they lie on the pieces after the last step.

    A handle at an end of a cut stays at that end; another one is looked up on its piece as that came out, and stays
    where it was found if its piece is gone.

    Args:
        pattern: The pattern before the first step.
        steps: The steps, as they were carried out.
        handles: Handles as they were found.
        made: The cuts as they were made, in their order.
    """
    after = pattern
    for number, step in enumerate(steps):
        outcome = step.apply(after)
        after = with_cuts(outcome, after, step.piece_names, f"step {number:04d}") if cuts(step) else outcome.pattern
    drawn = sorted((owner, place) for place, (owner, _, _) in enumerate(drawn_cuts(after)))
    lines = [ChalkLine(*drawn_cuts(after)[place][1:]) for _, place in drawn]
    moved = _ends(made, lines) if len(lines) == len(made) else []
    return tuple(_moved(handle, after, moved) for handle in handles), tuple(lines)


def ground(pattern: Pattern, steps: Iterable[Step]) -> Pattern:
    """The pattern on which an entry is seen to work: with the pieces that it begins by cutting single cut so.

    Asked again for the very same pattern it gives the very same one.
    """
    singles = itertools.takewhile(lambda step: isinstance(step, CutSingle), steps)
    return replay(pattern, tuple(Record("", step) for step in singles)).pattern


def _ends(made: Iterable[ChalkLine], lines: Iterable[ChalkLine]) -> list[tuple[str, Point, Point]]:
    """For both ends of every cut its piece, where it was made and where it lies."""
    found = []
    for before, after in zip(made, lines, strict=True):
        for end in (0, -1):
            (x0, y0), (x1, y1) = before.points[end].tolist(), after.points[end].tolist()
            found.append((before.piece, (x0, y0), (x1, y1)))
    return found


def _moved(handle: Handle, after: Pattern, ends: Iterable[tuple[str, Point, Point]]) -> Handle:
    name = handle.place.piece
    for piece, before, now in ends:
        if piece == name and distance_mm(before, handle.found_at) <= SAME_POINT_MM:
            return replace(handle, at=now)
    try:
        return replace(handle, at=Panel(after.piece(name)).point(handle.place.anchor))
    except PatternError:
        return handle
