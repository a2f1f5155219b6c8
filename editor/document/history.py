"""Undo and redo: every state of the project in this sitting, with the name of the change that led to it.

Projects are frozen and share what they have in common, so keeping them whole costs little.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from editor.document.project import Project


@dataclass(frozen=True, slots=True)
class State:
    """A project, the change that led to it, and the key under which the next change may join it."""

    project: Project
    label: str = ""
    joins: str = ""


@dataclass(frozen=True, slots=True)
class History:
    """All states of a sitting and which of them is shown; a change gives a new history.

    Attributes:
        states: Oldest first, never empty.
        at: Which one is shown.
        saved: Which one is on disk, ``None`` where none of them is.
    """

    states: tuple[State, ...]
    at: int = 0
    saved: int | None = 0

    @property
    def project(self) -> Project:
        """The project as it is now."""
        return self.states[self.at].project

    @property
    def undo_label(self) -> str | None:
        """Name of the change that undo takes back, ``None`` where there is none."""
        return self.states[self.at].label if self.at > 0 else None

    @property
    def redo_label(self) -> str | None:
        """Name of the change that redo does again, ``None`` where there is none."""
        return self.states[self.at + 1].label if self.at + 1 < len(self.states) else None

    @property
    def is_saved(self) -> bool:
        """Whether what is shown is what is on disk."""
        return self.saved == self.at

    def done(self, project: Project, label: str, *, joins: str = "") -> History:
        """The history after a change; what could be done again is forgotten.

        Changes that follow each other with the same ``joins`` (a wheel turned on one amount) are one to undo. The
        very project that is shown adds nothing.
        """
        here = self.states[self.at]
        if project is here.project:
            return self
        is_joined = bool(joins) and here.joins == joins and not self.is_saved
        kept = self.states[: self.at if is_joined else self.at + 1]
        saved = self.saved if self.saved is not None and self.saved < len(kept) else None
        return History((*kept, State(project, label, joins)), len(kept), saved)

    def undone(self) -> History:
        """One change back; itself where there is none."""
        return self._moved(-1)

    def redone(self) -> History:
        """One change forward again; itself where there is none."""
        return self._moved(+1)

    def marked_saved(self) -> History:
        """The same history, with what is shown now on disk; the next change is one of its own."""
        return replace(self, saved=self.at)

    def _moved(self, by: int) -> History:
        to = self.at + by
        if not 0 <= to < len(self.states):
            return self
        closed = replace(self.states[to], joins="")  # what comes after undo or redo is a change of its own
        return replace(self, states=(*self.states[:to], closed, *self.states[to + 1 :]), at=to)


def opened(project: Project, *, saved: bool) -> History:
    """The history of a project just opened (``saved``) or just made."""
    return History((State(project),), 0, 0 if saved else None)
