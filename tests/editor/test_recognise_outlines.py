"""Outlines: plain files without any marks, segments, gaps, direction, traces, several pieces, sizes, odds and ends."""

import numpy as np
import pytest

from editor.formats.recognise import recognise
from geometry.curves import polyline
from geometry.errors import PatternError
from geometry.findings import Level
from geometry.units import Unit
from tests.editor.sketched import (
    RECTANGLE,
    blocks,
    circle,
    cubic,
    front,
    loose,
    middle,
    outline,
    path,
    point,
    segments,
    shaken_segments,
    text,
)


def only_piece(drawing, unit=Unit.MM, **options):
    found = recognise(drawing, unit, **options)
    assert [len(pattern.pieces) for pattern in found.nest.patterns] == [1]
    return found.nest.patterns[0].pieces[0], found.findings


def codes(findings):
    return [finding.code for finding in findings]


@pytest.mark.parametrize(
    "drawing",
    [
        blocks(P1=[outline(RECTANGLE, layer="1")]),
        loose(outline(RECTANGLE, layer="1")),
        loose(outline(RECTANGLE)),
        loose(outline(RECTANGLE, layer="CUT")),
        loose(*segments(RECTANGLE)),
        loose(*segments(RECTANGLE)[::-1]),
        loose(outline(RECTANGLE[::-1])),
        loose(path([*RECTANGLE, RECTANGLE[0]])),
    ],
)
def test_plain_rectangle_is_a_piece_with_four_edges(drawing):
    piece, _ = only_piece(drawing)
    assert [edge.id for edge in piece.edges] == ["edge 1", "edge 2", "edge 3", "edge 4"]
    assert sorted(edge.length_mm for edge in piece.edges) == pytest.approx([200, 200, 300, 300])
    assert piece.area_mm2 == pytest.approx(60_000)
    assert [len(edge.points) for edge in piece.edges] == [2] * 4


@pytest.mark.parametrize(("unit", "mm"), [(Unit.MM, 1.0), (Unit.CM, 10.0), (Unit.INCH, 25.4)])
def test_unit_scales_everything(unit, mm):
    piece, _ = only_piece(loose(outline(RECTANGLE), point((200, 100))), unit, gap_mm=0.5)
    assert piece.area_mm2 == pytest.approx(60_000 * mm * mm)
    assert piece.notch_point(piece.notches[0]) == pytest.approx((200 * mm, 100 * mm))


def test_clockwise_outline_is_turned_and_told():
    piece, findings = only_piece(loose(outline(RECTANGLE[::-1])))
    assert polyline.signed_area_mm2(piece.outline) > 0
    assert "turned" in codes(findings)


def test_doubled_points_are_dropped():
    doubled = [corner for corner in RECTANGLE for _ in range(3)]
    piece, _ = only_piece(loose(outline(doubled)))
    assert len(piece.outline) == 4


def test_smooth_front_has_six_edges_with_the_lengths_drawn():
    ring, sides = front()
    piece, _ = only_piece(loose(outline(ring)))
    lengths = [polyline.length_mm(np.asarray(side)) for side in sides]
    assert [edge.length_mm for edge in piece.edges] == pytest.approx(lengths)


@pytest.mark.parametrize("seed", range(4))
def test_trace_of_a_front_has_its_named_edges_within_half_a_millimetre(seed):
    ring, sides = front()
    names = ["waist", "side", "armhole", "shoulder", "neck", "centre front"]
    words = [text(name, middle(side)) for name, side in zip(names, sides, strict=True)]
    piece, findings = only_piece(loose(*shaken_segments(ring, seed=seed, by_mm=0.1), *words))
    assert {edge.id for edge in piece.edges} == set(names)
    for name, side in zip(names, sides, strict=True):
        assert piece.edge(name).length_mm == pytest.approx(polyline.length_mm(np.asarray(side)), abs=0.5)
        assert piece.edge(name).is_straight == (len(side) == 2)
    cleaned = next(finding for finding in findings if finding.code == "trace-cleaned")
    assert cleaned.measured_mm < 0.5
    gaps = next(finding for finding in findings if finding.code == "gaps-closed")
    assert gaps.measured_mm == pytest.approx(0.2, abs=0.05)


def test_gap_wider_than_the_tolerance_is_named_with_size_and_place():
    open_path = [(0, 0), (200, 0), (200, 300), (0, 300), (0, 3)]
    with pytest.raises(PatternError, match=r"ends are 3\.0 mm apart near \(0, 3\)") as caught:
        recognise(loose(path(open_path)), Unit.MM)
    assert caught.value.code == "no-outline"
    assert "\n" not in caught.value.sentence


def test_wider_tolerance_closes_that_gap_and_says_so():
    piece, findings = only_piece(loose(path([(0, 0), (200, 0), (200, 300), (0, 300), (0, 3)])), gap_mm=3.5)
    assert piece.area_mm2 == pytest.approx(60_000, rel=0.01)
    assert "gaps-closed" in codes(findings)


def test_open_outline_beside_a_good_piece_is_a_warning():
    found = recognise(loose(outline(RECTANGLE), path([(400, 0), (600, 0), (600, 200), (400, 200), (400, 9)])), Unit.MM)
    told = next(finding for finding in found.findings if finding.code == "open-outline")
    assert told.level is Level.WARN
    assert told.measured_mm == pytest.approx(9.0)


def test_contours_side_by_side_are_pieces_and_what_lies_inside_is_given_to_them():
    moved = [(x + 500, y) for x, y in RECTANGLE]
    drawing = loose(
        outline(RECTANGLE),
        outline(moved),
        outline(circle((600, 150), 30)),
        text("sleeve", (50, 50)),
        text("yoke", (550, 50)),
        path([(50, 100), (150, 100)]),
        text("hem", (600, 0)),
    )
    pieces = recognise(drawing, Unit.MM).nest.patterns[0].pieces
    assert [piece.name for piece in pieces] == ["sleeve", "yoke"]
    assert [line.closed for line in pieces[0].inner_lines] == [False]
    assert [line.closed for line in pieces[1].inner_lines] == [True]
    assert "hem" in [edge.id for edge in pieces[1].edges]


def test_inner_contour_along_the_outline_is_the_stitching_line():
    inner = [(15, 40), (185, 40), (185, 285), (15, 285)]
    piece, findings = only_piece(loose(outline(RECTANGLE), outline(inner)))
    assert [edge.allowance_mm for edge in piece.edges] == [40, 15, 15, 15]
    assert "no-stitching-line" not in codes(findings)


def test_sew_line_drawn_as_segments_is_the_stitching_line():
    inner = segments([(15, 40), (185, 40), (185, 285), (15, 285)], layer="14")
    piece, _ = only_piece(blocks(P=[outline(RECTANGLE, layer="1"), *inner]))
    assert piece.area_mm2 == pytest.approx(170 * 245)
    assert sorted(edge.allowance_mm for edge in piece.edges) == [15, 15, 15, 40]


def test_single_line_without_a_stated_allowance_is_the_stitching_line_and_told():
    piece, findings = only_piece(loose(outline(RECTANGLE)))
    assert [edge.allowance_mm for edge in piece.edges] == [0] * 4
    told = next(finding for finding in findings if finding.code == "no-stitching-line")
    assert "--allowance 15" in told.text


def test_stated_allowance_moves_the_stitching_line_inwards_but_not_on_the_fold():
    drawing = blocks(P=[outline(RECTANGLE, layer="1"), path([(0, 0), (0, 300)], layer="6")])
    piece, findings = only_piece(drawing, allowance_mm=15.0)
    assert piece.bounds_mm == pytest.approx((0, 15, 185, 285))
    assert piece.edge(piece.fold).allowance_mm == 0
    assert "stitching-derived" in codes(findings)


def test_turn_points_say_where_the_corners_are():
    ring = [(0, 0), (100, 2), (200, 0), (200, 300), (0, 300)]
    turns = [point(place, layer="2") for place in ring]
    piece, _ = only_piece(blocks(P=[outline(ring, layer="1"), *turns]))
    assert len(piece.edges) == 5
    assert len(only_piece(blocks(P=[outline(ring, layer="1")]))[0].edges) == 4


def test_outline_without_corners_is_two_edges():
    piece, _ = only_piece(loose(outline(circle((0, 0), 80, 200))))
    assert len(piece.edges) == 2
    assert piece.area_mm2 == pytest.approx(np.pi * 80**2, rel=1e-3)


def test_texts_on_edges_name_them_and_their_roles():
    ring, sides = front()
    names = ["Waist", "SIDE SEAM", "Armhole", "Front Shoulder", "neckline", "CF"]
    words = [text(name, middle(side)) for name, side in zip(names, sides, strict=True)]
    piece, _ = only_piece(loose(outline(ring), *words))
    assert [edge.id for edge in piece.edges] == [name.lower() for name in names]
    assert [edge.role.value for edge in piece.edges] == ["waist", "side", "armhole", "shoulder", "neck", "centre front"]


def test_two_edges_of_one_name_are_numbered():
    piece, findings = only_piece(loose(outline(RECTANGLE), text("side", (200, 100)), text("side", (0, 100))))
    assert {"side", "side 2"} < {edge.id for edge in piece.edges}
    assert "edge-renamed" in codes(findings)


def test_mirror_line_makes_the_edge_it_runs_along_the_fold():
    drawing = blocks(P=[outline(RECTANGLE, layer="1"), path([(0, -10), (0, 310)], layer="6")])
    piece, _ = only_piece(drawing)
    assert {point[0] for point in piece.edge(piece.fold).points.tolist()} == {0}
    assert piece.area_mm2 == pytest.approx(60_000)


def test_mirror_line_off_every_edge_is_a_warning():
    _, findings = only_piece(blocks(P=[outline(RECTANGLE, layer="1"), path([(50, 0), (50, 300)], layer="6")]))
    assert "mirror-line" in codes(findings)


def test_nothing_is_dropped_silently():
    drawing = blocks(
        P=[
            outline(RECTANGLE, layer="1"),
            outline(RECTANGLE, layer="84"),
            path([(100, 10), (100, 200)], layer="5"),
            path([(80, 10), (80, 200)], layer="7"),
            path([(90, 10), (90, 200)], layer="7"),
            text("# 4", (0, 0), layer="2"),
            text("Category: top", (50, 50), layer="1"),
        ],
        EMPTY=[text("stray", (0, 0))],
    )
    _, findings = only_piece(drawing)
    told = [finding.text for finding in findings if finding.code == "not-used"]
    assert len(told) == 5
    assert any('layer "84"' in words and "validation" in words for words in told)
    assert any('"EMPTY"' in words for words in told)


def test_grade_rule_numbers_are_kept_with_their_places():
    drawing = blocks(P=[outline(RECTANGLE, layer="1"), text("# 4", (0, 0), layer="2")])
    found = recognise(drawing, Unit.MM)
    ((number, layer, place),) = next(iter(found.ruled.values()))
    assert (number, layer, place) == (4, "2", (0.0, 0.0))


def test_sizes_come_from_size_texts_in_the_order_of_the_file():
    def grade(size, wide):
        ring = [(0, 0), (wide, 0), (wide, 300), (0, 300)]
        words = [text("Piece Name: front", (50, 50), layer="1"), text(f"Size: {size}", (50, 40), layer="1")]
        return [outline(ring, layer="1"), *words]

    found = recognise(blocks(A=grade("10", 200), B=grade("12", 210), C=grade("14", 220)), Unit.MM)
    assert found.nest.sizes == ("10", "12", "14")
    assert [pattern.piece("front").area_mm2 for pattern in found.nest.patterns] == [60_000, 63_000, 66_000]
    assert found.nest.sample_size == "12"


def test_sizes_come_from_block_names_where_every_piece_has_them():
    shapes = [outline(RECTANGLE, layer="1")]
    found = recognise(blocks(FRONT_38=shapes, BACK_38=shapes, FRONT_40=shapes, BACK_40=shapes), Unit.MM)
    assert found.nest.sizes == ("38", "40")
    assert [piece.name for piece in found.nest.patterns[0].pieces] == ["FRONT", "BACK"]
    single = recognise(blocks(FRONT_38=shapes, BACK_LEFT=shapes), Unit.MM)
    assert [piece.name for piece in single.nest.patterns[0].pieces] == ["FRONT_38", "BACK_LEFT"]


def test_sizes_that_differ_in_edges_are_a_warning():
    def grade(size, ring):
        words = [text("Piece Name: front", (50, 50), layer="1"), text(f"Size: {size}", (50, 40), layer="1")]
        return [outline(ring, layer="1"), *words]

    found = recognise(blocks(A=grade("10", RECTANGLE), B=grade("12", [*RECTANGLE, (-60, 150)])), Unit.MM)
    told = next(finding for finding in found.findings if finding.code == "sizes-differ")
    assert told.level is Level.WARN
    assert "4 edges in size 10" in told.text
    assert "5 in size 12" in told.text


def test_two_pieces_of_one_name_are_numbered():
    shapes = [outline(RECTANGLE, layer="1"), text("Piece Name: pocket", (50, 50), layer="1")]
    found = recognise(blocks(A=shapes, B=shapes), Unit.MM)
    assert [piece.name for piece in found.nest.patterns[0].pieces] == ["pocket", "pocket 2"]
    assert "piece-renamed" in codes(found.findings)


@pytest.mark.parametrize(("side_mm", "told"), [(6_000, True), (5, True), (400, False)])
def test_implausible_sizes_are_a_warning(side_mm, told):
    ring = [(0, 0), (side_mm, 0), (side_mm, side_mm), (0, side_mm)]
    _, findings = only_piece(loose(outline(ring)))
    assert ("implausible-size" in codes(findings)) == told


def test_speck_beside_real_pieces_is_no_piece():
    _, findings = only_piece(loose(outline(RECTANGLE), outline(circle((400, 0), 3))))
    assert "not-used" in codes(findings)


def test_shallow_curve_keeps_its_points():
    hem = cubic((0, 0), (70, -6), (130, -6), (200, 0))
    piece, _ = only_piece(loose(outline([*map(tuple, hem.tolist()), (200, 300), (0, 300)])))
    assert len(piece.edges) == 4
    assert max(len(edge.points) for edge in piece.edges) == len(hem)
