"""Trousers: seat, fork and waist (the entries are in trousers)."""

from __future__ import annotations

from collections.abc import Callable

from geometry.affine import Point
from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import wedge
from geometry.alterations.handbook.fairing import Run, corner_way, even, fair, joined, redraw, whole
from geometry.alterations.handbook.landmarks import (
    CROTCH_POINT,
    HIP_AT_CENTRE,
    HIP_AT_SIDE,
    KNEE,
    landmark,
)
from geometry.alterations.handbook.levels import level_through
from geometry.alterations.handbook.matching import do_just_as_long
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.skirts import TROUSERS, as_long_as, end_at, hem_corner, let_out, outwards
from geometry.alterations.handbook.waistbands import lengthen_bands
from geometry.alterations.handbook.waistline import (
    beside_dart,
    free_at_centre,
    free_waist,
    grow_waist_at_side,
    keep_side,
    keep_waist,
    lower_end_of_plumb,
    raise_centre,
    waist_ends,
    waist_neighbours,
)
from geometry.alterations.mouths import station_on
from geometry.alterations.redraw import Pull
from geometry.alterations.step import Step
from geometry.curves import polyline
from geometry.model.edge import Edge, EdgeRole

FRONT = (PieceRole.FRONT_TROUSERS,)
BACK = (PieceRole.BACK_TROUSERS,)

_FORK_BLENDS = 0.25
"""Where the crotch curve begins to change, on the way from hip to fork: further down a short front curve gets a corner
when its fork is taken in; own choice."""

_BENDS_MOST = 0.5
"""Where the crotch curve bends most, on the same way: own choice."""


def extend_fork(bench: Bench, by_mm: float) -> None:
    """Let the crotch seam grow at the fork of the back, or of both by half each."""
    roles = TROUSERS if bench.variant == "front and back" else BACK
    for panel in bench.needed(*roles):
        grow_fork(bench, panel, by_mm / len(roles))


def extend_front_fork(bench: Bench) -> None:
    """The same at the fork of the front alone."""
    for panel in bench.needed(*FRONT):
        grow_fork(bench, panel, bench.amount_mm)


def grow_fork(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Move the crotch point so that the crotch seam grows by so much and the inseam keeps its length."""
    crotch, inseam = _fork_runs(bench, panel)
    grown_mm = crotch.growth()
    way = corner_way(panel, lambda by: grown_mm(by) - by_mm, inseam.growth(), start=panel.frame.step(-by_mm, 0.0))
    bench.do(redraw(panel, *crotch.pulls(way), *inseam.pulls(way)))


def _fork_runs(bench: Bench, panel: Panel) -> tuple[Run, Run]:
    """The lower part of the crotch curve, and the inseam from the knee, each drawn fair to the crotch point."""
    point = landmark(panel, CROTCH_POINT)
    knee = level_through(panel, panel.point(landmark(panel, KNEE)))[0]
    knee = bench.place(panel, "knee on inseam", knee)
    held = bench.place(panel, "middle of crotch curve", _along_curve(panel, _FORK_BLENDS))
    return (
        fair(panel, _seam(panel), held, point),
        fair(panel, panel.edge(EdgeRole.INSEAM, EdgeRole.CROTCH), knee, point),
    )


def _seam(panel: Panel) -> Edge:
    """The crotch seam, or the part of it at the fork."""
    return panel.edge(EdgeRole.CROTCH, EdgeRole.INSEAM)


def _hip_on_seam(panel: Panel) -> Anchor:
    """Where the hip level meets the crotch seam; its upper end if the centre seam is an edge of its own."""
    hip, seam = landmark(panel, HIP_AT_CENTRE), _seam(panel)
    return hip if hip.name == seam.id else on_edge(seam.id, 1.0 - panel.corner(seam.role, EdgeRole.INSEAM).share)


def _along_curve(panel: Panel, share: float) -> Anchor:
    """A share of the way along the crotch seam from the hip to the fork."""
    seam = _seam(panel)
    ends = (station_on(panel.piece, seam, place) for place in (_hip_on_seam(panel), landmark(panel, CROTCH_POINT)))
    hip_mm, fork_mm = ends
    return on_edge(seam.id, (hip_mm + share * (fork_mm - hip_mm)) / seam.length_mm)


def let_out_inner_thigh(bench: Bench) -> None:
    """Both inseams let out at the fork, to nothing at the knee; each keeps its length."""
    for panel in bench.needed(*TROUSERS):
        crotch, inseam = _fork_runs(bench, panel)

        def missing_mm(by: Point, panel: Panel = panel) -> float:
            return panel.frame.seen(by, (0.0, 0.0))[0] + bench.amount_mm

        way = corner_way(panel, missing_mm, inseam.growth(), start=panel.frame.step(-bench.amount_mm, 0.0))
        bench.do(redraw(panel, *crotch.pulls(way), *inseam.pulls(way)))


def wedge_at_hip(bench: Bench, longer_mm: float) -> None:
    """A wedge across the back at the hip, from the seat seam to nothing at the side."""
    for panel in bench.needed(*BACK):
        opening = bench.place(panel, "slash on seat seam", landmark(panel, HIP_AT_CENTRE))
        hinge = bench.place(panel, "hinge at side", landmark(panel, HIP_AT_SIDE))
        bench.do(wedge(panel, opening, hinge, longer_mm, still=hem_corner(panel)))
        keep_side(bench, panel, panel.sewn_mm(EdgeRole.SIDE), landmark(bench.now(panel), HIP_AT_SIDE))


def flat_seat(bench: Bench) -> None:
    """A wedge folded out, or less seat angle."""
    if bench.variant == "tuck":
        wedge_at_hip(bench, -bench.amount_mm)
        return
    for panel in bench.needed(*BACK):
        _turn_seat_seam(bench, panel, bench.amount_mm)


def _turn_seat_seam(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Let the seat seam out at its top and take the side in by as much; waist and side keep their length."""
    sewn_mm, side_mm = panel.sewn_mm(EdgeRole.WAIST), panel.sewn_mm(EdgeRole.SIDE)
    run = free_at_centre(panel)
    way = panel.frame.step(-by_mm, 0.0)
    centre = even(panel, waist_neighbours(panel)[0], landmark(panel, HIP_AT_CENTRE), waist_ends(panel)[0])
    bench.do(redraw(panel, *run.pulls(way), *centre.pulls(way)))
    now = bench.now(panel)
    grow_waist_at_side(bench, now, sewn_mm - now.sewn_mm(EdgeRole.WAIST), landmark(now, HIP_AT_SIDE))
    keep_side(bench, panel, side_mm, landmark(bench.now(panel), HIP_AT_SIDE))


def full_abdomen(bench: Bench) -> None:
    """The front waist raised at the centre, or the front slashed from the waist and opened there."""
    for panel in bench.needed(*FRONT):
        sewn_mm = panel.sewn_mm(EdgeRole.WAIST)
        if bench.variant == "waist raised":
            raise_centre(bench, panel, bench.amount_mm)
            now = bench.now(panel)
            held = landmark(now, HIP_AT_SIDE)
            grow_waist_at_side(bench, now, sewn_mm - now.sewn_mm(EdgeRole.WAIST), held)
            continue
        opening = bench.place(panel, "slash at waist", beside_dart(panel))
        hinge = bench.place(panel, "hinge at hem", lower_end_of_plumb(panel, opening))
        bench.do(wedge(panel, opening, hinge, bench.amount_mm, still=landmark(panel, CROTCH_POINT)))
        keep_waist(bench, panel, sewn_mm + bench.amount_mm)
    if bench.variant == "wider":
        lengthen_bands(bench, bench.amount_mm, ("front",))


def sway_back(bench: Bench) -> None:
    """The waist lowered at the centre back; the dart gets deeper."""
    for panel in bench.needed(*BACK):
        raise_centre(bench, panel, -bench.amount_mm)
        keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST))


def waist_and_hip(bench: Bench) -> None:
    """Side edges let out at the hip, at waist and hip, or the seat seam from waist to hip."""
    if bench.variant == "seat seam":
        for panel in bench.needed(*BACK):
            _let_out_seat_seam(bench, panel)
        lengthen_bands(bench, bench.amount_mm, ("back",))
        return
    panels = bench.needed(*TROUSERS)
    for panel in panels:
        _let_out_side(bench, panel, waist_too=bench.variant == "waist and hip")
    match_back(bench, panels)
    if bench.variant == "waist and hip":
        lengthen_bands(bench, bench.amount_mm)


def _let_out_side(bench: Bench, panel: Panel, *, waist_too: bool) -> None:
    """The side let out at the hip, to nothing at the knee; and in full up to the waist, or to nothing there."""
    side = panel.edge(EdgeRole.SIDE, EdgeRole.WAIST)
    hip, waist = landmark(panel, HIP_AT_SIDE), end_at(panel, side, EdgeRole.WAIST)
    knee = bench.place(panel, "knee at side", level_through(panel, panel.point(landmark(panel, KNEE)))[1])
    above = whole(panel, side, waist, hip) if waist_too else fair(panel, side, waist, hip)
    pulls = let_out(panel, bench.amount_mm, joined(above, fair(panel, side, knee, hip)))
    if not waist_too:
        bench.do(redraw(panel, *pulls))
        return
    bench.do(redraw(panel, *pulls, *free_waist(panel).pulls(outwards(panel, side, bench.amount_mm))))
    now = bench.now(panel)
    missing_mm = panel.sewn_mm(EdgeRole.WAIST) + bench.amount_mm - now.sewn_mm(EdgeRole.WAIST)
    grow_waist_at_side(bench, now, missing_mm, landmark(now, HIP_AT_SIDE))


def _let_out_seat_seam(bench: Bench, panel: Panel) -> None:
    """The seat seam let out from waist to hip, to nothing at the fork."""
    seam, waist = waist_neighbours(panel)[0], waist_ends(panel)[0]
    hip = landmark(panel, HIP_AT_CENTRE)
    run = whole(panel, seam, waist, hip)
    if seam.id == _seam(panel).id:
        run = joined(run, fair(panel, seam, landmark(panel, CROTCH_POINT), hip))
    way = panel.frame.step(-bench.amount_mm, 0.0)
    bench.do(redraw(panel, *run.pulls(way), *free_at_centre(panel).pulls(way), Pull(landmark(panel, CROTCH_POINT))))
    keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST) + bench.amount_mm)


def match_back(bench: Bench, before: tuple[Panel, ...]) -> None:
    """Let the seams of the back differ from those of the front by what they did before.

    The side is corrected at the waist, above the hip, and the inseam at the fork, above the knee.
    """
    backs = [panel for panel in before if panel.name in {each.name for each in bench.panels(*BACK)}]
    fronts = [panel for panel in before if panel.name in {each.name for each in bench.panels(*FRONT)}]
    for back, front in zip(backs, fronts, strict=False):
        as_long_as(bench, back, front, EdgeRole.SIDE, EdgeRole.WAIST, landmark(back, HIP_AT_SIDE))
        knee, _ = level_through(back, back.point(landmark(back, KNEE)))
        as_long_as(bench, back, front, EdgeRole.INSEAM, EdgeRole.CROTCH, knee)


def roping(bench: Bench) -> None:
    """The seat seam lengthened by just the amount: by a wedge at the hip, or by hollowing the curve."""
    for panel in bench.needed(*BACK):
        make = _hollow if bench.variant == "curve hollowed" else _seat_wedge
        do_just_as_long(bench, panel, EdgeRole.CROTCH, bench.amount_mm, make(bench, panel))
        keep_side(bench, panel, panel.sewn_mm(EdgeRole.SIDE), landmark(bench.now(panel), HIP_AT_SIDE))


def _seat_wedge(bench: Bench, panel: Panel) -> Callable[[float], Step]:
    opening = bench.place(panel, "slash on seat seam", landmark(panel, HIP_AT_CENTRE))
    hinge = bench.place(panel, "hinge at side", landmark(panel, HIP_AT_SIDE))
    return lambda amount_mm: wedge(panel, opening, hinge, amount_mm, still=hem_corner(panel))


def _hollow(bench: Bench, panel: Panel) -> Callable[[float], Step]:
    """The curve drawn deeper into the piece half-way between hip and fork, which both stay."""
    seam, hip, fork = _seam(panel), _hip_on_seam(panel), landmark(panel, CROTCH_POINT)
    middle = _along_curve(panel, _BENDS_MOST)
    run = joined(fair(panel, seam, hip, middle), fair(panel, seam, fork, middle))
    dx, dy = polyline.direction_at(seam.points, middle.share * seam.length_mm)
    return lambda amount_mm: redraw(panel, *run.pulls((-dy * amount_mm, dx * amount_mm)))
