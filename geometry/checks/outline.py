"""Outlines: closed, not crossing themselves, and nothing marked on an edge that is not there."""

from __future__ import annotations

from collections.abc import Iterator

from geometry import regions
from geometry.affine import distance_mm
from geometry.checks.subject import Check, Subject, edge_names, has_edges, is_traced, lost_names
from geometry.checks.wording import mm
from geometry.curves.corners import roughness_mm
from geometry.findings import Finding, Level
from geometry.tolerance import ROUGH_MM, SAME_POINT_MM


def parts_missing(subject: Subject) -> Iterator[Finding]:
    """Darts, notches, folds and seams that name an edge which is not there."""
    for piece in subject.pattern.pieces:
        for what, edge in lost_names(piece):
            text = (
                f'The {what} of "{piece.name}" belongs to an edge "{edge}" that the piece does not have; '
                "the piece was not checked further. Import the pattern again or take the step back that lost the edge."
            )
            yield Finding("part-missing", Level.STOP, text, piece=piece.name)
    known = edge_names(subject.pattern)
    for seam in subject.pattern.seams:
        if not has_edges(known, seam):
            text = (
                f'The seam "{seam.id}" names an edge that is not in the pattern, so it was not checked; '
                "say again which edges are sewn together."
            )
            yield Finding("part-missing", Level.STOP, text)


def outline_open(subject: Subject) -> Iterator[Finding]:
    """Corners where one edge does not start where the last one ends."""
    for piece in subject.pieces:
        for before, after in zip((piece.edges[-1], *piece.edges), piece.edges, strict=False):
            gap_mm = distance_mm(before.end, after.start)
            if gap_mm > SAME_POINT_MM:
                text = (
                    f'The outline of "{piece.name}" is open by {mm(gap_mm)} between "{before.id}" and "{after.id}"; '
                    "join the two ends before cutting."
                )
                yield Finding("outline-open", Level.STOP, text, piece.name, before.end, gap_mm, 0.0)


def outline_crosses(subject: Subject) -> Iterator[Finding]:
    """Outlines that cross or touch themselves; the first place is given."""
    for piece in subject.pieces:
        if regions.is_simple(piece.outline):
            continue
        places = regions.self_crossings(piece.outline)
        count = "once" if len(places) == 1 else f"at {len(places)} places"
        what = f"crosses itself {count}" if places else "encloses nothing"
        text = (
            f'The outline of "{piece.name}" {what}, so it cannot be cut; make the last change smaller or take it back.'
        )
        yield Finding("outline-crosses", Level.STOP, text, piece.name, places[0] if places else None)


def outline_rough(subject: Subject) -> Iterator[Finding]:
    """Outlines that still shake as a hand on a digitiser left them."""
    for piece in subject.whole:
        if is_traced(piece):
            shake_mm = roughness_mm(piece.outline)
            text = (
                f'The outline of "{piece.name}" shakes by about {mm(shake_mm)} as it was traced; smooth it before you '
                "cut, for its allowances cannot run evenly round it."
            )
            yield Finding("outline-rough", Level.NOTE, text, piece.name, None, shake_mm, ROUGH_MM)


CHECKS = (
    Check("part-missing", "Everything marked lies on an edge that is there", parts_missing, rule="closed-form"),
    Check("outline-open", "Outlines are closed", outline_open, rule="closed-form"),
    Check("outline-crosses", "Outlines do not cross themselves", outline_crosses, rule="closed-form"),
    Check(
        "outline-rough",
        "Outlines are smooth",
        outline_rough,
        rule="own arithmetic: an outline that shakes by more than rounding to a hundredth of a millimetre was traced",
    ),
)
