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


class SeamKind(StrEnum):
    """What a seam is on the garment; its ease band follows from it."""

    PLAIN = "plain"
    SHOULDER = "shoulder"
    ARMHOLE = "armhole"
    WAIST = "waist"


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
        ease_mm: Smallest and largest length by which ``first`` may be longer than ``second``, both edges whole.
    """

    id: str
    first: tuple[EdgeRef, ...]
    second: tuple[EdgeRef, ...]
    first_backward: tuple[bool, ...]
    second_backward: tuple[bool, ...]
    kind: SeamKind = SeamKind.PLAIN
    ease_mm: tuple[float, float] = (0.0, 0.0)


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
