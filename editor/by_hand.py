"""Steps told so that they can be done with ruler, pencil and scissors on a paper copy of the bought pattern. No Qt."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final

from editor.text import SEEN_MM, listed, place_words, signed_length, step_sentence
from geometry.affine import Point, Points, distance_mm
from geometry.alterations.anchors import Anchor, On, resolve
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.step import Step, edge_changes
from geometry.errors import PatternError
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import Unit, format_length


@dataclass(frozen=True, slots=True, eq=False)
class HandWork:
    """One step on one piece.

    Attributes:
        before: The piece the lines are drawn on.
        after: The piece it becomes.
        cuts: Where it is cut, in mm of the piece before.
        hinges: The points that stay joined.
        sentences: What to do, in order.
    """

    before: Piece
    after: Piece
    cuts: tuple[Points, ...]
    hinges: tuple[Point, ...]
    sentences: tuple[str, ...]


def by_hand(step: Step, pattern: Pattern, unit: Unit) -> tuple[HandWork, ...]:
    """A step on a pattern as work for the hands, one entry for every cut or redrawing it is made of.

    A step that does not fit gives none.
    """
    try:
        parts = step.parts(pattern) if isinstance(step, Alteration) else (step,)
        works: list[HandWork] = []
        for part in parts:
            outcome = part.apply(pattern)
            if len(part.piece_names) == 1 and part.piece_names[0] in {piece.name for piece in outcome.pattern.pieces}:
                before, after = pattern.piece(part.piece_names[0]), outcome.pattern.piece(part.piece_names[0])
                works.append(_work(part, before, after, outcome.chalk, unit))
            pattern = outcome.pattern
    except PatternError:
        return ()
    return tuple(works)


def _work(step: Step, before: Piece, after: Piece, cuts: tuple[Points, ...], unit: Unit) -> HandWork:
    tell = _TOLD.get(step.kind)
    sentences = tell(step, before, unit) if tell else [f"{step_sentence(step, unit)}."]
    changed = changed_edges(before, after, unit)
    if changed:
        sentences = [*sentences, f"Measure again: {changed}."]
    return HandWork(before, after, cuts, tuple(_hinges(step, before)), tuple(sentences))


def changed_edges(before: Piece, after: Piece, unit: Unit) -> str:
    """The edges whose sewn length is another one: "hem 31.2 cm (+2.5 cm)"; "" if there are none."""
    changes = [change for change in edge_changes(before, after) if abs(change.change_mm) >= SEEN_MM]
    return listed(
        f"{each.edge} {format_length(each.after_mm, unit)} ({signed_length(each.change_mm, unit)})" for each in changes
    )


def ruled_place(piece: Piece, anchor: Anchor, unit: Unit) -> str:
    """Where a place is found with a ruler: "on the hem 17.5 cm from the centre front"."""
    if anchor.on is On.FREE:
        return _from_corners(piece, (anchor.x, anchor.y), unit)
    if anchor.on is not On.EDGE:
        return place_words(anchor)
    at = [edge.id for edge in piece.edges].index(anchor.name)
    before, after = piece.edges[at - 1].id, piece.edges[(at + 1) % len(piece.edges)].id
    edge_mm = piece.edge(anchor.name).length_mm
    along_mm = anchor.share * edge_mm
    near, beside = (along_mm, before) if anchor.share <= 0.5 else (edge_mm - along_mm, after)
    if near < SEEN_MM:
        return f"the corner of {anchor.name} and {beside}"
    return f"the {anchor.name} {format_length(near, unit)} from the {beside}"


def _from_corners(piece: Piece, place: Point, unit: Unit) -> str:
    """A point inside by its distances from the two nearest corners."""
    corners = []
    for index, edge in enumerate(piece.edges):
        corners.append((distance_mm(edge.start, place), f"the corner of {piece.edges[index - 1].id} and {edge.id}"))
    near = sorted(corners)[:2]
    return "the point " + listed(f"{format_length(mm, unit)} from {words}" for mm, words in near)


def _slash(step: Any, piece: Piece, unit: Unit) -> list[str]:
    sentences = []
    for cut in step.cuts:
        start, *between, end = (ruled_place(piece, anchor, unit) for anchor in cut.line)
        through = f" through {listed(between)}" if between else ""
        sentences.append(f"Draw a line from {start}{through} to {end}.")
        sentences.append(_opening(cut, start, end, unit))
    reach = format_length(step.reach_mm, unit)
    sentences.append(
        f"Tape paper behind it; draw crossed straight seams straight, blend crossed curves over {reach} on both sides."
    )
    return sentences


def _opening(cut: Any, start: str, end: str, unit: Unit) -> str:
    if cut.opening_mm is None:
        return "Cut along it and let it open or close as the other cuts make it."
    amount = format_length(abs(cut.opening_mm), unit)
    if cut.hinge == "none":
        half = format_length(abs(cut.opening_mm) / 2, unit)
        if cut.opening_mm < 0:
            return f"Fold {amount} out along it, the same all the way: a fold {half} deep."
        return f"Cut along it and move the parts {amount} apart, the same all the way, the grain line staying straight."
    hinge, open_end = (start, end) if cut.hinge == "start" else (end, start)
    move = f"lap it by {amount}" if cut.opening_mm < 0 else f"spread it by {amount}"
    return f"Cut from {open_end} to, not through, the stitching line at {hinge}; {move} at the open end."


def _transfer(step: Any, piece: Piece, unit: Unit) -> list[str]:
    start = ruled_place(piece, step.line[0], unit)
    how_far = "shut" if step.share == 1 else f"by {step.share * 100:g} % of its width"
    return [
        f"Draw a line from {start} to the point the {step.dart} aims at, and one along a leg of the {step.dart}.",
        f"Cut both to, not through, that point. Close the {step.dart} {how_far}; the other cut opens.",
        "Tape paper behind it and draw the legs of the new dart, its tip as far from that point as before.",
    ]


def _full_bust(step: Any, piece: Piece, unit: Unit) -> list[str]:
    amount, (side, waist, centre, hinge) = (
        format_length(abs(step.amount_mm), unit),
        (ruled_place(piece, anchor, unit) for anchor in (step.side, step.waist, step.centre, step.armhole)),
    )
    move = "Spread" if step.amount_mm > 0 else "Lap"
    return [
        f"Draw a line from {waist} parallel to the centre front to the level of the bust point, on to the bust point"
        f" and to {hinge}; one from {side} to the bust point; one from {centre} square to the first.",
        "Cut the first from the waist to, not through, the armhole; cut the one from the side to, not through, the"
        " bust point.",
        f"{move} the first cut until its edges are {amount} apart, parallel below the bust point. The side dart opens"
        " by itself; keep all flat.",
        "Cut along the line from the centre front and move the strip below it until the waist is level again.",
        "Tape paper behind it and redraw the side dart, its tip as far from the bust point as before.",
    ]


def _upper_arm(step: Any, piece: Piece, unit: Unit) -> list[str]:
    half = format_length(abs(step.amount_mm) / 2, unit)
    top, hem, front, back = (ruled_place(piece, anchor, unit) for anchor in (step.top, step.hem, step.front, step.back))
    move = "Pull" if step.amount_mm > 0 else "Push"
    way = "apart" if step.amount_mm > 0 else "over each other"
    return [
        f"Draw a line from {top} to {hem}, and one across from {front} to {back}.",
        "Cut along both to, not through, the stitching line at their four ends.",
        f"{move} the quarters {way} at the crossing until each side has moved {half} away from the middle line; the cap"
        " sinks as they turn. Its seam keeps its length.",
        "Tape paper behind it; draw the cap, the underarm seams and the grain line anew.",
    ]


def _redraw(step: Any, piece: Piece, unit: Unit) -> list[str]:
    held = [ruled_place(piece, pull.at, unit) for pull in step.pulls if not math.hypot(pull.dx_mm, pull.dy_mm)]
    sentences = []
    for pull in step.pulls:
        ways = [
            f"{format_length(abs(mm), unit)} {more if mm > 0 else less}"
            for mm, more, less in ((pull.dy_mm, "up", "down"), (pull.dx_mm, "to the right", "to the left"))
            if abs(mm) >= SEEN_MM
        ]
        if ways:
            sentences.append(
                f"Move {ruled_place(piece, pull.at, unit)} {listed(ways)}, as the piece lies in the drawing."
            )
    kept = f" {listed(held)[:1].upper()}{listed(held)[1:]} stay where they are." if held else ""
    return [*sentences, f"Redraw the edges between these places, keeping their shape.{kept}"]


def _hinges(step: Any, piece: Piece) -> list[Point]:
    if step.kind == "slash":
        return [resolve(piece, cut.line[0 if cut.hinge == "start" else -1]) for cut in step.cuts if cut.hinge != "none"]
    if step.kind == "full-bust":
        return [resolve(piece, step.armhole)]
    if step.kind == "upper-arm":
        return [resolve(piece, anchor) for anchor in (step.top, step.hem, step.front, step.back)]
    return []


_TOLD: Final[dict[str, Callable[[Any, Piece, Unit], list[str]]]] = {
    "slash": _slash,
    "dart-transfer": _transfer,
    "full-bust": _full_bust,
    "upper-arm": _upper_arm,
    "redraw": _redraw,
}
