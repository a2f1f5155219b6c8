"""Keeps what is open: its file, the lock beside it, and the record from which a crash can be made good."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from editor.document.autosave import Autosave
from editor.document.locking import HeldError, Lock, spoken_time, take
from editor.document.project import Project
from editor.document.recovery import Found, left_behind, thrown_away
from editor.document.saving import open_stamped, save_stamped
from editor.session import Session
from geometry.errors import PatternError


@dataclass(frozen=True, slots=True)
class _File:
    """The project's file: where, what it held when it was last read or written here, and the hold on it."""

    path: Path | None = None
    stamp: str = ""
    lock: Lock | None = None
    data: bytes | None = field(default=None, repr=False)

    def release(self) -> None:
        if self.lock is not None:
            self.lock.release()


class Keeper(QObject):
    """Opens and saves for one window, and writes every change down as it is made.

    Signals:
        trouble_changed: changes can no longer be written down, with the reason, or "" when they can again.
    """

    trouble_changed = Signal(str)

    def __init__(self, session: Session, folder: Path, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session, self._folder = session, folder
        self._autosave = Autosave(folder, on_trouble=self.trouble_changed.emit)
        self._file = _File()
        self._coming: _File | None = None
        self._seen: Project | None = None
        session.project_opened.connect(self._begin)
        session.project_changed.connect(self._write_down)

    # -- opening and saving

    def open_file(self, path: Path, *, by_force: bool = False, as_copy: bool = False) -> None:
        """Open a project.

        Args:
            path: Its file.
            by_force: Even where another window has it open.
            as_copy: As a project of its own that was never saved.

        Raises:
            HeldError: another window has it open.
            PatternError: it cannot be read.
        """
        lock = None if as_copy else take(path, by_force=by_force)
        try:
            project, stamp, data = open_stamped(path)
        except PatternError:
            if self._is_ours(path):
                self._file = replace(self._file, lock=lock or self._file.lock)
            elif lock is not None:
                lock.release()
            raise
        self._coming = _File(data=data) if as_copy else _File(path, stamp, lock, data)
        self._session.open_project(project, path=None if as_copy else path, saved=not as_copy)

    def save(self, path: Path, *, replacing: bool = False) -> None:
        """Save what is open.

        Args:
            path: Where.
            replacing: Whatever the file holds by now.

        Raises:
            HeldError: another window has that file open.
            PatternError: it cannot be written, or (codes of ``editor.document.saving``) it is not what it was.
        """
        project = self._session.project
        if project is None:
            return
        is_ours = self._is_ours(path)
        lock = self._file.lock if is_ours and self._file.lock is not None else take(path)
        try:
            stamp = save_stamped(project, path, known=self._file.stamp if is_ours and not replacing else None)
        except PatternError:
            if lock is not self._file.lock:
                lock.release()
            raise
        if lock is not self._file.lock:
            self._file.release()
        self._file = _File(path, stamp, lock)
        self._autosave.saved(path, stamp)
        self._session.mark_saved(path)

    def finish(self) -> None:
        """The window closes, and nothing in it will be missed."""
        self._autosave.close(forget=True)
        self._file.release()
        self._file = _File()

    # -- after a crash

    def left_behind(self) -> tuple[Found, ...]:
        """What sittings that ended in a crash have left, the latest first."""
        return left_behind(self._folder)

    def recover(self, found: Found) -> None:
        """Open what was left; its record goes when it is safe in the record of this sitting."""
        record, path, lock = found.record, found.path, None
        if path is not None:
            try:
                lock = take(path)
            except HeldError:
                path = None  # open in another window: this becomes a project of its own
        self._coming = _File(path, record.about.stamp if path else "", lock)
        self._session.open_project(record.project, path=path, saved=False)
        if self._autosave.wait() and self._autosave.is_well:
            thrown_away(found)

    def throw_away(self, found: Found) -> None:
        """Take what was left away."""
        thrown_away(found)

    def kept_words(self) -> str:
        """What is on the disk by now, in a sentence, for a moment of trouble; "" while nothing is open."""
        if self._session.project is None:
            return ""
        self._autosave.wait(1.0)
        kept = self._autosave.kept
        if not self._session.is_modified:
            return "Everything you did is saved in the project's file."
        if not self._autosave.is_well:
            return "What you did since you last saved is in this window only: save it now."
        if kept is None:
            return "What is open is written down and will be offered if Dartwise should end."
        change = f', "{kept.label}",' if kept.label else ""
        return (
            f"Everything up to your last change{change} at {spoken_time(kept.at)} is written down, and will be offered"
            " if Dartwise should end."
        )

    # -- what the session tells

    def _begin(self) -> None:
        coming, self._coming = self._coming or _File(), None
        if coming.lock is None or self._file.lock is None or coming.lock.file != self._file.lock.file:
            self._file.release()
        self._file = coming
        project = self._seen = self._session.project
        if project is not None:
            self._autosave.opened(
                project, data=coming.data, path=coming.path, stamp=coming.stamp, is_saved=not self._session.is_modified
            )

    def _write_down(self) -> None:
        project = self._session.project
        if project is not None and project is not self._seen:
            self._seen = project
            self._autosave.changed(project, self._session.undo_label)

    def _is_ours(self, path: Path) -> bool:
        return self._file.path is not None and self._file.path.resolve() == path.resolve()
