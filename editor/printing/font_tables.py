"""What a font file says of its letters, read straight from its tables.

OpenType tables head, hhea, hmtx, cmap and OS/2, and collections of fonts, as ISO/IEC 14496-22 lays them out. Nothing
else of the file is read, so that a whole folder of fonts can be looked through.
"""

from __future__ import annotations

import struct
from pathlib import Path
from typing import BinaryIO, Final

import numpy as np

_COLLECTION: Final = b"ttcf"
_RESTRICTED: Final = 2
"""OS/2 fsType: the owner of the font does not allow it to be put into files."""


class FontTables:
    """The tables of one font in a file; raises ``OSError``, ``ValueError`` or ``struct.error`` where it is none."""

    def __init__(self, path: Path, number: int = 0) -> None:
        with path.open("rb") as file:
            start = _start(file, number)
            count = struct.unpack(">H", _part(file, start + 4, 2))[0]
            records = _part(file, start + 12, 16 * count)
            self._tables = {
                records[at : at + 4]: struct.unpack_from(">II", records, at + 8) for at in range(0, len(records), 16)
            }
            self._content = {tag: self._read(file, tag) for tag in (b"head", b"hhea", b"hmtx", b"cmap", b"OS/2")}

    @property
    def allows_embedding(self) -> bool:
        """Whether the font may be put into a PDF."""
        table = self._content[b"OS/2"]
        return len(table) < 10 or struct.unpack_from(">H", table, 8)[0] & 0xF != _RESTRICTED

    @property
    def widths(self) -> dict[int, float]:
        """The width of each character as a share of the size of the type."""
        units_per_em = struct.unpack_from(">H", self._content[b"head"], 18)[0]
        count = struct.unpack_from(">H", self._content[b"hhea"], 34)[0]
        advances = np.frombuffer(self._content[b"hmtx"], ">u2", 2 * count)[::2] / units_per_em
        return {code: float(advances[min(glyph, count - 1)]) for code, glyph in self.glyphs.items()}

    @property
    def glyphs(self) -> dict[int, int]:
        """The glyph of each character."""
        cmap = self._content[b"cmap"]
        starts = [
            struct.unpack_from(">I", cmap, 8 + 8 * record)[0]
            for record in range(struct.unpack_from(">H", cmap, 2)[0])
            if struct.unpack_from(">H", cmap, 4 + 8 * record)[0] in (0, 3)  # Unicode and Windows
        ]
        by_format = {struct.unpack_from(">H", cmap, start)[0]: start for start in starts}
        if 12 in by_format:
            return _grouped(cmap, by_format[12])
        if 4 in by_format:
            return _segmented(cmap, by_format[4])
        raise ValueError("the font has no character map of format 4 or 12")

    def _read(self, file: BinaryIO, tag: bytes) -> bytes:
        return _part(file, *self._tables[tag]) if tag in self._tables else b""


def _start(file: BinaryIO, number: int) -> int:
    if _part(file, 0, 4) != _COLLECTION:
        return 0
    return int(struct.unpack(">I", _part(file, 12 + 4 * number, 4))[0])


def _part(file: BinaryIO, at: int, length: int) -> bytes:
    file.seek(at)
    return file.read(length)


def _grouped(cmap: bytes, start: int) -> dict[int, int]:
    """Format 12: groups of first, last, glyph of the first."""
    count = struct.unpack_from(">I", cmap, start + 12)[0]
    groups = np.frombuffer(cmap, ">u4", 3 * count, start + 16).reshape(-1, 3).tolist()
    return {code: glyph + code - first for first, last, glyph in groups for code in range(first, last + 1)}


def _segmented(cmap: bytes, start: int) -> dict[int, int]:
    """Format 4: segments with an amount to add to each code, some of them through a list of glyphs."""
    count = struct.unpack_from(">H", cmap, start + 6)[0] // 2
    ends = np.frombuffer(cmap, ">u2", count, start + 14).tolist()
    firsts, deltas, offsets = np.frombuffer(cmap, ">u2", 3 * count, start + 16 + 2 * count).reshape(3, -1).tolist()
    listed = start + 16 + 6 * count
    glyphs = {}
    for index, (first, last, delta, offset) in enumerate(zip(firsts, ends, deltas, offsets, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code
            if offset:
                glyph = struct.unpack_from(">H", cmap, listed + 2 * index + offset + 2 * (code - first))[0]
            if glyph:
                glyphs[code] = (glyph + delta) & 0xFFFF
    return glyphs
