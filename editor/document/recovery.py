"""What a crash or a power cut left behind: found, told from what is on disk, compared with the project file."""

from __future__ import annotations

import contextlib
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from editor.document.locking import is_in_use
from editor.document.project import Project, Wearer
from editor.document.project_file import load_project, read_file
from editor.document.saving import stamp_of
from editor.document.sitting import ENDING, Record, read_about, read_record
from geometry.alterations.replay import Record as Entry
from geometry.errors import PatternError

_HALF_MADE_S: Final = 3600.0
_SIZES: Final = ("size", "sizes", "bones")


@dataclass(frozen=True, slots=True)
class Found:
    """A sitting that ended without being closed, with work in it that was not saved."""

    file: Path
    record: Record

    @property
    def path(self) -> Path | None:
        """The project's file, ``None`` if it was never saved."""
        return Path(self.record.about.path) if self.record.about.path else None

    @property
    def name(self) -> str:
        """What a person knows the project by."""
        return self.path.name if self.path else Path(self.record.project.base.source_name).stem

    def saved(self) -> Project | None:
        """What the project's file holds by now, ``None`` if it was never saved or cannot be read."""
        try:
            return load_project(self.path) if self.path is not None else None
        except PatternError:
            return None

    @property
    def is_file_changed(self) -> bool:
        """Whether the project's file is there and holds something else than the editor that ended last knew of."""
        try:
            return self.path is not None and stamp_of(read_file(self.path)) != self.record.about.stamp
        except PatternError:
            return False


@dataclass(frozen=True, slots=True)
class Line:
    """One place in a journal: the step before and after, ``None`` where there is none."""

    before: Entry | None
    after: Entry | None


@dataclass(frozen=True, slots=True)
class RoundDifference:
    """A round that is not the same in two projects: whose it is, its name, and its steps side by side."""

    wearer: str
    round: str
    lines: tuple[Line, ...]


def left_behind(folder: Path) -> tuple[Found, ...]:
    """Sittings with unsaved work whose editor no longer runs, the latest first; those without any are taken away."""
    found = []
    for file in _records(folder):
        with contextlib.suppress(PatternError, OSError):
            if is_in_use(file, read_about(file).holder):
                continue
            each = Found(file, read_record(file))
            if each.record.unsaved and each.saved() != each.record.project:
                found.append(each)
            else:
                file.unlink(missing_ok=True)
    return tuple(sorted(found, key=lambda each: each.record.at, reverse=True))


def thrown_away(found: Found) -> None:
    """Take a record away; never fails."""
    with contextlib.suppress(OSError):
        found.file.unlink()


def compare(before: Project | None, after: Project) -> tuple[RoundDifference, ...]:
    """The rounds whose steps, name or wearer differ, in their order; everything is new where there is no ``before``."""
    old_wearers = {wearer.id: wearer for wearer in before.wearers} if before else {}
    differences = [
        difference for wearer in after.wearers for difference in _rounds(old_wearers.pop(wearer.id, None), wearer)
    ]
    gone = [difference for wearer in old_wearers.values() for difference in _rounds(wearer, None)]
    return tuple(differences + gone)


def differs_beside(before: Project | None, after: Project) -> tuple[str, ...]:
    """What differs beside the steps, each as a few words; nothing where there is no ``before``."""
    if before is None:
        return ()
    words = [
        ("names, seams or allowances of the pattern", before.base != after.base),
        ("seams that are not sewn", before.forgotten_seams != after.forgotten_seams),
        ("what the checks let pass", before.limits != after.limits),
        ("the size chart", before.chart != after.chart),
        ("the ease wanted", before.ease != after.ease),
    ]
    old = {wearer.id: wearer for wearer in before.wearers}
    for wearer in after.wearers:
        words += _of_wearer(old.get(wearer.id, wearer), wearer)
    return tuple(each for each, is_other in words if is_other)


def _of_wearer(before: Wearer, after: Wearer) -> Iterator[tuple[str, bool]]:
    yield f"the size of {after.name}", any(getattr(before, each) != getattr(after, each) for each in _SIZES)
    yield f"the measurements of {after.name}", before.measurements != after.measurements
    old = {each.id: each for each in before.rounds}
    for each in after.rounds:
        one = old.get(each.id, each)
        yield f"notes of {after.name}, {each.name}", one.notes != each.notes
        yield f"photos of {after.name}, {each.name}", one.photos != each.photos


def _records(folder: Path) -> Iterator[Path]:
    with contextlib.suppress(OSError):
        for file in sorted(folder.iterdir()):
            if file.suffix == ENDING:
                yield file
            elif time.time() - file.stat().st_mtime > _HALF_MADE_S:
                file.unlink()  # a beginning that was cut short


def _rounds(before: Wearer | None, after: Wearer | None) -> Iterator[RoundDifference]:
    named = after or before
    if named is None:
        return
    old = {each.id: each for each in before.rounds} if before else {}
    new = {each.id: each for each in after.rounds} if after else {}
    for round_id in dict.fromkeys((*new, *old)):
        one, other = old.get(round_id), new.get(round_id)
        shown = other or one
        steps = _aligned(one.records if one else (), other.records if other else ())
        is_same = one is not None and other is not None and one.name == other.name
        if shown is not None and not (is_same and all(line.before == line.after for line in steps)):
            yield RoundDifference(named.name, shown.name, steps)


def _aligned(before: tuple[Entry, ...], after: tuple[Entry, ...]) -> tuple[Line, ...]:
    """Steps of the same id side by side, in the order of ``after``, what was taken out behind."""
    old = {entry.id: entry for entry in before}
    lines = [Line(old.pop(entry.id, None), entry) for entry in after]
    return tuple(lines + [Line(entry, None) for entry in old.values()])
