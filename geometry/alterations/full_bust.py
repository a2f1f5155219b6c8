"""Full bust (and, with a negative amount, small bust) on a darted or dartless half front."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import IDENTITY, Affine, Point, distance_mm
from geometry.alterations.anchors import Anchor, free, resolve
from geometry.alterations.dart_transfer import DEFAULT_STAND_OFF_MM, opened_dart, opens_known_dart, unused_dart_id
from geometry.alterations.frame import Frame
from geometry.alterations.one_opening import shifted_cut, turned_cut
from geometry.alterations.one_piece import Altered, outcome_on
from geometry.alterations.parts import Parts, cut_apart
from geometry.alterations.rejoin import Rejoined, rejoined
from geometry.alterations.slash import Hinge, Slash, SlashCut, side_of
from geometry.alterations.step import OnOnePiece, Outcome, WithAmount
from geometry.alterations.trueing import DEFAULT_REACH_MM, trued
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM


@dataclass(frozen=True, slots=True)
class FullBust(OnOnePiece, WithAmount):
    """Spread a half front at the bust point; the armhole stays joined, the side dart opens, the front lengthens.

    The part above the side dart turns about the armhole until the bust point has moved ``amount_mm`` away from the
    centre front; the part below the dart travels with the bust point, so that the vertical slash opens evenly;
    the strip at the centre front is lengthened by as much as the side has dropped.

    Attributes:
        piece: Name of the half front.
        amount_mm: Spread per half front at the bust point; half the difference round the body.
        bust_point: The bust point.
        armhole: The hinge, a place on the armhole.
        side: Where the side dart is or is to open: a place on the side edge, best the middle of its mouth.
        waist: Where the vertical slash meets the waist, best the middle of the waist dart's mouth.
        centre: Where the centre front is lengthened, a place on it below the bust point.
        reach_mm: How far blends reach.
    """

    kind: ClassVar[str] = "full-bust"

    piece: str
    amount_mm: float
    bust_point: Anchor
    armhole: Anchor
    side: Anchor
    waist: Anchor
    centre: Anchor
    reach_mm: float = DEFAULT_REACH_MM

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the half front spread and trued."""
        return outcome_on(pattern, self.piece, self, _altered)


def _altered(piece: Piece, step: FullBust) -> Altered:
    parts, joined = bust_spread(piece, step)
    after, findings = trued(piece, joined, reach_mm=step.reach_mm)
    return Altered(after, findings, parts.chains)


def bust_slash(piece: Piece, step: FullBust) -> Slash | None:
    """The same spread as one slash of four cuts, each to be altered by itself; ``None`` where it opens a new dart."""
    bust, hinge, side, waist, centre = (
        resolve(piece, anchor) for anchor in (step.bust_point, step.armhole, step.side, step.waist, step.centre)
    )
    _, joined = bust_spread(piece, step)
    if len(joined.piece.darts) > len(piece.darts):
        return None
    frame = _frame(piece, bust, hinge)
    level = _on_slash(frame, bust, waist, centre, piece.name)
    turn = bust_turn(frame.seen(bust, hinge), step.amount_mm)
    angle = turn.angle_rad * frame.handed
    down = frame.step(0.0, -turn.down_mm)
    at, meet = step.bust_point, free(level)
    return Slash(
        piece.name,
        (
            turned_cut((step.armhole, at), (hinge, bust), Hinge.START, side_of(side, hinge, bust), angle),
            turned_cut((step.side, at), (side, bust), Hinge.END, side_of(waist, side, bust), -angle),
            shifted_cut((step.centre, meet), (centre, level), side_of(waist, centre, level), down),
            SlashCut((step.waist, meet, at), None),
        ),
        step.reach_mm,
    )


@dataclass(frozen=True, slots=True)
class BustTurn:
    """How far the part above the side dart turns about the armhole, and how far the bust point travels by it."""

    angle_rad: float
    out_mm: float
    down_mm: float


def bust_turn(bust_from_hinge: Point, amount_mm: float) -> BustTurn:
    """The turn that moves the bust point out by an amount.

    Given the bust point seen from the armhole hinge as (out, up), out being away from the centre front. Follows from
    the closed form: out cos t - up sin t = out + amount.

    Raises:
        StepError: the hinge is too near for so large an amount.
    """
    out, up = bust_from_hinge
    radius = math.hypot(out, up)
    if radius <= SAME_POINT_MM or abs(out + amount_mm) > radius:
        raise StepError(
            f"The bust point cannot move {amount_mm:.0f} mm while the armhole, {radius:.0f} mm away, stays joined; "
            "give a smaller amount or a hinge higher up the armhole."
        )
    angle = math.asin((out + amount_mm) / radius) - math.atan2(out, -up)
    return BustTurn(angle, amount_mm, -(out * math.sin(angle) + up * math.cos(angle) - up))


def bust_spread(piece: Piece, step: FullBust) -> tuple[Parts, Rejoined]:
    """The half front spread, before trueing."""
    bust, hinge, side, waist, centre = (
        resolve(piece, anchor) for anchor in (step.bust_point, step.armhole, step.side, step.waist, step.centre)
    )
    frame = _frame(piece, bust, hinge)
    level = _on_slash(frame, bust, waist, centre, piece.name)
    parts = cut_apart(piece, ((waist, level, bust, hinge), (side, bust), (centre, level)))
    upper_front, upper_side, lower_front, lower_side = _quarters(parts, piece.name)
    turn = bust_turn(frame.seen(bust, hinge), step.amount_mm)
    motions = [IDENTITY] * len(parts.rings)
    motions[upper_side] = Affine.turned(turn.angle_rad * frame.handed, hinge)
    motions[lower_side] = Affine.moved(*frame.step(turn.out_mm, -turn.down_mm))
    motions[lower_front] = Affine.moved(*frame.step(0.0, -turn.down_mm))
    motions[upper_front] = IDENTITY
    joined = rejoined(parts, tuple(motions))
    apex = motions[upper_side].point(bust)
    return parts, Rejoined(_with_side_dart(piece, joined, parts.lines[1][0], apex), joined.joints)


def _frame(piece: Piece, bust: Point, hinge: Point) -> Frame:
    centres = piece.edges_with_role(EdgeRole.CENTRE_FRONT) or ((piece.edge(piece.fold),) if piece.fold else ())
    if not centres:
        raise StepError(f'On "{piece.name}" no edge is known as the centre front; name it first.')
    return Frame.along(centres[0].start, centres[0].end, out_towards=bust, up_towards=hinge)


def _on_slash(frame: Frame, bust: Point, waist: Point, centre: Point, piece_name: str) -> Point:
    """Where the level of the centre cut meets the slash from waist to bust point."""
    total, part = frame.seen(bust, waist)[1], frame.seen(centre, waist)[1]
    share = part / total if total > 0 else -1.0
    if not 0.0 < share < 1.0:
        raise StepError(
            f'On "{piece_name}" the centre front must be cut below the bust point and above the waist; '
            "choose a place between."
        )
    return (waist[0] + (bust[0] - waist[0]) * share, waist[1] + (bust[1] - waist[1]) * share)


def _quarters(parts: Parts, piece_name: str) -> tuple[int, int, int, int]:
    """Upper front, upper side, lower front, lower side."""
    hinge, waist, centre = parts.lines[0][-1], parts.lines[0][0], parts.lines[2][0]
    at_hinge, at_waist, at_centre = (set(parts.parts_touching(place)) for place in (hinge, waist, centre))
    found = (at_hinge & at_centre, at_hinge - at_centre, at_waist & at_centre, at_waist - at_centre)
    if len(parts.rings) != 4 or any(len(part) != 1 for part in found):
        raise StepError(
            f'The lines on "{piece_name}" do not part it as a full bust needs: from the waist through the bust point '
            "to the armhole, from the side to the bust point, and across the centre front below it."
        )
    upper_front, upper_side, lower_front, lower_side = (part.pop() for part in found)
    return upper_front, upper_side, lower_front, lower_side


def _with_side_dart(before: Piece, joined: Rejoined, side: Point, apex: Point) -> Piece:
    """The piece with a new side dart where none was cut through."""
    after = joined.piece
    for joint in joined.joints:
        edge = before.edge(joint.edge)
        if distance_mm(edge.point_at(joint.cut_mm), side) > 2 * SAME_POINT_MM or joint.gap_mm <= SAME_POINT_MM:
            continue
        if opens_known_dart(before, joint):
            return after
        dart_id = unused_dart_id(after, f"{joint.edge} dart")
        dart = opened_dart(after, joint, dart_id, apex=apex, stand_off_mm=DEFAULT_STAND_OFF_MM)
        return replace(after, darts=(*after.darts, dart))
    return after
