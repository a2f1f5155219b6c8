"""What the person says about the bought pattern: names and roles of edges, what is sewn to what, allowances.

Shapes stay as they were imported. Every statement holds in all sizes and for all wearers; a project comes back.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import lru_cache
from typing import Any

from editor.document.project import Project, Round, Wearer, start_of
from geometry.alterations.anchors import Anchor, On
from geometry.alterations.replay import Record
from geometry.checks.pairing import propose_seams
from geometry.errors import MissingPartError, PatternError
from geometry.identity import Same
from geometry.model.edge import Edge, EdgeRole
from geometry.model.pattern import EdgeRef, Nest, Pattern, Seam
from geometry.model.piece import Piece

_EDGE_FIELDS = ("edge", "other_edge")
_LONGEST_NAME = 60


def with_seam(project: Project, seam: Seam, *, replacing: str = "") -> Project:
    """The project with a seam stated, in the place of one of the same id or of ``replacing``, else as the last."""
    gives_way = {seam.id, replacing}

    def stated(pattern: Pattern) -> Pattern:
        if not _has_edges(pattern, seam):
            return pattern
        seams = [seam if old.id in gives_way else old for old in pattern.seams]
        return replace(pattern, seams=tuple(dict.fromkeys([*seams, seam])))

    forgotten = tuple(name for name in project.forgotten_seams if name != seam.id)
    return replace(_each_size(project, stated), forgotten_seams=forgotten)


def without_seam(project: Project, seam_id: str) -> Project:
    """The project with a seam no longer stated, and never proposed again."""

    def forgotten(pattern: Pattern) -> Pattern:
        return replace(pattern, seams=tuple(seam for seam in pattern.seams if seam.id != seam_id))

    names = (*(name for name in project.forgotten_seams if name != seam_id), seam_id)
    return replace(_each_size(project, forgotten), forgotten_seams=names)


def proposals(pattern: Pattern, forgotten: tuple[str, ...] = ()) -> tuple[Seam, ...]:
    """The seams proposed beside those a pattern states: of edges that no stated seam sews, none that was forgotten."""
    sewn = {ref for seam in pattern.seams for ref in (*seam.first, *seam.second)}
    return tuple(
        seam
        for seam in propose_seams(replace(pattern, seams=()))
        if seam.id not in forgotten and sewn.isdisjoint((*seam.first, *seam.second))
    )


def as_said(project: Project, size: str) -> Pattern:
    """The bought pattern in a size with every seam that is stated or, until then, proposed; the very same each time."""
    return _as_said(Same(project.base.nest.pattern(size)), project.forgotten_seams)


def start_as_said(project: Project, wearer: Wearer) -> Pattern:
    """What a wearer's rounds start from, with every seam that is stated or proposed; the very same each time."""
    return _as_said(Same(start_of(project.base.nest, wearer)), project.forgotten_seams)


def sewn_as_said(pattern: Pattern, forgotten: tuple[str, ...]) -> Pattern:
    """A pattern of a project with every seam that is stated or, until then, proposed."""
    return _as_said(Same(pattern), forgotten)


def proposed_ids(project: Project, said: Pattern) -> frozenset[str]:
    """Ids of those seams of ``as_said`` that are proposed only."""
    nest = project.base.nest
    stated = {seam.id for seam in (nest.pattern(said.size) if said.size in nest.sizes else nest.sample).seams}
    return frozenset(seam.id for seam in said.seams) - stated


def with_edge_named(project: Project, piece: str, edge: str, name: str) -> Project:
    """The project with an edge called something else, in every size, seam and recorded step.

    Raises:
        PatternError: the name is empty, too long or another edge of the piece has it.
    """
    name = " ".join(name.split())
    known = [each.id for each in project.base.nest.sample.piece(piece).edges]
    if not name or len(name) > _LONGEST_NAME:
        raise PatternError(f"Give the edge a name of 1 to {_LONGEST_NAME} letters.", code="bad-name")
    if name != edge and name in known:
        raise PatternError(f'"{piece}" has an edge called "{name}" already; give another name.', code="name-taken")
    if name == edge:
        return project
    ref = EdgeRef(piece, edge)
    renamed = _each_size(project, lambda pattern: _pattern_renamed(pattern, ref, name))
    return replace(renamed, wearers=tuple(_wearer_renamed(wearer, ref, name) for wearer in project.wearers))


def with_edge_role(project: Project, piece: str, edge: str, role: EdgeRole) -> Project:
    """The project with an edge known as something else on the garment."""
    return _each_edge(
        project,
        lambda ref, old: replace(old, role=role) if ref == EdgeRef(piece, edge) and old.role is not role else old,
    )


def with_allowances(project: Project, widths_mm: Mapping[EdgeRef, float]) -> Project:
    """The project with other allowances on some edges, in every size; the stitching line stays where it is.

    Raises:
        PatternError: a width is below 0.
    """
    low = next((ref for ref, width_mm in widths_mm.items() if width_mm < 0), None)
    if low is not None:
        raise PatternError(f'The allowance of "{low.edge}" of "{low.piece}" cannot be below 0.', code="bad-allowance")
    return _each_edge(
        project,
        lambda ref, old: (
            replace(old, allowance_mm=widths_mm[ref])
            if ref in widths_mm and old.allowance_mm != widths_mm[ref]
            else old
        ),
    )


# -- every size


def _each_size(project: Project, change: Callable[[Pattern], Pattern]) -> Project:
    nest = project.base.nest
    changed = Nest(nest.name, tuple(change(pattern) for pattern in nest.patterns), nest.sample_size)
    return replace(project, base=replace(project.base, nest=changed))


def _each_edge(project: Project, change: Callable[[EdgeRef, Edge], Edge]) -> Project:
    def changed(piece: Piece) -> Piece:
        edges = tuple(change(EdgeRef(piece.name, edge.id), edge) for edge in piece.edges)
        same = all(new is old for new, old in zip(edges, piece.edges, strict=True))
        return piece if same else replace(piece, edges=edges)

    return _each_size(
        project, lambda pattern: replace(pattern, pieces=tuple(changed(piece) for piece in pattern.pieces))
    )


def _has_edges(pattern: Pattern, seam: Seam) -> bool:
    try:
        for side in seam.sides:
            for ref, _, stretch in side.parts:
                stretch.bounds_mm(pattern.piece(ref.piece), ref.edge)
    except MissingPartError:
        return False
    return True


@lru_cache(maxsize=64)
def _as_said(key: Same[Pattern], forgotten: tuple[str, ...]) -> Pattern:
    pattern = key.value
    return replace(pattern, seams=(*pattern.seams, *proposals(pattern, forgotten)))


# -- names


def _pattern_renamed(pattern: Pattern, ref: EdgeRef, name: str) -> Pattern:
    if all(piece.name != ref.piece for piece in pattern.pieces):
        return pattern
    piece = pattern.piece(ref.piece)
    renamed = replace(
        piece,
        edges=tuple(replace(edge, id=name) if edge.id == ref.edge else edge for edge in piece.edges),
        fold=name if piece.fold == ref.edge else piece.fold,
        darts=tuple(replace(dart, edge=name) if dart.edge == ref.edge else dart for dart in piece.darts),
        notches=tuple(replace(notch, edge=name) if notch.edge == ref.edge else notch for notch in piece.notches),
    )
    seams = tuple(_seam_renamed(seam, ref, name) for seam in pattern.seams)
    return replace(pattern.with_piece(renamed), seams=seams)


def _seam_renamed(seam: Seam, ref: EdgeRef, name: str) -> Seam:
    new = EdgeRef(ref.piece, name)
    first, second = (tuple(new if each == ref else each for each in side) for side in (seam.first, seam.second))
    return seam if (first, second) == (seam.first, seam.second) else replace(seam, first=first, second=second)


def _wearer_renamed(wearer: Wearer, ref: EdgeRef, name: str) -> Wearer:
    rounds = tuple(_round_renamed(each, ref, name) for each in wearer.rounds)
    return replace(wearer, rounds=rounds, sizes=_renamed(wearer.sizes, ref, name, ""))


def _round_renamed(each: Round, ref: EdgeRef, name: str) -> Round:
    return replace(each, records=tuple(_record_renamed(record, ref, name) for record in each.records))


def _record_renamed(record: Record, ref: EdgeRef, name: str) -> Record:
    step = _renamed(record.step, ref, name, "")
    return record if step is record.step else replace(record, step=step)


def _renamed(value: Any, ref: EdgeRef, name: str, piece: str) -> Any:
    """A step, or a part of one on a piece, with the edge's new name; the very same where the edge is not in it."""
    if isinstance(value, tuple):
        parts = tuple(_renamed(part, ref, name, piece) for part in value)
        return value if all(new is old for new, old in zip(parts, value, strict=True)) else parts
    if isinstance(value, Anchor):
        return replace(value, name=name) if (value.on, value.name, piece) == (On.EDGE, ref.edge, ref.piece) else value
    if not is_dataclass(value) or isinstance(value, type):
        return value
    changed = {}
    for field in fields(value):
        old = getattr(value, field.name)
        is_other = field.name.startswith("other_")
        on = getattr(value, "other_piece" if is_other else "piece", piece)
        if field.name in _EDGE_FIELDS:
            new = name if (on, old) == (ref.piece, ref.edge) else old
        else:
            new = _renamed(old, ref, name, on)
        if new is not old:
            changed[field.name] = new
    return replace(value, **changed) if changed else value
