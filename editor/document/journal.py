"""The journal as plain JSON that any program can write: one entry per step, its parameters beside its name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final

from editor.document.leftover import leftover
from editor.document.schema import FieldError, from_plain, joined, parsed, to_json, to_plain
from geometry.alterations.kinds import STEP_KINDS
from geometry.alterations.replay import Record
from geometry.errors import PatternError

FORMAT: Final = "dartwise-journal"
VERSION: Final = 1
LARGEST_MM: Final = 100_000.0
LARGEST_JOURNAL_BYTES: Final = 32 * 1024 * 1024
OWN_FIELDS: Final = ("id", "kind", "on", "note")
"""Fields of an entry beside the parameters of its step."""


def journal_bytes(records: Iterable[Record]) -> bytes:
    """The records as a journal file."""
    steps = [plain_record(record) for record in records]
    return to_json({"format": FORMAT, "version": VERSION, "steps": steps}, indent=2)


def read_journal(data: bytes, *, name: str) -> tuple[Record, ...]:
    """The records of a journal file.

    Entries without an id are numbered. A field that is not known is refused: a parameter with a slip in its name
    would else be left out unseen.

    Raises:
        PatternError: the sentence names the file, the field and what is wrong with it.
    """
    try:
        plain = parsed(data)
        steps = _steps(plain)
        records = records_from(steps, at="steps")
        _refuse_unknown(steps, records)
    except RecursionError:
        sentence = f"The journal {name} cannot be used: it is nested too deeply to be one of ours."
        raise PatternError(sentence, code="bad-journal") from None
    except FieldError as error:
        raise PatternError(f"The journal {name} cannot be used: {error.sentence}", code="bad-journal") from None
    return records


def plain_record(record: Record) -> dict[str, Any]:
    """One record as a flat dict: its own fields, then the parameters of its step."""
    own = {"id": record.id, "kind": record.step.kind, "on": record.on, "note": record.note}
    parameters: dict[str, Any] = to_plain(record.step)
    return own | parameters


def records_from(plain: object, *, at: str) -> tuple[Record, ...]:
    """A list of flat dicts as records; ``at`` is the place of the list, for errors."""
    if not isinstance(plain, list):
        raise FieldError(at, "expected a list of steps")
    records: list[Record] = []
    taken: set[str] = set()
    for index, entry in enumerate(plain):
        record = _record(entry, at=f"{at}[{index}]", number=index + 1)
        if record.id in taken:
            raise FieldError(f"{at}[{index}].id", f'"{record.id}" is used twice')
        taken.add(record.id)
        records.append(record)
    return tuple(records)


def _record(entry: object, *, at: str, number: int) -> Record:
    if not isinstance(entry, Mapping):
        raise FieldError(at, "expected named values in { }")
    if "kind" not in entry:
        raise FieldError(f"{at}.kind", "is missing")
    record_id = _own(entry, "id", str, str(number), at=at)
    kind = _own(entry, "kind", str, "", at=at)
    step_class = STEP_KINDS.get(kind)
    if step_class is None:
        known = ", ".join(sorted(STEP_KINDS))
        raise FieldError(f"{at}.kind", f'there is no kind of step called "{kind}"; there are {known}')
    parameters = {name: value for name, value in entry.items() if name not in OWN_FIELDS}
    try:
        _refuse_boundless(parameters, "")
        step = from_plain(parameters, step_class)
    except FieldError as error:
        raise error.under(at) from None
    except PatternError as error:
        raise FieldError(at, error.sentence.rstrip(".")) from None
    return Record(record_id, step, _own(entry, "on", bool, True, at=at), _own(entry, "note", str, "", at=at))


def _refuse_boundless(plain: object, at: str) -> None:
    """No length of a step is a hundred metres; what is larger would make edges of millions of points."""
    if isinstance(plain, float | int) and not abs(plain) <= LARGEST_MM:
        raise FieldError(at, f"expected a number within {LARGEST_MM:.0f}")
    inner = plain.items() if isinstance(plain, Mapping) else enumerate(plain) if isinstance(plain, list) else ()
    for key, value in inner:
        _refuse_boundless(value, joined(at, f"[{key}]" if isinstance(key, int) else key))


def _own(entry: Mapping[str, Any], name: str, kind: type, default: Any, *, at: str) -> Any:
    try:
        return from_plain(entry.get(name, default), kind)
    except FieldError as error:
        raise error.under(joined(at, name)) from None


def _steps(plain: object) -> list[Any]:
    if not isinstance(plain, Mapping) or plain.get("format") != FORMAT:
        raise FieldError("format", f'expected "{FORMAT}"')
    version = plain.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise FieldError("version", f"expected {VERSION}")
    if version > VERSION:
        raise FieldError("version", f"it is {version}, and this Dartwise reads up to {VERSION}; use a newer Dartwise")
    steps = plain.get("steps")
    if not isinstance(steps, list):
        raise FieldError("steps", "expected a list of steps")
    return steps


def _refuse_unknown(steps: list[Any], records: tuple[Record, ...]) -> None:
    for index, (entry, record) in enumerate(zip(steps, records, strict=True)):
        known = plain_record(record)
        for place, _ in leftover(entry, known):
            field = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in place)
            fields = ", ".join(known)
            raise FieldError(
                f"steps[{index}]{field}", f'this field is not known; a step of kind "{record.step.kind}" has {fields}'
            )
