"""Reading project files of earlier versions: one function per version, each leads to the next.

A function gets the plain content of ``project.json`` and ``pattern.json`` as its version wrote them and returns what
the next version would have written. Unknown fields stay where they are. Every version has a file of its own in the
tests, written by the Dartwise of that time and never changed since.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Final

from editor.document.schema import FieldError

FORMAT_VERSION: Final = 1

Content = dict[str, Any]
"""The plain content of the JSON parts by name."""

Upgrade = Callable[[Content], Content]

UPGRADES: Mapping[int, Upgrade] = {}
"""From which version, and how; version 1 is the first one."""


def version_of(project: Any) -> int:
    """The version that the plain content of ``project.json`` states.

    Raises:
        FieldError: there is none, or it is newer than this Dartwise.
    """
    version = project.get("format_version") if isinstance(project, dict) else None
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise FieldError("format_version", "expected a whole number from 1")
    if version > FORMAT_VERSION:
        raise FieldError(
            "format_version",
            f"it is {version}, from a newer Dartwise; this one reads up to {FORMAT_VERSION}, and left it as it is",
        )
    return version


def upgraded(content: Content, *, version: int, upgrades: Mapping[int, Upgrade] | None = None) -> Content:
    """The content as the present version would have written it.

    Raises:
        FieldError: what is there does not hold together, so that it cannot be carried over.
    """
    table = UPGRADES if upgrades is None else upgrades
    while version in table:
        try:
            content = table[version](content)
        except (KeyError, TypeError, AttributeError, IndexError) as error:
            raise FieldError("", f"a file of version {version} would not look like this ({error})") from None
        version += 1
    return content
