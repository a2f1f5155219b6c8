"""The zip container of a project file: named parts in memory, with limits against files made to harm."""

from __future__ import annotations

import io
import struct
import zipfile
import zlib
from collections.abc import Iterable, Mapping
from typing import Final

from geometry.errors import PatternError

LARGEST_PART_BYTES: Final = 128 * 1024 * 1024
"""A nest of 500 pieces in 12 sizes takes some 70 MB as text; a part twice that is not a pattern."""

LARGEST_WHOLE_BYTES: Final = 256 * 1024 * 1024
MOST_PARTS: Final = 4096
_LISTED: Final = b"PK\x01\x02"
"""Begins each entry of the list at the end of a zip."""

_STEADY_DATE: Final = (1980, 1, 1, 0, 0, 0)
"""The earliest date a zip can hold, so that the same project always gives the same bytes."""


def packed(parts: Iterable[tuple[str, bytes]], *, tight: bool = True) -> bytes:
    """The parts as one zip file, made small unless it is to be done at once.

    Raises:
        PatternError: there is more in it than could be read again.
    """
    parts = tuple(parts)
    _refuse_large([(name, len(data)) for name, data in parts])
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as container:
        for name, data in parts:
            entry = zipfile.ZipInfo(name, _STEADY_DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED if tight else zipfile.ZIP_STORED
            entry.external_attr = 0o644 << 16
            container.writestr(entry, data)
    return out.getvalue()


def unpacked(data: bytes) -> Mapping[str, bytes]:
    """The parts of a zip file, in their order; nothing is written anywhere.

    Raises:
        PatternError: it is no zip file, is damaged, or holds more or other things than a project does; the sentence
            says what, to be put behind the file's name.
    """
    if data.count(_LISTED) > MOST_PARTS:  # before the list is read: every entry of it takes memory
        raise _bad(f"it holds more parts than a project, which has at most {MOST_PARTS}")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as container:
            entries = [entry for entry in container.infolist() if not entry.filename.endswith("/")]
            _refuse_odd(entries)
            return {entry.filename: _part(container, entry) for entry in entries}
    except zipfile.BadZipFile:
        raise _bad("it is no project file or it is damaged") from None
    except (zlib.error, struct.error, EOFError, LookupError, RuntimeError, OSError, ValueError) as error:
        if isinstance(error, PatternError):
            raise
        raise _bad("it is damaged") from None


def _refuse_odd(entries: list[zipfile.ZipInfo]) -> None:
    seen: set[str] = set()
    for entry in entries:
        name = entry.filename
        outside = name.startswith(("/", "\\")) or ":" in name or ".." in name.replace("\\", "/").split("/")
        if outside or not name or name in seen:
            raise _bad(f'the name of its part "{name}" is not one that a project would have')
        if entry.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise _bad(f'its part "{name}" is packed in a way that no project is')
        seen.add(name)
    _refuse_large([(entry.filename, entry.file_size) for entry in entries])


def _refuse_large(sizes: list[tuple[str, int]]) -> None:
    total = 0
    for name, size in sizes:
        total += size
        if size > LARGEST_PART_BYTES or total > LARGEST_WHOLE_BYTES:
            raise _bad(f'its part "{name}" is larger than any pattern')


def _part(container: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    with container.open(entry) as part:  # reads no more than the stated size, and checks the sum at the end
        data = part.read(entry.file_size + 1)
    if len(data) != entry.file_size:
        raise _bad(f'its part "{entry.filename}" is damaged')
    return data


def _bad(problem: str) -> PatternError:
    return PatternError(problem, code="bad-project-file")
