"""What is worked out once for a chain: an edge is asked some hundred times for places while a piece is altered."""

from __future__ import annotations

import weakref
from collections.abc import Callable
from functools import partial, wraps
from typing import TypeVar

from geometry.affine import Points

Value = TypeVar("Value")


def once_per_chain(work: Callable[[Points], Value]) -> Callable[[Points], Value]:
    """The same function, remembering what comes of a read-only chain for as long as that very chain lives.

    A chain tells before it goes, so nothing else can have its identity while something is known of it.
    """
    known: dict[int, Value] = {}
    alive: dict[int, weakref.ref[Points]] = {}

    def forget(key: int, _: object) -> None:
        del known[key], alive[key]

    @wraps(work)
    def asked(chain: Points) -> Value:
        key = id(chain)
        try:
            return known[key]
        except KeyError:
            value = work(chain)
            if not chain.flags.writeable:
                alive[key] = weakref.ref(chain, partial(forget, key))
                known[key] = value
            return value

    return asked
