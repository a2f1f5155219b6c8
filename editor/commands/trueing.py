"""Steps that true edges and seams as buttons and forms begin them: partners and ends found from the seams. No Qt."""

from __future__ import annotations

from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.edge_ends import End, neighbour
from geometry.alterations.edge_steps import SquareCorner, StraightenCentre, StraightenEdge
from geometry.alterations.seam_steps import LevelHem
from geometry.alterations.step import Step
from geometry.checks.pairing import seams_of
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import EdgeRef, Pattern, Seam
from geometry.model.piece import Piece

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


def is_centre(piece: Piece, edge_id: str) -> bool:
    """Whether an edge lies on the fold or is a centre line."""
    return edge_id == piece.fold or piece.edge(edge_id).role in _CENTRES


def straightened(piece: Piece, edge_id: str) -> Step:
    """An edge drawn straight from end to end; a centre line so that the width moved is told."""
    if is_centre(piece, edge_id):
        return StraightenCentre(piece.name, edge_id)
    return StraightenEdge(piece.name, edge_id, on_edge(edge_id, 0.0), on_edge(edge_id, 1.0))


def centre_end(piece: Piece, edge_id: str) -> End | None:
    """The end where an edge meets the centre line, ``None`` where it does not."""
    return next((end for end in End if is_centre(piece, neighbour(piece, edge_id, end).id)), None)


def squared(piece: Piece, edge_id: str, amount_mm: float) -> SquareCorner:
    """An edge that leaves the centre line squarely.

    Raises:
        StepError: it does not meet one.
    """
    end = centre_end(piece, edge_id)
    if end is None or is_centre(piece, edge_id):
        raise StepError(f'The edge "{edge_id}" of "{piece.name}" does not meet a fold or centre line; choose another.')
    return SquareCorner(piece.name, edge_id, end, amount_mm)


def joined(pattern: Pattern, piece: Piece, edge_id: str, end: End, reach_mm: float) -> JoinCorner:
    """The edge drawn on smoothly across the seam at one of its ends.

    Raises:
        StepError: nothing is sewn to the edge it meets there.
    """
    ref, at = _across(pattern, piece, edge_id, end)
    other = pattern.piece(ref.piece)
    beside = neighbour(other, ref.edge, at)
    return JoinCorner(piece.name, edge_id, end, other.name, beside.id, at.other, reach_mm)


def levelled(pattern: Pattern, piece: Piece, edge_id: str, end: End) -> LevelHem:
    """A hem brought to where its seam is as long as what it is sewn to.

    Raises:
        StepError: nothing is sewn to the edge it meets there.
    """
    ref, _ = _across(pattern, piece, edge_id, end)
    return LevelHem(piece.name, edge_id, end, ref.piece, ref.edge)


def seams_of_edge(pattern: Pattern, ref: EdgeRef) -> tuple[Seam, ...]:
    """The seams an edge is sewn in."""
    seams = seams_of(pattern)
    return tuple(seam for seam in seams if ref in (*seam.first, *seam.second))


def seam_ends(pattern: Pattern, piece: Piece, edge_id: str) -> tuple[End, ...]:
    """The ends of an edge at which it meets a seam."""
    found = []
    for end in End:
        try:
            _across(pattern, piece, edge_id, end)
        except StepError:
            continue
        found.append(end)
    return tuple(found)


def middle_of(edge_id: str) -> Anchor:
    """Half-way along an edge."""
    return on_edge(edge_id, 0.5)


def _across(pattern: Pattern, piece: Piece, edge_id: str, end: End) -> tuple[EdgeRef, End]:
    """What is sewn to the edge met at an end, and the end of that at the same corner."""
    mine = EdgeRef(piece.name, neighbour(piece, edge_id, end).id)
    for seam in seams_of_edge(pattern, mine):
        ours, theirs = seam.sides if mine in seam.first else seam.sides[::-1]
        index = ours.refs.index(mine)
        is_first = ours.backward[index] is (end is End.START)  # the corner is where the walk along this edge begins
        if not all(side.ends_at_corner(at_end=not is_first) for side in (ours, theirs)):
            continue
        if is_first and index == 0:
            return theirs.refs[0], End.END if theirs.backward[0] else End.START
        if not is_first and index == len(ours.refs) - 1:
            return theirs.refs[-1], End.START if theirs.backward[-1] else End.END
    raise StepError(
        f'At the {end.value} of "{edge_id}" on "{piece.name}" the edge "{mine.edge}" is not sewn to another; say first '
        "what it is sewn to."
    )
