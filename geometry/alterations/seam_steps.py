"""Seams put right: differences shared, darts and notches brought to meet, hems level with what they are sewn to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from geometry.alterations.dart_sliding import slid
from geometry.alterations.edge_ends import End, neighbour, with_end_moved
from geometry.alterations.edge_steps import SQUARE_MM, old_edges, with_square_corner
from geometry.alterations.mouths import open_station_mm
from geometry.alterations.notch_steps import with_notch_at
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount, edge_changes, piece_outcome
from geometry.alterations.trueing import DEFAULT_REACH_MM
from geometry.checks.pairing import seams_of
from geometry.checks.walking import Stop, StopKind, Walk, side_mm, walk
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamSide
from geometry.tolerance import FLOAT_MM, SAME_POINT_MM

_ROUNDS = 20
"""Most rounds in which the amount is found that makes a partial seam right; two, where no dart is in the way."""

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)


@dataclass(frozen=True, slots=True)
class ShareDifference(WithAmount):
    """Make two edges that are sewn together equally long, each moving part of the difference at one end.

    Where the pattern knows the seam, it is the two whole sides of the seam that become equal, darts folded.

    Attributes:
        piece: Name of one piece.
        edge: Id of its edge.
        at: The end of that edge that moves.
        other_piece: Name of the other piece.
        other_edge: Id of its edge.
        other_at: The end of that edge that moves.
        share: How much of the difference the first edge takes, 0 to 1; the other takes the rest.
        amount_mm: By how much the side of the first edge is to stay longer, its ease.
    """

    kind: ClassVar[str] = "share-difference"

    piece: str
    edge: str
    at: End
    other_piece: str
    other_edge: str
    other_at: End
    share: float = 0.5
    amount_mm: float = 0.0

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The pieces with the edges."""
        return (self.piece,) if self.piece == self.other_piece else (self.piece, self.other_piece)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the edges as long as one another; the very same if they are."""
        if not 0.0 <= self.share <= 1.0:
            raise StepError(
                f'The share that "{self.edge}" of "{self.piece}" takes is {self.share:g}; give one from 0 to 1.'
            )
        first, second = EdgeRef(self.piece, self.edge), EdgeRef(self.other_piece, self.other_edge)
        ours_mm, theirs_mm = _sides_mm(pattern, first, second)
        too_long_mm = ours_mm - theirs_mm - self.amount_mm
        after = pattern
        if abs(too_long_mm) > FLOAT_MM:
            after = _with_side_longer(after, first, self.at, -self.share * too_long_mm, second)
            after = _with_side_longer(after, second, self.other_at, (1.0 - self.share) * too_long_mm, first)
        return _outcome(pattern, after, self.piece_names)


@dataclass(frozen=True, slots=True)
class LevelHem(OnOnePiece, WithAmount):
    """Bring a hem to where the seam beside it is as long as what it is sewn to, and let it leave the centre squarely.

    Attributes:
        piece: Name of the piece.
        edge: Id of the hem.
        at: The end of the hem at the seam; the other end stays.
        other_piece: Name of the piece sewn to that seam; "" leaves the length of the seam alone.
        other_edge: Id of its seam edge.
        amount_mm: By how much the seam may stay longer than what it is sewn to.
        square_mm: How far the hem runs square to the centre line at its other end, if that is one; 0 leaves it.
        reach_mm: How far from there it is blended.
    """

    kind: ClassVar[str] = "level-hem"

    piece: str
    edge: str
    at: End
    other_piece: str = ""
    other_edge: str = ""
    amount_mm: float = 0.0
    square_mm: float = SQUARE_MM
    reach_mm: float = DEFAULT_REACH_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the hem level; the very same if it is."""
        piece = pattern.piece(self.piece)
        after = piece
        if self.other_piece:
            seam = EdgeRef(piece.name, neighbour(piece, self.edge, self.at).id)
            ours_mm, theirs_mm = _sides_mm(pattern, seam, EdgeRef(self.other_piece, self.other_edge))
            by_mm = theirs_mm + self.amount_mm - ours_mm
            if abs(by_mm) > FLOAT_MM:
                after = with_end_moved(piece, seam.edge, self.at.other, by_mm)
        centre = neighbour(piece, self.edge, self.at.other)
        if self.square_mm > 0 and (centre.id == piece.fold or centre.role in _CENTRES):
            after = with_square_corner(after, self.edge, self.at.other, self.square_mm, self.reach_mm)
        return piece_outcome(pattern, piece, after, chalk=old_edges(piece, after))


@dataclass(frozen=True, slots=True)
class MatchDart(OnOnePiece, WithAmount):
    """Move a dart along its edge so that it meets a dart of the piece sewn to it, both folded.

    Attributes:
        piece: Name of the piece whose dart moves.
        dart: Id of that dart.
        other_piece: Name of the piece with the dart it is to meet.
        other_dart: Id of that dart.
        walked_from: The end of the seam from which both are walked; a waist seam starts at the centre.
        amount_mm: How far beyond the other dart it is to land, seen from there; 0 meets it.
    """

    kind: ClassVar[str] = "match-dart"

    piece: str
    dart: str
    other_piece: str
    other_dart: str
    walked_from: End = End.START
    amount_mm: float = 0.0

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart moved; the very same if the two meet."""
        piece = pattern.piece(self.piece)
        dart, other = piece.dart(self.dart), pattern.piece(self.other_piece).dart(self.other_dart)
        seam = seam_between(pattern, EdgeRef(self.piece, dart.edge), EdgeRef(self.other_piece, other.edge))
        walked = walk(pattern, seam)
        mine = _stop(walked, StopKind.DART, self.piece, dart.edge, dart.id)
        theirs = _stop(walked, StopKind.DART, self.other_piece, other.edge, other.id)
        by_mm = _along_edge(_missed_mm(mine, theirs, self), seam, EdgeRef(self.piece, dart.edge), self.walked_from)
        after = slid(piece, dart, by_mm) if abs(by_mm) > SAME_POINT_MM else piece
        return piece_outcome(pattern, piece, after, chalk=old_edges(piece, after))


@dataclass(frozen=True, slots=True)
class MatchNotch(OnOnePiece, WithAmount):
    """Put a notch where its partner lands when the seam is walked.

    Attributes:
        piece: Name of the piece whose notch moves.
        notch: Id of that notch.
        other_piece: Name of the piece with its partner.
        other_notch: Id of the partner; "" for the place where two edges of the other side are joined.
        walked_from: The end of the seam from which both are walked.
        amount_mm: How far beyond its partner it is to land, seen from there: the ease before it.
    """

    kind: ClassVar[str] = "match-notch"

    piece: str
    notch: str
    other_piece: str
    other_notch: str = ""
    walked_from: End = End.START
    amount_mm: float = 0.0

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the notch moved; the very same if it lies there."""
        piece = pattern.piece(self.piece)
        notch = piece.notch(self.notch)
        ours = EdgeRef(self.piece, notch.edge)
        seam, theirs = self._partner(pattern, ours)
        walked = walk(pattern, seam)
        mine = _stop(walked, StopKind.NOTCH, self.piece, notch.edge, notch.id)
        partner = _stop(walked, *theirs)
        by_mm = _along_edge(_missed_mm(mine, partner, self), seam, ours, self.walked_from)
        sewn_mm = piece.sewn_station_mm(notch.edge, notch.at_mm) + by_mm
        if not -SAME_POINT_MM <= sewn_mm <= piece.sewn_length_mm(notch.edge) + SAME_POINT_MM:
            raise StepError(
                f'The partner of the notch "{notch.id}" on "{piece.name}" lands beyond the end of its edge '
                f'"{notch.edge}"; add a notch on the next edge instead.'
            )
        if abs(by_mm) <= SAME_POINT_MM:
            return piece_outcome(pattern, piece, piece)
        at_mm = open_station_mm(piece, notch.edge, sewn_mm)
        return piece_outcome(pattern, piece, with_notch_at(piece, notch, at_mm))

    def _partner(self, pattern: Pattern, ours: EdgeRef) -> tuple[Seam, tuple[StopKind, str, str, str]]:
        """The seam, and what tells the partner's stop: its kind, piece, edge and id."""
        other = pattern.piece(self.other_piece)
        if self.other_notch:
            edge = other.notch(self.other_notch).edge
            seam = seam_between(pattern, ours, EdgeRef(other.name, edge))
            return seam, (StopKind.NOTCH, other.name, edge, self.other_notch)
        for seam in seams_of(pattern):
            theirs = seam.second if ours in seam.first else seam.first
            is_sewn = ours in (*seam.first, *seam.second)
            if is_sewn and any(ref.piece == other.name for ref in theirs) and len(theirs) > 1:
                join = theirs[1]
                return seam, (StopKind.JOIN, join.piece, join.edge, "")
        raise StepError(
            f'The edge "{ours.edge}" of "{ours.piece}" is not sewn to two edges that meet on "{other.name}"; name the '
            "notch it is to meet."
        )


def seam_between(pattern: Pattern, first: EdgeRef, second: EdgeRef) -> Seam:
    """The seam that sews two edges together, as declared or, where no seam is, as proposed.

    Raises:
        StepError: none does.
    """
    seam = _seam_or_none(pattern, first, second)
    if seam is None:
        raise StepError(
            f'It is not known that the edge "{first.edge}" of "{first.piece}" is sewn to the edge "{second.edge}" of '
            f'"{second.piece}"; say first which edges are sewn together.'
        )
    return seam


def _seam_or_none(pattern: Pattern, first: EdgeRef, second: EdgeRef) -> Seam | None:
    return next((seam for seam in seams_of(pattern) if _is_across(seam, first, second)), None)


def _is_across(seam: Seam, first: EdgeRef, second: EdgeRef) -> bool:
    return (first in seam.first and second in seam.second) or (first in seam.second and second in seam.first)


def _sides_mm(pattern: Pattern, first: EdgeRef, second: EdgeRef) -> tuple[float, float]:
    """Sewn lengths of the sides of the seam that two edges belong to; of the edges themselves if none is known."""
    seam = _seam_or_none(pattern, first, second)
    if seam is None:
        return _edge_mm(pattern, first), _edge_mm(pattern, second)
    sides = seam.sides if first in seam.first else seam.sides[::-1]
    return side_mm(pattern, sides[0]), side_mm(pattern, sides[1])


def _edge_mm(pattern: Pattern, ref: EdgeRef) -> float:
    return pattern.piece(ref.piece).sewn_length_mm(ref.edge)


def _with_side_longer(pattern: Pattern, ref: EdgeRef, end: End, by_mm: float, other: EdgeRef) -> Pattern:
    """The pattern with an edge moved at one end until its side of a seam is longer by an amount.

    Of an edge that is sewn in part only a share of what is put on may go into the seam, or nothing.
    """
    if by_mm == 0:
        return pattern
    seam, before_mm = _seam_or_none(pattern, ref, other), _sides_mm(pattern, ref, other)[0]
    moved = _with_end_moved(pattern, ref, end, by_mm)
    if seam is None or not seam.is_partial:
        return moved
    (known_mm, known_grown_mm), moved_mm = (0.0, 0.0), by_mm
    for _ in range(_ROUNDS):
        grown_mm = _sides_mm(moved, ref, other)[0] - before_mm
        if abs(grown_mm - by_mm) <= FLOAT_MM:
            return moved
        if abs(grown_mm - known_grown_mm) <= FLOAT_MM:
            break
        more_mm = (by_mm - grown_mm) * (moved_mm - known_mm) / (grown_mm - known_grown_mm)
        (known_mm, known_grown_mm), moved_mm = (moved_mm, grown_mm), moved_mm + more_mm
        moved = _with_end_moved(pattern, ref, end, moved_mm)
    raise StepError(
        f'The edge "{ref.edge}" of "{ref.piece}" is not sewn at its {end.value}, so that moving that end does not '
        "change the seam; use its other end, or move the notch at which the seam stops."
    )


def _with_end_moved(pattern: Pattern, ref: EdgeRef, end: End, by_mm: float) -> Pattern:
    piece = pattern.piece(ref.piece)
    moved = with_end_moved(piece, ref.edge, end, by_mm)
    return pattern if moved is piece else pattern.with_piece(moved)


def _outcome(before: Pattern, after: Pattern, names: tuple[str, ...]) -> Outcome:
    pairs = [(before.piece(name), after.piece(name)) for name in names]
    changes = tuple(change for old, new in pairs for change in edge_changes(old, new))
    return Outcome(after, changes, (), tuple(line for old, new in pairs for line in old_edges(old, new)))


def _stop(walked: Walk, kind: StopKind, piece: str, edge: str, stop_id: str) -> Stop:
    for meeting in walked.meetings:
        for stop in (meeting.first, meeting.second):
            if stop and (stop.kind, stop.piece, stop.edge, stop.id) == (kind, piece, edge, stop_id):
                return stop
    raise StepError(
        f'The {kind} "{stop_id}" on "{piece}" is not walked: a notch that marks the leg of a dart goes with its dart; '
        "match the dart instead. One at which the seam stops can be moved along its edge."
    )


def _missed_mm(mine: Stop, theirs: Stop, step: MatchDart | MatchNotch) -> float:
    """How much further from the end walked from it must lie."""
    if step.walked_from is End.START:
        return theirs.from_start_mm + step.amount_mm - mine.from_start_mm
    return theirs.from_end_mm + step.amount_mm - mine.from_end_mm


def _side_with(seam: Seam, ref: EdgeRef) -> SeamSide:
    return seam.sides[0 if ref in seam.first else 1]


def _along_edge(further_mm: float, seam: Seam, ours: EdgeRef, walked_from: End) -> float:
    """A distance seen from an end of a seam as one along the edge, positive towards its end."""
    side = _side_with(seam, ours)
    is_against = side.backward[side.refs.index(ours)] is (walked_from is End.START)
    return -further_mm if is_against else further_mm
