"""JSON to values and back, checked field by field; the errors name the field in plain words."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, TypeVar

import msgspec
import numpy as np

from geometry.affine import Points, frozen_points
from geometry.errors import PatternError

Value = TypeVar("Value")

_WORDS = {
    "str": "text",
    "float": "a number",
    "int": "a whole number",
    "bool": "true or false",
    "object": "named values in { }",
    "array": "a list",
    "null": "nothing (null)",
}
_EXPECTED = re.compile(r"Expected `([^`]*)`, got `([^`]*)`")
_MISSING = re.compile(r"Object missing required field `([^`]*)`")
_UNKNOWN_WORD = re.compile(r"Invalid enum value '?(.*?)'?$", re.DOTALL)
_PLACE = re.compile(r" - at `\$([^`]*)`")
_BYTE = re.compile(r"\(byte (\d+)\)")


class FieldError(PatternError):
    """A field that does not hold what it should.

    Attributes:
        field: Where it is, for example ``wearers[0].rounds[1].date``; "" for the whole.
        problem: What is wrong with it.
    """

    def __init__(self, field: str, problem: str) -> None:
        super().__init__(f"{field}: {problem}." if field else f"{problem[:1].upper()}{problem[1:]}.", code="bad-field")
        self.field = field
        self.problem = problem

    def under(self, outer: str) -> FieldError:
        """The same error, its field seen from further out."""
        return FieldError(joined(outer, self.field), self.problem)


def joined(outer: str, inner: str) -> str:
    """The path of a field inside another one."""
    return outer + inner if not outer or not inner or inner.startswith("[") else f"{outer}.{inner}"


def to_json(value: object, *, indent: int | None = None) -> bytes:
    """A value as JSON; numbers are written so that reading them gives the same bits."""
    try:
        text = msgspec.json.encode(value, enc_hook=_plain)
    except UnicodeEncodeError as error:  # half of a pair of letters, as a damaged file name has
        broken = error.object.encode("utf-8", errors="replace").decode()[:80]
        raise FieldError("", f'"{broken}" holds a letter that no file can hold') from None
    return text if indent is None else msgspec.json.format(text, indent=indent) + b"\n"


def to_plain(value: object) -> Any:
    """A value as dicts, lists, text and numbers."""
    return msgspec.to_builtins(value, enc_hook=_plain)


def parsed(data: bytes) -> Any:
    """JSON as dicts, lists, text and numbers; ``FieldError`` where it is no JSON."""
    return _checked(lambda: msgspec.json.decode(data), data)


def from_json(data: bytes, kind: type[Value]) -> Value:
    """JSON as a value of a class; ``FieldError`` names what does not fit."""
    return _checked(lambda: msgspec.json.decode(data, type=kind, dec_hook=_points), data)


def from_plain(plain: object, kind: type[Value]) -> Value:
    """Dicts and lists as a value of a class; ``FieldError`` names what does not fit."""
    return _checked(lambda: msgspec.convert(plain, kind, dec_hook=_points), b"")


def _plain(value: object) -> object:
    if isinstance(value, np.ndarray):
        return value.tolist()
    raise NotImplementedError(f"a {type(value).__name__} has no form in a file")


def _points(_kind: type, plain: object) -> Points:
    try:
        pairs = msgspec.convert(plain, list[tuple[float, float]])
    except msgspec.ValidationError as error:
        raise ValueError(str(error)) from None
    return frozen_points(pairs)


def _checked(read: Callable[[], Value], data: bytes) -> Value:
    try:
        return read()
    except msgspec.ValidationError as error:
        raise _field_error(str(error)) from None
    except RecursionError:
        raise FieldError("", "it is nested too deeply to be one of ours") from None
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise FieldError("", _unreadable(str(error), data)) from None


def _field_error(message: str) -> FieldError:
    """The sentence of the schema library in words a person can act on.

    An error inside a list of points comes with two places, the inner one first.
    """
    field = "".join(reversed(_PLACE.findall(message))).removeprefix(".")
    problem = _PLACE.sub("", message)
    if "out of range" in problem:  # told without the names on the way
        return FieldError("" if "..." in field else field, "a number is too large")
    if expected := _EXPECTED.search(problem):
        wanted, got = (" or ".join(_WORDS.get(word, word) for word in each.split(" | ")) for each in expected.groups())
        return FieldError(field, f"expected {wanted}, got {got}")
    if missing := _MISSING.search(problem):
        return FieldError(joined(field, missing[1]), "is missing")
    if word := _UNKNOWN_WORD.search(problem):
        return FieldError(field, f'the word "{word[1]}" is not known here')
    return FieldError(field, problem[:1].lower() + problem[1:].replace("`", ""))


def _unreadable(message: str, data: bytes) -> str:
    if "truncated" in message:
        return "it is no whole JSON text: it ends too early"
    if place := _BYTE.search(message):
        line = data.count(b"\n", 0, int(place[1])) + 1
        return f"it is no JSON text: line {line} cannot be read"
    return "it is no JSON text"
