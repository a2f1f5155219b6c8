"""What can be put right from a walk: a notch or dart moved to its partner, a difference shared. No Qt."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.alterations.edge_ends import End
from geometry.alterations.seam_steps import MatchDart, MatchNotch, ShareDifference
from geometry.alterations.step import Step
from geometry.checks.agreement import expected_first_mm
from geometry.checks.walking import Meeting, Stop, StopKind, Walk

_SEEN_MM = 0.05
"""A difference below this is none to a person with a ruler."""


@dataclass(frozen=True, slots=True)
class Fix:
    """A step that puts something right, and what it does in words."""

    words: str
    step: Step


def mark_fixes(meeting: Meeting, *, from_end: bool) -> tuple[Fix, ...]:
    """Ways to let two marks meet when walked from that end; none for marks without a partner."""
    first, second = meeting.first, meeting.second
    if first is None or second is None:
        return ()
    walked_from = End.END if from_end else End.START
    found = []
    for mine, other in ((first, second), (second, first)):
        step = _matched(mine, other, walked_from)
        if step is not None:
            what = "dart" if mine.kind is StopKind.DART else "notch"
            found.append(Fix(f"Move the {what} of the {mine.piece}", step))
    return tuple(found)


def length_fixes(walked: Walk, *, from_end: bool) -> tuple[Fix, ...]:
    """Ways to bring both sides to lengths that agree, moved at the end walked to; none where they do."""
    ease_mm = expected_first_mm(walked) - walked.second_mm
    if abs(walked.ease_mm - ease_mm) < _SEEN_MM:
        return ()
    seam = walked.seam
    if not all(side.ends_at_corner(at_end=not from_end) for side in seam.sides):
        from_end = not from_end
    at = 0 if from_end else -1
    mine, other = seam.first[at], seam.second[at]
    my_end = _end(seam.first_backward[at], from_end=from_end)
    other_end = _end(seam.second_backward[at], from_end=from_end)

    def shared(share: float) -> Step:
        return ShareDifference(
            mine.piece, mine.edge, my_end, other.piece, other.edge, other_end, share, round(ease_mm, 6)
        )

    if mine == other:
        return ()
    return (
        Fix("Share the difference", shared(0.5)),
        Fix(f"Change the {mine.piece} only", shared(1.0)),
        Fix(f"Change the {other.piece} only", shared(0.0)),
    )


def _matched(mine: Stop, other: Stop, walked_from: End) -> Step | None:
    if mine.kind is StopKind.DART and other.kind is StopKind.DART:
        return MatchDart(mine.piece, mine.id, other.piece, other.id, walked_from)
    if mine.kind is StopKind.NOTCH and other.kind in (StopKind.NOTCH, StopKind.JOIN):
        return MatchNotch(mine.piece, mine.id, other.piece, other.id, walked_from)
    return None


def _end(is_backward: bool, *, from_end: bool) -> End:
    """The end of an edge at the far end of the seam."""
    return End.START if is_backward is not from_end else End.END
