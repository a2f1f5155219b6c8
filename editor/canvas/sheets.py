"""The sheets on the table: which pieces lie where, with their paths; only what changed is built anew."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtGui import QPainterPath

from editor.canvas.painter import Lying
from editor.canvas.piece_paths import PiecePaths, add_chain, closed_path, paths_of
from editor.canvas.placing import placed
from editor.canvas.scene import Scene, Sheet, covering
from editor.canvas.viewport import Box
from editor.selection import Selection
from geometry.affine import Point
from geometry.allowance import cutting_line
from geometry.alterations.chalk import RecordedCut
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import Unit


class Sheets:
    """Every shown piece as a sheet; where it lies is the view's business, not the pattern's."""

    def __init__(self) -> None:
        self._pattern = Pattern(())
        self._paths: dict[str, PiecePaths] = {}
        self._at: dict[str, Point] = {}
        self._kinds: frozenset[tuple[str, bool]] = frozenset()
        self._earlier = (self._kinds, self._at)
        self._trials: dict[str, PiecePaths] = {}
        self._before: dict[str, tuple[Piece, QPainterPath]] = {}
        self._chalk: dict[str, QPainterPath] = {}
        self._lying: dict[frozenset[str], tuple[Lying, ...]] = {}
        self._scene = Scene(self._pattern, {})

    @property
    def scene(self) -> Scene:
        """What tools may look at."""
        return self._scene

    def show(self, pattern: Pattern, base: Pattern) -> bool:
        """Show a pattern; pieces of the same names stay where they lie. Whether they were laid out anew.

        They are where a piece was opened, or cut for each side by itself; as it was, it lies again where it lay.
        """
        kinds = frozenset((piece.name, piece.fold is None) for piece in pattern.pieces)
        known = self._paths
        self._paths = {
            piece.name: known[piece.name]
            if piece.name in known and known[piece.name].piece is piece
            else self._built(piece)
            for piece in pattern.pieces
        }
        self._pattern = pattern
        fresh = kinds != self._kinds
        if fresh:
            earlier, self._earlier = self._earlier, (self._kinds, self._at)
            self._at = earlier[1] if kinds == earlier[0] else self._placed(base)
            self._kinds = kinds
        self._changed()
        return fresh

    def pick(
        self, picked: Selection, cuts: tuple[RecordedCut, ...], unit: Unit, *, proposed: frozenset[str] = frozenset()
    ) -> None:
        """Say what is selected, where the journal's cuts run, the unit of lengths, which seams are only proposed."""
        if cuts is not self._scene.cuts:
            self._lying = {}
            self._chalk = {}
            for cut in cuts:
                add_chain(self._chalk.setdefault(cut.piece, QPainterPath()), cut.points)
        self._scene = replace(
            self._scene, selected=picked.piece, picked=picked, cuts=cuts, unit=unit, proposed=proposed
        )

    def show_before(self, pieces: tuple[Piece, ...]) -> None:
        """Show the cutting lines of altered pieces as they were."""
        known = self._before
        if [piece for piece, _ in known.values()] == list(pieces):
            return
        self._before = {
            piece.name: known[piece.name]
            if piece.name in known and known[piece.name][0] is piece
            else (piece, closed_path(cutting_line(piece)))
            for piece in pieces
        }
        self._lying = {}

    def lay(self, name: str, at: Point) -> None:
        """Lay a sheet elsewhere, on top of the others; what was shown without it stays the same."""
        sheets = dict(self._scene.sheets)
        sheet = sheets.pop(name, None)
        if sheet is not None:
            self._at[name] = at
            self._scene = replace(self._scene, sheets={**sheets, name: replace(sheet, at=at)})
            self._lying = {without: lying for without, lying in self._lying.items() if name in without}

    def paths(self, name: str) -> PiecePaths:
        """The paths of a shown piece."""
        return self._paths[name]

    def lying_trial(self, piece: Piece) -> Lying:
        """A piece that is only tried out, on the outline it has now; its label stays where it is."""
        sheet, shown, known = self._scene.sheets[piece.name], self._paths[piece.name], self._trials.get(piece.name)
        if known is None or known.piece is not piece:
            as_full = len(piece.double_darts) == len(shown.piece.double_darts)
            known = paths_of(piece, label_like=(shown.label_like or shown) if as_full else None)
            self._trials[piece.name] = known
        return Lying(known, sheet.at, sheet.box, before=shown.sheet)

    def lying_sheet(self, name: str) -> Lying:
        """A shown sheet."""
        sheet = self._scene.sheets[name]
        before = self._before[name][1] if name in self._before else None
        return Lying(self._paths[name], sheet.at, sheet.box, before, self._chalk.get(name))

    def lying(self, without: frozenset[str]) -> tuple[Lying, ...]:
        """The sheets to be drawn, but some; the same tuple until something changes."""
        if without not in self._lying:
            self._lying[without] = tuple(self.lying_sheet(name) for name in self._scene.sheets if name not in without)
        return self._lying[without]

    def box(self, names: tuple[str, ...] = ()) -> Box | None:
        """What the sheets, or some of them, cover of the table."""
        return covering([sheet.box for sheet in self._scene if not names or sheet.name in names])

    def _placed(self, base: Pattern) -> dict[str, Point]:
        """Every piece side by side with the room it takes in the base, or as it is where the base has no such."""
        known = {piece.name: piece for piece in base.pieces}
        boxes = {}
        for name, shown in self._paths.items():
            piece = known.get(name, shown.piece)
            piece = piece if (piece.fold is None) == (shown.piece.fold is None) else shown.piece
            boxes[name] = Sheet(piece, shown.ring if shown.piece is piece else cutting_line(piece)).box
        return placed(boxes)

    def _built(self, piece: Piece) -> PiecePaths:
        """A tried-out piece that is now shown has its paths already, and its label stays where it is."""
        trial = self._trials.get(piece.name)
        return replace(trial, piece=piece) if trial is not None and trial.piece == piece else paths_of(piece)

    def _changed(self) -> None:
        sheets = {name: Sheet(paths.piece, paths.ring, self._at[name]) for name, paths in self._paths.items()}
        self._scene = replace(self._scene, pattern=self._pattern, sheets=sheets)
        self._lying = {}
