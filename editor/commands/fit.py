"""From the tape measure to the next toile: the pages of fitting."""

from __future__ import annotations

from collections.abc import Callable

from editor.commands.registry import Command, Desk, Menu
from editor.session import Session


def _page(title: str) -> Callable[[Desk], None]:
    return lambda desk: desk.show_fitting(title)


def _when_worn(session: Session) -> bool:
    return session.round is not None


FIT = Menu(
    "Fitti&ng",
    (
        Command(
            "measurements", "&Measurements…", "What the tape shows, where it goes, when it was taken",
            _page("Measurements"), "Ctrl+M", "measure", enabled=_when_worn,
        ),
        Command(
            "size-chart", "Size &chart…", "For whom each size was drafted and what it measures", _page("Size chart"),
            enabled=_when_worn,
        ),
        Command(
            "choose-sizes", "Choose &sizes…", "A size for every level, with reasons", _page("Sizes"),
            enabled=_when_worn,
        ),
        Command(
            "advice", "&Advice…", "What the figures ask for, with the sums", _page("Advice"), enabled=_when_worn,
        ),
        Command(
            "garment-table", "&Garment and body…", "Finished measurements, body and ease, before and after",
            _page("Garment and body"), enabled=_when_worn,
        ),
        None,
        Command(
            "read-toile", "&Read a toile…", "From what is seen to its likely causes", _page("Read a toile"),
            enabled=_when_worn,
        ),
        Command(
            "toile-notes", "&Notes and photos…", "What was seen on this toile", _page("Notes and photos"),
            enabled=_when_worn,
        ),
        Command(
            "compare", "Com&pare toiles", "Lay another toile, of this wearer or another, over this one on the table",
            lambda desk: desk.compare(), "Ctrl+Shift+C",
            enabled=_when_worn,
        ),
        Command(
            "take-over", "&Take over from a wearer…", "Another wearer's steps with amounts for this one",
            _page("Take over"), enabled=_when_worn,
        ),
    ),
)  # fmt: skip
