"""A wedge from the fold to the side: how far a straight centre line leans.

Own arithmetic: angle = 2 asin(o / 2L), lean = h sin(angle); the reading (straightening the
fold lengthens the neck by the lean) is common practice, no source.
"""

import math

import pytest

from geometry.alterations.anchors import on_edge
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut, slashed
from geometry.model.pattern import Pattern
from tests.geometry.drawn_pieces import rectangle

WORKED = [  # length of the slash, opening, angle in degrees, lean at 100, 400, 600 mm above it; mm
    (170.0, 13.0, 4.383, (7.64, 30.57, 45.85)),
    (170.0, 10.0, 3.371, (5.88, 23.52, 35.28)),
    (180.0, 12.7, 4.043, (7.05, 28.20, 42.31)),
    (200.0, 20.0, 5.732, (9.99, 39.95, 59.92)),
    (230.0, 25.4, 6.331, (11.03, 44.11, 66.16)),
]
CASES = [
    (length, opening, degrees, above, lean)
    for length, opening, degrees, leans in WORKED
    for above, lean in zip((100.0, 400.0, 600.0), leans, strict=True)
]


def wedge(length, opening, above):
    """A half back as wide as the slash is long, cut ``above`` mm below its top from the fold, hinged at the side."""
    piece = rectangle(length, 800.0)
    low = 1 - (800.0 - above) / 800.0
    cut = SlashCut((on_edge("centre front", low), on_edge("side", 1 - low)), opening, Hinge.END, Side.LEFT)
    return piece, cut


@pytest.mark.parametrize(("length", "opening", "degrees", "above", "lean"), CASES)
def test_the_fold_leans_by_height_times_sine_and_straightening_it_widens_the_top_by_that(
    length, opening, degrees, above, lean
):
    piece, cut = wedge(length, opening, above)
    leaning = slashed(piece, (cut,))[1].piece
    top = leaning.edge("centre front").start
    joint_x = leaning.edge("centre front").points[1][0]
    angle = math.radians(degrees)
    assert abs(top[0] - joint_x) == pytest.approx(above * math.sin(angle), abs=0.01)
    assert above * math.sin(angle) == pytest.approx(lean, abs=0.01)
    outcome = Slash("panel", (cut,)).apply(Pattern((piece,)))
    moved = [finding for finding in outcome.findings if finding.code == "fold-straightened"]
    straight = outcome.pattern.pieces[0].edge("centre front")
    assert len(straight.points) == 2
    assert straight.start[0] == pytest.approx(0.0, abs=1e-6)
    assert moved[0].measured_mm == pytest.approx(abs(top[0]), abs=1e-6)


def test_the_opening_half_way_along_a_wedge_is_half_of_it():
    # proportion along a wedge: opening * distance / length (own arithmetic, exact)
    piece, cut = wedge(170.0, 13.0, 400.0)
    joined = slashed(piece, (cut,))[1]
    joint = next(joint for joint in joined.joints if joint.edge == "centre front")
    hinge = piece.edge("side").point_at(piece.edge("side").length_mm * 0.5)
    halves = [((place[0] + hinge[0]) / 2, (place[1] + hinge[1]) / 2) for place in (joint.before, joint.after)]
    assert math.dist(*halves) == pytest.approx(6.5, abs=1e-6)
