"""A corner across a seam: straight through, both seams changed alike, the rest untouched."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.affine import Affine, frozen_points
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.edge_ends import End
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import Pattern
from geometry.tolerance import PARALLEL_RAD
from tests.geometry.drawn_panels import assert_closed_and_simple, curved, done, panel, ring
from tests.geometry.drawn_pieces import rectangle, sleeve

QUARTER_TURN = math.pi / 2


def bodices(front_end=(240.0, 212.0), back_end=(-240.0, 205.0)):
    """Two half bodices whose side seams are 200 mm long and whose armholes meet at an angle under the arm."""
    front = ring(
        "front",
        ("waist", EdgeRole.WAIST, ((0.0, 0.0),)),
        ("side", EdgeRole.SIDE, ((240.0, 0.0),)),
        (
            "armhole",
            EdgeRole.ARMHOLE,
            curved(((240.0, 200.0), (front_end[0] - 60.0, front_end[1] - 5.0), (160.0, 380.0))),
        ),
        ("centre front", EdgeRole.CENTRE_FRONT, ((0.0, 380.0),)),
    )
    armhole = curved(((-160.0, 380.0), (back_end[0] + 60.0, back_end[1] - 5.0), (-240.0, 200.0)))
    back = ring(
        "back",
        ("centre back", EdgeRole.CENTRE_BACK, ((0.0, 0.0),)),
        ("top", EdgeRole.OTHER, ((0.0, 380.0),)),
        ("armhole", EdgeRole.ARMHOLE, armhole),
        ("side", EdgeRole.SIDE, ((-240.0, 200.0),)),
        ("waist", EdgeRole.WAIST, ((-240.0, 0.0),)),
    )
    return Pattern((front, back))


UNDERARM = JoinCorner("front", "armhole", End.START, "back", "armhole", End.END, 40.0)


def corner_angle(piece, edge_id, end):
    """Angle between an edge and its neighbour at one of its ends."""
    edge = piece.edge(edge_id)
    index = piece.edges.index(edge)
    beside = piece.edges[(index + (1 if end is End.END else -1)) % len(piece.edges)]
    one = edge.points[:2] if end is End.START else edge.points[:-3:-1]
    other = beside.points[:-3:-1] if end is End.START else beside.points[:2]
    u, v = one[1] - one[0], other[1] - other[0]
    return math.acos(float(u @ v) / math.hypot(*u) / math.hypot(*v))


@given(
    front=st.tuples(st.floats(215.0, 240.0), st.floats(195.0, 240.0)),
    back=st.tuples(st.floats(-240.0, -215.0), st.floats(195.0, 240.0)),
    reach=st.floats(15.0, 60.0),
    keep=st.booleans(),
)
def test_the_angles_at_a_seam_add_up_to_180_degrees(front, back, reach, keep):
    # corner sums at a seam end: straight through, 180 degrees (common practice, from memory)
    before = bodices(front, back)
    after = replace(UNDERARM, amount_mm=reach, keep_corner=keep).apply(before).pattern
    angles = (
        corner_angle(after.piece("front"), "armhole", End.START),
        corner_angle(after.piece("back"), "armhole", End.END),
    )
    assert sum(angles) == pytest.approx(math.pi, abs=PARALLEL_RAD)  # what is straighter than that is left alone
    changes = [after.piece(name).edge("side").length_mm - 200.0 for name in ("front", "back")]
    assert changes[0] == pytest.approx(changes[1], abs=1e-6)
    for piece in after.pieces:
        assert_closed_and_simple(piece)
        old = before.piece(piece.name)
        assert sum(edge is same for edge, same in zip(piece.edges, old.edges, strict=True)) >= len(old.edges) - 2


def test_a_kept_corner_leaves_both_seams_the_same_objects():
    before = bodices()
    after = replace(UNDERARM, keep_corner=True).apply(before).pattern
    for name in ("front", "back"):
        assert after.piece(name).edge("side") is before.piece(name).edge("side")


def test_a_piece_drawn_mirrored_is_turned_over_and_comes_out_the_same():
    before = bodices()
    back = before.piece("back")
    flip = Affine.mirrored((0.0, 0.0), (0.0, 1.0))
    edges = tuple(replace(edge, points=frozen_points(flip.points(edge.points)[::-1])) for edge in reversed(back.edges))
    mirrored = Pattern((before.piece("front"), replace(back, edges=edges)))
    plain = UNDERARM.apply(before).pattern
    turned = replace(UNDERARM, other_at=End.START).apply(mirrored).pattern
    assert turned.piece("front").edge("armhole").points == pytest.approx(plain.piece("front").edge("armhole").points)
    seen = flip.points(turned.piece("back").edge("armhole").points)[::-1]
    assert seen == pytest.approx(plain.piece("back").edge("armhole").points)


def test_the_corner_of_a_hem_at_the_underarm_seam_of_one_sleeve_is_joined():
    piece = sleeve()
    step = JoinCorner("sleeve", "hem", End.START, "sleeve", "hem", End.END, 40.0)
    after = done(piece, step)
    angles = [corner_angle(after, "hem", end) for end in End]
    assert sum(angles) == pytest.approx(math.pi, abs=1e-6)
    seams = [after.edge(edge).length_mm for edge in ("front underarm", "back underarm")]
    assert seams[0] == pytest.approx(seams[1])
    assert_closed_and_simple(after)


def test_a_centre_back_sewn_to_its_mirror_image_is_square_afterwards():
    piece = panel(waist=((300.0, 600.0), (60.0, 612.0)))
    step = JoinCorner("panel", "waist", End.END, "panel", "waist", End.END, 30.0)
    after = done(piece, step)
    assert corner_angle(after, "waist", End.END) == pytest.approx(QUARTER_TURN, abs=0.04)
    assert after.edge("waist").end[0] == pytest.approx(0.0, abs=1e-9)
    assert_closed_and_simple(after)


def test_a_corner_that_runs_straight_through_is_left_alone():
    pattern = Pattern((rectangle(name="front"), rectangle(name="back")))
    step = JoinCorner("front", "hem", End.END, "back", "hem", End.START, 30.0)
    mirrored = replace(step, other_at=End.END)
    assert mirrored.apply(pattern).pattern is pattern


def test_no_reach_leaves_the_same_object():
    pattern = Pattern((panel(waist=((300.0, 600.0), (60.0, 612.0))),))
    step = JoinCorner("panel", "waist", End.END, "panel", "waist", End.END, 0.0)
    assert step.apply(pattern).pattern is pattern
    assert step.piece_names == ("panel",)
    assert step.with_amount_mm(7.0).amount_mm == 7.0


@pytest.mark.parametrize(
    ("step", "words"),
    [
        (JoinCorner("panel", "waist", End.END, "panel", "waist", End.END, -1.0), '"panel" cannot be below 0'),
        (JoinCorner("panel", "waist", End.END, "panel", "waist", End.END, 1.0), '"waist" of "panel" has only 1 mm'),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence_that_names_it(step, words):
    tilted = panel(waist=((300.0, 600.0), (60.0, 612.0)))
    with pytest.raises(StepError, match=words):
        done(tilted, step)


def test_an_edge_that_leans_over_the_seam_is_refused():
    with pytest.raises(StepError, match='"armhole" of "front" does not run on across the seam'):
        UNDERARM.apply(bodices(front_end=(400.0, 195.0)))
