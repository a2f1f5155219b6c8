"""The command ``dartwise``: opens the editor, or does one job without a window.

A verb's module is imported when the verb is used, so that a short job starts fast.
"""

from __future__ import annotations

import argparse
import importlib
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final, NoReturn

from geometry.errors import PatternError

FINE: Final = 0
FINDINGS_STOP: Final = 1
CANNOT: Final = 2
INTERRUPTED: Final = 130
"""What shells expect of a program ended with Ctrl-C."""

VERBS: Final = {
    "info": ("show_info", "the pieces: size, area, edges, darts, notches, grain"),
    "check": ("check_pattern", "what to put right before cutting"),
    "alter": ("alter_pattern", "carry out a journal of alterations and write the pieces as DXF"),
    "alterations": ("list_alterations", "the alterations of the handbook and what each needs"),
    "print": ("print_sheets", "a PDF at true scale on sheets for a home printer"),
    "sheet": ("write_sheet", "what was altered, as a PDF to take to the cutting table"),
    "convert": ("convert_drawing", "read any drawing of a pattern and write it as standard DXF"),
    "demo": ("show_demo", "the whole job on a dress of our own"),
}
"""Each verb with its module in ``editor.commandline`` and what it is for."""

TRACE_VARIABLE: Final = "DARTWISE_TRACE"


class Parser(argparse.ArgumentParser):
    """Says what is wrong with the words of a command in one sentence."""

    def error(self, message: str) -> NoReturn:
        """End with status 2."""
        sentence = f"{message[:1].upper()}{message[1:]}".rstrip(".")
        self.exit(CANNOT, f"{sentence}; see {self.prog} --help.\n")


def main(argv: Sequence[str] | None = None) -> int:
    """Do what the words of the command say; returns the exit status."""
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        status = _run(words)
        if sys.stdout is not None:
            sys.stdout.flush()
    except SystemExit as end:  # argparse has said what there was to say
        return end.code if isinstance(end.code, int) else FINE
    except KeyboardInterrupt:
        _say("Stopped.")
        return INTERRUPTED
    except BrokenPipeError:
        _drop_output()
        return CANNOT
    except Exception as error:  # the last line of defence: nobody is shown a trace
        _say(_sentence(error))
        _drop_output()
        return CANNOT
    return status


def _run(words: list[str]) -> int:
    for stream in (sys.stdout, sys.stderr):
        if stream is not None and hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that cannot show a fraction mark still gets the rest
    if words and words[0] in VERBS:
        return _run_verb(words[0], words[1:])
    parser = Parser(prog="dartwise", description=_DESCRIPTION, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a project or a drawing to open")
    parser.add_argument("--version", action="store_true", help="tell which Dartwise this is")
    if words and not words[0].startswith("-") and len(words) > 1:
        parser.error(f'there is no verb "{words[0]}"; there are {", ".join(VERBS)}')
    options = parser.parse_args(words)
    if options.version:
        print(f"dartwise {_version()}")  # noqa: T201
        return FINE
    from editor.commandline.window import open_window

    return open_window(options.file)


def _run_verb(verb: str, words: list[str]) -> int:
    name, purpose = VERBS[verb]
    module = importlib.import_module(f"editor.commandline.{name}")
    parser = Parser(prog=f"dartwise {verb}", description=f"{purpose[:1].upper()}{purpose[1:]}.", epilog=_STATUS)
    module.configure(parser)
    status: int = module.run(parser.parse_args(words))
    return status


def _sentence(error: Exception) -> str:
    if os.environ.get(TRACE_VARIABLE):
        raise error
    if isinstance(error, PatternError):
        return error.sentence
    if isinstance(error, OSError):
        reason = (error.strerror or str(error)).lower().rstrip(".")
        return f"{error.filename or 'A file'} cannot be read or written: {reason}."
    if isinstance(error, MemoryError):
        return "There is not enough memory for this pattern; close other programs or choose fewer pieces."
    return (
        f"A mistake in Dartwise stopped this ({type(error).__name__}: {error}). Run it again with {TRACE_VARIABLE}=1"
        " to see where, and please report it with the file."
    )


def _say(sentence: str) -> None:
    if sys.stderr is not None:
        print(sentence, file=sys.stderr)  # noqa: T201 - the voice of the command line


def _drop_output() -> None:
    """Nobody reads on: without this Python would complain again when it closes its output."""
    own = sys.__stdout__
    if own is None or sys.stdout is not own:
        return  # a stream of whoever called, who may well read on
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), own.fileno())
    except (OSError, ValueError, AttributeError):
        return


def _version() -> str:
    from importlib import metadata  # takes longer to load than some verbs take in all

    try:
        return metadata.version("dartwise")
    except metadata.PackageNotFoundError:
        return "(not installed)"


_STATUS: Final = "Exit status: 0 fine, 1 findings that say stop, 2 something cannot be read or written."

_DESCRIPTION: Final = "\n".join(
    [
        "Alter sewing patterns to real bodies. Without a verb the editor opens.",
        "",
        "verbs:",
        *(f"  dartwise {verb:<11} {purpose}" for verb, (_, purpose) in VERBS.items()),
        "",
        "dartwise VERB --help tells the rest.",
    ]
)
