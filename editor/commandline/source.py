"""What a verb works on: the pattern of a drawing or of one round of a project, with a journal carried out on it."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final, TypeVar

from editor.document.project import Round, Wearer, start_of
from editor.document.project_file import load_project
from editor.document.statements import sewn_as_said
from geometry.alterations.replay import Record, Replay, replay
from geometry.checks.limits import DEFAULT_LIMITS, Limits
from geometry.errors import MissingPartError, PatternError
from geometry.findings import Finding
from geometry.model.pattern import Nest, Pattern
from geometry.units import Unit

MISFIT: Final = "step-does-not-fit"
"""Code of the finding about a step that was left out."""

Named = TypeVar("Named", Wearer, Round)


@dataclass(frozen=True, slots=True)
class Source:
    """A file that was read.

    Attributes:
        path: The file.
        unit: The unit its lengths were drawn in; people are shown lengths in it.
        nest: Its pieces in all sizes, as imported.
        findings: What the import had to say.
        wearer: Whose round was chosen, ``None`` for a drawing.
        round: Which round of hers or his.
        limits: What the checks let pass.
        forgotten_seams: Ids of seams that are proposed and not sewn.
    """

    path: Path
    unit: Unit
    nest: Nest
    findings: tuple[Finding, ...] = ()
    wearer: Wearer | None = None
    round: Round | None = None
    limits: Limits = DEFAULT_LIMITS
    forgotten_seams: tuple[str, ...] = ()

    @property
    def size(self) -> str:
        """The size to work on where none is asked for."""
        return self.wearer.size if self.wearer else self.nest.sample_size

    @property
    def wearer_name(self) -> str:
        """Whose round it is, "" for a drawing."""
        return self.wearer.name if self.wearer else ""

    @property
    def round_name(self) -> str:
        """What the round is called, "" for a drawing."""
        return self.round.name if self.round else ""


@dataclass(frozen=True, slots=True)
class Work:
    """A source in one size with its journal carried out."""

    source: Source
    start: Pattern
    records: tuple[Record, ...]
    replay: Replay

    @property
    def pattern(self) -> Pattern:
        """The pattern as altered."""
        return self.replay.pattern

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What import and journal had to say."""
        return self.source.findings + self.replay.findings

    def checked(self) -> tuple[Finding, ...]:
        """What import, journal and the checks before cutting have to say."""
        from geometry.checks.run import check_pattern

        return self.findings + check_pattern(self.pattern, base=self.start, limits=self.source.limits)

    @property
    def misfits(self) -> tuple[str, ...]:
        """Ids of the steps that could not be carried out; where there are any, nothing may be written."""
        return tuple(
            outcome.record_id
            for outcome in self.replay.outcomes
            if any(finding.code == MISFIT for finding in outcome.findings)
        )


def read_source(options: argparse.Namespace) -> Source:
    """Read the file that the options of ``add_source`` name; raises ``PatternError`` where it cannot be."""
    path: Path = options.file
    if _is_project(path):
        for name in ("units", "allowance", "add_allowance", "rules", "as_traced"):
            if getattr(options, name) is not None:
                option = f"--{name.replace('_', '-')}"
                raise PatternError(f"{path} is a project and knows its own lengths; leave out {option}.")
        return _project_source(path, options)
    if options.wearer or options.round:
        raise PatternError(f"{path} is a drawing and has no wearers; leave out --wearer and --round.")
    from editor.formats.clean_up import ALL_TAKEN, AS_TRACED
    from editor.formats.import_pattern import import_pattern

    imported = import_pattern(
        path,
        unit=options.units,
        allowance_mm=options.allowance,
        add_mm=options.add_allowance,
        rules=options.rules,
        clean_up=AS_TRACED if options.as_traced else ALL_TAKEN,
    )
    return Source(path, imported.unit, imported.nest, imported.findings)


def read_work(options: argparse.Namespace) -> Work:
    """Read the file, choose the size, carry out the round's journal and then the one that was given."""
    source = read_source(options)
    records = source.round.records if source.round else ()
    if getattr(options, "journal", None) is not None:
        records += _after(records, read_records(options.journal))
    chosen = source.wearer if not options.size else None
    start = start_of(source.nest, chosen) if chosen else source.nest.pattern(options.size or source.size)
    start = sewn_as_said(start, source.forgotten_seams)
    return Work(source, start, records, replay(start, records))


def read_records(path: Path) -> tuple[Record, ...]:
    """The records of a journal file."""
    from editor.document.journal import LARGEST_JOURNAL_BYTES, read_journal
    from editor.reading import read_limited

    return read_journal(read_limited(path, most_bytes=LARGEST_JOURNAL_BYTES), name=str(path))


def _is_project(path: Path) -> bool:
    if path.suffix.lower() == ".dartwise":
        return True
    if not path.is_file():  # opening a pipe would wait for someone to write into it
        return False
    with path.open("rb") as file:
        return file.read(4) == b"PK\x03\x04"


def _project_source(path: Path, options: argparse.Namespace) -> Source:
    project = load_project(path)
    wearer = _chosen(project.wearers, options.wearer, f"{path} has no wearer")
    owner = wearer.name if wearer else "Nobody"
    chosen = _chosen(wearer.rounds if wearer else (), options.round, f"{owner} has no round")
    return Source(
        path, project.base.unit, project.base.nest, (), wearer, chosen, project.limits, project.forgotten_seams
    )


def _chosen(parts: Sequence[Named], name: str, none_called: str) -> Named | None:
    """The last part, or the one of that name in any case."""
    if not name:
        return parts[-1] if parts else None
    for part in parts:
        if part.name.casefold() == name.casefold():
            return part
    names = ", ".join(f'"{part.name}"' for part in parts) or "none"
    raise MissingPartError(f'{none_called} called "{name}"; there is {names}.', code="no-such-part")


def _after(earlier: tuple[Record, ...], later: tuple[Record, ...]) -> tuple[Record, ...]:
    """The later records with ids that the earlier ones do not use."""
    taken = {record.id for record in earlier}
    return tuple(
        Record(f"journal {record.id}" if record.id in taken else record.id, record.step, record.on, record.note)
        for record in later
    )
