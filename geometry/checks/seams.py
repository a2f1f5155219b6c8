"""Seams: both sides measure alike, darts folded and ease allowed for."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.affine import Point
from geometry.checks.agreement import TOLD_BY_OTHERS, expected_first_mm, lags, misfit
from geometry.checks.subject import Check, Subject, edge_names, has_edges, lost_ends
from geometry.checks.walking import Walk
from geometry.checks.wording import edges, mm, sentence, side
from geometry.findings import Finding, Level
from geometry.model.edge import EdgeRole
from geometry.model.garment import layer_of
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamKind, SeamSide
from geometry.tolerance import FLOAT_MM

_SEWN = (EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.INSEAM, EdgeRole.UNDERARM)


def no_seams_known(subject: Subject) -> Iterator[Finding]:
    """A pattern of which nothing can be told about what is sewn to what."""
    if subject.pieces and not subject.walks:
        text = (
            "It is not known which edges are sewn together, so no seam was checked; name the pieces and edges "
            "(front bodice, side, armhole ...) or walk the seams on paper."
        )
        yield Finding("no-seams-known", Level.NOTE, text)


def seam_lengths(subject: Subject) -> Iterator[Finding]:
    """Seams whose sides differ; an alteration that left one side behind is told by its own finding instead."""
    told = {lag.walk.seam.id for lag in lags(subject)}
    for walk in subject.walks:
        if walk.seam.kind in TOLD_BY_OTHERS or walk.seam.kind is SeamKind.ARMHOLE or walk.seam.id in told:
            continue
        level = misfit(walk, subject.limits)
        if level is not None:
            yield _differs(subject, walk, level)


def shoulder_ease(subject: Subject) -> Iterator[Finding]:
    """Shoulders with so much ease that not every cloth takes it."""
    for walk in subject.walks:
        within = walk.ease_mm <= walk.seam.ease_mm[1] + FLOAT_MM
        if walk.seam.kind is SeamKind.SHOULDER and within and walk.ease_mm > subject.limits.shoulder_safe_mm + FLOAT_MM:
            text = (
                f"{sentence(side(subject.pattern, walk.seam.sides[0]))} is eased by {mm(walk.ease_mm)} into "
                f"{side(subject.pattern, walk.seam.sides[1])}; up to {mm(subject.limits.shoulder_safe_mm)} goes into "
                "any cloth, try this much on a scrap of yours first."
            )
            yield Finding(
                "shoulder-ease",
                Level.NOTE,
                text,
                walk.seam.first[0].piece,
                middle(subject.pattern, walk.seam.first[0]),
                walk.ease_mm,
                subject.limits.shoulder_safe_mm,
            )


def edge_unsewn(subject: Subject) -> Iterator[Finding]:
    """Side, shoulder, inseam and underarm edges of which it is not known what they are sewn to.

    Asked only where seams were proposed for the others and every piece could be measured; linings apart.
    """
    if subject.pattern.seams or not subject.walks or len(subject.whole) < len(subject.pattern.pieces):
        return
    sewn = {ref for walk in subject.walks for ref in (*walk.seam.first, *walk.seam.second)}
    for piece in subject.pieces:
        for edge in piece.edges:
            ref = EdgeRef(piece.name, edge.id)
            if edge.role in _SEWN and ref not in sewn and not layer_of(piece):
                text = (
                    f"It is not known what {edges((ref,))} is sewn to, so it was not checked; say which edge it "
                    "belongs to, or walk the seam on paper."
                )
                yield Finding(
                    "edge-unsewn", Level.NOTE, text, piece.name, middle(subject.pattern, ref), about=(edge.id,)
                )


def seam_end_lost(subject: Subject) -> Iterator[Finding]:
    """Seams of which it cannot be told any more from where to where an edge is sewn; about the edge."""
    known = edge_names(subject.pattern)
    for seam in subject.pattern.seams if subject.whole else ():
        if not seam.is_partial or not has_edges(known, seam):
            continue
        for ref in dict.fromkeys(ref for one in seam.sides for ref in lost_ends(subject.pattern, one)):
            text = (
                f"{sentence(edges((ref,)))} is sewn in part only, and one of the notches between which it is sewn "
                "is gone or has come past the other; say anew from where to where it is sewn."
            )
            where = middle(subject.pattern, ref)
            yield Finding("seam-end-lost", Level.STOP, text, ref.piece, where, about=(ref.edge, seam.id))


def sides_about(seam: Seam) -> tuple[str, ...]:
    """What a finding on a whole seam is about: last edge of the first side and its end there, then the other side's.

    As (edge, "start" or "end", other piece, other edge, its "start" or "end", piece). Where a side stops along an
    edge, the first edges and the ends there are told, which can be made longer.
    """
    together = next((end for end in (True, False) if all(one.ends_at_corner(at_end=end) for one in seam.sides)), None)
    (ours, our_way), (theirs, their_way) = (_free_end(one, together) for one in seam.sides)
    return ours.edge, our_way, theirs.piece, theirs.edge, their_way, ours.piece


def _free_end(one: SeamSide, together: bool | None) -> tuple[EdgeRef, str]:
    at_end = one.ends_at_corner(at_end=True) if together is None else together
    ref, is_backward = (one.refs[-1], one.backward[-1]) if at_end else (one.refs[0], one.backward[0])
    return ref, "start" if is_backward is at_end else "end"


def middle(pattern: Pattern, ref: EdgeRef) -> Point:
    """The place half-way along an edge."""
    edge = pattern.piece(ref.piece).edge(ref.edge)
    return edge.point_at(edge.length_mm / 2)


def _differs(subject: Subject, walk: Walk, level: Level) -> Finding:
    expected_mm = expected_first_mm(walk)
    low, high = walk.seam.ease_mm
    allowed = f", with the {mm(low)} to {mm(high)} of ease it may have" if high > low else ""
    text = (
        f"{sentence(side(subject.pattern, walk.seam.sides[0]))} measures {mm(walk.first_mm)} and is sewn to "
        f"{side(subject.pattern, walk.seam.sides[1])}, "
        f"which measures {mm(walk.second_mm)} (darts folded){allowed}: "
        f"{mm(abs(walk.first_mm - expected_mm))} too {'long' if walk.first_mm > expected_mm else 'short'}. "
        "Change one of the two by that much, or declare the ease."
    )
    ref = walk.seam.first[0]
    about = sides_about(walk.seam)
    where = middle(subject.pattern, ref)
    return Finding("seam-lengths", level, text, ref.piece, where, walk.first_mm, expected_mm, about)


CHECKS = (
    Check(
        "seam-lengths",
        "Edges that are sewn together measure alike, darts folded and ease allowed for",
        seam_lengths,
        ("seam_warn_mm", "seam_stop_mm", "shoulder_ease_mm", "inseam_ease_mm"),
    ),
    Check("shoulder-ease", "The back shoulder is not eased too much", shoulder_ease, ("shoulder_safe_mm",)),
    Check(
        "seam-end-lost",
        "It is known from where to where an edge is sewn in part",
        seam_end_lost,
        rule="nothing to measure",
    ),
    Check("edge-unsewn", "It is known what each side and shoulder is sewn to", edge_unsewn, rule="nothing to measure"),
    Check("no-seams-known", "It is known which edges are sewn together", no_seams_known, rule="nothing to measure"),
)
