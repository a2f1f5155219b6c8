import math
import os
import shutil
import subprocess
from dataclasses import replace
from pathlib import Path

import numpy as np
import pikepdf
import pypdfium2 as pdfium
import pytest

from editor.printing.choosing import Subject, pictures_of
from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.job import Orientation, PrintJob, SheetPlan
from editor.printing.paper import PAPERS
from editor.printing.pdf import write_pdf
from editor.printing.picture import LAYERS, Drawing, Label, PiecePicture
from editor.printing.planning import plan
from geometry.affine import Affine
from geometry.errors import PatternError
from geometry.model.pattern import Pattern
from tests.editor.joined_pages import line_at, sheets_by_their_marks
from tests.editor.pdf_reading import page_paths, page_picture, page_text
from tests.editor.printed_pieces import TICKET, bodice, oval, panel, rectangle, small_pictures

DPI = 200.0
OFF = Correction(98.4, 101.2)
FORMATS = (
    ("a4", 0.0, NO_CORRECTION),
    ("a4", 10.0, OFF),
    ("letter", 0.0, OFF),
    ("letter", 10.0, NO_CORRECTION),
)


def _name(each) -> str:
    paper, overlap_mm, correction = each
    return f"{paper}-{overlap_mm:g}{'' if correction.is_none else '-corrected'}"


@pytest.fixture(scope="module", params=FORMATS, ids=_name)
def printed(request, tmp_path_factory) -> tuple[SheetPlan, Path]:
    """A plan and its file. Whatever is measured in the file is taken as the printer makes it."""
    paper, overlap_mm, correction = request.param
    job = PrintJob(
        PAPERS[paper],
        overlap_mm=overlap_mm,
        correction=correction,
        title="Concert dress",
        details=("Odile", "size 14"),
    )
    made = plan(small_pictures(), job)
    path = tmp_path_factory.mktemp("pdf") / "dress.pdf"
    assert write_pdf(made, path)
    return made, path


def test_file_is_sound_has_the_pages_of_the_plan_and_asks_for_no_scaling(printed):
    made, path = printed
    with pikepdf.open(path) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert pdf.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")
        assert len(pdf.pages) == len(made.pages)
        for page in pdf.pages:
            box = [float(number) * 25.4 / 72 for number in page.mediabox]
            assert box == pytest.approx([0, 0, *made.page.sent_mm], abs=1e-3)
            assert page.get("/Rotate", 0) == 0
            assert "/UserUnit" not in page
        assert pdf.docinfo["/Title"] == "Concert dress · Odile · size 14"


def test_every_font_is_embedded(printed):
    _, path = printed
    with pikepdf.open(path) as pdf:
        fonts = [item for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/Font"]
        assert fonts
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)


def test_the_drawing_is_in_the_file_once_and_every_sheet_places_it(printed):
    made, path = printed
    with pikepdf.open(path) as pdf:
        used = [page.Resources.XObject for page in pdf.pages if page.get("/Resources", {}).get("/XObject")]
        placed = {forms[name].objgen for forms in used for name in forms}
        assert len(placed) == 1
        assert len(used) >= len(made.tiles)


def test_test_squares_measure_100_mm_and_4_in_both_ways(printed):
    made, path = printed
    own, _ = page_paths(path, 0, made.page.printed)
    sizes = [each.size for each in own]
    for side_mm in (100.0, 4 * 25.4):
        assert any(size == pytest.approx((side_mm, side_mm), abs=0.01) for size in sizes)


def test_test_square_measures_100_mm_on_the_rendered_page(printed):
    made, path = printed
    own, _ = page_paths(path, 0, made.page.printed)
    square = next(each for each in own if each.size == pytest.approx((100.0, 100.0), abs=0.01))
    low, high = square.points.min(axis=0), square.points.max(axis=0)
    picture = page_picture(path, 0, DPI, made.page.printed)
    middle = (low + high) / 2 + (7.0, 7.0)  # beside the ticks
    left, right = (line_at(picture, (x, middle[1]), (1.0, 0.0)) for x in (low[0], high[0]))
    bottom, top = (line_at(picture, (middle[0], y), (0.0, 1.0)) for y in (low[1], high[1]))
    assert high[0] + right - low[0] - left == pytest.approx(100.0, abs=0.1)
    assert high[1] + top - low[1] - bottom == pytest.approx(100.0, abs=0.1)


def test_cutting_line_of_the_panel_measures_430_by_630_mm_on_every_sheet(printed):
    made, path = printed
    for page in made.pages[1:]:
        _, shared = page_paths(path, page.number - 1, made.page.printed)
        assert any(sorted(each.size) == pytest.approx([430.0, 630.0], abs=0.02) for each in shared)


def test_marks_in_the_file_close_on_neighbouring_sheets(printed):
    """Each sheet is put where its marks meet those of the one before; that must be where the grid has it."""
    made, path = printed
    for tile, corner in sheets_by_their_marks(made, path).items():
        area = made.grid.area(tile)
        assert corner == pytest.approx((area.x0, area.y0), abs=0.02)


def test_every_line_of_the_pattern_lies_inside_the_clip_of_some_sheet(printed):
    made, _ = printed
    points = np.vstack([stroke.path for stroke in made.drawing.strokes])
    shown = np.zeros(len(points), dtype=bool)
    for page in made.pages[1:]:
        x, y = (points + page.shift_mm).T
        clip = page.clip
        shown |= (x >= clip.x0 - 1e-6) & (x <= clip.x1 + 1e-6) & (y >= clip.y0 - 1e-6) & (y <= clip.y1 + 1e-6)
    assert shown.all()


def test_words_can_be_searched_and_names_in_other_scripts_print(tmp_path):
    names = ["Πίσω φούστα", "Рукав", "Ärmel für Zoë", "Tył spódnicy", "Լայն թև", "Ống tay áo"]
    pictures = [
        PiecePicture(name, rectangle(name, 150, 60).drawing + Drawing((), (Label((75, 30), name, 6),)),
                     rectangle(name, 150, 60).outline, "cut 1")
        for name in names
    ]  # fmt: skip
    path = tmp_path / "names.pdf"
    made = plan(pictures, PrintJob(title="Σχέδιο"))
    write_pdf(made, path)
    sheets = "".join(page_text(path, page.number - 1) for page in made.pages[1:])
    cover = page_text(path, 0)
    for name in names:
        assert name in sheets
        assert name in cover
    assert "Σχέδιο" in cover


def test_a_corrected_print_says_so_on_every_page_and_another_one_on_none(printed):
    made, path = printed
    for page in made.pages:
        words = page_text(path, page.number - 1)
        is_said = ("98.4" in words) and ("101.2" in words) and "orrected for" in words
        assert is_said != made.job.correction.is_none


def test_every_sheet_says_which_it_is(printed):
    made, path = printed
    for page in made.pages[1:]:
        text = page_text(path, page.number - 1)
        assert page.label in text
        assert f"page {page.number} of {len(made.pages)}" in text


def test_sixty_sheets_of_forty_pieces_stay_a_small_file(tmp_path):
    pictures = [oval(f"piece {i}", 150 + 17 * (i % 9), 200 + 23 * (i % 11)) for i in range(40)]
    made = plan(pictures, PrintJob())
    path = tmp_path / "many.pdf"
    write_pdf(made, path)
    assert len(made.pages) > 50
    assert path.stat().st_size < 300_000


def test_landscape_pages_are_landscape(tmp_path):
    path = tmp_path / "across.pdf"
    write_pdf(plan([rectangle("panel", 250, 150)], PrintJob(orientation=Orientation.LANDSCAPE)), path)
    with pdfium.PdfDocument(path) as document:
        assert [page.get_size() for page in document] == [pytest.approx((841.89, 595.276), abs=0.01)] * 2


def test_progress_counts_up_to_all_pages(tmp_path):
    made = plan([rectangle("panel", 400, 600)], PrintJob())
    told = []
    assert write_pdf(made, tmp_path / "out.pdf", progress=lambda done, total: told.append((done, total)) or True)
    assert told == [(done, len(made.pages)) for done in range(len(made.pages) + 1)]


@pytest.mark.parametrize("stop_at", [0, 2, 10])
def test_stopping_leaves_nothing_behind_and_an_older_file_as_it_was(tmp_path, stop_at: int):
    made = plan([rectangle("panel", 400, 600)], PrintJob())
    stop_at = min(stop_at, len(made.pages))
    path = tmp_path / "out.pdf"
    path.write_text("older")
    assert not write_pdf(made, path, progress=lambda done, total: done < stop_at)
    assert path.read_text() == "older"
    assert os.listdir(tmp_path) == ["out.pdf"]


def test_an_older_file_is_replaced_whole(tmp_path):
    path = tmp_path / "out.pdf"
    path.write_text("older")
    assert write_pdf(plan([rectangle("panel", 100, 100)], PrintJob()), path)
    assert path.read_bytes().startswith(b"%PDF-")
    assert os.listdir(tmp_path) == ["out.pdf"]


def test_a_place_that_cannot_be_written_is_named_in_one_sentence_and_nothing_stays(tmp_path):
    made = plan([rectangle("panel", 100, 100)], PrintJob())
    (tmp_path / "folder.pdf").mkdir()
    for path in (tmp_path / "missing" / "out.pdf", tmp_path / "folder.pdf", Path("/")):
        with pytest.raises(PatternError, match="cannot be written") as caught:
            write_pdf(made, path)
        assert caught.value.code == "cannot-write"
        assert str(path) in caught.value.sentence
    assert os.listdir(tmp_path) == ["folder.pdf"]


def test_page_data_for_the_preview_is_the_drawing_of_the_file(printed):
    """The strokes that a preview draws on a page lie where the PDF has them."""
    made, path = printed
    page = made.pages[-1]
    _, shared = page_paths(path, page.number - 1, made.page.printed)
    in_file = np.vstack([each.points for each in shared])
    for stroke in made.pattern_on(page).strokes:
        for point in stroke.points[:: max(1, len(stroke.points) // 5)]:
            assert np.hypot(*(in_file - point).T).min() < 0.005


def test_a_turned_piece_prints_at_the_same_size(tmp_path):
    turned = rectangle("belt", 60.0, 180.0).carried(Affine.turned(math.radians(30)))
    made = plan([turned], PrintJob())
    path = tmp_path / "belt.pdf"
    write_pdf(made, path)
    _, shared = page_paths(path, 1)
    sides = np.hypot(*np.diff(shared[0].points, axis=0).T)
    assert sorted(sides[:4].tolist()) == pytest.approx([60.0, 60.0, 180.0, 180.0], abs=0.005)


def layers_of(path: Path) -> tuple[dict[str, list[str]], dict[str, str]]:
    """The layers as a viewer lists them, by heading, and for each the tag that the drawing uses."""
    with pikepdf.open(path) as pdf:
        listed = {
            str(group[0]): [str(layer.Name) for layer in list(group)[1:]] for group in pdf.Root.OCProperties.D.Order
        }
        tags = {str(layer.Name): name for name, layer in _form(pdf.pages[-1]).Resources.Properties.items()}
        return listed, tags


def _form(page: pikepdf.Page) -> pikepdf.Object:
    (form,) = page.Resources.XObject.values()
    return form


def test_every_kind_of_line_and_every_size_is_a_layer(tmp_path):
    larger = replace(panel(), size="16")
    pattern = Pattern((panel(), bodice()), (), "14")
    made = plan(pictures_of(Subject(pattern, TICKET, others=(Pattern((larger,), (), "16"),))), PrintJob())
    path = tmp_path / "layers.pdf"
    write_pdf(made, path)
    listed, tags = layers_of(path)
    drawn = {LAYERS[stroke.kind] for stroke in made.drawing.strokes}
    assert set(listed["Lines and words"]) == drawn | {"Words"}
    assert {"Cutting line", "Stitching line", "Darts", "Notches", "Grain", "Fold"} <= drawn
    assert set(listed["Sizes"]) == {"Size 14", "Size 16"}
    assert set(tags) == set(listed["Lines and words"]) | set(listed["Sizes"])
    with pikepdf.open(path) as pdf:
        assert pdf.Root.OCProperties.D.BaseState == pikepdf.Name("/ON")
        assert len(pdf.Root.OCProperties.OCGs) == len(tags)
        content = _form(pdf.pages[-1]).read_bytes()
    assert content.count(b" BDC") == content.count(b"EMC")


def test_a_layer_that_is_switched_off_takes_its_lines_from_the_page(tmp_path):
    made = plan(pictures_of(Subject(Pattern((panel(),), (), "14"), TICKET)), PrintJob())
    path, hidden = tmp_path / "all.pdf", tmp_path / "hidden.pdf"
    write_pdf(made, path)
    with pikepdf.open(path) as pdf:
        off = [layer for layer in pdf.Root.OCProperties.OCGs if str(layer.Name) == "Cutting line"]
        pdf.Root.OCProperties.D.OFF = pikepdf.Array(off)
        pdf.save(hidden)
    inked = [page_picture(each, 1, 50.0).ink.sum() for each in (path, hidden)]
    assert inked[1] < 0.9 * inked[0]


@pytest.mark.skipif(shutil.which("qpdf") is None, reason="qpdf is not installed")
def test_qpdf_finds_nothing_wrong(printed):
    _, path = printed
    checked = subprocess.run(["qpdf", "--check", str(path)], capture_output=True, text=True)
    assert checked.returncode == 0, checked.stdout + checked.stderr
    assert "WARNING" not in checked.stderr


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
def test_poppler_draws_the_pages_as_pdfium_does(printed, tmp_path):
    made, path = printed
    words = ["pdftoppm", "-r", "50", "-gray", "-f", "2", "-l", "2", str(path), str(tmp_path / "page")]
    drawn = subprocess.run(words, capture_output=True, text=True)
    assert (drawn.returncode, drawn.stderr) == (0, "")
    (picture,) = tmp_path.glob("page*.pgm")
    header, size, _, pixels = picture.read_bytes().split(b"\n", 3)
    assert header == b"P5"
    width, height = map(int, size.split())
    theirs = 1.0 - np.frombuffer(pixels, dtype=np.uint8).reshape(height, width) / 255.0
    ours = page_picture(path, 1, 50.0).ink
    assert theirs.shape == pytest.approx(ours.shape, abs=1)
    assert theirs.sum() == pytest.approx(ours.sum(), rel=0.25)
    assert made.pages[1].tile is not None
