"""A small TrueType font of a few letters of any other, which is all that a PDF needs. The only door to fontTools."""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.filterPen import DecomposingFilterPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

_OFF_BY: Final = 0.001
"""How far the curves of a letter may lie off, as a share of the size of the type."""

_NOTDEF: Final = ".notdef"


def small_font(path: Path, letters: Iterable[str], name: str) -> bytes:
    """A font with these letters only; letters that the font has not are left out."""
    with TTFont(path, fontNumber=0, lazy=True) as font:
        glyphs, characters = font.getGlyphSet(), font.getBestCmap()
        units = font["head"].unitsPerEm
        codes = {ord(letter): characters[ord(letter)] for letter in letters if ord(letter) in characters}
        names = [_NOTDEF, *dict.fromkeys(codes.values())]
        drawn = {}
        for each in names:
            pen = TTGlyphPen(None)
            if each in glyphs:
                glyphs[each].draw(DecomposingFilterPen(Cu2QuPen(pen, units * _OFF_BY), glyphs))
            drawn[each] = pen.glyph()
        widths = {each: glyphs[each].width if each in glyphs else units for each in names}
        rise, drop = font["hhea"].ascent, font["hhea"].descent
    builder = FontBuilder(units, isTTF=True)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap(codes)
    builder.setupGlyf(drawn)
    builder.setupHorizontalMetrics(
        {each: (round(width), builder.font["glyf"][each].xMin) for each, width in widths.items()}
    )
    builder.setupHorizontalHeader(ascent=rise, descent=drop)
    builder.setupNameTable({"familyName": name, "styleName": "Regular", "psName": name})
    builder.setupOS2(sTypoAscender=rise, sTypoDescender=drop)
    builder.setupPost()
    content = io.BytesIO()
    builder.save(content)
    return content.getvalue()
