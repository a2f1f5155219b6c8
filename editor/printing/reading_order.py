"""Words as they stand on paper from left to right: Arabic letters joined, Hebrew and Arabic set from the right.

The only module that uses arabic-reshaper and python-bidi.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache
from typing import Final

_FROM_THE_RIGHT: Final = frozenset({"R", "AL", "AN"})
"""Classes of letters and digits set from the right (Unicode Standard Annex 9)."""

_BRACKETS: Final = "()[]{}<>«»‹›"
_AFTER: Final = "\N{SOFT HYPHEN}"
"""Goes with what it stands after (class BN), but for the end of a line."""

_END: Final = "\N{LEFT-TO-RIGHT MARK}"

_BRACKET: Final = re.compile(f"[{re.escape(_BRACKETS)}]")
_TURNED: Final = re.compile(f"{_AFTER}({_BRACKET.pattern})")


@lru_cache(maxsize=2000)
def as_set(text: str) -> str:
    """The text in the order in which its letters stand from left to right, Arabic ones in the forms they take there.

    A line begins at the left whatever letters it begins with, since our own words round a name read that way.
    """
    if not any(unicodedata.bidirectional(letter) in _FROM_THE_RIGHT for letter in text):
        return text
    from arabic_reshaper import ArabicReshaper
    from bidi import get_display

    joined = ArabicReshaper({"delete_harakat": False}).reshape(text)
    marked = _BRACKET.sub(rf"\g<0>{_AFTER}", joined) + _END
    return _mirrored(str(get_display(marked, base_dir="L"))).replace(_END, "")


def _mirrored(text: str) -> str:
    """A mark that stood after a bracket and stands before it now tells that the bracket opens the other way."""
    turned = _TURNED.sub(lambda found: _BRACKETS[_BRACKETS.index(found[1]) ^ 1], text)
    return turned.replace(_AFTER, "")
