"""Words set in columns: labels, headings, paragraphs and tables, and the pages they flow over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from editor.printing.lettering import CAPITAL, shortened, wrapped
from editor.printing.picture import Anchor, Box, Drawing, Label, LineKind, joined, line
from geometry.affine import Affine, Point

SMALL_MM: Final = 2.6
BODY_MM: Final = 3.2
HEADING_MM: Final = 3.6
LEADING: Final = 1.36
PALE: Final = 0.35


def start_label(text: str, at: Point, height_mm: float, *, bold: bool = False, grey: float = 0.0) -> Label:
    """Words that begin at a place."""
    return Label(at, text, height_mm, anchor=Anchor.START, bold=bold, grey=grey)


def heading(text: str, box: Box, top: float) -> Label:
    """A heading whose capitals reach up to ``top``."""
    return start_label(text, (box.x0, top - HEADING_MM * CAPITAL), HEADING_MM, bold=True)


def text_height_mm(text: str, width_mm: float) -> float:
    """How high a paragraph gets."""
    return len(wrapped(text, width_mm, BODY_MM)) * BODY_MM * LEADING


def paragraphs(
    texts: Sequence[str], box: Box, top: float, *, gap_mm: float = 2.0, numbered: bool = False
) -> tuple[Drawing, float]:
    """Wrapped text from ``top`` downwards; also says where it ends."""
    labels = []
    indent = box.x0 + (5.0 if numbered else 0.0)
    for number, text in enumerate(texts, start=1):
        if numbered:
            labels.append(start_label(str(number), (box.x0, top - BODY_MM * CAPITAL), BODY_MM, bold=True))
        for row in wrapped(text, box.x1 - indent, BODY_MM):
            labels.append(start_label(row, (indent, top - BODY_MM * CAPITAL), BODY_MM))
            top -= BODY_MM * LEADING
        top -= gap_mm
    return Drawing((), tuple(labels)), top


@dataclass(frozen=True, slots=True)
class Block:
    """Something that stays together on a page.

    Attributes:
        drawing: It, with its upper left corner at (0, 0).
        height_mm: How high it is.
        leads: Whether it may not stand at the foot of a page: a heading.
        again: What comes before it where it begins a page: the heads of its table.
    """

    drawing: Drawing
    height_mm: float
    leads: bool = False
    again: tuple[Block, ...] = ()


def height_of(blocks: Iterable[Block]) -> float:
    """How high the blocks are together."""
    return sum(block.height_mm for block in blocks)


def heading_block(text: str, width_mm: float) -> Block:
    """A heading over a rule, with air above."""
    rule = line((0.0, -10.6), (width_mm, -10.6), LineKind.RULE)
    label = start_label(text, (0.0, -5.6 - HEADING_MM * CAPITAL), 4.2, bold=True)
    return Block(Drawing((rule,), (label,)), 13.6, leads=True)


def text_block(
    text: str,
    width_mm: float,
    *,
    lead: str = "",
    indent_mm: float = 0.0,
    bold: bool = False,
    grey: float = 0.0,
    gap_mm: float = 1.3,
) -> Block:
    """A paragraph; ``lead`` stands in bold before it, in the indent."""
    rows = wrapped(text, width_mm - indent_mm, BODY_MM, bold=bold)
    labels = [start_label(lead, (0.0, -BODY_MM * CAPITAL), BODY_MM, bold=True)] if lead else []
    for number, row in enumerate(rows):
        at = (indent_mm, -BODY_MM * (CAPITAL + LEADING * number))
        labels.append(start_label(row, at, BODY_MM, bold=bold, grey=grey))
    return Block(Drawing((), tuple(labels)), len(rows) * BODY_MM * LEADING + gap_mm)


def table_blocks(
    heads: Sequence[str], rows: Iterable[Sequence[str]], shares: Sequence[float], width_mm: float
) -> list[Block]:
    """A row of heads and then the rows; the first column starts at the left and is wrapped, the others end right."""
    edges = [width_mm * sum(shares[: index + 1]) for index in range(len(shares))]
    head = replace(_row(heads, edges, SMALL_MM, LineKind.RULE, grey=PALE), leads=True)
    body = [replace(_row(row, edges, BODY_MM, LineKind.FRAME), again=(head,)) for row in rows]
    return [head, *body, Block(Drawing(), 2.0)]


def _row(cells: Sequence[str], edges: Sequence[float], size_mm: float, rule: LineKind, *, grey: float = 0.0) -> Block:
    base, labels = -size_mm * CAPITAL - 0.9, []
    first = wrapped(cells[0], edges[0] - 2.0, size_mm)
    for number, row in enumerate(first):
        labels.append(start_label(row, (0.0, base - number * size_mm * LEADING), size_mm, grey=grey))
    for cell, left, right in zip(cells[1:], edges[:-1], edges[1:], strict=True):
        words = shortened(cell, right - left - 2.0, size_mm)
        labels.append(Label((right, base), words, size_mm, anchor=Anchor.END, grey=grey))
    height = len(first) * size_mm * LEADING + 1.8
    under = line((0.0, -height + 0.4), (edges[-1], -height + 0.4), rule)
    return Block(Drawing((under,), tuple(labels)), height)


def side_by_side(left: Block, right: Iterable[Block], at_mm: float) -> Block:
    """A drawing at the left and blocks below each other at the right of it."""
    down, parts = 0.0, [left.drawing]
    for block in right:
        parts.append(block.drawing.carried(Affine.moved(at_mm, -down)))
        down += block.height_mm
    return Block(joined(parts), max(left.height_mm, down))


def flowed(sections: Iterable[Sequence[Block]], room: Box) -> list[Drawing]:
    """The blocks on as many pages as they need.

    A section that would be broken and has room on a page begins one; what leads goes with what follows it.
    """
    pages: list[list[Block]] = [[]]
    for section in sections:
        if room.height_mm - height_of(pages[-1]) < height_of(section) <= room.height_mm:
            pages.append([])
        for run in _runs(section):
            if pages[-1] and height_of([*pages[-1], *run]) > room.height_mm:
                pages.append(list(run[0].again))
            pages[-1].extend(run)
    return [_stacked(page, room) for page in pages if page]


def _runs(blocks: Sequence[Block]) -> Iterator[Sequence[Block]]:
    """What stays together: headings and the block that follows them."""
    first = 0
    for index, block in enumerate(blocks):
        if not block.leads or index == len(blocks) - 1:
            yield blocks[first : index + 1]
            first = index + 1


def _stacked(blocks: Iterable[Block], room: Box) -> Drawing:
    top, parts = room.y1, []
    for block in blocks:
        parts.append(block.drawing.carried(Affine.moved(room.x0, top)))
        top -= block.height_mm
    return joined(parts)
