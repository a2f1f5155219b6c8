import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor.printing.correction import Correction
from editor.printing.cover import TEST_SQUARE_INCHES, TEST_SQUARE_MM
from editor.printing.paper import LONGEST_MM, PAPERS, PageFormat, paper_named
from geometry.errors import PatternError


@pytest.mark.parametrize(
    ("name", "size_mm"),
    [
        ("A4", (210.0, 297.0)),  # ISO 216
        ("A3", (297.0, 420.0)),  # ISO 216
        ("A0", (841.0, 1189.0)),  # ISO 216
        ("Letter", (8.5 * 25.4, 11 * 25.4)),  # ANSI/ASME Y14.1 size A, in inches
        ("Tabloid", (11 * 25.4, 17 * 25.4)),  # ANSI/ASME Y14.1 size B, in inches
    ],
)
def test_paper_has_the_size_of_its_standard(name: str, size_mm: tuple[float, float]):
    paper = paper_named(name)
    assert (paper.width_mm, paper.height_mm) == pytest.approx(size_mm, abs=1e-9)


def test_a_papers_keep_the_side_ratio_of_iso_216_and_a0_is_a_square_metre():
    for name in ("a0", "a3", "a4"):
        assert PAPERS[name].height_mm / PAPERS[name].width_mm == pytest.approx(math.sqrt(2), abs=0.004)
    assert PAPERS["a0"].width_mm * PAPERS["a0"].height_mm == pytest.approx(1e6, rel=1e-3)


def test_unknown_paper_is_refused_with_the_names_there_are():
    with pytest.raises(PatternError, match=r'"B5".*A4, Letter, A3') as caught:
        paper_named("B5")
    assert caught.value.code == "no-such-paper"


@pytest.mark.parametrize(
    ("words", "name", "size_mm", "is_roll"),
    [
        ("500x700", "500 × 700 mm", (500.0, 700.0), False),
        ("70 cm × 50 cm", "500 × 700 mm", (500.0, 700.0), False),
        ("24 x 36 in", "609.6 × 914.4 mm", (24 * 25.4, 36 * 25.4), False),
        ("roll 914", "roll 914 mm", (914.0, LONGEST_MM), True),
        ("Roll 36 in", "roll 914.4 mm", (36 * 25.4, LONGEST_MM), True),
    ],
)
def test_sides_and_rolls_may_be_written(words: str, name: str, size_mm: tuple[float, float], is_roll: bool):
    paper = paper_named(words)
    assert (paper.name, (paper.width_mm, paper.height_mm), paper.is_roll) == (name, pytest.approx(size_mm), is_roll)


@pytest.mark.parametrize(
    ("words", "code"), [("100x200", "paper-size"), ("roll 9 m", "bad-length"), ("3 x", "no-such-paper")]
)
def test_paper_that_cannot_be_is_refused(words: str, code: str):
    with pytest.raises(PatternError) as caught:
        paper_named(words)
    assert caught.value.code == code


def test_a_sheet_too_small_for_the_test_squares_is_refused():
    with pytest.raises(PatternError, match="at least 160 × 235 mm"):
        PageFormat(paper_named("200 x 200"))


def test_side_a_is_the_short_side_of_the_sheet_however_it_lies():
    off = Correction(98.0, 101.0)
    assert PageFormat(PAPERS["a4"], correction=off).printed == (0.98, 1.01)
    assert PageFormat(PAPERS["a4"], landscape=True, correction=off).printed == (1.01, 0.98)


def test_a_corrected_sheet_is_measured_with_the_ruler_and_sent_as_it_is():
    page = PageFormat(PAPERS["a4"], margin_mm=10, correction=Correction(98.0, 101.0))
    assert page.sent_mm == (210.0, 297.0)
    assert (page.usable.width_mm, page.usable.height_mm) == pytest.approx((210 * 0.98 - 20, 297 * 1.01 - 20))


@pytest.mark.parametrize("measured_mm", [94.9, 105.1, 0.0, math.nan])
def test_a_square_that_was_fitted_to_the_page_is_not_corrected(measured_mm: float):
    with pytest.raises(PatternError, match=r"Side B .* 95 to 105 mm") as caught:
        Correction(100.0, measured_mm)
    assert caught.value.code == "square-measured"


def test_sheets_side_by_side_do_not_overlap():
    with pytest.raises(PatternError, match="choose one of the two"):
        PageFormat(PAPERS["a4"], overlap_mm=10, butted=True)


def test_usable_part_is_the_sheet_less_its_margins():
    page = PageFormat(PAPERS["a4"], margin_mm=10, overlap_mm=8)
    assert (page.usable.width_mm, page.usable.height_mm) == (190, 277)
    assert page.step_mm == (182, 269)
    across = PageFormat(PAPERS["a4"], landscape=True, margin_mm=10)
    assert (across.usable.width_mm, across.usable.height_mm) == (277, 190)


@pytest.mark.parametrize("margin_mm", [-1.0, 31.0, 105.0, 500.0, math.nan, math.inf])
def test_a_margin_that_leaves_no_room_is_refused_with_the_largest_that_does(margin_mm: float):
    with pytest.raises(PatternError, match="margin") as caught:
        PageFormat(PAPERS["a4"], margin_mm=margin_mm)
    assert caught.value.code == "margin"
    assert "0 to 25 mm" in caught.value.sentence


@pytest.mark.parametrize("overlap_mm", [-1.0, 96.0, 200.0, math.nan])
def test_an_overlap_larger_than_the_page_allows_is_refused(overlap_mm: float):
    with pytest.raises(PatternError, match="overlap") as caught:
        PageFormat(PAPERS["a4"], overlap_mm=overlap_mm)
    assert caught.value.code == "overlap"


@given(st.sampled_from(sorted(PAPERS)), st.floats(0, 60), st.booleans())
def test_every_margin_that_is_let_through_leaves_room_for_both_test_squares(name: str, margin_mm: float, across: bool):
    try:
        page = PageFormat(PAPERS[name], landscape=across, margin_mm=margin_mm)
    except PatternError:
        return
    short, long = sorted((page.usable.width_mm, page.usable.height_mm))
    assert short >= TEST_SQUARE_INCHES * 25.4
    assert long >= TEST_SQUARE_INCHES * 25.4 + TEST_SQUARE_MM
