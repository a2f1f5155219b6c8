"""Seam and hem allowances: there where a seam is, alike on both its sides, with room at every bend."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from functools import lru_cache

from geometry.affine import Points, frozen_points
from geometry.allowance import allowance_findings
from geometry.checks.line_shape import headings_rad
from geometry.checks.subject import Check, Subject, is_traced
from geometry.checks.walking import Walk
from geometry.checks.wording import edges, mm, sentence
from geometry.findings import Finding, Level
from geometry.model.edge import CornerCut, Edge, EdgeRole
from geometry.model.pattern import EdgeRef
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM


def usual_allowance_mm(piece: Piece) -> float:
    """The allowance that most of a piece's edges have, hems and edges without one left out; 0 if there is none."""
    widths = Counter(
        edge.allowance_mm for edge in piece.edges if edge.role is not EdgeRole.HEM and edge.allowance_mm > 0
    )
    return widths.most_common(1)[0][0] if widths else 0.0


def allowance_on_fold(subject: Subject) -> Iterator[Finding]:
    """Edges on the fold that have an allowance."""
    for piece in subject.pieces:
        if piece.fold is None or piece.edge(piece.fold).allowance_mm <= FLOAT_MM:
            continue
        edge = piece.edge(piece.fold)
        text = (
            f'The {edge.id} of "{piece.name}" lies on the fold and has an allowance of {mm(edge.allowance_mm)}: laid '
            "with its cutting line on the fold it would be that much too wide on both sides. Take the allowance away."
        )
        yield Finding(
            "allowance-on-fold",
            Level.WARN,
            text,
            piece.name,
            _middle(edge),
            edge.allowance_mm,
            0.0,
            (edge.id,),
        )


def allowance_missing(subject: Subject) -> Iterator[Finding]:
    """Edges that are sewn or hemmed and have no allowance, on pieces that have one elsewhere."""
    sewn = {ref for walk in subject.walks for ref in (*walk.seam.first, *walk.seam.second)}
    for piece in subject.pieces:
        usual_mm = usual_allowance_mm(piece)
        for edge in piece.edges if usual_mm else ():
            is_sewn = EdgeRef(piece.name, edge.id) in sewn or edge.role is EdgeRole.HEM
            if edge.allowance_mm <= FLOAT_MM and is_sewn and edge.id != piece.fold:
                text = (
                    f'The {edge.id} of "{piece.name}" has no allowance, so the piece would be cut on the stitching '
                    f"line there; give it one, for example {mm(usual_mm)} like its other edges."
                )
                yield Finding(
                    "allowance-missing",
                    Level.WARN,
                    text,
                    piece.name,
                    _middle(edge),
                    edge.allowance_mm,
                    usual_mm,
                    (edge.id,),
                )


def allowance_narrow(subject: Subject) -> Iterator[Finding]:
    """Edges whose allowance is so narrow that it frays away."""
    least_mm = subject.limits.allowance_least_mm
    for piece in subject.pieces:
        for edge in piece.edges:
            if FLOAT_MM < edge.allowance_mm < least_mm - FLOAT_MM and edge.id != piece.fold:
                text = (
                    f'The allowance on the {edge.id} of "{piece.name}" is only {mm(edge.allowance_mm)}; cloth frays, '
                    f"so give it {mm(least_mm)} or more."
                )
                yield Finding(
                    "allowance-narrow",
                    Level.WARN,
                    text,
                    piece.name,
                    _middle(edge),
                    edge.allowance_mm,
                    least_mm,
                    (edge.id,),
                )


def allowance_differs(subject: Subject) -> Iterator[Finding]:
    """Seams whose two sides have different allowances; the finding is about an edge of the narrower side."""
    pieces = {piece.name: piece for piece in subject.pieces}
    for walk in subject.walks:
        if any(ref.piece not in pieces for ref in (*walk.seam.first, *walk.seam.second)):
            continue
        first, second = (
            [(pieces[ref.piece].edge(ref.edge).allowance_mm, ref) for ref in refs]
            for refs in (walk.seam.first, walk.seam.second)
        )
        narrow, wide = min(first + second, key=_width), max(first + second, key=_width)
        if narrow[0] > FLOAT_MM and wide[0] - narrow[0] > subject.limits.allowance_differ_mm + FLOAT_MM:
            yield _differs(pieces, walk, narrow, wide)


def hem_differs(subject: Subject) -> Iterator[Finding]:
    """Hems that meet at a seam and are turned up by different widths; the finding is about the narrower one."""
    pieces = {piece.name: piece for piece in subject.pieces}
    told = set()
    for walk in subject.walks:
        if not all(side.ends_at_corner(at_end=True) for side in walk.seam.sides):
            continue
        ends = (
            _beside(pieces, walk.seam.first[-1], walk.seam.first_backward[-1]),
            _beside(pieces, walk.seam.second[-1], walk.seam.second_backward[-1]),
        )
        hems = [(edge.allowance_mm, EdgeRef(name, edge.id)) for name, edge in ends if edge.role is EdgeRole.HEM]
        if len(hems) < 2 or min(hems, key=_width)[0] <= FLOAT_MM:
            continue
        narrow, wide = min(hems, key=_width), max(hems, key=_width)
        if wide[0] - narrow[0] > subject.limits.allowance_differ_mm + FLOAT_MM and narrow[1] not in told:
            told.add(narrow[1])
            edge = pieces[narrow[1].piece].edge(narrow[1].edge)
            text = (
                f"{sentence(edges((narrow[1],)))} is turned up {mm(narrow[0])} and {edges((wide[1],))}, which goes on "
                f"from it, {mm(wide[0])}; give both the same, or the hem shows a step at the seam."
            )
            yield Finding(
                "hem-differs", Level.WARN, text, narrow[1].piece, _middle(edge), narrow[0], wide[0], (edge.id,)
            )


def hem_full(subject: Subject) -> Iterator[Finding]:
    """Hems that are so round and deep that their turned-up edge does not lie flat."""
    for piece in subject.pieces:
        for edge in piece.edges:
            if edge.role is not EdgeRole.HEM or edge.allowance_mm <= FLOAT_MM or len(edge.points) < 3:
                continue
            ahead_rad, back_rad = headings_rad(edge.points)
            full_mm = 2 * edge.allowance_mm * abs(math.remainder(back_rad + math.pi - ahead_rad, math.tau))
            allowed_mm = edge.length_mm * subject.limits.hem_full_percent / 100
            if full_mm > allowed_mm + FLOAT_MM:
                text = (
                    f'The {edge.id} of "{piece.name}" is so round that its allowance of {mm(edge.allowance_mm)}, '
                    f"turned up, is off by {mm(full_mm)} from the line it is sewn to; make it narrower, or face it."
                )
                yield Finding("hem-full", Level.NOTE, text, piece.name, _middle(edge), full_mm, allowed_mm, (edge.id,))


def hem_mirrored(subject: Subject) -> Iterator[Finding]:
    """Hems whose mitred allowance, turned up, does not meet the side it lies on; about (edge, "start" or "end")."""
    for piece in subject.whole:
        for index, edge in enumerate(piece.edges):
            if edge.role is not EdgeRole.HEM or edge.allowance_mm <= FLOAT_MM or is_traced(piece):
                continue
            before, after = piece.edges[index - 1], piece.edges[(index + 1) % len(piece.edges)]
            ahead_rad, back_rad = headings_rad(edge.points)
            for at, cut, other, angle in (
                ("start", edge.start_cut, before, ahead_rad - headings_rad(before.points)[1]),
                ("end", edge.end_cut, after, back_rad - headings_rad(after.points)[0]),
            ):
                miss_mm = 2 * edge.allowance_mm * abs(math.cos(angle))
                is_cut = cut is not CornerCut.MIRRORED and other.id != piece.fold and other.role is not EdgeRole.HEM
                if is_cut and miss_mm > subject.limits.hem_mirror_mm + FLOAT_MM:
                    text = (
                        f'The {edge.id} of "{piece.name}" meets the {other.id} aslant: turned up, its allowance misses '
                        f"it by {mm(miss_mm)}. Cut the allowance there as the mirror image of the piece above it."
                    )
                    where = edge.start if at == "start" else edge.end
                    yield Finding("hem-mirrored", Level.NOTE, text, piece.name, where, miss_mm, 0.0, (edge.id, at))


def allowance_trimmed(subject: Subject) -> Iterator[Finding]:
    """Allowances wider than a bend has room for, one finding an edge; about the edge.

    An outline still rough from the digitiser would be told at every edge; see ``outline-rough``.
    """
    for piece in subject.whole:
        if not is_traced(piece):
            yield from _trimmed(piece)


@lru_cache(maxsize=256)
def _trimmed(piece: Piece) -> tuple[Finding, ...]:
    """Drawing all cutting lines is the longest work of all checks, and most pieces are as they were a moment ago."""
    return tuple({(finding.text, finding.expected_mm): finding for finding in allowance_findings(piece)}.values())


def _differs(
    pieces: dict[str, Piece], walk: Walk, narrow: tuple[float, EdgeRef], wide: tuple[float, EdgeRef]
) -> Finding:
    ref = narrow[1]
    edge = pieces[ref.piece].edge(ref.edge)
    text = (
        f"{sentence(edges((ref,)))} has an allowance of {mm(narrow[0])} and {edges((wide[1],))}, which it is sewn to, "
        f"one of {mm(wide[0])}; with cut edges laid together the stitching lines would not meet. Give both the same."
    )
    return Finding("allowance-differs", Level.WARN, text, ref.piece, _middle(edge), narrow[0], wide[0], (edge.id,))


def _width(row: tuple[float, EdgeRef]) -> float:
    return row[0]


def _beside(pieces: dict[str, Piece], ref: EdgeRef, is_backward: bool) -> tuple[str, Edge]:
    """The edge of a piece beyond the end of a seam."""
    piece = pieces[ref.piece]
    index = [edge.id for edge in piece.edges].index(ref.edge)
    return ref.piece, piece.edges[index - 1] if is_backward else piece.edges[(index + 1) % len(piece.edges)]


def _reversed(edge: Edge) -> Points:
    return frozen_points(edge.points[::-1])


def _middle(edge: Edge) -> tuple[float, float]:
    return edge.point_at(edge.length_mm / 2)


CHECKS = (
    Check(
        "allowance-on-fold",
        "Edges on the fold have no allowance",
        allowance_on_fold,
        rule="no allowance on the fold: common practice, from memory",
    ),
    Check(
        "allowance-missing",
        "Edges that are sewn have an allowance",
        allowance_missing,
        rule="common practice, no source",
    ),
    Check("allowance-narrow", "No allowance frays away", allowance_narrow, ("allowance_least_mm",)),
    Check("allowance-differs", "Both sides of a seam have one allowance", allowance_differs, ("allowance_differ_mm",)),
    Check("hem-differs", "Hems that meet are turned up alike", hem_differs, ("allowance_differ_mm",)),
    Check("hem-full", "Hems turned up lie flat", hem_full, ("hem_full_percent",)),
    Check(
        "hem-mirrored",
        "Hems turned up meet the seams they lie on",
        hem_mirrored,
        ("hem_mirror_mm",),
        "the hem's allowance mirrors the side above it: common practice, from memory",
    ),
    Check(
        "allowance-trimmed",
        "No allowance is wider than a bend has room for",
        allowance_trimmed,
        rule="closed-form: a line cannot run further inside a bend than its radius",
    ),
)
