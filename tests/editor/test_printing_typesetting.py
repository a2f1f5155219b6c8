"""Blocks that flow over pages."""

from editor.printing.picture import Box, Drawing
from editor.printing.typesetting import BODY_MM, Block, flowed, start_label, table_blocks

ROOM = Box(10.0, 10.0, 110.0, 110.0)


def block(name: str, height_mm: float, **more) -> Block:
    return Block(Drawing((), (start_label(name, (0.0, 0.0), BODY_MM),)), height_mm, **more)


def names(pages: list[Drawing]) -> list[list[str]]:
    return [[label.text for label in page.labels] for page in pages]


def test_blocks_stand_below_each_other_from_the_top():
    (page,) = flowed([[block("a", 20.0), block("b", 30.0)]], ROOM)
    assert [label.at for label in page.labels] == [(10.0, 110.0), (10.0, 90.0)]


def test_a_section_that_would_be_broken_begins_a_page_where_one_holds_it():
    first, second = [block("a", 40.0)], [block("b", 40.0), block("c", 40.0)]
    assert names(flowed([first, second], ROOM)) == [["a"], ["b", "c"]]


def test_a_section_longer_than_a_page_begins_where_the_one_before_ends():
    assert names(flowed([[block("a", 40.0)], [block(each, 40.0) for each in "bcd"]], ROOM)) == [["a", "b"], ["c", "d"]]


def test_a_heading_goes_with_what_follows_it():
    section = [block("a", 80.0), block("head", 10.0, leads=True), block("b", 30.0), block("c", 70.0)]
    assert names(flowed([section], ROOM)) == [["a"], ["head", "b"], ["c"]]


def test_the_heads_of_a_table_come_again_on_its_next_page():
    rows = [(f"row {number}", "1") for number in range(40)]
    pages = names(flowed([table_blocks(("Head", "mm"), rows, (0.5, 0.5), 100.0)], ROOM))
    assert len(pages) == 3
    assert all(page[:2] == ["Head", "mm"] for page in pages)
    assert [text for page in pages for text in page if text.startswith("row")] == [name for name, _ in rows]
