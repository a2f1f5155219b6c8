"""What a finished PDF holds, read back with pypdfium2: paths in mm of the page, text, grey pictures."""

from __future__ import annotations

import ctypes
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pypdfium2 as pdfium
import pypdfium2.raw as raw
from scipy.ndimage import map_coordinates

MM_PER_PT = 25.4 / 72.0
"""A point is 1/72 in (ISO 32000-1, 8.3.2.3)."""


@dataclass(frozen=True)
class PdfPath:
    """A path as it lies on the page: points in mm from the lower left corner, whether it is filled, line width."""

    points: np.ndarray
    filled: bool
    width_mm: float

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of its box."""
        return tuple(np.ptp(self.points, axis=0).tolist())


def page_paths(
    path: Path, index: int, printer: tuple[float, float] = (1.0, 1.0)
) -> tuple[list[PdfPath], list[PdfPath]]:
    """The paths drawn by the page itself, and those of the drawing it shares with other pages.

    ``printer`` says how long a millimetre of the file comes out on the paper, across and up.
    """
    with pdfium.PdfDocument(path) as document:
        page = document[index]
        own, shared, out = [], [], np.diag([*printer, 1.0])
        for found in page.get_objects(max_depth=1):
            if found.type == raw.FPDF_PAGEOBJ_PATH:
                own.append(_read(found.raw, out))
            elif found.type == raw.FPDF_PAGEOBJ_FORM:
                placed = out @ _matrix(found.raw)
                for inner in range(raw.FPDFFormObj_CountObjects(found.raw)):
                    child = raw.FPDFFormObj_GetObject(found.raw, inner)
                    if raw.FPDFPageObj_GetType(child) == raw.FPDF_PAGEOBJ_PATH:
                        shared.append(_read(child, placed))
        return own, shared


def _matrix(found: object) -> np.ndarray:
    m = raw.FS_MATRIX()
    assert raw.FPDFPageObj_GetMatrix(found, ctypes.byref(m))
    return np.array([[m.a, m.c, m.e], [m.b, m.d, m.f], [0.0, 0.0, 1.0]])


def _read(found: object, placed: np.ndarray) -> PdfPath:
    points = []
    for index in range(raw.FPDFPath_CountSegments(found)):
        x, y = ctypes.c_float(), ctypes.c_float()
        assert raw.FPDFPathSegment_GetPoint(raw.FPDFPath_GetPathSegment(found, index), x, y)
        points.append((x.value, y.value, 1.0))
    fill, stroke = ctypes.c_int(), ctypes.c_int()
    assert raw.FPDFPath_GetDrawMode(found, fill, stroke)
    width = ctypes.c_float()
    raw.FPDFPageObj_GetStrokeWidth(found, width)
    on_page = np.array(points) @ (placed @ _matrix(found)).T
    return PdfPath(on_page[:, :2] * MM_PER_PT, bool(fill.value), width.value * MM_PER_PT)


def page_text(path: Path, index: int) -> str:
    """All words of a page, those of the shared drawing included."""
    with pdfium.PdfDocument(path) as document:
        return document[index].get_textpage().get_text_bounded()


@dataclass(frozen=True)
class PagePicture:
    """A page rendered: blackness of each pixel from 0 to 1, row 0 at the top, and the size of the page in mm."""

    ink: np.ndarray
    size_mm: tuple[float, float]

    def ink_at(self, x: np.ndarray, y: np.ndarray) -> np.ndarray:
        """Blackness at places in mm from the lower left corner of the page."""
        rows, columns = self.ink.shape  # the renderer stretches the page to whole pixels
        across, down = x / self.size_mm[0] * columns - 0.5, (1 - y / self.size_mm[1]) * rows - 0.5
        return map_coordinates(self.ink, [down, across], order=1)


def page_picture(path: Path, index: int, dpi: float, printer: tuple[float, float] = (1.0, 1.0)) -> PagePicture:
    """A page rendered in grey, as large as the printer makes it."""
    with pdfium.PdfDocument(path) as document:
        page = document[index]
        pixels = np.atleast_3d(page.render(scale=dpi / 72.0, grayscale=True).to_numpy())[:, :, 0]
        return PagePicture(1.0 - pixels.astype(float) / 255.0, _out(page.get_size(), printer))


def _out(size_pt: tuple[float, float], printer: tuple[float, float]) -> tuple[float, float]:
    return (size_pt[0] * MM_PER_PT * printer[0], size_pt[1] * MM_PER_PT * printer[1])
