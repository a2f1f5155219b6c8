"""The plan as a PDF at true scale. The only module that uses reportlab.

The joined drawing is written once as a form XObject (ISO 32000-1, 8.10) and placed on every page behind a clip, so
sixty sheets cost little more than one. Inside it every kind of line and every size is an optional content group
(8.11), which a viewer lists as a layer that can be hidden. What a printer makes too long or too short is put right by
the one matrix each page begins with.
"""

from __future__ import annotations

import io
import math
import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping, Sequence
from enum import StrEnum
from hashlib import sha256
from pathlib import Path
from typing import Final

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFCatalog,
    PDFDictionary,
    PDFDocument,
    PDFName,
    PDFObjectReference,
    PDFResourceDictionary,
    PDFString,
)
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from editor.atomic_file import write_whole
from editor.printing import wording
from editor.printing.job import Page, SheetPlan
from editor.printing.lettering import face
from editor.printing.paper import PageFormat
from editor.printing.picture import Anchor, Drawing, Label, LineStyle, Stroke
from geometry.units import MM_PER_INCH

PT_PER_MM: Final = 72.0 / MM_PER_INCH
"""A PDF point is 1/72 in (ISO 32000-1, 8.3.2.3)."""

rl_config.useA85 = 0
"""Streams stay binary; written as text they are a quarter larger and take longer."""

Progress = Callable[[int, int], bool]

END_LAYER: Final = "EMC"
"""The operator that ends what belongs to a layer (ISO 32000-1, 14.6)."""

_TO_UNICODE: Final = "toUnicodeCMap:"
_CODE: Final = re.compile(r"<([0-9A-F]{4,6})>")
"""What a character of the file reads as; its number in the file has two digits (ISO 32000-1, 9.10.3)."""

_PATTERN: Final = "pattern"
_VERSION: Final = (1, 5)
"""The first version of PDF that has layers."""


def write_pdf(plan: SheetPlan, path: Path, *, progress: Progress | None = None) -> bool:
    """Writes the plan to a file, whole or not at all.

    Args:
        plan: What to print.
        path: The file; one that is there already is replaced.
        progress: Called with pages done and pages in all; ``False`` from it stops the work.

    Returns:
        Whether the file was written; ``False`` means it was stopped and nothing was left behind.

    Raises:
        PatternError: the file cannot be written; the sentence says why.
    """
    content = pdf_bytes(plan, progress=progress)
    if content is None:
        return False
    write_whole(path, content)
    return True


def pdf_bytes(plan: SheetPlan, *, progress: Progress | None = None) -> bytes | None:
    """The PDF; ``None`` if ``progress`` stopped it."""
    title = " · ".join(filter(None, (plan.job.title, *plan.job.details))) or "Pattern"
    subject = f"{plan.page.paper.name}, {wording.pages(len(plan.pages))}, true scale"
    pattern = plan.drawing
    canvas = _canvas(plan.page.sent_mm, title, subject, (pattern, *(page.furniture for page in plan.pages)))
    canvas.beginForm(_PATTERN, *_form_box_pt(plan))
    layers = Layers()
    _draw_layered(canvas, pattern, layers)
    canvas.endForm(Resources=layers.resources)
    layers.list_in(canvas)
    for done, page in enumerate(plan.pages):
        if progress is not None and not progress(done, len(plan.pages)):
            return None
        _draw_page(canvas, page, plan.page)
    if progress is not None and not progress(len(plan.pages), len(plan.pages)):
        return None
    return bytes(canvas.getpdfdata())


def write_booklet(
    pages: Sequence[Drawing],
    size_mm: tuple[float, float],
    path: Path,
    *,
    title: str,
    progress: Progress | None = None,
) -> bool:
    """Writes pages that are read and not cut to a file, whole or not at all.

    Returns:
        Whether the file was written; ``False`` means that ``progress`` stopped it, or that there are no pages.

    Raises:
        PatternError: the file cannot be written; the sentence says why.
    """
    canvas = _canvas(size_mm, title, wording.pages(len(pages)), pages)
    for done, page in enumerate(pages):
        if progress is not None and not progress(done, len(pages)):
            return False
        _draw(canvas, page)
        canvas.showPage()
    if pages:
        write_whole(path, bytes(canvas.getpdfdata()))
    return bool(pages)


class _Canvas(Canvas):  # type: ignore[misc]
    """A canvas that knows the fonts of its file."""

    fonts: Mapping[Path, str]


def _canvas(size_mm: tuple[float, float], title: str, subject: str, drawings: Iterable[Drawing]) -> _Canvas:
    fonts = _font_names(label for drawing in drawings for label in drawing.labels)
    canvas = _Canvas(
        io.BytesIO(),
        pagesize=(size_mm[0] * PT_PER_MM, size_mm[1] * PT_PER_MM),
        pageCompression=1,
        initialFontName=face().name,
        pdfVersion=_VERSION,
    )
    canvas.fonts = fonts
    canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("DisplayDocTitle", "true")
    canvas.setTitle(title)
    canvas.setSubject(subject)
    canvas.setCreator("Dartwise")
    canvas.setAuthor("")
    return canvas


def _form_box_pt(plan: SheetPlan) -> tuple[float, float, float, float]:
    """A box round the whole drawing with room for the width of its lines."""
    boxes = [piece.box.inset(-10.0) for piece in plan.pieces]
    low = min(box.x0 for box in boxes), min(box.y0 for box in boxes)
    high = max(box.x1 for box in boxes), max(box.y1 for box in boxes)
    return (low[0] * PT_PER_MM, low[1] * PT_PER_MM, high[0] * PT_PER_MM, high[1] * PT_PER_MM)


def _draw_page(canvas: _Canvas, page: Page, sheet: PageFormat) -> None:
    across, up = sheet.printed
    if (across, up) != (1.0, 1.0):
        canvas.addLiteral(f"{1 / across:.8f} 0 0 {1 / up:.8f} 0 0 cm")
    _draw(canvas, page.furniture)
    if page.tile is not None:
        canvas.saveState()
        clip = page.clip
        canvas.addLiteral(f"{_pt(clip.x0)} {_pt(clip.y0)} {_pt(clip.width_mm)} {_pt(clip.height_mm)} re W n")
        canvas.translate(page.shift_mm[0] * PT_PER_MM, page.shift_mm[1] * PT_PER_MM)
        canvas.doForm(_PATTERN)
        canvas.restoreState()
        canvas.bookmarkPage(page.label)
        canvas.addOutlineEntry(page.label, page.label)
    canvas.showPage()


def _draw_layered(canvas: _Canvas, drawing: Drawing, layers: Layers) -> None:
    """Every size, and in it every kind of line, between the marks of its layer (ISO 32000-1, 8.11.3.2)."""
    for size, of_size in drawing.by_size().items():
        if size:
            canvas.addLiteral(layers.begin(Family.SIZE, wording.size_layer(size)))
        for name, part in of_size.by_layer().items():
            canvas.addLiteral(layers.begin(Family.LINES, name))
            _draw(canvas, part)
            canvas.addLiteral(END_LAYER)
        if size:
            canvas.addLiteral(END_LAYER)


def _draw(canvas: _Canvas, drawing: Drawing) -> None:
    styles: dict[LineStyle, list[Stroke]] = {}
    for stroke in drawing.strokes:
        styles.setdefault(stroke.style, []).append(stroke)
    for style, strokes in styles.items():
        canvas.addLiteral(_stroke_operators(style, strokes))
    for label in drawing.labels:
        _draw_label(canvas, label)


def _stroke_operators(style: LineStyle, strokes: Iterable[Stroke]) -> str:
    """Page operators (ISO 32000-1, 8.4 and 8.5) for lines that look the same."""
    dash = " ".join(_pt(length) for length in style.dash_mm)
    fills, draws = style.fill_grey is not None, style.weight_mm > 0
    parts = [f"q 1 j {0 if style.dash_mm else 1} J {_pt(style.weight_mm)} w {style.grey:.2f} G [{dash}] 0 d"]
    if style.fill_grey is not None:
        parts.append(f"{style.fill_grey:.2f} g")
    for stroke in strokes:
        points = (stroke.points * PT_PER_MM).tolist()
        parts.append(f"{points[0][0]:.2f} {points[0][1]:.2f} m")
        parts.extend([f"{x:.2f} {y:.2f} l" for x, y in points[1:]])
        parts.append("h" if stroke.closed else "")
        parts.append("B" if fills and draws else "f" if fills else "S")
    parts.append("Q")
    return "\n".join(part for part in parts if part)


def _draw_label(canvas: _Canvas, label: Label) -> None:
    runs = face(label.bold).runs(label.text)
    if not runs:
        return
    back = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[label.anchor] * sum(run.width for run in runs)
    cos, sin = math.cos(math.radians(label.angle_deg)), math.sin(math.radians(label.angle_deg))
    x = (label.at[0] - back * label.height_mm * cos) * PT_PER_MM
    y = (label.at[1] - back * label.height_mm * sin) * PT_PER_MM
    words = canvas.beginText()
    words.setTextTransform(cos, sin, -sin, cos, x, y)
    words.setFillGray(label.grey)
    for run in runs:
        words.setFont(canvas.fonts[run.path], label.height_mm * PT_PER_MM)
        words.textOut(run.text)
    canvas.drawText(words)


def _pt(length_mm: float) -> str:
    return f"{length_mm * PT_PER_MM:.3f}"


class Family(StrEnum):
    """Layers that stand together in the viewer's list, under this heading."""

    LINES = "Lines and words"
    SIZE = "Sizes"


class Layers:
    """The layers of one file, each made when something is first drawn on it; reportlab has no call for them."""

    def __init__(self) -> None:
        self._tags: dict[tuple[Family, str], str] = {}

    def begin(self, family: Family, name: str) -> str:
        """The operators that begin what belongs to a layer, up to ``END_LAYER``."""
        tag = self._tags.setdefault((family, name), f"layer{len(self._tags) + 1}")
        return f"/OC /{tag} BDC"

    @property
    def resources(self) -> PDFResourceDictionary:
        """What a form needs in which the layers are used; its fonts are those of the file."""
        resources = PDFResourceDictionary(Properties={tag: PDFObjectReference(tag) for tag in self._tags.values()})
        resources.basicFonts()
        return resources

    def list_in(self, canvas: _Canvas) -> None:
        """Puts the layers into the file, all of them shown at first."""
        document = canvas._doc  # noqa: SLF001 - reportlab offers no other way to the catalogue
        for (_, name), tag in self._tags.items():
            group = PDFDictionary({"Type": PDFName("OCG"), "Name": PDFString(name)})
            document.Reference(group, tag)
        order = [
            PDFArray([PDFString(family.value), *(PDFObjectReference(tag) for tag in self._tags_of(family))])
            for family in Family
        ]
        shown = PDFDictionary({"Order": PDFArray(order), "BaseState": PDFName("ON"), "Name": PDFString("Pattern")})
        groups = PDFArray([PDFObjectReference(tag) for tag in self._tags.values()])
        catalogue = document.Catalog
        catalogue.__NoDefault__ = [*PDFCatalog.__NoDefault__, "OCProperties"]
        catalogue.OCProperties = PDFDictionary({"OCGs": groups, "D": shown})

    def _tags_of(self, family: Family) -> list[str]:
        return [tag for (other, _), tag in self._tags.items() if other is family]


def _font_names(labels: Iterable[Label]) -> dict[Path, str]:
    """The font files that the labels need, each with the name that reportlab knows it by from now on."""
    own = {each.path: each.name for each in (face(), face(bold=True))}
    letters: dict[Path, set[str]] = {}
    for label in labels:
        for run in face(label.bold).runs(label.text):
            if run.is_found:
                letters.setdefault(run.path, set()).update(run.text)
    for path, name in own.items():
        _register(name, path)
    return own | {path: _registered_part(path, "".join(sorted(some))) for path, some in letters.items()}


def _registered_part(path: Path, letters: str) -> str:
    from editor.printing.made_font import small_font  # loads fontTools, which is seldom needed

    name = f"Part-{sha256(f'{path} {letters}'.encode()).hexdigest()[:12]}"
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(_Font(name, io.BytesIO(small_font(path, letters, name))))
    return name


def _register(name: str, path: Path) -> None:
    if name not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(_Font(name, str(path)))


class _Font(TTFont):  # type: ignore[misc]
    """A font whose Arabic letters are found as letters, not as the forms they take in a word."""

    def addObjects(self, doc: PDFDocument) -> None:  # noqa: N802 - reportlab's name
        super().addObjects(doc)
        for name, each in doc.idToObject.items():
            if name.startswith(_TO_UNICODE):
                each.content = _CODE.sub(_as_read, each.content)


def _as_read(code: re.Match[str]) -> str:
    """Letters for forms of letters; two letters in one form are left to the reader, who knows which comes first."""
    letters = unicodedata.normalize("NFKC", chr(int(code[1], 16)))
    return f"<{letters.encode('utf-16-be').hex().upper()}>" if len(letters) == 1 else code[0]
