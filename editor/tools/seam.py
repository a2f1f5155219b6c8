"""Say with two clicks which edges are sewn together; every seam shows in the same chalk on both its sides."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from editor.canvas.hits import sheet_at
from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene
from editor.tools.base import (
    Chalk,
    ChalkKind,
    Pick,
    Preview,
    Readout,
    Reply,
    Sew,
    Spot,
    SpotKind,
    Tag,
    Taken,
    ToolWithoutAmount,
)
from editor.tools.readings import both_units
from editor.tools.things import EDGE_REACH_PX
from geometry.affine import Point, distance_mm, frozen_points
from geometry.checks.sewing import seam_of, turned
from geometry.checks.stretches import drawn_to, with_stretch
from geometry.checks.walking import Walk, walk
from geometry.checks.wording import from_to
from geometry.curves import polyline
from geometry.errors import PatternError
from geometry.model.pattern import WHOLE_EDGE, EdgeRef, Pattern, Seam, Stretch

Refs = tuple[EdgeRef, ...]

_HINT = "Click an edge, then the edge it is sewn to. Shift adds further edges to the side clicked last."
_FIRST_HINT = "Click the edge it is sewn to; Shift adds to this side. Enter sews it to its own mirror image."
_SEWN_HINT = "Sewn. Shift adds further edges to the second side, R walks it from its other end. Click on for more."
_END_HINT = "Drag an end of the seam along its edge to sew only a part of it; it holds on to notches and corners."
_HANDLE_REACH_PX = 9.0
_NOTCH_REACH_PX = 8.0


@dataclass(frozen=True, slots=True)
class _First:
    """One side is named."""

    refs: Refs


@dataclass(frozen=True, slots=True)
class _Sewn:
    """Both are, and the seam was stated."""

    first: Refs
    second: Refs
    seam: Seam


@dataclass(frozen=True, slots=True)
class _End:
    """An end of what is sewn of an edge: side and part of its seam, and whether the stretch ends or starts there."""

    side: int
    part: int
    at_end: bool


@dataclass(frozen=True, slots=True)
class _Drawn:
    """An end of a seam is being drawn along its edge."""

    before: Seam
    end: _End
    seam: Seam


class SeamTool(ToolWithoutAmount):
    """Nothing named, one side named, a seam just stated, or one whose end is being drawn along its edge."""

    name: ClassVar[str] = "seam"

    def __init__(self) -> None:
        self._state: _First | _Sewn | _Drawn | None = None
        self._over: tuple[EdgeRef, Point] | None = None
        self._trouble = ""
        self._drawn: tuple[object, tuple[Chalk, ...], tuple[Tag, ...]] = (None, (), ())

    @property
    def is_busy(self) -> bool:
        """Whether a side is named and not sewn yet, or an end is being drawn."""
        return isinstance(self._state, _First | _Drawn)

    @property
    def letters(self) -> str:
        """R, once a seam was stated."""
        return "r" if isinstance(self._state, _Sewn) else ""

    def preview(self, scene: Scene) -> Preview:
        """Every seam in its chalk with its number, the side named so far, and what is under the pointer."""
        if isinstance(self._state, _Drawn):
            drawn = self._state.seam
            seams = tuple(drawn if seam == self._state.before else seam for seam in scene.pattern.seams)
            scene = replace(scene, pattern=replace(scene.pattern, seams=seams))
        chalk, tags = self._seams(scene)
        if isinstance(self._state, _First):
            chalk += tuple(
                _edge_chalk(scene, ref, ChalkKind.GUIDE) for ref in self._state.refs if _is_there(scene, ref)
            )
        spots: tuple[Spot, ...] = ()
        held = self._held(scene)
        if held is not None:
            spots = tuple(Spot(at, SpotKind.KNOB, ahead) for _, at, ahead in _ends(scene, held))
        return Preview(
            chalk=chalk, tags=tags, spots=spots, readout=self._readout(scene), hint=self._trouble or self._hint(scene)
        )

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """Look for an edge."""
        ref = _edge_at(pointer, scene)
        self._over = (ref, pointer.at) if ref is not None else None
        self._trouble = ""

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Name an edge, or take hold of an end of the seam that is picked out."""
        if not isinstance(self._state, _First) and not pointer.shift and self._take_end(pointer, scene):
            return None
        return self._name(pointer, scene)

    def _name(self, pointer: Pointer, scene: Scene) -> Reply | None:
        ref = _edge_at(pointer, scene)
        if ref is None:
            self._state = None if not pointer.shift else self._state
            return None
        match self._state:
            case _First(refs) if pointer.shift:
                rest = tuple(each for each in refs if each != ref)
                self._state = _First(rest if len(rest) < len(refs) else (*refs, ref))
            case _First((only,)) if only == ref:
                self._state = None
            case _First(refs):
                return self._sew(refs, (ref,), scene)
            case _Sewn(first, second, seam) if pointer.shift and seam in scene.pattern.seams:
                return self._sew(first, (*second, ref), scene, replacing=seam.id)
            case _:
                self._state = _First((ref,))
                known = next((each for each in scene.pattern.seams if ref in (*each.first, *each.second)), None)
                return Pick(seam=known.id) if known is not None else None
        return None

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """Draw an end of the seam along its edge."""
        match self._state:
            case _Drawn(before, end, seam):
                ref, _, stretch = seam.sides[end.side].parts[end.part]
                sheet = scene.sheets[ref.piece]
                within_mm = pointer.mm(_NOTCH_REACH_PX)
                place = sheet.to_piece(pointer.at)
                moved = drawn_to(sheet.piece, ref.edge, stretch, place, at_end=end.at_end, within_mm=within_mm)
                self._state = _Drawn(before, end, with_stretch(seam, end.side, end.part, moved))
                self._over = (ref, pointer.at)
        return None

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """An end that was drawn stays there; all else is done with the press."""
        match self._state:
            case _Drawn(before, _, seam):
                self._state = None
                return Sew(seam, before.id) if seam != before else self._name(pointer, scene)
        return None

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """Enter sews a side to its mirror image, R turns the second side round."""
        match self._state:
            case _First(refs) if key.name == "enter":
                return self._sew(refs, refs, scene)
            case _Sewn(first, second, seam) if key.name == "r" and seam in scene.pattern.seams:
                other = turned(seam)
                self._state = _Sewn(first, second, other)
                return Sew(other)
        return None

    def cancel(self) -> Reply | None:
        """No side is named; a seam that was stated can still be added to."""
        if self.is_busy:
            self._state = None
        self._trouble = ""
        return None

    def _held(self, scene: Scene) -> Seam | None:
        """The seam whose ends can be drawn: the one that is picked out."""
        if isinstance(self._state, _Drawn):
            return self._state.seam
        picked = next((seam for seam in scene.pattern.seams if seam.id == scene.picked.seam), None)
        return None if isinstance(self._state, _First) else picked

    def _take_end(self, pointer: Pointer, scene: Scene) -> bool:
        """Take hold of the end of the seam under the pointer, if one is there."""
        seam = self._held(scene)
        near = [(distance_mm(at, pointer.at), number, end) for number, (end, at, _) in enumerate(_ends(scene, seam))]
        if seam is None or not near or min(near)[0] > pointer.mm(_HANDLE_REACH_PX):
            return False
        self._state = _Drawn(seam, min(near)[2], seam)
        return True

    def _hint(self, scene: Scene) -> str:
        if isinstance(self._state, _Drawn):
            return _END_HINT
        if isinstance(self._state, _First):
            return _FIRST_HINT
        return f"{_HINT if self._state is None else _SEWN_HINT} {_END_HINT if self._held(scene) else ''}".rstrip()

    def _sew(self, first: Refs, second: Refs, scene: Scene, *, replacing: str = "") -> Reply:
        try:
            seam = seam_of(scene.pattern, first, second)
        except PatternError as error:
            self._trouble = error.sentence
            return Taken()
        self._state = _Sewn(first, second, seam)
        return Sew(seam, replacing)

    # -- what is shown

    def _seams(self, scene: Scene) -> tuple[tuple[Chalk, ...], tuple[Tag, ...]]:
        """Chalk and numbers of all seams; kept while the pattern and the sheets stay the same."""
        key = (scene.pattern, scene.sheets, scene.proposed, scene.picked.seam)
        known = self._drawn[0]
        if not isinstance(known, tuple) or any(a is not b for a, b in zip(known, key, strict=True)):
            chalk, tags = _drawn(scene)
            self._drawn = (key, chalk, tags)
        return self._drawn[1], self._drawn[2]

    def _readout(self, scene: Scene) -> Readout | None:
        if self._over is None or not _is_there(scene, self._over[0]):
            return None
        ref, at = self._over
        if isinstance(self._state, _Drawn):
            return Readout(at, _drawn_words(scene.pattern, self._state))
        if isinstance(self._state, _First) and ref not in self._state.refs:
            try:
                walked = walk(scene.pattern, seam_of(scene.pattern, self._state.refs, (ref,)))
            except PatternError as error:
                return Readout(at, (error.sentence,), refused=True)
            return Readout(at, (f"sew to the {ref.edge} of the {ref.piece}", difference_words(walked)))
        length = both_units(scene.pattern.piece(ref.piece).sewn_length_mm(ref.edge))
        return Readout(at, (ref.edge, length, *_sewn_words(scene.pattern, ref)))


def difference_words(walked: Walk) -> str:
    """How much longer one side is, in words."""
    if abs(walked.ease_mm) < 0.05:
        return "both equally long"
    which = "first" if walked.ease_mm > 0 else "second"
    return f"the {which} side is {both_units(abs(walked.ease_mm))} longer"


def _drawn_words(pattern: Pattern, drawn: _Drawn) -> tuple[str, ...]:
    """From where to where the edge is sewn now, how long that is, and how it fits the other side."""
    ref, backward, stretch = drawn.seam.sides[drawn.end.side].parts[drawn.end.part]
    piece = pattern.piece(ref.piece)
    length = both_units(stretch.sewn_mm(piece, ref.edge))
    words = "sewn whole" if stretch.is_whole else f"sewn {from_to(piece, ref.edge, stretch, backward=backward)}"
    return f"{ref.edge}: {words}", length, difference_words(walk(pattern, drawn.seam))


def _ends(scene: Scene, seam: Seam | None) -> list[tuple[_End, Point, Point]]:
    """Where the ends of what a seam sews of each edge lie on the table, and the direction along the edge there."""
    found = []
    for number, side in enumerate(seam.sides if seam is not None else ()):
        for part, (ref, _, stretch) in enumerate(side.parts):
            if not _is_there(scene, ref):
                continue
            sheet = scene.sheets[ref.piece]
            edge, bounds = sheet.piece.edge(ref.edge), _bounds_mm(scene, ref, stretch)
            for at_end in (False, True):
                x, y = polyline.direction_at(edge.points, bounds[at_end])
                ahead = (-x, -y) if at_end else (x, y)
                found.append((_End(number, part, at_end), sheet.to_table(edge.point_at(bounds[at_end])), ahead))
    return found


def _bounds_mm(scene: Scene, ref: EdgeRef, stretch: Stretch) -> tuple[float, float]:
    """From where to where an edge is sewn; all of it where a notch that says so is gone."""
    piece = scene.sheets[ref.piece].piece
    try:
        return stretch.bounds_mm(piece, ref.edge)
    except PatternError:
        return WHOLE_EDGE.bounds_mm(piece, ref.edge)


def numbered(pattern: Pattern) -> tuple[tuple[int, Seam], ...]:
    """The seams with the numbers they show on the table and in the list."""
    return tuple(enumerate(pattern.seams, start=1))


def _sewn_words(pattern: Pattern, ref: EdgeRef) -> tuple[str, ...]:
    found = []
    for number, seam in numbered(pattern):
        if ref in (*seam.first, *seam.second):
            other = seam.second if ref in seam.first else seam.first
            words = " and ".join(f"{each.piece} {each.edge}" for each in other)
            found.append(f"seam {number}: sewn to {words}")
    return tuple(found) or ("not sewn to anything yet",)


def _drawn(scene: Scene) -> tuple[tuple[Chalk, ...], tuple[Tag, ...]]:
    chalk: list[Chalk] = []
    tags: list[Tag] = []
    for number, seam in numbered(scene.pattern):
        is_stated = seam.id not in scene.proposed
        is_picked = seam.id == scene.picked.seam
        parts = dict.fromkeys((ref, stretch) for side in seam.sides for ref, _, stretch in side.parts)
        for ref, stretch in parts:
            if _is_there(scene, ref):
                kind = ChalkKind.SEWN if is_stated else ChalkKind.PROPOSED
                line = _edge_chalk(scene, ref, kind, style=number, stretch=stretch)
                chalk.append(line)
                if is_picked:
                    chalk.append(Chalk(line.points, ChalkKind.GUIDE))
                middle = polyline.point_at(line.points, polyline.length_mm(line.points) / 2)
                tags.append(Tag(middle, str(number), style=number, is_firm=is_stated))
    return tuple(chalk), tuple(tags)


def _edge_chalk(scene: Scene, ref: EdgeRef, kind: ChalkKind, *, style: int = 0, stretch: Stretch = WHOLE_EDGE) -> Chalk:
    sheet = scene.sheets[ref.piece]
    points = sheet.piece.edge(ref.edge).points
    if not stretch.is_whole:
        points = polyline.part_between(points, *_bounds_mm(scene, ref, stretch))
    return Chalk(frozen_points(points + np.array(sheet.at)), kind, style)


def _is_there(scene: Scene, ref: EdgeRef) -> bool:
    sheet = scene.sheets.get(ref.piece)
    return sheet is not None and any(edge.id == ref.edge for edge in sheet.piece.edges)


def _edge_at(pointer: Pointer, scene: Scene) -> EdgeRef | None:
    """The edge under the pointer; one click needs no more than to be nearer to it than to others."""
    sheet = sheet_at(scene, pointer.at, reach_mm=pointer.mm(EDGE_REACH_PX * 2))
    if sheet is None:
        return None
    place = sheet.to_piece(pointer.at)
    gap_mm, edge = min((polyline.nearest(edge.points, place)[1], edge.id) for edge in sheet.piece.edges)
    return EdgeRef(sheet.name, edge) if gap_mm <= pointer.mm(EDGE_REACH_PX * 2) else None
