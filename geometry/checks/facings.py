"""Facings: each lies on the edge it is sewn to, as long as that and of its shape."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.alterations.sewn_side import misfit_mm
from geometry.checks.agreement import misfit
from geometry.checks.seams import middle
from geometry.checks.subject import Check, Subject
from geometry.checks.walking import Walk
from geometry.checks.wording import mm, sentence, side
from geometry.findings import Finding, Level
from geometry.model.pattern import SeamKind
from geometry.tolerance import FLOAT_MM


def facing_fit(subject: Subject) -> Iterator[Finding]:
    """Facings longer or shorter than their edge, or not lying on it; about (edge, other piece, other edge)."""
    whole = {piece.name for piece in subject.whole}
    for walk in subject.walks:
        if walk.seam.kind is SeamKind.FACING and {ref.piece for ref in (*walk.seam.first, *walk.seam.second)} <= whole:
            told = _told(subject, walk)
            if told is not None:
                ref, other = walk.seam.first[0], walk.seam.second[0]
                text = (
                    f"{sentence(side(subject.pattern, walk.seam.sides[0]))} {told[1]} "
                    f"{side(subject.pattern, walk.seam.sides[1])}, which it faces; let it follow."
                )
                where = middle(subject.pattern, ref)
                about = (ref.edge, other.piece, other.edge)
                yield Finding("facing-fit", told[0], text, ref.piece, where, told[2], told[3], about)


def _told(subject: Subject, walk: Walk) -> tuple[Level, str, float, float] | None:
    """How grave it is, what is wrong in words, measured and expected; ``None`` where the facing fits."""
    level = misfit(walk, subject.limits)
    if level is not None:
        too = "longer" if walk.ease_mm > 0 else "shorter"
        return level, f"is {mm(abs(walk.ease_mm))} {too} than", walk.first_mm, walk.second_mm
    off_mm = misfit_mm(subject.pattern, walk.seam)
    if off_mm <= subject.limits.facing_off_mm + FLOAT_MM:
        return None
    return Level.WARN, f"is as long as, but lies up to {mm(off_mm)} beside", off_mm, 0.0


CHECKS = (
    Check(
        "facing-fit",
        "Facings lie on the edges they are sewn to",
        facing_fit,
        ("seam_warn_mm", "seam_stop_mm", "facing_off_mm"),
        "facings mirror the same cut: common practice, from memory",
    ),
)
