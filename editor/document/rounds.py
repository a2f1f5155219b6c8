"""Changes to a wearer's toiles beside their journals: names, notes, photos; each gives a whole new project."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from datetime import date
from typing import Final

from editor.document.picture import picture_in
from editor.document.project import FitNote, Project, Round
from geometry.errors import PatternError

LARGEST_PHOTO_BYTES: Final = 8 * 1024 * 1024
MOST_PHOTOS: Final = 12
PHOTO_ENDINGS: Final = (".jpg", ".jpeg", ".png")
_PHOTOS = "photos/"


def day_in(text: str) -> str:
    """A day as it is kept, "" for none; raises ``PatternError``."""
    if not text.strip():
        return ""
    try:
        return date.fromisoformat(text.strip()).isoformat()
    except ValueError:
        raise PatternError(f'"{text.strip()}" is no day; type it as 2026-05-17.', code="bad-date") from None


def with_round(project: Project, wearer_id: str, changed: Round) -> Project:
    """The project with a round of a wearer changed or added."""
    return project.with_wearer(project.wearer(wearer_id).with_round(changed))


def without_round(project: Project, wearer_id: str, round_id: str) -> Project:
    """The project without a round and the photos that only it has; a wearer's only round stays."""
    wearer = project.wearer(wearer_id)
    kept = tuple(each for each in wearer.rounds if each.id != round_id)
    return _tidied(project, project.with_wearer(replace(wearer, rounds=kept))) if kept else project


def without_wearer(project: Project, wearer_id: str) -> Project:
    """The project without a wearer and everything of hers or his; the only one stays."""
    kept = tuple(each for each in project.wearers if each.id != wearer_id)
    return _tidied(project, replace(project, wearers=kept)) if kept else project


def with_note(project: Project, wearer_id: str, round_id: str, note: FitNote) -> Project:
    """The project with one more fit note."""
    shown = project.wearer(wearer_id).round(round_id)
    return with_round(project, wearer_id, replace(shown, notes=(*shown.notes, note)))


def with_changed_note(project: Project, wearer_id: str, round_id: str, number: int, note: FitNote | None) -> Project:
    """The project with another note in place of the one of that number, counted from 0; ``None`` takes it away."""
    shown = project.wearer(wearer_id).round(round_id)
    instead = () if note is None else (note,)
    notes = (*shown.notes[:number], *instead, *shown.notes[number + 1 :])
    return with_round(project, wearer_id, replace(shown, notes=notes))


def with_photo(project: Project, wearer_id: str, round_id: str, data: bytes) -> Project:
    """The project with a photo of a round as one of its members.

    Raises:
        PatternError: it is no picture, or too large, or the round has enough of them.
    """
    shown = project.wearer(wearer_id).round(round_id)
    ending = ".png" if picture_in(data).kind == "PNG" else ".jpg"
    if len(data) > LARGEST_PHOTO_BYTES:
        raise PatternError(
            f"The photo has {len(data) / 1e6:.0f} MB; up to {LARGEST_PHOTO_BYTES // 2**20} MB are kept. Make it "
            "smaller first.",
            code="bad-photo",
        )
    if len(shown.photos) >= MOST_PHOTOS:
        raise PatternError(f"A toile keeps {MOST_PHOTOS} photos; take one away first.", code="bad-photo")
    name = f"{_PHOTOS}{hashlib.sha256(data).hexdigest()[:16]}{ending}"
    members = project.unread.members
    if name not in dict(members):
        members = (*members, (name, data))
    kept = tuple(dict.fromkeys((*shown.photos, name)))
    project = replace(project, unread=replace(project.unread, members=members))
    return with_round(project, wearer_id, replace(shown, photos=kept))


def without_photo(project: Project, wearer_id: str, round_id: str, name: str) -> Project:
    """The project without a photo of a round; its member goes with the last round that shows it."""
    shown = project.wearer(wearer_id).round(round_id)
    kept = tuple(each for each in shown.photos if each != name)
    return _tidied(project, with_round(project, wearer_id, replace(shown, photos=kept)))


def photo(project: Project, name: str) -> bytes:
    """What a photo holds, nothing if it is gone."""
    return dict(project.unread.members).get(name, b"")


def _tidied(before: Project, after: Project) -> Project:
    """The project without the members of photos that no round shows any more."""
    gone = _photos_of(before) - _photos_of(after)
    kept = tuple(member for member in after.unread.members if member[0] not in gone)
    return replace(after, unread=replace(after.unread, members=kept))


def _photos_of(project: Project) -> set[str]:
    return {name for wearer in project.wearers for each in wearer.rounds for name in each.photos}
