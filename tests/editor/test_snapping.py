import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor.tools.snapping import Snap, SnapKind, snapped, snapped_to_cut, targets
from geometry.affine import Affine, Point, distance_mm
from geometry.alterations.anchors import On, resolve
from geometry.model.piece import Piece
from tests.editor.tool_scenes import panel
from tests.geometry.drawn_pieces import disc

REACH_MM = 10.0


def snap(place: Point, *, piece: Piece | None = None, start: Point | None = None, square: bool = False) -> Snap:
    return snapped(piece or panel(), place, reach_mm=REACH_MM, start=start, square=square)


@pytest.mark.parametrize(
    ("place", "at", "words"),
    [
        ((4.0, 5.0), (0.0, 0.0), "corner of centre front and hem"),
        ((396.0, 418.0), (400.0, 420.0), "notch hip"),
        ((203.0, 455.0), (200.0, 450.0), "tip of the waist dart"),
        ((199.0, 421.0), (200.0, 420.0), "bust point"),
        ((222.0, 598.0), (220.0, 600.0), "leg of the waist dart"),
        ((201.0, 602.0), (200.0, 600.0), "middle of the waist dart"),
        ((398.0, 302.0), (400.0, 300.0), "middle of side"),
    ],
)
def test_a_named_point_nearby_is_caught(place: Point, at: Point, words: str) -> None:
    caught = snap(place)
    assert caught.at == pytest.approx(at)
    assert caught.words == words


def test_a_corner_outranks_its_edge() -> None:
    assert snap((397.0, 7.0)).kind is SnapKind.CORNER


def test_the_middle_of_an_edge_must_be_hit_closely() -> None:
    assert snap((400.0, 307.0)).words == "side"


def test_an_edge_is_caught_at_the_nearest_place() -> None:
    caught = snap((394.0, 123.0))
    assert (caught.kind, caught.at) == (SnapKind.EDGE, pytest.approx((400.0, 123.0)))
    assert caught.on_outline


def test_away_from_everything_the_place_itself_is_meant() -> None:
    caught = snap((100.0, 200.0))
    assert (caught.kind, caught.at, caught.anchor.on) == (SnapKind.FREE, (100.0, 200.0), On.FREE)


def test_a_line_nearly_square_to_the_grain_is_made_square() -> None:
    caught = snap((300.0, 204.0), start=(100.0, 200.0))
    assert caught.at == pytest.approx((300.0, 200.0))
    assert caught.words == "square to the grain"


def test_a_line_nearly_along_the_grain_is_made_parallel() -> None:
    caught = snap((103.0, 350.0), start=(100.0, 200.0))
    assert caught.at == pytest.approx((100.0, 350.0))
    assert caught.words == "along the grain"


def test_a_square_line_ends_exactly_on_the_edge_it_reaches() -> None:
    caught = snap((397.0, 205.0), start=(100.0, 200.0))
    assert caught.at == pytest.approx((400.0, 200.0))
    assert (caught.anchor.name, caught.words) == ("side", "side, square to the grain")


def test_shift_squares_a_line_that_is_far_off() -> None:
    assert snap((300.0, 290.0), start=(100.0, 200.0), square=True).at == pytest.approx((300.0, 200.0))


def test_shift_outranks_a_named_point_beside_the_line() -> None:
    caught = snap((398.0, 424.0), start=(0.0, 400.0), square=True)
    assert caught.at == pytest.approx((400.0, 400.0))


def test_a_line_drawn_out_of_the_piece_stops_at_the_outline() -> None:
    caught = snap((700.0, 260.0), start=(100.0, 160.0))
    assert caught.at[0] == pytest.approx(400.0)
    assert caught.on_outline


def test_the_grain_may_lie_askew() -> None:
    turned = panel().moved(_turn(30.0))
    start, along = _turn(30.0).point((100.0, 200.0)), _turn(30.0).point((103.0, 350.0))
    caught = snapped(turned, along, reach_mm=REACH_MM, start=start)
    assert caught.at == pytest.approx(_turn(30.0).point((100.0, 350.0)))


def _turn(angle_deg: float) -> Affine:
    return Affine.turned(math.radians(angle_deg))


@given(st.floats(-250, 250), st.floats(-250, 250))
def test_what_is_caught_lies_where_its_anchor_points(x: float, y: float) -> None:
    for piece in (panel(), disc()):
        caught = snap((x, y), piece=piece)
        assert resolve(piece, caught.anchor) == pytest.approx(caught.at, abs=1e-6)


@given(st.floats(-250, 250), st.floats(-250, 250))
def test_without_a_start_nothing_further_than_the_reach_is_caught(x: float, y: float) -> None:
    for piece in (panel(), disc()):
        assert distance_mm(snap((x, y), piece=piece).at, (x, y)) <= REACH_MM + 1e-6


def test_every_named_point_can_be_reached_and_is_listed_once() -> None:
    found = targets(panel()).snaps
    assert len({snap.words + str(snap.at) for snap in found}) == len(found)
    assert {snap.kind for snap in found} >= {SnapKind.CORNER, SnapKind.NOTCH, SnapKind.TIP, SnapKind.LANDMARK}


def test_a_cut_that_is_begun_in_the_allowance_begins_on_the_stitching_line() -> None:
    caught = snapped_to_cut(panel(), (300.0, -38.0), reach_mm=REACH_MM)
    assert (caught.at, caught.words) == (pytest.approx((300.0, 0.0)), "hem")
    inside = snapped_to_cut(panel(), (300.0, 38.0), reach_mm=REACH_MM)
    assert (inside.at, inside.kind) == (pytest.approx((300.0, 38.0)), SnapKind.FREE)
