"""Files to patterns: units made sure of, the digitised sample, what can go wrong."""

import ezdxf
import numpy as np
import pytest

from editor.formats.dxf_reader import read_drawing
from editor.formats.dxf_writer import write_drawing
from editor.formats.import_pattern import import_pattern, measured_line
from geometry.errors import PatternError
from geometry.findings import Level
from geometry.units import Unit
from samples.draft_dress import draft_nest
from samples.write_samples import FOLDER, TRACE
from tests.editor.sketched import RECTANGLE, blocks, outline


@pytest.fixture
def plain(tmp_path):
    """A function that writes a rectangle of 200 by 300 units with ezdxf, in model space on layer 0."""

    def write(version="R2010", **header):
        document = ezdxf.new(version)
        document.modelspace().add_lwpolyline(RECTANGLE, close=True)
        document.header["$MEASUREMENT"] = 1
        for name, value in header.items():
            document.header[f"${name}"] = value
        document.saveas(tmp_path / "plain.dxf")
        return tmp_path / "plain.dxf"

    return write


def stated_in(tmp_path, unit):
    write_drawing(blocks(P=[outline(RECTANGLE, layer="1")]), tmp_path / "stated.dxf", unit=unit)
    return tmp_path / "stated.dxf"


def test_unit_stated_by_the_caller_counts(plain):
    piece = import_pattern(plain(INSUNITS=0), unit=Unit.CM).nest.patterns[0].pieces[0]
    assert piece.area_mm2 == pytest.approx(6_000_000)


@pytest.mark.parametrize(("unit", "mm"), [("mm", 1.0), ("in", 25.4)])
def test_unit_that_a_text_of_the_file_says_is_used_and_told(tmp_path, unit, mm):
    found = import_pattern(stated_in(tmp_path, unit))
    assert found.unit is Unit(unit)
    assert found.nest.patterns[0].pieces[0].area_mm2 == pytest.approx(60_000 * mm * mm)
    told = next(finding for finding in found.findings if finding.code == "unit")
    assert told.level is Level.NOTE
    assert "Units:" in told.text


def test_unit_of_a_header_is_used_with_a_warning(plain):
    found = import_pattern(plain(INSUNITS=1))
    assert found.unit is Unit.INCH
    told = next(finding for finding in found.findings if finding.code == "unit")
    assert told.level is Level.WARN


def test_caller_wins_over_the_file_with_a_warning(tmp_path):
    found = import_pattern(stated_in(tmp_path, "in"), unit=Unit.MM)
    assert found.unit is Unit.MM
    assert found.nest.patterns[0].pieces[0].area_mm2 == pytest.approx(60_000)
    told = next(finding for finding in found.findings if finding.code == "unit-disagrees")
    assert told.level is Level.WARN


def test_unknown_unit_is_refused_with_one_line_measured_in_all_three():
    with pytest.raises(PatternError) as caught:
        import_pattern(FOLDER / TRACE)
    assert caught.value.code == "unit-unknown"
    sentence = caught.value.sentence
    assert "\n" not in sentence
    assert "say --units mm, cm or in" in sentence
    side = max(edge.length_mm for piece in draft_nest().sample.pieces for edge in piece.edges)
    number = f"{side / 25.4:.1f}"
    assert f"would be {number} mm, {number} cm or {number} in ({side / 10:.1f} cm)" in sentence


def test_measured_line_is_the_longest_edge_in_file_units(tmp_path):
    line = measured_line(read_drawing(stated_in(tmp_path, "in")))
    assert line.length_units == pytest.approx(300)
    assert abs(line.end[1] - line.start[1]) == pytest.approx(300)


def test_import_keeps_the_file_and_its_name(tmp_path):
    path = stated_in(tmp_path, "mm")
    found = import_pattern(path)
    assert found.source_bytes == path.read_bytes()
    assert found.source_name == "stated.dxf"
    assert found.nest.name == "stated"


@pytest.mark.parametrize(
    "content", [b"", b"%PDF-1.7\n", b"\x00\x01", b"  0\nSECTION\n  2\nENTITIES\n  0\nENDSEC\n  0\nEOF\n"]
)
def test_what_is_no_pattern_is_refused_in_one_sentence(tmp_path, content):
    (tmp_path / "bad.dxf").write_bytes(content)
    with pytest.raises(PatternError) as caught:
        import_pattern(tmp_path / "bad.dxf", unit=Unit.MM)
    assert caught.value.sentence
    assert "\n" not in caught.value.sentence


# ---- the digitised sample against what was drafted ----


@pytest.fixture(scope="module")
def traced():
    return import_pattern(FOLDER / TRACE, unit=Unit.INCH)


def drafted_and_traced(traced):
    for drafted in draft_nest().sample.pieces:
        yield drafted, traced.nest.patterns[0].piece(drafted.name)


def test_trace_has_every_piece_edge_dart_notch_and_fold(traced):
    for drafted, piece in drafted_and_traced(traced):
        assert piece.size == drafted.size
        assert {(edge.id, edge.role) for edge in piece.edges} == {(edge.id, edge.role) for edge in drafted.edges}
        assert {(dart.id, dart.edge) for dart in piece.darts} == {(dart.id, dart.edge) for dart in drafted.darts}
        assert piece.fold == drafted.fold
        assert len(piece.marks) == len(drafted.marks)
        assert {line.id for line in piece.inner_lines} == {line.id for line in drafted.inner_lines}


def test_trace_has_the_lengths_and_area_drafted(traced):
    """A steady hand: half a millimetre on an edge, a quarter per mille and a bit of area."""
    for drafted, piece in drafted_and_traced(traced):
        for edge in drafted.edges:
            assert piece.edge(edge.id).length_mm == pytest.approx(edge.length_mm, abs=0.5)
            assert piece.edge(edge.id).is_straight == edge.is_straight
        assert piece.area_mm2 == pytest.approx(drafted.area_mm2, rel=1e-3)


def test_trace_has_the_darts_drafted(traced):
    for drafted, piece in drafted_and_traced(traced):
        shift = np.array(piece.bounds_mm[:2]) - drafted.bounds_mm[:2]
        for dart in drafted.darts:
            found = piece.dart(dart.id)
            np.testing.assert_allclose(found.tip, dart.tip + shift, atol=0.5)
            assert (found.aim is None) == (dart.aim is None)
            assert found.pressed == dart.pressed
            assert piece.intake_mm(found) == pytest.approx(drafted.intake_mm(dart), abs=0.5)


def test_trace_has_the_notches_drafted(traced):
    for drafted, piece in drafted_and_traced(traced):
        for edge in drafted.edges:
            there = [notch.at_mm for notch in piece.notches_on(edge.id)]
            assert there == pytest.approx([notch.at_mm for notch in drafted.notches_on(edge.id)], abs=0.7)


def test_trace_leaves_nothing_out(traced):
    assert {finding.code for finding in traced.findings} == {"gaps-closed", "trace-cleaned", "no-stitching-line"}
