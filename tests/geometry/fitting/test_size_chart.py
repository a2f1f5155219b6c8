"""Size charts: read from text, measured off the pieces, errors that name line and column."""

from __future__ import annotations

import pytest

from geometry.errors import PatternError
from geometry.fitting.chart_text import read_size_chart
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart, chart_off_pieces
from geometry.units import MM_PER_INCH, Unit
from samples.draft_dress import draft_nest
from tests.geometry.fitting.charts import dress_chart

PASTED = "Size\t8\t10\t12\nBust\t36 1/4\t37 1/4\t38 3/4\nUpper chest\t35 7/8\t36¾\t38\nFinished bust\t39.5\t40,5\t-\n"


def test_a_table_pasted_from_a_spreadsheet_is_read() -> None:
    """Girths of ASTM D5585-11e1."""
    chart = read_size_chart(PASTED, Unit.INCH)
    assert chart.sizes == ("8", "10", "12")
    assert chart.body_mm(Measure.BUST, 1.0) == pytest.approx(37.25 * MM_PER_INCH)
    assert chart.body_mm(Measure.HIGH_BUST, 2.0) == pytest.approx(38 * MM_PER_INCH)
    assert chart.drafted_cup_mm(1.0) == pytest.approx(0.5 * MM_PER_INCH)
    assert chart.finished[0].lengths_mm[2] is None
    assert chart.drafted_ease_mm(Measure.BUST, 0.0) == pytest.approx(3.25 * MM_PER_INCH)


def test_sizes_down_and_measurements_across_are_the_same_chart() -> None:
    rows = [line.split("\t") for line in PASTED.strip().splitlines()]
    turned = "\n".join("\t".join(column) for column in zip(*rows, strict=True))
    assert read_size_chart(turned, Unit.INCH) == read_size_chart(PASTED, Unit.INCH)


@pytest.mark.parametrize(
    "text",
    [
        "size;S;M\nbust;86,5;90\nwaist;70;74\n",
        'size,S,M\nbust,"86,5",90\nwaist,70,74\n',
        "\ufeffsize\tS\tM\t\r\nbust (mm)\t865\t900\r\n\r\nwaist\t70\t74\t\r\n",
    ],
)
def test_semicolons_commas_and_tabs_part_cells(text) -> None:
    chart = read_size_chart(text, Unit.CM)
    assert chart.body == (ChartLine(Measure.BUST, (865.0, 900.0)), ChartLine(Measure.WAIST, (700.0, 740.0)))


def test_the_drafted_bust_difference_is_read() -> None:
    chart = read_size_chart("size,S,M\nbust,86,90\nbust difference (in),2,2\n", Unit.CM)
    assert chart.cup_mm == 2 * MM_PER_INCH
    assert chart.drafted_cup_mm(0.5) == 2 * MM_PER_INCH


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("size,S,M\nbust,86,ninety\n", r'Line 2, column 3: "ninety" is not a length; type for example'),
        ("size,S,M\n\nbust,86,90\nshoe size,38,39\n", r'Line 4, column 1: "shoe size" is no known measurement'),
        ("size,S,M\nbust,86,90,94\n", r'Line 2, column 4: "94" stands beyond the last size'),
        ("size,S,S\nbust,86,90\n", r'Line 1, column 3: the size "S" stands there twice'),
        ("size,S,,L\nbust,86,90,94\n", r"Line 1, column 3: a size has no name"),
        ("size,S,M\nbust,86,90\nfull bust,87,91\n", r'Line 3, column 1: "full bust" stands there twice'),
        ("size,S,M\nbust,86,-90\n", r'Line 2, column 3: "-90" is no length of a body'),
        ("bust,86,90\nwaist,70,74\n", r"Line 1, column 1: the names of the sizes are missing"),
        ("bust\n", r"Line 1, column 1: no size chart"),
        ("", r"Line 1, column 1: no size chart"),
        ("size,bust,waist\nS,86,70\nM,90,x\n", r'Line 3, column 3: "x" is not a length'),
    ],
)
def test_what_cannot_be_read_is_told_by_line_and_column(text, sentence) -> None:
    with pytest.raises(PatternError, match=sentence):
        read_size_chart(text, Unit.CM)


def test_a_chart_with_too_few_values_is_refused() -> None:
    with pytest.raises(PatternError, match="bust girth has 1 values for 2 sizes"):
        SizeChart(("S", "M"), (ChartLine(Measure.BUST, (860.0,)),))


def test_a_body_lies_between_the_sizes_of_a_chart() -> None:
    chart = SizeChart(("S", "M", "L"), (ChartLine(Measure.BUST, (860.0, None, 940.0)),))
    assert chart.position_of(Measure.BUST, 900.0) == 1.0
    assert chart.position_of(Measure.BUST, 1000.0) == 2.0
    assert chart.beyond_mm(Measure.BUST, 1000.0) == 60.0
    assert chart.beyond_mm(Measure.BUST, 850.0) == -10.0
    assert chart.position_of(Measure.WAIST, 700.0) is None


def test_a_line_that_does_not_grow_tells_no_size() -> None:
    chart = SizeChart(("S", "M"), (ChartLine(Measure.BACK_LENGTH, (400.0, 400.0)),))
    assert chart.position_of(Measure.BACK_LENGTH, 405.0) is None
    assert chart.body_mm(Measure.BACK_LENGTH, 0.5) == 400.0


def test_finished_measurements_come_off_the_pieces_in_every_size() -> None:
    chart = chart_off_pieces(draft_nest())
    assert chart.sizes == draft_nest().sizes
    for line in chart.finished:
        assert None not in line.lengths_mm
    waist = next(line for line in chart.finished if line.measure is Measure.WAIST)
    assert list(waist.lengths_mm) == sorted(waist.lengths_mm)


def test_a_chart_and_a_nest_of_other_sizes_do_not_go_together() -> None:
    with pytest.raises(PatternError, match="give both the same sizes"):
        SizeChart(("S", "M")).with_finished_of(draft_nest())


def test_the_ease_of_the_sample_dress_is_what_it_was_drafted_with() -> None:
    """Waist 1 in, hip 5 cm, upper arm 2 in, neck 1/4 in, exactly; bust 10 cm less what the waist shaping takes."""
    chart = dress_chart()
    for position in range(len(chart.sizes)):
        assert chart.drafted_ease_mm(Measure.WAIST, position) == pytest.approx(MM_PER_INCH, abs=0.2)
        assert chart.drafted_ease_mm(Measure.HIP, position) == pytest.approx(50.0, abs=0.5)
        assert chart.drafted_ease_mm(Measure.UPPER_ARM, position) == pytest.approx(2 * MM_PER_INCH, abs=0.01)
        assert chart.drafted_ease_mm(Measure.NECK, position) == pytest.approx(MM_PER_INCH / 4, abs=0.1)
        assert 75.0 < chart.drafted_ease_mm(Measure.BUST, position) < 100.0
