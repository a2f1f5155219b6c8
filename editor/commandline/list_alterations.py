"""``dartwise alterations``: what the handbook holds and what each entry needs."""

from __future__ import annotations

import argparse
from collections.abc import Iterator

from editor.cli import FINE
from editor.commandline.options import add_json
from editor.commandline.report import say, say_json
from editor.handbook import found, kept_words, pieces_words, shape, table
from geometry.alterations.handbook.entry import Entry
from geometry.errors import PatternError


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    parser.add_argument("words", nargs="*", metavar="WORD", help="list those only in which all these words occur")
    parser.add_argument("--table", action="store_true", help="write a table in Markdown: entry, pieces, keeps, source")
    add_json(parser)


def run(options: argparse.Namespace) -> int:
    """List them."""
    if options.table:
        say(table().splitlines())
        return FINE
    entries = found(" ".join(options.words))
    if not entries:
        raise PatternError(f'No alteration is found by "{" ".join(options.words)}"; try fewer or other words.')
    if options.json:
        say_json({"alterations": [shape(entry) for entry in entries]})
    else:
        say(line for entry in entries for line in _lines(entry))
    return FINE


def _lines(entry: Entry) -> Iterator[str]:
    yield f"{entry.code} {entry.name} ({entry.region.value})"
    yield f"  seen as: {entry.symptom}"
    yield f"  needs: {', '.join(entry.needs)}"
    yield f"  alters: {pieces_words(entry)}; keeps: {kept_words(entry)}"
    share = entry.share()
    share_words = f"; {share.words}" if share else ""
    yield f"  amount: {entry.amount.meaning}{share_words}"
    if entry.variants:
        yield f"  variants: {', '.join(variant.name for variant in entry.variants)}"
