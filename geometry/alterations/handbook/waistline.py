"""The waist of a piece: its ends, its length kept or changed, the centre raised or lowered."""

from __future__ import annotations

from geometry.affine import Point, unit_vector
from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.dart_steps import WidenDart
from geometry.alterations.edge_ends import End, away_from, free_mm, neighbour
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.fairing import Run, even, fair, grow_corner, redraw
from geometry.alterations.handbook.landmarks import HIP_AT_CENTRE, HIP_AT_SIDE, landmark
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.redraw import Pull
from geometry.curves import polyline
from geometry.findings import Level
from geometry.model.edge import Edge, EdgeRole
from geometry.tolerance import FLOAT_MM
from geometry.units import MM_PER_INCH

_LEAST_DART_MM = 2.0
"""A dart is not narrowed below this: half a pencil line on each side; own choice."""

_WIDEST_DART_MM = 1.5 * MM_PER_INCH
"""Back skirt darts are 3/4 to 1 1/2 in wide, from memory; beyond that two look better."""


def waist_ends(panel: Panel) -> tuple[Anchor, Anchor]:
    """The ends of the waist: the one nearer the centre line, then the one at the side."""
    edge = panel.edge(EdgeRole.WAIST)
    inner, outer = sorted((0.0, 1.0), key=lambda share: panel.frame.seen(_corner(edge, share), (0.0, 0.0))[0])
    return on_edge(edge.id, inner), on_edge(edge.id, outer)


def waist_neighbours(panel: Panel) -> tuple[Edge, Edge]:
    """The edges that meet the waist: the centre line, or what lies in its place, then the side."""
    edge, (inner, outer) = panel.edge(EdgeRole.WAIST), waist_ends(panel)
    first, last = (neighbour(panel.piece, edge.id, _end(place)) for place in (inner, outer))
    return first, last


def free_waist(panel: Panel) -> Run:
    """The waist from the dart nearest the side, or from its other end, to its corner at the side."""
    edge, (_, outer) = panel.edge(EdgeRole.WAIST), waist_ends(panel)
    at_mm = free_mm(panel.piece, edge, _end(outer))
    held = on_edge(edge.id, (at_mm if outer.share == 0.0 else edge.length_mm - at_mm) / edge.length_mm)
    return even(panel, edge, held, outer)


def side_run(panel: Panel, held: Anchor) -> Run:
    """The side from a place that stays up to the waist's corner, drawn fair."""
    _, side = waist_neighbours(panel)
    return fair(panel, side, held, waist_ends(panel)[1])


def grow_waist_at_side(bench: Bench, panel: Panel, by_mm: float, held: Anchor) -> None:
    """Make a waist longer at its side; the side seam keeps its length and stays as it is from ``held`` on."""
    grow_corner(bench, panel, free_waist(panel), side_run(panel, held), first_mm=by_mm)


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
    """Move the waist at the centre up along the centre line, to nothing at the side. Its length changes a little."""
    inner, outer = waist_ends(panel)
    (dx, dy), (centre, _) = upwards(panel), waist_neighbours(panel)
    way = (dx * by_mm, dy * by_mm)
    run = fair(panel, panel.edge(EdgeRole.WAIST), outer, inner)
    bench.do(redraw(panel, *run.pulls(way), Pull(_held_on_centre(panel, centre))))


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
