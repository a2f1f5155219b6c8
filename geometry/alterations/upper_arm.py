"""Full upper arm (and, with a negative amount, thin arm): the cross slash that keeps the cap seam."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from geometry.affine import IDENTITY, Affine, Point, distance_mm, frozen_points
from geometry.alterations.anchors import Anchor, free, resolve
from geometry.alterations.frame import Frame
from geometry.alterations.one_opening import turned_cut
from geometry.alterations.one_piece import Altered, outcome_on
from geometry.alterations.parts import Parts, cut_apart
from geometry.alterations.rejoin import Rejoined, rejoined
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut, side_of
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount
from geometry.alterations.trueing import DEFAULT_REACH_MM, trued
from geometry.curves.crossing import crossings
from geometry.errors import StepError
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class UpperArm(OnOnePiece, WithAmount):
    """Spread a sleeve at the biceps along a cross; the cap's quarters turn about its top, so its seam keeps its length.

    Attributes:
        piece: Name of the sleeve.
        amount_mm: Spread in all, measured square to the centre line; half goes to each side of it.
        top: Top of the cap, where the upper quarters stay joined.
        hem: Middle of the hem, where the lower quarters stay joined.
        front: One underarm point, where upper and lower quarter stay joined.
        back: The other underarm point.
        reach_mm: How far blends reach.
    """

    kind: ClassVar[str] = "upper-arm"

    piece: str
    amount_mm: float
    top: Anchor
    hem: Anchor
    front: Anchor
    back: Anchor
    reach_mm: float = DEFAULT_REACH_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the sleeve spread and trued."""
        return outcome_on(pattern, self.piece, self, _altered)


def _altered(piece: Piece, step: UpperArm) -> Altered:
    parts, joined = arm_spread(piece, step)
    after, findings = trued(piece, joined, reach_mm=step.reach_mm)
    return Altered(after, findings, parts.chains)


def arm_spread(piece: Piece, step: UpperArm) -> tuple[Parts, Rejoined]:
    """The sleeve spread, before trueing."""
    top, hem, front, back = (resolve(piece, anchor) for anchor in (step.top, step.hem, step.front, step.back))
    met = crossings(frozen_points([top, hem]), frozen_points([front, back]))
    if len(met) != 1:
        raise StepError(
            f'On "{piece.name}" the line from cap top to hem must cross the line between the underarm points.'
        )
    centre = met[0].at
    parts = cut_apart(piece, ((top, centre, hem), (front, centre, back)))
    motions = [IDENTITY] * len(parts.rings)
    for underarm in (front, back):
        upper = _common_part(parts, parts.lines[0][0], underarm, piece.name)
        lower = _common_part(parts, parts.lines[0][-1], underarm, piece.name)
        frame = Frame.along(hem, top, out_towards=underarm, up_towards=top)
        motions[upper] = _upper_motion(frame, top, centre, step.amount_mm / 2, piece.name)
        motions[lower] = _lower_motion(frame, hem, underarm, motions[upper].point(underarm), piece.name)
    return parts, rejoined(parts, tuple(motions))


def arm_slash(piece: Piece, step: UpperArm) -> Slash:
    """The same spread as one slash of four cuts, each to be altered by itself."""
    parts, _ = arm_spread(piece, step)
    (top, centre, hem), (front, _, back) = parts.lines
    at, opened_rad = free(centre), 0.0
    cuts: list[SlashCut] = []
    for anchor, underarm in ((step.front, front), (step.back, back)):
        frame = Frame.along(hem, top, out_towards=underarm, up_towards=top)
        upper = _upper_motion(frame, top, centre, step.amount_mm / 2, piece.name)
        lower = _lower_motion(frame, hem, underarm, upper.point(underarm), piece.name)
        turn = lower.angle_rad - upper.angle_rad
        cuts.append(turned_cut((anchor, at), (underarm, centre), Hinge.START, side_of(hem, underarm, centre), turn))
        opened_rad += upper.angle_rad if side_of(underarm, top, centre) is Side.LEFT else -upper.angle_rad
    opened = turned_cut((step.top, at), (top, centre), Hinge.START, Side.BOTH, opened_rad)
    return Slash(piece.name, (opened, *cuts, SlashCut((step.hem, at), None)), step.reach_mm)


def _common_part(parts: Parts, a: Point, b: Point, piece_name: str) -> int:
    common = set(parts.parts_touching(a)) & set(parts.parts_touching(_on_line(parts, b)))
    if len(common) != 1:
        raise StepError(f'The cross on "{piece_name}" does not make four quarters; choose the four ends again.')
    return common.pop()


def _on_line(parts: Parts, place: Point) -> Point:
    """The end of the cross line nearest a place: cutting may have brought it onto the outline."""
    return min((parts.lines[1][0], parts.lines[1][-1]), key=lambda end: distance_mm(end, place))


def _upper_motion(frame: Frame, top: Point, centre: Point, out_mm: float, piece_name: str) -> Affine:
    """The turn about the cap top that carries the middle of the cross out by half the spread."""
    cap_mm = distance_mm(top, centre)
    if abs(out_mm) >= cap_mm:
        raise StepError(
            f'A cap {cap_mm:.0f} mm high on "{piece_name}" cannot open by {2 * out_mm:.0f} mm; give a smaller amount.'
        )
    return Affine.turned(math.asin(out_mm / cap_mm) * frame.handed, top)


def _lower_motion(frame: Frame, hem: Point, underarm: Point, target: Point, piece_name: str) -> Affine:
    """The turn about the hem's middle, then the shift along the sleeve, that bring the underarm point to its target."""
    out, up = frame.seen(underarm, hem)
    wanted, _ = frame.seen(target, hem)
    radius = math.hypot(out, up)
    if abs(wanted) > radius:
        raise StepError(
            f'The part of "{piece_name}" below the biceps is too short to open so far; give a smaller amount.'
        )
    angle = math.asin(wanted / radius) - math.atan2(out, up)
    turned = Affine.turned(-angle * frame.handed, hem)
    _, rise = frame.seen(target, turned.point(underarm))
    return turned.then(Affine.moved(*frame.step(0.0, rise)))
