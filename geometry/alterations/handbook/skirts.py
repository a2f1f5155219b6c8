"""What skirt and trouser alterations share: which pieces, how a side edge is let out, seams walked after."""

from __future__ import annotations

from collections.abc import Iterator

from geometry.affine import Point, distance_mm
from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.edge_ends import End, neighbour
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.entry import Share, share_of_edges
from geometry.alterations.handbook.fairing import Run, even, fair, grow_corner, joined, whole
from geometry.alterations.handbook.landmarks import HIP_AT_SIDE, landmark
from geometry.alterations.handbook.levels import level_through
from geometry.alterations.handbook.panels import Panel, PieceRole, hands_of, role_of
from geometry.alterations.redraw import Pull
from geometry.curves import polyline
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import Part, hand_in, layer_of, part_of
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.tolerance import ON_EDGE_MM

SKIRTS = (PieceRole.FRONT_SKIRT, PieceRole.BACK_SKIRT)
GORES = (PieceRole.SIDE_FRONT, PieceRole.SIDE_BACK)
FRONT_GORES = (PieceRole.FRONT_SKIRT, PieceRole.SIDE_FRONT)
BACK_GORES = (PieceRole.BACK_SKIRT, PieceRole.SIDE_BACK)
TROUSERS = (PieceRole.FRONT_TROUSERS, PieceRole.BACK_TROUSERS)


def skirt_panels(bench: Bench) -> tuple[Panel, ...]:
    """The pieces of a skirt, the gores beside front and back among them."""
    gores = (panel for panel in bench.panels(*GORES) if part_of(panel.piece) is Part.SKIRT)
    return (*bench.needed(*SKIRTS), *gores)


def among_side_edges(pattern: Pattern) -> Share:
    """An even share of every long seam edge of a skirt: twelve for the six seams of a six-gore skirt."""
    return share_of_edges(sum(times * len(piece.edges_with_role(EdgeRole.SIDE)) for piece, times in _panels(pattern)))


def among_panels(pattern: Pattern) -> Share:
    """An even share of every slash of a skirt, one in each panel; a panel on the fold is two halves."""
    panels = sum(times for _, times in _panels(pattern))
    return Share(1 / panels, f"one part in {panels}, the same at each of {panels} slashes")


def _panels(pattern: Pattern) -> Iterator[tuple[Piece, int]]:
    """The pieces of a skirt, and how often each is there: a half piece, or one that is cut twice, is there twice."""
    for piece in pattern.pieces:
        if role_of(piece) in (*SKIRTS, *GORES) and part_of(piece) is Part.SKIRT and not layer_of(piece):
            yield piece, 1 if hand_in(piece.name) or len(hands_of(piece)) > 1 else 2


def hem_corner(panel: Panel) -> Anchor:
    """An end of the hem."""
    return on_edge(panel.edge(EdgeRole.HEM).id, 0.0)


def hem_corners(panel: Panel) -> tuple[Anchor, Anchor]:
    """Both ends of the hem, in ring order."""
    hem = panel.edge(EdgeRole.HEM)
    return on_edge(hem.id, 0.0), on_edge(hem.id, 1.0)


def end_at(panel: Panel, edge: Edge, role: EdgeRole) -> Anchor:
    """The end of an edge where it meets one of a role; its start if neither does."""
    return on_edge(edge.id, 1.0 if neighbour(panel.piece, edge.id, End.END).role is role else 0.0)


def outwards(panel: Panel, edge: Edge, by_mm: float) -> Point:
    """The vector by which an edge is let out level: away from the middle of the piece."""
    out_mm, _ = panel.frame.seen(edge.point_at(edge.length_mm / 2), panel.point(panel.middle(EdgeRole.HEM)))
    return panel.frame.step(by_mm if out_mm > 0 else -by_mm, 0.0)


def hip_on(panel: Panel, edge: Edge) -> Anchor:
    """Where the hip level meets an edge."""
    hip = landmark(panel, HIP_AT_SIDE)
    if polyline.nearest(edge.points, panel.point(hip))[1] <= ON_EDGE_MM:
        return hip
    level = level_through(panel, panel.point(hip))
    return next((place for place in level if place.name == edge.id), hip)


def from_hip(panel: Panel, edge: Edge, *, hem_kept: bool = False) -> Run:
    """A side edge let out in full at the hip, to nothing at the waist; to the hem in full, or to nothing there."""
    waist, hip, hem = end_at(panel, edge, EdgeRole.WAIST), hip_on(panel, edge), end_at(panel, edge, EdgeRole.HEM)
    below = fair(panel, edge, hem, hip) if hem_kept else whole(panel, edge, hip, hem)
    return joined(fair(panel, edge, waist, hip), below)


def let_out(panel: Panel, by_mm: float, *runs: Run) -> list[Pull]:
    """Edges let out along their runs; the ends of the hem that none of them moves stay."""
    pulls = [pull for run in runs for pull in run.pulls(outwards(panel, run.edge, by_mm))]
    return [*pulls, *(Pull(corner) for corner in hem_corners(panel))]


def as_long_as(bench: Bench, panel: Panel, other: Panel, role: EdgeRole, beside: EdgeRole, held: Anchor) -> None:
    """Let an edge differ from its partner by what it did before, by moving its corner with another edge.

    Both panels are as they were before the alteration. The edge stays as it is from ``held`` on, and the edge beside
    it keeps its length.
    """
    now = bench.now(panel)
    grown_mm = now.sewn_mm(role) - panel.sewn_mm(role)
    partner_mm = bench.now(other).sewn_mm(role) - other.sewn_mm(role)
    corner = now.corner(role, beside)
    edge, crossing = now.edge(role, beside), now.edge(beside, role)
    far = on_edge(crossing.id, 1.0 if distance_mm(crossing.start, now.point(corner)) <= ON_EDGE_MM else 0.0)
    grow_corner(
        bench, now, even(now, edge, held, corner), even(now, crossing, far, corner), first_mm=partner_mm - grown_mm
    )
