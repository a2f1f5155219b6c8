"""Made-up bodies round the published chart, and each of them taken through the whole engine.

Girths spread normally round a size of the chart and go together, lengths spread by themselves. The spreads are our
own choice, about what anthropometric surveys find within one size.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from geometry.affine import distance_mm
from geometry.alterations.replay import Record, replay
from geometry.checks.run import check_pattern
from geometry.findings import Level
from geometry.fitting.advice import Case, advise
from geometry.fitting.blending import blend
from geometry.fitting.body import Body, body_of
from geometry.fitting.finished import finished
from geometry.fitting.measures import Measure
from geometry.fitting.size_choice import propose_sizes
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.regions import is_simple
from geometry.tolerance import SAME_POINT_MM
from samples.draft_dress import draft_nest
from tests.geometry.fitting.charts import dress_chart

GIRTHS = {
    Measure.HIGH_BUST: 18.0,
    Measure.BUST: 30.0,
    Measure.WAIST: 38.0,
    Measure.HIP: 36.0,
    Measure.UPPER_ARM: 16.0,
    Measure.NECK: 9.0,
}
LENGTHS = {
    Measure.BACK_LENGTH: 16.0,
    Measure.FRONT_OVER_BUST: 6.0,
    Measure.BUST_DEPTH: 14.0,
    Measure.BUST_SPAN: 10.0,
    Measure.ARMHOLE_DEPTH: 9.0,
    Measure.SHOULDER_LENGTH: 7.0,
    Measure.SHOULDER_DROP: 7.0,
    Measure.CHEST_WIDTH: 12.0,
    Measure.BACK_WIDTH: 14.0,
    Measure.ARM_LENGTH: 22.0,
    Measure.WAIST_TO_HIP: 14.0,
    Measure.WAIST_TO_HEM: 35.0,
}
TOGETHER = 0.7
"""How far girths of one body go together: one that is fuller than its size is fuller everywhere."""

OVER_BUST = 0.3
"""How much longer the way over a bust is for a fuller one: about what the slash of a full bust brings."""

MISSING = 0.15
"""How often something was not measured."""


@dataclass(frozen=True, slots=True)
class Passage:
    """What came of one body.

    Attributes:
        steps: How many alterations it was advised.
        is_sound: Whether every piece came out closed and without crossing itself.
        stops: Codes of the findings that say stop.
    """

    steps: int
    is_sound: bool
    stops: tuple[str, ...]


def generated_bodies(count: int, seed: int = 20260517) -> Iterator[Body]:
    """Bodies whose sizes spread round the middle of the chart."""
    chart, made = dress_chart(), [finished(pattern) for pattern in draft_nest().patterns]
    draw = np.random.default_rng(seed)
    for _ in range(count):
        position = float(np.clip(draw.normal(3.0, 1.5), 0.0, 6.0))
        fuller = draw.normal()
        lengths = {}
        for measure, spread in GIRTHS.items():
            own = TOGETHER * fuller + np.sqrt(1 - TOGETHER**2) * draw.normal()
            lengths[measure] = chart.body_mm(measure, position) + spread * own
        for measure, spread in LENGTHS.items():
            drafted = np.interp(position, range(len(made)), [size.mm(measure) for size in made])
            lengths[measure] = max(drafted + spread * draw.normal(), 1.0)
        back = lengths[Measure.BACK_LENGTH] - np.interp(
            position, range(len(made)), [size.mm(Measure.BACK_LENGTH) for size in made]
        )
        bust = lengths[Measure.BUST] - chart.body_mm(Measure.BUST, position)
        lengths[Measure.FRONT_OVER_BUST] += back + OVER_BUST * bust
        yield body_of({measure: float(mm) for measure, mm in lengths.items() if draw.random() > MISSING})


def taken_through(body: Body, *, fractions: bool = False) -> Passage:
    """Size choice, blend, advice, replay of what it advises, and all checks."""
    nest, chart = draft_nest(), dress_chart()
    choice = propose_sizes(body, chart, fractions=fractions).blend
    blended = blend(nest, choice)
    proposals = advise(Case(body, blended.pattern, chart, choice))
    records = tuple(Record(str(number), each.step()) for number, each in enumerate(proposals))
    replayed = replay(blended.pattern, records)
    checked = check_pattern(replayed.pattern, base=blended.pattern)
    found = (*blended.findings, *replayed.findings, *checked)
    stops = tuple(finding.code for finding in found if finding.level is Level.STOP)
    return Passage(len(records), is_sound(replayed.pattern), stops)


def is_sound(pattern: Pattern) -> bool:
    """Whether every piece is one closed outline that does not cross itself."""
    return all(is_closed(piece) and piece.area_mm2 > 0 and is_simple(piece.outline) for piece in pattern.pieces)


def is_closed(piece: Piece) -> bool:
    following = (*piece.edges[1:], piece.edges[0])
    gaps = [distance_mm(edge.end, after.start) for edge, after in zip(piece.edges, following, strict=True)]
    return max(gaps) <= SAME_POINT_MM
