"""What a picture is by its first bytes; nothing is taken apart, so that nothing hidden in it can do harm."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import Final

from geometry.errors import PatternError

MOST_PIXELS: Final = 60_000_000
"""As many as a large camera takes; as colours in memory they fill a quarter of a gigabyte."""

_PNG: Final = b"\x89PNG\r\n\x1a\n"
_JPEG: Final = b"\xff\xd8\xff"
_NO_SIZE: Final = (0xC4, 0xC8, 0xCC)
"""Among the markers from C0 to CF those that begin no frame (ITU-T T.81, table B.1)."""

_WITHOUT_LENGTH: Final = (0x01, *range(0xD0, 0xD9))


@dataclass(frozen=True, slots=True)
class Picture:
    """Its kind, "PNG" or "JPEG", and how many pixels it states."""

    kind: str
    width_px: int
    height_px: int


def picture_in(data: bytes) -> Picture:
    """What the picture says it is.

    Raises:
        PatternError: it is neither PNG nor JPEG, whatever its name says, or it has more pixels than any photo.
    """
    if data.startswith(_PNG) and data[12:16] == b"IHDR" and len(data) >= 24:
        size = struct.unpack_from(">II", data, 16)  # ISO/IEC 15948, 11.2.2
        picture = Picture("PNG", *size)
    elif data.startswith(_JPEG):
        picture = Picture("JPEG", *_jpeg_size(data))
    else:
        raise PatternError("Only JPEG and PNG pictures can be kept; convert the photo first.", code="bad-photo")
    if not 0 < picture.width_px * picture.height_px <= MOST_PIXELS:
        raise PatternError(
            f"The picture says it is {picture.width_px} by {picture.height_px} pixels; make it smaller first.",
            code="bad-photo",
        )
    return picture


def _jpeg_size(data: bytes) -> tuple[int, int]:
    """Width and height from the header of the first frame (ITU-T T.81, B.2.2)."""
    at = 2
    while at + 9 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF or marker in _WITHOUT_LENGTH:
            at += 1 if marker == 0xFF else 2
            continue
        if 0xC0 <= marker <= 0xCF and marker not in _NO_SIZE:
            height, width = struct.unpack_from(">HH", data, at + 5)
            return width, height
        at += 2 + max(2, struct.unpack_from(">H", data, at + 2)[0])
    raise PatternError("The picture is damaged; choose another one.", code="bad-photo")
