"""Drawings made to harm: they place themselves, swell, hold no numbers; each gets one sentence or opens."""

from __future__ import annotations

import math
import subprocess
import sys
from pathlib import Path

import pytest

from editor.atomic_file import write_whole
from editor.formats import dxf_container, dxf_reader
from editor.formats.dxf_reader import read_drawing
from editor.formats.import_pattern import import_pattern
from geometry.errors import PatternError
from geometry.units import Unit
from tests.editor.formats_files import block_tags, file_text, insert_tags, polyline_tags, sample_text, tag_text, written

ROOT = Path(__file__).parents[2]


def refusal(path: Path) -> str:
    with pytest.raises(PatternError) as refused:
        import_pattern(path, unit=Unit.MM)
    assert "\n" not in refused.value.sentence
    return refused.value.sentence


def line(x0: float, y0: float, x1: float, y1: float) -> list[tuple[int, object]]:
    return [(0, "LINE"), (8, 1), (10, x0), (20, y0), (11, x1), (21, y1)]


def doubling_blocks(depth: int) -> str:
    """Each block places the one before it ten times: ten to the power of ``depth`` squares."""
    blocks = [*block_tags("B0", *polyline_tags())]
    for level in range(1, depth):
        inserts = [tag for _ in range(10) for tag in insert_tags(f"B{level - 1}")]
        blocks += block_tags(f"B{level}", *line(0, 0, 1, 1), *inserts)
    return file_text(blocks, insert_tags(f"B{depth - 1}"))


def test_blocks_that_multiply_each_other_are_refused(tmp_path: Path) -> None:
    assert "place each other too many times" in refusal(written(tmp_path, doubling_blocks(8)))


def test_a_block_that_places_itself_and_two_that_place_each_other_are_read_once(tmp_path: Path) -> None:
    own = block_tags("A", *polyline_tags(), *insert_tags("A"))
    mutual = block_tags("B", *polyline_tags(), *insert_tags("C")) + block_tags(
        "C", *line(0, 0, 9, 9), *insert_tags("B")
    )
    drawing = read_drawing(written(tmp_path, file_text([*own, *mutual], [*insert_tags("A"), *insert_tags("B")])))
    assert {block.name for block in drawing.blocks} == {"A", "B"}
    assert sum("places itself" in note for note in drawing.notes) == 2


def test_blocks_a_thousand_deep_do_not_run_out_of_calls(tmp_path: Path) -> None:
    blocks = [*block_tags("B0", *polyline_tags())]
    for level in range(1, 1000):
        blocks += block_tags(f"B{level}", *line(0, 0, 5, 5), *insert_tags(f"B{level - 1}"))
    text = file_text(blocks, [*insert_tags("B999"), *polyline_tags()])
    drawing = read_drawing(written(tmp_path, text))
    assert any("nested deeper" in note for note in drawing.notes)


@pytest.mark.parametrize("count", ["100000", "2147483648", "-5"])
def test_rows_and_columns_without_end_are_refused_or_one(count: str, tmp_path: Path) -> None:
    insert = [*insert_tags("A"), (70, count), (71, count), (44, 1), (45, 1)]
    path = written(tmp_path, file_text(block_tags("A", *polyline_tags()), insert))
    try:
        assert len(read_drawing(path).blocks) == 1
    except PatternError as error:
        assert "placed" in error.sentence  # noqa: PT017 - either it is one copy or it says why not


@pytest.mark.parametrize("number", ["nan", "inf", "-inf", "1e309", "1e300", "1e7", "9" * 400])
def test_a_place_that_is_none_or_past_all_bounds_is_refused_with_its_line(number: str, tmp_path: Path) -> None:
    text = sample_text().replace("\n100.0\n", f"\n{number}\n", 1).replace("\n100\n", f"\n{number}\n", 1)
    assert number in text
    assert "line" in refusal(written(tmp_path, text))


def test_a_piece_that_reaches_farther_than_a_kilometre_in_the_stated_unit_is_refused(tmp_path: Path) -> None:
    path = written(tmp_path, file_text([], [*line(0, 0, 9e5, 0), *line(9e5, 0, 0, 9e5), *line(0, 9e5, 0, 0)]))
    with pytest.raises(PatternError, match="farther than a kilometre"):
        import_pattern(path, unit=Unit.INCH)


def circle_of(vertices: int) -> str:
    places = [
        (500 + 400 * math.cos(math.tau * i / vertices), 500 + 400 * math.sin(math.tau * i / vertices))
        for i in range(vertices)
    ]
    body = "".join(f"0\nVERTEX\n8\n1\n10\n{x:.6f}\n20\n{y:.6f}\n" for x, y in places)
    head = tag_text((0, "SECTION"), (2, "ENTITIES"), (0, "POLYLINE"), (8, 1), (66, 1), (70, 1))
    return head + body + tag_text((0, "SEQEND"), (0, "ENDSEC"), (0, "EOF"))


@pytest.mark.slow
def test_a_million_vertices_are_refused_in_less_than_a_gibibyte(tmp_path: Path) -> None:
    path = written(tmp_path, circle_of(1_000_000))
    code = (
        "import resource, sys\n"
        "resource.setrlimit(resource.RLIMIT_DATA, (1 << 30, 1 << 30))\n"
        "from editor.cli import main\n"
        "raise SystemExit(main(['info', sys.argv[1], '--units', 'mm']))\n"
    )
    ran = subprocess.run([sys.executable, "-c", code, str(path)], capture_output=True, text=True, timeout=120, cwd=ROOT)
    assert ran.returncode == 2, ran.stderr
    assert "one line of 1000000 points" in ran.stderr
    assert "Traceback" not in ran.stderr


def test_an_outline_of_as_many_points_as_there_may_be_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dxf_reader, "MOST_POINTS", 500)
    path = written(tmp_path, circle_of(500))
    assert sum(len(edge.points) - 1 for edge in import_pattern(path, unit=Unit.MM).nest.sample.pieces[0].edges) == 500
    monkeypatch.setattr(dxf_reader, "MOST_POINTS", 499)
    assert "no line of a pattern has more than 499" in refusal(path)


def test_more_lines_than_any_pattern_has_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dxf_reader, "MOST_SHAPES", 3)
    square = [*line(0, 0, 9, 0), *line(9, 0, 9, 9), *line(9, 9, 0, 9), *line(0, 9, 0, 0)]
    assert "4 separate lines" in refusal(written(tmp_path, file_text([], square)))


def test_a_file_larger_than_any_drawing_is_refused_unread(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dxf_container, "LARGEST_BYTES", 1 << 20)
    path = tmp_path / "large.dxf"
    with open(path, "wb") as made:
        made.truncate((1 << 20) + 1)
    assert "larger than 1 MB" in refusal(path)


def test_lines_that_are_mere_dots_are_no_outline(tmp_path: Path) -> None:
    dots = [tag for at in range(40) for tag in line(at, 0, at + 0.002, 0)]
    assert "outline" in refusal(written(tmp_path, file_text([], dots)))


@pytest.mark.parametrize(
    "start",
    [
        b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg>&x;</svg>',
        b'<svg xmlns="http://www.w3.org/2000/svg"><script>x</script><image href="http://localhost/"/></svg>',
        b"<!DOCTYPE a [<!ENTITY a 'aaaa'><!ENTITY b '&a;&a;&a;&a;'>]><a>&b;</a>",
    ],
)
def test_xml_of_any_kind_is_refused_by_its_first_letter_and_never_taken_apart(start: bytes, tmp_path: Path) -> None:
    assert "XML, SVG or web page" in refusal(written(tmp_path, start.decode()))


def watched(folder: Path, out: Path, files: list[Path]) -> str:
    command = [sys.executable, "-m", "tests.editor.watched_commands", str(folder), str(out), *map(str, files)]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=300, cwd=ROOT)
    assert ran.returncode == 0, ran.stderr[-2000:]
    assert "Traceback" not in ran.stderr
    return ran.stdout


@pytest.mark.slow
def test_opening_checking_and_printing_write_only_where_asked_and_reach_no_network(tmp_path: Path) -> None:
    findings = sorted((ROOT / "tests" / "fuzz" / "findings").iterdir())
    square = written(tmp_path, sample_text())
    files = [*(path for path in findings if path.suffix in (".dxf", ".dartwise")), square]
    assert "WRONG" not in watched(tmp_path, tmp_path / "out.pdf", files)
    assert {path.name for path in tmp_path.iterdir()} == {"out.pdf", square.name}


@pytest.mark.slow
def test_the_watch_sees_what_is_written_elsewhere(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    square = written(tmp_path, sample_text())
    assert "WRONG open" in watched(tmp_path / "in", tmp_path / "out.pdf", [square])


def test_writing_beside_never_follows_a_planted_link(tmp_path: Path) -> None:
    """The part that is written first has a name nobody can know before, made anew and never over something."""
    target = tmp_path / "dress.dartwise"
    for guess in range(64):
        (tmp_path / f".dress.dartwise.{guess:08x}.part").symlink_to(tmp_path / "victim")
    write_whole(target, b"whole")
    assert target.read_bytes() == b"whole"
    assert not (tmp_path / "victim").exists()
