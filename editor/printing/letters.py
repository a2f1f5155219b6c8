"""Names whose letters do not come out on paper as they are written."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

from editor.printing import wording
from editor.printing.lettering import face
from geometry.findings import Finding, Level

_JOINED_SCRIPTS: Final = re.compile("[\u0900-\u0dff\u0f00-\u109f\u1780-\u17ff]")
"""Blocks of Unicode from Devanagari to Sinhala, Tibetan, Myanmar and Khmer: signs there stand before or under the
letter they are written after, which is not done here. Arabic is."""


def letter_findings(names: Iterable[tuple[str, str]]) -> tuple[Finding, ...]:
    """What is to be said of names, each with its piece or ""."""
    return tuple(finding for name, piece in dict.fromkeys(names) for finding in _of(name, piece))


def _of(name: str, piece: str) -> Iterator[Finding]:
    if not face().has(name):
        yield Finding("letters-missing", Level.NOTE, wording.letters_missing(name), piece=piece or None)
    elif _JOINED_SCRIPTS.search(name):
        yield Finding("letters-not-joined", Level.NOTE, wording.letters_not_joined(name), piece=piece or None)
