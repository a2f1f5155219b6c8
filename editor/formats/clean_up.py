"""What a drawing is read as beyond what it says outright, as suggestions that can be declined one by one.

Recognition offers each of them to the report it carries and goes on as the answer is. What is shown and what is
accepted are therefore one function with two sets of answers.
"""

from dataclasses import dataclass
from enum import StrEnum

from geometry.affine import Point, Points
from geometry.tolerance import RETRACE_MM


class Kind(StrEnum):
    """What is suggested."""

    CORNER = "corner"
    SIDE = "side"
    DART = "dart"
    NOTCH = "notch"
    FOLD = "fold"
    GRAIN = "grain"
    LINE = "line"


REDRAWN = frozenset({Kind.SIDE, Kind.LINE})
"""Kinds that change what was traced; the others say what it is."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One of them.

    Attributes:
        key: What it is told by; the same as long as the drawing and its unit are.
        kind: What is suggested.
        piece: Name of the piece.
        size: Its size.
        text: What it is, in a few words.
        at: Where it is.
        drawn: Lines that show it, mm.
        moved_mm: The furthest a traced point is moved, ``None`` where none is.
        is_guess: Whether nothing in the drawing says so; a guess is taken only if somebody accepts it.
    """

    key: str
    kind: Kind
    piece: str
    size: str
    text: str
    at: Point
    drawn: tuple[Points, ...] = ()
    moved_mm: float | None = None
    is_guess: bool = False


@dataclass(frozen=True, slots=True)
class NamedEdge:
    """What somebody calls an edge, by a place on it."""

    piece: str
    size: str
    at: Point
    name: str


@dataclass(frozen=True, slots=True)
class CleanUp:
    """The answers.

    Attributes:
        within_mm: How far a traced point may be moved.
        declined: Keys of suggestions that are not taken.
        guesses: Keys of guesses that are.
        declined_kinds: Kinds of which none is taken.
        names: What edges are called.
        corners: Places on traces, each with the name and size of its piece, at which somebody sees a corner.
    """

    within_mm: float = RETRACE_MM
    declined: frozenset[str] = frozenset()
    guesses: frozenset[str] = frozenset()
    declined_kinds: frozenset[Kind] = frozenset()
    names: tuple[NamedEdge, ...] = ()
    corners: tuple[tuple[str, str, Point], ...] = ()

    def takes(self, suggestion: Suggestion) -> bool:
        """Whether a suggestion is followed."""
        if suggestion.is_guess:
            return suggestion.key in self.guesses
        return suggestion.key not in self.declined and suggestion.kind not in self.declined_kinds


ALL_TAKEN = CleanUp()
AS_TRACED = CleanUp(declined_kinds=REDRAWN)
"""Every line stays as it was drawn."""
