"""The waist of a piece: its ends, its length kept or changed, the centre raised or lowered."""

from __future__ import annotations

from geometry.affine import Point, unit_vector
from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.dart_steps import WidenDart
from geometry.alterations.edge_ends import End, away_from, free_mm, neighbour
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.fairing import Run, even, fair, grow_corner, redraw, wave, wave_between
from geometry.alterations.handbook.gores import gores_beside
from geometry.alterations.handbook.landmarks import HIP_AT_CENTRE, HIP_AT_SIDE, landmark
from geometry.alterations.handbook.levels import level_through
from geometry.alterations.handbook.panels import Panel, hands_of
from geometry.alterations.redraw import Pull
from geometry.curves import polyline
from geometry.findings import Level
from geometry.model.edge import Edge, EdgeRole
from geometry.tolerance import FLOAT_MM, ON_EDGE_MM
from geometry.units import MM_PER_INCH

_INSIDE_MM = 1.0
"""How far below the waist a line along the grain is looked for: clear of the edge itself."""

_LEAST_DART_MM = 2.0
"""A dart is not narrowed below this: half a pencil line on each side; own choice."""

_WIDEST_DART_MM = 1.5 * MM_PER_INCH
"""Back skirt darts are 3/4 to 1 1/2 in wide, from memory; beyond that two look better."""


def waist_ends(panel: Panel) -> tuple[Anchor, Anchor]:
    """The ends of the waist: the one nearer the centre line, then the one at the side."""
    edge, frame = panel.edge(EdgeRole.WAIST), panel.frame
    inner, outer = sorted((0.0, 1.0), key=lambda share: frame.seen(_corner(edge, share), (0.0, 0.0))[0])
    return on_edge(edge.id, inner), on_edge(edge.id, outer)


def waist_neighbours(panel: Panel) -> tuple[Edge, Edge]:
    """The edges that meet the waist: the centre line, or what lies in its place, then the side."""
    edge, (inner, outer) = panel.edge(EdgeRole.WAIST), waist_ends(panel)
    first, last = (neighbour(panel.piece, edge.id, _end(place)) for place in (inner, outer))
    return first, last


def free_waist(panel: Panel) -> Run:
    """The waist from the dart nearest the side, or from its other end, to its corner at the side."""
    edge, (_, outer) = panel.edge(EdgeRole.WAIST), waist_ends(panel)
    return even(panel, edge, _dart_next_to(panel, edge, outer), outer)


def _dart_next_to(panel: Panel, edge: Edge, corner: Anchor) -> Anchor:
    at_mm = free_mm(panel.piece, edge, _end(corner))
    return on_edge(edge.id, (at_mm if corner.share == 0.0 else edge.length_mm - at_mm) / edge.length_mm)


def beside_dart(panel: Panel) -> Anchor:
    """The middle of the waist between its side and the dart nearest to it: where a cut meets nothing else."""
    edge, (_, outer) = panel.edge(EdgeRole.WAIST), waist_ends(panel)
    return on_edge(edge.id, (_dart_next_to(panel, edge, outer).share + outer.share) / 2)


def side_run(panel: Panel, held: Anchor) -> Run:
    """The side from a place that stays up to the waist's corner, drawn fair."""
    _, side = waist_neighbours(panel)
    return fair(panel, side, held, waist_ends(panel)[1])


def grow_waist_at_side(bench: Bench, panel: Panel, by_mm: float, held: Anchor) -> None:
    """Make a waist longer at its side; the side seam keeps its length and stays as it is from ``held`` on."""
    grow_corner(bench, panel, free_waist(panel), side_run(panel, held), first_mm=by_mm)


def keep_side(bench: Bench, panel: Panel, sewn_mm: float, held: Anchor) -> None:
    """Bring a side seam back to a length at the waist, which keeps its own, where a blend changed it a little."""
    panel = bench.now(panel)
    excess = panel.sewn_mm(EdgeRole.SIDE) - sewn_mm
    if abs(excess) > FLOAT_MM:
        grow_corner(bench, panel, free_waist(panel), side_run(panel, held), second_mm=-excess)


def keep_waist(bench: Bench, panel: Panel, sewn_mm: float, *, held: str = HIP_AT_SIDE) -> None:
    """Bring a waist back to a length: its dart takes in the rest, or without a dart (or too narrow a one) the side."""
    panel = bench.now(panel)
    excess = panel.sewn_mm(EdgeRole.WAIST) - sewn_mm
    if abs(excess) <= FLOAT_MM:
        return
    dart = panel.dart_on(EdgeRole.WAIST)
    if dart is None or panel.piece.intake_mm(panel.piece.dart(dart)) + excess < _LEAST_DART_MM:
        grow_waist_at_side(bench, panel, -excess, landmark(panel, held))
        return
    bench.do(WidenDart(panel.name, dart, excess))
    say_wide_dart(bench, panel, dart)


def say_wide_dart(bench: Bench, panel: Panel, dart_id: str) -> None:
    """A note where a dart has become wider than looks well."""
    panel = bench.now(panel)
    width_mm = panel.piece.intake_mm(panel.piece.dart(dart_id))
    if width_mm > _WIDEST_DART_MM:
        bench.say(
            Level.NOTE,
            "wide-dart",
            f'The dart "{dart_id}" on "{panel.name}" takes in {width_mm:.0f} mm now; two narrower darts lie flatter.',
            piece=panel.name,
            measured_mm=width_mm,
        )


def upwards(panel: Panel) -> Point:
    """The direction in which the centre line runs out at the waist."""
    centre, inner = waist_neighbours(panel)[0], waist_ends(panel)[0]
    corner = panel.point(inner)
    at_start = polyline.nearest(centre.points, corner)[0] == 0.0
    chain = away_from(centre, End.START if at_start else End.END)
    return unit_vector((float(chain[1, 0]), float(chain[1, 1])), corner)


def raise_centre(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Move the waist at the centre up along the centre line, to nothing at the side. Its length changes a little.

    On a skirt of gores the line goes on across the seam; there every waist keeps its length. A piece that holds both
    halves of the body is raised when the first of them is asked for.
    """
    halves = tuple(Panel(panel.piece, hand) for hand in hands_of(panel.piece))
    if panel.hand not in ("", halves[0].hand):
        return
    if gores_beside(bench, panel):
        _raise_across(bench, halves, by_mm)
    elif panel.hand:
        runs = [fair(each, each.edge(EdgeRole.WAIST), *waist_ends(each)[::-1]) for each in halves]
        way = panel.frame.step(0.0, by_mm)
        bench.do(redraw(panel, *(pull for run in runs for pull in run.pulls(way))))
    else:
        inner, outer = waist_ends(panel)
        (dx, dy), (centre, _) = upwards(panel), waist_neighbours(panel)
        run = fair(panel, panel.edge(EdgeRole.WAIST), outer, inner)
        bench.do(redraw(panel, *run.pulls((dx * by_mm, dy * by_mm)), Pull(_held_on_centre(panel, centre))))


def _raise_across(bench: Bench, halves: tuple[Panel, ...], by_mm: float) -> None:
    gores = {gore.name: gore for half in halves for gore in gores_beside(bench, half)}
    seam = _seam_share(halves[0], tuple(gores.values()))
    for panels, low, high in ((halves, seam, 1.0), *(((gore,), 0.0, seam) for gore in gores.values())):
        pulls = [pull for panel in panels for pull in _raised_between(panel, by_mm, low, high)]
        bench.do(redraw(panels[0], *pulls))
        for panel in panels:
            keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST))


def _raised_between(panel: Panel, by_mm: float, low: float, high: float) -> list[Pull]:
    """The part of the line from the side to the centre that runs over a panel; the hip stays."""
    inner, outer = waist_ends(panel)
    run = wave_between(panel, panel.edge(EdgeRole.WAIST), outer, inner, low, high)
    hip = landmark(panel, HIP_AT_SIDE)
    hips = (hip,) if panel.hand else level_through(panel, panel.point(hip))
    return [*run.pulls(panel.frame.step(0.0, by_mm)), *(Pull(place) for place in hips)]


def _seam_share(panel: Panel, gores: tuple[Panel, ...]) -> float:
    """How far from the side, as a share of the whole waist, the seam between a panel at the centre and a gore lies."""
    own_mm, beside_mm = panel.sewn_mm(EdgeRole.WAIST), gores[0].sewn_mm(EdgeRole.WAIST)
    return beside_mm / (own_mm + beside_mm)


def _held_on_centre(panel: Panel, centre: Edge) -> Anchor:
    """Where the centre line stays: at the hip, on a bodice at its other end."""
    if panel.has(EdgeRole.ARMHOLE):
        far = neighbour(panel.piece, centre.id, End.START).role is EdgeRole.WAIST
        return on_edge(centre.id, 1.0 if far else 0.0)
    return landmark(panel, HIP_AT_CENTRE)


def _corner(edge: Edge, share: float) -> Point:
    return edge.start if share == 0.0 else edge.end


def _end(place: Anchor) -> End:
    return End.START if place.share == 0.0 else End.END


def raise_side(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Move the waist at the side up with the whole hip curve, to nothing at the centre and at the hem.

    On a skirt of gores the line goes on across the seam, whose edges go up alike.
    """
    gores = gores_beside(bench, panel)
    seam = 1.0 - _seam_share(panel, gores) if gores else 1.0
    for each, low, high in ((panel, 0.0, seam), *((gore, seam, 1.0) for gore in gores)):
        inner, outer = waist_ends(each)
        waist = wave_between(each, each.edge(EdgeRole.WAIST), inner, outer, low, high)
        way = each.frame.step(0.0, by_mm)
        pulls = waist.pulls(way)
        for edge, share in zip(waist_neighbours(each), (wave(low), wave(high)), strict=True):
            pulls += _with_hip(each, edge, (share * way[0], share * way[1]))
        bench.do(redraw(each, *pulls))
        keep_waist(bench, each, each.sewn_mm(EdgeRole.WAIST))


def _with_hip(panel: Panel, edge: Edge, way: Point) -> list[Pull]:
    """Move the hip on an edge, which stays at the hem; a centre line that does not move is left alone."""
    if way == (0.0, 0.0):
        return [Pull(on_edge(edge.id, share)) for share in (0.0, 1.0)]
    hip = landmark(panel, HIP_AT_SIDE)
    if polyline.nearest(edge.points, panel.point(hip))[1] > ON_EDGE_MM:
        hip = next(place for place in level_through(panel, panel.point(hip)) if place.name == edge.id)
    hem = on_edge(edge.id, 1.0 if neighbour(panel.piece, edge.id, End.END).role is EdgeRole.HEM else 0.0)
    return [Pull(hip, *way), Pull(hem)]


def straighten_centre(bench: Bench, panel: Panel) -> None:
    """Bring the waist's end at the centre back over the hem, so that a centre line that was turned is plumb again.

    ``panel`` is the piece before it was turned; a centre on the fold is straight already.
    """
    now = bench.now(panel)
    inner, centre = waist_ends(now)[0], waist_neighbours(now)[0]
    if now.piece.fold == centre.id or not waist_neighbours(panel)[0].is_straight:
        return
    starts_above = neighbour(now.piece, centre.id, End.START).role is EdgeRole.WAIST
    below = on_edge(centre.id, 1.0 if starts_above else 0.0)
    out_mm, _ = panel.frame.seen(now.point(inner), now.point(below))
    run = free_at_centre(now)
    bench.do(redraw(now, *run.pulls(panel.frame.step(-out_mm, 0.0)), Pull(below)))


def free_at_centre(panel: Panel) -> Run:
    """The waist from the dart nearest the centre, or from its other end, to its corner at the centre."""
    edge, (inner, _) = panel.edge(EdgeRole.WAIST), waist_ends(panel)
    return even(panel, edge, _dart_next_to(panel, edge, inner), inner)


def lower_end_of_plumb(panel: Panel, place: Anchor) -> Anchor:
    """Where the line along the grain from a place on the waist comes out below."""
    return panel.plumb(panel.below(place, _INSIDE_MM))[0]
