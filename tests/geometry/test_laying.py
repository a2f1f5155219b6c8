"""Pieces laid along each other while a seam is walked: they touch, run alike and lie on either side."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from geometry.affine import distance_mm
from geometry.checks.laying import lay
from geometry.checks.pairing import propose_seams
from geometry.checks.walking import StopKind, walk
from geometry.model.pattern import Pattern, Seam
from samples.draft_dress import draft_nest

SHARES = (0.0, 0.13, 0.5, 0.87, 1.0)


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return draft_nest().sample


def seam(pattern: Pattern, words: str) -> Seam:
    return next(seam for seam in propose_seams(pattern) if words in seam.id)


@pytest.mark.parametrize("from_end", [False, True])
@pytest.mark.parametrize("share", SHARES)
def test_every_seam_touches_with_its_sides_running_alike(pattern: Pattern, share: float, from_end: bool) -> None:
    for each in propose_seams(pattern):
        laid = lay(pattern, each, share * walk(pattern, each).second_mm, from_end=from_end)
        assert distance_mm(laid.motion.point(laid.moving.place), laid.still.place) < 1e-6
        (x, y), (ux, uy) = laid.moving.place, laid.moving.ahead
        ahead = laid.motion.point((x + 10 * ux, y + 10 * uy))
        (sx, sy), (ax, ay) = laid.still.place, laid.still.ahead
        assert math.dist(ahead, (sx + 10 * ax, sy + 10 * ay)) < 1e-6


@pytest.mark.parametrize("share", SHARES[1:-1])
def test_straight_seams_lie_on_either_side_without_overlap(pattern: Pattern, share: float) -> None:
    """An independent library says that the two pieces share no more than the sliver a seam is off straight by."""
    for words in ("shoulder", "front underarm", "centre back"):
        each = seam(pattern, words)
        laid = lay(pattern, each, share * walk(pattern, each).first_mm)
        still = shapely.Polygon(pattern.piece(laid.still.ref.piece).outline)
        moving = shapely.Polygon(laid.motion.points(pattern.piece(laid.moving.ref.piece).outline))
        assert still.intersection(moving).area < 0.01 * moving.area


def test_a_walked_station_is_met_by_notch_and_partner_of_equal_station(pattern: Pattern) -> None:
    """At a notch's own station the contact of its side is the notch itself, darts folded out on the way."""
    each = seam(pattern, "sleeve cap")
    for meeting in walk(pattern, each).meetings:
        for stop, swapped in ((meeting.first, False), (meeting.second, True)):
            if stop is not None and stop.kind is not StopKind.JOIN:
                laid = lay(pattern, each, stop.from_start_mm, swapped=swapped)
                assert distance_mm(laid.still.place, stop.place) < 0.05


def test_a_contact_skips_a_dart_mouth(pattern: Pattern) -> None:
    each = seam(pattern, "front skirt waist")
    piece = pattern.piece("front bodice")
    dart = piece.darts_on("waist")[0]
    stop = next(m.second for m in walk(pattern, each).meetings if m.second and m.second.id == dart.id)
    before = lay(pattern, each, stop.from_start_mm - 0.01, swapped=True).still
    after = lay(pattern, each, stop.from_start_mm + 0.01, swapped=True).still
    assert {round(before.at_mm, 1), round(after.at_mm, 1)} == {round(dart.from_mm, 1), round(dart.to_mm, 1)}


def test_walking_from_the_end_meets_the_same_places_from_the_other_side(pattern: Pattern) -> None:
    each = seam(pattern, "front skirt side")
    total = walk(pattern, each).first_mm
    there, back = lay(pattern, each, 200.0), lay(pattern, each, total - 200.0, from_end=True)
    assert distance_mm(there.still.place, back.still.place) < 1e-6
    assert np.allclose(there.still.ahead, np.negative(back.still.ahead))
