"""Darts, notches, lines, points and words in drawings of all kinds."""

import math

import numpy as np
import pytest

from editor.formats.recognise import recognise
from geometry.affine import frozen_points
from geometry.allowance import cutting_line
from geometry.model.dart import Dart, Pressed
from geometry.model.edge import Edge
from geometry.model.marks import InnerKind, MarkKind, NotchKind
from geometry.model.piece import Piece
from geometry.units import Unit
from tests.editor.sketched import RECTANGLE, blocks, circle, loose, outline, path, point, segments, text


def only_piece(drawing):
    found = recognise(drawing, Unit.MM)
    assert [len(pattern.pieces) for pattern in found.nest.patterns] == [1]
    return found.nest.patterns[0].pieces[0], [finding.code for finding in found.findings]


def standard(*shapes):
    return blocks(PIECE=[outline(RECTANGLE, layer="1"), *shapes])


V = [(80, 0), (100, 140), (120, 0)]


def assert_waist_dart(piece, *, name="edge 1 dart"):
    assert [dart.id for dart in piece.darts] == [name]
    dart = piece.darts[0]
    assert piece.mouth(dart) == ((80, 0), (120, 0))
    assert dart.tip == (100, 140)
    assert piece.intake_mm(dart) == pytest.approx(40)
    assert piece.legs_mm(dart) == pytest.approx([math.hypot(20, 140)] * 2)
    assert piece.edge(dart.edge).length_mm == pytest.approx(200)


@pytest.mark.parametrize(
    "shapes",
    [
        [path(V, layer="8")],
        [path(V[::-1], layer="8")],
        [path(V[:2], layer="8"), path(V[:0:-1], layer="8")],
        [path(V, layer="8", closed=True)],
        [path([(77, -21), (100, 140), (123, -21)], layer="8")],
    ],
    ids=["V", "V backwards", "two legs", "triangle", "legs drawn to a cutting line outside"],
)
def test_lines_that_meet_at_a_point_and_open_on_an_edge_are_a_dart(shapes):
    piece, _ = only_piece(standard(*shapes))
    assert_waist_dart(piece)
    assert piece.inner_lines == ()


def test_wedge_cut_into_the_outline_is_a_dart_and_its_edge_runs_straight_across():
    ring = [(0, 0), *V, (200, 0), (200, 300), (0, 300)]
    piece, codes = only_piece(loose(outline(ring)))
    assert_waist_dart(piece)
    assert len(piece.edges) == 4
    assert piece.area_mm2 == pytest.approx(60_000)
    assert "dart-in-outline" in codes


def test_wedge_between_named_edges_is_a_neckline_and_no_dart():
    ring = [(0, 0), (200, 0), (200, 300), (120, 300), (100, 200), (80, 300), (0, 300)]
    piece, _ = only_piece(loose(outline(ring), text("left neck", (110, 250)), text("right neck", (90, 250))))
    assert piece.darts == ()
    assert {"left neck", "right neck"} < {edge.id for edge in piece.edges}


def test_two_notches_and_a_drill_hole_are_a_dart_and_stay():
    shapes = [point((80, 0), layer="4"), point((120, 0), layer="4"), point((100, 140), layer="13")]
    piece, codes = only_piece(standard(*shapes))
    assert_waist_dart(piece)
    assert len(piece.notches) == 2
    assert len(piece.marks) == 1
    assert "dart-from-marks" in codes


def test_drill_hole_to_one_side_of_two_notches_is_no_dart():
    shapes = [point((80, 0), layer="4"), point((120, 0), layer="4"), point((110, 140), layer="13")]
    assert only_piece(standard(*shapes))[0].darts == ()


def test_words_at_the_tip_name_the_dart():
    piece, _ = only_piece(standard(path(V, layer="8"), text("Waist Dart", (100, 140), layer="15")))
    assert_waist_dart(piece, name="waist dart")


@pytest.mark.parametrize(
    "line",
    [[(50, 50), (100, 140), (150, 50)], [(80, 0), (100, 12), (120, 0)], [(10, 0), (100, 40), (190, 0)],
     [(80, 0), (100, 140)]],
    ids=["inside", "flat", "wide", "single line"],
)  # fmt: skip
def test_other_lines_stay_lines(line):
    piece, _ = only_piece(standard(path(line, layer="8")))
    assert piece.darts == ()
    assert [kept.id for kept in piece.inner_lines] == ["line 1"]


def test_bowed_legs_are_kept_straight_and_told():
    legs = [(80, 0), (88, 70), (100, 140), (112, 70), (120, 0)]
    piece, codes = only_piece(standard(path(legs, layer="8")))
    assert_waist_dart(piece)
    assert "dart-legs-straightened" in codes


def test_edge_runs_straight_across_the_mouth_of_a_dart_on_a_curve():
    hem = [(x, -((x - 100) ** 2) / 500) for x in range(0, 201, 5)]
    ring = [*hem, (200, 300), (0, 300)]
    piece, _ = only_piece(loose(outline(ring), path([(80, -0.8), (100, 140), (120, -0.8)])))
    dart = piece.darts[0]
    start, end = piece.mouth(dart)
    across = piece.edge(dart.edge).point_at((dart.from_mm + dart.to_mm) / 2)
    assert across == pytest.approx(((start[0] + end[0]) / 2, (start[1] + end[1]) / 2))
    assert dart.to_mm - dart.from_mm == pytest.approx(math.dist(start, end))


def test_closed_slim_line_of_four_points_is_a_dart_with_two_tips():
    kite = [(100, 60), (92, 150), (100, 240), (108, 150)]
    piece, _ = only_piece(standard(path(kite, layer="8", closed=True), text("back dart", (100, 60), layer="15")))
    double = piece.double_darts[0]
    assert (double.id, double.tip_start, double.tip_end) == ("back dart", (100, 60), (100, 240))
    assert {double.left, double.right} == {(92, 150), (108, 150)}


# ---- how darts are aimed and pressed ----


def test_dart_aims_at_the_landmark_beyond_its_tip():
    shapes = [
        path(V, layer="8"), point((103, 165), layer="13"), text("bust point", (103, 165), layer="15"),
        point((100, 100), layer="13"), text("behind", (100, 100), layer="15"),
        point((100, 280), layer="13"), text("far", (100, 280), layer="15"),
    ]  # fmt: skip
    piece, _ = only_piece(standard(*shapes))
    assert piece.darts[0].aim == (103, 165)
    assert piece.landmark("bust point") == (103, 165)


def test_dart_without_a_landmark_near_its_middle_line_aims_at_nothing():
    shapes = [path(V, layer="8"), point((130, 165), layer="13"), text("bust point", (130, 165), layer="15")]
    assert only_piece(standard(*shapes))[0].darts[0].aim is None


@pytest.mark.parametrize(("fold_x", "pressed"), [(0, Pressed.TO_START), (200, Pressed.TO_END)])
def test_vertical_dart_is_pressed_to_the_centre(fold_x, pressed):
    """Common practice, no source: waist and shoulder darts towards the centre."""
    piece, _ = only_piece(standard(path(V, layer="8"), path([(fold_x, 0), (fold_x, 300)], layer="6")))
    assert piece.darts[0].pressed is pressed


def test_bust_dart_is_pressed_down():
    """Common practice, no source: a dart across the piece is pressed down."""
    right, _ = only_piece(standard(path([(200, 80), (100, 100), (200, 120)], layer="8")))
    assert right.darts[0].pressed is Pressed.TO_START  # the side runs upwards on the right
    left, _ = only_piece(standard(path([(0, 80), (100, 100), (0, 120)], layer="8")))
    assert left.darts[0].pressed is Pressed.TO_END


# ---- notches ----


@pytest.mark.parametrize(
    ("layer", "width", "kind"),
    [
        ("4", 0.0, NotchKind.SLIT),
        ("4", 3.0, NotchKind.V),
        ("80", 3.0, NotchKind.T),
        ("81", 3.0, NotchKind.CASTLE),
        ("82", 3.0, NotchKind.CHECK),
        ("83", 3.0, NotchKind.U),
    ],
)
def test_notch_points_by_layer(layer, width, kind):
    """Layer numbers of ASTM D6673, from memory."""
    piece, _ = only_piece(standard(point((200, 90), layer=layer, z=5.0, thickness=width)))
    notch = piece.notches[0]
    assert (notch.kind, notch.depth_mm, notch.width_mm) == (kind, 5.0, width)
    assert (notch.edge, notch.at_mm) == ("edge 2", pytest.approx(90))


def test_notch_on_the_cutting_line_belongs_to_the_stitching_line_inside_it():
    sew = outline([(15, 40), (185, 40), (185, 285), (15, 285)], layer="14")
    piece, _ = only_piece(standard(sew, point((60, 0), layer="4"), text("hip", (60, 0), layer="15")))
    notch = piece.notches[0]
    assert piece.notch_point(notch) == pytest.approx((60, 40))
    assert notch.partner == "hip"


@pytest.mark.parametrize(
    "tick",
    [[(200, 90), (194, 90)], [(194, 90), (200, 90)], [(200, 90), (207, 91)], [(203, 90), (197, 90)]],
    ids=["inwards", "drawn from inside", "outwards", "across"],
)
def test_short_line_standing_on_an_edge_is_a_notch(tick):
    piece, _ = only_piece(loose(outline(RECTANGLE), path(tick)))
    assert piece.inner_lines == ()
    assert piece.notch_point(piece.notches[0]) == pytest.approx((200, 90), abs=0.5)


@pytest.mark.parametrize("out", [-4, 4])
def test_small_wedge_in_the_outline_is_a_notch(out):
    ring = [(0, 0), (200, 0), (200, 148), (200 + out, 150), (200, 152), (200, 300), (0, 300)]
    piece, codes = only_piece(loose(outline(ring)))
    notch = piece.notches[0]
    assert (notch.kind, notch.depth_mm, notch.width_mm) == (NotchKind.V, pytest.approx(4), pytest.approx(4))
    assert piece.notch_point(notch) == pytest.approx((200, 150))
    assert len(piece.edges) == 4
    assert piece.area_mm2 == pytest.approx(60_000)
    assert "notch-in-outline" in codes


def test_notches_are_numbered_round_the_piece():
    places = [(0, 100), (50, 0), (200, 250), (200, 50)]
    piece, _ = only_piece(standard(*(point(place, layer="4") for place in places)))
    assert [notch.id for notch in piece.notches] == ["notch 4", "notch 1", "notch 3", "notch 2"]


def test_notch_far_from_every_edge_is_not_used():
    piece, codes = only_piece(standard(point((100, 150), layer="4"), point((400, 150), layer="4")))
    assert len(piece.notches) == 1
    assert "not-used" in codes


# ---- lines, points, words ----


def test_grain_is_the_line_on_its_layer_or_the_one_that_says_so():
    piece, _ = only_piece(standard(path([(50, 50), (50, 250)], layer="7")))
    assert (piece.grain.start, piece.grain.end) == ((50, 50), (50, 250))
    named, _ = only_piece(loose(outline(RECTANGLE), path([(50, 50), (50, 250)]), text("Grain", (50, 150))))
    assert (named.grain.start, named.grain.end) == ((50, 50), (50, 250))
    assert named.inner_lines == ()


def test_inner_lines_by_layer():
    lines = {"8": InnerKind.LINE, "9": InnerKind.STRIPE, "10": InnerKind.PLAID, "11": InnerKind.CUTOUT}
    shapes = [path([(50, 40 * (row + 1)), (150, 40 * (row + 1))], layer=layer) for row, layer in enumerate(lines)]
    piece, _ = only_piece(standard(*shapes, text("hip line", (50, 40), layer="15")))
    assert {line.kind for line in piece.inner_lines} == set(lines.values())
    assert "hip line" in [line.id for line in piece.inner_lines]


def test_points_inside_are_drill_holes_and_named_ones_landmarks():
    shapes = [point((60, 60)), point((90, 90)), text("Bust Point", (90, 90)), outline(circle((120, 200), 2.5))]
    piece, _ = only_piece(loose(outline(RECTANGLE), *shapes))
    assert sorted((mark.id, mark.kind) for mark in piece.marks) == [
        ("bust point", MarkKind.LANDMARK), ("drill hole 1", MarkKind.DRILL), ("drill hole 2", MarkKind.DRILL),
    ]  # fmt: skip
    np.testing.assert_allclose(sorted(mark.at for mark in piece.marks), [(60, 60), (90, 90), (120, 200)], atol=1e-9)


def test_diameter_written_at_a_drill_hole_is_no_name():
    piece, _ = only_piece(standard(point((60, 60), layer="13"), text("3 mm", (60, 60), layer="15")))
    assert piece.marks[0].kind is MarkKind.DRILL
    assert [label.text for label in piece.labels] == ["3 mm"]


def test_other_words_are_labels_and_the_first_names_a_nameless_piece():
    piece, _ = only_piece(
        loose(outline(RECTANGLE), text("Cut 2", (90, 90)), text("Yoke", (90, 70)), text("top", (90, 50)))
    )
    assert piece.name == "Yoke"
    assert piece.quantity == 2
    assert [label.text for label in piece.labels] == ["Cut 2", "top"]


def test_piece_fields_are_read_without_regard_to_case_and_blanks():
    words = ["PIECE NAME : front", "size:12", "Quantity: 1,1", "material: lining", "Annotation: press open"]
    shapes = [text(said, (50, 250 - 20 * row), layer="1") for row, said in enumerate(words)]
    piece, _ = only_piece(standard(*shapes))
    assert (piece.name, piece.size, piece.quantity, piece.material) == ("front", "12", 2, "lining")
    assert [label.text for label in piece.labels] == ["press open"]


def test_word_fold_on_an_edge_makes_it_the_fold():
    piece, _ = only_piece(loose(outline(RECTANGLE), text("centre front", (0, 150)), text("fold", (0, 75))))
    assert piece.fold == "centre front"


def test_line_across_a_dart_with_joints_at_the_legs_stays_one_line():
    across = [(20, 70), (90, 70), (110, 70), (180, 70)]
    legs = [[(80, 0), (90, 70)], [(90, 70), (100, 140)], [(100, 140), (110, 70)], [(110, 70), (120, 0)]]
    piece, _ = only_piece(loose(outline(RECTANGLE), *segments(across, closed=False), *(path(leg) for leg in legs)))
    assert_waist_dart(piece)
    assert [line.points[[0, -1]].tolist() for line in piece.inner_lines] == [[[20, 70], [180, 70]]]


@pytest.mark.parametrize("pressed", list(Pressed))
@pytest.mark.parametrize("turns", [True, False])
def test_cap_of_a_dart_in_a_cutting_line_is_taken_off(pressed, turns):
    edges = zip(RECTANGLE, [*RECTANGLE[1:], RECTANGLE[0]], strict=True)
    drawn = Piece(
        "front",
        tuple(Edge(f"edge {n}", frozen_points(ends), allowance_mm=15.0) for n, ends in enumerate(edges, start=1)),
        darts=(Dart("dart", "edge 1", 80.0, 120.0, (100.0, 140.0), pressed=pressed),),
    )
    cut = cutting_line(drawn)
    assert len(cut) == 7
    feet = sorted(place for place in cut.tolist() if place[1] == pytest.approx(-15) and 0 < place[0] < 200)
    corners = [point(place, layer="2") for place in cut.tolist()] if turns else []
    drawing = blocks(P=[outline(cut, layer="1"), path([feet[0], (100, 140), feet[1]], layer="8"), *corners])
    found = recognise(drawing, Unit.MM, allowance_mm=15.0)
    piece = found.nest.patterns[0].pieces[0]
    assert "dart-cap" in [finding.code for finding in found.findings]
    assert len(piece.edges) == 4
    assert piece.bounds_mm == pytest.approx(drawn.bounds_mm, abs=1e-6)
    assert piece.area_mm2 == pytest.approx(60_000)
    assert piece.legs_mm(piece.darts[0]) == pytest.approx(drawn.legs_mm(drawn.darts[0]))
    assert piece.intake_mm(piece.darts[0]) == pytest.approx(40.0)
