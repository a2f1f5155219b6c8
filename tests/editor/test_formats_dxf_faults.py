import random
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from editor.formats.drawing import Drawing
from editor.formats.dxf_reader import read_drawing
from geometry.errors import PatternError
from tests.editor.formats_files import (
    SQUARE,
    block_tags,
    file_text,
    insert_tags,
    piece_document,
    polyline_tags,
    read_both,
    sample_text,
    saved,
    tag_text,
    written,
)


def mended(folder: Path, text: str | bytes, about: str = "") -> Drawing:
    """Read a faulty copy of the two squares: both must be whole, and a note must speak of the fault."""
    drawing = read_both(written(folder, text))
    for block in drawing.blocks:
        assert block.shapes[0].points.tolist() == [list(point) for point in SQUARE]
        assert block.shapes[0].closed
        assert block.shapes[0].layer == "1"
    assert len(drawing.blocks) == 2
    assert any(about in note for note in drawing.notes) if about else not drawing.notes
    return drawing


def refused(folder: Path, text: str | bytes, code: str, *words: str) -> None:
    with pytest.raises(PatternError) as caught:
        read_drawing(written(folder, text))
    assert caught.value.code == code
    assert "\n" not in caught.value.sentence
    assert caught.value.sentence.endswith(".")
    for word in ("drawing.dxf", *words):
        assert word in caught.value.sentence


def drawing_or_refusal(path: Path) -> Drawing | PatternError:
    try:
        return read_drawing(path)
    except PatternError as problem:
        return problem


# ---- no DXF at all ----


@pytest.mark.parametrize("content", [b"", b"\n\n", b"\xef\xbb\xbf", b"\x1a"])
def test_empty_file_is_refused(tmp_path: Path, content: bytes) -> None:
    refused(tmp_path, content, "empty-file", "is empty", "export")


@pytest.mark.parametrize(
    ("content", "kind"),
    [
        (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj", "a PDF"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "a PNG picture"),
        (b"PK\x03\x04rest", "a zip archive"),
        (b"AC1032\x00\x00\x00", "a DWG drawing"),
        (b"<svg xmlns='x'/>", "SVG"),
        (b"just some words\nin two lines\n", "no sections"),
        (bytes(range(256)) * 20, "no sections"),
        (b"0\n1\n2\n3\n", "no sections"),
    ],
)
def test_other_files_named_dxf_are_refused_by_what_they_are(tmp_path: Path, content: bytes, kind: str) -> None:
    refused(tmp_path, content, "not-dxf", kind)


def test_missing_file_and_folder_are_refused(tmp_path: Path) -> None:
    with pytest.raises(PatternError, match="There is no file"):
        read_drawing(tmp_path / "none.dxf")
    with pytest.raises(PatternError, match="is a folder"):
        read_drawing(tmp_path)


def test_drawing_without_a_line_is_refused(tmp_path: Path) -> None:
    refused(tmp_path, file_text([], []), "no-outline", "no line or outline")
    text = [(0, "TEXT"), (8, 1), (10, 0), (20, 0), (1, "Units: METRIC")]
    refused(tmp_path, file_text([], text), "no-outline")


# ---- cut off ----


def test_file_cut_anywhere_is_refused_or_whole(tmp_path: Path) -> None:
    """Whatever is left of a file after cutting it at any byte: either one sentence, or both squares."""
    text = saved(piece_document(), tmp_path).read_bytes()
    whole = read_drawing(written(tmp_path, text))
    random.seed(8)
    for at in [*random.sample(range(len(text) - 2), 150), *range(len(text) - 200, len(text) - 2, 3)]:
        path = written(tmp_path, text[:at], "cut.dxf")
        result = drawing_or_refusal(path)
        if isinstance(result, PatternError):
            assert result.code in ("cut-off", "not-dxf", "empty-file")
        else:
            assert result.blocks == whole.blocks
            assert result.notes


def test_file_cut_inside_its_blocks_names_the_last_whole_one(tmp_path: Path) -> None:
    text = sample_text()
    refused(tmp_path, text[: text.index("BLOCK", text.index("ENDBLK") + 6) + 60], "cut-off", "after block 'A'", "again")


def test_file_cut_inside_a_loose_outline_is_refused(tmp_path: Path) -> None:
    text = file_text([], polyline_tags())
    refused(tmp_path, text[: text.rindex("VERTEX")], "cut-off")
    refused(tmp_path, text[: text.rindex("SEQEND") - 4], "cut-off")


def test_binary_file_cut_off_is_refused(tmp_path: Path) -> None:
    data = saved(piece_document("R2000"), tmp_path, fmt="bin").read_bytes()
    refused(tmp_path, data[: data.index(b"FRONT_40") + 900], "cut-off")


# ---- containers that can be mended ----


@pytest.mark.parametrize(
    "change",
    [
        lambda text: text.replace("\n", "\r\n"),
        lambda text: text.replace("\n", "\r"),
        lambda text: text.replace("\n", "\r\r\n"),
        lambda text: "\ufeff" + text,
        lambda text: text.encode("utf-16"),
        lambda text: text + "\x1a",
        lambda text: text.rstrip("\n"),
        lambda text: text + "\n\n\n",
        lambda text: "\n".join(line.strip() for line in text.splitlines()) + "\n",
        lambda text: tag_text((999, "made by hand")) + text,
        lambda text: "".join(line.lower() if line[0].isalpha() else line for line in text.splitlines(True)),
    ],
    ids=[
        "crlf",
        "cr",
        "crcrlf",
        "bom",
        "utf16",
        "ctrl-z",
        "no-last-end",
        "blank-tail",
        "no-indent",
        "comment",
        "lower-case",
    ],
)
def test_other_line_ends_marks_and_cases_need_no_mending(tmp_path: Path, change: Any) -> None:
    text = change(sample_text().replace("\nA\n", "\n7\n").replace("\nB\n", "\n8\n"))
    assert [block.name for block in mended(tmp_path, text).blocks] == ["7", "8"]


def test_junk_behind_the_end_is_passed_over(tmp_path: Path) -> None:
    mended(tmp_path, sample_text() + "whatever\nfollows 12\n10\n\n")


@pytest.mark.parametrize(
    ("missing", "about"),
    [
        ("  0\nSEQEND\n", "SEQEND"),
        ("  0\nENDBLK\n", "ENDBLK"),
        ("  0\nENDSEC\n", "ENDSEC"),
        ("  0\nEOF\n", "end mark of the file"),
        ("  0\nENDSEC\n  0\nEOF\n", "end mark of the file"),
    ],
)
def test_missing_closers_are_put_in(tmp_path: Path, missing: str, about: str) -> None:
    mended(tmp_path, sample_text().replace(missing, ""), about)


@pytest.mark.parametrize("at", ["start", "between", "before value"])
def test_blank_lines_between_tags_are_passed_over(tmp_path: Path, at: str) -> None:
    text = sample_text()
    if at == "start":
        text = "\n" + text
    elif at == "between":
        text = text.replace("  0\nVERTEX\n", "\n  0\nVERTEX\n", 1)
    else:
        text = text.replace(" 10\n100.0\n", " 10\n\n100.0\n", 1)
    mended(tmp_path, text, "stray line")


@pytest.mark.parametrize("stray", ["page 3", "12", "-", "VERTEX"])
def test_stray_lines_between_tags_are_passed_over(tmp_path: Path, stray: str) -> None:
    text = sample_text()
    at = text.index("  0\nVERTEX", text.index("VERTEX") + 20)
    mended(tmp_path, f"{text[:at]}{stray}\n{text[at:]}", "stray line")


@pytest.mark.parametrize("rest", ["size forty", "40"])
def test_text_broken_over_two_lines_is_joined(tmp_path: Path, rest: str) -> None:
    text = [(0, "TEXT"), (8, 1), (10, 0), (20, 0), (1, f"Piece Name:\n{rest}")]
    drawing = read_both(written(tmp_path, file_text(block_tags("A", *text, *polyline_tags()), insert_tags("A"))))
    assert drawing.blocks[0].shapes[0].text == f"Piece Name: {rest}"
    assert drawing.notes


def test_decimal_commas_are_read_as_points_and_told(tmp_path: Path) -> None:
    drawing = mended(tmp_path, sample_text().replace("00.0\n", "00,0\n"), "decimal comma")
    assert len(drawing.notes) == 1


def test_commas_in_texts_are_left_alone(tmp_path: Path) -> None:
    text = [(0, "TEXT"), (8, 1), (10, 0), (20, 0), (1, "1,5")]
    drawing = read_both(written(tmp_path, file_text(block_tags("A", *polyline_tags(), *text), insert_tags("A"))))
    assert drawing.blocks[0].shapes[1].text == "1,5"
    assert not drawing.notes


# ---- names ----


@pytest.mark.parametrize("second", ["A", "a", "A "])
def test_blocks_of_one_name_stay_apart(tmp_path: Path, second: str) -> None:
    shifted = [(x + 500, y) for x, y in SQUARE]
    blocks = [*block_tags("A", *polyline_tags()), *block_tags(second, *polyline_tags(shifted))]
    drawing = read_both(written(tmp_path, file_text(blocks, [*insert_tags("A"), *insert_tags(second)])))
    assert [len(block.shapes) for block in drawing.blocks] == [1, 1]
    assert drawing.blocks[1].shapes[0].points[0].tolist() == [500, 0]
    assert drawing.blocks[1].name.strip().endswith("_2")
    assert "2 blocks are called 'A'" in drawing.notes[0]


def test_nth_insert_of_a_doubled_name_places_its_nth_block(tmp_path: Path) -> None:
    blocks = [*block_tags("A", *polyline_tags()), *block_tags("A", *polyline_tags())]
    inserts = [*insert_tags("A"), *insert_tags("A", (41, 2.0), (42, 2.0))]
    first, second = read_both(written(tmp_path, file_text(blocks, inserts))).blocks
    assert (first.shapes[0].points.max(), second.shapes[0].points.max()) == (200, 400)


@pytest.mark.parametrize("name", ["Front/Left", "a<b>c", "back;x", "wie?", "50% | *", "前片", "x" * 300])
def test_names_other_readers_refuse_are_kept(tmp_path: Path, name: str) -> None:
    circle = [(0, "CIRCLE"), (8, "in/side"), (10, 0), (20, 0), (40, 5)]
    blocks = block_tags(name, *polyline_tags(layer="01"), *circle)
    (block,) = read_both(written(tmp_path, file_text(blocks, insert_tags(name)))).blocks
    assert block.name == name
    assert [shape.layer for shape in block.shapes] == ["1", "in/side"]


def test_block_without_a_name_gets_one(tmp_path: Path) -> None:
    drawing = mended(tmp_path, sample_text().replace("\nA\n", "\n\n"), "unnamed")
    assert [block.name for block in drawing.blocks] == ["unnamed", "B"]


def test_layout_blocks_and_accessories_are_no_pieces(tmp_path: Path) -> None:
    line = [(0, "LINE"), (8, 0), (10, 0), (20, 0), (11, 1), (21, 1)]
    names = ("$MODEL_SPACE", "*Paper_Space0", "_DOT", "*D3")
    blocks = [tag for name in names for tag in block_tags(name, *line)] + block_tags("A", *polyline_tags())
    drawing = read_both(written(tmp_path, file_text(blocks, insert_tags("A"))))
    assert [block.name for block in drawing.blocks] == ["A"]
    assert len(drawing.loose) == 1
    assert drawing.unused == (("LINE", "0", 3),)


# ---- letters ----


def named_file(name: bytes, header: bytes = b"") -> bytes:
    return header + sample_text().encode().replace(b"\nA\n", b"\n" + name + b"\n")


@pytest.mark.parametrize(
    ("name", "page", "read"),
    [
        ("Rücken".encode(), "", "Rücken"),
        ("Rücken".encode("cp1252"), "ANSI_1252", "Rücken"),
        ("前片".encode("gbk"), "ANSI_936", "前片"),
        ("前片".encode("gbk"), "gb2312", "前片"),
        ("Záda".encode("cp852"), "dos852", "Záda"),
    ],
)
def test_letters_are_read_by_the_stated_code_page(tmp_path: Path, name: bytes, page: str, read: str) -> None:
    header = tag_text((0, "SECTION"), (2, "HEADER"), (9, "$DWGCODEPAGE"), (3, page), (0, "ENDSEC")) if page else ""
    drawing = read_both(written(tmp_path, named_file(name, header.encode())))
    assert drawing.blocks[0].name == read


def test_letters_without_a_code_page_are_guessed_and_told(tmp_path: Path) -> None:
    path = written(tmp_path, named_file("Rücken".encode("cp1252")))
    drawing = read_both(path)
    assert drawing.blocks[0].name == "Rücken"
    assert "cp1252" in drawing.notes[0]
    assert read_both(path, encoding="cp850").blocks[0].name != "Rücken"
    with pytest.raises(PatternError, match="not a known coding"):
        read_drawing(path, encoding="klingon")


# ---- newer entities under an old label ----


@pytest.mark.parametrize("marks", [True, False])
@pytest.mark.parametrize("version", ["", "AC1009", "AC1012", "AC1014"])
def test_newer_entities_in_files_labelled_older_keep_layer_and_closing(
    tmp_path: Path, version: str, marks: bool
) -> None:
    mark = [(100, "AcDbEntity")] if marks else []
    own = [(100, "AcDbPolyline")] if marks else []
    vertices = [(code, value) for point in SQUARE for code, value in zip((10, 20), point, strict=True)]
    lwpolyline = [(0, "LWPOLYLINE"), (5, "2F"), *mark, (8, 1), *own, (90, 4), (70, 1), *vertices]
    blocks = [*block_tags("A", *lwpolyline), *block_tags("B", *lwpolyline)]
    mended(tmp_path, file_text(blocks, [*insert_tags("A"), *insert_tags("B")], version))


def test_doubled_handles_lose_nothing(tmp_path: Path) -> None:
    arcs = [(0, "ARC"), (5, "2F"), (8, 1), (10, 0), (20, 0), (40, 5), (50, 0), (51, 90)] * 9
    drawing = read_both(written(tmp_path, file_text([], arcs, "AC1015")))
    assert len(drawing.loose) == 9


# ---- numbers ----


@pytest.mark.parametrize("bad", ["nan", "1e400", "-1.#IND", "1.0E 20", "abc1", "1,234.5"])
def test_numbers_that_are_none_are_refused_with_line_and_block(tmp_path: Path, bad: str) -> None:
    text = sample_text().replace("\n100.0\n", f"\n{bad}\n", 1)
    line = text.splitlines().index(bad) + 1
    refused(tmp_path, text, "bad-number", "block 'A'", f"line {line},", bad)


def test_impossibly_large_coordinates_are_refused_with_the_block(tmp_path: Path) -> None:
    refused(tmp_path, sample_text().replace("\n100.0\n", "\n1e9\n", 1), "bad-number", "block 'A'", "impossibly large")


def test_vertex_without_a_place_is_left_out_with_a_note(tmp_path: Path) -> None:
    text = sample_text().replace("  0\nSEQEND\n", "  0\nVERTEX\n  8\n1\n 10\n5.0\n  0\nSEQEND\n", 1)
    mended(tmp_path, text, "VERTEX in block 'A'")


@pytest.mark.parametrize("flags", ["1", "1.0", "129", " 1"])
def test_closed_flag_is_read_as_a_bit(tmp_path: Path, flags: str) -> None:
    mended(tmp_path, sample_text().replace(" 66\n1\n 70\n1\n", f" 66\n1\n 70\n{flags}\n"))


def test_repeated_first_vertex_closes_and_is_dropped(tmp_path: Path) -> None:
    closing = polyline_tags([*SQUARE, SQUARE[0]], flags=0)
    blocks = [*block_tags("A", *closing), *block_tags("B", *polyline_tags([*SQUARE, SQUARE[0]]))]
    mended(tmp_path, file_text(blocks, [*insert_tags("A"), *insert_tags("B")]))


def test_line_without_an_end_is_counted_as_unused(tmp_path: Path) -> None:
    line = [(0, "LINE"), (8, 7), (10, 0), (20, 0)]
    drawing = read_both(written(tmp_path, file_text(block_tags("A", *line, *polyline_tags()), insert_tags("A"))))
    assert drawing.unused == (("LINE", "7", 1),)


def test_blocks_that_multiply_each_other_are_refused(tmp_path: Path) -> None:
    blocks = [tag for n in range(7) for tag in block_tags(f"B{n}", *polyline_tags(), *insert_tags(f"B{n + 1}") * 12)]
    text = file_text([*blocks, *block_tags("B7", *polyline_tags())], insert_tags("B0"))
    with pytest.raises(PatternError, match="too many times"):
        read_drawing(written(tmp_path, text))


def test_spoilt_files_give_a_sentence_or_a_drawing_and_never_a_trace(tmp_path: Path) -> None:
    """Random bytes changed, dropped or doubled, in a file for the lean and one for the full reader."""
    rng = np.random.default_rng(11)
    for version in ("R12", "R2000"):
        document = piece_document(version)
        document.modelspace().add_circle((0, 0), 4)
        sound = saved(document, tmp_path).read_bytes()
        sound = sound[sound.index(b"BLOCKS") - 30 :]
        for _ in range(60):
            data = bytearray(sound)
            for at in rng.integers(0, len(data) - 40, size=3).tolist():
                data[at : at + int(rng.integers(0, 4))] = rng.integers(
                    32, 127, size=int(rng.integers(0, 4)), dtype=np.uint8
                ).tobytes()
            result = drawing_or_refusal(written(tmp_path, bytes(data), "spoilt.dxf"))
            assert result.sentence.endswith(".") if isinstance(result, PatternError) else result.blocks
