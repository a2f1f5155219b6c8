"""Pieces cut single: a half piece becomes a left and a right one, a piece on the fold is opened to a whole one."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import Affine, Points, frozen_points
from geometry.alterations.step import OnOnePiece, Outcome, WithoutAmount
from geometry.errors import StepError
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import hand_in
from geometry.model.marks import Label, Mark
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece, moved_dart, moved_double_dart

DRAWN, OTHER = "left", "right"
"""Half pieces lie face up with the centre front to the left of the front, which is the wearer's left half."""

_TO_THE_CUTTER = re.compile(r"\bcut\s+(?:\d+|one|two)(?:\s+on\s+(?:the\s+)?fold)?\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class CutSingle(OnOnePiece, WithoutAmount):
    """Cut a piece single, so that left and right may be altered by themselves.

    A piece on the fold is opened along it: its edges, darts, notches and landmarks are then there twice, called
    "left ..." as drawn and "right ..." mirrored. Of a piece cut twice a mirrored copy is made, with the same words.

    Attributes:
        piece: Name of the piece.
    """

    kind: ClassVar[str] = "cut-single"

    piece: str

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the piece opened, or with two pieces in its place; seams that named it are left out."""
        piece = pattern.piece(self.piece)
        if hand_in(piece.name) or any(hand_in(edge.id) for edge in piece.edges):
            raise StepError(f'The piece "{piece.name}" is cut single already.')
        if piece.fold is not None:
            single: tuple[Piece, ...] = (_opened(piece, piece.fold),)
        elif piece.quantity == 2:
            single = _both(piece)
        else:
            raise StepError(f'The piece "{piece.name}" is neither on the fold nor cut twice: it is cut single already.')
        pieces = (new for old in pattern.pieces for new in (single if old is piece else (old,)))
        seams = (seam for seam in pattern.seams if all(ref.piece != piece.name for ref in (*seam.first, *seam.second)))
        return Outcome(replace(pattern, pieces=tuple(pieces), seams=tuple(seams)))


def mirrored(piece: Piece, over: Affine) -> Piece:
    """The piece turned over by a mirroring motion, its ring counter-clockwise again."""
    lengths = {edge.id: edge.length_mm for edge in piece.edges}
    return replace(
        piece,
        edges=tuple(replace(edge, points=_turned(edge, over)) for edge in reversed(piece.edges)),
        darts=tuple(_mirrored_dart(dart, lengths[dart.edge], over) for dart in piece.darts),
        double_darts=tuple(moved_double_dart(dart, over) for dart in piece.double_darts),
        notches=tuple(replace(notch, at_mm=lengths[notch.edge] - notch.at_mm) for notch in piece.notches),
        inner_lines=tuple(replace(line, points=over.points(line.points)) for line in piece.inner_lines),
        marks=tuple(Mark(mark.id, over.point(mark.at), mark.kind) for mark in piece.marks),
        labels=tuple(Label(label.text, over.point(label.at)) for label in piece.labels),
        grain=piece.grain.moved(over) if piece.grain else None,
    )


def _turned(edge: Edge, over: Affine) -> Points:
    return frozen_points(over.points(edge.points)[::-1])


def _mirrored_dart(dart: Dart, edge_mm: float, over: Affine) -> Dart:
    pressed = Pressed.TO_END if dart.pressed is Pressed.TO_START else Pressed.TO_START
    return replace(moved_dart(dart, over), from_mm=edge_mm - dart.to_mm, to_mm=edge_mm - dart.from_mm, pressed=pressed)


def _both(piece: Piece) -> tuple[Piece, Piece]:
    """The piece as drawn and its mirror image beside it, one to cut of each."""
    once = replace(piece, quantity=1, labels=_cut_once(piece.labels))
    return (
        replace(once, name=f"{DRAWN} {piece.name}"),
        replace(mirrored(once, _beside(piece)), name=f"{OTHER} {piece.name}"),
    )


def _beside(piece: Piece) -> Affine:
    """The mirroring in the centre line; without one in a line along the grain, else upright, beside the piece."""
    for role in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK):
        for edge in piece.edges_with_role(role):
            return Affine.mirrored(edge.start, edge.end)
    left, low, _, high = piece.bounds_mm
    return Affine.mirrored((left, low), (left, high))


def _opened(piece: Piece, fold: str) -> Piece:
    """The whole piece: the half as drawn, then its mirror image, in one ring."""
    edge = piece.edge(fold)
    half, image = _called(piece, DRAWN), _called(mirrored(piece, Affine.mirrored(edge.start, edge.end)), OTHER)
    return replace(
        half,
        edges=(*_after(half, f"{DRAWN} {fold}"), *_after(image, f"{OTHER} {fold}")),
        fold=None,
        quantity=1,
        darts=(*half.darts, *image.darts),
        double_darts=(*half.double_darts, *image.double_darts),
        notches=(*half.notches, *image.notches),
        inner_lines=(*half.inner_lines, *image.inner_lines),
        marks=(*half.marks, *image.marks),
        labels=_cut_once(piece.labels),
        grain=piece.grain,
    )


def _cut_once(labels: tuple[Label, ...]) -> tuple[Label, ...]:
    """The words on a piece with those to the cutter changed to one piece, not on the fold."""
    return tuple(Label(_TO_THE_CUTTER.sub("Cut 1", label.text), label.at) for label in labels)


def _after(piece: Piece, fold: str) -> tuple[Edge, ...]:
    """Its edges from the one after the fold round to the one before it."""
    at = [edge.id for edge in piece.edges].index(fold)
    return (*piece.edges[at + 1 :], *piece.edges[:at])


def _called(piece: Piece, hand: str) -> Piece:
    """The piece with the hand put before the names of everything on it."""
    return replace(
        piece,
        edges=tuple(replace(edge, id=f"{hand} {edge.id}") for edge in piece.edges),
        darts=tuple(replace(dart, id=f"{hand} {dart.id}", edge=f"{hand} {dart.edge}") for dart in piece.darts),
        double_darts=tuple(replace(dart, id=f"{hand} {dart.id}") for dart in piece.double_darts),
        notches=tuple(replace(notch, id=f"{hand} {notch.id}", edge=f"{hand} {notch.edge}") for notch in piece.notches),
        inner_lines=tuple(replace(line, id=f"{hand} {line.id}") for line in piece.inner_lines),
        marks=tuple(replace(mark, id=f"{hand} {mark.id}") for mark in piece.marks),
    )
