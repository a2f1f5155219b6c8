"""Pictures: known by their first bytes, refused where they are anything else or too large; never taken apart here."""

from __future__ import annotations

import struct
import zlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor.document.picture import MOST_PIXELS, Picture, picture_in
from editor.document.rounds import with_photo
from geometry.errors import PatternError
from tests.editor.project_samples import project


def png(width: int, height: int) -> bytes:
    """As ISO/IEC 15948 lays it out: a header and no more."""
    header = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + header + struct.pack(">I", zlib.crc32(header))


def jpeg(width: int, height: int, *, before: bytes = b"") -> bytes:
    """As ITU-T T.81 lays it out: start of image, what comes before, a baseline frame."""
    return b"\xff\xd8" + before + b"\xff\xc0" + struct.pack(">HBHHB", 17, 8, height, width, 3) + bytes(9)


EXIF = b"\xff\xe1" + struct.pack(">H", 2 + 6) + b"Exif\x00\x00"
FILLED = b"\xff\xff\xff\xfe" + struct.pack(">H", 4) + b"hi"


@pytest.mark.parametrize("before", [EXIF, FILLED, EXIF + FILLED, b"\xff\xc4" + struct.pack(">H", 3) + b"x"])
def test_a_jpeg_states_its_size_behind_whatever_comes_first(before: bytes) -> None:
    assert picture_in(jpeg(4000, 3000, before=before)) == Picture("JPEG", 4000, 3000)


def test_a_png_states_its_size() -> None:
    assert picture_in(png(640, 480)) == Picture("PNG", 640, 480)


@pytest.mark.parametrize("made", [png, lambda w, h: jpeg(w, h, before=EXIF)])
@pytest.mark.parametrize("size", [(60_000, 60_000), (0, 10), (MOST_PIXELS + 1, 1)])
def test_more_pixels_than_any_photo_or_none_are_refused(made: object, size: tuple[int, int]) -> None:
    if made is not png and size[0] > 0xFFFF:
        pytest.skip("a JPEG cannot state that many")
    with pytest.raises(PatternError, match=f"{size[0]} by {size[1]} pixels"):
        picture_in(made(*size))  # type: ignore[operator]


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"GIF89a\x01\x00\x01\x00",
        b"<svg xmlns='http://www.w3.org/2000/svg'><image href='file:///etc/passwd'/></svg>",
        b"<?xml version='1.0'?><!DOCTYPE svg [<!ENTITY a 'aaaa'>]><svg/>",
        b"BM6\x00\x00\x00",
        b"\x89PNG\r\n\x1a\n",
        b"\xff\xd8",
    ],
)
def test_anything_but_png_and_jpeg_is_refused_whatever_it_is_called(data: bytes) -> None:
    with pytest.raises(PatternError, match="Only JPEG and PNG"):
        with_photo(project(), "2", "1", data)


@given(
    st.binary(max_size=200), st.sampled_from([b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", jpeg(9, 9)[:8]])
)
def test_damaged_headers_get_a_sentence(tail: bytes, head: bytes) -> None:
    try:
        picture = picture_in(head + tail)
    except PatternError as error:
        assert error.sentence.endswith(".")  # noqa: PT017 - either it has a size or it says why not
    else:
        assert 0 < picture.width_px * picture.height_px <= MOST_PIXELS


def test_a_photo_becomes_a_member_named_by_what_it_holds() -> None:
    changed = with_photo(project(), "2", "1", png(640, 480))
    (name,) = changed.wearer("2").round("1").photos
    assert name.startswith("photos/")
    assert name.endswith(".png")
    assert dict(changed.unread.members)[name] == png(640, 480)
