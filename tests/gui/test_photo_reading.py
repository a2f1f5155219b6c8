"""Photos are read as what they are, and no larger than they are shown."""

from __future__ import annotations

import struct
import zlib

import pytest
from PySide6.QtCore import QBuffer, QByteArray
from PySide6.QtGui import QImage

from editor.dialogs.photo_reading import pixmap_of
from editor.document.picture import MOST_PIXELS
from geometry.errors import PatternError
from tests.editor.test_hostile_pictures import EXIF, jpeg, png

pytestmark = pytest.mark.usefixtures("qapp")


def photo(width: int, height: int, kind: str = "PNG") -> bytes:
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(0x808080)
    buffer = QBuffer()
    assert image.save(buffer, kind)
    return buffer.data().data()


def chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


@pytest.mark.parametrize("kind", ["PNG", "JPEG"])
def test_a_photo_is_made_smaller_while_it_is_read(kind: str) -> None:
    shown = pixmap_of(photo(800, 400, kind), longest_px=100)
    assert (shown.width(), shown.height()) == (100, 50)
    assert pixmap_of(photo(80, 40, kind), longest_px=100).width() == 80


def test_a_photo_held_upright_is_shown_upright() -> None:
    """Orientation 6 of Exif 2.32, 4.6.4: the camera was turned."""
    orientation = b"II*\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00\x00\x00\x00\x00"
    told = b"Exif\x00\x00" + orientation
    data = photo(80, 40, "JPEG")
    turned = data[:2] + b"\xff\xe1" + struct.pack(">H", len(told) + 2) + told + data[2:]
    assert (pixmap_of(turned).width(), pixmap_of(turned).height()) == (40, 80)


@pytest.mark.qt_log_ignore("JPEG", "png", extend=True)
@pytest.mark.parametrize(
    "data",
    [
        png(640, 480),
        jpeg(640, 480, before=EXIF),
        photo(64, 64)[:60],
        png(8, 8) + chunk(b"IDAT", zlib.compress(bytes(50_000_000))) + chunk(b"IEND", b""),
        photo(64, 64, "JPEG")[:40],
        b"<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'><image href='/etc/passwd'/></svg>",
        photo(9, 9, "BMP"),
    ],
    ids=["header only", "frame only", "cut png", "swells", "cut jpeg", "svg", "bmp"],
)
def test_what_is_damaged_or_something_else_is_refused_in_a_sentence(data: bytes) -> None:
    try:
        shown = pixmap_of(data)
    except PatternError as error:
        assert error.sentence.endswith(".")  # noqa: PT017 - a damaged one may also show what there is of it
    else:
        assert shown.width() * shown.height() <= MOST_PIXELS
        assert data.startswith((b"\x89PNG", b"\xff\xd8"))


def test_one_that_says_it_has_more_pixels_than_any_photo_is_refused_before_it_is_read() -> None:
    huge = png(60_000, 60_000) + chunk(b"IDAT", zlib.compress(bytes(1000))) + chunk(b"IEND", b"")
    with pytest.raises(PatternError, match="60000 by 60000 pixels"):
        pixmap_of(huge)


def test_one_kind_inside_another_is_not_looked_for() -> None:
    """The bytes of a JPEG behind the signature of a PNG are no picture."""
    with pytest.raises(PatternError):
        pixmap_of(png(9, 9)[:33] + bytes(QByteArray(photo(9, 9, "JPEG")).data()))
