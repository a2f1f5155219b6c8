"""Names in many scripts, printed: what stands on the page, and what is found when it is looked for."""

import shutil
import subprocess
import unicodedata
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTCollection, TTFont

from editor.printing import found_fonts
from editor.printing.font_tables import FontTables
from editor.printing.lettering import _runs, face
from editor.printing.letters import letter_findings
from editor.printing.pdf import write_booklet
from editor.printing.picture import Anchor, Drawing, Label
from editor.printing.reading_order import as_set
from tests.editor.pdf_reading import page_picture, page_text

NAMES = (
    "Zoë Łódź", "Μαρία", "Ольга Рукав", "Մարիամ", "მარიამ", "מרים", "שִׂמְלָה", "فاطمة الزهراء", "گلناز", "پیراهن ۲",
)  # fmt: skip
SIDE = 1000
"""The letters of our own test font are squares a whole size of type wide."""


def as_read(text: str) -> str:
    return unicodedata.normalize("NFKC", text)


def page_of(tmp_path: Path, *texts: str) -> Path:
    path = tmp_path / "page.pdf"
    labels = [Label((20.0, 280.0 - 12.0 * row), text, 6.0, anchor=Anchor.START) for row, text in enumerate(texts)]
    write_booklet([Drawing((), tuple(labels))], (210.0, 297.0), path, title="Names")
    return path


def square_font(path: Path, letters: str, *, cubic: bool = False, embedding: int = 0) -> Path:
    """A font in which every letter is a square, with outlines of either kind."""
    glyphs = {letter: f"square{ord(letter):x}" for letter in letters}
    names = [".notdef", *glyphs.values()]
    builder = FontBuilder(SIDE, isTTF=not cubic)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord(letter): name for letter, name in glyphs.items()})
    drawn = {}
    for name in names:
        pen = T2CharStringPen(SIDE, None) if cubic else TTGlyphPen(None)
        pen.moveTo((0, 0))
        for corner in ((0, SIDE), (SIDE, SIDE), (SIDE, 0)):
            pen.lineTo(corner)
        pen.closePath()
        drawn[name] = pen.getCharString() if cubic else pen.glyph()
    if cubic:
        builder.setupCFF("Squares", {}, drawn, {})
    else:
        builder.setupGlyf(drawn)
    builder.setupHorizontalMetrics({name: (SIDE, 0) for name in names})
    builder.setupHorizontalHeader(ascent=SIDE, descent=0)
    builder.setupNameTable({"familyName": "Squares", "styleName": "Regular"})
    builder.setupOS2(fsType=embedding)
    builder.setupPost()
    builder.save(path)
    return path


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    """The only folder with fonts there is."""
    place = tmp_path / "fonts"
    place.mkdir()
    monkeypatch.setattr(found_fonts, "font_folders", lambda: (place,))
    forget()
    yield place
    forget()


def forget() -> None:
    for each in (found_fonts.font_with, found_fonts._font_files, found_fonts._codes, _runs):
        each.cache_clear()


@pytest.mark.parametrize("name", NAMES)
def test_names_in_many_scripts_come_with_the_program_and_are_found(folder, tmp_path, name):
    path = page_of(tmp_path, name)
    assert letter_findings([(name, "")]) == ()
    assert as_read(page_text(path, 0)).strip() == as_read(name)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler is not installed")
@pytest.mark.parametrize("name", NAMES)
def test_poppler_finds_them_too(folder, tmp_path, name):
    path = page_of(tmp_path, name)
    said = subprocess.run(["pdftotext", path, "-"], capture_output=True, check=True).stdout.decode()
    told = "".join(letter for letter in said if unicodedata.category(letter) not in ("Cf", "Cc"))
    assert as_read(told).strip() == as_read(name)


def test_hebrew_stands_from_the_right_and_numbers_and_brackets_keep_their_way():
    """By the rules of Unicode Standard Annex 9, worked out by hand."""
    assert as_set("אבג") == "גבא"
    assert as_set("אב 12") == "12 בא"
    assert as_set("אב (12)") == "(12) בא"
    assert as_set("size 12 אב") == "size 12 בא"
    assert as_set("אב · size 12") == "בא · size 12"
    assert as_set("[a] (b)") == "[a] (b)"


def test_arabic_letters_take_the_forms_that_they_have_in_a_word():
    """beh at the beginning, in the middle and at the end, and alone (Unicode block Arabic Presentation Forms-B)."""
    assert as_set("ببب") == "\ufe90\ufe92\ufe91"
    assert as_set("ب") in ("\ufe8f", "ب")
    assert as_set("لا") == "\ufefb"


@pytest.mark.parametrize("cubic", [False, True])
def test_letters_of_another_font_are_embedded_whatever_its_outlines(folder, tmp_path, cubic):
    square_font(folder / "Squares.otf", "袖子", cubic=cubic)
    path = page_of(tmp_path, "袖 sleeve 子")
    assert page_text(path, 0).strip() == "袖 sleeve 子"
    with pikepdf.open(path) as pdf:
        assert pdf.check_pdf_syntax() == []
        fonts = [item for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/Font"]
        assert all("/FontFile2" in font.FontDescriptor for font in fonts)
    assert path.stat().st_size < 40_000
    picture = page_picture(path, 0, 200.0)
    across, up = np.meshgrid(np.linspace(20.3, 25.7, 9), np.linspace(280.3, 285.7, 9))
    assert picture.ink_at(across, up).min() > 0.9  # the square that stands for the first letter


def test_a_collection_is_read_by_its_first_font(folder, tmp_path):
    collection = TTCollection()
    collection.fonts = [TTFont(square_font(tmp_path / f"{number}.ttf", "袖")) for number in (1, 2)]
    collection.save(folder / "Squares.ttc")
    assert face().has("袖")
    assert face().width_mm("袖", 10.0) == pytest.approx(10.0)
    assert page_text(page_of(tmp_path, "袖"), 0).strip() == "袖"


def test_a_font_that_may_not_be_embedded_is_passed_over_and_broken_files_too(folder, tmp_path):
    """OS/2 fsType 2: restricted licence embedding (ISO/IEC 14496-22)."""
    square_font(folder / "a.ttf", "袖", embedding=2)
    (folder / "b.ttf").write_bytes(b"\0\1\0\0 no font")
    (folder / "c.ttc").write_bytes(b"")
    assert not face().has("袖")
    square_font(folder / "d.ttf", "袖", embedding=4)
    forget()
    assert found_fonts.font_with(ord("袖")) == folder / "d.ttf"


def test_a_plain_face_is_taken_before_a_bold_one(folder):
    for name in ("Any-Bold.ttf", "Any-Regular.ttf", "Any-Thin.ttf"):
        square_font(folder / name, "袖")
    assert found_fonts.font_with(ord("袖")) == folder / "Any-Regular.ttf"


def test_letters_that_no_font_has_are_said_and_come_out_as_question_marks(folder, tmp_path):
    said = letter_findings([("袖", "sleeve"), ("Odile", ""), ("袖", "sleeve")])
    assert [(finding.code, finding.piece) for finding in said] == [("letters-missing", "sleeve")]
    assert page_text(page_of(tmp_path, "袖 2"), 0).strip() == "? 2"


def test_letters_that_would_have_to_be_joined_are_said(folder):
    square_font(folder / "Squares.ttf", "नीता")
    assert [finding.code for finding in letter_findings([("नीता", "")])] == ["letters-not-joined"]


@pytest.mark.parametrize("path", [face().path, face(bold=True).path], ids=lambda path: path.stem)
def test_both_ways_of_listing_glyphs_are_read_as_fonttools_reads_them(path):
    font = TTFont(path)
    numbers = {name: number for number, name in enumerate(font.getGlyphOrder())}
    assert FontTables(path).glyphs == {code: numbers[name] for code, name in font.getBestCmap().items()}


def test_a_map_of_segments_is_read_as_fonttools_reads_it(tmp_path):
    """Format 4 is what fontTools writes for a font without letters beyond the first plane."""
    path = square_font(tmp_path / "some.ttf", "abcxyzאבג袖")
    font = TTFont(path)
    assert {table.format for table in font["cmap"].tables} == {4}
    numbers = {name: number for number, name in enumerate(font.getGlyphOrder())}
    assert FontTables(path).glyphs == {code: numbers[name] for code, name in font.getBestCmap().items()}
