"""``dartwise check``: what to put right before cutting."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from typing import Any

from editor.commandline.options import add_journal, add_json, add_source
from editor.commandline.report import finding_line, finding_shape, say, say_json, status
from editor.commandline.source import Work, read_work
from editor.text import findings_summary, step_sentence
from geometry.alterations.step import Step
from geometry.findings import Finding, Level
from geometry.units import Unit, format_length


def configure(parser: argparse.ArgumentParser) -> None:
    """The options of this verb."""
    add_source(parser)
    add_journal(parser)
    add_json(parser)


def run(options: argparse.Namespace) -> int:
    """Run the checks."""
    work = read_work(options)
    findings = sorted(work.checked(), key=lambda finding: -list(Level).index(finding.level))
    rows = [(finding, _source(finding), _fix(work, finding)) for finding in findings]
    if options.json:
        say_json({"findings": [_shape(*row, work.source.unit) for row in rows]})
    else:
        say([line for row in rows for line in _lines(*row, work.source.unit)] + _summary(findings))
    return status(findings)


def _source(finding: Finding) -> str:
    """Where the limit of a finding comes from, "" for what import and journal say."""
    from geometry.checks.run import check_of

    check = check_of(finding)
    return check.source if check else ""


def _fix(work: Work, finding: Finding) -> Step | None:
    from geometry.checks.fixing import fixes

    return fixes(work.pattern, finding, base=work.start, limits=work.source.limits)


def _shape(finding: Finding, source: str, fix: Step | None, unit: Unit) -> dict[str, Any]:
    words = None if fix is None else {"kind": fix.kind, "words": step_sentence(fix, unit)}
    return finding_shape(finding) | {"source": source or None, "fix": words}


def _lines(finding: Finding, source: str, fix: Step | None, unit: Unit) -> Iterator[str]:
    yield finding_line(finding)
    if finding.measured_mm is not None and finding.expected_mm is not None:
        measured, expected = (format_length(each, unit) for each in (finding.measured_mm, finding.expected_mm))
        yield f"      measured {measured}, expected {expected}"
    if source:
        yield f"      limit: {source}"
    if fix is not None:
        yield f"      a step puts it right: {step_sentence(fix, unit)}"


def _summary(findings: Sequence[Finding]) -> list[str]:
    return [f"{findings_summary(findings)}."]
