"""Every dart, notch, line and mark of a piece with an id of its own, whatever its texts call them."""

from dataclasses import replace
from typing import Any, TypeVar

from geometry.model.piece import Piece

Named = TypeVar("Named", bound=Any)


def with_own_ids(piece: Piece) -> Piece:
    """The piece with later things of the same id renamed "..., 2", "..., 3"; itself where there are none."""
    kinds = ("darts", "double_darts", "notches", "inner_lines", "marks")
    changed: dict[str, Any] = {kind: _told_apart(getattr(piece, kind)) for kind in kinds}
    changed = {kind: things for kind, things in changed.items() if things is not getattr(piece, kind)}
    return replace(piece, **changed) if changed else piece


def _told_apart(things: tuple[Named, ...]) -> tuple[Named, ...]:
    ids = [thing.id for thing in things]
    if len(set(ids)) == len(ids):
        return things
    taken, told = set[str](), []
    for thing in things:
        name, number = thing.id, 1
        while name in taken or (number > 1 and name in ids):
            number += 1
            name = f"{thing.id}, {number}"
        taken.add(name)
        told.append(thing if name == thing.id else replace(thing, id=name))
    return tuple(told)
