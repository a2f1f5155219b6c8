"""Patterns on which the entries of the handbook are tried, and steps carried out without trueing."""

from __future__ import annotations

from functools import cache

from geometry.alterations.dart_transfer import DartTransfer, transferred
from geometry.alterations.full_bust import FullBust, bust_spread
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.panels import PieceRole, role_of
from geometry.alterations.slash import Slash, slashed
from geometry.alterations.step import Step
from geometry.alterations.upper_arm import UpperArm, arm_spread
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples import draft_trousers
from samples.draft_dress import draft_nest
from samples.further_pieces import collars, dartless_dress, princess_front

TROUSERS = {PieceRole.FRONT_TROUSERS, PieceRole.BACK_TROUSERS}
SKIRTS = {PieceRole.FRONT_SKIRT, PieceRole.BACK_SKIRT}


@cache
def dress(size: str) -> Pattern:
    return draft_nest().pattern(size)


@cache
def trousers(size: str) -> Pattern:
    return draft_trousers.draft_nest().pattern(size)


def pattern_for(entry: Entry, size: str) -> Pattern:
    """A pattern that has the pieces an entry needs."""
    special = {"D03": dartless_dress, "D04": princess_front, "B06": collars, "B07": collars}
    if set(entry.touches) & TROUSERS and not set(entry.touches) & SKIRTS:
        return trousers(size)
    return special.get(entry.code, dress)(size)


def untrued(step: Step, pattern: Pattern) -> Pattern:
    """The pattern after a step that cuts, not yet trued; other steps are carried out as they are."""
    if isinstance(step, Slash):
        piece = pattern.piece(step.piece)
        return pattern.with_piece(slashed(piece, step.cuts)[1].piece)
    if isinstance(step, FullBust):
        piece = pattern.piece(step.piece)
        return pattern.with_piece(bust_spread(piece, step)[1].piece)
    if isinstance(step, UpperArm):
        piece = pattern.piece(step.piece)
        return pattern.with_piece(arm_spread(piece, step)[1].piece)
    if isinstance(step, DartTransfer):
        piece = pattern.piece(step.piece)
        return pattern.with_piece(transferred(piece, step)[1].piece)
    return step.apply(pattern).pattern


def pieces_of(pattern: Pattern, role: PieceRole) -> tuple[Piece, ...]:
    return tuple(piece for piece in pattern.pieces if role_of(piece) is role)


def each_step(step: Alteration, pattern: Pattern) -> tuple[tuple[Step, Pattern], ...]:
    """The steps an alteration is made of, each with the pattern it is carried out on."""
    found = []
    for part in step.parts(pattern):
        found.append((part, pattern))
        pattern = part.apply(pattern).pattern
    return tuple(found)
