"""Darts below the waist seam that go with the bodice darts they meet there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.seam_steps import MatchDart
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.checks.pairing import seams_of
from geometry.checks.walking import Meeting, StopKind, walk
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import SeamKind

BELOW_FRONT = (PieceRole.FRONT_SKIRT, PieceRole.FRONT_TROUSERS)


def darts_met(bench: Bench, panel: Panel, below: tuple[PieceRole, ...]) -> tuple[MatchDart, ...]:
    """Steps that bring the darts of the pieces below back to the waist darts of a bodice they meet now.

    To be asked for before the bodice is altered, and done after it: whoever moves one of two darts across a waist
    seam moves the other equally (common practice, from memory). A difference there was between them is kept.
    """
    if not panel.has(EdgeRole.WAIST):
        return ()
    names = {other.name for other in bench.panels(*below)}
    return tuple(
        step for meeting in _meetings(bench, panel) if (step := _after(panel, meeting)) and step.piece in names
    )


def follow(bench: Bench, steps: tuple[MatchDart, ...]) -> None:
    """Do the steps for darts that do not meet any more; one that cannot go there stays, and the checks say so."""
    for step in steps:
        with suppress(StepError):
            before, after = (each.piece(step.piece) for each in (bench.pattern, step.apply(bench.pattern).pattern))
            moved_mm = abs(after.dart(step.dart).from_mm - before.dart(step.dart).from_mm)
            if moved_mm + abs(step.amount_mm) > DEFAULT_LIMITS.waist_darts_mm:
                bench.do(step)


def _meetings(bench: Bench, panel: Panel) -> Iterator[Meeting]:
    """What meets across the waist seams of a bodice."""
    for seam in seams_of(bench.pattern):
        if seam.kind is SeamKind.WAIST and any(ref.piece == panel.name for ref in (*seam.first, *seam.second)):
            yield from walk(bench.pattern, seam).meetings


def _after(panel: Panel, meeting: Meeting) -> MatchDart | None:
    """The step for two darts, one of them on the bodice; ``None`` for anything else that meets."""
    first, second, offset_mm = meeting.first, meeting.second, meeting.offset_from_start_mm
    if first is None or second is None or offset_mm is None or first.kind is not StopKind.DART:
        return None
    if first.piece == panel.name:
        return MatchDart(second.piece, second.id, first.piece, first.id, amount_mm=-offset_mm)
    return MatchDart(first.piece, first.id, second.piece, second.id, amount_mm=offset_mm)
