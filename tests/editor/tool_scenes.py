"""A table with two plain pieces on it, and a hand that works a tool on it, without a window."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene, Sheet
from editor.tools.base import Preview, Reply, Tool
from editor.tools.slash import SlashTool
from editor.tools.slash_states import Opening
from geometry.affine import Point
from geometry.model.dart import Dart
from geometry.model.marks import Mark, MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from tests.geometry.drawn_pieces import rectangle

PANEL_AT: Point = (1000.0, -50.0)
OTHER_AT: Point = (2000.0, 0.0)


def panel() -> Piece:
    """400 by 600 mm with the fold at its left, a waist dart from 180 to 220 (tip at 200, 450) and a landmark."""
    return replace(
        rectangle(),
        darts=(Dart("waist dart", "waist", 180.0, 220.0, (200.0, 450.0)),),
        marks=(Mark("bust point", (200.0, 420.0), MarkKind.LANDMARK),),
        inner_lines=(),
    )


def pattern() -> Pattern:
    return Pattern((panel(), rectangle(name="other")))


def scene(shown: Pattern | None = None, *, selected: str = "") -> Scene:
    shown = shown or pattern()
    sheets = {
        piece.name: Sheet(piece, piece.outline, at)
        for piece, at in zip(shown.pieces, (PANEL_AT, OTHER_AT), strict=True)
    }
    return Scene(shown, sheets, selected)


@dataclass
class Hand:
    """Works a tool with places given in the coordinates of the panel."""

    tool: Tool
    scene: Scene = field(default_factory=scene)
    px_per_mm: float = 1.0

    def pointer(self, place: Point, *, shift: bool = False, clicks: int = 1) -> Pointer:
        at = (place[0] + PANEL_AT[0], place[1] + PANEL_AT[1])
        return Pointer(at, self.px_per_mm, shift=shift, clicks=clicks)

    def hover(self, place: Point, *, shift: bool = False) -> None:
        self.tool.hover(self.pointer(place, shift=shift), self.scene)

    def press(self, place: Point, *, clicks: int = 1) -> Reply | None:
        return self.tool.press(self.pointer(place, clicks=clicks), self.scene)

    def drag(self, *places: Point, shift: bool = False) -> Reply | None:
        reply = None
        for place in places:
            reply = self.tool.drag(self.pointer(place, shift=shift), self.scene)
        return reply

    def release(self, place: Point) -> Reply | None:
        return self.tool.release(self.pointer(place), self.scene)

    def click(self, *places: Point) -> Reply | None:
        reply = None
        for place in places:
            self.hover(place)
            reply = self.press(place) or self.release(place)
        return reply

    def pull(self, start: Point, *places: Point) -> Reply | None:
        self.press(start)
        self.drag(*places)
        return self.release(places[-1])

    def key(self, *names: str, shift: bool = False) -> Reply | None:
        reply = None
        for name in names:
            reply = self.tool.key(Key(name, shift), self.scene)
        return reply


LEFT_END, RIGHT_END = (0.0, 200.0), (400.0, 200.0)
"""The ends of a level cut across the panel."""

AWAY: Point = (-400.0, -400.0)


def slash_hand(**options: object) -> Hand:
    return Hand(SlashTool(), **options)  # type: ignore[arg-type]


def level_cut() -> Hand:
    """A cut across the panel at 200 mm, drawn and not opened; its lower side moves."""
    hand = slash_hand()
    hand.pull(LEFT_END, (100.0, 201.0), RIGHT_END)
    return hand


def opening(hand: Hand) -> Opening:
    assert isinstance(hand.tool, SlashTool)
    assert isinstance(hand.tool.state, Opening)
    return hand.tool.state


def seen(hand: Hand) -> Preview:
    return hand.tool.preview(hand.scene)
