"""Sizes blended level by level: one pattern out of a nest, with everything that is marked on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from geometry.findings import Finding, Level
from geometry.fitting.blended_notches import with_mated_notches
from geometry.fitting.blended_outline import Outline, blended_outlines
from geometry.fitting.blended_piece import blended_piece
from geometry.fitting.levels import SizeBlend
from geometry.fitting.nest_stack import NestStack, SeamStack, stacked
from geometry.fitting.size_weights import size_weights
from geometry.model.pattern import Nest, Pattern

_NOTED_MM = 3.0
"""A corner or cap that was moved by more to match is told: 1/8 in, what suits many (Threads, 2020)."""


@dataclass(frozen=True, slots=True)
class Blended:
    """A pattern blended between sizes, and what the person should know of it."""

    pattern: Pattern
    findings: tuple[Finding, ...] = ()


def blend(nest: Nest, choice: SizeBlend) -> Blended:
    """One pattern with the sizes that were chosen at every level.

    One size at every level gives that size's very pattern. Between levels each edge goes over from size to size;
    widths are those of the sizes chosen at each level, and corners and caps are moved by the little it takes for
    everything that matches in each size to match again.

    Raises:
        PatternError: a size is not there, or the sizes are not built alike.
    """
    choice.refuse_beyond(nest.sizes)
    only = set(choice.positions)
    if len(only) == 1 and float(next(iter(only))).is_integer():
        return Blended(nest.patterns[int(next(iter(only)))])
    stack = stacked(nest)
    weights = size_weights(stack, choice)
    outlines, apart = blended_outlines(stack, weights)
    name = size_name(nest, choice)
    pieces = [
        blended_piece(piece, inside, own, outline, name)
        for piece, inside, own, outline in zip(stack.pieces, stack.insides, weights, outlines, strict=True)
    ]
    pattern = Pattern(tuple(with_mated_notches(pieces, stack, weights)), stack.sample.seams, name)
    return Blended(pattern, tuple(_findings(stack, outlines, apart)))


def size_name(nest: Nest, choice: SizeBlend) -> str:
    """What a blend is called: "10" for one size, else "8-12" after the smallest and the largest size in it."""
    low, high = int(np.floor(min(choice.positions))), int(np.ceil(max(choice.positions)))
    return nest.sizes[low] if low == high else f"{nest.sizes[low]}-{nest.sizes[high]}"


def _findings(
    stack: NestStack, outlines: tuple[Outline, ...], apart: tuple[tuple[SeamStack, float], ...]
) -> Iterator[Finding]:
    for seam, missing_mm in apart:
        yield Finding(
            "blend-seam",
            Level.WARN,
            f"Blended, the seam {seam.seam.id} is {abs(missing_mm):.1f} mm too {'short' if missing_mm > 0 else 'long'} "
            "on its first side; choose sizes nearer to one another and alter the rest.",
            piece=seam.seam.first[0].piece,
            measured_mm=missing_mm,
        )
    for piece, outline, inside in zip(stack.pieces, outlines, stack.insides, strict=True):
        if outline.moved_mm > _NOTED_MM:
            yield Finding(
                "blend-matched",
                Level.NOTE,
                f'"{piece.piece.name}" was changed by up to {outline.moved_mm:.1f} mm in height so that its seams fit.',
                piece=piece.piece.name,
                measured_mm=outline.moved_mm,
            )
        if inside.left_out:
            yield Finding(
                "blend-left-out",
                Level.WARN,
                f'On "{piece.piece.name}" {", ".join(inside.left_out)} is not in every size and was left out; '
                "mark it anew.",
                piece=piece.piece.name,
            )
