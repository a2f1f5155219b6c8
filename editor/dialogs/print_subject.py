"""What of the session is printed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from editor.document.statements import as_said
from editor.printing.choosing import Subject
from editor.printing.piece_label import Ticket
from editor.session import Session
from geometry.alterations.chalk import JournalChalk
from geometry.alterations.replay import replay
from geometry.model.pattern import Pattern


def subject_of(session: Session, *, alteration_lines: bool = True, sizes: Sequence[str] = ()) -> Subject:
    """The pattern shown with what is known of it, and with further sizes altered in the same way."""
    wearer, shown, project = session.wearer, session.round, session.project
    ticket = Ticket(
        wearer.name if wearer else "",
        shown.name if shown else "",
        shown.date if shown else "",
        session.unit,
        blended=project is not None and session.base is not None and project.base.nest.is_blend(session.base),
    )
    cuts = JournalChalk().cuts(session.base, session.records) if session.base and alteration_lines else ()
    others = tuple(replay(as_said(project, size), session.records).pattern for size in sizes) if project else ()
    return Subject(session.pattern or Pattern(()), ticket, cuts, others)


def further_sizes(session: Session) -> tuple[str, ...]:
    """The sizes of the pattern besides the one shown."""
    sizes = session.project.base.nest.sizes if session.project else ()
    return tuple(size for size in sizes if session.pattern is None or size != session.pattern.size)


def job_title(session: Session) -> str:
    """What is printed above everything: the name of the pattern."""
    base = session.project.base if session.project else None
    return (base.nest.name or Path(base.source_name).stem) if base else ""


def job_details(session: Session) -> tuple[str, ...]:
    """Wearer, size, round and date, as far as they are known."""
    wearer, shown = session.wearer, session.round
    size = session.pattern.size if session.pattern else ""
    parts = (
        wearer.name if wearer else "",
        f"size {size}" if size else "",
        shown.name if shown else "",
        shown.date if shown else "",
    )
    return tuple(part for part in parts if part)
