"""The armhole (F01 to F03)."""

from __future__ import annotations

from geometry.affine import Point, distance_mm, unit_vector
from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.entry import Amount, Caution, Entry, Region, kept
from geometry.alterations.handbook.fairing import fair, joined
from geometry.alterations.handbook.landmarks import (
    ARMHOLE_NOTCH,
    BICEPS_BACK,
    BICEPS_FRONT,
    UNDERARM,
    landmark,
)
from geometry.alterations.handbook.matching import do_until_long
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.shoulder_seam import move_shoulder_notch
from geometry.alterations.handbook.shoulders import BODICES
from geometry.alterations.redraw import Pull, Redraw
from geometry.alterations.step import Step
from geometry.curves import polyline
from geometry.findings import Level
from geometry.model.edge import Edge, EdgeRole

_CAP_SHARE = 0.2
"""Where a change at the underarm ends on a cap without notches, from the underarm; own choice."""


def underarm_pulls(sleeve: Panel, corner: Anchor, *, out_mm: float = 0.0, down_mm: float = 0.0) -> tuple[Pull, ...]:
    """An underarm point of a sleeve moved square to its seam and down it, to nothing at the nearest cap notch."""
    place, cap = sleeve.point(corner), sleeve.edge(EdgeRole.CAP)
    at_start = distance_mm(place, cap.start) < distance_mm(place, cap.end)
    share, (ux, uy) = (0.0, cap.start) if at_start else (1.0, cap.end)
    seam = min(sleeve.edges(EdgeRole.UNDERARM), key=lambda edge: _gap_mm(edge, (ux, uy)))
    starts = distance_mm((ux, uy), seam.start) < distance_mm((ux, uy), seam.end)
    dx, dy = unit_vector((ux, uy), seam.end if starts else seam.start)
    nx, ny = (dy, -dx) if starts else (-dy, dx)  # the inside lies to the left of the ring, so this way is out
    vector = dx * down_mm + nx * out_mm, dy * down_mm + ny * out_mm
    stop = on_edge(cap.id, _cap_stop_mm(sleeve, cap, at_start=at_start) / cap.length_mm)
    fade = fair(sleeve, cap, stop, on_edge(cap.id, share))
    return *fade.pulls(vector), Pull(on_edge(seam.id, 1.0 if starts else 0.0))


def _gap_mm(edge: Edge, place: Point) -> float:
    return min(distance_mm(edge.start, place), distance_mm(edge.end, place))


def _cap_stop_mm(sleeve: Panel, cap: Edge, *, at_start: bool) -> float:
    """Where a change at the underarm ends: at the lowest cap notch on that side, else at a share of the cap."""
    ends = [notch.at_mm for notch in sleeve.piece.notches_on(cap.id) if "shoulder" not in notch.id.lower()]
    half_mm = cap.length_mm / 2
    if at_start:
        return min((at_mm for at_mm in ends if at_mm < half_mm), default=_CAP_SHARE * cap.length_mm)
    return max((at_mm for at_mm in ends if at_mm > half_mm), default=(1 - _CAP_SHARE) * cap.length_mm)


def lowered_underarm(panel: Panel, down_mm: float) -> Redraw:
    """The underarm point moved down the side seam, to nothing at the armhole notch."""
    stop = panel.next_stop(EdgeRole.SIDE, EdgeRole.ARMHOLE)
    pull = panel.towards(landmark(panel, UNDERARM), stop, down_mm)
    return Redraw(panel.name, (*underarm_fade(panel, (pull.dx_mm, pull.dy_mm)), Pull(stop)))


def underarm_fade(panel: Panel, vector: Point) -> list[Pull]:
    """The armhole moved by a vector at the underarm, to nothing at its notch."""
    hole = panel.edge(EdgeRole.ARMHOLE, EdgeRole.SIDE)
    stop_mm, _ = polyline.nearest(hole.points, panel.point(landmark(panel, ARMHOLE_NOTCH)))
    stop = on_edge(hole.id, stop_mm / hole.length_mm)
    return fair(panel, hole, stop, panel.corner(EdgeRole.ARMHOLE, EdgeRole.SIDE)).pulls(vector)


def _depth(bench: Bench, down_mm: float) -> None:
    grown_mm = 0.0
    for panel in bench.needed(*BODICES):
        bench.do(lowered_underarm(panel, down_mm))
        grown_mm += bench.now(panel).sewn_mm(EdgeRole.ARMHOLE) - panel.sewn_mm(EdgeRole.ARMHOLE)
    for sleeve in bench.panels(PieceRole.SLEEVE):
        _scoop(bench, sleeve, grown_mm)


def _scoop(bench: Bench, sleeve: Panel, grown_mm: float) -> None:
    """Both underarm points moved down their seams until the cap has grown as both armholes have."""
    corners = landmark(sleeve, BICEPS_FRONT), landmark(sleeve, BICEPS_BACK)

    def scooped(amount_mm: float) -> Step:
        pulls = [pull for corner in corners for pull in underarm_pulls(sleeve, corner, down_mm=amount_mm)]
        return Redraw(sleeve.name, tuple(pulls))

    do_until_long(bench, sleeve, EdgeRole.CAP, grown_mm, scooped)


def _position(bench: Bench) -> None:
    grown_mm = {PieceRole.FRONT_BODICE: 0.0, PieceRole.BACK_BODICE: 0.0}
    for role, out_mm in zip(grown_mm, (-bench.amount_mm, bench.amount_mm), strict=True):
        for panel in bench.needed(role):
            bench.do(_moved_sideways(panel, out_mm))
            grown_mm[role] += bench.now(panel).sewn_mm(EdgeRole.ARMHOLE) - panel.sewn_mm(EdgeRole.ARMHOLE)
    total_mm = sum(grown_mm.values())
    text = (
        f"Both armholes together came out {abs(total_mm):.1f} mm {'longer' if total_mm > 0 else 'shorter'}; "
        "where that is too much, move the underarm by half of it."
    )
    bench.say(Level.NOTE, "armhole-changed", text, measured_mm=total_mm)
    for sleeve in bench.panels(PieceRole.SLEEVE):
        move_shoulder_notch(bench, sleeve, -grown_mm[PieceRole.FRONT_BODICE])


def _moved_sideways(panel: Panel, out_mm: float) -> Redraw:
    """The middle of the armhole moved towards the side or the centre, to nothing at shoulder and underarm."""
    hole, way = panel.edge(EdgeRole.ARMHOLE), panel.frame.step(out_mm, 0.0)
    low, high = (fair(panel, hole, on_edge(hole.id, end), panel.middle(EdgeRole.ARMHOLE)) for end in (0.0, 1.0))
    return Redraw(panel.name, tuple(joined(low, high).pulls(way)))


_SLEEVE = (PieceRole.SLEEVE,)
_DEPTH_KEEPS = kept(BODICES, EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.WAIST) + kept(_SLEEVE, EdgeRole.HEM)
_DEPTH_CHECKS = (
    "Walk the sleeve notches round the armhole.",
    "Lift the arm in the toile: the side must not be dragged up.",
)
_DEEP = Caution(12.7, "Usually 1/4 to 1/2 in: a deep armhole ties the arm down when it is lifted.")

ENTRIES = (
    Entry(
        "F01",
        "Armhole too high or tight",
        Region.ARMHOLE,
        symptom="The armhole cuts in under the arm.",
        does="The underarm point goes down the side seam on front and back, to nothing at the notches. The sleeve is "
        "scooped at both underarm points until its cap has grown by as much as the armholes, so the ease stays.",
        inverse="Raises the underarm of an armhole that is too low.",
        needs=("underarm", "armhole", "side edge"),
        touches=(*BODICES, *_SLEEVE),
        keeps=_DEPTH_KEEPS,
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=_DEPTH_CHECKS,
        source="common practice, from memory",
        amount=Amount("how far the underarm goes down", None, 8.0, -40.0, 40.0, (_DEEP,)),
        plan=lambda bench: _depth(bench, bench.amount_mm),
    ),
    Entry(
        "F02",
        "Armhole too low or large",
        Region.ARMHOLE,
        symptom="Diagonal folds lie under the arm and the sleeve pulls when the arm is raised.",
        does="The underarm point goes up the side seam on front and back, to nothing at the notches, and the sleeve "
        "follows with both its underarm points. A good armhole runs round under the arm as close as is comfortable.",
        inverse="Lowers the underarm of an armhole that is too high.",
        needs=("underarm", "armhole", "side edge"),
        touches=(*BODICES, *_SLEEVE),
        keeps=_DEPTH_KEEPS,
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=_DEPTH_CHECKS,
        source="USDA, Fitting Dresses (1946)",
        amount=Amount("how far the underarm goes up", None, 8.0, -40.0, 40.0, (_DEEP,)),
        plan=lambda bench: _depth(bench, -bench.amount_mm),
    ),
    Entry(
        "F03",
        "Armhole further forward",
        Region.ARMHOLE,
        symptom="The armhole binds in front and is loose behind, as on a stooping figure.",
        does="The armhole is moved, not enlarged: what the front is hollowed the back is filled, to nothing at "
        "shoulder and underarm. The notch at the top of the sleeve goes along, so that the cap's ease stays where it "
        "was.",
        inverse="Moves the armhole further back for an erect figure.",
        needs=("armhole", "shoulder notch of the sleeve"),
        touches=(*BODICES, *_SLEEVE),
        keeps=kept(BODICES, EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.SIDE, EdgeRole.WAIST)
        + kept(_SLEEVE, EdgeRole.CAP, EdgeRole.UNDERARM),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.WAIST),
        check_after=("Measure chest and back width.", "See whether the sleeve must be turned in the armhole as well."),
        source="Hertzer, Garment Cutting in the Twentieth Century, p. 88",
        amount=Amount(
            "how far the armhole moves forward",
            None,
            6.0,
            -25.0,
            25.0,
            (Caution(12.7, "More than 1/2 in: measure chest and back width of the wearer first."),),
        ),
        plan=_position,
    ),
)
