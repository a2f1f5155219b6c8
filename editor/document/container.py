"""The zip container of a project file: named parts in memory, with limits against files made to harm."""

from __future__ import annotations

import io
import zipfile
import zlib
from collections.abc import Iterable, Mapping
from typing import Final

from geometry.errors import PatternError

LARGEST_PART_BYTES: Final = 256 * 1024 * 1024
"""A nest of 500 pieces in 12 sizes takes some 60 MB as text; a part four times that is not a pattern."""

LARGEST_WHOLE_BYTES: Final = 512 * 1024 * 1024
MOST_PARTS: Final = 4096
_STEADY_DATE: Final = (1980, 1, 1, 0, 0, 0)
"""The earliest date a zip can hold, so that the same project always gives the same bytes."""


def packed(parts: Iterable[tuple[str, bytes]]) -> bytes:
    """The parts as one zip file."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as container:
        for name, data in parts:
            entry = zipfile.ZipInfo(name, _STEADY_DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            container.writestr(entry, data)
    return out.getvalue()


def unpacked(data: bytes) -> Mapping[str, bytes]:
    """The parts of a zip file, in their order; nothing is written anywhere.

    Raises:
        PatternError: it is no zip file, is damaged, or holds more or other things than a project does; the sentence
            says what, to be put behind the file's name.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as container:
            entries = [entry for entry in container.infolist() if not entry.is_dir()]
            _refuse_odd(entries)
            return {entry.filename: _part(container, entry) for entry in entries}
    except zipfile.BadZipFile:
        raise _bad("it is no project file or it is damaged") from None
    except (zlib.error, EOFError, NotImplementedError, RuntimeError, OSError, ValueError) as error:
        if isinstance(error, PatternError):
            raise
        raise _bad("it is damaged") from None


def _refuse_odd(entries: list[zipfile.ZipInfo]) -> None:
    names = [entry.filename for entry in entries]
    if len(names) > MOST_PARTS:
        raise _bad(f"it holds {len(names)} parts, and a project has at most {MOST_PARTS}")
    for name in names:
        outside = name.startswith(("/", "\\")) or ":" in name or ".." in name.replace("\\", "/").split("/")
        if outside or names.count(name) > 1:
            raise _bad(f'the name of its part "{name}" is not one that a project would have')
    total = 0
    for entry in entries:
        total += entry.file_size
        if entry.file_size > LARGEST_PART_BYTES or total > LARGEST_WHOLE_BYTES:
            raise _bad(f'its part "{entry.filename}" is larger than any pattern')


def _part(container: zipfile.ZipFile, entry: zipfile.ZipInfo) -> bytes:
    with container.open(entry) as part:  # reads no more than the stated size, and checks the sum at the end
        data = part.read(entry.file_size + 1)
    if len(data) != entry.file_size:
        raise _bad(f'its part "{entry.filename}" is damaged')
    return data


def _bad(problem: str) -> PatternError:
    return PatternError(problem, code="bad-project-file")
