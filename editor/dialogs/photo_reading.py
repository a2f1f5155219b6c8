"""A photo taken apart with care: as the kind its first bytes say, no larger than it is shown, turned as it was held."""

from __future__ import annotations

from PySide6.QtCore import QBuffer, QByteArray, QSize, Qt
from PySide6.QtGui import QImageReader, QPixmap

from editor.document.picture import picture_in
from geometry.errors import PatternError

LONGEST_PX = 3000
"""No screen shows more of a photo; the rest would only fill the memory."""


def pixmap_of(data: bytes, *, longest_px: int = LONGEST_PX) -> QPixmap:
    """The photo, made smaller while it is read where it is larger than that.

    Raises:
        PatternError: it is no picture, has more pixels than any photo, or is damaged.
    """
    stated = picture_in(data)
    buffer = QBuffer()
    buffer.setData(QByteArray(data))
    reader = QImageReader(buffer, QByteArray(stated.kind.encode()))
    reader.setAutoDetectImageFormat(False)  # else Qt would try every kind it knows, SVG too
    reader.setAutoTransform(True)
    size = QSize(stated.width_px, stated.height_px)
    if reader.size() != size:  # what it says first is not what it would be read as
        raise _damaged()
    if max(size.width(), size.height()) > longest_px:
        reader.setScaledSize(size.scaled(longest_px, longest_px, Qt.AspectRatioMode.KeepAspectRatio))
    image = reader.read()
    if image.isNull():
        raise _damaged()
    return QPixmap.fromImage(image)


def _damaged() -> PatternError:
    return PatternError("The picture is damaged; choose another one.", code="bad-photo")
