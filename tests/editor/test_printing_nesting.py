"""True shapes laid on sheets: apart, inside, and on fewer sheets than their rectangles need."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.geometry import box as rectangle_of

from editor.printing import packing
from editor.printing.job import Orientation, PrintJob, SheetPlan
from editor.printing.paper import PAPERS, paper_named
from editor.printing.picture import Drawing, LineKind, PiecePicture, Stroke
from editor.printing.planning import plan
from editor.printing.raster import Cell, shape_of, turn
from editor.printing.rectangles import Turning
from editor.printing.tiles import piece_tiles
from tests.editor.printed_pieces import oval, rectangle, small_pictures


@pytest.fixture(autouse=True)
def _short_search(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packing, "_PLACINGS", 80)


def look_on(_: int) -> bool:
    return True


def wedge(name: str, wide: float, high: float) -> PiecePicture:
    ring = np.array([(0.0, 0.0), (wide, 0.0), (0.0, high)])
    return PiecePicture(name, Drawing((Stroke(ring, LineKind.CUTTING, closed=True),)), ring, "cut 1")


WEDGES = [wedge(f"wedge {index}", 180.0, 260.0) for index in range(4)]


def apart_mm(made: SheetPlan) -> float:
    shapes = [Polygon(piece.outline) for piece in made.pieces]
    return min(one.distance(other) for one, other in itertools.combinations(shapes, 2))


def test_two_wedges_share_a_sheet_that_their_rectangles_cannot_share() -> None:
    job = PrintJob(orientation=Orientation.PORTRAIT)
    boxes, shapes = plan(WEDGES, job), plan(WEDGES, job, go_on=look_on)
    assert len(boxes.tiles) == 4
    assert len(shapes.tiles) < 4
    assert apart_mm(shapes) >= job.gap_mm - 1e-6


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_search_never_needs_more_sheets_and_keeps_pieces_apart(paper: str) -> None:
    pictures = [oval("a", 280, 480), oval("b", 270, 470), *small_pictures()]
    job = PrintJob(PAPERS[paper], overlap_mm=10.0)
    quick, searched = plan(pictures, job), plan(pictures, job, go_on=look_on)
    assert searched.least_sheets <= len(searched.tiles) <= len(quick.tiles)
    assert apart_mm(searched) >= job.gap_mm - 1e-6
    assert 0.0 < searched.fill <= 1.0


def test_the_same_search_finds_the_same() -> None:
    first, second = (plan(WEDGES, PrintJob(), go_on=look_on) for _ in range(2))
    assert first.layout.motions == second.layout.motions


def test_a_search_that_is_stopped_still_gives_a_plan_and_hears_of_the_sheets() -> None:
    heard: list[int] = []
    made = plan(WEDGES, PrintJob(), go_on=lambda sheets: heard.append(sheets) or False)
    assert made.tiles
    assert 0 < len(heard) <= 2  # once for each way the sheets may lie


def test_grain_stays_upright_in_a_search_that_must_keep_it() -> None:
    made = plan(WEDGES, PrintJob(turning=Turning.KEEP_GRAIN), go_on=look_on)
    assert {(m.a, m.b, m.c, m.d) for m in made.layout.motions} == {(1.0, 0.0, 0.0, 1.0)}
    either = plan(WEDGES, PrintJob(turning=Turning.HALF), go_on=look_on)
    assert {abs(m.a) for m in either.layout.motions} == {1.0}


def test_finer_turns_are_turns_by_their_step() -> None:
    assert Turning.EIGHTHS.turns_deg[1] == 45.0
    made = plan(WEDGES[:2], PrintJob(turning=Turning.EIGHTHS), go_on=look_on)
    assert all(np.degrees(m.angle_rad) % 45.0 == pytest.approx(0.0, abs=1e-6) for m in made.layout.motions)


@settings(max_examples=20)
@given(st.sampled_from([0.0, 90.0, 180.0, 270.0, 45.0, 15.0]), st.floats(20, 200), st.floats(20, 200))
def test_every_cell_that_a_piece_touches_is_covered(turn_deg: float, wide: float, high: float) -> None:
    cell, picture = Cell(5.0, 5.04), oval("oval", wide, high, points=60)
    shape = shape_of(picture, turn_deg, cell, 5.0)
    outline = Polygon(turn(turn_deg).points(picture.outline))
    left, top = shape.corner
    rows, columns = shape.body.shape
    covered = sum(
        rectangle_of(left + c * 5.0, top - (r + 1) * 5.04, left + (c + 1) * 5.0, top - r * 5.04)
        .intersection(outline)
        .area
        for r, c in np.argwhere(shape.body)
    )
    assert covered == pytest.approx(outline.area, rel=1e-6)
    assert columns <= np.ptp(np.array(outline.exterior.coords)[:, 0]) / 5.0 + 1
    assert rows <= np.ptp(np.array(outline.exterior.coords)[:, 1]) / 5.04 + 1


def test_pieces_of_a_group_lie_on_sheets_of_their_own() -> None:
    pictures = [replace(each, group="ab"[index % 2]) for index, each in enumerate(small_pictures())]
    made = plan(pictures, PrintJob(overlap_mm=10.0))
    sheets = {group: set() for group in "ab"}
    for piece in made.pieces:
        sheets[piece.group] |= set(piece_tiles(made.grid, piece))
    assert not sheets["a"] & sheets["b"]


def test_a_roll_is_cut_to_the_length_of_the_pieces_and_carries_page_one() -> None:
    job = PrintJob(paper_named("roll 914"), turning=Turning.KEEP_GRAIN)
    made = plan([oval("a", 280, 480), oval("b", 270, 470)], job)
    (page,) = made.pages
    assert made.page.width_mm == 914.0
    assert 480.0 <= made.page.height_mm < 560.0
    squares = [s.box for s in page.furniture.strokes if s.kind is LineKind.TEST_SQUARE]
    placed = [piece.box.moved(*page.shift_mm) for piece in made.pieces]
    assert len(squares) == 3
    assert not any(square.touches(piece) for square in squares for piece in placed)
    assert all(made.page.usable.touches(piece) for piece in placed)


def test_a_full_roll_gets_page_one_before_the_pieces() -> None:
    made = plan([rectangle("curtain", 880.0, 1500.0)], PrintJob(paper_named("roll 914")))
    assert len(made.pages) == 1
    assert 1500.0 + 260.0 < made.page.height_mm < 1500.0 + 330.0


def test_a_roll_longer_than_a_page_may_be_is_cut_in_several() -> None:
    made = plan([rectangle("banner", 800.0, 9000.0)], PrintJob(paper_named("roll 914")))
    assert len(made.tiles) == 2
    assert made.page.height_mm == 5000.0


def test_the_pattern_can_be_pushed_over_the_sheets() -> None:
    still, pushed = (plan(small_pictures(), PrintJob(nudge_mm=nudge)) for nudge in ((0.0, 0.0), (7.0, -3.0)))
    for one, other in zip(still.layout.placed(small_pictures()), pushed.layout.placed(small_pictures()), strict=True):
        on_sheet = (other.box.x0 - pushed.grid.left, other.box.y0 - pushed.grid.top)
        assert on_sheet == pytest.approx((one.box.x0 - still.grid.left + 7.0, one.box.y0 - still.grid.top - 3.0))


def test_darts_and_notches_on_a_join_are_told_and_no_others() -> None:
    made = plan(small_pictures(), PrintJob(overlap_mm=10.0))
    told = {(finding.piece, finding.text) for finding in made.findings}
    across = set()
    for tile in made.tiles:
        area, (step_x, step_y) = made.grid.area(tile), made.page.step_mm
        sides = {
            type(tile)(tile.row, tile.column - 1): LineString([(area.x0, area.y1 - step_y), (area.x0, area.y1)]),
            type(tile)(tile.row - 1, tile.column): LineString([(area.x0, area.y1), (area.x0 + step_x, area.y1)]),
        }
        for other, side in sides.items():
            across |= {
                (piece.name, spot.words)
                for piece in made.pieces
                for spot in piece.spots
                if other in made.tiles and LineString(spot.points).distance(side) < 1.9
            }
    assert len(told) >= len(across) > 0
    for piece, words in across:
        assert any(name == piece and words[4:] in text for name, text in told)
    assert {finding.code for finding in made.findings} == {"on-page-join"}
