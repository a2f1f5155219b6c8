"""Sizes from the sample size and a table of rules: the same nest as from sizes that are all drawn."""

import math

import pytest

from editor.formats.dxf_writer import write_drawing
from editor.formats.grade_rules import RuleTable, read_rules, write_rules
from editor.formats.grading_out import graded_drawing, with_matching_points
from editor.formats.import_pattern import import_pattern
from geometry.curves import polyline
from geometry.errors import PatternError
from samples.draft_dress import draft_nest

SAME_MM = 0.01


@pytest.fixture(scope="module")
def graded(tmp_path_factory):
    """The sample dress written as its sample size with rules, and read again."""
    folder = tmp_path_factory.mktemp("graded")
    drawing, table = graded_drawing(draft_nest())
    write_drawing(drawing, folder / "dress.dxf", unit="mm")
    write_rules(table, folder / "dress.rul")
    return import_pattern(folder / "dress.dxf")


def apart_mm(a, b):
    """The largest distance of the points of either chain from the other."""
    return max(float(polyline.distances_mm(a, b).max()), float(polyline.distances_mm(b, a).max()))


def test_all_sizes_are_there(graded):
    assert graded.nest.sizes == draft_nest().sizes
    assert graded.nest.sample_size == draft_nest().sample_size
    assert "sizes-graded" in {finding.code for finding in graded.findings}


@pytest.mark.parametrize("size", draft_nest().sizes)
def test_every_edge_is_the_drafted_one_to_a_hundredth_of_a_millimetre(graded, size):
    for drafted in draft_nest().pattern(size).pieces:
        piece = graded.nest.pattern(size).piece(drafted.name)
        for edge in drafted.edges:
            assert apart_mm(piece.edge(edge.id).points, edge.points) < SAME_MM, (drafted.name, edge.id)
            assert piece.edge(edge.id).length_mm == pytest.approx(edge.length_mm, abs=SAME_MM)
            assert piece.edge(edge.id).allowance_mm == pytest.approx(edge.allowance_mm, abs=SAME_MM)


def test_a_corner_without_a_rule_moves_once_for_both_of_its_edges(tmp_path):
    drawing, table = graded_drawing(draft_nest())
    write_drawing(drawing, tmp_path / "dress.dxf", unit="mm")
    numbers = sorted(table.rules)[::2]
    gaps = RuleTable(table.sizes, table.sample_size, {number: table.rules[number] for number in numbers}, table.name)
    write_rules(gaps, tmp_path / "dress.rul")
    for pattern in import_pattern(tmp_path / "dress.dxf").nest.patterns:
        for piece in pattern.pieces:
            for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
                assert edge.end == following.start


@pytest.mark.parametrize("size", draft_nest().sizes)
def test_darts_notches_marks_and_grain_are_the_drafted_ones(graded, size):
    for drafted in draft_nest().pattern(size).pieces:
        piece = graded.nest.pattern(size).piece(drafted.name)
        for dart in drafted.darts:
            assert math.dist(piece.dart(dart.id).tip, dart.tip) < SAME_MM
            assert piece.intake_mm(piece.dart(dart.id)) == pytest.approx(drafted.intake_mm(dart), abs=SAME_MM)
        for notch in drafted.notches:
            places = [piece.notch_point(other) for other in piece.notches]
            assert min(math.dist(place, drafted.notch_point(notch)) for place in places) < SAME_MM
        assert math.dist(piece.grain.start, drafted.grain.start) < SAME_MM
        marks = [mark.at for mark in piece.marks]
        assert all(min(math.dist(mark.at, place) for place in marks) < SAME_MM for mark in drafted.marks)


def test_points_put_in_for_other_sizes_move_nothing():
    sizes = tuple(pattern.piece("sleeve") for pattern in draft_nest().patterns)
    for before, after in zip(sizes, with_matching_points(sizes), strict=True):
        for old, new in zip(before.edges, after.edges, strict=True):
            assert apart_mm(old.points, new.points) < 1e-9
            assert new.length_mm == pytest.approx(old.length_mm, abs=1e-9)
    counts = {tuple(len(edge.points) for edge in piece.edges) for piece in with_matching_points(sizes)}
    assert len(counts) == 1


def test_a_table_comes_back_as_written(tmp_path):
    table = RuleTable(("8", "10", "12"), "10", {1: ((-4.0, 3.5), (0.0, 0.0), (4.0, -3.5))}, "DRESS")
    write_rules(table, tmp_path / "t.rul")
    assert read_rules(tmp_path / "t.rul") == table


def test_inches_sizes_with_blanks_and_loose_spelling_are_read(tmp_path):
    text = (
        "units : english\nNumber of Sizes: 2\nSize List: X SMALL, SMALL\nsample size: SMALL\nrule: delta 7\n1,0\n 0 0"
    )
    (tmp_path / "t.rul").write_text(text)
    table = read_rules(tmp_path / "t.rul")
    assert table.sizes == ("X SMALL", "SMALL")
    assert table.rules == {7: ((25.4, 0.0), (0.0, 0.0))}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("SIZE LIST: 8 10\nSAMPLE SIZE: 8\n", "does not say"),
        ("UNITS: METRIC\nSIZE LIST: 8 10\nNUMBER OF SIZES: 3\nSAMPLE SIZE: 8\n", "lists other sizes"),
        ("UNITS: METRIC\nSIZE LIST: 8 10\nSAMPLE SIZE: 9\n", "not in its size list"),
        ("UNITS: METRIC\nSIZE LIST: 8 10\nSAMPLE SIZE: 8\nRULE: DELTA 4\n0,0\n", "rule 4 of t.rul has 2 numbers for 2"),
    ],
)
def test_a_table_that_does_not_add_up_is_refused_in_words(tmp_path, text, words):
    (tmp_path / "t.rul").write_text(text)
    with pytest.raises(PatternError, match=words):
        read_rules(tmp_path / "t.rul")


def test_rule_numbers_without_a_table_are_told_and_the_drawn_size_read(tmp_path):
    drawing, _ = graded_drawing(draft_nest())
    write_drawing(drawing, tmp_path / "alone.dxf", unit="mm")
    found = import_pattern(tmp_path / "alone.dxf")
    assert found.nest.sizes == (draft_nest().sample_size,)
    assert "rules-missing" in {finding.code for finding in found.findings}
