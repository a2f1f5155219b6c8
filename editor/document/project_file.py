"""The project file: one zip with project.json, pattern.json and the drawing as it came.

README.md describes the format. Whatever is in a file and not known here is kept and written back.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any, Final

import msgspec

from editor.document.atomic_file import write_whole
from editor.document.container import LARGEST_WHOLE_BYTES, packed, unpacked
from editor.document.journal import plain_record, records_from
from editor.document.leftover import Leftover, leftover, restored
from editor.document.project import Base, Measurement, Project, Round, Unread, Wearer
from editor.document.schema import FieldError, from_json, from_plain, parsed, to_json, to_plain
from editor.document.soundness import refuse_unsound_nest, refuse_unsound_wearers
from geometry.errors import PatternError
from geometry.model.pattern import Nest
from geometry.units import Unit

FORMAT: Final = "dartwise-project"
FORMAT_VERSION: Final = 1
PROJECT_PART: Final = "project.json"
PATTERN_PART: Final = "pattern.json"
SOURCE_PART: Final = "source.dxf"
_OWN_PARTS: Final = (PROJECT_PART, PATTERN_PART, SOURCE_PART)


class _Round(msgspec.Struct):
    id: str
    name: str
    date: str = ""
    records: list[dict[str, Any]] = []


class _Wearer(msgspec.Struct):
    id: str
    name: str
    size: str
    measurements: list[Measurement] = []
    rounds: list[_Round] = []


class _Source(msgspec.Struct):
    name: str
    unit: Unit


class _Document(msgspec.Struct):
    format: str
    format_version: int
    source: _Source
    wearers: list[_Wearer]


def save_project(project: Project, path: Path) -> None:
    """Write a project, whole or not at all.

    Raises:
        PatternError: it cannot be written; the file, if there was one, is what it was.
    """
    try:
        data = project_bytes(project)
    except FieldError as error:
        raise PatternError(f"{path} was not written: {error.sentence}", code="cannot-write") from None
    write_whole(path, data)


def load_project(path: Path) -> Project:
    """Read a project.

    Raises:
        PatternError: the file cannot be read, is damaged, comes from a newer version, or a field does not hold
            what it should; the sentence says which.
    """
    try:
        if path.stat().st_size > LARGEST_WHOLE_BYTES:
            raise PatternError(f"{path} is larger than any project.", code="bad-project-file")
        data = path.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise PatternError(f"{path} cannot be read: {reason}.", code="cannot-read") from None
    try:
        return project_from_bytes(data)
    except PatternError as error:
        raise PatternError(f"{path} cannot be opened: {error.sentence.rstrip('.')}.", code=error.code) from None


def project_bytes(project: Project) -> bytes:
    """A project as the bytes of its file; equal projects give equal bytes."""
    of_project = [(place[1:], value) for place, value in project.unread.fields if place[0] == PROJECT_PART]
    of_pattern = [(place[1:], value) for place, value in project.unread.fields if place[0] == PATTERN_PART]
    document = restored(to_plain(_document(project)), of_project)
    nest = restored(to_plain(project.base.nest), of_pattern) if of_pattern else project.base.nest
    written = to_json(document, indent=1)
    if _wearers(parsed(written))[1] != project.wearers:  # must not take the place of a good file
        raise FieldError("wearers", "an amount is not a number")
    return packed(
        (
            (PROJECT_PART, written),
            (PATTERN_PART, to_json(nest)),
            (SOURCE_PART, project.base.source_bytes),
            *project.unread.members,
        )
    )


def project_from_bytes(data: bytes) -> Project:
    """The project in the bytes of a file; raises ``PatternError`` like ``load_project``."""
    parts = unpacked(data)
    missing = next((name for name in _OWN_PARTS if name not in parts), None)
    if missing is not None:
        raise PatternError(f'it is no project file: its part "{missing}" is missing', code="bad-project-file")
    try:
        plain = parsed(parts[PROJECT_PART])
        source, wearers = _wearers(plain)
    except FieldError as error:
        raise _in_part(PROJECT_PART, error) from None
    nest = _nest(parts[PATTERN_PART])
    _refuse_unknown_sizes(wearers, nest)
    base = Base(source.name, parts[SOURCE_PART], source.unit, nest)
    project = Project(base, wearers)
    return replace(project, unread=_unread(project, plain, parts))


def _document(project: Project) -> _Document:
    wearers = [
        _Wearer(
            wearer.id,
            wearer.name,
            wearer.size,
            list(wearer.measurements),
            [
                _Round(each.id, each.name, each.date, [plain_record(record) for record in each.records])
                for each in wearer.rounds
            ],
        )
        for wearer in project.wearers
    ]
    return _Document(FORMAT, FORMAT_VERSION, _Source(project.base.source_name, project.base.unit), wearers)


def _wearers(plain: Any) -> tuple[_Source, tuple[Wearer, ...]]:
    document = _known_document(plain)
    wearers = tuple(_wearer(each, index) for index, each in enumerate(document.wearers))
    refuse_unsound_wearers(wearers)
    return document.source, wearers


def _known_document(plain: Any) -> _Document:
    if not isinstance(plain, dict) or plain.get("format") != FORMAT:
        raise FieldError("format", f'expected "{FORMAT}"')
    version = plain.get("format_version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise FieldError("format_version", "expected a whole number from 1")
    if version > FORMAT_VERSION:
        raise FieldError(
            "format_version",
            f"it is {version}, from a newer Dartwise; this one reads up to {FORMAT_VERSION}, and left it as it is",
        )
    return from_plain(plain, _Document)


def _wearer(plain: _Wearer, index: int) -> Wearer:
    rounds = tuple(
        Round(
            each.id, each.name, each.date, records_from(each.records, at=f"wearers[{index}].rounds[{number}].records")
        )
        for number, each in enumerate(plain.rounds)
    )
    return Wearer(plain.id, plain.name, plain.size, rounds, tuple(plain.measurements))


def _nest(data: bytes) -> Nest:
    try:
        nest = from_json(data, Nest)
        refuse_unsound_nest(nest)
    except FieldError as error:
        raise _in_part(PATTERN_PART, error) from None
    return nest


def _refuse_unknown_sizes(wearers: tuple[Wearer, ...], nest: Nest) -> None:
    for index, wearer in enumerate(wearers):
        if wearer.size not in nest.sizes:
            sizes = ", ".join(nest.sizes)
            problem = f'the pattern has no size "{wearer.size}"; it has {sizes}'
            raise _in_part(PROJECT_PART, FieldError(f"wearers[{index}].size", problem))


def _unread(project: Project, plain: Any, parts: Any) -> Unread:
    fields: list[Leftover] = list(leftover(plain, to_plain(_document(project)), (PROJECT_PART,)))
    if parts[PATTERN_PART] != to_json(project.base.nest):
        fields += leftover(parsed(parts[PATTERN_PART]), to_plain(project.base.nest), (PATTERN_PART,))
    members = tuple((name, data) for name, data in parts.items() if name not in _OWN_PARTS)
    return Unread(tuple(fields), members)


def _in_part(part: str, error: FieldError) -> PatternError:
    return PatternError(f"{error.sentence.rstrip('.')} (in its {part})", code=error.code)
