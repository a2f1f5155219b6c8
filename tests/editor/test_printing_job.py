import itertools
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon, box

from editor.printing import wording
from editor.printing.choosing import Subject, pictures_of
from editor.printing.cover import TEST_SQUARE_INCHES, TEST_SQUARE_MM
from editor.printing.ink import ink_points
from editor.printing.job import Orientation, PrintJob, SheetPlan
from editor.printing.packing import lay_out
from editor.printing.paper import PAPERS, PageFormat
from editor.printing.picture import Box, Drawing, Label, LineKind, PiecePicture, box_round
from editor.printing.planning import plan
from editor.printing.rectangles import Turning
from editor.printing.sheet_marks import RING_MM
from editor.printing.tiles import Tile, fewest_tiles
from geometry.errors import PatternError
from geometry.model.pattern import Pattern
from samples import draft_dress
from tests.editor.printed_pieces import TICKET, oval, panel, rectangle, small_pictures

OVALS = [oval("a", 280, 480), oval("b", 270, 470), oval("c", 400, 610), oval("d", 300, 700), oval("e", 130, 60)]


def boxes(made: SheetPlan) -> list[Box]:
    return [piece.box for piece in made.pieces]


@pytest.mark.parametrize("overlap_mm", [0.0, 12.0])
@pytest.mark.parametrize("paper", ["a4", "letter", "a3", "tabloid"])
def test_pieces_keep_their_distance_and_few_sheets_are_used(paper: str, overlap_mm: float):
    made = plan(OVALS, PrintJob(PAPERS[paper], overlap_mm=overlap_mm, gap_mm=5.0))
    for one, other in itertools.combinations(boxes(made), 2):
        gap = box(one.x0, one.y0, one.x1, one.y1).distance(box(other.x0, other.y0, other.x1, other.y1))
        assert gap >= 5.0 - 1e-6
    singly = sum(
        min(
            fewest_tiles(*size, page)
            for page in made.job.formats
            for size in itertools.permutations((piece.box.width_mm, piece.box.height_mm))
        )
        for piece in OVALS
    )
    area = made.page.usable.width_mm * made.page.usable.height_mm
    assert sum(Polygon(piece.outline).area for piece in OVALS) / area <= len(made.tiles) < singly


def test_the_same_pieces_are_always_laid_out_alike():
    first, second = (plan(OVALS, PrintJob()) for _ in range(2))
    assert boxes(first) == boxes(second)
    assert first.tiles == second.tiles


def test_a_piece_that_fits_a_sheet_takes_one_sheet_and_stays_off_its_border():
    made = plan([rectangle("collar", 150.0, 80.0)], PrintJob())
    (tile,) = made.tiles
    area, piece = made.grid.area(tile), made.pieces[0].box
    assert min(piece.x0 - area.x0, piece.y0 - area.y0, area.x1 - piece.x1, area.y1 - piece.y1) > 10.0


def test_grain_is_kept_upright_if_asked_for():
    page = PageFormat(PAPERS["a4"])
    pictures = [rectangle("belt", 800.0, 60.0), rectangle("panel", 150.0, 500.0)]
    kept = lay_out(pictures, page, turning=Turning.KEEP_GRAIN, gap_mm=5.0)
    assert all((motion.a, motion.b, motion.c, motion.d) == (1.0, 0.0, 0.0, 1.0) for motion in kept.motions)


def test_turned_pieces_are_neither_stretched_nor_mirrored():
    made = plan([rectangle("belt", 270.0, 100.0)], PrintJob(orientation=Orientation.PORTRAIT))
    (piece,) = made.pieces
    assert len(made.tiles) == 1
    assert (piece.box.width_mm, piece.box.height_mm) == pytest.approx((100.0, 270.0))
    ring = piece.outline
    assert Polygon(ring).exterior.is_ccw
    assert np.hypot(*(ring[1] - ring[0])) == pytest.approx(270.0)


def test_a_piece_wider_than_any_sheet_runs_over_several():
    made = plan([rectangle("circle skirt", 1100.0, 900.0)], PrintJob(overlap_mm=10))
    best = min(fewest_tiles(*size, page) for page in made.job.formats for size in ((1100.0, 900.0), (900.0, 1100.0)))
    assert len(made.tiles) == best


def test_auto_takes_the_way_of_the_sheet_with_fewer_pages():
    counts = {way: len(plan(OVALS, PrintJob(orientation=way)).tiles) for way in Orientation}
    assert counts[Orientation.AUTO] == min(counts.values())


def test_empty_sheets_are_left_out():
    made = plan([oval("disc", 900.0, 900.0)], PrintJob())
    rows, columns = max(t.row for t in made.tiles) + 1, max(t.column for t in made.tiles) + 1
    assert len(made.tiles) < rows * columns
    shape = Polygon(made.pieces[0].outline)
    for tile in made.tiles:
        area = made.grid.area(tile)
        assert shape.intersects(box(area.x0, area.y0, area.x1, area.y1))


def test_pages_run_row_by_row_and_are_numbered():
    made = plan(OVALS, PrintJob())
    assert [page.number for page in made.pages] == list(range(1, len(made.pages) + 1))
    assert list(made.tiles) == sorted(made.tiles)
    assert made.pages[0].tile is None


@pytest.mark.parametrize(
    ("pictures", "job", "code", "words"),
    [
        ([], PrintJob(), "nothing-to-print", "import a pattern"),
        (OVALS, PrintJob(margin_mm=120), "margin", "0 to 25 mm"),
        (OVALS, PrintJob(overlap_mm=250), "overlap", "0 to 95 mm"),
        ([rectangle("flag", 20_000, 20_000)], PrintJob(), "giant-piece", '"flag".*check the units'),
    ],
)
def test_what_cannot_be_printed_is_refused_in_one_sentence(pictures, job: PrintJob, code: str, words: str):
    with pytest.raises(PatternError, match=words) as caught:
        plan(pictures, job)
    assert caught.value.code == code


MARKED = [plan(OVALS, PrintJob(PAPERS[paper], overlap_mm=mm)) for paper, mm in (("a4", 0.0), ("letter", 10.0))]


def on_joined_drawing(made: SheetPlan, tile: Tile, kind: LineKind) -> list[np.ndarray]:
    page = next(page for page in made.pages if page.tile == tile)
    return [stroke.points - page.shift_mm for stroke in page.furniture.strokes if stroke.kind is kind]


@pytest.mark.parametrize("made", MARKED, ids=["edge to edge", "overlap"])
def test_every_half_diamond_meets_its_other_half_exactly(made: SheetPlan):
    halves = [each for tile in made.tiles for each in on_joined_drawing(made, tile, LineKind.JOIN_MARK)]
    joins = sum(Tile(t.row + dr, t.column + dc) in made.tiles for t in made.tiles for dr, dc in ((0, 1), (1, 0)))
    assert len(halves) == 2 * joins
    for half in halves:
        partners = [
            other
            for other in halves
            if other is not half and np.allclose(sorted(half[[0, 2]].tolist()), sorted(other[[0, 2]].tolist()))
        ]
        assert len(partners) == 1
        assert np.allclose((half[1] + partners[0][1]) / 2, (half[0] + half[2]) / 2, atol=1e-9)


@pytest.mark.parametrize("made", MARKED, ids=["edge to edge", "overlap"])
def test_quarter_rings_of_four_sheets_close_to_a_ring(made: SheetPlan):
    four = next(
        t for t in made.tiles
        if {Tile(t.row, t.column + 1), Tile(t.row + 1, t.column), Tile(t.row + 1, t.column + 1)} <= set(made.tiles)
    )  # fmt: skip
    step_x, step_y = made.page.step_mm
    area = made.grid.area(four)
    crossing = np.array([area.x0 + step_x, area.y1 - step_y])
    around = [Tile(four.row + row, four.column + column) for row in (0, 1) for column in (0, 1)]
    arcs = [
        arc
        for tile in around
        for arc in on_joined_drawing(made, tile, LineKind.RULE)
        if np.allclose(np.hypot(*(arc - crossing).T), RING_MM, atol=1e-9)
    ]
    assert len(arcs) == 4
    assert sum(LineString(arc).length for arc in arcs) == pytest.approx(2 * np.pi * RING_MM, rel=1e-3)


@pytest.mark.parametrize("made", MARKED, ids=["edge to edge", "overlap"])
def test_half_diamonds_name_the_sheet_that_joins_there(made: SheetPlan):
    for page in made.pages[1:]:
        tile = page.tile
        names = {
            Tile(tile.row + row, tile.column + column).label
            for row, column in ((0, 1), (1, 0), (0, -1), (-1, 0))
            if Tile(tile.row + row, tile.column + column) in made.tiles
        }
        small = {label.text for label in page.furniture.labels if label.height_mm == 2.5} - {made.job.title}
        assert names <= small


@pytest.mark.parametrize("made", MARKED, ids=["edge to edge", "overlap"])
def test_sheets_are_cut_along_the_left_and_top_edge_where_they_join(made: SheetPlan):
    for page in made.pages[1:]:
        trims = [stroke for stroke in page.furniture.strokes if stroke.kind is LineKind.TRIM]
        tile = page.tile
        joins = [Tile(tile.row, tile.column - 1) in made.tiles, Tile(tile.row - 1, tile.column) in made.tiles]
        corners = 1 if made.page.overlap_mm and any(joins) else 0
        assert len(trims) == sum(joins) + corners
        assert sum(label.text == "✂" for label in page.furniture.labels) == sum(joins)


@pytest.mark.parametrize("overlap_mm", [8.0, 25.0])
def test_through_the_cut_corner_of_a_sheet_the_label_of_the_one_below_is_read(overlap_mm: float):
    made = plan(OVALS, PrintJob(overlap_mm=overlap_mm))
    usable = made.page.usable
    for page in made.pages[1:]:
        left, above = Tile(page.tile.row, page.tile.column - 1), Tile(page.tile.row - 1, page.tile.column)
        below = left if left in made.tiles else above
        if below not in made.tiles:
            continue
        (cut,) = [s for s in page.furniture.strokes if s.kind is LineKind.TRIM and len(set(s.points.ravel())) == 4]
        hole = Polygon([*cut.points, (usable.x0, usable.y1)])
        under = next(other for other in made.pages if other.tile == below)
        seen = [
            label for label in under.furniture.labels
            if hole.contains(box_of(label_box(label).moved(*np.subtract(page.shift_mm, under.shift_mm))))
        ]  # fmt: skip
        assert [label.text for label in seen] == [below.label]


def test_sheets_put_side_by_side_are_cut_on_every_side_that_joins():
    made = plan(OVALS, PrintJob(butted=True))
    for page in made.pages[1:]:
        joins = sum(
            Tile(page.tile.row + row, page.tile.column + column) in made.tiles
            for row, column in ((0, 1), (1, 0), (0, -1), (-1, 0))
        )
        assert sum(stroke.kind is LineKind.TRIM for stroke in page.furniture.strokes) == joins
        assert sum(label.text == "✂" for label in page.furniture.labels) == joins
    words = " ".join(label.text for label in made.pages[0].furniture.labels)
    assert "Cut every edge that has scissors along its line." in words


def box_of(each: Box) -> Polygon:
    return box(each.x0, each.y0, each.x1, each.y1)


def label_box(label: Label) -> Box:
    return box_round([ink_points(Drawing((), (label,)))])


def many(count: int) -> list[PiecePicture]:
    return [
        oval(f"piece with a rather long name, number {i}", 150 + 17 * (i % 9), 200 + 23 * (i % 11))
        for i in range(count)
    ]


@pytest.mark.parametrize("count", [1, 5, 40])
@pytest.mark.parametrize("way", [Orientation.PORTRAIT, Orientation.LANDSCAPE])
@pytest.mark.parametrize(
    ("paper", "margin_mm"), [("a4", 10.0), ("a4", 25.0), ("letter", 12.7), ("letter", 22.0), ("a3", 10.0)]
)
def test_page_one_stays_inside_the_margins_and_its_words_on_nothing(paper, margin_mm: float, way, count: int):
    made = plan(
        many(count), PrintJob(PAPERS[paper], margin_mm, orientation=way, title="Dress", details=("Maren", "12"))
    )
    drawing, usable = made.pages[0].furniture, made.page.usable.inset(-1e-6)
    for part in [stroke.box for stroke in drawing.strokes] + [label_box(label) for label in drawing.labels]:
        assert usable.x0 <= part.x0
        assert part.x1 <= usable.x1
        assert usable.y0 <= part.y0
        assert part.y1 <= usable.y1
    text = [label for label in drawing.labels if label.height_mm > 3.0]
    for one, other in itertools.combinations(text, 2):
        assert not label_box(one).inset(0.05).touches(label_box(other).inset(0.05)), (one.text, other.text)


def test_page_one_holds_both_squares_the_cautions_the_steps_and_the_pieces():
    made = plan(
        small_pictures(), PrintJob(title="Concert dress", details=("Odile", "size 14", "round 2", "4 May 2026"))
    )
    drawing = made.pages[0].furniture
    sides = [s.box for s in drawing.strokes if s.kind is LineKind.TEST_SQUARE]
    for side in (TEST_SQUARE_MM, TEST_SQUARE_INCHES * 25.4):
        assert any((each.width_mm, each.height_mm) == pytest.approx((side, side), abs=1e-9) for each in sides)
    words = " ".join(label.text for label in drawing.labels)
    steps = wording.taping_steps(butted=False, cut_corner=False)
    for sentence in (*wording.CAUTIONS, *steps, *wording.MEASURE):
        assert sentence in words
    for fact in (
        "Concert dress",
        "Odile · size 14 · round 2 · 4 May 2026",
        "Front bodice",
        "cut 1 on fold",
        "Sleeve",
        "A4",
    ):
        assert fact in words


def test_the_map_shows_every_sheet_once_and_every_piece_inside_its_sheets():
    made = plan(small_pictures(), PrintJob())
    drawing = made.pages[0].furniture
    cells = [Polygon(s.points) for s in drawing.strokes if s.kind is LineKind.MAP_SHEET]
    pieces = [Polygon(s.points) for s in drawing.strokes if s.kind is LineKind.MAP_PIECE]
    assert len(cells) == len(made.tiles)
    assert len(pieces) == len(made.pieces)
    sheet = box(0, 0, 0, 0).union(cells[0])
    for cell in cells[1:]:
        sheet = sheet.union(cell.buffer(1e-6))
    for piece in pieces:
        assert piece.difference(sheet.buffer(0.01)).area == pytest.approx(0.0, abs=1e-3)
    labels = [label.text for label in drawing.labels]
    assert all(tile.label in " ".join(labels).split() for tile in made.tiles)


def test_more_pieces_than_the_list_holds_are_counted():
    made = plan(many(40), PrintJob())
    (more,) = [label.text for label in made.pages[0].furniture.labels if "more on the sheets" in label.text]
    listed = sum(label.text == "cut 1" for label in made.pages[0].furniture.labels)
    assert int(more.split()[1]) + listed == 40


def test_on_plotter_paper_the_squares_share_the_first_sheet_where_there_is_room():
    made = plan(small_pictures(), PrintJob(PAPERS["a0"], title="Concert dress"))
    assert len(made.pages) == len(made.tiles) == 1
    page = made.pages[0]
    squares = [s.box for s in page.furniture.strokes if s.kind is LineKind.TEST_SQUARE]
    placed = [piece.box.moved(*page.shift_mm) for piece in made.pieces]
    assert len(squares) == 3
    assert not any(square.touches(piece) for square in squares for piece in placed)


def test_a_full_plotter_sheet_leaves_page_one_to_itself():
    made = plan([rectangle("curtain", 800.0, 1150.0)], PrintJob(PAPERS["a0"]))
    assert [page.tile for page in made.pages] == [None, Tile(0, 0)]


def test_pattern_on_a_page_is_what_can_be_seen_there():
    made = plan(OVALS, PrintJob())
    for page in made.pages[1:]:
        shown = made.pattern_on(page)
        assert any(stroke.box.touches(page.clip) for stroke in shown.strokes)
        names = {piece.name for piece in made.pieces if piece.box.moved(*page.shift_mm).touches(page.clip)}
        assert len(shown.strokes) == len(names)
    assert made.pattern_on(made.pages[0]) == Drawing()


def test_page_one_shows_the_dashes_of_every_size():
    pieces = [replace(panel(), size="14")]
    others = tuple(Pattern((replace(panel(), size=size),), (), size) for size in ("12", "16"))
    for way in (Orientation.PORTRAIT, Orientation.LANDSCAPE):
        made = plan(
            pictures_of(Subject(Pattern(tuple(pieces), (), "14"), TICKET, others=others)),
            PrintJob(PAPERS["a4"], orientation=way),
        )
        key = made.pages[0].furniture
        dashes = {stroke.style.dash_mm for stroke in key.strokes if stroke.kind is LineKind.CUTTING}
        assert len(dashes) == 3
        assert {"12", "14", "16"} <= {label.text for label in key.labels}


def test_the_key_shows_lines_as_they_are_on_the_pieces():
    pictures = pictures_of(Subject(draft_dress.draft_pattern("10"), TICKET))
    page_one = plan(pictures, PrintJob()).pages[0].furniture
    y = next(label.at[1] for label in page_one.labels if label.text == "lengthen or shorten")
    beside = [stroke.kind for stroke in page_one.strokes if abs(stroke.points[:, 1].mean() - y) < 4.0]
    assert beside.count(LineKind.LENGTHEN) == 2
    assert [stroke.kind for stroke in page_one.strokes].count(LineKind.ARROW_HEAD) == 2
