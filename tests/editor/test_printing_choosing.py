"""Which pieces are printed, and what is drawn on them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from editor.printing.choosing import Choice, Subject, pictures_of
from editor.printing.ink import ink_points
from editor.printing.label_room import lettered, righted
from editor.printing.picture import SIZE_DASHES_MM, Anchor, Drawing, Label, LineKind, PiecePicture
from editor.printing.piece_label import Ticket
from geometry.affine import Affine
from geometry.alterations.anchors import on_edge
from geometry.alterations.chalk import JournalChalk
from geometry.alterations.replay import Record, replay
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.errors import PatternError
from geometry.model.pattern import Pattern
from tests.editor.printed_pieces import PANEL_MM, TICKET, bodice, panel, sleeve

PATTERN = Pattern((panel(), bodice(), sleeve()), (), "14")
SUBJECT = Subject(PATTERN, TICKET)


def lines(picture: PiecePicture, kind: LineKind) -> list[np.ndarray]:
    return [stroke.points for stroke in picture.drawing.strokes if stroke.kind is kind]


def words(picture: PiecePicture) -> str:
    return " · ".join(row.text for row in picture.words.rows)


def test_without_a_choice_every_piece_is_printed_once() -> None:
    assert [picture.name for picture in pictures_of(SUBJECT)] == ["panel", "front bodice", "sleeve"]


def test_a_piece_may_be_left_out_or_printed_twice() -> None:
    found = pictures_of(SUBJECT, {"panel": Choice(0), "sleeve": Choice(2), "front bodice": Choice(group="bodice")})
    assert [picture.name for picture in found] == ["front bodice", "sleeve, copy 1 of 2", "sleeve, copy 2 of 2"]
    assert "cut 2, copy 2 of 2" in words(found[2])
    assert [picture.group for picture in found] == ["bodice", "", ""]


def test_nothing_to_print_and_unknown_pieces_are_refused() -> None:
    with pytest.raises(PatternError, match="choose at least one"):
        pictures_of(SUBJECT, dict.fromkeys(("panel", "front bodice", "sleeve"), Choice(0)))
    with pytest.raises(PatternError, match=r'"cuff".*panel, front bodice, sleeve') as caught:
        pictures_of(SUBJECT, {"cuff": Choice()})
    assert caught.value.code == "no-such-piece"


def test_a_mirrored_pair_is_the_piece_and_its_mirror_image_with_readable_words() -> None:
    one, other = (p for p in pictures_of(SUBJECT, {"sleeve": Choice(pair=True)}) if p.name.startswith("sleeve"))
    assert (one.quantity, other.quantity) == ("cut 1", "cut 1, mirrored")
    flipped = Polygon(one.outline * (-1, 1))
    assert flipped.symmetric_difference(Polygon(other.outline)).area == pytest.approx(0.0, abs=1e-6)
    assert Polygon(other.outline).exterior.is_ccw
    assert words(other).startswith("Sleeve")


def test_a_piece_on_the_fold_printed_whole_is_twice_the_half_and_says_nothing_of_a_fold() -> None:
    (half,) = (p for p in pictures_of(SUBJECT) if p.name == "front bodice")
    (whole,) = (p for p in pictures_of(SUBJECT, {"front bodice": Choice(whole=True)}) if p.name == "front bodice")
    assert whole.area_mm2 == pytest.approx(2 * half.area_mm2, rel=1e-9)
    assert whole.quantity == "cut 1"
    assert not lines(whole, LineKind.FOLD)
    assert "place on fold" not in [label.text for label in whole.drawing.labels]
    assert len(lines(whole, LineKind.DART_LEG)) == 2 * len(lines(half, LineKind.DART_LEG))
    middle = next(line for line in lines(whole, LineKind.INNER) if np.allclose(line[:, 0], 0.0))
    assert LineString(middle).length == pytest.approx(338.0)


def test_whole_does_nothing_to_a_piece_without_a_fold() -> None:
    plain, asked = (pictures_of(SUBJECT, {"panel": Choice(whole=whole)})[0] for whole in (False, True))
    assert np.array_equal(plain.outline, asked.outline)


def altered() -> tuple[Pattern, tuple[Record, ...]]:
    cut = SlashCut((on_edge("centre back", 0.5), on_edge("side", 0.5)), 40.0, Hinge.NONE, Side.LEFT)
    return PATTERN, (Record("1", Slash("panel", (cut,))),)


def test_the_cuts_of_the_round_lie_where_the_piece_was_opened_and_can_be_left_out() -> None:
    base, records = altered()
    pattern = replay(base, records).pattern
    cuts = JournalChalk().cuts(base, records)
    with_lines, without = (pictures_of(Subject(pattern, TICKET, each))[0] for each in (cuts, ()))
    (chalk,) = lines(with_lines, LineKind.ALTERATION)
    assert PANEL_MM[1] / 2 - 1e-6 <= chalk[:, 1].min() <= chalk[:, 1].max() <= PANEL_MM[1] / 2 + 40 + 1e-6
    assert not lines(without, LineKind.ALTERATION)


def test_cuts_are_mirrored_and_opened_with_their_piece() -> None:
    base, records = altered()
    subject = Subject(replay(base, records).pattern, TICKET, JournalChalk().cuts(base, records))
    one, other = (p for p in pictures_of(subject, {"panel": Choice(pair=True)}) if p.name.startswith("panel"))
    (here,), (there,) = lines(one, LineKind.ALTERATION), lines(other, LineKind.ALTERATION)
    assert np.allclose(here * (-1, 1), there)


def test_where_a_piece_is_lengthened_there_is_a_double_line_with_its_words() -> None:
    picture = next(p for p in pictures_of(SUBJECT) if p.name == "front bodice")
    one, other = lines(picture, LineKind.LENGTHEN)
    assert LineString(one).distance(LineString(other)) == pytest.approx(3.0, abs=0.01)
    assert "lengthen or shorten" in [label.text for label in picture.drawing.labels]


def test_further_sizes_have_dashes_and_a_layer_of_their_own() -> None:
    larger = replace(panel(), size="16").moved(Affine(1.1, 0.0, 0.0, 1.1))
    picture = pictures_of(Subject(Pattern((panel(),), (), "14"), TICKET, others=(Pattern((larger,), (), "16"),)))[0]
    cutting = {stroke.size: stroke for stroke in picture.drawing.strokes if stroke.kind is LineKind.CUTTING}
    assert set(picture.drawing.by_size()) == set(cutting) == {"14", "16"}
    assert cutting["14"].style.dash_mm == ()
    assert cutting["16"].style.dash_mm == SIZE_DASHES_MM[0]
    assert {"14", "16"} <= {label.text for label in picture.drawing.labels}
    assert "sizes 14, 16" in words(picture)
    assert picture.box.width_mm == pytest.approx(1.1 * PANEL_MM[0] + 30.0)


def test_sizes_are_told_apart_by_their_dashes() -> None:
    assert len(set(SIZE_DASHES_MM)) == len(SIZE_DASHES_MM)


@pytest.mark.parametrize("turn_deg", [180.0, 225.0, -135.0])
@pytest.mark.parametrize("anchor", list(Anchor))
def test_words_on_a_piece_that_is_upside_down_are_turned_where_they_stand(turn_deg: float, anchor: Anchor) -> None:
    label = Label((30.0, 20.0), "place on fold", 3.6, 0.0, anchor).carried(Affine.turned(np.radians(turn_deg)))
    upright = righted(label)
    assert abs((upright.angle_deg - label.angle_deg) % 360 - 180) < 1e-9
    before, after = (ink_points(Drawing((), (each,))) for each in (label, upright))
    assert np.allclose(sorted(before.round(6).tolist()), sorted(after.round(6).tolist()), atol=1e-5)
    assert righted(upright) == upright


def test_a_turned_piece_keeps_its_words_readable() -> None:
    turned = pictures_of(SUBJECT)[1].carried(Affine.turned(np.pi))
    placed = lettered(turned, np.empty((0, 2)))
    assert all(-89.0 - 1e-9 <= label.angle_deg < 91.0 for label in placed.drawing.labels)


def test_a_ticket_without_facts_is_enough() -> None:
    assert words(pictures_of(Subject(PATTERN, Ticket()))[0]).startswith("Panel · size 14 · cut 2")
