"""Suggestions of a raw trace: each is offered, and what is declined stays as it was traced."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
import shapely

import samples
from editor.cli import main
from editor.formats.clean_up import AS_TRACED, REDRAWN, CleanUp, Kind, NamedEdge
from editor.formats.dxf_reader import read_drawing
from editor.formats.import_pattern import import_pattern, opened
from editor.formats.recognise import accepted, recognise, sketched, suggestions
from editor.formats.recognise_allowance import OnlyLine
from geometry.curves import polyline
from geometry.units import Unit
from tests.editor.sketched import loose, shaken_segments

TRACE = Path(samples.__file__).parent / "dress-trace.dxf"


@pytest.fixture(scope="module")
def trace():
    return opened(TRACE, unit=Unit.INCH)


@pytest.fixture(scope="module")
def bare():
    """The trace without a word on it."""
    drawing = read_drawing(TRACE, unit_mm=Unit.INCH.mm)
    drawing = replace(drawing, loose=tuple(shape for shape in drawing.loose if shape.kind != "text"))
    return sketched(drawing, Unit.INCH)


def offered(found, kind, piece="front bodice"):
    return [each for each in found.suggestions if each.kind is kind and each.piece == piece]


def without(*declined):
    return CleanUp(declined=frozenset(each.key for each in declined))


def shapes(nest):
    return [(edge.id, edge.points.tobytes()) for piece in nest.sample.pieces for edge in piece.edges]


def front(found):
    return found.nest.sample.piece("front bodice")


def test_all_accepted_is_what_an_import_gives(trace):
    whole, found = import_pattern(TRACE, unit=Unit.INCH), accepted(trace.drawing)
    assert shapes(whole.nest) == shapes(found.nest)
    assert whole.findings == found.findings
    assert {each.key for each in suggestions(trace.drawing)} == {each.key for each in whole.suggestions}
    drawn = {(piece.name, dart.id) for piece in whole.nest.sample.pieces for dart in piece.darts}
    assert len([each for each in found.suggestions if each.kind is Kind.DART]) == len(drawn)


def test_every_kind_is_offered_with_its_piece_and_place(trace):
    found = trace.made()
    assert {each.kind for each in found.suggestions} == set(Kind)
    assert not any(each.is_guess for each in found.suggestions)
    for each in found.suggestions:
        x0, y0, x1, y1 = found.nest.sample.piece(each.piece).bounds_mm
        assert x0 - 1 <= each.at[0] <= x1 + 1
        assert y0 - 1 <= each.at[1] <= y1 + 1


def test_the_largest_deviation_told_is_what_shapely_finds(trace):
    sides = offered(trace.made(), Kind.SIDE)
    outline = shapely.union_all([shapely.LineString(side.drawn[1]) for side in sides])
    for side in sides:
        away = shapely.distance(shapely.points(side.drawn[0]), outline)
        assert side.moved_mm == pytest.approx(away.max(), abs=1e-9)


@pytest.mark.parametrize("within_mm", [0.06, 0.1, 0.25, 1.0])
def test_no_point_moves_further_than_the_stated_tolerance(trace, within_mm):
    found = trace.made(CleanUp(within_mm=within_mm))
    sides = [each for each in found.suggestions if each.kind is Kind.SIDE]
    assert sides
    assert max(side.moved_mm for side in sides) <= within_mm


def test_a_declined_side_keeps_every_traced_point(trace):
    side = max(offered(trace.made(), Kind.SIDE), key=lambda each: each.moved_mm)
    found = trace.made(without(side))
    edge = min(front(found).edges, key=lambda each: polyline.nearest(each.points, side.at)[1])
    rows = {tuple(row) for row in edge.points.tolist()}
    mouths = [(dart.from_mm, dart.to_mm) for dart in front(found).darts_on(edge.id)]
    for place in side.drawn[0].tolist():
        at_mm = polyline.nearest(edge.points, tuple(place))[0]
        assert tuple(place) in rows or any(low - 1 <= at_mm <= high + 1 for low, high in mouths)
    other = next(each for each in offered(found, Kind.SIDE) if each.key != side.key)
    assert other.moved_mm is not None


def test_without_cleaning_the_outline_is_the_trace_and_that_is_told(trace):
    found = trace.made(AS_TRACED)
    assert "trace-cleaned" not in {finding.code for finding in found.findings}
    assert sum(finding.code == "as-traced" for finding in found.findings) == 5
    sleeve = found.nest.sample.piece("sleeve")
    drawn = next(sketch for sketch in trace.drawing.sketches if len(sketch.boundary) == len(sleeve.outline))
    assert {tuple(row) for row in sleeve.outline.tolist()} == {tuple(row) for row in drawn.boundary.tolist()}


def test_declined_darts_and_notches_stay_lines(trace):
    whole = front(trace.made())
    darts, notches = offered(trace.made(), Kind.DART), offered(trace.made(), Kind.NOTCH)
    left = front(trace.made(without(darts[0], notches[0])))
    assert len(left.darts) == len(whole.darts) - 1
    assert len(left.notches) == len(whole.notches) - 1
    assert len(left.inner_lines) > len(whole.inner_lines)


def test_a_declined_corner_makes_one_edge_of_two_and_an_added_one_two_of_one(trace):
    whole = trace.made()
    corner = offered(whole, Kind.CORNER)[0]
    assert len(front(trace.made(without(corner))).edges) == len(front(whole).edges) - 1
    middle = front(whole).edge("side").point_at(60.0)
    more = front(trace.made(CleanUp(corners=(("front bodice", corner.size, middle),))))
    assert len(more.edges) == len(front(whole).edges) + 1


def test_a_declined_fold_and_grain_leave_the_piece_whole_and_without(trace):
    found = trace.made()
    left = front(trace.made(without(offered(found, Kind.FOLD)[0], offered(found, Kind.GRAIN)[0])))
    assert (left.fold, left.grain) == (None, None)


def test_an_edge_is_called_what_somebody_says_it_is(trace):
    whole = front(trace.made())
    named = NamedEdge(whole.name, whole.size, whole.edge("side").point_at(50.0), "left side")
    piece = front(trace.made(CleanUp(names=(named,))))
    assert [edge.id for edge in piece.edges if edge.id not in {e.id for e in whole.edges}] == ["left side"]
    assert piece.labels == whole.labels


def test_a_fold_and_a_grain_that_nothing_says_are_guesses_and_wait_to_be_taken(bare):
    found = accepted(bare)
    assert all(piece.fold is None and piece.grain is None for piece in found.nest.sample.pieces)
    guesses = [each for each in found.suggestions if each.is_guess]
    assert {each.kind for each in guesses} == {Kind.FOLD, Kind.GRAIN}
    taken = accepted(bare, CleanUp(guesses=frozenset(each.key for each in guesses))).nest.sample
    assert all(piece.grain is not None for piece in taken.pieces)
    folded = [piece for piece in taken.pieces if piece.fold is not None]
    assert folded
    for piece in folded:
        assert piece.edge(piece.fold).is_straight


@pytest.mark.parametrize(("deep_mm", "wide_mm"), [(3, 4), (4, 3), (6, 4), (8, 5), (10, 8), (-5, 5)])
@pytest.mark.parametrize("seed", range(3))
def test_a_nick_cut_into_a_traced_outline_is_a_notch(deep_mm, wide_mm, seed):
    """Nicks are 2 to 6 mm deep, outward ones as large (common practice, no source)."""
    ring = [(0, 0), (200, 0), (200, 150 - wide_mm / 2), (200 - deep_mm, 150), (200, 150 + wide_mm / 2)]
    cut = loose(*shaken_segments([*ring, (200, 300), (0, 300)], seed=seed))
    found = recognise(cut, Unit.MM)
    piece = found.nest.sample.pieces[0]
    assert len(piece.edges) == 4
    (notch,) = piece.notches
    assert piece.notch_point(notch) == pytest.approx((200, 150), abs=1.0)
    assert notch.depth_mm == pytest.approx(abs(deep_mm), abs=1.0)
    (offered_notch,) = [each for each in found.suggestions if each.kind is Kind.NOTCH]
    left = recognise(cut, Unit.MM, clean_up=without(offered_notch))
    assert not left.nest.sample.pieces[0].notches


@pytest.mark.parametrize("seed", range(3))
def test_a_dart_cut_into_a_traced_outline_is_a_dart_and_a_sharp_corner_is_none(seed):
    ring = [(0, 0), (200, 0), (200, 300), (112, 300), (100, 180), (88, 300), (0, 300)]
    piece = recognise(loose(*shaken_segments(ring, seed=seed)), Unit.MM).nest.sample.pieces[0]
    (dart,) = piece.darts
    assert dart.tip == pytest.approx((100, 180), abs=1.5)
    assert not piece.notches
    collar = [(0, 0), (200, 0), (230, 60), (0, 40)]
    pointed = recognise(loose(*shaken_segments(collar, seed=seed)), Unit.MM).nest.sample.pieces[0]
    assert (len(pointed.edges), pointed.notches, pointed.darts) == (4, (), ())


def test_single_edges_can_have_an_allowance_of_their_own(trace):
    said = OnlyLine(allowance_mm=15.0, hem_mm=40.0, edges_mm={("front bodice", "side"): 25.0})
    found = trace.made(said=said)
    piece = front(found)
    whole = front(trace.made())
    assert piece.edge("side").allowance_mm == 25.0
    assert piece.edge("armhole").allowance_mm == 15.0
    assert found.nest.sample.piece("front skirt").edge("hem").allowance_mm == 40.0
    start = whole.edge("side").point_at(120.0)
    assert piece.nearest_edge(start)[2] == pytest.approx(25.0, abs=0.1)


def test_the_command_line_leaves_a_trace_as_it_is_when_asked(capsys):
    assert main(["info", str(TRACE), "--units", "in", "--json", "--as-traced"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert set(said) == {"pieces", "findings"}
    assert {finding["code"] for finding in said["findings"]} == {"gaps-closed", "as-traced", "no-stitching-line"}


def test_kinds_that_redraw_are_those_that_move_points(trace):
    moving = {each.kind for each in trace.made().suggestions if each.moved_mm is not None}
    assert moving == REDRAWN
