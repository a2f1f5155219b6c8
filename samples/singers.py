"""The demo's two singers on the tape, and the chart of their dress; the people are invented.

Maren is short and slight; Odile is tall with a fuller bust and upper arm. What they measure asks, toile by toile, for
what their journals do: by the last one nothing is left to advise.
"""

from __future__ import annotations

from dataclasses import replace

from editor.document.project import FitNote, Measurement, Round
from geometry.alterations.replay import Record
from geometry.fitting.body import Hand
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart
from samples.journals import MAREN_SIZE
from samples.size_table import SIZES, figures

__all__ = ["MAREN_SIZE", "chart", "measurements", "rounds"]

_IN = 25.4
_M = Measure

_MAREN = {
    _M.HEIGHT: 1570, _M.NECK: 356, _M.HIGH_BUST: 842, _M.BUST: 894, _M.WAIST: 715, _M.HIP: 941,
    _M.SHOULDER_LENGTH: 119, _M.BACK_WIDTH: 341, _M.BACK_LENGTH: 376, _M.FRONT_OVER_BUST: 406,
    _M.ARMHOLE_DEPTH: 209, _M.UPPER_ARM: 277, _M.ARM_LENGTH: 560, _M.WAIST_TO_HIP: 221,
}  # fmt: skip
_ODILE = {
    _M.HEIGHT: 1790, _M.NECK: 378, _M.HIGH_BUST: 895, _M.BUST: 971, _M.WAIST: 775, _M.HIP: 994,
    _M.SHOULDER_LENGTH: 127, _M.BACK_WIDTH: 356, _M.BACK_LENGTH: 422, _M.FRONT_OVER_BUST: 470,
    _M.ARMHOLE_DEPTH: 214, _M.UPPER_ARM: 322, _M.ARM_LENGTH: 573, _M.WAIST_TO_HIP: 224,
}  # fmt: skip
_LATER = {
    "Maren": ((_M.WAIST, 721, Hand.BOTH),),
    "Odile": ((_M.WAIST, 781, Hand.BOTH), (_M.UPPER_ARM, 319, Hand.LEFT), (_M.UPPER_ARM, 325, Hand.RIGHT)),
}
_SEEN = {
    "Maren": (
        FitNote("The waist sits a finger too low at the back.", "back bodice", 60.0, 60.0, is_on_base=True),
        FitNote("The hem now clears the floor; she can climb the choir stand."),
        FitNote("Nothing pulls when she breathes in for a long phrase."),
    ),
    "Odile": (
        FitNote("Folds point at the bust; the waist rides up in front.", "front bodice", 90.0, 160.0, is_on_base=True),
        FitNote(
            "The sleeve lets her hold the folder at last; a little loose below the elbow.",
            "sleeve",
            10.0,
            60.0,
            is_on_base=True,
        ),
        FitNote("Good. This is the one to cut."),
    ),
}
_CHANGES: dict[str, tuple[dict[str, float], ...]] = {
    "Maren": ({"1": -24.0}, {"3": -46.0}),
    "Odile": ({"2": 20.0}, {"3": 24.0}),
}
"""Amounts of the journals' steps after the first and the second toile."""

DATES = ("2026-09-06", "2026-09-27", "2026-10-18")
NAMES = ("toile 1", "toile 2", "final")


def measurements(name: str) -> tuple[Measurement, ...]:
    """What was measured of a singer, the first time and again some weeks later."""
    first = {"Maren": _MAREN, "Odile": _ODILE}[name]
    other = {"Maren": "Odile", "Odile": "Maren"}[name]
    taken = tuple(Measurement(measure.value, float(mm), "2026-08-30", other) for measure, mm in first.items())
    again = tuple(
        Measurement(measure.value, float(mm), "2026-10-11", other, hand) for measure, mm, hand in _LATER[name]
    )
    return taken + again


def rounds(name: str, records: tuple[Record, ...]) -> tuple[Round, ...]:
    """Three rounds, each with what was seen on it: ``records`` first, then with what the toiles showed."""
    journals = [records]
    for change in _CHANGES[name]:
        journals.append(
            tuple(
                replace(each, step=each.step.with_amount_mm(change[each.id])) if each.id in change else each
                for each in journals[-1]
            )
        )
    return tuple(
        Round(str(number), called, day, journal, (seen,))
        for number, (called, day, journal, seen) in enumerate(zip(NAMES, DATES, journals, _SEEN[name], strict=True), 1)
    )


def chart() -> SizeChart:
    """For whom the dress was drafted: the published girths of its sizes, and a B cup of 2 in, which is ours."""
    each = tuple(figures(size) for size in SIZES)
    lines = {
        _M.HIGH_BUST: tuple(one.bust_mm - 2 * _IN for one in each),
        _M.BUST: tuple(one.bust_mm for one in each),
        _M.WAIST: tuple(one.waist_mm for one in each),
        _M.HIP: tuple(one.hip_mm for one in each),
        _M.BACK_LENGTH: tuple(one.nape_to_waist_mm for one in each),
    }
    rows = tuple(ChartLine(measure, tuple(round(mm, 1) for mm in values)) for measure, values in lines.items())
    return SizeChart(SIZES, rows)
