"""Putting blocks where their INSERTs place them: scale, mirror, turn, nesting."""

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from editor.formats.drawing import Block, Shape
from editor.formats.dxf_content import IDENTITY, LARGEST_COORDINATE, Content, Loaded, Matrix, Placement
from geometry.affine import frozen_points
from geometry.errors import PatternError

DEEPEST = 8
"""Blocks inside blocks deeper than this are an error of the sending program, not a pattern."""

MOST_SHAPES = 500_000
"""Cap on the shapes after placing, against blocks that multiply each other."""


def compose(outer: Matrix, inner: Matrix) -> Matrix:
    """Return the matrix that applies ``inner`` first, then ``outer``."""
    with np.errstate(over="ignore", invalid="ignore"):  # looked at where points are moved
        product: Matrix = outer[:, :2] @ inner
        product[:, 2] += outer[:, 2]
    return product


def is_identity(matrix: Matrix) -> bool:
    """Tell whether the matrix moves nothing."""
    return matrix is IDENTITY or np.array_equal(matrix, IDENTITY)


def largest_scales(contents: Mapping[str, Content], model: Content) -> dict[str, float]:
    """Return by block how many times larger it is ever drawn than it is defined, 1 where it is only shrunk."""
    scales = dict.fromkeys(contents, 1.0)
    level = [(1.0, placement) for placement in model.inserts]
    for _ in range(DEEPEST):
        drawn: dict[str, float] = {}
        for outer, placement in level:
            scale = outer * float(np.linalg.norm(placement.matrix[:, :2], ord=2))
            drawn[placement.target] = max(drawn.get(placement.target, 0.0), scale)
        for name, scale in drawn.items():
            scales[name] = max(scales[name], scale)
        level = [(scale, inner) for name, scale in drawn.items() for inner in contents[name].inserts]
    return scales


def place(loaded: Loaded) -> tuple[tuple[Block, ...], tuple[Shape, ...]]:
    """Return one block per placed block, or per block nothing places, and the loose shapes.

    A block that holds nothing but two or more INSERTs is a mere bundle: its members come out as blocks.
    Notes and counts of what was passed over are added to ``loaded``.

    Raises:
        PatternError: If the blocks multiply beyond all bounds.
    """
    return _Placer(loaded).run()


class _Placer:
    def __init__(self, loaded: Loaded) -> None:
        self.loaded = loaded
        self.count = 0
        self.told: set[str] = set()
        self.bundles: set[str] = set()

    def run(self) -> tuple[tuple[Block, ...], tuple[Shape, ...]]:
        placed: dict[str, list[Placement]] = {name: [] for name in self.loaded.blocks}
        for placement in self.loaded.model.inserts:
            self._unbundle(placement, placed, depth=1)
        inner = {insert.target for content in self.loaded.blocks.values() for insert in content.inserts}
        inner |= self.bundles
        blocks: list[Block] = []
        for name, content in self.loaded.blocks.items():
            placements = placed[name]
            drawn = content.shapes or content.inserts
            if not drawn or (not placements and (name in inner or self._is_accessory(name, content))):
                continue
            blocks += self._copies(name, placements or [Placement(name, IDENTITY)])
        return tuple(blocks), tuple(self.loaded.model.shapes)

    def _unbundle(self, placement: Placement, placed: dict[str, list[Placement]], *, depth: int) -> None:
        content = self.loaded.blocks[placement.target]
        is_bundle = not content.shapes and len(content.inserts) > 1 and depth < DEEPEST
        if not is_bundle:
            same = placed[placement.target]
            if not any(np.array_equal(placement.matrix, other.matrix) for other in same):
                same.append(placement)
            return
        self.bundles.add(placement.target)
        for inner in content.inserts:
            moved = replace(inner, matrix=compose(placement.matrix, inner.matrix))
            self._unbundle(moved, placed, depth=depth + 1)

    def _is_accessory(self, name: str, content: Content) -> bool:
        """Tell whether an unplaced block is a dimension's picture or an arrow head, and count it as unused."""
        layers = {shape.layer for shape in content.shapes}
        if not (name.startswith("*") or (name.startswith("_") and layers <= {"0"})):
            return False
        self.loaded.unused.update(Counter((shape.entity, shape.layer) for shape in content.shapes))
        return True

    def _copies(self, name: str, placements: list[Placement]) -> list[Block]:
        copies = []
        for number, placement in enumerate(placements, start=1):
            shapes = self._shapes(placement, IDENTITY, (name,))
            copies.append(Block(name if number == 1 else f"{name} (copy {number})", tuple(shapes)))
        if len(placements) > 1:
            self.loaded.notes.append(f"Block '{name}' is placed {len(placements)} times; each copy is a block.")
        return copies

    def _shapes(self, placement: Placement, outer: Matrix, path: tuple[str, ...]) -> list[Shape]:
        """Return everything a placement draws, the INSERTs inside its block included."""
        content = self.loaded.blocks[placement.target]
        matrix = compose(outer, placement.matrix)
        moved = content.shapes if is_identity(matrix) else [_moved(shape, matrix) for shape in content.shapes]
        shapes = [*moved, *(_moved(text, outer) for text in placement.texts)]
        self.count += len(shapes) + 1
        if self.count > MOST_SHAPES:
            sentence = f"Block '{path[0]}' and the blocks in it place each other too many times to draw; simplify it."
            raise PatternError(sentence, code="too-many-shapes")
        for inner in content.inserts:
            if inner.target in path:
                self._tell(f"Block '{inner.target}' places itself; the inner placing was left out.")
            elif len(path) >= DEEPEST:
                self._tell(f"Blocks are nested deeper than {DEEPEST} in block '{path[0]}'; the deepest were left out.")
            else:
                shapes += self._shapes(inner, matrix, (*path, inner.target))
        return shapes

    def _tell(self, note: str) -> None:
        if note not in self.told:
            self.told.add(note)
            self.loaded.notes.append(note)


def _moved(shape: Shape, matrix: Matrix) -> Shape:
    """Return the shape under the matrix; a POINT's depth and width scale with it, its direction turns with it."""
    with np.errstate(over="ignore", invalid="ignore"):
        points = frozen_points(shape.points @ matrix[:, :2].T + matrix[:, 2])
    if not np.abs(points).max(initial=0.0) <= LARGEST_COORDINATE:
        sentence = f"A {shape.entity} lies impossibly far out where its block is placed; export the file again."
        raise PatternError(sentence, code="bad-number")
    if shape.kind != "point":
        return replace(shape, points=points)
    scale = math.sqrt(abs(float(np.linalg.det(matrix[:, :2]))))
    angle = math.radians(shape.angle_deg)
    x, y = matrix[:, :2] @ (math.cos(angle), math.sin(angle))
    turned_deg = math.degrees(math.atan2(y, x)) % 360 if (x, y) != (0, 0) else shape.angle_deg
    return replace(shape, points=points, z=shape.z * scale, thickness=shape.thickness * scale, angle_deg=turned_deg)
