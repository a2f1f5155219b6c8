"""The only module that imports ezdxf: the full reader of DXF entities, and the writer.

Importing ezdxf takes longer than reading a usual pattern file, so this module is imported only when a
file needs it.
"""

import io
import logging
import math
import struct
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import numpy as np
import numpy.typing as npt
from ezdxf.filemanagement import new, read
from ezdxf.lldxf.const import DXFError
from ezdxf.lldxf.tagger import binary_tags_loader
from ezdxf.lldxf.tagwriter import TagWriter
from ezdxf.math import OCS

from editor.formats.drawing import Block, Shape
from editor.formats.dxf_content import Content, Loaded, Matrix, Placement, plain_text, ring, text_anchor
from editor.formats.dxf_placement import largest_scales
from editor.formats.dxf_rebuild import Rebuilt
from editor.formats.flattening import bulged_path, ellipse_points
from geometry.affine import Points, frozen_points
from geometry.errors import PatternError

logging.getLogger("ezdxf").addHandler(logging.NullHandler())

MOST_COPIES = 10_000
"""Cap on the copies one INSERT with rows and columns may ask for."""

SPLINE_FRAME = 16
"""Bit of a VERTEX that only steers a fitted curve and does not lie on it."""

Converter = Callable[[Any, str, float], "list[Shape]"]


def binary_tags(data: bytes, name: str) -> tuple[list[int], list[str], bool]:
    """Return group codes and values of a binary DXF file, and whether its last tag is whole."""
    codes: list[int] = []
    values: list[str] = []
    try:
        for tag in binary_tags_loader(data, errors="replace"):
            codes.append(tag.code)
            values.append(tag.value.hex() if isinstance(tag.value, bytes) else str(tag.value))
    except (IndexError, ValueError, struct.error):
        return codes, values, False
    except DXFError as problem:
        raise PatternError(f"{name} is not a sound binary DXF file ({problem}); export it again.") from None
    return codes, values, True


# ---- reading ----


def load(rebuilt: Rebuilt, source: str, *, within: float) -> Loaded:
    """Read a rebuilt file; curves become points whose chords stay within the distance (in file units).

    Raises:
        PatternError: If ezdxf cannot read it, or does not find in it what was written into it.
    """
    try:
        document = read(io.StringIO(rebuilt.text()))
        blocks = [list(document.blocks.get(f"B{number}")) for number in range(len(rebuilt.blocks))]
        model = list(document.modelspace())
    except (DXFError, ValueError, TypeError, LookupError, AttributeError) as problem:
        sentence = f"{source} holds entities that cannot be understood ({problem}); export it again as DXF R12."
        raise PatternError(sentence, code="damaged") from None
    found = [[entity.dxftype() for entity in entities] for entities in (*blocks, model)]
    if found != rebuilt.types:
        sentence = f"{source} could only be read in part, so pieces may be missing; export it again as DXF R12."
        raise PatternError(sentence, code="incomplete")
    return _Loader(rebuilt, within).load(blocks, model)


class _Loader:
    """Turns ezdxf's entities into shapes and placements."""

    def __init__(self, rebuilt: Rebuilt, within: float) -> None:
        self.rebuilt = rebuilt
        self.within = within
        self.loaded = Loaded(unused=rebuilt.unused, taken=rebuilt.taken, notes=rebuilt.notes)

    def load(self, blocks: Sequence[Sequence[Any]], model: Sequence[Any]) -> Loaded:
        """Take the placements first: they tell how fine each block's curves must be."""
        loaded = self.loaded
        for name, entities in zip(self.rebuilt.blocks, blocks, strict=True):
            loaded.blocks[name] = Content(inserts=self._placements(entities))
        loaded.model = Content(inserts=self._placements(model))
        scales = largest_scales(loaded.blocks, loaded.model)
        for name, entities in zip(self.rebuilt.blocks, blocks, strict=True):
            loaded.blocks[name].shapes = self._shapes(entities, self.within / scales[name])
        loaded.model.shapes = self._shapes(model, self.within)
        return loaded

    def _layer(self, entity: Any) -> str:
        return self.rebuilt.layers[int(entity.dxf.layer[1:])]

    def _shapes(self, entities: Iterable[Any], within: float) -> list[Shape]:
        shapes: list[Shape] = []
        for entity in entities:
            kind = entity.dxftype()
            if kind == "INSERT":
                continue
            made = _CONVERTERS[kind](entity, self._layer(entity), within)
            if not made:
                self.loaded.unused[kind, self._layer(entity)] += 1
            shapes += made
        return shapes

    def _placements(self, entities: Iterable[Any]) -> list[Placement]:
        placements: list[Placement] = []
        for insert in (entity for entity in entities if entity.dxftype() == "INSERT"):
            target = self.rebuilt.blocks[int(insert.dxf.name[1:])]
            texts = tuple(shape for attrib in insert.attribs for shape in _text(attrib, self._layer(attrib), 0))
            for single in self._grid(insert, target):
                placements.append(Placement(target, _matrix(single), texts))
        return placements

    def _grid(self, insert: Any, target: str) -> Iterable[Any]:
        if insert.mcount > MOST_COPIES:
            sentence = f"Block '{target}' is placed {insert.mcount} times by one INSERT; simplify the drawing."
            raise PatternError(sentence, code="too-many-shapes")
        for count, spacing in (("row_count", "row_spacing"), ("column_count", "column_spacing")):
            if not insert.dxf.get(spacing):
                insert.dxf.discard(count)  # all in one place, though counted one by one
        return insert.multi_insert() if insert.mcount > 1 else (insert,)


def _matrix(insert: Any) -> Matrix:
    across, up, _, origin = insert.matrix44().rows()
    return np.array([[across[0], up[0], origin[0]], [across[1], up[1], origin[1]]])


def _world(entity: Any, points: npt.ArrayLike, z: float = 0.0) -> npt.NDArray[np.float64]:
    """Return points of an entity's own plane as drawn; nearly all lie in the drawing's plane already."""
    flat = np.asarray(points, dtype=np.float64).reshape(-1, 2)
    if not entity.dxf.hasattr("extrusion"):
        return flat
    ocs = OCS(entity.dxf.extrusion)
    axes = np.array([ocs.ux.xyz, ocs.uy.xyz, ocs.uz.xyz], dtype=np.float64)[:, :2]
    drawn: Points = flat @ axes[:2] + z * axes[2]
    return drawn


def _path(entity: Any, layer: str, points: npt.NDArray[np.float64], closed: bool) -> list[Shape]:
    rounded, closed = ring(points, closed)
    if len(rounded) < 2:
        return []
    return [Shape(layer, "path", frozen_points(rounded), closed, entity=entity.dxftype())]


def _line(entity: Any, layer: str, within: float) -> list[Shape]:
    return [Shape(layer, "path", _flat([entity.dxf.start, entity.dxf.end]), entity="LINE")]


def _point(entity: Any, layer: str, within: float) -> list[Shape]:
    place = entity.dxf.location
    depth, width, angle_deg = place.z, entity.dxf.thickness, entity.dxf.angle
    shape = Shape(layer, "point", _flat([place]), z=depth, thickness=width, angle_deg=angle_deg, entity="POINT")
    return [shape]


def _text(entity: Any, layer: str, within: float) -> list[Shape]:
    names = {72: "halign", 73: "valign", 11: "align_point", 21: "align_point"}
    x_code, _ = text_anchor(
        lambda code: float(entity.dxf.get(names[code], 0)), lambda code: bool(entity.dxf.hasattr(names[code]))
    )
    place = entity.dxf.align_point if x_code == 11 else entity.dxf.insert
    points = frozen_points(_world(entity, _flat([place]), place.z))
    return [Shape(layer, "text", points, text=plain_text(entity.dxf.text), entity=entity.dxftype())]


def _mtext(entity: Any, layer: str, within: float) -> list[Shape]:
    """Return one text per line: each may hold a keyword of its own."""
    lines = (plain_text(line) for line in entity.plain_text(split=True))
    points = _flat([entity.dxf.insert])
    return [Shape(layer, "text", points, text=line, entity="MTEXT") for line in lines if line]


def _polyline(entity: Any, layer: str, within: float) -> list[Shape]:
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        return []
    drawn = [vertex for vertex in entity.vertices if not vertex.dxf.flags & SPLINE_FRAME]
    vertices = _flat([vertex.dxf.location for vertex in drawn])
    if entity.is_3d_polyline:
        return _path(entity, layer, vertices, entity.is_closed)
    points = bulged_path(vertices, [vertex.dxf.bulge for vertex in drawn], entity.is_closed, within=within)
    return _path(entity, layer, _world(entity, points, entity.dxf.elevation.z), entity.is_closed)


def _lwpolyline(entity: Any, layer: str, within: float) -> list[Shape]:
    data = np.array(entity.get_points("xyb"), dtype=np.float64).reshape(-1, 3)
    points = bulged_path(data[:, :2], data[:, 2].tolist(), entity.closed, within=within)
    return _path(entity, layer, _world(entity, points, entity.dxf.elevation), entity.closed)


def _arc(entity: Any, layer: str, within: float) -> list[Shape]:
    """Return an ARC or a CIRCLE, which both run counter-clockwise in their own plane."""
    centre, radius = entity.dxf.center, abs(entity.dxf.radius)
    whole = entity.dxftype() == "CIRCLE"
    start = 0.0 if whole else math.radians(entity.dxf.start_angle)
    sweep = math.tau if whole else (math.radians(entity.dxf.end_angle) - start) % math.tau or math.tau
    points = ellipse_points(centre, (radius, 0), (0, radius), start, sweep, within=within)
    drawn = _world(entity, points, centre.z)
    return _path(entity, layer, drawn[:-1] if whole else drawn, whole) if radius > 0 else []


def _ellipse(entity: Any, layer: str, within: float) -> list[Shape]:
    dxf = entity.dxf
    sweep = (dxf.end_param - dxf.start_param) % math.tau
    whole = min(sweep, math.tau - sweep) < 1e-9
    minor = entity.minor_axis
    points = ellipse_points(
        dxf.center, dxf.major_axis, minor, dxf.start_param, math.tau if whole else sweep, within=within
    )
    return _path(entity, layer, points[:-1] if whole else points, whole)


def _spline(entity: Any, layer: str, within: float) -> list[Shape]:
    if entity.closed and entity.fit_point_count() and not entity.control_point_count():
        entity.fit_points = [*entity.fit_points, entity.fit_points[0]]
    try:
        points = _flat(entity.construction_tool().flattening(within))
    except (DXFError, ValueError, IndexError, ArithmeticError):
        return []
    closed = len(points) > 3 and float(np.abs(points[0] - points[-1]).max()) <= within
    return _path(entity, layer, points[:-1] if closed else points, closed)


def _flat(places: Iterable[Any]) -> Points:
    return frozen_points([(place[0], place[1]) for place in places])


_CONVERTERS: dict[str, Converter] = {
    "LINE": _line,
    "POINT": _point,
    "TEXT": _text,
    "MTEXT": _mtext,
    "POLYLINE": _polyline,
    "LWPOLYLINE": _lwpolyline,
    "ARC": _arc,
    "CIRCLE": _arc,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
}


# ---- writing ----


def dump(blocks: Sequence[Block], loose: Sequence[Shape], *, header: str, text_height: float) -> str:
    """Return an R12 file with LF line ends: the header text as given, one BLOCK and INSERT per block, loose shapes.

    Numbers keep every digit. The drawing program's own layout blocks and the handles are left out, since
    strict receivers take every BLOCK for a piece; zeros that are said explicitly are written.
    """
    document = new("R12")
    stream = io.StringIO()
    writer = TagWriter(stream, dxfversion="AC1009", write_handles=False)
    writer.force_optional = True
    for block in blocks:
        _draw(document.blocks.new(block.name), block.shapes, text_height)
        document.modelspace().add_blockref(block.name, (0, 0), dxfattribs={"layer": "1"})
    _draw(document.modelspace(), loose, text_height)
    stream.write(header)
    stream.write("  0\nSECTION\n  2\nBLOCKS\n")
    for block in blocks:
        document.blocks.get(block.name).block_record.export_block_definition(writer)
    stream.write("  0\nENDSEC\n  0\nSECTION\n  2\nENTITIES\n")
    document.modelspace().entity_space.export_dxf(writer)
    stream.write("  0\nENDSEC\n  0\nEOF\n")
    return stream.getvalue()


def _draw(layout: Any, shapes: Iterable[Shape], text_height: float) -> None:
    for shape in shapes:
        on_layer = {"layer": shape.layer}
        if shape.kind == "point":
            notch = {"thickness": shape.thickness, "angle": shape.angle_deg}
            layout.add_point((*shape.points[0].tolist(), shape.z), dxfattribs=on_layer | notch)
        elif shape.kind == "text":
            layout.add_text(
                shape.text, height=shape.z or 5.0, dxfattribs=on_layer | {"insert": shape.points[0].tolist()}
            )
        elif len(shape.points) == 2 and not shape.closed:
            layout.add_line(*shape.points.tolist(), dxfattribs=on_layer)
        else:
            layout.add_polyline2d(shape.points.tolist(), close=shape.closed, dxfattribs=on_layer)
