"""Collars, waistbands, facings and linings: as long as what they are sewn to, and altered with it."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.checks.agreement import expected_first_mm, misfit
from geometry.checks.limits import Band, level_beyond
from geometry.checks.seams import middle
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Walk
from geometry.checks.wording import mm, sentence, side
from geometry.findings import Finding
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, half_of, hand_in, layer_of, part_of
from geometry.model.pattern import EdgeRef, SeamKind
from geometry.model.piece import Piece

_NOT_GARMENT = ("collar", "band", "cuff", "yoke")


def collar_length(subject: Subject) -> Iterator[Finding]:
    """Collars that are not as long as the neck."""
    low, high = subject.limits.collar_short_mm
    yield from _round_differs(subject, "collar", EdgeRole.NECK, (Part.BODICE,), (-high, -low), "collar-length")


def band_length(subject: Subject) -> Iterator[Finding]:
    """Waistbands that are not as long as the waist and their overlap."""
    parts = (Part.SKIRT, Part.TROUSERS)
    yield from _round_differs(subject, "band", EdgeRole.WAIST, parts, subject.limits.band_over_mm, "band-length")


def layer_not_changed(subject: Subject) -> Iterator[Finding]:
    """Linings and facings whose piece was altered and they were not; at the edge that differs most."""
    limits = subject.limits
    faced = {walk.seam.first[0].piece for walk in subject.walks if walk.seam.kind is SeamKind.FACING}
    for piece in subject.pieces:
        before = subject.bases.get(piece.name)
        if not layer_of(piece) or before is None or piece.name in faced:
            continue
        for shell in subject.pieces:
            old = subject.bases.get(shell.name)
            if old is None or not _is_shell_of(shell, piece):
                continue
            worst = max(_apart(shell, old, piece, before, limits.seam_warn_mm), default=None)
            level = level_beyond(worst[0], limits.seam_warn_mm, limits.seam_stop_mm) if worst else None
            if worst is not None and level is not None:
                _, shell_mm, mine_mm, edge = worst
                text = (
                    f'The {edge} of "{shell.name}" measures {mm(shell_mm)} now and that of "{piece.name}" '
                    f"{mm(mine_mm)}, though they were alike; make the same change on both."
                )
                where = middle(subject.pattern, EdgeRef(piece.name, edge))
                yield Finding(
                    "layer-not-changed", level, text, piece.name, where, mine_mm, shell_mm, (edge, shell.name)
                )


def _round_differs(
    subject: Subject, word: str, role: EdgeRole, parts: tuple[Part, ...], allowed: Band, code: str
) -> Iterator[Finding]:
    """Bands whose whole length, less that of all edges they are sewn to, is not what is allowed."""
    walked = {walk.seam.first[0].piece: walk for walk in subject.walks if walk.seam.kind is SeamKind.BAND}
    bands = [piece for piece in subject.pieces if word in piece.name.lower() and piece.edges_with_role(role)]
    for piece in bands:
        if piece.name in walked:
            yield from _differs(subject, walked[piece.name], code)
    bands = [piece for piece in bands if piece.name not in walked]
    around_mm = sum(
        _round_mm(piece, role, twice=piece.quantity >= 2)
        for piece in subject.pieces
        if part_of(piece) in parts and not layer_of(piece) and not any(w in piece.name.lower() for w in _NOT_GARMENT)
    )
    limits = subject.limits
    for piece in bands if around_mm else ():
        length_mm = _round_mm(piece, role, twice=False)
        over_mm = length_mm - around_mm
        wanted_mm = min(max(over_mm, allowed[0]), allowed[1])
        level = level_beyond(abs(over_mm - wanted_mm), limits.seam_warn_mm, limits.seam_stop_mm)
        if level is not None:
            off = f"{mm(abs(over_mm - wanted_mm))} too {'long' if over_mm > wanted_mm else 'short'}"
            text = (
                f'"{piece.name}" measures {mm(length_mm)} all round and the {role.value} it is sewn to '
                f"{mm(around_mm)} (darts folded): {off}. Lengthen or shorten it at the centre back."
            )
            where = middle(subject.pattern, EdgeRef(piece.name, piece.edges_with_role(role)[0].id))
            yield Finding(code, level, text, piece.name, where, length_mm, around_mm + wanted_mm)


def _differs(subject: Subject, walk: Walk, code: str) -> Iterator[Finding]:
    """A band that is not as long as what it is known to be sewn to; about (edge, other piece, other edge)."""
    level = misfit(walk, subject.limits)
    if level is not None:
        expected_mm, (low, high) = expected_first_mm(walk), walk.seam.ease_mm
        too = "long" if walk.first_mm > expected_mm else "short"
        allowed = f", {mm(low)} to {mm(high)} longer" if high > 0 else ""
        text = (
            f"{sentence(side(subject.pattern, walk.seam.sides[0]))} measures {mm(walk.first_mm)} and should be as long "
            f"as {side(subject.pattern, walk.seam.sides[1])}{allowed}, which together measure {mm(walk.second_mm)} "
            f"(darts folded): {mm(abs(walk.first_mm - expected_mm))} too {too}. Let it follow."
        )
        ref, other = walk.seam.first[0], walk.seam.second[0]
        about = (ref.edge, other.piece, other.edge)
        yield Finding(code, level, text, ref.piece, middle(subject.pattern, ref), walk.first_mm, expected_mm, about)


def _round_mm(piece: Piece, role: EdgeRole, *, twice: bool) -> float:
    """Length of a piece's edges of one role all round the body."""
    once_mm = sum(piece.sewn_length_mm(edge.id) for edge in piece.edges_with_role(role))
    return once_mm * (2 if piece.fold is not None or twice else 1)


def _is_shell_of(shell: Piece, piece: Piece) -> bool:
    def told(each: Piece) -> tuple[Part | None, str, str]:
        return part_of(each), half_of(each), hand_in(each.name)

    return not layer_of(shell) and told(shell) == told(piece)


def _apart(
    shell: Piece, old_shell: Piece, piece: Piece, old: Piece, alike_mm: float
) -> Iterator[tuple[float, float, float, str]]:
    """By how much each edge differs now that was alike on both, with both lengths and its id."""
    pieces = (shell, old_shell, piece, old)
    for edge in piece.edges:
        if any(all(each.id != edge.id for each in other.edges) for other in pieces) or edge.role is EdgeRole.HEM:
            continue
        now_mm, was_mm, mine_mm, my_was_mm = (each.sewn_length_mm(edge.id) for each in pieces)
        if abs(was_mm - my_was_mm) <= alike_mm:
            yield abs(now_mm - mine_mm), now_mm, mine_mm, edge.id


_SEAM = ("seam_warn_mm", "seam_stop_mm")

CHECKS = (
    Check("collar-length", "The collar is as long as the neck", collar_length, ("collar_short_mm", *_SEAM)),
    Check("band-length", "The waistband is as long as the waist", band_length, ("band_over_mm", *_SEAM)),
    Check(
        "layer-not-changed",
        "What was altered was altered on its lining and facing too",
        layer_not_changed,
        _SEAM,
        "the same amount at the same place on every layer: an early dressmaking text (fashion-design-drawing.com)",
    ),
)
