"""Which size at which level of the body, with reasons; the person decides."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum

from geometry.fitting.body import Body
from geometry.fitting.ease import DRAFTED_CUP_MM, NO_OWN_EASE, GarmentEase
from geometry.fitting.levels import BodyLevel, SizeBlend
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import SizeChart
from geometry.tolerance import NOTABLE_MM
from geometry.units import MM_PER_INCH, Unit, format_length

LARGE_CUP_MM = 2 * MM_PER_INCH
"""From this difference between bust and upper chest on, the upper chest chooses the size and the bust is altered
(Texas E-372 Principles of pattern alteration)."""

FULL_SKIRT_MM = 150.0
"""A skirt with this much ease at the hip hangs from the waist and is chosen by it: own choice of the limit."""

_APART = {BodyLevel.WAIST: 3.0, BodyLevel.HIP: 3.0, BodyLevel.UPPER_ARM: 2.0}
"""How many sizes a level may be from the one above it (the upper arm: from the bust); what is beyond is altered. Own
choice."""

_BETWEEN = 0.1
"""How near to half-way counts as between two sizes, as a share of the step."""


class Bones(StrEnum):
    """What decides between two sizes: small bones take the smaller, large bones the larger (a tailoring page)."""

    UNKNOWN = ""
    SMALL = "small"
    LARGE = "large"


@dataclass(frozen=True, slots=True)
class Option:
    """One size at one level.

    Attributes:
        size: Its name.
        chart_mm: The body it was drafted for.
        finished_mm: What the garment measures there.
        ease_mm: What would be left on this wearer, finished less body.
    """

    size: str
    chart_mm: float | None
    finished_mm: float | None
    ease_mm: float | None


@dataclass(frozen=True, slots=True)
class LevelChoice:
    """The proposal for one level.

    Attributes:
        level: Where.
        measure: What it was chosen by.
        body_mm: The wearer's figure, ``None`` if it was not taken.
        options: Every size of the chart.
        exact: Where the body lies between the sizes, ``None`` if that is not known.
        position: What is proposed.
        reasons: Why, one sentence each.
    """

    level: BodyLevel
    measure: Measure
    body_mm: float | None
    options: tuple[Option, ...]
    exact: float | None
    position: float
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SizeProposal:
    """The proposals for all levels, and the blend they make."""

    levels: tuple[LevelChoice, ...]
    blend: SizeBlend

    def at(self, level: BodyLevel) -> LevelChoice:
        """The proposal for one level."""
        return next(each for each in self.levels if each.level is level)


def propose_sizes(
    body: Body,
    chart: SizeChart,
    *,
    ease: GarmentEase = NO_OWN_EASE,
    bones: Bones = Bones.UNKNOWN,
    fractions: bool = False,
    unit: Unit = Unit.CM,
) -> SizeProposal:
    """A size for every level, whole sizes unless fractions are asked for.

    What was not measured follows the level above it, and the reasons say what measuring it would tell.
    """
    chooser = _Chooser(body, chart, ease, bones, fractions, unit)
    shoulder = chooser.shoulder()
    bust = chooser.bust(shoulder)
    waist = chooser.by(BodyLevel.WAIST, Measure.WAIST, bust.position)
    hip = chooser.hip(waist)
    arm = chooser.by(BodyLevel.UPPER_ARM, Measure.UPPER_ARM, bust.position)
    length = chooser.length(shoulder)
    blend = SizeBlend(
        shoulder=shoulder.position,
        bust=bust.position,
        waist=waist.position,
        hip=hip.position,
        upper_arm=arm.position,
        length=length.position,
    )
    return SizeProposal((shoulder, bust, waist, hip, arm, length), blend)


@dataclass(frozen=True, slots=True)
class _Chooser:
    body: Body
    chart: SizeChart
    ease: GarmentEase
    bones: Bones
    fractions: bool
    unit: Unit

    def shoulder(self) -> LevelChoice:
        """By the upper chest, which is hardest to alter; else by the bust."""
        level, high, bust = BodyLevel.SHOULDER, self.body.mm(Measure.HIGH_BUST), self.body.mm(Measure.BUST)
        if high is None:
            reasons = ["The upper chest was not measured: it would say which size fits shoulders and neck."]
            return self._chosen(level, Measure.BUST, bust, self._middle, reasons)
        told = self.chart.position_of(Measure.HIGH_BUST, high)
        if told is not None:
            reasons = [f"The upper chest of {self._words(high)} chooses shoulder and neck, the hardest to alter."]
            choice = self._chosen(level, Measure.HIGH_BUST, high, self._middle, reasons)
        else:
            choice = self._by_drafted_cup(high)
        cup = self.body.cup_mm
        if cup is not None and cup >= LARGE_CUP_MM:
            reason = (
                f"The bust is {self._words(cup)} over the upper chest: the smaller size that fits above is taken and "
                "the bust is altered."
            )
            choice = replace(choice, reasons=(*choice.reasons, reason))
        return choice

    def _by_drafted_cup(self, high: float) -> LevelChoice:
        """The size whose chart bust is the upper chest and the difference that the pattern was drafted for."""
        cup = self.chart.cup_mm
        told = DRAFTED_CUP_MM if cup is None else cup
        reasons = [
            f"The chart lists no upper chest: {self._words(high)} and the {self._words(told)} that the pattern is "
            f"drafted for make the bust {self._words(high + told)} of the chart."
        ]
        if cup is None:
            reasons.append("2 in is assumed because most patterns are; ask what this one was drafted for.")
        return self._chosen(BodyLevel.SHOULDER, Measure.BUST, high + told, self._middle, reasons)

    def bust(self, shoulder: LevelChoice) -> LevelChoice:
        """As the shoulder where the upper chest chose that, since the cup is altered; else by the bust."""
        if self.body.mm(Measure.HIGH_BUST) is None:
            return self._chosen(BodyLevel.BUST, Measure.BUST, self.body.mm(Measure.BUST), shoulder.position, [])
        bust = self.body.mm(Measure.BUST)
        exact = None if bust is None else self.chart.position_of(Measure.BUST, bust)
        reasons = ("The same size as the shoulder: a fuller or smaller bust is altered, not blended.",)
        options = self._options(Measure.BUST, bust)
        return LevelChoice(BodyLevel.BUST, Measure.BUST, bust, options, exact, shoulder.position, reasons)

    def hip(self, waist: LevelChoice) -> LevelChoice:
        """By the hip, or by the thigh if that asks for more; a full skirt by the waist."""
        middle = self.chart.drafted_ease_mm(Measure.HIP, self._middle)
        if middle is not None and middle >= FULL_SKIRT_MM:
            reason = f"The skirt is full ({self._words(middle)} of ease at the hip): the waist chooses its size."
            hip = self.body.mm(Measure.HIP)
            options = self._options(Measure.HIP, hip)
            return LevelChoice(BodyLevel.HIP, Measure.HIP, hip, options, None, waist.position, (reason,))
        hip_choice = self.by(BodyLevel.HIP, Measure.HIP, waist.position)
        thigh = self.body.mm(Measure.THIGH)
        exact = None if thigh is None else self.chart.position_of(Measure.THIGH, thigh)
        if thigh is None or exact is None or exact <= (hip_choice.exact or 0.0):
            return hip_choice
        reason = f"The thigh of {self._words(thigh)} asks for more than the hip and chooses the size."
        return self._chosen(BodyLevel.HIP, Measure.THIGH, thigh, waist.position, [reason])

    def length(self, shoulder: LevelChoice) -> LevelChoice:
        """By the back waist length, else by the height."""
        for measure in (Measure.BACK_LENGTH, Measure.HEIGHT):
            mm = self.body.mm(measure)
            if mm is not None and self.chart.position_of(measure, mm) is not None:
                return self._chosen(BodyLevel.LENGTH, measure, mm, shoulder.position, [])
        reasons = ["Nothing tells the length: it follows the shoulder, and what is missing is lengthened."]
        return self._chosen(BodyLevel.LENGTH, Measure.BACK_LENGTH, None, shoulder.position, reasons)

    def by(self, level: BodyLevel, measure: Measure, above: float) -> LevelChoice:
        """By one measurement, not too far from the level above."""
        return self._chosen(level, measure, self.body.mm(measure), above, [])

    def _chosen(
        self, level: BodyLevel, measure: Measure, mm: float | None, above: float, reasons: list[str]
    ) -> LevelChoice:
        exact = None if mm is None else self.chart.position_of(measure, mm)
        options = self._options(measure, mm)
        if mm is None or exact is None:
            if mm is None and not reasons:
                reasons = [f"The {measure.value} was not measured: this level follows the one above."]
            elif mm is not None:
                reasons = [*reasons, f"The chart does not tell the {measure.value}; this level follows the one above."]
            return LevelChoice(level, measure, mm, options, exact, above, tuple(reasons))
        position = self._settled(exact, reasons)
        position = self._loose_enough(position, level, options, measure, reasons)
        position = self._near(position, level, above, reasons)
        told = self.chart.body_mm(measure, position)
        if not reasons and told is not None:
            reasons = [
                f"The {measure.value} of {self._words(mm)} comes nearest to size {self._size(position)} "
                f"({self._words(told)})."
            ]
        return LevelChoice(level, measure, mm, options, exact, position, (*reasons, *self._beyond(measure, mm)))

    def _settled(self, exact: float, reasons: list[str]) -> float:
        """The nearest size; between two, by the bones."""
        if self.fractions:
            return round(exact, 2)
        low = math.floor(exact)
        if abs(exact - low - 0.5) > _BETWEEN:
            return float(round(exact))
        if self.bones is Bones.UNKNOWN:
            reasons.append("Between two sizes: small bones take the smaller, large bones the larger.")
        else:
            reasons.append(f"Between two sizes: {self.bones.value} bones decide.")
        return float(low + 1 if self.bones is Bones.LARGE else low)

    def _loose_enough(
        self, position: float, level: BodyLevel, options: tuple[Option, ...], measure: Measure, reasons: list[str]
    ) -> float:
        """One size up, and more if need be, until the least ease is left."""
        if level is BodyLevel.SHOULDER or self.fractions:
            return position
        at, least = int(position), self.ease.least_mm(measure)
        while at + 1 < len(options) and (left := options[at].ease_mm) is not None and left < least - NOTABLE_MM:
            reasons.append(
                f"Size {options[at].size} leaves {self._words(left)} at the {measure.value}, less than "
                f"{self._words(least)}: one size up."
            )
            at += 1
        return float(at)

    def _near(self, position: float, level: BodyLevel, above: float, reasons: list[str]) -> float:
        most = _APART.get(level)
        if most is None or abs(position - above) <= most:
            return position
        held = above + math.copysign(most, position - above)
        reasons.append(
            f"Size {self._size(position)} would be more than {most:g} sizes from the level above; what is missing is "
            "altered."
        )
        return held

    def _beyond(self, measure: Measure, mm: float) -> tuple[str, ...]:
        beyond = self.chart.beyond_mm(measure, mm)
        if beyond == 0:
            return ()
        words = "larger than the largest size" if beyond > 0 else "smaller than the smallest size"
        return (f"The {measure.value} is {self._words(abs(beyond))} {words}; the rest is altered.",)

    def _options(self, measure: Measure, mm: float | None) -> tuple[Option, ...]:
        rows = []
        for place, size in enumerate(self.chart.sizes):
            finished = self.chart.finished_mm(measure, place)
            left = None if finished is None or mm is None else finished - mm
            rows.append(Option(size, self.chart.body_mm(measure, place), finished, left))
        return tuple(rows)

    @property
    def _middle(self) -> float:
        return float(len(self.chart.sizes) // 2)

    def _size(self, position: float) -> str:
        low = math.floor(position)
        name = self.chart.sizes[low]
        return name if low == position else f"{name} and {position - low:.2g} of the step to the next"

    def _words(self, mm: float) -> str:
        return format_length(mm, self.unit)
