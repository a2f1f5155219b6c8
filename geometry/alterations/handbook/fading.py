"""Edges moved at one place and left alone at another, without a corner at either."""

from __future__ import annotations

from geometry.affine import Point
from geometry.alterations.anchors import on_edge
from geometry.alterations.redraw import Pull
from geometry.model.edge import Edge

_PLACES = 6
"""Places between the two ends at which the edge is pulled: a curve of that length shows no corner between them."""


def faded(edge: Edge, full_mm: float, nothing_mm: float, vector: Point) -> list[Pull]:
    """An edge moved by a vector at one length along it, by less and less towards another, where it is held.

    The change begins and ends gently, so that the edge keeps its direction at both places.
    """
    pulls = []
    for number in range(_PLACES + 1):
        share = number / _PLACES
        part = 1 - share * share * (3 - 2 * share)
        at_mm = full_mm + (nothing_mm - full_mm) * share
        pulls.append(Pull(on_edge(edge.id, at_mm / edge.length_mm), vector[0] * part, vector[1] * part))
    return pulls
