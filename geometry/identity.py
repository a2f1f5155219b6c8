"""Values as keys of a cache by identity: patterns and pieces are frozen, and comparing their points would cost more."""

from __future__ import annotations

from typing import Generic, TypeVar

Value = TypeVar("Value")


class Same(Generic[Value]):
    """A value that equals only itself; holding it keeps its identity from being used again."""

    __slots__ = ("value",)

    def __init__(self, value: Value) -> None:
        self.value = value

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and other.value is self.value

    def __hash__(self) -> int:
        return id(self.value)
