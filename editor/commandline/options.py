"""Options that several verbs share."""

from __future__ import annotations

import argparse
from pathlib import Path

from geometry.errors import PatternError
from geometry.units import Unit, parse_length_mm


def add_source(parser: argparse.ArgumentParser) -> None:
    """What to work on: a file, and what of it."""
    parser.add_argument("file", type=Path, metavar="FILE", help="a drawing (.dxf) or a project (.dartwise)")
    parser.add_argument(
        "--units", type=Unit, choices=list(Unit), metavar="mm|cm|in", help="the unit of a drawing that does not say it"
    )
    parser.add_argument(
        "--allowance",
        type=length_mm,
        metavar="MM",
        help="the seam allowance of a drawing that holds the cutting line only",
    )
    parser.add_argument(
        "--add-allowance",
        type=length_mm,
        metavar="MM",
        help="the seam allowance to add to a drawing that holds the stitching line only; hems get 40 mm",
    )
    parser.add_argument(
        "--rules",
        type=Path,
        metavar="FILE.rul",
        help="the table of grade rules that makes the other sizes; else the one of the same name beside the drawing",
    )
    parser.add_argument(
        "--as-traced",
        action="store_true",
        default=None,
        help="leave every line of a trace as it was drawn; else it is drawn clean, and that is told",
    )
    parser.add_argument("--size", default="", metavar="NAME", help="the size to work on; else the sample size")
    parser.add_argument("--wearer", default="", metavar="NAME", help="whose round of a project; else the last wearer's")
    parser.add_argument("--round", default="", metavar="NAME", help="which round of the wearer; else the last one")


def add_journal(parser: argparse.ArgumentParser, *, required: bool = False) -> None:
    """A journal to carry out first."""
    parser.add_argument(
        "--journal", type=Path, required=required, metavar="STEPS.json", help="alterations to carry out first"
    )


def add_json(parser: argparse.ArgumentParser) -> None:
    """Words for people or JSON for programs."""
    parser.add_argument("--json", action="store_true", help="write JSON instead of words")


def length_mm(text: str) -> float:
    """A length from the command line: millimetres, unless a unit or a fraction of an inch is written."""
    try:
        return parse_length_mm(text, default=Unit.MM)
    except PatternError as error:
        raise argparse.ArgumentTypeError(error.sentence.rstrip(".")) from None
