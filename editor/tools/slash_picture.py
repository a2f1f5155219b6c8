"""What the slash tool shows in each of its states."""

from __future__ import annotations

import numpy as np

from editor.canvas.scene import Scene, Sheet
from editor.tools.base import Chalk, ChalkKind, Preview, Readout, Spot, SpotKind
from editor.tools.readings import amount_words, both_units, change_lines, seam_lines
from editor.tools.slash_states import Drawing, Idle, Line, Opening
from editor.tools.snapping import Snap
from geometry.affine import Points, distance_mm, frozen_points
from geometry.alterations.slash import Hinge
from geometry.alterations.step import Outcome
from geometry.model.pattern import Seam

_NOTHING = Preview(hint="Press on an edge, corner or notch to start a slash line; N steps through the named points.")
_DRAW_HINT = (
    "Draw to another edge. A click inside bends the line, a second click there ends it. "
    "Shift keeps to the grain or square to it."
)
_OPEN_HINT = (
    "Drag a side or type an amount, Enter does it, Escape drops it. "
    "Click an end for a hinge (H). S moves the other side, A adds a line."
)
_REOPEN_HINT = "Drag the handle or type another amount. Enter does it, Escape leaves it as it was."
_CUTS_HINT = f"{_REOPEN_HINT} Click another cut, or press N or P, to take that one."


def idle(state: Idle, scene: Scene) -> Preview:
    """What a press would catch."""
    if state.over is None or state.piece not in scene.sheets:
        return _NOTHING
    sheet = scene.sheets[state.piece]
    at = sheet.to_table(state.over.at)
    readout = Readout(at, (state.over.words,)) if state.over.words else None
    return Preview(spots=(Spot(at, SpotKind.SNAP),), readout=readout, hint=_NOTHING.hint)


def drawing(state: Drawing, scene: Scene) -> Preview:
    """The line so far and its loose end."""
    sheet = scene.sheets[state.piece]
    chalk = [Chalk(_chain(sheet, line)) for line in _beside(state)]
    spots = [Spot(sheet.to_table(snap.at), SpotKind.VERTEX) for snap in state.points]
    if len(state.points) > 1:
        chalk.append(Chalk(_chain(sheet, Line(state.points))))
    readout = None
    if state.loose is not None:
        at = sheet.to_table(state.loose.at)
        spots.append(Spot(at, SpotKind.SNAP))
        if state.points:
            chalk.append(Chalk(frozen_points([sheet.to_table(state.points[-1].at), at]), ChalkKind.LOOSE))
        readout = Readout(at, _loose_words(state, state.loose))
    return Preview(chalk=tuple(chalk), spots=tuple(spots), readout=readout, hint=_DRAW_HINT)


def opening(state: Opening, scene: Scene, outcome: Outcome | None, refusal: str, seams: tuple[Seam, ...]) -> Preview:
    """The piece as it would be, the wedge between the sides, the handle and what changes."""
    sheet = scene.sheets[state.piece]
    handle = Spot(sheet.to_table(state.handle), SpotKind.HANDLE, state.handle_direction)
    lines = [_chain(sheet, line) for line in (state.line, *(each.line for each in state.further))]
    moved, rest = (
        frozen_points(way.points(state.line.chain) + np.array(sheet.at)) for way in (state.motion, state.rest)
    )
    wedge = frozen_points(np.vstack([rest, moved[::-1]]))
    kind = ChalkKind.FOLDED if state.opening_mm < 0 else ChalkKind.OPENED
    chalk = (
        Chalk(wedge, kind),
        Chalk(moved, ChalkKind.RIM),
        Chalk(rest, ChalkKind.RIM),
        *(Chalk(line) for line in lines),
    )
    spots = (*_ends(sheet, state), handle)
    hint = _opening_hint(state)
    if outcome is None:
        readout = Readout(handle.at, (refusal, *_which(state)), refused=True)
        return Preview(chalk=chalk, spots=spots, readout=readout, hint=hint)
    piece = outcome.pattern.piece(state.piece)
    words = (
        *_which(state),
        *change_lines(outcome.changes, sheet.piece, piece),
        *seam_lines(outcome.pattern, outcome.changes, sheet.piece, seams),
    )
    readout = Readout(handle.at, (amount_words(state.opening_mm), *words))
    return Preview(piece, chalk, spots, readout, hint)


def _opening_hint(state: Opening) -> str:
    if not state.record:
        return _OPEN_HINT
    return _CUTS_HINT if len(state.openings) > 1 else _REOPEN_HINT


def _which(state: Opening) -> tuple[str, ...]:
    """Which cut is in hand, where there are several to take; counted as a refusal counts them."""
    return (f"Slash line {state.place + 1} of {len(state.cuts)}",) if len(state.openings) > 1 else ()


def _loose_words(state: Drawing, loose: Snap) -> tuple[str, ...]:
    length = (both_units(distance_mm(state.points[-1].at, loose.at)),) if state.points else ()
    return (loose.words, *length) if loose.words else length


def _beside(state: Drawing) -> tuple[Line, ...]:
    return tuple(each.line for each in state.beside.cuts) if state.beside else ()


def _chain(sheet: Sheet, line: Line) -> Points:
    return frozen_points(line.chain + np.array(sheet.at))


def _ends(sheet: Sheet, state: Opening) -> tuple[Spot, ...]:
    ends = zip(state.line.ends, (Hinge.START, Hinge.END), strict=True)
    return tuple(
        Spot(sheet.to_table(at), SpotKind.HINGE if state.hinge is hinge else SpotKind.END) for at, hinge in ends
    )
