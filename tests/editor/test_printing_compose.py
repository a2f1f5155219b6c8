from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon

from editor.printing.compose import piece_picture
from editor.printing.label_room import find_room, lettered, readable_deg
from editor.printing.lettering import NO_BREAK
from editor.printing.picture import LINE_STYLES, Anchor, Box, LineKind, PiecePicture, Stroke
from editor.printing.piece_label import Ticket, allowance_words, quantity_words
from geometry.affine import Affine, frozen_points
from geometry.model.edge import EdgeRole
from geometry.model.marks import Mark, MarkKind, NotchKind
from geometry.units import Unit
from tests.editor.printed_pieces import PANEL_ALLOWANCE_MM, PANEL_MM, TICKET, bodice, panel, sleeve

NO_JOINS = np.empty((0, 2))


def strokes_of(picture: PiecePicture, kind: LineKind) -> list[Stroke]:
    return [stroke for stroke in picture.drawing.strokes if stroke.kind is kind]


def length(stroke: Stroke) -> float:
    return LineString(stroke.path).length


def test_a_panel_has_its_cutting_line_an_allowance_outside_its_stitching_line():
    picture = piece_picture(panel(), TICKET)
    (cutting,) = strokes_of(picture, LineKind.CUTTING)
    a, (w, h) = PANEL_ALLOWANCE_MM, PANEL_MM
    assert cutting.closed
    assert cutting.box == Box(-a, -a, w + a, h + a)
    assert [length(s) for s in strokes_of(picture, LineKind.STITCHING)] == pytest.approx([w, h, w, h])
    assert picture.box == cutting.box


def test_the_fold_is_never_a_cutting_line_and_the_two_make_the_whole_ring():
    picture = piece_picture(bodice(), TICKET)
    (fold,) = strokes_of(picture, LineKind.FOLD)
    (cutting,) = strokes_of(picture, LineKind.CUTTING)
    assert np.abs(fold.points[:, 0]).max() == pytest.approx(0.0, abs=1e-6)
    assert not cutting.closed
    assert length(fold) + length(cutting) == pytest.approx(Polygon(picture.outline).length)
    assert LineString(cutting.points).intersection(LineString([(0, 1), (0, 330)])).length == pytest.approx(0.0)
    assert "place on fold" in [label.text for label in picture.drawing.labels]


def test_an_allowance_on_a_fold_edge_is_left_off():
    piece = bodice()
    edges = tuple(replace(edge, allowance_mm=15.0) if edge.id == piece.fold else edge for edge in piece.edges)
    picture = piece_picture(replace(piece, edges=edges), TICKET)
    assert picture.box.x0 == pytest.approx(0.0, abs=1e-6)
    assert len(strokes_of(picture, LineKind.FOLD)) == 1


def test_a_dart_has_two_legs_a_middle_and_no_stitching_across_its_mouth():
    piece = bodice()
    picture = piece_picture(piece, TICKET)
    legs = strokes_of(picture, LineKind.DART_LEG)
    assert len(legs) == len(strokes_of(picture, LineKind.DART_CENTRE)) == 2
    assert [length(leg) for leg in legs] == pytest.approx([sum(piece.legs_mm(dart)) for dart in piece.darts])
    stitched = sum(length(stroke) for stroke in strokes_of(picture, LineKind.STITCHING))
    assert stitched == pytest.approx(sum(piece.sewn_length_mm(edge.id) for edge in piece.edges if edge.allowance_mm))


def test_notches_start_on_the_cutting_line_and_stay_in_the_allowance():
    picture = piece_picture(bodice(), TICKET)
    ring, stitching = Polygon(picture.outline).exterior, Polygon(bodice().outline)
    notches = strokes_of(picture, LineKind.NOTCH)
    assert notches
    for notch in notches:
        assert not LineString(notch.points).within(stitching.buffer(-0.1))
        assert ring.distance(LineString(notch.points)) < 6.0 + 1e-6
    slit = min(notches, key=lambda s: LineString(s.points).distance(Point(bodice().notch_point(bodice().notches[0]))))
    assert ring.distance(Point(slit.points[0])) == pytest.approx(0.0, abs=1e-6)
    assert length(slit) == pytest.approx(6.0)


@pytest.mark.parametrize("kind", list(NotchKind))
def test_every_shape_of_notch_is_drawn_between_cutting_and_stitching_line(kind: NotchKind):
    piece = panel()
    mark = replace(bodice().notches[0], edge="side", at_mm=300.0, kind=kind, depth_mm=40.0)
    picture = piece_picture(replace(piece, notches=(mark,)), TICKET)
    points = np.vstack([stroke.points for stroke in strokes_of(picture, LineKind.NOTCH)])
    assert points[:, 0].max() == pytest.approx(415.0)
    assert points[:, 0].min() == pytest.approx(400.0)
    assert np.abs(points[:, 1] - 300.0).max() <= 2.0 + 1e-9


def test_a_notch_without_allowance_is_cut_in_no_deeper_than_is_usual():
    piece = panel()
    edges = tuple(replace(edge, allowance_mm=0.0) for edge in piece.edges)
    mark = replace(bodice().notches[0], edge="side", at_mm=300.0)
    picture = piece_picture(replace(piece, edges=edges, notches=(mark,)), TICKET)
    (notch,) = strokes_of(picture, LineKind.NOTCH)
    assert notch.points.tolist() == [[400.0, 300.0], [397.0, 300.0]]  # 2 to 3 mm: common practice, no source
    assert not strokes_of(picture, LineKind.STITCHING)


def test_grain_has_an_arrow_head_at_both_ends_and_lies_where_the_piece_has_it():
    picture = piece_picture(panel(), TICKET)
    (grain,) = strokes_of(picture, LineKind.GRAIN)
    heads = strokes_of(picture, LineKind.ARROW_HEAD)
    assert grain.points.tolist() == [[60.0, 100.0], [60.0, 500.0]]
    assert {tuple(head.points[0]) for head in heads} == {(60.0, 100.0), (60.0, 500.0)}


def test_inner_lines_alteration_lines_and_marks_are_drawn_and_a_landmark_is_named():
    chalk = frozen_points([(90, 0), (90, 190), (165, 300)])
    picture = piece_picture(bodice(), TICKET, chalk=(chalk,))
    assert strokes_of(picture, LineKind.ALTERATION)[0].points is chalk
    assert len(strokes_of(picture, LineKind.DRILL)) == 6
    assert "bust point" in [label.text for label in picture.drawing.labels]
    assert strokes_of(piece_picture(panel(), TICKET), LineKind.INNER)[0].points.tolist() == [[0, 300], [400, 300]]


def test_words_tell_piece_size_wearer_round_quantity_date_cloth_and_allowance():
    placed = lettered(piece_picture(bodice(), TICKET), NO_JOINS)
    words = " ".join(label.text for label in placed.drawing.labels)
    for fact in (
        "Front bodice",
        "size 14",
        "Odile",
        "round 2",
        "cut 1 on fold",
        "4 May 2026",
        "crêpe",
        "15 mm included",
    ):
        assert fact in words


def plain(words: str) -> str:
    return words.replace(NO_BREAK, " ")


def test_quantity_and_allowances_in_words():
    assert quantity_words(sleeve()) == "cut 2"
    assert quantity_words(bodice()) == "cut 1 on fold"
    assert plain(allowance_words(sleeve(), Unit.MM)) == "allowance 15 mm included, hem 40 mm"
    assert plain(allowance_words(sleeve(), Unit.INCH)) == 'allowance ~9/16" included, hem ~1 9/16"'
    bare = replace(panel(), edges=tuple(replace(edge, allowance_mm=0.0) for edge in panel().edges))
    assert allowance_words(bare, Unit.MM) == "no allowance: add it when you cut"
    only_hem = tuple(replace(e, allowance_mm=30.0) if e.role is EdgeRole.HEM else e for e in bare.edges)
    assert plain(allowance_words(replace(bare, edges=only_hem), Unit.MM)) == "no allowance but hem 30 mm"


@pytest.mark.parametrize("turn_deg", [0.0, -90.0, 37.0])
@pytest.mark.parametrize("piece", [panel(), bodice(), sleeve()], ids=lambda piece: piece.name)
def test_words_hide_no_line_and_stay_inside(piece, turn_deg: float):
    picture = piece_picture(piece, TICKET).carried(Affine.turned(np.radians(turn_deg)))
    placed = lettered(picture, NO_JOINS)
    added = placed.drawing.labels[len(picture.drawing.labels) :]
    assert added
    for label in added:
        start, end, rise = _extent(label)
        words = Polygon([start, end, np.add(end, rise), np.add(start, rise)])
        assert words.within(Polygon(placed.outline))
        for stroke in picture.drawing.strokes:
            assert not words.intersects(LineString(stroke.path)), (label.text, stroke.kind)


def _extent(label):
    from editor.printing.lettering import CAPITAL, face

    half = face(label.bold).width_mm(label.text, label.height_mm) / 2
    turn = np.radians(label.angle_deg)
    along, up = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
    return label.at - half * along, label.at + half * along, up * label.height_mm * CAPITAL


def test_words_keep_off_the_lines_where_sheets_join_if_there_is_room():
    picture = piece_picture(panel(), TICKET)
    join = np.column_stack([np.full(200, 200.0), np.linspace(0, 600, 200)])
    free = lettered(picture, NO_JOINS)
    kept_off = lettered(picture, join)
    assert any(_crosses(label, 200.0) for label in free.drawing.labels)
    assert not any(_crosses(label, 200.0) for label in kept_off.drawing.labels)


def _crosses(label, x: float) -> bool:
    start, end, _ = _extent(label)
    return min(start[0], end[0]) < x < max(start[0], end[0])


def test_room_is_found_in_a_strip_that_only_just_holds_the_words():
    strip = np.array([(0.0, 0.0), (300.0, 0.0), (300.0, 24.0), (0.0, 24.0)])
    edge = np.array([LineString([*strip, strip[0]]).interpolate(s).coords[0] for s in range(0, 648, 2)])
    room = find_room(strip, edge, 100.0, 18.0, (0.0, 90.0))
    assert room.angle_deg == 0.0
    assert room.clear_mm == pytest.approx(3.0, abs=0.5)
    assert room.middle[1] == pytest.approx(12.0, abs=0.6)


@pytest.mark.parametrize(
    ("angle", "readable"), [(0, 0), (90, 90), (-90, 90), (180, 0), (270, 90), (135, -45), (-30, -30)]
)
def test_words_along_a_line_never_stand_on_their_head(angle: float, readable: float):
    assert readable_deg(angle) == pytest.approx(readable)


def test_lines_a_person_cuts_or_sews_along_differ_without_colour():
    sewn = [
        LineKind.CUTTING, LineKind.STITCHING, LineKind.FOLD, LineKind.DART_LEG, LineKind.DART_CENTRE, LineKind.INNER,
        LineKind.ALTERATION,
    ]  # fmt: skip
    dashes = {LINE_STYLES[kind].dash_mm for kind in sewn}
    assert len(dashes) == len(sewn)
    assert all(LINE_STYLES[kind].grey == 0 for kind in sewn)
    assert set(LINE_STYLES) == set(LineKind)


def test_unknown_facts_are_left_out():
    placed = lettered(piece_picture(panel(), Ticket()), NO_JOINS)
    assert [label.text for label in placed.drawing.labels] == ["Panel", "size 14", "cut 2", "allowance 15 mm included"]


def test_the_name_of_a_landmark_at_the_edge_stays_on_the_piece():
    piece = replace(panel(), marks=(Mark("hip level", (398.0, 400.0), MarkKind.LANDMARK),))
    (name,) = piece_picture(piece, TICKET).drawing.labels
    assert name.text == "hip level"
    assert name.at[0] < 398.0
    assert name.anchor is Anchor.END
