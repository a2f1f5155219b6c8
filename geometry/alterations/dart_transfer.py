"""Dart transfer: close one dart about its apex and let another open; the angle is kept."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from geometry.affine import IDENTITY, Affine, Point, angle_between, distance_mm, midpoint
from geometry.alterations.anchors import Anchor, resolve
from geometry.alterations.one_piece import Altered, outcome_on
from geometry.alterations.parts import Parts, cut_apart
from geometry.alterations.rejoin import Joint, Rejoined, rejoined
from geometry.alterations.step import OnOnePiece, Outcome
from geometry.alterations.trueing import DEFAULT_REACH_MM, trued
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.model.dart import Dart
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import SAME_POINT_MM

DEFAULT_STAND_OFF_MM = 25.4
"""1 in from the bust point for a small cup (Threads, where to place bust-dart points)."""


@dataclass(frozen=True, slots=True)
class DartTransfer(OnOnePiece):
    """Close a dart, wholly or in part, and open the same angle along a new line to its apex.

    Attributes:
        piece: Name of the piece.
        dart: Id of the dart that is closed.
        line: Places of the new line, the first on an edge; it ends at the dart's apex, which is added to it. A line
            from the mouth of another dart widens that dart.
        share: How much of the angle is moved, above 0 to 1.
        new_dart: Id of the dart that opens; "" makes one up from its edge.
        reach_mm: How far blends reach.
    """

    kind: ClassVar[str] = "dart-transfer"

    piece: str
    dart: str
    line: tuple[Anchor, ...]
    share: float = 1.0
    new_dart: str = ""
    reach_mm: float = DEFAULT_REACH_MM

    @property
    def amount_mm(self) -> float:
        """The share that is moved, in hundredths: a transfer has no length of its own."""
        return self.share * 100

    def with_amount_mm(self, amount_mm: float) -> DartTransfer:
        """The same transfer with another share, given in hundredths."""
        return replace(self, share=amount_mm / 100)

    def apply(self, pattern: Pattern) -> Outcome:
        """The pattern with the dart moved and the edges trued."""
        return outcome_on(pattern, self.piece, self, _altered)


def _altered(piece: Piece, step: DartTransfer) -> Altered:
    parts, joined = transferred(piece, step)
    after, findings = trued(piece, joined, reach_mm=step.reach_mm)
    return Altered(after, findings, parts.chains[:1])


def transferred(piece: Piece, step: DartTransfer) -> tuple[Parts, Rejoined]:
    """The piece with the dart closed and the new one open, before trueing."""
    if not 0.0 < step.share <= 1.0:
        raise StepError(f'The share of the dart "{step.dart}" to move is {step.share:g}; give more than 0, up to 1.')
    dart = piece.dart(step.dart)
    apex, (a, b) = dart.apex, piece.mouth(dart)
    line = tuple(resolve(piece, anchor) for anchor in step.line)
    if not line:
        raise StepError(f'Say where on "{piece.name}" the dart "{dart.id}" is to open: a place on an edge.')
    parts = cut_apart(piece, ((*line, apex), (a, apex), (b, apex)))
    wedge = parts.run_at(dart.edge, (dart.from_mm + dart.to_mm) / 2).part
    before, behind = (run.part for run in parts.mouth_runs(dart))
    if len({wedge, before, behind}) < 3:
        raise StepError(
            f'The new line on "{piece.name}" must part the piece from the dart "{dart.id}"; draw it elsewhere.'
        )
    angle = angle_between(apex, a, b) * step.share
    moves_behind = _stays_put(parts, before, behind) == before
    motions = [IDENTITY] * len(parts.rings)
    motions[behind if moves_behind else before] = Affine.turned(-angle if moves_behind else angle, apex)
    joined = rejoined(parts, tuple(motions), folded=frozenset({wedge}))
    after = joined.piece
    if step.share < 1.0:
        after = _with_rest_of_dart(after, dart, joined.joints)
    after = _with_new_dart(piece, after, dart, parts, joined.joints, step.new_dart)
    return parts, Rejoined(after, joined.joints)


def _stays_put(parts: Parts, before: int, behind: int) -> int:
    """Of two parts the one that stays: that with the fold, else that with the middle of the grain, else the larger."""
    piece = parts.piece
    places = [piece.edge(piece.fold).point_at(piece.edge(piece.fold).length_mm / 2)] if piece.fold else []
    places += [midpoint(piece.grain.start, piece.grain.end)] if piece.grain else []
    for place in places:
        held = {before, behind} & set(parts.parts_touching(place))
        if len(held) == 1:
            return held.pop()
    return max(before, behind, key=lambda part: polyline.signed_area_mm2(parts.rings[part]))


def _with_rest_of_dart(after: Piece, dart: Dart, joints: tuple[Joint, ...]) -> Piece:
    joint = next(
        joint for joint in joints if joint.edge == dart.edge and abs(joint.cut_mm - dart.from_mm) < SAME_POINT_MM
    )
    opened = opened_dart(after, joint, dart.id, apex=dart.apex, stand_off_mm=distance_mm(dart.apex, dart.tip))
    return replace(after, darts=(*after.darts, replace(opened, pressed=dart.pressed, aim=dart.aim)))


def _with_new_dart(
    before: Piece, after: Piece, closed: Dart, parts: Parts, joints: tuple[Joint, ...], name: str
) -> Piece:
    place = parts.lines[0][0]
    near = [joint for joint in joints if joint.gap_mm > SAME_POINT_MM and _is_at(before, joint, place)]
    if not near:
        raise StepError(f'The dart "{closed.id}" on "{before.name}" has no width to move; choose another dart.')
    joint = near[0]
    if opens_known_dart(before, joint, but=closed.id):
        return after
    stand_off = distance_mm(closed.apex, closed.tip)
    dart_id = name or unused_dart_id(after, f"{joint.edge} dart")
    new = opened_dart(after, joint, dart_id, apex=closed.apex, stand_off_mm=stand_off)
    return replace(after, darts=(*after.darts, replace(new, aim=closed.aim)))


def _is_at(piece: Piece, joint: Joint, place: Point) -> bool:
    return distance_mm(piece.edge(joint.edge).point_at(joint.cut_mm), place) <= 2 * SAME_POINT_MM


def opens_known_dart(before: Piece, joint: Joint, *, but: str = "") -> bool:
    """Whether a cut ran into the mouth of a dart (other than ``but``): that dart has grown, no new one opens."""
    return any(
        dart.from_mm - SAME_POINT_MM <= joint.cut_mm <= dart.to_mm + SAME_POINT_MM
        for dart in before.darts_on(joint.edge)
        if dart.id != but
    )


def unused_dart_id(piece: Piece, wanted: str) -> str:
    """A dart id the piece does not have: the wanted one, else with a number behind it."""
    taken = {dart.id for dart in piece.darts}
    number, name = 2, wanted
    while name in taken:
        name, number = f"{wanted} {number}", number + 1
    return name


def opened_dart(piece: Piece, joint: Joint, dart_id: str, *, apex: Point, stand_off_mm: float) -> Dart:
    """The dart whose mouth is the opening at a joint; its tip stands off from the apex towards the mouth's middle."""
    chain = piece.edge(joint.edge).points
    from_mm, to_mm = sorted(polyline.nearest(chain, place)[0] for place in (joint.before, joint.after))
    middle = midpoint(joint.before, joint.after)
    reach = distance_mm(apex, middle)
    share = min(stand_off_mm / reach, 1.0) if reach > 0 else 0.0
    tip = (apex[0] + (middle[0] - apex[0]) * share, apex[1] + (middle[1] - apex[1]) * share)
    return Dart(dart_id, joint.edge, from_mm, to_mm, tip, apex)
