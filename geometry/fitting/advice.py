"""From body less pattern and ease to a list of alterations: lengths first, then widths from the top down."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from geometry.alterations.handbook import landmarks
from geometry.alterations.handbook.landmarks import landmark
from geometry.alterations.handbook.panels import PieceRole
from geometry.alterations.handbook.registry import entry_of
from geometry.errors import PatternError
from geometry.fitting.body import Body
from geometry.fitting.ease import DRAFTED_CUP_MM, NO_OWN_EASE, GarmentEase, crotch_depth_ease_mm, ease_row
from geometry.fitting.finished import Finished, finished
from geometry.fitting.garment import Garment
from geometry.fitting.levels import BodyLevel, SizeBlend
from geometry.fitting.measures import Kind, Measure, tape_of
from geometry.fitting.proposals import Proposal, Term
from geometry.fitting.shares import cup_difference_mm, per_edge_mm, per_half_mm, skirt_length_mm
from geometry.fitting.size_chart import SizeChart
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part
from geometry.model.pattern import Pattern
from geometry.units import MM_PER_INCH

NOT_WORTH_MM = {Kind.GIRTH: 6.35, Kind.WIDTH: 3.0, Kind.LENGTH: 5.0}
"""Differences up to this are left alone: 1/4 in round the body is 1/16 in on each side edge, what a professional
fitter works to (Threads, 2020); widths and lengths: own choice."""

_ACROSS_MM = 10.0
"""Widths across chest and back are felt only beyond this, and altering them moves the shoulder seam: own choice."""

EDGES_ALONE_MM = 2 * MM_PER_INCH
"""Up to this a difference goes on the side edges, beyond it inside the pieces (Montana 265; from memory)."""

HALF_FRONT, HALF_BACK = "half on each half front", "half on each half back"
QUARTER, WHOLE = "a quarter on each of the four side edges", ""
_ABOVE = "gained at the armhole"


@dataclass(frozen=True, slots=True)
class Rule:
    """What a difference at one measurement asks for.

    Attributes:
        measure: The measurement.
        larger: Entry where the body is larger than the pattern.
        smaller: Entry where it is smaller; if it is the same entry, the amount keeps the difference's sign.
        of_whole: What part of the difference the amount is.
        share: That part in words.
        variant: The way it is done, "" for the first.
        note: What else the person should know.
    """

    measure: Measure
    larger: str
    smaller: str
    of_whole: float
    share: str
    variant: str = ""
    note: str = ""


_NECK_AND_SHOULDERS = (
    Rule(Measure.NECK, "B02", "B03", 1 / (2 * math.pi), "a neck seam grows by some 6 times what it is lowered"),
    Rule(Measure.SHOULDER_DROP, "C04", "C03", 1.0, "shoulder tip and underarm alike"),
    Rule(Measure.SHOULDER_LENGTH, "C01", "C02", 1.0, "on each shoulder, front and back"),
    Rule(
        Measure.CHEST_WIDTH,
        "B09",
        "B09",
        -1 / 2,
        HALF_FRONT,
        note="Both shoulders change with it, front and back alike: measure them again.",
    ),
)
_BUST_SPAN = (Rule(Measure.BUST_SPAN, "D07", "D07", 1 / 2, HALF_FRONT),)
_BACK = (
    Rule(
        Measure.BACK_WIDTH,
        "E04",
        "E05",
        1 / 2,
        HALF_BACK,
        "to nothing at the waist",
        "The shoulders change with it: measure them again.",
    ),
)
_SLEEVE = (Rule(Measure.UPPER_ARM, "I01", "I03", 1.0, "all of it in the sleeve, half on each side of its centre"),)
_TROUSERS = (
    Rule(Measure.CROTCH_LENGTH, "J01", "J02", 1.0, "at the crotch point"),
    Rule(Measure.THIGH, "J07", "J07", 1 / 2, "half on each inseam edge"),
)


@dataclass(frozen=True, slots=True)
class Case:
    """Everything a sum may ask for.

    Attributes:
        body: The wearer.
        pattern: The pattern as it is before the advice is followed.
        chart: The pattern's chart, if there is one: drafted ease and cup come from it.
        sizes: The sizes that were chosen, to look the chart up at.
        ease: The ease asked for in this garment.
    """

    body: Body
    pattern: Pattern
    chart: SizeChart | None = None
    sizes: SizeBlend | None = None
    ease: GarmentEase = NO_OWN_EASE

    @property
    def made(self) -> Finished:
        """The pattern's finished measurements."""
        return finished(self.pattern)

    def drafted_cup_mm(self) -> tuple[float, str]:
        """The cup the pattern was drafted for, and who says so."""
        if self.chart is not None and self.sizes is not None:
            told = self.chart.drafted_cup_mm(self.sizes.shoulder)
            if told is not None:
                return told, "what the pattern was drafted for"
        return DRAFTED_CUP_MM, "what most patterns are drafted for (ask about this one)"

    def wanted_ease(self, measure: Measure) -> tuple[float, str]:
        """The ease wanted at a measurement: what the person asks for, else the pattern's own, else the table's.

        The table gives a band: ease that lies within it is wanted as it is.
        """
        own = self.ease.mm(measure)
        if own is not None:
            return own, "ease asked for"
        if self.chart is not None and self.sizes is not None:
            position = self.sizes.at(_LEVEL_OF.get(measure, BodyLevel.SHOULDER))
            drafted = self.chart.drafted_ease_mm(measure, position)
            if drafted is not None:
                return drafted, "ease of the pattern"
        row, body, made = ease_row(measure), self.body_mm(measure), self.made.mm(measure)
        if body is None or made is None:
            return row.low_mm, "wearing ease"
        return min(max(made - body, row.low_mm), row.high_mm), "wearing ease"

    def body_mm(self, measure: Measure) -> float | None:
        """The wearer's length; of two sides the larger, but of two shoulders the one that drops less."""
        sides = self.body.left_right_mm(measure)
        return min(sides) if sides is not None and measure is Measure.SHOULDER_DROP else self.body.mm(measure)

    def gained_mm(self, measure: Measure) -> float:
        """How much larger the pattern is than the chart says of its sizes: what was altered already."""
        if self.chart is None or self.sizes is None:
            return 0.0
        made = self.made.mm(measure)
        told = self.chart.finished_mm(measure, self.sizes.at(_LEVEL_OF.get(measure, BodyLevel.SHOULDER)))
        return 0.0 if made is None or told is None else made - told

    def difference(self, measure: Measure) -> tuple[float, tuple[Term, ...]] | None:
        """Body and ease less pattern, with its terms; ``None`` where body or pattern do not tell."""
        body, made = self.body_mm(measure), self.made.mm(measure)
        if body is None or made is None:
            return None
        ease, words = self.wanted_ease(measure)
        terms = [Term(measure.value, body), Term("the pattern's", -made)]
        if ease:
            terms.insert(1, Term(words, ease))
        return body + ease - made, tuple(terms)


_LEVEL_OF = {
    Measure.BUST: BodyLevel.BUST,
    Measure.ARMHOLE_DEPTH: BodyLevel.SHOULDER,
    Measure.WAIST: BodyLevel.WAIST,
    Measure.HIP: BodyLevel.HIP,
    Measure.THIGH: BodyLevel.HIP,
    Measure.UPPER_ARM: BodyLevel.UPPER_ARM,
    Measure.WRIST: BodyLevel.UPPER_ARM,
    Measure.ARM_LENGTH: BodyLevel.LENGTH,
    Measure.WAIST_TO_HIP: BodyLevel.LENGTH,
    Measure.WAIST_TO_HEM: BodyLevel.LENGTH,
    Measure.INSIDE_LEG: BodyLevel.LENGTH,
}
"""The level whose size a chart is asked for, the shoulder's where nothing is said."""


def advise(case: Case) -> tuple[Proposal, ...]:
    """The alterations that the figures ask for, in the order in which they are made; what is not known is skipped.

    Lengths come first and from the top down (a sewing reference book's general guidelines for pattern adjustments),
    then neck and shoulders, bust, back, waist, hip, sleeve and trousers.
    """
    bust, depth = list(_bust(case)), list(_plain(case, Measure.ARMHOLE_DEPTH, "A02"))
    above = sum(each.amount_mm for each in depth)
    return (
        *depth,
        *_lengths_below(case, above, bust),
        *_lower_lengths(case),
        *_by_rules(case, _NECK_AND_SHOULDERS),
        *_uneven_shoulders(case),
        *bust,
        *_plain(case, Measure.BUST_DEPTH, "D06", less=above, why=_ABOVE),
        *_by_rules(case, _BUST_SPAN + _BACK),
        *_waist_and_hip(case),
        *_by_rules(case, _SLEEVE + _TROUSERS),
    )


def unanswered(case: Case) -> tuple[Measure, ...]:
    """What the pattern tells but was not measured on the wearer: the advice could do more with it."""
    return tuple(measure for measure, _ in case.made.lengths if case.body.mm(measure) is None)


def _proposal(
    entry: str,
    measure: Measure,
    difference: float,
    terms: tuple[Term, ...],
    amount: float,
    share: str,
    variant: str = "",
    note: str = "",
) -> Proposal:
    """A proposal whose amount is held within what its entry takes, with a note where that cuts it short."""
    takes = entry_of(entry).amount
    held = min(max(amount, takes.least_mm), takes.most_mm)
    if held != amount:
        note = f"{note} The figures ask for more than one alteration takes: start from another size.".strip()
    return Proposal(entry, round(held, 2), measure, difference, terms, share, variant, note)


def _worth(measure: Measure, difference: float) -> bool:
    if measure in (Measure.CHEST_WIDTH, Measure.BACK_WIDTH):
        return abs(difference) > _ACROSS_MM
    return abs(difference) > NOT_WORTH_MM[tape_of(measure).kind]


def _plain(case: Case, measure: Measure, entry: str, *, less: float = 0.0, why: str = "") -> Iterator[Proposal]:
    """One entry that takes the whole difference, less what another alteration brings."""
    told = case.difference(measure)
    if told is None:
        return
    difference, terms = told[0] - less, told[1]
    if less:
        terms = (*terms, Term(why, -less))
    if _worth(measure, difference):
        yield _proposal(entry, measure, difference, terms, difference, WHOLE)


def _lengths_below(case: Case, above: float, bust: list[Proposal]) -> Iterator[Proposal]:
    """What is left of the back length below the armhole, then what the front needs beyond the back and the bust."""
    back = list(_plain(case, Measure.BACK_LENGTH, "A01", less=above, why=_ABOVE))
    yield from back
    below = sum(each.amount_mm for each in back)
    gained = _bust_length_mm(case, bust)
    words = "gained by the other lengths and the bust" if gained else "gained by the other lengths"
    yield from _plain(case, Measure.FRONT_OVER_BUST, "A03", less=above + below + gained, why=words)


def _bust_length_mm(case: Case, bust: list[Proposal]) -> float:
    """How much a full-bust alteration lengthens the front.

    Its spread times how far the armhole hinge lies out from the bust point over how far it lies above it: own
    arithmetic, some hundredths too much.
    """
    front = Garment(case.pattern).first(PieceRole.FRONT_BODICE)
    if front is None or not bust:
        return 0.0
    try:
        hinge = front.point(landmark(front, landmarks.ARMHOLE_NOTCH))
        out_mm, up_mm = front.frame.seen(hinge, front.point(landmark(front, landmarks.BUST_POINT)))
    except PatternError:
        return 0.0
    return bust[0].difference_mm / 2 * out_mm / up_mm if up_mm > 0 else 0.0


def _lower_lengths(case: Case) -> Iterator[Proposal]:
    yield from _plain(case, Measure.ARM_LENGTH, "A06")
    hip = list(_plain(case, Measure.WAIST_TO_HIP, "A05"))
    yield from hip
    above = sum(each.amount_mm for each in hip)
    for whole in _plain(case, Measure.WAIST_TO_HEM, "A04", less=above, why="gained above the hip"):
        inside, at_hem = skirt_length_mm(whole.difference_mm)
        share = "half at the line below the hip and half at the hem" if at_hem else WHOLE
        for amount, variant in ((inside, ""), (at_hem, "at the hem")):
            if amount:
                yield _proposal("A04", whole.measure, whole.difference_mm, whole.terms, amount, share, variant)
    yield from _crotch_depth(case)
    yield from _plain(case, Measure.INSIDE_LEG, "A08")


def _crotch_depth(case: Case) -> Iterator[Proposal]:
    """Seated depth and the ease that goes with the hip, less the pattern's depth."""
    body, made = case.body.mm(Measure.CROTCH_DEPTH), case.made.mm(Measure.CROTCH_DEPTH)
    hip = case.body.mm(Measure.HIP)
    if body is None or made is None:
        return
    own = case.ease.mm(Measure.CROTCH_DEPTH)
    ease = own if own is not None else crotch_depth_ease_mm(hip if hip is not None else 37 * MM_PER_INCH)
    terms = Term("body rise", body), Term("ease for this hip", ease), Term("the pattern's", -made)
    difference = body + ease - made
    if _worth(Measure.CROTCH_DEPTH, difference):
        yield _proposal("A07", Measure.CROTCH_DEPTH, difference, terms, difference, WHOLE)


def _by_rules(case: Case, rules: tuple[Rule, ...]) -> Iterator[Proposal]:
    for rule in rules:
        told = case.difference(rule.measure)
        if told is not None and _worth(rule.measure, told[0]):
            entry = rule.larger if told[0] > 0 else rule.smaller
            amount = rule.of_whole * (told[0] if rule.larger == rule.smaller else abs(told[0]))
            yield _proposal(entry, rule.measure, *told, amount, rule.share, rule.variant, rule.note)


def _uneven_shoulders(case: Case) -> Iterator[Proposal]:
    """The lower shoulder goes down by what it is lower; the slope of both was settled by the higher one."""
    sides = case.body.left_right_mm(Measure.SHOULDER_DROP)
    if sides is None or case.made.mm(Measure.SHOULDER_DROP) is None:
        return
    lower = max(sides) - min(sides)
    if _worth(Measure.SHOULDER_DROP, lower):
        terms = Term("drop of the lower shoulder", max(sides)), Term("drop of the higher", -min(sides))
        variant = "left" if sides[0] > sides[1] else "right"
        note = "Front and back are cut single, left and right apart."
        yield _proposal("C07", Measure.SHOULDER_DROP, lower, terms, lower, f"on the {variant} only", variant, note)


def _bust(case: Case) -> Iterator[Proposal]:
    """By the cup where the upper chest was measured, since that chose the size; else by the bust and its ease."""
    bust, high = case.body.mm(Measure.BUST), case.body.mm(Measure.HIGH_BUST)
    front = Garment(case.pattern).first(PieceRole.FRONT_BODICE)
    if bust is None or front is None:
        return
    if high is not None:
        cup, words = case.drafted_cup_mm()
        difference = cup_difference_mm(bust, high, cup)
        terms: tuple[Term, ...] = (Term("bust girth", bust), Term("upper chest girth", -high), Term(words, -cup))
        gained = case.gained_mm(Measure.BUST)
        if _worth(Measure.BUST, gained):
            difference -= gained
            terms = (*terms, Term("what it has beyond its size", -gained))
    else:
        told = case.difference(Measure.BUST)
        if told is None:
            return
        difference, terms = told
    if not _worth(Measure.BUST, difference):
        return
    entry, variant = _bust_entry(case, larger=difference > 0)
    amount = per_half_mm(-difference if entry == "D02" else difference)
    yield _proposal(entry, Measure.BUST, difference, terms, amount, HALF_FRONT, variant)


def _bust_entry(case: Case, *, larger: bool) -> tuple[str, str]:
    """The entry for the kind of front there is, and which of its darts it uses."""
    garment = Garment(case.pattern)
    front = garment.first(PieceRole.FRONT_BODICE)
    assert front is not None
    if garment.first(PieceRole.SIDE_FRONT) in garment.part(Part.BODICE):
        return "D04", ""
    side, waist = front.dart_on(EdgeRole.SIDE), front.dart_on(EdgeRole.WAIST)
    if side is None and waist is None:
        return "D03", ""
    variant = "" if side and waist else "side dart" if side else "waist dart"
    return ("D01" if larger else "D02"), variant


def _waist_and_hip(case: Case) -> Iterator[Proposal]:
    """Waist at the side edges; hip there up to 2 in, beyond that inside the pieces."""
    told = case.difference(Measure.WAIST)
    if told is not None and _worth(Measure.WAIST, told[0]):
        note = "The waistband changes by the whole difference."
        yield _proposal("G01", Measure.WAIST, *told, per_edge_mm(told[0], 4), QUARTER, note=note)
    told = case.difference(Measure.HIP)
    if told is None or not _worth(Measure.HIP, told[0]):
        return
    is_trousers = bool(Garment(case.pattern).part(Part.TROUSERS))
    entry = "J10" if is_trousers else "H01" if abs(told[0]) <= EDGES_ALONE_MM else "H02"
    yield _proposal(entry, Measure.HIP, told[0], told[1], per_edge_mm(told[0], 4), QUARTER)
