"""The handbook in words: found by what is typed, told in short lines, listed in a table. No Qt."""

from __future__ import annotations

import re
from collections.abc import Iterable
from html import escape
from itertools import pairwise
from typing import Any, Final

from editor.text import listed
from geometry.alterations.handbook.entry import Entry, Share, Variant
from geometry.alterations.handbook.landmarks import Landmark, landmarks_on
from geometry.alterations.handbook.registry import ENTRIES, akin_to
from geometry.model.garment import unhanded
from geometry.model.pattern import Pattern

_WHOLE_NAME, _WHOLE, _NAME, _REGION, _SYMPTOM, _REST = 20, 9, 8, 4, 3, 1
"""How much a word counts where it is found: the name as a whole, a whole word of the name, the beginning of one."""

_WORD: Final = re.compile(r"[^\W_]+")
_ENDING: Final = re.compile(r"(?<=\w{3})(?:ing|ed|es|en|(?<!s)s)$")
"""What a word may end in beyond its stem: gaping, gaped, gapes, lengthen, arms."""


def found(words: str, region: str = "") -> tuple[Entry, ...]:
    """Entries in which every word typed begins some word, the best first; all of a region, if nothing is typed.

    Where there are none, the endings of the words are left aside: "gaping" finds what gapes. Two words may be written
    as one: "swayback".
    """
    asked = _words(words)
    return _ranked(asked, region) or _ranked([_ENDING.sub("", word) for word in asked], region)


def _ranked(asked: list[str], region: str) -> tuple[Entry, ...]:
    ranked = []
    for entry in ENTRIES:
        if region and entry.region.value != region:
            continue
        ranks = [_rank(entry, word) for word in asked]
        if all(ranks):
            whole = _WHOLE_NAME if asked == _words(entry.name) else 0
            ranked.append((-sum(ranks) - whole, entry.code, entry))
    return tuple(entry for *_, entry in sorted(ranked, key=lambda row: row[:2]))


def _rank(entry: Entry, word: str) -> int:
    """How well a word fits an entry, 0 if it does not occur."""
    if word == entry.code.lower():
        return 100
    variants = " ".join(f"{variant.name} {variant.words}" for variant in entry.variants)
    rest = f"{entry.does} {entry.inverse} {variants} {' '.join(role.value for role in entry.touches)}"
    places = ((entry.name, _NAME), (entry.region.value, _REGION), (entry.symptom, _SYMPTOM), (rest, _REST))
    if word in _words(entry.name):
        return _WHOLE
    return max(
        (rank for text, rank in places if any(each.startswith(word) for each in (*_words(text), *_joined(text)))),
        default=0,
    )


def _words(text: str) -> list[str]:
    return _WORD.findall(text.lower())


def _joined(text: str) -> list[str]:
    """Every two words that stand beside each other, written as one."""
    return [one + other for one, other in pairwise(_words(text))]


def landmark_names(entry: Entry, told: Iterable[Landmark]) -> tuple[str, ...]:
    """The landmarks of the pieces an entry alters: first those it says it needs, then those told, then the rest."""
    there = {unhanded(mark.name) for mark in told}

    def rank(name: str) -> tuple[bool, ...]:
        is_needed = any(name in need for need in entry.needs)
        return not is_needed, f"{name.split()[0]} level" not in entry.needs, name not in there

    return tuple(sorted(landmarks_on(entry.touches), key=rank))


def pieces_words(entry: Entry) -> str:
    """The pieces it alters together: "front bodice and back bodice"."""
    return listed(role.value for role in entry.touches)


def kept_words(entry: Entry) -> str:
    """What keeps its sewn length: "waist of front and back bodice"; "—" if nothing is promised."""
    edges: dict[str, list[str]] = {}
    for kept in entry.keeps:
        edges.setdefault(kept.edge.value, []).append(kept.piece.value)
    together: dict[tuple[str, ...], list[str]] = {}
    for edge, pieces in edges.items():
        together.setdefault(tuple(pieces), []).append(edge)
    if len(entry.touches) == 1:
        return listed(edges) or "—"
    return "; ".join(f"{listed(names)} of {listed(pieces)}" for pieces, names in together.items()) or "—"


def told_html(entry: Entry) -> str:
    """The texts of an entry as paragraphs of HTML, with links ("entry:D03") to those that may be meant instead."""
    rows = (
        ("Seen on the toile", entry.symptom),
        ("What happens and why", entry.does),
        ("Less than nothing", entry.inverse),
        ("Pieces", pieces_words(entry)),
        ("Keeps", kept_words(entry)),
        ("Look at afterwards", " ".join(entry.check_after)),
        ("Needs", ", ".join(entry.needs)),
        ("Source", entry.source),
    )
    paragraphs = [(title, escape(text)) for title, text in rows]
    links = ", ".join(f"<a href='entry:{other.code}'>{escape(other.name)}</a>" for other in akin_to(entry.code))
    if links:
        paragraphs.insert(3, ("See also", f"{links}."))
    return "".join(f"<p style='margin:0 0 7px 0'><b>{title}.</b> {text}</p>" for title, text in paragraphs)


def has_difference(entry: Entry, variant: str = "", pattern: Pattern | None = None) -> bool:
    """Whether its amount is only a part of what is measured on the body."""
    share = entry.share(variant, pattern)
    return share is not None and share.of_whole != 1.0


def way_words(way: Variant) -> str:
    """A way in words, with what part of a difference it takes where that is its own."""
    return f"{way.words}; {way.share.words}" if isinstance(way.share, Share) else way.words


def shape(entry: Entry) -> dict[str, Any]:
    """An entry as JSON."""
    amount = entry.amount
    return {
        "entry": entry.code,
        "name": entry.name,
        "region": entry.region.value,
        "symptom": entry.symptom,
        "does": entry.does,
        "inverse": entry.inverse,
        "needs": list(entry.needs),
        "pieces": [role.value for role in entry.touches],
        "keeps": [{"piece": kept.piece.value, "edge": kept.edge.value} for kept in entry.keeps],
        "check_after": list(entry.check_after),
        "variants": [variant.name for variant in entry.variants],
        "share_by_variant": _own_shares(entry),
        "amount": {
            "meaning": amount.meaning,
            "share_of_difference": amount.share.of_whole if amount.share else None,
            "default_mm": amount.default_mm,
            "least_mm": amount.least_mm,
            "most_mm": amount.most_mm,
        },
        "source": entry.source,
    }


def _own_shares(entry: Entry) -> dict[str, float | None]:
    """The shares of the ways that have their own; null where it depends on the seams of the pattern."""
    own = {each.name: each.share for each in entry.variants if each.share is not None}
    return {name: share.of_whole if isinstance(share, Share) else None for name, share in own.items()}


def table() -> str:
    """Every entry as a row of a table in Markdown, under its region."""
    rows = [
        "# The alterations of the handbook",
        "",
        "Written by `dartwise alterations --table`; do not edit by hand. *Keeps* names the edges whose sewn length"
        " stays, but for the blend where a hinge lies on them.",
    ]
    region = ""
    for entry in ENTRIES:
        if entry.region.value != region:
            region = entry.region.value
            title = f"{region[:1].upper()}{region[1:]}"
            rows += ["", f"## {title}", "", "| Entry | Pieces | Keeps | Source |", "|---|---|---|---|"]
        cells = (f"{entry.code} {entry.name}", pieces_words(entry), kept_words(entry), entry.source)
        rows.append(f"| {' | '.join(cell.replace('|', '/') for cell in cells)} |")
    return "\n".join([*rows, ""])
