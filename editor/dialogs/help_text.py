"""The help in HTML: how things are done, every key, the cautions, and the handbook from its registry."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from editor.commands.all import MENUS
from editor.handbook import found, kept_words, pieces_words, told_html, way_words
from editor.text import CAUTIONS, in_unit
from editor.theme import RESOURCES
from editor.toolbar import TOOLS
from geometry.alterations.handbook.entry import Amount, Entry
from geometry.alterations.handbook.registry import ENTRIES
from geometry.units import Unit, format_length

_MOUSE = (
    ("Wheel", "magnify about the pointer"),
    ("Middle button, or Space and drag", "move the table"),
    ("Click", "pick out a piece, an edge, a dart, a notch or a recorded cut"),
    ("Double click", "take a recorded step in hand again"),
    ("Drag", "move a sheet on the table, or pull a handle of what is picked out"),
    ("Tab", "the next piece"),
    ("F, 0", "the piece picked out, all pieces"),
    ("Enter, Escape", "do what is shown, leave everything as it was"),
)


@dataclass(frozen=True, slots=True)
class Chapter:
    """A chapter of the help: its title, and its text in Markdown or HTML."""

    title: str
    text: str
    is_html: bool = False

    def has(self, words: str) -> bool:
        """Whether every word typed occurs in it."""
        told = f"{self.title} {self.text}".lower()
        return all(word in told for word in words.lower().split())


def chapters() -> tuple[Chapter, ...]:
    """The chapters in their order: how things are done, then what is made from lists in the program."""
    told = (RESOURCES / "help" / "using.md").read_text("utf-8").split("\n# ")
    pages = [part.removeprefix("# ").partition("\n") for part in told]
    return (
        *(Chapter(title.strip(), text.strip()) for title, _, text in pages),
        Chapter("Every key", _keys(), is_html=True),
        Chapter("Cautions", "".join(f"<p>{escape(words)}</p>" for words in CAUTIONS), is_html=True),
        Chapter("Table of the alterations", _table(), is_html=True),
    )


def entry_page(entry: Entry, unit: Unit, *, can_open: bool) -> str:
    """An entry as a page, with its drawing as the image "drawing" and a link that opens it on the table."""
    link = f"<p><a href='open:{entry.code}'>Lay it out on the table</a></p>" if can_open else ""
    ways = "".join(f"<li><b>{escape(way.name)}</b>: {escape(way_words(way))}</li>" for way in entry.variants)
    cautions = "".join(
        f"<p class='caution'>Above {format_length(each.above_mm, unit)}: {escape(in_unit(each.text, unit))}</p>"
        for each in entry.amount.cautions
    )
    return (
        f"<h2>{escape(entry.name)}</h2><p class='soft'>{entry.code} · {escape(entry.region.value)}</p>"
        f"<p><img src='drawing'></p>{link}{told_html(entry)}"
        f"{'<p><b>Ways to do it.</b></p><ul>' + ways + '</ul>' if ways else ''}"
        f"<p><b>Amount.</b> {escape(_amount(entry.amount, unit))}</p>{cautions}"
    )


def alterations(words: str) -> tuple[Entry, ...]:
    """The entries found by words, in their own order where nothing is typed."""
    return found(words) if words.strip() else ENTRIES


def _amount(amount: Amount, unit: Unit) -> str:
    share = f" {amount.share.words[:1].upper()}{amount.share.words[1:]}." if amount.share else ""
    low, high = (format_length(limit, unit) for limit in (amount.least_mm, amount.most_mm))
    return f"{amount.meaning[:1].upper()}{amount.meaning[1:]}; from {low} to {high}.{share}"


def _keys() -> str:
    menus = (
        (menu.title.replace("&", ""), [(each.shortcut, each.help) for each in menu.commands if each and each.shortcut])
        for menu in MENUS
    )
    parts = [("On the table", _MOUSE), ("Tools", tuple((key, words) for _, _, words, key in TOOLS)), *menus]
    return "".join(f"<h3>{escape(title)}</h3>{_rows(rows)}" for title, rows in parts if rows)


def _rows(rows: Iterable[tuple[str, str]]) -> str:
    cells = "".join(
        f"<tr><td width='190'><b>{escape(left)}</b></td><td>{escape(right)}</td></tr>" for left, right in rows
    )
    return f"<table cellpadding='3' width='98%'>{cells}</table>"


def _table() -> str:
    rows, region = ["<p>What each alters together, what keeps its sewn length, where it comes from.</p>"], ""
    for entry in ENTRIES:
        if entry.region.value != region:
            rows.append("</table>" if region else "")
            region = entry.region.value
            rows.append(f"<h3>{escape(region[:1].upper() + region[1:])}</h3><table cellpadding='4' width='98%'>")
            rows.append(f"<tr>{''.join(f'<th align=left>{title}</th>' for title in _COLUMNS)}</tr>")
        name = f"<a href='entry:{entry.code}'>{entry.code}</a> {escape(entry.name)}"
        cells = (name, *(escape(each) for each in (pieces_words(entry), kept_words(entry), entry.source)))
        rows.append(f"<tr>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>")
    return "".join([*rows, "</table>"])


_COLUMNS = ("Alteration", "Pieces", "Keeps", "Source")
