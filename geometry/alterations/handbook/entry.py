"""What an entry of the handbook is: names, texts, amounts and a plan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.panels import PieceRole, role_of
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import Pattern


class Region(StrEnum):
    """Where on the body an alteration is looked for."""

    LENGTHS = "lengths"
    NECK = "neck, collar and chest"
    SHOULDERS = "shoulders"
    BUST = "bust"
    BACK = "back"
    ARMHOLE = "armhole"
    WAIST = "waist and abdomen"
    SKIRT = "hip and skirt"
    SLEEVE = "sleeve"
    TROUSERS = "trousers"


@dataclass(frozen=True, slots=True)
class Share:
    """How a difference round the whole body, or along a whole length, becomes an entry's amount.

    Attributes:
        of_whole: The factor.
        words: What it means, for a person: "half on each half front".
    """

    of_whole: float
    words: str


WHOLE = Share(1.0, "the whole difference, once on every piece that crosses the level")
IN_THE_PIECE = Share(1.0, "the whole difference, all of it in this piece")
IN_THE_SEAM = Share(1.0, "the whole difference, all of it in this seam")
HALF_FRONT = Share(1 / 2, "half of the difference on each half front")
HALF_BACK = Share(1 / 2, "half of the difference on each half back")
HALF_COLLAR = Share(1 / 2, "half of the difference on each half collar")
QUARTER = Share(1 / 4, "a quarter of the difference on each of the four side edges")


def share_of_edges(edges: int) -> Share:
    """The share of each of several seam edges: a seam has two (twelve edges for the six seams of a six-gore skirt)."""
    return Share(1 / edges, f"one part in {edges}, the same on each of {edges} seam edges")


SharedOut = Callable[[Pattern], Share]
"""A share that depends on the pattern, for example on the number of its seams."""


@dataclass(frozen=True, slots=True)
class Caution:
    """What a person should be told before an amount is settled.

    Attributes:
        above_mm: It is due where the amount, without its sign, is more than this.
        text: One or two sentences.
    """

    above_mm: float
    text: str


EDGE_ADDITION = Caution(
    12.7,
    "More than 1/2 in on one edge bends the seam away from the figure: slash inside the piece instead, "
    "or start from a larger size.",
)
"""The ceiling of 1/2 in per seam edge: common practice, from memory."""


@dataclass(frozen=True, slots=True)
class Amount:
    """The one figure of an entry, in mm.

    Attributes:
        meaning: What is measured: "how far the shoulder tip and the underarm go up".
        share: How a whole difference is divided, unless the way it is done says otherwise; ``None`` where the figure is
            pinned or measured directly.
        default_mm: What is proposed at first.
        least_mm: Below this it is refused; negative amounts do the inverse.
        most_mm: Above this it is refused.
        cautions: What is told above certain amounts.
    """

    meaning: str
    share: Share | None = None
    default_mm: float = 10.0
    least_mm: float = -60.0
    most_mm: float = 80.0
    cautions: tuple[Caution, ...] = ()

    def cautions_at(self, amount_mm: float) -> tuple[str, ...]:
        """The texts of the cautions that are due at an amount."""
        return tuple(caution.text for caution in self.cautions if abs(amount_mm) > caution.above_mm)


@dataclass(frozen=True, slots=True)
class Variant:
    """One of several ways to do an entry: a name for journals, a few words, and its share where it has its own."""

    name: str
    words: str
    share: Share | SharedOut | None = None


@dataclass(frozen=True, slots=True)
class Kept:
    """An edge whose sewn length an entry keeps, but for the blend where a hinge lies on it."""

    piece: PieceRole
    edge: EdgeRole


def kept(roles: tuple[PieceRole, ...], *edges: EdgeRole) -> tuple[Kept, ...]:
    """The same edges kept on several pieces."""
    return tuple(Kept(role, edge) for role in roles for edge in edges)


@dataclass(frozen=True, slots=True)
class Entry:
    """One alteration of the handbook.

    Attributes:
        code: "A01" and so on, the order of the handbook.
        name: Its name in words.
        region: Where it is looked for.
        symptom: How the toile shows that it is needed.
        does: What it does and why, two or three sentences.
        inverse: What a negative amount is for.
        needs: What must be known of the pieces, in words.
        touches: The pieces it alters together, where the pattern has them.
        keeps: Edges whose sewn length stays.
        matches: Seams, by the role of their edges, whose two sides still agree afterwards as well as before.
        check_after: What to look at when it is done.
        source: Title of the source, or "common practice, from memory".
        amount: Its figure.
        plan: Carries it out on the bench, step by step.
        variants: Ways to do it, the first taken where none is named; empty where there is only one.
        begins_on: Pieces of which it needs one, where others that it touches only follow; empty if any of them will do.
    """

    code: str
    name: str
    region: Region
    symptom: str
    does: str
    inverse: str
    needs: tuple[str, ...]
    touches: tuple[PieceRole, ...]
    keeps: tuple[Kept, ...]
    check_after: tuple[str, ...]
    source: str
    amount: Amount
    plan: Callable[[Bench], None]
    matches: tuple[EdgeRole, ...] = ()
    variants: tuple[Variant, ...] = ()
    begins_on: tuple[PieceRole, ...] = ()

    def fits(self, pattern: Pattern) -> bool:
        """Whether a pattern has a piece that it begins on."""
        wanted = self.begins_on or self.touches
        return any(role_of(piece) in wanted for piece in pattern.pieces)

    def variant(self, name: str) -> str:
        """The name of the variant asked for, the first where none is; "" for an entry without variants.

        Raises:
            StepError: there is no such variant.
        """
        names = [variant.name for variant in self.variants]
        if not name:
            return names[0] if names else ""
        if name not in names:
            known = ", ".join(f'"{each}"' for each in names) or "none"
            raise StepError(f'The alteration {self.code} ({self.name}) has no variant "{name}"; it has {known}.')
        return name

    def share(self, variant: str = "", pattern: Pattern | None = None) -> Share | None:
        """How a whole difference becomes the amount, done one way; ``None`` where it is measured directly.

        Without a pattern a share that depends on it is that of the entry.
        """
        name = self.variant(variant)
        own = next((each.share for each in self.variants if each.name == name), None)
        if own is None or isinstance(own, Share):
            return own or self.amount.share
        return own(pattern) if pattern is not None else self.amount.share

    def from_difference(self, difference_mm: float, variant: str = "", pattern: Pattern | None = None) -> float:
        """The amount for a whole difference (body and ease less pattern), done one way."""
        share = self.share(variant, pattern)
        return difference_mm * (share.of_whole if share else 1.0)

    def refuse_amount(self, amount_mm: float) -> None:
        """Raises ``StepError`` for an amount outside its range."""
        low, high = self.amount.least_mm, self.amount.most_mm
        if not low <= amount_mm <= high:
            raise StepError(
                f"{self.name} can be done from {low:g} mm to {high:g} mm, not by {amount_mm:g} mm; "
                "stay between, or start from another size."
            )
