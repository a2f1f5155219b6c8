"""Darts drawn into plain pieces, and what tests of darts ask of every piece."""

import math

import numpy as np
import pytest

from geometry import regions
from geometry.affine import distance_mm
from geometry.alterations.anchors import free
from geometry.alterations.dart_steps import MakeDart


def waist_dart(amount_mm=30.0, x=200.0, tip=(200.0, 500.0)):
    """Square to the waist of the rectangle, 100 mm deep."""
    return MakeDart("panel", free((x, 600.0)), free(tip), amount_mm, dart="waist dart")


def angle_deg(piece, dart):
    a, b = piece.mouth(dart)
    return math.degrees(2 * math.asin(distance_mm(a, b) / 2 / distance_mm(a, dart.apex)))


def assert_same_shape(one, other, within_mm=1e-6):
    for edge, same in zip(one.edges, other.edges, strict=True):
        assert edge.length_mm == pytest.approx(same.length_mm, abs=within_mm)
        for share in np.linspace(0.0, 1.0, 21):
            place = edge.point_at(share * edge.length_mm)
            assert place == pytest.approx(same.point_at(share * same.length_mm), abs=within_mm)


def assert_sound(piece):
    assert regions.is_simple(piece.outline)
    for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
        assert edge.end == pytest.approx(following.start, abs=1e-9)
    for dart in piece.darts:
        edge = piece.edge(dart.edge)
        assert 0.0 <= dart.from_mm < dart.to_mm <= edge.length_mm + 1e-9
        assert piece.intake_mm(dart) == pytest.approx(dart.to_mm - dart.from_mm, abs=1e-6)
