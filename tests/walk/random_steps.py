"""A random step of any kind there is, built from its fields: names that are on the pattern, or hardly ever are not."""

from __future__ import annotations

import dataclasses
import enum
import types
import typing
from typing import Any

from hypothesis import strategies as st

from geometry.alterations.anchors import Anchor, On
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.registry import ENTRIES
from geometry.alterations.kinds import STEP_KINDS
from geometry.alterations.slash import Hinge, Slash, SlashCut
from geometry.alterations.step import Step
from geometry.errors import PatternError
from geometry.model.pattern import EdgeRef, Pattern
from geometry.model.piece import Piece

SHARES = st.sampled_from([0.0, 0.25, 0.3, 0.5, 0.7, 1.0])
AMOUNTS_MM = st.sampled_from([-25.4, -6.0, -0.5, 0.0, 0.5, 6.0, 12.7, 25.4, 60.0])
STRANGE = st.sampled_from(["", "gusset", "waist dart 2"])


def steps(pattern: Pattern, *, kinds: tuple[type[Step], ...] = tuple(STEP_KINDS.values())) -> st.SearchStrategy[Step]:
    """Steps of every kind, on one of the pattern's pieces; many do not fit."""
    return st.composite(_step)(pattern, kinds)


def _step(draw: st.DrawFn, pattern: Pattern, kinds: tuple[type[Step], ...]) -> Step:
    piece = draw(st.sampled_from(pattern.pieces))
    if draw(st.integers(0, 3)) == 0 and Alteration in kinds:
        return _alteration(draw)
    return typing.cast(Step, _built(draw, draw(st.sampled_from(kinds)), piece, pattern))


def _alteration(draw: st.DrawFn) -> Step:
    """An entry of the handbook in one of its ways, on the pieces it finds by itself."""
    entry = draw(st.sampled_from(ENTRIES))
    variant = draw(st.sampled_from(["", *(each.name for each in entry.variants)]))
    return Alteration(entry.code, draw(AMOUNTS_MM), variant)


def _built(draw: st.DrawFn, kind: type[Any], piece: Piece, pattern: Pattern) -> Any:
    hints = typing.get_type_hints(kind)
    fields = {}
    for field in dataclasses.fields(kind):
        has_default = field.default is not dataclasses.MISSING or field.default_factory is not dataclasses.MISSING
        if not (has_default and draw(st.booleans())):
            fields[field.name] = _value(draw, field.name, hints[field.name], piece, pattern)
    try:
        return kind(**fields)
    except PatternError:
        return _plain_slash(piece)  # a step may refuse its fields at once


def _value(draw: st.DrawFn, name: str, kind: Any, piece: Piece, pattern: Pattern) -> Any:
    origin, inner = typing.get_origin(kind), typing.get_args(kind)
    if origin in (typing.Union, types.UnionType):
        return _value(draw, name, draw(st.sampled_from(inner)), piece, pattern)
    if kind is type(None):
        return None
    if origin is tuple:
        if len(inner) == 2 and inner[1] is Ellipsis:
            return tuple(_value(draw, name, inner[0], piece, pattern) for _ in range(draw(st.integers(1, 2))))
        return tuple(_value(draw, name, each, piece, pattern) for each in inner)
    if kind is Anchor:
        return draw(anchors(piece))
    if kind is EdgeRef:
        other = draw(st.sampled_from(pattern.pieces))
        return EdgeRef(other.name, draw(st.sampled_from(other.edges)).id)
    if dataclasses.is_dataclass(kind):
        return _built(draw, typing.cast(Any, kind), piece, pattern)
    return _plain(draw, name, kind, piece, pattern)


def _plain(draw: st.DrawFn, name: str, kind: Any, piece: Piece, pattern: Pattern) -> Any:
    if isinstance(kind, type) and issubclass(kind, enum.Enum):
        return draw(st.sampled_from(list(kind)))
    if kind is bool:
        return draw(st.booleans())
    if kind is float:
        return draw(SHARES if "share" in name else AMOUNTS_MM)
    if kind is int:
        return draw(st.integers(0, 3))
    return draw(st.sampled_from(_names(name, piece, pattern)) | (STRANGE if name not in ("piece",) else st.nothing()))


def _names(field: str, piece: Piece, pattern: Pattern) -> list[str]:
    """What a field of that name would hold on this piece."""
    on_piece = {
        "piece": [piece.name],
        "dart": [dart.id for dart in piece.darts],
        "notch": [notch.id for notch in piece.notches],
        "edge": [edge.id for edge in piece.edges],
        "landmark": [mark.id for mark in piece.marks],
        "seam": [seam.id for seam in pattern.seams],
        "entry": [entry.code for entry in ENTRIES],
    }
    words = next((names for word, names in on_piece.items() if word in field), None)
    return words or [edge.id for edge in piece.edges]


@st.composite
def anchors(draw: st.DrawFn, piece: Piece) -> Anchor:
    """A place on this piece, by whatever it may hold on to."""
    on = draw(st.sampled_from([On.EDGE, On.EDGE, On.EDGE, *On]))
    darts = [dart.id for dart in piece.darts] or ["none"]
    names = {
        On.EDGE: [edge.id for edge in piece.edges],
        On.TIP: darts,
        On.AIM: darts,
        On.NOTCH: [notch.id for notch in piece.notches] or ["none"],
        On.LANDMARK: [mark.id for mark in piece.marks] or ["none"],
        On.FREE: [""],
    }
    x, y = piece.edges[0].start
    return Anchor(on, draw(st.sampled_from(names[on])), draw(SHARES), x + draw(AMOUNTS_MM), y + draw(AMOUNTS_MM))


def _plain_slash(piece: Piece) -> Step:
    first, second = piece.edges[0].id, piece.edges[-1].id
    return Slash(piece.name, (SlashCut((Anchor(On.EDGE, first, 0.5), Anchor(On.EDGE, second, 0.5)), 6.0, Hinge.END),))
