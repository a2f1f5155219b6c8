"""Places by name and share."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.alterations.anchors import Anchor, On, anchor_at, free, on_edge, resolve
from geometry.errors import MissingPartError, StepError
from tests.geometry.drawn_pieces import BUST, half_front, rectangle


@given(edge_id=st.sampled_from(["hem", "side", "waist", "centre front"]), share=st.floats(0.0, 1.0))
def test_a_place_on_an_edge_is_found_again_by_its_anchor(edge_id, share):
    piece = rectangle()
    place = resolve(piece, on_edge(edge_id, share))
    anchor = anchor_at(piece, place)
    assert anchor.on in (On.EDGE, On.NOTCH)
    assert resolve(piece, anchor) == pytest.approx(place, abs=0.5)


def test_named_points_are_preferred_to_edges_and_edges_to_free_points():
    piece = half_front()
    assert anchor_at(piece, (90.2, 190.1)) == Anchor(On.LANDMARK, "bust point")
    assert anchor_at(piece, piece.dart("side dart").tip) == Anchor(On.TIP, "side dart")
    assert anchor_at(piece, (0.2, 349.9)) == on_edge("centre front", 0.0)
    assert anchor_at(piece, (60.0, 60.0)) == free((60.0, 60.0))


def test_the_same_share_is_the_same_place_on_a_longer_edge():
    assert resolve(rectangle(height_mm=600.0), on_edge("side", 0.25)) == (400.0, 150.0)
    assert resolve(rectangle(height_mm=800.0), on_edge("side", 0.25)) == (400.0, 200.0)


def test_aim_and_tip_are_resolved_from_the_dart():
    piece = half_front()
    assert resolve(piece, Anchor(On.AIM, "waist dart")) == BUST
    assert resolve(piece, Anchor(On.TIP, "waist dart")) == (90.0, 165.0)


def test_what_is_not_there_is_named_with_what_is():
    with pytest.raises(MissingPartError, match=r'no edge called "sid"; it has "hem", "side"'):
        resolve(rectangle(), on_edge("sid", 0.5))
    with pytest.raises(StepError, match=r"share 1\.5"):
        resolve(rectangle(), on_edge("side", 1.5))
