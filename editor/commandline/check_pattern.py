"""``dartwise check``: what to put right before cutting."""

from __future__ import annotations

import argparse

from editor.commandline.options import add_journal, add_json, add_source
from editor.commandline.report import finding_lines, finding_shape, say, say_json, status
from editor.commandline.source import read_work


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    add_journal(parser)
    add_json(parser)


def run(options: argparse.Namespace) -> int:
    """Run the checks."""
    findings = read_work(options).checked()
    if options.json:
        say_json({"findings": [finding_shape(finding) for finding in findings]})
    else:
        say(finding_lines(findings))
    return status(findings)
