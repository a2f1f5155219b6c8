"""What every alteration is: a small frozen value with parameters, applied to a pattern."""

from __future__ import annotations

from dataclasses import Field, dataclass, replace
from typing import Any, ClassVar, Protocol, Self

from geometry.affine import Points
from geometry.findings import Finding
from geometry.model.garment import unhanded
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class EdgeChange:
    """How the sewn length of an edge (darts folded out) changed."""

    piece: str
    edge: str
    before_mm: float
    after_mm: float

    @property
    def change_mm(self) -> float:
        """After less before; positive where the edge grew."""
        return self.after_mm - self.before_mm


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a step did.

    Attributes:
        pattern: The pattern after the step; untouched pieces are the same objects as before.
        changes: Every edge of the touched pieces, in ring order, changed or not.
        findings: What the person should know, for example width that moved when a fold was straightened.
        chalk: The cut lines as they lie on the piece before the step, one chain each, for drawing.
    """

    pattern: Pattern
    changes: tuple[EdgeChange, ...] = ()
    findings: tuple[Finding, ...] = ()
    chalk: tuple[Points, ...] = ()


class Step(Protocol):
    """One alteration with its parameters."""

    kind: ClassVar[str]

    @property
    def piece_names(self) -> tuple[str, ...]:
        """The pieces it touches."""

    @property
    def amount_mm(self) -> float:
        """The one figure a person would change, in mm."""

    def with_amount_mm(self, amount_mm: float) -> Self:
        """The same step with another amount."""

    def __hash__(self) -> int:
        """Equal steps hash alike."""

    def apply(self, pattern: Pattern) -> Outcome:
        """What it does to a pattern; raises ``StepError`` or ``MissingPartError`` if it does not fit."""


class OnOnePiece:
    """A step that touches the piece which its field ``piece`` names."""

    __slots__ = ()
    piece: str

    @property
    def piece_names(self) -> tuple[str, ...]:
        """That piece."""
        return (self.piece,)


class WithAmount:
    """A step whose one figure is its field ``amount_mm``."""

    __slots__ = ()
    __dataclass_fields__: ClassVar[dict[str, Field[Any]]]
    amount_mm: float

    def with_amount_mm(self, amount_mm: float) -> Self:
        """The same step with another amount."""
        return replace(self, amount_mm=amount_mm)


class WithoutAmount:
    """A step without a figure in mm."""

    __slots__ = ()

    @property
    def amount_mm(self) -> float:
        """Nothing."""
        return 0.0

    def with_amount_mm(self, amount_mm: float) -> Self:
        """The step itself."""
        return self


def edge_changes(before: Piece, after: Piece) -> tuple[EdgeChange, ...]:
    """The change of the sewn length of every edge of a piece, in ring order; a new edge counts from 0.

    An edge of a piece that was opened, or cut once for each side, counts from the edge of the half piece.
    """
    was, is_now = _sewn_mm(before), _sewn_mm(after)
    return tuple(
        EdgeChange(after.name, edge_id, was.get(edge_id, was.get(unhanded(edge_id), 0.0)), length_mm)
        for edge_id, length_mm in is_now.items()
    )


def _sewn_mm(piece: Piece) -> dict[str, float]:
    """The sewn length of every edge, in ring order."""
    lengths_mm = {edge.id: edge.length_mm for edge in piece.edges}
    for dart in piece.darts:
        lengths_mm[dart.edge] -= dart.to_mm - dart.from_mm
    return lengths_mm


def piece_outcome(
    pattern: Pattern, before: Piece, after: Piece, *, findings: tuple[Finding, ...] = (), chalk: tuple[Points, ...] = ()
) -> Outcome:
    """The outcome of a step that touches one piece; the very same pattern if the piece came out as it was."""
    if after is before or after == before:
        return Outcome(pattern, edge_changes(before, before), findings, chalk)
    return Outcome(pattern.with_piece(after), edge_changes(before, after), findings, chalk)
