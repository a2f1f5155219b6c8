import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import Polygon, box

from editor.printing.paper import PAPERS, PageFormat
from editor.printing.picture import PiecePicture
from editor.printing.tiles import Tile, TileGrid, fewest_tiles, piece_tiles, row_letters
from geometry.affine import Affine
from tests.editor.printed_pieces import oval, rectangle


def test_rows_run_from_a_to_z_and_on_with_two_letters():
    assert [row_letters(row) for row in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        "A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip
    assert Tile(26, 0).label == "AA1"
    assert Tile(1, 11).label == "B12"


@pytest.mark.parametrize(
    ("paper", "margin_mm", "overlap_mm", "size_mm", "sheets"),
    [
        # Own arithmetic: 190 x 277 mm of A4 can be printed, 190.5 x 254 mm of Letter; along a side of length L it takes
        # 1 + ceil((L - usable) / (usable - overlap)) sheets, and the sheet may lie either way.
        ("a4", 10.0, 0.0, (600.0, 1000.0), 16),
        ("a4", 10.0, 0.0, (1000.0, 1100.0), 24),
        ("a4", 10.0, 10.0, (1000.0, 1100.0), 28),
        ("letter", 12.7, 10.0, (600.0, 1000.0), 18),
        ("letter", 12.7, 10.0, (1000.0, 1100.0), 30),
    ],
)
def test_a_rectangle_takes_the_sheets_that_arithmetic_gives(
    paper: str, margin_mm: float, overlap_mm: float, size_mm: tuple[float, float], sheets: int
):
    formats = [PageFormat(PAPERS[paper], lie, margin_mm, overlap_mm) for lie in (False, True)]
    assert min(fewest_tiles(*size_mm, page) for page in formats) == sheets


@st.composite
def grids(draw: st.DrawFn) -> TileGrid:
    page = PageFormat(
        PAPERS[draw(st.sampled_from(["a4", "letter"]))], draw(st.booleans()), 10.0, draw(st.floats(0.0, 60.0))
    )
    return TileGrid(page, draw(st.floats(-300, 300)), draw(st.floats(-300, 300)))


@given(grids(), st.floats(0, 2000), st.floats(0, 2000))
def test_every_point_belongs_to_one_sheet_which_shows_it(grid: TileGrid, right_mm: float, down_mm: float):
    point = np.array([(grid.left + right_mm, grid.top - down_mm)])
    rows, columns = grid.rows_columns(point)
    area = grid.area(Tile(int(rows[0]), int(columns[0])))
    x, y = point[0]
    assert area.x0 - 1e-6 <= x <= area.x1 + 1e-6
    assert area.y0 - 1e-6 <= y <= area.y1 + 1e-6


@given(grids(), st.floats(40, 900), st.floats(40, 900), st.floats(0, 300), st.floats(0, 300))
def test_sheets_of_a_piece_are_those_its_area_reaches_into(grid: TileGrid, w: float, h: float, dx: float, dy: float):
    picture = oval("oval", w, h, points=80)
    placed = picture.carried(Affine.moved(grid.left + dx - picture.box.x0, grid.top - dy - picture.box.y1))
    shape = Polygon(placed.outline)
    found = set(piece_tiles(grid, placed))
    for tile in grid.tiles_under(placed.box):
        owned = grid.owned(tile)
        shared = shape.intersection(box(owned.x0, owned.y0, owned.x1, owned.y1)).area
        if shared > 1e-3:
            assert tile in found
        if shape.distance(box(owned.x0, owned.y0, owned.x1, owned.y1)) > 1e-6:
            assert tile not in found


def test_a_blank_sheet_inside_a_piece_is_printed_and_an_empty_corner_is_not():
    page = PageFormat(PAPERS["a4"])
    inside = rectangle("square", 3 * 190.0, 3 * 277.0)
    grid = TileGrid(page, 0.0, inside.box.y1)
    assert Tile(1, 1) in piece_tiles(grid, inside)
    turned = oval("oval", 3 * 190.0, 3 * 277.0)
    placed = turned.carried(Affine.moved(-turned.box.x0, -turned.box.y0))
    assert len(piece_tiles(grid, placed)) == 9
    slim = PiecePicture("slip", inside.drawing.__class__(), np.array([(0.0, 0.0), (500.0, 800.0), (0.0, 10.0)]))
    assert Tile(0, 0) not in piece_tiles(grid, slim)
    assert Tile(0, 2) in piece_tiles(grid, slim)


def test_a_piece_exactly_as_large_as_the_printed_part_takes_one_sheet():
    page = PageFormat(PAPERS["a4"], overlap_mm=10)
    exact = rectangle("exact", 190.0, 277.0)
    assert piece_tiles(TileGrid(page, 0.0, 277.0), exact) == (Tile(0, 0),)
