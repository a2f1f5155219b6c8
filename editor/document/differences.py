"""What changed between two plain JSON values, small enough to be written after every step.

A change is a list that is JSON itself: ``["set", place, value]`` (a field), ``["drop", place]`` (a field) or
``["splice", place, start, count, values]`` (``count`` entries of a list give way to ``values``).
"""

from __future__ import annotations

import copy
from collections.abc import Iterable, Iterator
from typing import Any

from editor.document.schema import FieldError, to_json

Change = list[Any]


def changes(before: Any, after: Any) -> list[Change]:
    """What leads from one value to the other; nothing where they are the same to the last bit."""
    if isinstance(before, dict) and isinstance(after, dict):
        return list(_walk(before, after, []))
    return [] if _same(before, after) else [["set", [], after]]


def changed(before: Any, made: Iterable[Change]) -> Any:
    """The value after the changes; the one given stays as it is.

    Raises:
        FieldError: a change does not fit.
    """
    value = copy.deepcopy(before)
    for change in made:
        try:
            value = _carried_out(value, change)
        except (IndexError, KeyError, TypeError, ValueError, AttributeError):
            raise FieldError("", "a recorded change does not fit what was there before") from None
    return value


def _walk(before: Any, after: Any, place: list[str | int]) -> Iterator[Change]:
    if isinstance(before, dict) and isinstance(after, dict):
        yield from (["drop", [*place, name]] for name in before if name not in after)
        for name, value in after.items():
            if name not in before:
                yield ["set", [*place, name], value]
            else:
                yield from _walk(before[name], value, [*place, name])
    elif isinstance(before, list | tuple) and isinstance(after, list | tuple):
        yield from _list(before, after, place)
    elif not _same(before, after):
        yield ["set", place, after]


def _list(before: Any, after: Any, place: list[str | int]) -> Iterator[Change]:
    shorter = min(len(before), len(after))
    start = next((at for at in range(shorter) if not _same(before[at], after[at])), shorter)
    behind = next((at for at in range(shorter - start) if not _same(before[-1 - at], after[-1 - at])), shorter - start)
    old, new = before[start : len(before) - behind], after[start : len(after) - behind]
    if len(old) == len(new) == 1 and type(old[0]) is type(new[0]) and isinstance(new[0], dict | list):
        yield from _walk(old[0], new[0], [*place, start])
    elif old or new:
        yield ["splice", place, start, len(old), list(new)]


def _same(one: Any, other: Any) -> bool:
    return one is other or to_json(one) == to_json(other)  # 1, 1.0 and true are equal to Python


def _carried_out(value: Any, change: Change) -> Any:
    kind, place, *rest = change
    if not place and kind == "set":
        return rest[0]
    owner = value
    for key in place if kind == "splice" else place[:-1]:
        owner = owner[key]
    if kind == "set":
        owner[place[-1]] = rest[0]
    elif kind == "drop":
        del owner[place[-1]]
    elif kind == "splice" and isinstance(owner, list):
        start, count, values = rest
        if not 0 <= start <= start + count <= len(owner):
            raise IndexError(start)
        owner[start : start + count] = values
    else:
        raise ValueError(kind)
    return value
