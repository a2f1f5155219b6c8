"""Fields that were read but are not ours: found by comparing, so that no list of known fields can go stale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from editor.document.schema import FieldError, parsed, to_json

Place = tuple[str | int, ...]
Leftover = tuple[Place, bytes]

DEEPEST = 50
"""Lists in lists deeper than this were made to harm: what is kept must be written back at any time."""


def leftover(read: Any, known: Any, place: Place = ()) -> tuple[Leftover, ...]:
    """Places and JSON texts of the fields in ``read`` that ``known`` lacks.

    Entries of a list are told by their id where they have one, else by their number.
    """
    return tuple(_walk(read, known, place))


def restored(known: Any, fields: Iterable[Leftover]) -> Any:
    """``known`` with such fields put back in place; those whose owner is gone are dropped with it."""
    for place, value in fields:
        owner = known
        for key in place[:-1]:
            owner = _inside(owner, key)
        if isinstance(owner, dict):
            owner.setdefault(place[-1], parsed(value))
    return known


def _walk(read: Any, known: Any, place: Place) -> Iterator[Leftover]:
    if isinstance(read, dict) and isinstance(known, dict):
        for name, value in read.items():
            if name in known:
                yield from _walk(value, known[name], (*place, name))
            else:
                _refuse_deep(value, str(name))
                yield (*place, name), to_json(value)
    elif isinstance(read, list) and isinstance(known, list | tuple):
        for index, (mine, theirs) in enumerate(zip(read, known, strict=False)):
            if isinstance(mine, dict):
                yield from _walk(mine, theirs, (*place, _key(theirs, index)))


def _refuse_deep(value: Any, name: str) -> None:
    level = [value]
    for _ in range(DEEPEST):
        owners = [each for each in level if isinstance(each, dict | list)]
        level = [inner for each in owners for inner in (each.values() if isinstance(each, dict) else each)]
        if not level:
            return
    raise FieldError(name, "it is nested too deeply to be one of ours")


def _key(entry: Any, index: int) -> str | int:
    name = entry.get("id") if isinstance(entry, dict) else None
    return name if isinstance(name, str) else index


def _inside(owner: Any, key: str | int) -> Any:
    if isinstance(owner, dict):
        return owner.get(key) if isinstance(key, str) else None
    if isinstance(owner, list | tuple):
        return next((entry for index, entry in enumerate(owner) if _key(entry, index) == key), None)
    return None
