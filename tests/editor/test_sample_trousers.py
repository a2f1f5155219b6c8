"""The sample trousers and the gored skirt are drafted to the figures their sources publish, and their seams meet."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

import samples
from editor.formats.dxf_reader import read_drawing
from editor.formats.import_pattern import import_pattern
from editor.formats.pattern_to_drawing import drawing_of
from geometry.affine import frozen_points
from geometry.checks.run import check_pattern
from geometry.curves.crossing import crossings
from geometry.model.piece import Piece
from geometry.regions import is_simple
from samples import draft_gored_skirt, draft_trousers
from samples.size_table import SIZES

FOLDER = Path(samples.__file__).parent
INCH = 25.4
WAIST = dict(zip(SIZES, (27.625, 28.5, 29.5, 30.5, 32.25, 34.0, 36.0), strict=True))
"""ASTM D5585-11e1, waist (straight), inches, as shown on the standard's public page."""

BUST = dict(zip(SIZES, (34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125), strict=True))
LEGS = ("front trousers", "back trousers")
STYLES = {"trousers.dxf": draft_trousers.draft_nest, "gored-skirt.dxf": draft_gored_skirt.draft_nest}


@pytest.fixture(params=SIZES)
def trousers(request):
    return draft_trousers.draft_nest().pattern(request.param)


def hip_mm(size: str) -> float:
    """Own choice of the table: bust and 5 cm."""
    return BUST[size] * INCH + 50.0


def at_crotch_point(piece: Piece) -> float:
    """Angle of the corner where crotch seam and inseam meet, in degrees."""
    crotch, inseam = piece.edge("crotch"), piece.edge("inseam")
    if crotch.end != inseam.start:
        crotch, inseam = inseam, crotch
    back, ahead = crotch.points[-2] - crotch.points[-1], inseam.points[1] - inseam.points[0]
    cosine = back @ ahead / (np.hypot(*back) * np.hypot(*ahead))
    return math.degrees(math.acos(cosine))


class TestTrousers:
    def test_waist_and_band_are_the_waist_and_an_inch(self, trousers):
        half = sum(trousers.piece(name).sewn_length_mm("waist") for name in LEGS)
        assert 2 * half == pytest.approx((WAIST[trousers.size] + 1.0) * INCH, abs=1e-6)
        assert trousers.piece("waistband").edge("waist").length_mm == pytest.approx(half, abs=1e-6)

    def test_half_the_hip_is_half_the_body_and_2_5_cm(self, trousers):
        width = 0.0
        for name in LEGS:
            piece = trousers.piece(name)
            side_x, hip_y = piece.notch_point(piece.notch("hip"))
            level = frozen_points([(-2000.0, hip_y), (2000.0, hip_y)])
            (met,) = crossings(piece.edge("crotch").points, level)
            width += abs(side_x - met.at[0])
        assert width == pytest.approx(hip_mm(trousers.size) / 2 + 25.0, abs=0.05)  # metric draft

    def test_the_crotch_lies_as_deep_as_the_body_and_the_published_ease(self, trousers):
        # NMSU Guide C-209: 1/2 in below a hip of 36 in, 1 in above 38 in, 3/4 in between; body depth from memory
        hip_in = hip_mm(trousers.size) / INCH
        ease_in = 0.5 if hip_in < 36 else 1.0 if hip_in > 38 else 0.75
        body_mm = 267.0 + 0.06 * (BUST[trousers.size] * INCH - 880.0)
        front = trousers.piece("front trousers")
        depth = front.edge("crotch").start[1] - front.edge("crotch").end[1]
        assert depth == pytest.approx(body_mm + ease_in * INCH, abs=1e-6)

    def test_hem_and_knee_are_an_inch_narrower_in_front(self, trousers):
        # Threads, easy ways to taper trousers: a quarter less or plus a quarter of an inch each side of the crease
        front, back = (trousers.piece(name) for name in LEGS)
        assert back.edge("hem").length_mm - front.edge("hem").length_mm == pytest.approx(INCH)
        for piece in (front, back):
            ends = piece.edge("hem").points[[0, -1]]
            assert ends[:, 0].sum() == pytest.approx(0.0, abs=1e-9)  # the crease lies in the middle
            knees = [piece.notch_point(piece.notch(name)) for name in ("knee", "inside knee")]
            assert knees[0][0] + knees[1][0] == pytest.approx(0.0, abs=1e-6)
            assert piece.grain.start[0] == piece.grain.end[0] == 0.0

    def test_side_seams_and_inseams_are_equally_long_and_notches_meet(self, trousers):
        front, back = (trousers.piece(name) for name in LEGS)
        for edge in ("side", "inseam"):
            assert front.sewn_length_mm(edge) == pytest.approx(back.sewn_length_mm(edge), abs=1e-6)
        assert check_pattern(trousers) == ()

    def test_the_crotch_seam_runs_smoothly_over_the_inseam(self, trousers):
        assert sum(at_crotch_point(trousers.piece(name)) for name in LEGS) == pytest.approx(180.0, abs=3.0)

    def test_darts_have_the_usual_widths_and_lengths_and_equal_legs(self, trousers):
        # 1/2 to 3/4 in by 3 to 4 in in front, 3/4 to 1 1/2 in by 4 1/2 to 5 1/2 in behind (from memory)
        for name, widths, lengths in zip(LEGS, ((0.5, 0.75), (0.75, 1.5)), ((3.0, 4.0), (4.5, 5.5)), strict=True):
            piece = trousers.piece(name)
            (dart,) = piece.darts
            assert widths[0] * INCH <= piece.intake_mm(dart) <= widths[1] * INCH
            legs = piece.legs_mm(dart)
            assert lengths[0] * INCH <= legs[0] <= lengths[1] * INCH
            assert legs[0] == pytest.approx(legs[1], abs=1e-6)


class TestGoredSkirt:
    @pytest.mark.parametrize("size", SIZES)
    def test_six_gores_make_up_waist_and_hip(self, size):
        pattern = draft_gored_skirt.draft_nest().pattern(size)
        gores = [piece for piece in pattern.pieces if piece.name.endswith("gore")]
        assert sum(2 if piece.fold is None else 1 for piece in gores) == 6
        waist = sum(piece.edge("waist").length_mm for piece in gores)
        assert 2 * waist == pytest.approx((WAIST[size] + 1.0) * INCH, abs=1e-6)
        assert pattern.piece("waistband").edge("waist").length_mm == pytest.approx(waist, abs=1e-6)
        hips = [2 * abs(piece.notch_point(piece.notch("hip"))[0]) for piece in gores]
        assert hips == pytest.approx([(hip_mm(size) + 50.0) / 6] * 4, abs=0.01)
        seams = {round(edge.length_mm, 6) for piece in gores for edge in piece.edges if edge.id.endswith("side")}
        assert len(seams) == 1
        assert check_pattern(pattern) == ()


class TestFiles:
    @pytest.mark.parametrize("name", STYLES)
    def test_the_file_is_the_drafted_nest(self, name):
        written, drafted = read_drawing(FOLDER / name), drawing_of(STYLES[name]())
        assert (written.units_hint, written.units_stated, written.unused, written.notes) == ("mm", True, (), ())
        for old, new in zip(written.blocks, drafted.blocks, strict=True):
            assert len(old.shapes) == len(new.shapes)
            for mine, theirs in zip(old.shapes, new.shapes, strict=True):
                assert mine.points == pytest.approx(theirs.points, abs=1e-6)

    @pytest.mark.parametrize("name", STYLES)
    def test_the_file_comes_in_as_it_was_drafted(self, name):
        nest, drafted = import_pattern(FOLDER / name, unit=None).nest, STYLES[name]()
        assert nest.sizes == drafted.sizes
        for size in ("4", "16"):
            for piece in drafted.pattern(size).pieces:
                came = nest.pattern(size).piece(piece.name)
                assert (came.fold, came.quantity) == (piece.fold, piece.quantity)
                assert {edge.id: edge.role for edge in came.edges} == {edge.id: edge.role for edge in piece.edges}
                for edge in piece.edges:
                    assert came.sewn_length_mm(edge.id) == pytest.approx(piece.sewn_length_mm(edge.id), abs=1e-5)
                assert [dart.id for dart in came.darts] == [dart.id for dart in piece.darts]
                assert is_simple(came.outline)
