"""Facings, collars and waistbands, proposed against what they are sewn to: a part, or a loop round the body."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product

from geometry.checks.limits import Band, Limits
from geometry.checks.runs import Run, directed, runs_of, seam_of_runs
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, half_in, half_of, hand_in, layer_of, part_of
from geometry.model.pattern import Pattern, Seam, SeamKind
from geometry.model.piece import Piece

_BAND = re.compile(r"\bwaist ?band\b", re.IGNORECASE)
_COLLAR = re.compile(r"\bcollar\b", re.IGNORECASE)
_NOT_GARMENT = re.compile(r"\b(collar|waist ?band|band|cuff|yoke)\b", re.IGNORECASE)
_CENTRES = frozenset({EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK, EdgeRole.CROTCH})
_SEAMS = frozenset({EdgeRole.SIDE, EdgeRole.SHOULDER})
_HALF_OR_WHOLE = 1.5
"""A piece shorter than this many times the line of half a body goes round half of it, else round all of it."""

_ENDS = {EdgeRole.NECK: EdgeRole.SHOULDER, EdgeRole.WAIST: EdgeRole.SIDE}
"""At what seam the halves of a line round the body meet."""


def faced_seams(pattern: Pattern, limits: Limits) -> Iterator[Seam]:
    """The seams of facings, collars and waistbands, as far as names and the ends of their edges tell.

    Facings are told by that word in a piece's name, and are sewn to the edge of the same role on the piece of the same
    half; those that say neither front nor back, like collars and waistbands, go all round, from centre to centre or
    twice that where they are cut whole. Facings are sewn to each other, too, where they have shoulder or side seams.
    """
    for piece in pattern.pieces:
        if layer_of(piece) == "facing":
            for role in (EdgeRole.NECK, EdgeRole.WAIST):
                yield from _loop(pattern, piece, role, SeamKind.FACING, (0.0, 0.0))
            yield from _armhole(pattern, piece)
        elif _COLLAR.search(piece.name):
            short = limits.collar_short_mm
            yield from _loop(pattern, piece, EdgeRole.NECK, SeamKind.BAND, (-short[1], -short[0]))
        elif _BAND.search(piece.name):
            yield from _loop(pattern, piece, EdgeRole.WAIST, SeamKind.BAND, limits.band_over_mm)
    yield from _facing_ends(pattern)


def _loop(pattern: Pattern, piece: Piece, role: EdgeRole, kind: SeamKind, ease_mm: Band) -> Iterator[Seam]:
    """A piece sewn to a line round the body; nothing where it cannot be told how."""
    own = [run for run in runs_of(piece) if run.edges[0].role is role]
    halves = (half_in(piece.name),) if half_in(piece.name) else ("back", "front")
    shells = [_shell(pattern, piece, half, role) for half in halves]
    if len(own) != 1 or None in shells or (len(_shells(pattern, piece, role)) > len(shells) and len(halves) > 1):
        return
    line = [shell for shell in shells if shell is not None]  # from centre back to centre front, or one half of that
    if len(halves) == 1 and halves[0] == "front":
        line = [line[0].walked(backward=not line[0].is_backward)]  # from the centre, as the back is
    mine, once_mm = own[0], sum(run.sewn_mm for run in line)
    if piece.fold is not None or mine.sewn_mm < _HALF_OR_WHOLE * once_mm:
        started = _from_centre(mine, halves)
        if started is not None:
            half_ease = (ease_mm[0] / 2, ease_mm[1] / 2)
            yield seam_of_runs((started,), tuple(line), kind, half_ease)
    else:
        yield seam_of_runs((mine,), _all_round(line), kind, ease_mm)


def _shell(pattern: Pattern, piece: Piece, half: str, role: EdgeRole) -> Run | None:
    """The one edge of a role on the one garment piece of a half, walked from back to front; ``None`` if unclear."""
    found = []
    for shell in _shells(pattern, piece, role):
        if half_of(shell) == half:
            centre, seam = _CENTRES, frozenset({_ENDS[role]})
            ends = (centre, seam) if half == "back" else (seam, centre)
            found += directed(shell, role, *ends)
    return found[0] if len(found) == 1 else None


def _shells(pattern: Pattern, piece: Piece, role: EdgeRole) -> list[Piece]:
    """The pieces of the garment itself that have such an edge, none of the other hand."""
    parts = (Part.BODICE,) if role is EdgeRole.NECK else (Part.SKIRT, Part.TROUSERS)
    return [
        shell
        for shell in pattern.pieces
        if not layer_of(shell) and not _NOT_GARMENT.search(shell.name) and part_of(shell) in parts
        if shell.edges_with_role(role) and len({hand_in(shell.name), hand_in(piece.name)} - {""}) <= 1
    ]


def _from_centre(mine: Run, halves: tuple[str, ...]) -> Run | None:
    """The edge of a half piece walked as the garment's is: from the back; one of one half only, from its centre."""
    before, after = mine.before, mine.after
    starts = _CENTRES if len(halves) == 1 else frozenset({EdgeRole.CENTRE_BACK})
    if before.role in starts or (before.id == mine.piece.fold and len(halves) == 1):
        return mine
    if after.role in starts or (after.id == mine.piece.fold and len(halves) == 1):
        return mine.walked(backward=True)
    if EdgeRole.CENTRE_FRONT in (before.role, after.role):
        return mine.walked(backward=before.role is EdgeRole.CENTRE_FRONT)
    return None


def _all_round(line: list[Run]) -> tuple[Run, ...]:
    """The line and its mirror image, opening at the centre that is not on the fold."""
    back = [run.walked(backward=not run.is_backward) for run in reversed(line)]
    opens_in_front = len(line) > 1 and line[-1].piece.fold is None and line[0].piece.fold is not None
    if len(line) == 1 or opens_in_front:
        return (*back, *line)
    return (*line, *back)


def _armhole(pattern: Pattern, piece: Piece) -> Iterator[Seam]:
    side, shoulder = frozenset({EdgeRole.SIDE}), frozenset({EdgeRole.SHOULDER})
    for shell in pattern.pieces:
        is_shell = not layer_of(shell) and part_of(shell) is Part.BODICE and half_of(shell) == half_of(piece)
        if is_shell and half_of(piece):
            ends = (EdgeRole.ARMHOLE, side, shoulder)
            for mine, theirs in product(directed(piece, *ends), directed(shell, *ends)):
                yield seam_of_runs((mine,), (theirs,), SeamKind.FACING)


def _facing_ends(pattern: Pattern) -> Iterator[Seam]:
    """The short seams by which front and back facing are joined, walked from the line they face."""
    fronts, backs = (
        [piece for piece in pattern.pieces if layer_of(piece) == "facing" and half_in(piece.name) == half]
        for half in ("front", "back")
    )
    lines = frozenset({EdgeRole.NECK, EdgeRole.WAIST, EdgeRole.ARMHOLE})
    for back, front in product(backs, fronts):
        hands = {hand_in(back.name), hand_in(front.name)} - {""}
        for role in _SEAMS if len(hands) <= 1 else ():
            ends = (role, lines, frozenset({EdgeRole.OTHER, EdgeRole.HEM}))
            for one, other in product(directed(back, *ends), directed(front, *ends)):
                yield seam_of_runs((one,), (other,))
