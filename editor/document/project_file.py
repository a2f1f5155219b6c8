"""The project file: one zip with project.json, pattern.json and the drawing as it came.

README.md describes the format. Whatever is in a file and not known here is kept and written back.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

import msgspec

from editor.atomic_file import write_whole
from editor.document.container import LARGEST_WHOLE_BYTES, packed, unpacked
from editor.document.journal import plain_record, records_from
from editor.document.leftover import Leftover, Place, leftover, restored
from editor.document.project import Base, FitNote, Measurement, Project, Round, Unread, Wearer
from editor.document.schema import FieldError, from_json, from_plain, parsed, to_json, to_plain
from editor.document.soundness import refuse_unsound_nest, refuse_unsound_wearers
from editor.document.upgrades import FORMAT_VERSION, upgraded, version_of
from editor.reading import read_limited
from geometry.checks.chosen_limits import changed_limits, limits_from
from geometry.checks.limits import DEFAULT_LIMITS, Limits
from geometry.errors import PatternError
from geometry.fitting.ease import NO_OWN_EASE, GarmentEase
from geometry.fitting.levels import SizeBlend
from geometry.fitting.size_chart import SizeChart
from geometry.fitting.size_choice import Bones
from geometry.model.pattern import Nest
from geometry.units import Unit

FORMAT: Final = "dartwise-project"
PROJECT_PART: Final = "project.json"
PATTERN_PART: Final = "pattern.json"
SOURCE_PART: Final = "source.dxf"
_OWN_PARTS: Final = (PROJECT_PART, PATTERN_PART, SOURCE_PART)
_LARGEST_TEXTS: Final = {PROJECT_PART: 32 * 1024 * 1024, PATTERN_PART: 96 * 1024 * 1024}
MOST_VALUES: Final = 10_000_000
"""A nest of 500 pieces in 12 sizes with 300 points each takes 68 MB and 7 million of these."""


class _Round(msgspec.Struct, omit_defaults=True):
    id: str
    name: str
    date: str = ""
    records: list[dict[str, Any]] = []
    notes: tuple[FitNote, ...] = ()
    photos: tuple[str, ...] = ()


class _Wearer(msgspec.Struct, omit_defaults=True):
    id: str
    name: str
    size: str
    measurements: list[Measurement] = []
    rounds: list[_Round] = []
    sizes: SizeBlend | None = None
    bones: Bones = Bones.UNKNOWN


class _Source(msgspec.Struct):
    name: str
    unit: Unit


class _Document(msgspec.Struct, omit_defaults=True):
    format: str
    format_version: int
    source: _Source
    wearers: list[_Wearer]
    forgotten_seams: tuple[str, ...] = ()
    limits: dict[str, Any] = {}
    chart: SizeChart | None = None
    ease: GarmentEase = NO_OWN_EASE


def save_project(project: Project, path: Path) -> None:
    """Write a project, whole or not at all.

    Raises:
        PatternError: it cannot be written; the file, if there was one, is what it was.
    """
    write_whole(path, bytes_for(project, path))


def bytes_for(project: Project, path: Path) -> bytes:
    """A project as the bytes of its file; ``PatternError`` where it could not be read again."""
    try:
        return project_bytes(project)
    except PatternError as error:
        sentence = f"{path} was not written: {error.sentence.rstrip('.')}."
        raise PatternError(sentence, code="cannot-write") from None


def load_project(path: Path) -> Project:
    """Read a project.

    Raises:
        PatternError: the file cannot be read, is damaged, comes from a newer version, or a field does not hold
            what it should; the sentence says which.
    """
    return project_in(read_file(path), path)


def read_file(path: Path) -> bytes:
    """What a file holds; ``PatternError`` where it cannot be read or is larger than any project."""
    try:
        return read_limited(path, most_bytes=LARGEST_WHOLE_BYTES)
    except (OSError, ValueError) as error:  # ValueError: a name with a zero byte
        if isinstance(error, PatternError):
            raise
        words = (getattr(error, "strerror", None) or str(error)).lower()
        raise PatternError(f"{path} cannot be read: {words}.", code="cannot-read") from None


def project_in(data: bytes, path: Path) -> Project:
    """The project in what a file holds; ``PatternError`` as ``load_project``."""
    try:
        return project_from_bytes(data)
    except PatternError as error:
        problem = error.sentence[:1].lower() + error.sentence[1:].rstrip(".")
        raise PatternError(f"{path} cannot be opened: {problem}.", code=error.code) from None


def project_bytes(project: Project, *, at_once: bool = False) -> bytes:
    """A project as the bytes of its file; equal projects give equal bytes.

    ``at_once`` is for what must be on the disk in a moment and takes no good file's place: nothing is made small, and
    the pattern is not looked over once more.
    """
    of_pattern = [(place[1:], value) for place, value in project.unread.fields if place[0] == PATTERN_PART]
    nest = restored(to_plain(project.base.nest), of_pattern) if of_pattern else project.base.nest
    written = to_json(plain_document(project), indent=1)
    if not at_once:
        refuse_unsound_nest(project.base.nest)
    if _wearers(parsed(written))[1] != project.wearers:  # must not take the place of a good file
        raise FieldError("wearers", "an amount is not a number")
    parts = {PROJECT_PART: written, PATTERN_PART: to_json(nest), SOURCE_PART: project.base.source_bytes}
    _refuse_swollen(parts)
    return packed((*parts.items(), *project.unread.members), tight=not at_once)


def plain_document(project: Project) -> dict[str, Any]:
    """All that changes in a project, as ``project.json`` holds it."""
    of_project = [(place[1:], value) for place, value in project.unread.fields if place[0] == PROJECT_PART]
    document: dict[str, Any] = restored(to_plain(_document(project)), of_project)
    return document


def project_from_bytes(data: bytes) -> Project:
    """The project in the bytes of a file; raises ``PatternError`` like ``load_project``."""
    return project_from_parts(unpacked(data))


def project_from_parts(parts: Mapping[str, bytes]) -> Project:
    """The project in the parts of a file; raises ``PatternError`` like ``load_project``."""
    missing = next((name for name in _OWN_PARTS if name not in parts), None)
    if missing is not None:
        raise PatternError(f'it is no project file: its part "{missing}" is missing', code="bad-project-file")
    _refuse_swollen(parts)
    try:
        return _project(parts)
    except RecursionError:
        raise PatternError("it is nested too deeply to be one of ours", code="bad-project-file") from None


def _project(parts: Mapping[str, bytes]) -> Project:
    try:
        plain = parsed(parts[PROJECT_PART])
        if not isinstance(plain, dict) or plain.get("format") != FORMAT:
            raise FieldError("format", f'expected "{FORMAT}"')
        version = version_of(plain)
    except FieldError as error:
        raise _in_part(PROJECT_PART, error) from None
    if version < FORMAT_VERSION:
        plain, parts = _upgraded(plain, parts, version)
    try:
        document, wearers = _wearers(plain)
        limits = _limits(document)
    except FieldError as error:
        raise _in_part(PROJECT_PART, error) from None
    nest = _nest(parts[PATTERN_PART])
    _refuse_unknown_sizes(wearers, nest)
    base = Base(document.source.name, parts[SOURCE_PART], document.source.unit, nest)
    project = Project(
        base,
        wearers,
        forgotten_seams=document.forgotten_seams,
        limits=limits,
        chart=document.chart,
        ease=document.ease,
    )
    return replace(project, unread=_unread(project, plain, parts))


def _upgraded(plain: dict[str, Any], parts: Mapping[str, bytes], version: int) -> tuple[Any, Mapping[str, bytes]]:
    try:
        content = {PROJECT_PART: plain, PATTERN_PART: parsed(parts[PATTERN_PART])}
        content = upgraded(content, version=version)
    except FieldError as error:
        raise PatternError(error.sentence.rstrip("."), code="bad-project-file") from None
    plain = content[PROJECT_PART] | {"format_version": FORMAT_VERSION}
    return plain, {**parts, PATTERN_PART: to_json(content[PATTERN_PART])}


def _document(project: Project) -> _Document:
    wearers = [
        _Wearer(
            wearer.id,
            wearer.name,
            wearer.size,
            list(wearer.measurements),
            [
                _Round(
                    each.id,
                    each.name,
                    each.date,
                    [plain_record(record) for record in each.records],
                    each.notes,
                    each.photos,
                )
                for each in wearer.rounds
            ],
            wearer.sizes,
            wearer.bones,
        )
        for wearer in project.wearers
    ]
    source = _Source(project.base.source_name, project.base.unit)
    return _Document(
        FORMAT,
        FORMAT_VERSION,
        source,
        wearers,
        project.forgotten_seams,
        changed_limits(project.limits),
        project.chart,
        project.ease,
    )


def _wearers(plain: Any) -> tuple[_Document, tuple[Wearer, ...]]:
    document = from_plain(plain, _Document)
    wearers = tuple(_wearer(each, index) for index, each in enumerate(document.wearers))
    refuse_unsound_wearers(wearers)
    return document, wearers


def _limits(document: _Document) -> Limits:
    try:
        chosen = from_plain(to_plain(DEFAULT_LIMITS) | document.limits, Limits)
    except FieldError as error:
        raise error.under("limits") from None
    return limits_from(changed_limits(chosen))


def _wearer(plain: _Wearer, index: int) -> Wearer:
    rounds = tuple(
        Round(
            each.id,
            each.name,
            each.date,
            records_from(each.records, at=f"wearers[{index}].rounds[{number}].records"),
            each.notes,
            each.photos,
        )
        for number, each in enumerate(plain.rounds)
    )
    return Wearer(plain.id, plain.name, plain.size, rounds, tuple(plain.measurements), plain.sizes, plain.bones)


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
        if wearer.sizes is not None:
            try:
                wearer.sizes.refuse_beyond(nest.sizes)
            except PatternError as error:
                problem = error.sentence.rstrip(".")
                raise _in_part(PROJECT_PART, FieldError(f"wearers[{index}].sizes", problem)) from None


def _unread(project: Project, plain: Any, parts: Mapping[str, bytes]) -> Unread:
    part, fields = PROJECT_PART, list[Leftover]()
    try:
        unknown = leftover(plain, to_plain(_document(project)), (part,))
        fields += (each for each in unknown if not _is_left_out(each[0]))
        if parts[PATTERN_PART] != to_json(project.base.nest):
            part = PATTERN_PART
            fields += leftover(parsed(parts[part]), to_plain(project.base.nest), (part,))
    except FieldError as error:
        raise _in_part(part, error) from None
    members = tuple((name, data) for name, data in parts.items() if name not in _OWN_PARTS)
    return Unread(tuple(fields), members)


def _is_left_out(place: Place) -> bool:
    """Whether it is a field of ours that is not written while it holds what it usually does."""
    kinds = {2: _Document, 4: _Wearer, 6: _Round}
    owners = list(place[1:-1:2])
    kind = kinds.get(len(place)) if owners == ["wearers", "rounds"][: len(owners)] else None
    return kind is not None and place[-1] in kind.__struct_fields__


def _refuse_swollen(parts: Mapping[str, bytes]) -> None:
    """Texts that would fill the memory when taken apart are told before, in reading and in writing."""
    for part, most_bytes in _LARGEST_TEXTS.items():
        text = parts[part]
        if len(text) > most_bytes or sum(text.count(sign) for sign in (b",", b"[", b"{")) > MOST_VALUES:
            raise PatternError(f'its part "{part}" is larger than any pattern', code="bad-project-file")


def _in_part(part: str, error: FieldError) -> PatternError:
    return PatternError(f"{error.sentence.rstrip('.')} (in its {part})", code=error.code)
