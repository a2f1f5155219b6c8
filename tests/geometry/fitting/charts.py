"""The published chart that bodies and sizes of the tests come from.

ASTM D5585-11e1, misses, inches, as shown on the standard's public page (astm.org/Standards/D5585.htm).
"""

from __future__ import annotations

from functools import cache

from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart
from geometry.model.piece import Piece
from geometry.units import MM_PER_INCH
from samples.draft_dress import draft_nest
from samples.size_table import SIZES, figures
from tests.geometry.plain_dress import piece

UPPER_CHEST_IN = {
    "00": 31.75, "0": 32.25, "2": 33.25, "4": 34.125, "6": 35.0, "8": 35.875,
    "10": 36.75, "12": 38.0, "14": 39.25, "16": 40.625, "18": 42.25, "20": 43.875,
}  # fmt: skip
BUST_IN = {
    "00": 31.125, "0": 31.75, "2": 33.0, "4": 34.125, "6": 35.25, "8": 36.25,
    "10": 37.25, "12": 38.75, "14": 40.375, "16": 42.125, "18": 44.0, "20": 46.0,
}  # fmt: skip


@cache
def dress_chart() -> SizeChart:
    """The sample dress's chart: the published girths, the figures it was drafted from, and what its pieces measure."""
    drafted = [figures(size) for size in SIZES]

    def line(measure: Measure, values: list[float]) -> ChartLine:
        return ChartLine(measure, tuple(values))

    body = (
        line(Measure.HIGH_BUST, [UPPER_CHEST_IN[size] * MM_PER_INCH for size in SIZES]),
        line(Measure.BUST, [each.bust_mm for each in drafted]),
        line(Measure.WAIST, [each.waist_mm for each in drafted]),
        line(Measure.HIP, [each.bust_mm + 50.0 for each in drafted]),
        line(Measure.UPPER_ARM, [each.upper_arm_mm for each in drafted]),
        line(Measure.NECK, [each.neck_mm for each in drafted]),
        line(Measure.BACK_LENGTH, [each.nape_to_waist_mm for each in drafted]),
    )
    return SizeChart(SIZES, body).with_finished_of(draft_nest())


def home_chart(cup_in: float = 2.0) -> SizeChart:
    """A chart of whole inches that lists busts only, drafted for one difference: bust 34, 36, 38, 40."""
    busts = tuple(inches * MM_PER_INCH for inches in (34.0, 36.0, 38.0, 40.0))
    return SizeChart(("8", "10", "12", "14"), (ChartLine(Measure.BUST, busts),), cup_mm=cup_in * MM_PER_INCH)


def square_sleeve(width_mm: float) -> Piece:
    """A sleeve of straight lines, so wide at the upper arm and at the hem."""
    half = width_mm / 2
    corners = {
        "hem": [(-half, 0)],
        "front underarm": [(half, 0)],
        "cap": [(half, 400), (0, 520)],
        "back underarm": [(-half, 400)],
    }
    return piece("sleeve", corners, quantity=2)  # type: ignore[arg-type]
