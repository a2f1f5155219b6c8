"""Layers of a PDF: optional content groups (ISO 32000-1, 8.11), which reportlab does not know by itself."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from reportlab.pdfbase.pdfdoc import (
    PDFArray,
    PDFCatalog,
    PDFDictionary,
    PDFName,
    PDFObjectReference,
    PDFResourceDictionary,
    PDFString,
)
from reportlab.pdfgen.canvas import Canvas

END_LAYER: Final = "EMC"


class Family(StrEnum):
    """Layers that stand together in the viewer's list, under this heading."""

    LINES = "Lines and words"
    SIZE = "Sizes"


class Layers:
    """The layers of one file, each made when something is first drawn on it."""

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

    def list_in(self, canvas: Canvas) -> None:
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
