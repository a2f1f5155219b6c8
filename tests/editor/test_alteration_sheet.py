"""The alteration sheet: what is done, by how much, how it is measured again, and that nothing is cut off."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pikepdf
import pytest

from editor.by_hand import by_hand, changed_edges, ruled_place
from editor.printing.alteration_sheet import AlteredRound, alteration_sheet
from editor.printing.ink import ink_points
from editor.printing.paper import PAPERS
from editor.printing.pdf import write_booklet
from editor.printing.picture import Drawing, LineKind
from editor.printing.piece_figures import before_and_after, size_sentences
from editor.text import CAUTIONS, step_sentence
from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.checks.run import check_pattern
from geometry.fitting.body import Body
from geometry.fitting.garment_table import garment_table
from geometry.model.pattern import Pattern
from geometry.units import Unit
from tests.editor.pdf_reading import page_text
from tests.editor.printed_pieces import panel
from tests.geometry.plain_dress import dress

PATTERN = Pattern((panel(),), (), "14")
SPREAD = Slash("panel", (SlashCut((on_edge("hem", 0.25), on_edge("waist", 0.5)), 40.0, Hinge.END, Side.RIGHT),))


def altered(start: Pattern, *records: Record, unit: Unit = Unit.MM) -> AlteredRound:
    done = replay(start, records)
    rows = garment_table(Body(), start, done.pattern)
    return AlteredRound("Dress", ("Odile", "size 14"), start, records, done, unit, check_pattern(done.pattern), rows)


LENGTHENED = altered(dress(), Record("1", Alteration("A01", 20.0), note="Long-waisted."), unit=Unit.CM)


def words_of(pages: tuple[Drawing, ...]) -> str:
    return " ".join(label.text for page in pages for label in page.labels)


def test_a_place_on_an_edge_is_found_from_its_nearer_corner() -> None:
    piece = panel()  # hem 400 mm from centre back to side
    assert ruled_place(piece, on_edge("hem", 0.25), Unit.MM) == "the hem 100 mm from the centre back"
    assert ruled_place(piece, on_edge("hem", 0.75), Unit.CM) == "the hem 10 cm from the side"
    assert ruled_place(piece, on_edge("hem", 0.0), Unit.MM) == "the corner of hem and centre back"
    inside = ruled_place(piece, Anchor(On.FREE, x=30.0, y=40.0), Unit.MM)
    assert inside.startswith("the point 50 mm from the corner of centre back and hem and ")


def test_a_hinged_slash_is_told_from_the_open_end_with_its_amount() -> None:
    (work,) = by_hand(SPREAD, PATTERN, Unit.MM)
    told = " ".join(work.sentences)
    assert "Draw a line from the hem 100 mm from the centre back to the waist 200 mm from the" in told
    assert "Cut from the hem 100 mm from the centre back to, not through, the stitching line at the waist" in told
    assert "spread it by 40 mm at the open end" in told
    assert work.hinges == (pytest.approx((200.0, 600.0)),)
    assert len(work.cuts) == 1


def test_a_fold_is_half_as_deep_as_what_it_takes_out() -> None:
    """A 1 in shortening is a 1/2 in deep tuck (Central Washington University, costume text, chapter 17)."""
    cut = SlashCut((on_edge("centre back", 0.5), on_edge("side", 0.5)), -25.4, Hinge.NONE, Side.LEFT)
    (work,) = by_hand(Slash("panel", (cut,)), PATTERN, Unit.INCH)
    assert any('Fold 1" out' in sentence and 'a fold 1/2" deep' in sentence for sentence in work.sentences)


def test_what_changed_is_told_to_be_measured_again() -> None:
    (work,) = by_hand(SPREAD, PATTERN, Unit.MM)
    assert work.sentences[-1] == f"Measure again: {changed_edges(work.before, work.after, Unit.MM)}."
    assert "hem 440 mm (+40 mm)" in work.sentences[-1] or "hem 439" in work.sentences[-1]


def test_an_alteration_of_the_handbook_is_told_piece_by_piece() -> None:
    works = by_hand(Alteration("A01", 20.0), dress(), Unit.CM)
    assert [work.before.name for work in works] == ["front bodice", "back bodice"]
    assert all("move the parts 2 cm apart" in " ".join(work.sentences) for work in works)


def test_a_step_that_does_not_fit_is_no_work() -> None:
    assert by_hand(Slash("cuff", SPREAD.cuts), PATTERN, Unit.MM) == ()


def test_the_sheet_tells_steps_notes_seams_garment_checks_and_cautions() -> None:
    told = words_of(alteration_sheet(LENGTHENED, PAPERS["a4"]))
    for sentence in (
        step_sentence(LENGTHENED.records[0].step, Unit.CM),
        "Long-waisted.",
        "Seams that changed",
        "Space buttons and buttonholes anew",
        *(caution.split(":")[0] for caution in CAUTIONS),
        "Front bodice · cut 1 on fold",
        "page 1 of",
    ):
        assert sentence in told, sentence
    assert "Front skirt ·" not in told
    side_mm = LENGTHENED.pattern.piece("front bodice").sewn_length_mm("side")
    assert f"→ {side_mm / 10:.2f}" in told


def test_edges_of_a_drawing_carry_their_length_and_what_changed() -> None:
    pages = alteration_sheet(LENGTHENED, PAPERS["a4"])
    bold = [label.text for page in pages for label in page.labels if label.bold and label.text.endswith(")")]
    assert bold
    assert all("(+" in text for text in bold)


def test_a_step_switched_off_and_one_that_does_not_fit_say_so() -> None:
    off, misfit = Record("1", SPREAD, on=False), Record("2", Slash("cuff", SPREAD.cuts))
    told = words_of(alteration_sheet(altered(PATTERN, off, misfit), PAPERS["a4"]))
    assert "Switched off: not done" in told
    assert "does not fit the pattern: not done" in told


def test_a_round_without_steps_says_that_nothing_is_altered() -> None:
    assert "Nothing: the pattern is as it was bought." in words_of(alteration_sheet(altered(PATTERN), PAPERS["a4"]))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_nothing_runs_off_the_page_and_no_two_lines_of_text_lie_on_each_other(paper: str) -> None:
    many = [Record(str(n), SPREAD, on=n == 1, note="a long note " * 12) for n in range(1, 30)]
    for each in (LENGTHENED, altered(PATTERN, *many)):
        for page in alteration_sheet(each, PAPERS[paper]):
            ink = ink_points(page)
            assert ink.min() >= 10.0
            assert ink[:, 0].max() <= PAPERS[paper].width_mm - 10.0
            assert ink[:, 1].max() <= PAPERS[paper].height_mm - 10.0
            starts = [(round(label.at[0], 2), round(label.at[1], 2)) for label in page.labels]
            assert len(set(starts)) == len(starts)


def test_a_heading_never_ends_a_page() -> None:
    pages = alteration_sheet(LENGTHENED, PAPERS["a4"])
    for page in pages:
        lowest = min(label.at[1] for label in page.labels if "page" not in label.text)
        heads = [label.at[1] for label in page.labels if label.bold and label.height_mm == 4.2]
        assert not heads or min(heads) > lowest


def test_cuts_are_drawn_on_the_piece_before_the_step() -> None:
    pages = alteration_sheet(altered(PATTERN, Record("1", SPREAD)), PAPERS["a4"])
    kinds = [stroke.kind for page in pages for stroke in page.strokes]
    assert LineKind.ALTERATION in kinds
    assert LineKind.BEFORE in kinds


def test_the_file_is_sound_and_can_be_searched(tmp_path: Path) -> None:
    path, pages = tmp_path / "sheet.pdf", alteration_sheet(LENGTHENED, PAPERS["a4"])
    write_booklet(pages, (210.0, 297.0), path, title="Dress")
    with pikepdf.open(path) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert len(pdf.pages) == len(pages)
    assert "Bodice length below the armhole" in page_text(path, 0)


def test_the_words_beside_the_edges_lie_on_no_line_of_the_piece() -> None:
    """Every line of the drawing is followed in steps of half a millimetre."""
    was, now = LENGTHENED.start.piece("front bodice"), LENGTHENED.pattern.piece("front bodice")
    drawing = before_and_after(was, now, Unit.CM, width_mm=180.0, height_mm=90.0).drawing
    lines = ink_points(Drawing(drawing.strokes), every_mm=0.5)
    assert len(drawing.labels) == 2 * len(now.edges)
    for label in drawing.labels:
        ink = ink_points(Drawing((), (label,)))
        low, high = ink.min(axis=0), ink.max(axis=0)
        assert not ((lines > low) & (lines < high)).all(axis=1).any(), label.text


def test_what_no_edge_tells_is_told_below_the_drawing() -> None:
    was, now = LENGTHENED.start.piece("front bodice"), LENGTHENED.pattern.piece("front bodice")
    extent, darts = size_sentences(was, now, Unit.MM)
    high_mm = float(np.ptp(now.outline[:, 1]))
    assert f"{high_mm:.1f}".removesuffix(".0") in extent
    assert "(+" in extent
    assert {dart.id for dart in now.darts} <= {name for name in ("side dart", "waist dart") if name in darts.lower()}
