"""The sheet to take to the cutting table: what a round alters, so that it can be done and checked by hand."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from editor.by_hand import HandWork, by_hand
from editor.printing import wording
from editor.printing.lettering import CAPITAL, shortened
from editor.printing.letters import letter_findings
from editor.printing.paper import Paper
from editor.printing.picture import Anchor, Box, Drawing, Label, LineKind, line
from editor.printing.piece_figures import before_and_after, cutting_figure, figure_key, size_sentences
from editor.printing.piece_label import quantity_words
from editor.printing.typesetting import (
    HEADING_MM,
    PALE,
    SMALL_MM,
    Block,
    flowed,
    heading_block,
    height_of,
    side_by_side,
    start_label,
    table_blocks,
    text_block,
)
from editor.text import CAUTIONS, SEEN_MM, column_change, column_length, in_unit, step_sentence
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.replay import Record, Replay
from geometry.checks.pairing import seams_of
from geometry.checks.walking import side_mm
from geometry.errors import MissingPartError
from geometry.findings import Finding, Level
from geometry.fitting.garment_table import Row
from geometry.model.pattern import EdgeRef, Pattern, Seam, SeamSide
from geometry.model.piece import Piece
from geometry.units import Unit

_MARGIN_MM: Final = 15.0
_HEADER_MM: Final = 24.0
_FOOT_MM: Final = 8.0
_TITLE_MM: Final = 8.5
_NUMBER_MM: Final = 8.0
_FIGURE_MM: Final = 105.0
_LEAST_FIGURE_MM: Final = 64.0
_FIGURE_AIR_MM: Final = 1.0
_CUT_FIGURE_MM: Final = 52.0
_CUT_FIGURE_HIGH_MM: Final = (42.0, 58.0)


@dataclass(frozen=True, slots=True)
class AlteredRound:
    """What the sheet tells of.

    Attributes:
        title: The pattern.
        details: Wearer, size, round, date; only what is known.
        start: The pattern before the round.
        records: The journal.
        replay: The journal carried out.
        unit: For the lengths.
        findings: What the checks have to say.
        rows: What the garment measures beside the wearer; empty where nothing is known.
        notes: What was seen on the last toile.
    """

    title: str
    details: tuple[str, ...]
    start: Pattern
    records: tuple[Record, ...]
    replay: Replay
    unit: Unit
    findings: tuple[Finding, ...] = ()
    rows: tuple[Row, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def pattern(self) -> Pattern:
        """The pattern as altered."""
        return self.replay.pattern

    @property
    def letter_findings(self) -> tuple[Finding, ...]:
        """What is to be said of names and notes whose letters do not come out as they are written."""
        words = (self.title, *self.details, *self.notes, *(record.note for record in self.records))
        names = [(text, "") for text in words] + [(piece.name, piece.name) for piece in self.pattern.pieces]
        return letter_findings(names)

    def before(self, record_id: str) -> Pattern:
        """The pattern that a record was carried out on."""
        pattern = self.start
        for outcome in self.replay.outcomes:
            if outcome.record_id == record_id:
                break
            pattern = outcome.pattern
        return pattern


def alteration_sheet(
    altered: AlteredRound, paper: Paper, *, progress: Callable[[int, int], bool] | None = None
) -> tuple[Drawing, ...]:
    """The pages, in mm from the lower left corner of upright sheets of the paper.

    ``progress`` is called with pieces done and pieces in all; ``False`` from it stops the work, and there are no pages.
    """
    width_mm = paper.width_mm - 2 * _MARGIN_MM
    room = Box(
        _MARGIN_MM, _MARGIN_MM + _FOOT_MM, paper.width_mm - _MARGIN_MM, paper.height_mm - _MARGIN_MM - _HEADER_MM
    )
    parts = [list(part(altered, width_mm)) for part in _PARTS]
    for done, part in enumerate(_pieces(altered, width_mm, room.height_mm), start=1):
        parts.append(part)
        if progress is not None and not progress(min(done, len(altered.pattern.pieces)), len(altered.pattern.pieces)):
            return ()
    pages = flowed([part for part in parts if part], room)
    return tuple(
        page + _header(altered, paper) + _foot(number, len(pages), paper) for number, page in enumerate(pages, start=1)
    )


def _header(altered: AlteredRound, paper: Paper) -> Drawing:
    x0, x1, top = _MARGIN_MM, paper.width_mm - _MARGIN_MM, paper.height_mm - _MARGIN_MM
    base = top - _TITLE_MM * CAPITAL
    rule = line((x0, top - 17.0), (x1, top - 17.0), LineKind.RULE)
    title = shortened(altered.title, x1 - x0 - 50.0, _TITLE_MM, bold=True)
    details = shortened(" · ".join(altered.details), x1 - x0, HEADING_MM)
    return Drawing(
        (rule,),
        (
            start_label(title, (x0, base), _TITLE_MM, bold=True),
            Label((x1, base), wording.ALTERATION_SHEET, HEADING_MM, anchor=Anchor.END, grey=PALE),
            start_label(details, (x0, base - 6.6), HEADING_MM),
        ),
    )


def _foot(number: int, count: int, paper: Paper) -> Drawing:
    at = (paper.width_mm - _MARGIN_MM, _MARGIN_MM)
    return Drawing((), (Label(at, wording.page_of(number, count), SMALL_MM, anchor=Anchor.END, grey=PALE),))


def _steps(altered: AlteredRound, width_mm: float) -> Iterator[Block]:
    yield heading_block(wording.STEPS_HEADING, width_mm)
    if not altered.records:
        yield text_block(wording.NO_STEPS, width_mm)
    for number, record in enumerate(altered.records, start=1):
        sentence = step_sentence(record.step, altered.unit)
        state = "" if record.on else wording.SWITCHED_OFF
        if any(finding.level is Level.STOP for finding in _said(altered, record)):
            state = wording.DID_NOT_FIT
        yield text_block(f"{sentence}.{state}", width_mm, lead=str(number), indent_mm=_NUMBER_MM, gap_mm=0.5)
        if record.note:
            yield text_block(record.note, width_mm, indent_mm=_NUMBER_MM, grey=PALE)


def _said(altered: AlteredRound, record: Record) -> tuple[Finding, ...]:
    return next((o.findings for o in altered.replay.outcomes if o.record_id == record.id), ())


def _seams(altered: AlteredRound, width_mm: float) -> Iterator[Block]:
    """Every seam with a side that is longer or shorter now."""
    rows = [row for seam in seams_of(altered.pattern) if (row := _seam_row(altered, seam))]
    if not rows:
        return
    yield heading_block(wording.SEAMS_HEADING, width_mm)
    yield from table_blocks(wording.seam_heads(altered.unit), rows, (0.46, 0.2, 0.2, 0.14), width_mm)


def _seam_row(altered: AlteredRound, seam: Seam) -> tuple[str, ...]:
    sides = [(_sewn_mm(altered.start, side), _sewn_mm(altered.pattern, side)) for side in seam.sides]
    if all(after is None or before is None or abs(after - before) < SEEN_MM for before, after in sides):
        return ()
    apart = (sides[0][1] or 0.0) - (sides[1][1] or 0.0)
    names = [wording.edges_of(_by_piece(refs)) for refs in (seam.first, seam.second)]
    lengths = [wording.was_is(*(_words(mm, altered.unit) for mm in side)) for side in sides]
    return (wording.capital(wording.sewn_to(*names)), *lengths, column_change(apart, altered.unit))


def _by_piece(refs: Sequence[EdgeRef]) -> dict[str, list[str]]:
    pieces: dict[str, list[str]] = {}
    for ref in refs:
        pieces.setdefault(ref.piece, []).append(ref.edge)
    return pieces


def _sewn_mm(pattern: Pattern, side: SeamSide) -> float | None:
    try:
        return side_mm(pattern, side)
    except MissingPartError:
        return None


def _garment(altered: AlteredRound, width_mm: float) -> Iterator[Block]:
    """What it measures beside the wearer; where nobody was measured, what changed."""
    unit, is_known = altered.unit, any(row.body_mm is not None for row in altered.rows)
    shown = [row for row in altered.rows if is_known or abs(_change_mm(row)) >= SEEN_MM]
    if not shown:
        return
    yield heading_block(wording.GARMENT_HEADING, width_mm)
    if is_known:
        rows = [_beside_body(row, unit) for row in shown]
        yield from table_blocks(wording.garment_heads(unit), rows, (0.3, 0.13, 0.14, 0.14, 0.13, 0.16), width_mm)
    else:
        rows = [_by_itself(row, unit) for row in shown]
        yield from table_blocks(wording.unmeasured_heads(unit), rows, (0.4, 0.2, 0.2, 0.2), width_mm)
    for row in shown:
        if row.words(unit):
            yield text_block(row.words(unit), width_mm, lead="!", indent_mm=_NUMBER_MM / 2)


def _change_mm(row: Row) -> float:
    return 0.0 if row.before_mm is None or row.after_mm is None else row.after_mm - row.before_mm


def _beside_body(row: Row, unit: Unit) -> tuple[str, ...]:
    usual = "" if row.usual_mm is None else "–".join(column_length(mm, unit) for mm in row.usual_mm)
    lengths = (row.body_mm, row.before_mm, row.after_mm, row.ease_after_mm)
    return (wording.capital(row.measure.value), *(_words(mm, unit) for mm in lengths), usual)


def _by_itself(row: Row, unit: Unit) -> tuple[str, ...]:
    lengths = (_words(row.before_mm, unit), _words(row.after_mm, unit))
    return (wording.capital(row.measure.value), *lengths, column_change(_change_mm(row), unit))


def _words(length_mm: float | None, unit: Unit) -> str:
    return "–" if length_mm is None else column_length(length_mm, unit).replace("-", "−")


def _toile(altered: AlteredRound, width_mm: float) -> Iterator[Block]:
    """What to look at, from the handbook and from the checks."""
    alterations = [record.step for record in altered.records if record.on and isinstance(record.step, Alteration)]
    looks = [text for step in alterations for text in entry_of(step.entry).check_after]
    looks += [in_unit(each.text, altered.unit) for each in altered.findings if each.level is not Level.NOTE]
    yield heading_block(wording.TOILE_HEADING, width_mm)
    for text in dict.fromkeys((*looks, *wording.TOILE_ALWAYS)):
        yield text_block(text, width_mm, lead="☐", indent_mm=_NUMBER_MM)
    for note in altered.notes:
        yield text_block(wording.seen(note), width_mm, lead="☐", indent_mm=_NUMBER_MM)


def _cautions(_: AlteredRound, width_mm: float) -> Iterator[Block]:
    yield heading_block(wording.CAUTIONS_HEADING, width_mm)
    for text in CAUTIONS:
        yield text_block(text, width_mm)


def _pieces(altered: AlteredRound, width_mm: float, height_mm: float) -> Iterator[list[Block]]:
    """Every altered piece before and after, and how it is done."""
    known = {piece.name: piece for piece in altered.start.pieces}
    works = {
        number: by_hand(record.step, altered.before(record.id), altered.unit)
        for number, record in enumerate(altered.records, start=1)
        if record.on
    }
    for after in altered.pattern.pieces:
        before = known.get(after.name)
        if after is before:
            continue
        mine = [(number, work) for number, each in works.items() for work in each if work.before.name == after.name]
        hands = list(_by_hand(after, mine, width_mm))
        yield [*_figure(before, after, altered.unit, width_mm, height_mm - height_of(hands)), *hands]


def _figure(before: Piece | None, after: Piece, unit: Unit, width_mm: float, room_mm: float) -> Iterator[Block]:
    """The drawing with its lengths, somewhat smaller where the rest then has room below it."""
    around = [_piece_heading(after, width_mm), figure_key(hands=False)]
    sizes = [text_block(text, width_mm, grey=PALE) for text in size_sentences(before, after, unit)]
    high_mm = room_mm - height_of([*around, *sizes]) - _FIGURE_AIR_MM
    yield from around
    yield before_and_after(
        before, after, unit, width_mm=width_mm,
        height_mm=min(high_mm, _FIGURE_MM) if high_mm >= _LEAST_FIGURE_MM else _FIGURE_MM,
    )  # fmt: skip
    yield from sizes


def _piece_heading(piece: Piece, width_mm: float, *, continued: bool = False) -> Block:
    words = wording.CONTINUED if continued else quantity_words(piece)
    return heading_block(f"{wording.capital(piece.name)} · {words}", width_mm)


def _by_hand(piece: Piece, works: Sequence[tuple[int, HandWork]], width_mm: float) -> Iterator[Block]:
    key = figure_key(hands=True)
    again = (_piece_heading(piece, width_mm, continued=True), key)
    for index, (number, work) in enumerate(works):
        if index == 0:
            yield replace(key, again=again[:1])
        yield replace(_hand_block(number, work, width_mm), again=again)


def _hand_block(number: int, work: HandWork, width_mm: float) -> Block:
    column = width_mm - _CUT_FIGURE_MM - 8.0
    words = [text_block(wording.step(number), column, bold=True, gap_mm=1.2)]
    words += [text_block(text, column, lead="•", indent_mm=3.5, gap_mm=0.8) for text in work.sentences]
    low, high = _CUT_FIGURE_HIGH_MM
    figure = cutting_figure(work, width_mm=_CUT_FIGURE_MM, height_mm=min(max(height_of(words), low), high))
    block = side_by_side(figure, words, _CUT_FIGURE_MM + 8.0)
    return Block(block.drawing, block.height_mm + 3.0)


_PARTS: Final = (_steps, _seams, _toile, _cautions, _garment)
