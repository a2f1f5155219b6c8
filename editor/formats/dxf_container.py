"""From the bytes of a DXF file to its tags: kind of file, letters, line ends, stray lines, decimal commas.

A DXF file is a sequence of tags, each a line with a group code and a line with a value. A sound file is
taken apart with a handful of passes over whole lists; only a file that fails the first look is walked
line by line.
"""

import codecs
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import numpy.typing as npt

from editor.reading import read_limited
from geometry.errors import PatternError

BINARY_SIGNATURE = b"AutoCAD Binary DXF\r\n\x1a\x00"
LARGEST_CODE = 1071
LARGEST_BYTES = 64 * 1024 * 1024
"""Forty pieces in twelve sizes with 300 points each take 12 MB; taking a text apart needs fifteen times its size."""

_FOREIGN = (
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a PNG picture"),
    (b"\xff\xd8\xff", "a JPEG picture"),
    (b"GIF8", "a GIF picture"),
    (b"PK\x03\x04", "a zip archive"),
    (b"AC10", "a DWG drawing"),
    (b"<", "an XML, SVG or web page"),
    (b"{", "a JSON file"),
)
_TEXT_CODES = frozenset((1, 3))
_KEYWORD = re.compile(r"\s*[A-Za-z_][A-Za-z0-9_]*\s*")
_MULTIBYTE = frozenset(("cp932", "cp936", "cp949", "cp950", "gbk", "gb18030", "big5"))
"""Codings whose short words are often sound UTF-8 by chance, so that the header's word goes first."""

_COMMA_NUMBER = re.compile(r"\s*[-+]?\d*,\d+(?:[eE][-+]?\d+)?\s*")


@dataclass(frozen=True, slots=True)
class Tags:
    """The tags of a file: group codes (as list and as array), values, and the line each value stood on.

    ``numbers`` is empty where every line was taken in turn; use ``line_of``. ``cut_short`` tells that the
    file ends inside a tag or inside a line.
    """

    source: str
    codes: list[int]
    values: list[str]
    numbers: tuple[int, ...]
    cut_short: bool
    notes: tuple[str, ...]
    code_array: npt.NDArray[np.int16] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "code_array", np.array(self.codes, dtype=np.int16))

    def line_of(self, index: int) -> int:
        """Return the line number (from 1) of the value with this index."""
        return self.numbers[index] if self.numbers else 2 * index + 2


def is_number_code(code: int) -> bool:
    """Tell whether values of this group code are floating point numbers."""
    return 10 <= code <= 59 or 110 <= code <= 149 or 210 <= code <= 239


def read_tags(path: Path, *, encoding: str | None = None) -> Tags:
    """Read the tags of a DXF file.

    Args:
        path: The file.
        encoding: Name of the coding of its letters; worked out from the file if None.

    Raises:
        PatternError: If there is no such file, or it is empty, or it is not a DXF file.
    """
    data = _read_bytes(path)
    _refuse_foreign(data, path.name)
    if data.startswith(BINARY_SIGNATURE):
        return _binary_tags(data, path.name)
    text, notes = _decode(data, encoding, path.name)
    text, ends_cleanly = _trim(text)
    lines = text.split("\n")
    quick = _pair_lines(lines)
    codes, values, numbers, mended = (*quick, (), ()) if quick else _resynchronise(lines)
    if not any(code == 0 and value.strip().upper() == "SECTION" for code, value in zip(codes, values, strict=False)):
        raise _not_dxf(path.name, "has no sections")
    values, commas = _mend_commas(codes, values) if "," in text else (values, ())
    odd = len(codes) > len(values) or not ends_cleanly
    return Tags(path.name, codes[: len(values)], values, tuple(numbers), odd, (*notes, *mended, *commas))


def _read_bytes(path: Path) -> bytes:
    try:
        data = read_limited(path, most_bytes=LARGEST_BYTES)
    except FileNotFoundError:
        raise PatternError(f"There is no file {path}; check the name and the folder.", code="no-file") from None
    except IsADirectoryError:
        raise PatternError(f"{path} is a folder; name the DXF file inside it.", code="no-file") from None
    except OSError as problem:
        reason = problem.strerror or str(problem)
        raise PatternError(f"{path} cannot be read ({reason}); check that you may open it.", code="no-file") from None
    if not data.strip(b" \t\r\n\x00\x1a\xef\xbb\xbf"):
        raise PatternError(f"{path.name} is empty; export it again from the program it comes from.", code="empty-file")
    return data


def _not_dxf(name: str, why: str) -> PatternError:
    return PatternError(f"{name} is not a DXF file: it {why}; choose a file saved as DXF.", code="not-dxf")


def _refuse_foreign(data: bytes, name: str) -> None:
    start = data[:64].lstrip()
    for magic, kind in _FOREIGN:
        if start.startswith(magic):
            raise _not_dxf(name, f"is {kind}")


def _binary_tags(data: bytes, name: str) -> Tags:
    from editor.formats.ezdxf_door import binary_tags

    codes, values, whole = binary_tags(data, name)
    return Tags(name, codes, values, (), not whole, ())


# ---- letters ----


def _decode(data: bytes, encoding: str | None, name: str) -> tuple[str, tuple[str, ...]]:
    for mark, marked in (
        (codecs.BOM_UTF8, "utf-8"),
        (codecs.BOM_UTF16_LE, "utf-16-le"),
        (codecs.BOM_UTF16_BE, "utf-16-be"),
    ):
        if data.startswith(mark):
            return data[len(mark) :].decode(marked, errors="replace"), ()
    if data.isascii():
        return data.decode("ascii"), ()
    if encoding is not None:
        return _decode_as(data, encoding, name), ()
    stated = _stated_coding(data)
    for coding in (stated, "utf-8") if stated in _MULTIBYTE else ("utf-8",):
        try:
            return data.decode(coding), ()
        except UnicodeDecodeError:
            continue
    if stated:
        return data.decode(stated, errors="replace"), ()
    note = "The file does not say how its letters are coded; they were read as Western European (cp1252)."
    return data.decode("cp1252", errors="replace"), (note,)


def _decode_as(data: bytes, encoding: str, name: str) -> str:
    try:
        return data.decode(encoding, errors="replace")
    except LookupError:
        sentence = f"{name} cannot be read: '{encoding}' is not a known coding of letters; try utf-8 or cp1252."
        raise PatternError(sentence, code="no-encoding") from None


def _stated_coding(data: bytes) -> str | None:
    """Return the coding the header states, None if it names none we know.

    From AC1021 on all is UTF-8 whatever $DWGCODEPAGE says.
    """
    version = re.search(rb"\$ACADVER\s+1\s+(AC\d{4})", data[:100_000])
    if version and version.group(1) >= b"AC1021":
        return "utf-8"
    match = re.search(rb"\$DWGCODEPAGE\s+3\s+(\S+)", data[:100_000])
    if match is None:
        return None
    stated = match.group(1).decode("ascii", errors="ignore").lower().replace("gb2312", "gbk")
    number = re.fullmatch(r"(?:ansi|dos|cp)[_-]?(\d+)", stated)
    try:
        return codecs.lookup(f"cp{number.group(1)}" if number else stated).name
    except LookupError:
        return None


# ---- lines ----


def _trim(text: str) -> tuple[str, bool]:
    """Make all line ends alike, drop what follows the end mark; tell whether the last line was finished."""
    if "\r" in text:
        text = text.replace("\r\r\n", "\n").replace("\r\n", "\n").replace("\r", "\n")
    head, mark, tail = text.rpartition("\nEOF")
    if mark and not tail.strip("\n\t \x00\x1a"):
        return head + mark, True
    finished = text.rstrip(" \x00\x1a").endswith("\n")
    text = text.rstrip("\n\t \x00\x1a")
    return text, finished or text.upper().endswith(("\nENDSEC", "\nEOF"))


def _pair_lines(lines: list[str]) -> tuple[list[int], list[str]] | None:
    """Take the lines two by two; None if a line that should be a group code is not."""
    texts = lines[0::2]
    try:
        known = {text: int(text) for text in set(texts)}
    except ValueError:
        return None
    if not all(0 <= code <= LARGEST_CODE for code in known.values()):
        return None
    return [known[text] for text in texts], lines[1::2]


def _resynchronise(lines: Sequence[str]) -> tuple[list[int], list[str], list[int], tuple[str, ...]]:
    """Walk the lines, passing over those that fit nowhere; continued text goes to the text before it."""
    codes: list[int] = []
    values: list[str] = []
    numbers: list[int] = []
    strays: list[int] = []
    at = 0
    while at < len(lines) and not (codes and codes[-1] == 0 and values[-1].strip().upper() == "EOF"):
        code = _code_at(lines, at)
        if code is None:
            strays.append(at + 1)
            if codes and codes[-1] in _TEXT_CODES and lines[at].strip():
                values[-1] = f"{values[-1]} {lines[at].strip()}".strip()
            at += 1
            continue
        skip = 2 if is_number_code(code) and not lines[at + 1].strip() else 1
        strays += [at + 2] if skip == 2 else []
        codes.append(code)
        values.append(lines[at + skip])
        numbers.append(at + skip + 1)
        at += skip + 1
    return codes, values, numbers, _stray_note(strays)


def _code_at(lines: Sequence[str], at: int) -> int | None:
    """Return the group code on this line, None if it is no code or no fitting value follows."""
    text = lines[at].strip()
    if not text.isdecimal() or int(text) > LARGEST_CODE or at + 1 >= len(lines):
        return None
    if _fits_better_one_line_on(lines, at):
        return None
    code = int(text)
    value = lines[at + 1]
    if code == 0:
        return code if _KEYWORD.fullmatch(value) else None
    if is_number_code(code):
        if not value.strip() and at + 2 < len(lines):
            value = lines[at + 2]
        return code if any(digit in value for digit in "0123456789#nN") else None
    return code


def _fits_better_one_line_on(lines: Sequence[str], at: int) -> bool:
    """Tell whether a number on this line is a stray one: tags follow from the next line, but not from here."""
    if at + 3 >= len(lines):
        return False
    here = lines[at + 2].strip()
    return (
        bool(here) and not here.isdecimal() and lines[at + 1].strip().isdecimal() and lines[at + 3].strip().isdecimal()
    )


def _stray_note(strays: Sequence[int]) -> tuple[str, ...]:
    if not strays:
        return ()
    if len(strays) == 1:
        return (f"A stray line (line {strays[0]}) was passed over or joined to the text before it.",)
    return (f"{len(strays)} stray lines (first: line {strays[0]}) were passed over or joined to the text before them.",)


def _mend_commas(codes: Sequence[int], values: list[str]) -> tuple[list[str], tuple[str, ...]]:
    mended = [
        value.replace(",", ".") if "," in value and is_number_code(code) and _COMMA_NUMBER.fullmatch(value) else value
        for code, value in zip(codes, values, strict=False)
    ]
    count = sum(new is not old for new, old in zip(mended, values, strict=True))
    are = "1 number is" if count == 1 else f"{count} numbers are"
    note = f"{are} written with a decimal comma, which was read as a decimal point."
    return mended, (note,) if count else ()
