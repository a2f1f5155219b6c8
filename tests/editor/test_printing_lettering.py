import unicodedata

import pytest
from fontTools.ttLib import TTFont as FontFile
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from editor.printing.lettering import CAPITAL, FONTS, NO_BREAK, face, shortened, wrapped

NAMES = ["Front bodice", "Grüße, crêpe, Łódź", "Πίσω φούστα", "Рукав с окатом", "cut 2 · 5/8″ …"]


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", NAMES)
def test_width_of_words_agrees_with_reportlab(text: str, bold: bool):
    font = face(bold)
    pdfmetrics.registerFont(TTFont(f"{font.name} reference", str(font.path)))
    assert font.width_mm(text, 10.0) == pytest.approx(
        pdfmetrics.stringWidth(text, f"{font.name} reference", 10.0), abs=0.02
    )


@pytest.mark.parametrize("bold", [False, True])
def test_width_of_every_character_agrees_with_fonttools(bold: bool):
    font = FontFile(face(bold).path)
    metrics, units = font["hmtx"], font["head"].unitsPerEm
    reference = {code: metrics[glyph][0] / units for code, glyph in font.getBestCmap().items()}
    assert face(bold).widths == pytest.approx(reference)


def test_height_of_a_capital_is_that_of_the_font():
    glyphs = FontFile(face().path)
    assert glyphs["glyf"]["H"].yMax / glyphs["head"].unitsPerEm == pytest.approx(CAPITAL, abs=0.005)


def test_fonts_come_with_their_licence():
    assert "Permission is hereby granted" in (FONTS / "LICENSE.txt").read_text()


def test_accents_written_apart_are_joined_and_unknown_characters_become_question_marks():
    assert face().spelled(unicodedata.normalize("NFD", "Zoë")) == "Zoë"
    assert face().spelled("\ue000 sleeve") == "? sleeve"
    assert face().spelled("two\nlines\tone") == "two lines one"


def test_wrapped_lines_fit_and_keep_every_word():
    text = "Lay the cut edge on the sheet beside it so that the half diamonds close"
    lines = wrapped(text, 40.0, 3.2)
    assert " ".join(lines) == text
    assert len(lines) > 1
    assert all(face().width_mm(line, 3.2) <= 40.0 for line in lines)
    assert wrapped("antidisestablishmentarianism", 5.0, 3.2) == ["antidisestablishmentarianism"]


def test_number_and_unit_stay_on_one_line():
    assert wrapped(f"hem 1{NO_BREAK}1/2 in", 6.0, 3.2) == ["hem", "1 1/2", "in"]
    assert wrapped("hem (+30 mm)", 6.0, 3.2) == ["hem", "(+30 mm)"]


def test_shortened_text_fits_and_short_text_stays():
    assert shortened("Sleeve", 40.0, 4.0) == "Sleeve"
    cut = shortened("Front bodice with a yoke and two pleats", 40.0, 4.0)
    assert cut.endswith("…")
    assert face().width_mm(cut, 4.0) <= 40.0
