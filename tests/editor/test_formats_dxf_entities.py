import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import ezdxf
import numpy as np
import pytest
from scipy.interpolate import BSpline

from editor.formats.drawing import Shape, layer_key
from editor.formats.dxf_reader import WITHIN_MM
from tests.editor.formats_files import (
    SQUARE,
    VERSIONS,
    block_tags,
    distance_to_run,
    file_text,
    insert_tags,
    is_read_lean,
    piece_document,
    polyline_tags,
    read_both,
    saved,
    written,
)


def only_path(shapes: tuple[Shape, ...]) -> Shape:
    paths = [shape for shape in shapes if shape.kind == "path"]
    assert len(paths) == 1
    return paths[0]


def drawn(folder: Path, draw: Callable[[Any], object], version: str = "R2010", **options: Any) -> Shape:
    """Read back the one path that ``draw`` puts into the model space."""
    document = ezdxf.new(version, units=0)
    draw(document.modelspace())
    return only_path(read_both(saved(document, folder), unit_mm=1.0, **options).loose)


@pytest.mark.parametrize("fmt", ["asc", "bin"])
@pytest.mark.parametrize("version", VERSIONS)
def test_every_version_in_text_and_binary_gives_the_same_pieces(tmp_path: Path, version: str, fmt: str) -> None:
    drawing = read_both(saved(piece_document(version), tmp_path, fmt=fmt))
    assert [block.name for block in drawing.blocks] == ["FRONT_40", "BACK_40"]
    front = {shape.layer + shape.kind: shape for shape in drawing.blocks[0].shapes}
    assert front["1path"].closed
    assert front["1path"].points.tolist() == [list(point) for point in SQUARE]
    notch = front["4point"]
    assert (notch.z, notch.thickness, notch.angle_deg) == (6.5, 3.25, 90)
    assert front["7path"].points.tolist() == [[50, 20], [50, 180]]
    assert front["1text"].text == "Piece Name: FRONT_40"
    assert (drawing.units_hint, drawing.units_stated) == ("mm", True)
    assert not drawing.unused
    assert not drawing.notes


def test_plain_pattern_files_are_read_lean_and_others_are_not(tmp_path: Path) -> None:
    document = piece_document()
    assert is_read_lean(saved(document, tmp_path))
    document.modelspace().add_circle((0, 0), 5)
    assert not is_read_lean(saved(document, tmp_path))


def test_lean_reading_equals_bare_ezdxf_vertex_by_vertex(tmp_path: Path) -> None:
    rng = np.random.default_rng(5)
    document = piece_document(names=())
    for number in range(5):
        outline = rng.normal(scale=300, size=(200, 2))
        document.blocks.new(f"P{number}").add_polyline2d(outline.tolist(), close=True, dxfattribs={"layer": "1"})
    path = saved(document, tmp_path)
    assert is_read_lean(path)
    truth = ezdxf.readfile(path)
    for block in read_both(path).blocks:
        polyline = truth.blocks.get(block.name)[0]
        assert block.shapes[0].points.tolist() == [list(v.dxf.location.xyz[:2]) for v in polyline.vertices]


def test_points_of_shapes_cannot_be_written_to(tmp_path: Path) -> None:
    drawing = read_both(saved(piece_document(), tmp_path))
    with pytest.raises(ValueError, match="read-only"):
        drawing.blocks[0].shapes[1].points[0, 0] = 1


@pytest.mark.parametrize(
    ("written_as", "key"),
    [("01", "1"), ("1.0", "1"), (" 14 ", "14"), ("LAYER1", "1"), ("Layer_08", "8"), ("SEW", "SEW")],
)
def test_layer_numbers_are_read_in_their_usual_spellings(written_as: str, key: str) -> None:
    assert layer_key(written_as) == key


# ---- curves ----


def test_circle_becomes_a_closed_path_on_the_circle(tmp_path: Path) -> None:
    shape = drawn(tmp_path, lambda space: space.add_circle((10, 20), 150), "R12")
    assert shape.closed
    assert np.hypot(*(shape.points - (10, 20)).T) == pytest.approx(np.full(len(shape.points), 150))
    x, y = shape.points.T
    area = (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
    assert area == pytest.approx(math.pi * 150**2, rel=WITHIN_MM / 100)


def test_arc_runs_counter_clockwise_across_zero_degrees(tmp_path: Path) -> None:
    shape = drawn(tmp_path, lambda space: space.add_arc((0, 0), 100, 350, 20), "R12")
    angles_deg = np.degrees(np.arctan2(shape.points[:, 1], shape.points[:, 0]))
    assert angles_deg[[0, -1]] == pytest.approx([-10, 20])
    assert (np.diff(angles_deg) > 0).all()
    assert not shape.closed


@pytest.mark.parametrize("entity", ["LWPOLYLINE", "POLYLINE"])
def test_bulges_are_drawn_on_the_closing_segment_too(tmp_path: Path, entity: str) -> None:
    """A square of side 100 with a half circle outside every side: 100^2 + 4 (pi 50^2 / 2)."""
    points = [(0, 0, 1), (100, 0, 1), (100, 100, 1), (0, 100, 1)]

    def draw(space: Any) -> None:
        if entity == "LWPOLYLINE":
            space.add_lwpolyline(points, format="xyb", close=True)
        else:
            space.add_polyline2d(points, format="xyb", close=True)

    shape = drawn(tmp_path, draw)
    x, y = shape.points.T
    area = (x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2
    assert shape.entity == entity
    assert area == pytest.approx(100**2 + 2 * math.pi * 50**2, rel=1e-3)
    assert shape.points.min(axis=0) == pytest.approx([-50, -50], abs=WITHIN_MM)


def test_part_of_a_turned_ellipse_keeps_its_ends(tmp_path: Path) -> None:
    major, ratio, start, end = np.array([60.0, 80.0]), 0.4, 0.3, 2.5
    shape = drawn(tmp_path, lambda space: space.add_ellipse((7, 9), (*major, 0), ratio, start, end))
    minor = np.array([-major[1], major[0]]) * ratio
    truth = [np.array([7, 9]) + math.cos(t) * major + math.sin(t) * minor for t in (start, end)]
    assert shape.points[[0, -1]] == pytest.approx(np.array(truth))
    assert not shape.closed


def test_whole_ellipse_is_closed(tmp_path: Path) -> None:
    assert drawn(tmp_path, lambda space: space.add_ellipse((0, 0), (50, 0), 0.5)).closed


def test_spline_stays_within_tolerance_of_an_independent_b_spline(tmp_path: Path) -> None:
    control = np.array([[0, 0], [40, 120], [130, -60], [180, 90], [260, 70], [300, 0]], dtype=float)
    knots = np.array([0, 0, 0, 0, 1, 2, 3, 3, 3, 3], dtype=float)
    shape = drawn(tmp_path, lambda space: space.add_open_spline([(*p, 0) for p in control]))
    truth = BSpline(knots, control, 3)(np.linspace(0, 3, 4001))
    assert distance_to_run(truth[::9], shape.points).max() <= WITHIN_MM
    assert distance_to_run(shape.points, truth).max() <= 1e-3
    assert shape.points[[0, -1]] == pytest.approx(control[[0, -1]])


def test_fit_only_spline_passes_through_its_fit_points(tmp_path: Path) -> None:
    fit = [(0, 0, 0), (50, 80, 0), (120, 40, 0), (200, 100, 0)]
    shape = drawn(tmp_path, lambda space: space.add_spline(fit))
    assert distance_to_run([place[:2] for place in fit], shape.points).max() <= WITHIN_MM
    assert shape.points[[0, -1]] == pytest.approx(np.array([[0, 0], [200, 100]]), abs=1e-9)


def test_closed_spline_is_closed_by_its_ends(tmp_path: Path) -> None:
    control = [(0, 0, 0), (100, 0, 0), (100, 100, 0), (0, 100, 0), (0, 0, 0)]
    assert drawn(tmp_path, lambda space: space.add_open_spline(control)).closed


def test_chords_are_finer_in_inches_and_finest_where_the_unit_is_not_known(tmp_path: Path) -> None:
    document = ezdxf.new("R12")
    document.modelspace().add_circle((0, 0), 10)
    path = saved(document, tmp_path)
    counts = [len(read_both(path, unit_mm=unit).loose[0].points) for unit in (1.0, 25.4, None)]
    assert counts[0] < counts[1] == counts[2]


# ---- text ----


def test_lines_of_a_long_text_become_texts_of_their_own(tmp_path: Path) -> None:
    document = piece_document("R2018")
    document.modelspace().add_mtext("{\\fArial|b0;Style Name: Choir}\\PUnits: ENGLISH")
    drawing = read_both(saved(document, tmp_path))
    texts = [shape.text for shape in drawing.loose if shape.entity == "MTEXT"]
    assert texts == ["Style Name: Choir", "Units: ENGLISH"]
    assert drawing.units_hint is None
    assert any("different units" in note for note in drawing.notes)


def test_aligned_text_stands_at_its_alignment_point(tmp_path: Path) -> None:
    document = piece_document()
    middle = document.modelspace().add_text("# 7")
    middle.set_placement((30, 40), align=ezdxf.enums.TextEntityAlignment.MIDDLE_CENTER)
    (text,) = (shape for shape in read_both(saved(document, tmp_path)).loose if shape.text == "# 7")
    assert text.points.tolist() == [[30, 40]]


def test_text_escapes_are_letters(tmp_path: Path) -> None:
    text = [(0, "TEXT"), (8, 1), (10, 0), (20, 0), (40, 5), (1, r"Piece Name: R\U+00FCckseite 45%%d")]
    path = written(tmp_path, file_text(block_tags("A", *polyline_tags(), *text), insert_tags("A")))
    assert read_both(path).blocks[0].shapes[1].text == "Piece Name: Rückseite 45°"


# ---- placing ----


def placed(folder: Path, **attributes: Any) -> tuple[Shape, ...]:
    document = ezdxf.new("R2000", units=0)
    block = document.blocks.new("P")
    block.add_lwpolyline([(0, 0), (100, 0, 0, 0, 0.5), (100, 50)], close=True, dxfattribs={"layer": "1"})
    block.add_polyline2d([(0, 0), (100, 0), (100, 50)], close=True, dxfattribs={"layer": "8"})
    block.add_point((100, 0, 6), dxfattribs={"layer": "4", "thickness": 2, "angle": 30})
    block.add_text("here", dxfattribs={"insert": (100, 50), "layer": "15"})
    document.modelspace().add_blockref("P", attributes.pop("insert", (0, 0)), dxfattribs=attributes)
    (result,) = read_both(saved(document, folder)).blocks
    return result.shapes


def test_turned_and_scaled_block_is_placed(tmp_path: Path) -> None:
    shapes = placed(tmp_path, insert=(10, 20), rotation=90, xscale=2, yscale=2)
    assert shapes[1].points == pytest.approx(np.array([[10, 20], [10, 220], [-90, 220]]))
    notch = shapes[2]
    assert notch.points == pytest.approx(np.array([[10, 220]]))
    assert (notch.z, notch.thickness, notch.angle_deg) == pytest.approx((12, 4, 120))
    assert shapes[3].points == pytest.approx(np.array([[-90, 220]]))


@pytest.mark.parametrize("attributes", [{"xscale": -1}, {"extrusion": (0, 0, -1)}])
def test_block_mirrored_by_scale_or_by_extrusion_turns_notches_with_it(tmp_path: Path, attributes: Any) -> None:
    shapes = placed(tmp_path, **attributes)
    assert shapes[1].points == pytest.approx(np.array([[0, 0], [-100, 0], [-100, 50]]))
    notch = shapes[2]
    assert notch.points == pytest.approx(np.array([[-100, 0]]))
    assert (notch.z, notch.thickness, notch.angle_deg) == pytest.approx((6, 2, 150))


def test_bulge_of_a_mirrored_block_bows_to_the_mirrored_side(tmp_path: Path) -> None:
    plain, mirrored = placed(tmp_path)[0], placed(tmp_path, xscale=-1)[0]
    assert mirrored.points == pytest.approx(plain.points * (-1, 1))


def test_unevenly_scaled_bulges_stay_within_tolerance(tmp_path: Path) -> None:
    """Half a circle of radius 50, drawn 40 times as wide: points on the ellipse, chords within the tolerance."""
    document = ezdxf.new("R2000")
    document.blocks.new("P").add_lwpolyline([(0, -50, 1), (0, 50, 0)], format="xyb")
    document.modelspace().add_blockref("P", (0, 0), dxfattribs={"xscale": 40})
    (block,) = read_both(saved(document, tmp_path), unit_mm=1.0).blocks
    turn = np.linspace(-math.pi / 2, math.pi / 2, 3001)
    truth = np.column_stack((2000 * np.cos(turn), 50 * np.sin(turn)))
    assert distance_to_run(truth, block.shapes[0].points).max() <= WITHIN_MM


def test_entities_with_downward_extrusion_are_read_mirrored(tmp_path: Path) -> None:
    shape = drawn(tmp_path, lambda space: space.add_arc((10, 0), 5, 0, 90, dxfattribs={"extrusion": (0, 0, -1)}), "R12")
    assert shape.points[[0, -1]] == pytest.approx(np.array([[-15, 0], [-10, 5]]))


def test_base_point_of_a_block_lands_where_it_is_placed(tmp_path: Path) -> None:
    document = ezdxf.new("R12")
    document.blocks.new("P", base_point=(100, 50)).add_line((100, 50), (200, 50))
    document.modelspace().add_blockref("P", (7, 8))
    (block,) = read_both(saved(document, tmp_path)).blocks
    assert block.shapes[0].points == pytest.approx(np.array([[7, 8], [107, 8]]))


def test_nested_blocks_are_drawn_into_the_outer_one(tmp_path: Path) -> None:
    document = piece_document()
    pocket = document.blocks.new("POCKET")
    pocket.add_line((0, 0), (10, 0), dxfattribs={"layer": "8"})
    document.blocks.get("FRONT_40").add_blockref("POCKET", (20, 30), dxfattribs={"rotation": 90})
    drawing = read_both(saved(document, tmp_path))
    assert [block.name for block in drawing.blocks] == ["FRONT_40", "BACK_40"]
    (line,) = (shape for shape in drawing.blocks[0].shapes if shape.layer == "8")
    assert line.points == pytest.approx(np.array([[20, 30], [20, 40]]))


def test_members_of_a_mere_bundle_are_blocks_of_their_own(tmp_path: Path) -> None:
    document = piece_document()
    bundle = document.blocks.new("STYLE")
    for name in ("FRONT_40", "BACK_40"):
        bundle.add_blockref(name, (0, 5))
    document.modelspace().delete_all_entities()
    document.modelspace().add_blockref("STYLE", (1000, 0))
    drawing = read_both(saved(document, tmp_path))
    assert [block.name for block in drawing.blocks] == ["FRONT_40", "BACK_40"]
    assert drawing.blocks[0].shapes[0].points[0].tolist() == [1000, 5]


def test_block_placed_twice_gives_a_block_for_each_place(tmp_path: Path) -> None:
    document = piece_document(names=("SLEEVE",))
    document.modelspace().add_blockref("SLEEVE", (500, 0), dxfattribs={"xscale": -1})
    drawing = read_both(saved(document, tmp_path))
    assert [block.name for block in drawing.blocks] == ["SLEEVE", "SLEEVE (copy 2)"]
    assert any("placed 2 times" in note for note in drawing.notes)


def test_rows_and_columns_of_one_insert_are_all_placed(tmp_path: Path) -> None:
    document = ezdxf.new("R12")
    document.blocks.new("P").add_line((0, 0), (10, 0))
    grid = {"row_count": 2, "column_count": 3, "row_spacing": 50, "column_spacing": 100}
    document.modelspace().add_blockref("P", (0, 0), dxfattribs=grid)
    starts = {tuple(block.shapes[0].points[0].tolist()) for block in read_both(saved(document, tmp_path)).blocks}
    assert starts == {(x, y) for x in (0, 100, 200) for y in (0, 50)}


def test_block_that_nothing_places_is_still_a_block(tmp_path: Path) -> None:
    path = written(tmp_path, file_text([*block_tags("A", *polyline_tags())], []))
    assert [block.name for block in read_both(path).blocks] == ["A"]


def test_block_that_places_itself_is_drawn_once(tmp_path: Path) -> None:
    path = written(tmp_path, file_text(block_tags("A", *polyline_tags(), *insert_tags("A")), insert_tags("A")))
    drawing = read_both(path)
    assert len(drawing.blocks[0].shapes) == 1
    assert any("'A' places itself" in note for note in drawing.notes)


def test_blocks_nested_too_deep_are_left_out_with_a_note(tmp_path: Path) -> None:
    blocks = [tag for n in range(12) for tag in block_tags(f"B{n}", *polyline_tags(), *insert_tags(f"B{n + 1}"))]
    path = written(tmp_path, file_text([*blocks, *block_tags("B12", *polyline_tags())], insert_tags("B0")))
    drawing = read_both(path)
    assert len(drawing.blocks[0].shapes) == 8
    assert any("deeper than 8" in note for note in drawing.notes)


def test_texts_that_come_with_a_placing_belong_to_the_block(tmp_path: Path) -> None:
    document = piece_document(names=("FRONT",))
    document.modelspace().query("INSERT").first.add_attrib("NOTE", "Quantity: 2", (5, 6))
    (block,) = read_both(saved(document, tmp_path)).blocks
    assert [shape.text for shape in block.shapes if shape.entity == "ATTRIB"] == ["Quantity: 2"]


# ---- what is not used ----


def test_every_entity_not_used_is_counted_by_kind_and_layer(tmp_path: Path) -> None:
    document = piece_document("R2010")
    space = document.modelspace()
    for _ in range(3):
        space.add_hatch(dxfattribs={"layer": "09"}).paths.add_polyline_path(SQUARE)
    space.add_xline((0, 0), (1, 0), dxfattribs={"layer": "X"})
    document.blocks.get("FRONT_40").add_attdef("TAG", (0, 0), dxfattribs={"layer": "15"})
    document.paperspace().add_line((0, 0), (1, 1), dxfattribs={"layer": "2"})
    unused = read_both(saved(document, tmp_path)).unused
    assert set(unused) >= {("HATCH", "9", 3), ("XLINE", "X", 1), ("ATTDEF", "15", 1), ("LINE", "2", 1)}


def test_polyline_of_one_point_is_counted_as_unused_by_both_readers(tmp_path: Path) -> None:
    blocks = block_tags("A", *polyline_tags(), *polyline_tags(points=[(1, 1)], layer="8"))
    assert read_both(written(tmp_path, file_text(blocks, insert_tags("A")))).unused == (("POLYLINE", "8", 1),)


def test_insert_of_an_unknown_block_is_counted_as_unused(tmp_path: Path) -> None:
    text = file_text(block_tags("A", *polyline_tags()), [*insert_tags("A"), *insert_tags("MISSING")])
    assert read_both(written(tmp_path, text)).unused == (("INSERT", "1", 1),)


# ---- units ----


@pytest.mark.parametrize(
    ("header", "hint"),
    [({"$INSUNITS": 1}, "in"), ({"$INSUNITS": 5}, "cm"), ({"$INSUNITS": 0, "$MEASUREMENT": 1}, "mm")],
)
def test_header_variables_only_hint_at_the_unit(tmp_path: Path, header: dict[str, int], hint: str) -> None:
    document = ezdxf.new("R2000")
    document.modelspace().add_line((0, 0), (1, 1))
    for name, value in header.items():
        document.header[name] = value
    drawing = read_both(saved(document, tmp_path))
    assert (drawing.units_hint, drawing.units_stated) == (hint, False)


def test_file_without_any_word_on_units_gives_no_hint(tmp_path: Path) -> None:
    drawing = read_both(written(tmp_path, file_text(block_tags("A", *polyline_tags()), insert_tags("A"))))
    assert (drawing.units_hint, drawing.units_source) == (None, "")
