"""Pieces as an SVG drawing in true millimetres: a group per piece, in it one per size, in that one per kind of line."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Final

from editor.atomic_file import write_whole
from editor.formats.drawing import Shape
from editor.formats.pattern_to_drawing import drawing_of
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece

_GAP_MM: Final = 20.0
"""Free space between pieces and round them."""

_KINDS: Final = {
    "1": ("cutting line", 0.5, ""),
    "14": ("stitching line", 0.25, "4 2"),
    "7": ("grain", 0.25, ""),
    "6": ("fold", 0.35, "10 2 2 2"),
    "8": ("inner lines", 0.25, "1 1"),
    "11": ("cutouts", 0.5, ""),
}
"""Layer of the standard, then what it is, its line width and dashes in mm."""

_SIZE_DASHES: Final = ("", "8 2", "6 2 1 2", "3 2", "1.5 1.5", "6 1 1 1 1 1", "10 3 3 3")
"""Sizes that lie over one another are told apart by dashes, not by colour."""

_CROSS_MM: Final = 2.0


def write_svg(source: Nest | Pattern, path: Path) -> None:
    """Write all sizes of a nest, laid over one another, or one pattern; raises ``PatternError`` where it cannot be."""
    nest = source if isinstance(source, Nest) else Nest("", (source,), source.size)
    picture = _picture(nest)
    ET.indent(picture)
    write_whole(path, ET.tostring(picture, encoding="utf-8", xml_declaration=True))


def _picture(nest: Nest) -> ET.Element:
    names = list(dict.fromkeys(piece.name for pattern in nest.patterns for piece in pattern.pieces))
    root = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg", "version": "1.1"})
    ET.SubElement(root, "title").text = nest.name or "Pattern"
    x, tallest = _GAP_MM, 0.0
    for name in names:
        sizes = [piece for pattern in nest.patterns for piece in pattern.pieces if piece.name == name]
        group = ET.SubElement(root, "g", {"id": _id(name)})
        ET.SubElement(group, "title").text = name
        left, bottom, right, top = _bounds(sizes)
        group.set("transform", f"translate({x - left:.4f} {top + _GAP_MM:.4f}) scale(1 -1)")
        for number, piece in enumerate(sizes):
            group.append(_piece(piece, _SIZE_DASHES[number % len(_SIZE_DASHES)] if len(sizes) > 1 else ""))
        x += right - left + _GAP_MM
        tallest = max(tallest, top - bottom)
    width, height = x, tallest + 2 * _GAP_MM
    root.set("width", f"{width:.4f}mm")
    root.set("height", f"{height:.4f}mm")
    root.set("viewBox", f"0 0 {width:.4f} {height:.4f}")
    return root


def _bounds(sizes: list[Piece]) -> tuple[float, float, float, float]:
    """The box round all shapes of a piece in every size."""
    shapes = [shape for piece in sizes for shape in _shapes(piece) if shape.kind != "text"]
    low = [min(float(shape.points[:, axis].min()) for shape in shapes) for axis in (0, 1)]
    high = [max(float(shape.points[:, axis].max()) for shape in shapes) for axis in (0, 1)]
    return low[0], low[1], high[0], high[1]


def _shapes(piece: Piece) -> tuple[Shape, ...]:
    return drawing_of(Pattern((piece,), size=piece.size)).blocks[0].shapes


def _piece(piece: Piece, dashes: str) -> ET.Element:
    group = ET.Element("g", {"fill": "none", "stroke": "black"})
    ET.SubElement(group, "title").text = f"{piece.name}, size {piece.size}" if piece.size else piece.name
    shapes = _shapes(piece)
    for layer, (kind, width, own_dashes) in _KINDS.items():
        paths = [shape for shape in shapes if shape.layer == layer and shape.kind == "path"]
        if paths:
            lines = ET.SubElement(group, "g", {"class": kind, "stroke-width": f"{width:g}"})
            if own_dashes or dashes:
                lines.set("stroke-dasharray", own_dashes or dashes)
            for shape in paths:
                ET.SubElement(lines, "path", {"d": _path(shape)})
    marks = [shape for shape in shapes if shape.kind == "point" and shape.layer not in ("2", "3")]
    if marks:
        crosses = ET.SubElement(group, "g", {"class": "notches and marks", "stroke-width": "0.25"})
        for shape in marks:
            ET.SubElement(crosses, "path", {"d": _cross(shape)})
    return group


def _path(shape: Shape) -> str:
    points = " L".join(f"{x:.6f} {y:.6f}" for x, y in shape.points.tolist())
    return f"M{points}{' Z' if shape.closed else ''}"


def _cross(shape: Shape) -> str:
    (x, y), r = shape.points[0].tolist(), _CROSS_MM
    return f"M{x - r:.6f} {y:.6f} L{x + r:.6f} {y:.6f} M{x:.6f} {y - r:.6f} L{x:.6f} {y + r:.6f}"


def _id(name: str) -> str:
    """A name as XML lets an id be."""
    return "piece-" + "".join(letter if letter.isalnum() else "-" for letter in name)
