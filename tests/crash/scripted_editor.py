"""The real editor, offscreen, working through random commands until it is killed.

It is told a project's file and a seed. Before each change goes to be written down it says the time and what the project
is then, so that whoever kills it knows what must be found afterwards.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import random
import sys
import tempfile
import time
from pathlib import Path

from PySide6.QtCore import QSettings, QTimer

from editor.app import application, build
from editor.commands.safekeeping import load, write
from editor.document.project import FitNote, Project
from editor.document.project_file import plain_document
from editor.document.rounds import with_note, with_photo
from editor.document.schema import to_json
from editor.document.statements import with_edge_named, without_seam
from editor.document.wearing import with_measurements
from editor.keeper import Keeper
from editor.window import Window
from geometry.errors import PatternError
from geometry.fitting.body import Taken
from geometry.fitting.measures import Measure
from tests.editor.test_hostile_pictures import png
from tests.gui.choir import slash

PIECES = ("front skirt", "back skirt")
LONGEST_PAUSE_MS = 30


def digest(project: Project) -> str:
    """What tells one state of a project from another."""
    said = [seam for pattern in project.base.nest.patterns for seam in pattern.seams]
    edges = [edge.id for piece in project.base.nest.sample.pieces for edge in piece.edges]
    members = [name for name, _ in project.unread.members]
    return hashlib.sha256(to_json((plain_document(project), said, edges, members))).hexdigest()


def say(words: str) -> None:
    os.write(1, f"{words}\n".encode())


def announce_changes() -> None:
    write_down = Keeper._write_down

    def announced(keeper: Keeper) -> None:
        project = keeper._session.project
        if project is not None and project is not keeper._seen:
            say(f"{time.monotonic_ns()} {digest(project)}")
        write_down(keeper)

    Keeper._write_down = announced  # type: ignore[method-assign]


class Script:
    """One random command after the other."""

    def __init__(self, window: Window, path: Path, seed: int) -> None:
        self.window, self.path, self.session = window, path, window.session
        self.random = random.Random(seed)
        self.number = 0

    def go_on(self) -> None:
        """Do the next command, and call again after a short pause."""
        self.number += 1
        commands = [self.add, self.add, self.amount, self.amount, self.switch, self.note, self.remove, self.undo]
        commands += [self.redo, self.save, self.another_round, self.another_wearer, self.look_elsewhere]
        commands += [self.write_on_the_toile, self.keep_a_photo, self.measure, self.rename_an_edge, self.unpick]
        with contextlib.suppress(PatternError):  # it did not fit; nothing changed
            self.random.choice(commands)()
        QTimer.singleShot(self.random.randrange(LONGEST_PAUSE_MS), self.go_on)

    def any_step(self) -> str:
        return self.random.choice(self.session.records).id if self.session.records else ""

    def add(self) -> None:
        self.session.add_step(slash(self.random.choice(PIECES), self.random.uniform(1, 20)))

    def amount(self) -> None:
        self.session.set_amount(self.any_step(), self.random.uniform(1, 20))

    def switch(self) -> None:
        self.session.set_on(self.any_step(), self.random.random() < 0.5)

    def note(self) -> None:
        self.session.set_note(self.any_step(), f"note {self.number}")

    def remove(self) -> None:
        if len(self.session.records) > 3:
            self.session.remove(self.any_step())

    def undo(self) -> None:
        self.session.undo()

    def redo(self) -> None:
        self.session.redo()

    def save(self) -> None:
        write(self.window, None, self.path)

    def another_round(self) -> None:
        if len(self.session.wearer.rounds) < 4:
            self.session.begin_round()

    def another_wearer(self) -> None:
        if len(self.session.project.wearers) < 4:
            self.session.add_wearer(f"singer {self.number}", self.random.choice(self.session.project.base.nest.sizes))

    def write_on_the_toile(self) -> None:
        note = FitNote(f"seen {self.number}", "front skirt", 10.0, 20.0)
        self.say("Add note", with_note(*self.shown, note))

    def keep_a_photo(self) -> None:
        """A part of its own: the whole project is written anew, like a word about the pattern."""
        self.say("Add photo", with_photo(*self.shown, png(self.number, 1)))

    def measure(self) -> None:
        taken = Taken(Measure.BUST, self.random.uniform(800, 1100), f"2026-05-{self.random.randrange(10, 30)}")
        self.say("Measure", with_measurements(*self.shown[:2], (taken,)))

    def rename_an_edge(self) -> None:
        edges = self.session.project.base.nest.sample.piece("back bodice").edges
        name = f"edge {self.number}"
        self.say("Name edge", with_edge_named(self.session.project, "back bodice", edges[0].id, name))

    def unpick(self) -> None:
        seams = [seam.id for seam in self.session.base.seams]
        self.say("Forget seam", without_seam(self.session.project, self.random.choice(seams or ["none"])))

    @property
    def shown(self) -> tuple[Project, str, str]:
        return self.session.project, self.session.wearer.id, self.session.round.id

    def say(self, label: str, project: Project) -> None:
        self.session.state(label, project)

    def look_elsewhere(self) -> None:
        self.session.show(self.random.choice(self.session.project.wearers).id)


def main(path: Path, seed: int) -> int:
    """Work until killed."""
    app = application()
    announce_changes()
    with tempfile.TemporaryDirectory() as folder:
        window = build(app, QSettings(str(Path(folder) / "settings.ini"), QSettings.Format.IniFormat))
    window.show()
    load(window, path)
    say(f"{time.monotonic_ns()} {digest(window.session.project)}")
    script = Script(window, path, seed)
    QTimer.singleShot(0, script.go_on)
    say("ready")
    return app.exec()


if __name__ == "__main__":
    raise SystemExit(main(Path(sys.argv[1]), int(sys.argv[2])))
