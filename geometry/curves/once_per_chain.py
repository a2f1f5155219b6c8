"""What is worked out once for a chain: an edge is asked some hundred times for places while a piece is altered."""

from __future__ import annotations

import weakref
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from geometry.affine import Points

Value = TypeVar("Value")


def once_per_chain(work: Callable[[Points], Value]) -> Callable[[Points], Value]:
    """The same function, remembering what comes of a read-only chain for as long as that very chain lives."""
    known: dict[int, tuple[weakref.ref[Points], Value]] = {}

    @wraps(work)
    def asked(chain: Points) -> Value:
        key = id(chain)
        entry = known.get(key)
        if entry is not None and entry[0]() is chain:
            return entry[1]
        value = work(chain)
        if not chain.flags.writeable:
            known[key] = weakref.ref(chain, lambda _: known.pop(key, None)), value
        return value

    return asked
