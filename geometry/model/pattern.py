"""A pattern: pieces of one size and the seams between them; a nest: the same pattern in every size."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

from geometry.errors import MissingPartError
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class EdgeRef:
    """An edge of a piece, by names."""

    piece: str
    edge: str


@dataclass(frozen=True, slots=True)
class EdgePlace:
    """A place on an edge where a seam starts or stops: a notch of that edge, else a share of its length.

    Attributes:
        notch: Id of the notch, "" for a share.
        share: How far along the edge, darts open, 0 at its start to 1 at its end.
    """

    notch: str = ""
    share: float = 0.0

    def at_mm(self, piece: Piece, edge_id: str) -> float:
        """The length along the edge; ``MissingPartError`` if the edge or its notch is not there."""
        if not self.notch:
            return self.share * piece.edge(edge_id).length_mm
        notch = piece.notch(self.notch)
        if notch.edge != edge_id:
            raise MissingPartError(
                f'The notch "{notch.id}" of "{piece.name}", where a seam ends, is on the edge "{notch.edge}" and not '
                f'on "{edge_id}".',
                code="no-such-notch",
            )
        return notch.at_mm

    def at_corner(self, *, at_end: bool) -> bool:
        """Whether it is the corner at the edge's start, or at its end."""
        return not self.notch and self.share == float(at_end)


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of an edge that is sewn in a seam, in the direction in which the edge runs; whole if nothing is said."""

    start: EdgePlace = EdgePlace()
    end: EdgePlace = EdgePlace(share=1.0)

    @property
    def is_whole(self) -> bool:
        """Whether it reaches from corner to corner."""
        return self == WHOLE_EDGE

    def bounds_mm(self, piece: Piece, edge_id: str) -> tuple[float, float]:
        """From where to where along the edge, darts open; nothing is left where its ends have changed places."""
        if self.is_whole:
            return 0.0, piece.edge(edge_id).length_mm
        start_mm = self.start.at_mm(piece, edge_id)
        return start_mm, max(start_mm, self.end.at_mm(piece, edge_id))

    def sewn_mm(self, piece: Piece, edge_id: str) -> float:
        """Its length with darts folded."""
        if self.is_whole:
            return piece.sewn_length_mm(edge_id)
        start_mm, end_mm = self.bounds_mm(piece, edge_id)
        return piece.sewn_station_mm(edge_id, end_mm) - piece.sewn_station_mm(edge_id, start_mm)


WHOLE_EDGE = Stretch()
"""From corner to corner."""


@dataclass(frozen=True, slots=True)
class SeamSide:
    """One side of a seam as it is walked: its edges in the order met, which way, and how much of each is sewn."""

    refs: tuple[EdgeRef, ...]
    backward: tuple[bool, ...]
    stretches: tuple[Stretch, ...]

    @property
    def parts(self) -> tuple[tuple[EdgeRef, bool, Stretch], ...]:
        """Each edge with its way and stretch."""
        return tuple(zip(self.refs, self.backward, self.stretches, strict=True))

    def ends_at_corner(self, *, at_end: bool) -> bool:
        """Whether the side starts (or ends) at a corner of its piece and not somewhere along an edge."""
        at = -1 if at_end else 0
        stretch = self.stretches[at]
        if self.backward[at] is at_end:
            return stretch.start.at_corner(at_end=False)
        return stretch.end.at_corner(at_end=True)


class SeamKind(StrEnum):
    """What a seam is on the garment; its ease band follows from it.

    Facing: a facing lies on what it is sewn to, so that its edge has the same shape. Band: a waistband or collar goes
    on beyond it, so that only the lengths agree.
    """

    PLAIN = "plain"
    SHOULDER = "shoulder"
    ARMHOLE = "armhole"
    WAIST = "waist"
    FACING = "facing"
    BAND = "band"


@dataclass(frozen=True, slots=True)
class Seam:
    """Edges that are sewn together.

    ``first`` and ``second`` each list edges in the order they are met along the seam, from the same end of the
    seam. An entry of ``second_backward``/``first_backward`` says that the ring direction of that edge runs against it.

    Attributes:
        id: Stable name.
        first: Edges of one side, for example the sleeve cap.
        second: Edges of the other side, for example back armhole, front armhole.
        first_backward: For each edge of ``first`` whether it is walked from its end to its start.
        second_backward: The same for ``second``.
        kind: What seam it is.
        ease_mm: Smallest and largest length by which ``first`` may be longer than ``second``.
        first_stretches: For each edge of ``first`` how much of it is sewn; empty where every edge is sewn whole.
        second_stretches: The same for ``second``.
    """

    id: str
    first: tuple[EdgeRef, ...]
    second: tuple[EdgeRef, ...]
    first_backward: tuple[bool, ...]
    second_backward: tuple[bool, ...]
    kind: SeamKind = SeamKind.PLAIN
    ease_mm: tuple[float, float] = (0.0, 0.0)
    first_stretches: tuple[Stretch, ...] = ()
    second_stretches: tuple[Stretch, ...] = ()

    @property
    def sides(self) -> tuple[SeamSide, SeamSide]:
        """Both sides, each with the stretches of its edges."""
        return (
            SeamSide(self.first, self.first_backward, self.first_stretches or (WHOLE_EDGE,) * len(self.first)),
            SeamSide(self.second, self.second_backward, self.second_stretches or (WHOLE_EDGE,) * len(self.second)),
        )

    @property
    def is_partial(self) -> bool:
        """Whether an edge is sewn in it only in part."""
        return any(not stretch.is_whole for stretch in (*self.first_stretches, *self.second_stretches))


@dataclass(frozen=True, slots=True)
class Pattern:
    """Pieces of one size and their seams."""

    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    size: str = ""

    def piece(self, name: str) -> Piece:
        """The piece of that name; ``MissingPartError`` if there is none."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        names = ", ".join(f'"{piece.name}"' for piece in self.pieces) or "none"
        raise MissingPartError(f'There is no piece called "{name}"; the pattern has {names}.', code="no-such-piece")

    def with_piece(self, piece: Piece) -> Pattern:
        """The pattern with the piece of the same name replaced; every other piece is the same object."""
        self.piece(piece.name)
        return replace(self, pieces=tuple(piece if old.name == piece.name else old for old in self.pieces))


@dataclass(frozen=True, slots=True)
class Nest:
    """The same pattern in every size, smallest first as the file tells.

    Attributes:
        name: What the style is called.
        patterns: One per size.
        sample_size: Name of the size that was drafted or digitised; one of them.
    """

    name: str
    patterns: tuple[Pattern, ...]
    sample_size: str = ""

    @property
    def sizes(self) -> tuple[str, ...]:
        """Names of the sizes in order."""
        return tuple(pattern.size for pattern in self.patterns)

    def pattern(self, size: str) -> Pattern:
        """The pattern of a size; ``MissingPartError`` if there is none."""
        for pattern in self.patterns:
            if pattern.size == size:
                return pattern
        names = ", ".join(f'"{name}"' for name in self.sizes) or "none"
        raise MissingPartError(f'There is no size called "{size}"; the pattern has {names}.', code="no-such-size")

    @property
    def sample(self) -> Pattern:
        """The pattern of the sample size."""
        return self.pattern(self.sample_size)

    def is_blend(self, pattern: Pattern) -> bool:
        """Whether a pattern made of this nest is none of its sizes, but blended between several."""
        return pattern.size not in self.sizes
