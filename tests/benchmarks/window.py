"""One drag update with repaint, start and memory against a bare window, each in a process of its own."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from editor.document.project_file import save_project
from tests.benchmarks.dress import demo_project
from tests.benchmarks.measuring import Figure, paired_s, percentile_s

ROOT = Path(__file__).resolve().parents[2]
BARE = (
    "from PySide6.QtWidgets import QApplication, QMainWindow; app = QApplication([]); w = QMainWindow(); w.show(); "
    "app.processEvents(); import resource; print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
)
FIRST = (
    "import os; from PySide6.QtCore import QSettings; from editor.app import application, bare_window; "
    "app = application(); w = bare_window(app, QSettings(os.devnull, QSettings.Format.IniFormat), opening='dress'); "
    "w.show(); app.processEvents()"
)
FRAMES = 120


def figures() -> Iterator[Figure]:
    """The figures of the window."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        yield from _start_figures(folder)
        for copies, target in ((1, 0.0083), (8, 0.016)):
            p95 = float(_printed(folder, "-m", "tests.benchmarks.window", str(copies)))
            yield Figure(f"a drag update with {5 * copies} pieces, 95th percentile", p95, None, target)


def _start_figures(folder: Path) -> Iterator[Figure]:
    demo = folder / "demo.dartwise"
    save_project(demo_project(), demo)
    memory = {}

    def run(name: str, *words: str) -> None:
        memory[name] = int(_printed(folder, *words)) / 1024

    painted, bare = paired_s(lambda: _printed(folder, "-c", FIRST), lambda: _printed(folder, "-c", BARE))
    yield Figure("first paint against a bare window", painted, bare, 1.6)
    ours, bare = paired_s(
        lambda: run("ours", "-m", "tests.benchmarks.opened_window", str(demo)), lambda: run("bare", "-c", BARE)
    )
    yield Figure("start with the demo against a bare window", ours, bare, 1.6)
    yield Figure("memory with the demo open beyond a bare window", memory["ours"] - memory["bare"], None, 80.0, "MB")


def _printed(folder: Path, *words: str) -> str:
    """What Python prints in a process of its own; modules are compiled once, into the folder, as installing does."""
    environment = {
        "QT_QPA_PLATFORM": "offscreen",
        **os.environ,
        "PYTHONDONTWRITEBYTECODE": "",
        "PYTHONPYCACHEPREFIX": str(folder / "compiled"),
        "XDG_STATE_HOME": str(folder / "state"),
    }
    done = subprocess.run(
        [sys.executable, *words], cwd=ROOT, env=environment, capture_output=True, text=True, check=True
    )
    return done.stdout.strip()


def drag_update_s(copies: int) -> float:
    """95th percentile of one mouse move that opens a slash from waist dart to armhole: step, seams, repaint."""
    from tests.benchmarks.opened_window import opened_window

    app, window, project = opened_window()
    if copies > 1:
        window.session.open_project(_with_copies(project, copies))
    app.processEvents()
    table = window.table
    table.set_tool("slash")
    piece = window.session.pattern.piece("front bodice")
    dart = piece.dart("waist dart")
    waist, armhole = piece.edge("waist"), piece.edge("armhole")
    places = (waist.point_at((dart.from_mm + dart.to_mm) / 2), dart.apex, armhole.point_at(armhole.length_mm / 2))
    for place in (*places, places[-1]):  # the last click makes the armhole end the hinge
        _mouse(table, piece.name, place, down=True)
        _mouse(table, piece.name, place, down=False)
    _mouse(table, piece.name, table.bench.tool.state.handle, down=True)
    x, y = table.bench.tool.state.handle

    def move(number: int) -> None:
        _mouse(table, piece.name, (x + 5.0 + number * 7 % 40, y))
        table.repaint()

    return percentile_s(move, runs=FRAMES, share=0.95)


def _mouse(table, piece, place, *, down=None):  # type: ignore[no-untyped-def]
    """The mouse moves to a place of a piece, or the left button goes down or comes up there."""
    from PySide6.QtCore import QEvent, QPointF, Qt
    from PySide6.QtGui import QMouseEvent
    from PySide6.QtWidgets import QApplication

    at = QPointF(*table.viewport.to_px(table.bench.sheets.scene.sheets[piece].to_table(place)))
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    kinds = QEvent.Type
    kind = {None: kinds.MouseMove, True: kinds.MouseButtonPress, False: kinds.MouseButtonRelease}[down]
    button, held = (none, left) if down is None else (left, left if down else none)
    event = QMouseEvent(kind, at, table.mapToGlobal(at), button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(table, event)


def _with_copies(project, copies):  # type: ignore[no-untyped-def]
    def more(pattern):  # type: ignore[no-untyped-def]
        others = (
            replace(piece, name=f"{piece.name} {number}") for number in range(2, copies + 1) for piece in pattern.pieces
        )
        return replace(pattern, pieces=(*pattern.pieces, *others))

    nest = project.base.nest
    bigger = replace(nest, patterns=tuple(more(pattern) for pattern in nest.patterns))
    return replace(project, base=replace(project.base, nest=bigger))


if __name__ == "__main__":
    print(drag_update_s(int(sys.argv[1])))  # noqa: T201 - the parent process reads it
