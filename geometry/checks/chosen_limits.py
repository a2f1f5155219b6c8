"""Limits that a project chose for itself, as plain values: what a project file or a panel holds."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import fields, replace

from geometry.checks.limits import DEFAULT_LIMITS, LIMITS_TOLD, Band, Limits
from geometry.errors import PatternError

_LARGEST = 10_000.0
"""No limit of a garment is longer than ten metres."""

_ORDERED = tuple((name, name.replace("_warn_", "_stop_")) for name in LIMITS_TOLD if "_warn_" in name)
"""Pairs of limits of which the first is not larger than the second."""


def changed_limits(limits: Limits) -> dict[str, float | list[float]]:
    """The limits that differ from the usual ones, by name; a band as [least, most]."""
    chosen: dict[str, float | list[float]] = {}
    for field in fields(Limits):
        value = getattr(limits, field.name)
        if value != getattr(DEFAULT_LIMITS, field.name):
            chosen[field.name] = list(value) if isinstance(value, tuple) else value
    return chosen


def limits_from(values: Mapping[str, object]) -> Limits:
    """The usual limits with those changed that are named.

    Args:
        values: A number of at least 0 by the name of a limit, or two of them, least first, for a band.

    Raises:
        PatternError: a name is not known or a value does not fit; the sentence names the limit and says what does.
    """
    chosen = replace(DEFAULT_LIMITS, **{name: _value(name, value) for name, value in values.items()})  # type: ignore[arg-type]
    for warn, stop in _ORDERED:
        if getattr(chosen, warn) > getattr(chosen, stop):
            raise PatternError(
                f'The limit "{warn}" is {getattr(chosen, warn):g} and "{stop}" is {getattr(chosen, stop):g}; '
                "what warns cannot lie beyond what stops, so make the first smaller or the second larger.",
                code="bad-limit",
            )
    return chosen


def _value(name: str, value: object) -> float | Band:
    if name not in LIMITS_TOLD:
        raise PatternError(
            f'There is no limit called "{name}"; there are {", ".join(LIMITS_TOLD)}.', code="no-such-limit"
        )
    if isinstance(getattr(DEFAULT_LIMITS, name), tuple):
        return _band(name, value)
    if not _is_length(value):
        raise PatternError(f'The limit "{name}" is {value!r}; give a number from 0 to {_LARGEST:g}.', code="bad-limit")
    return float(value)  # type: ignore[arg-type]


def _band(name: str, value: object) -> Band:
    ends = value if isinstance(value, (list, tuple)) else ()
    if len(ends) != 2 or not all(map(_is_length, ends)) or ends[0] > ends[1]:
        raise PatternError(
            f'The limit "{name}" is {value!r}; give two numbers from 0 to {_LARGEST:g}, the least first, '
            "for example [0, 12.7].",
            code="bad-limit",
        )
    return float(ends[0]), float(ends[1])


def _is_length(value: object) -> bool:
    is_number = isinstance(value, (int, float)) and not isinstance(value, bool)
    return is_number and math.isfinite(value) and 0 <= value <= _LARGEST  # type: ignore[arg-type, operator]
