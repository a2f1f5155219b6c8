"""The sample dress against published drafting figures and against what any two seams must do to be sewn together.

Sources: [MET] the metric draft of a close-fitting bodice named in samples/size_table.py; [D5585] ASTM D5585-11e1;
tolerances of pairs: 1/16 in is the accuracy of a professional fitter (Threads, 10 patternwork skills, 2020); the
drafted pieces are held to far less.
"""

import math
from itertools import pairwise

import numpy as np
import pytest

from geometry.affine import Affine, angle_between, as_point, distance_mm
from geometry.checks.run import check_pattern
from geometry.curves import polyline
from geometry.model.edge import EdgeRole
from geometry.model.marks import MarkKind
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from samples.draft_back_bodice import draft_back_bodice
from samples.draft_dress import draft_nest
from samples.draft_front_bodice import draft_front_bodice
from samples.size_table import SIZES, Figures

SEAM_MM = 0.1
DEGREE = math.radians(1.0)
INCH = 25.4

# [D5585], inches.
BUST = {"4": 34.125, "6": 35.25, "8": 36.25, "10": 37.25, "12": 38.75, "14": 40.375, "16": 42.125}
WAIST = {"4": 27.625, "6": 28.5, "8": 29.5, "10": 30.5, "12": 32.25, "14": 34.0, "16": 36.0}
NECK = {"4": 14.0, "6": 14.25, "8": 14.625, "10": 14.875, "12": 15.125, "14": 15.5, "16": 15.75}

EDGES = {
    "front bodice": {"centre front", "neck", "shoulder", "armhole", "side", "waist"},
    "back bodice": {"centre back", "neck", "shoulder", "armhole", "side", "waist"},
    "sleeve": {"cap", "front underarm", "hem", "back underarm"},
    "front skirt": {"centre front", "waist", "side", "hem"},
    "back skirt": {"centre back", "waist", "side", "hem"},
}


@pytest.fixture(params=SIZES)
def dress(request: pytest.FixtureRequest) -> Pattern:
    return draft_nest().pattern(request.param)


def corner(piece: Piece, first: str, second: str) -> float:
    """The angle inside the piece where two neighbouring edges meet."""
    a, b = piece.edge(first), piece.edge(second)
    if a.end != pytest.approx(b.start, abs=1e-9):
        a, b = b, a
    assert a.end == pytest.approx(b.start, abs=1e-9)
    return (leaving(a.points[::-1]) - leaving(b.points)) % math.tau


def leaving(chain: np.ndarray) -> float:
    """The direction in which a line leaves its start; of a curve, carried on from its first two chords."""
    (x0, y0), (x1, y1) = np.diff(chain[:3], axis=0) if len(chain) > 2 else np.diff(chain[[0, 1, 1]], axis=0)
    first = math.atan2(y0, x0)
    is_curve = max(math.hypot(x0, y0), math.hypot(x1, y1)) < 8.0
    turn = math.remainder(math.atan2(y1, x1) - first, math.tau) if is_curve else 0.0
    return first - turn / 2


def folded_about(piece: Piece, dart_id: str, centre: tuple[float, float], place: tuple[float, float]):
    """Where a place beyond a dart's mouth comes to lie when the mouth is closed by a turn about a centre."""
    start, end = piece.mouth(piece.dart(dart_id))
    return Affine.turned(-angle_between(centre, start, end), centre).point(place)


def from_centre(piece: Piece, edge_id: str, at_mm: float) -> float:
    """Sewn length from the end of an edge at the centre line (x = 0) to a place on it."""
    edge, station = piece.edge(edge_id), piece.sewn_station_mm(edge_id, at_mm)
    return station if abs(edge.start[0]) < abs(edge.end[0]) else piece.sewn_length_mm(edge_id) - station


class TestPublishedFigures:
    def test_every_size_is_in_the_nest_and_the_sample_size_in_the_middle(self):
        nest = draft_nest()
        assert nest.sizes == tuple(BUST)
        assert nest.sample_size == nest.sizes[len(nest.sizes) // 2]

    def test_half_pattern_at_the_bust_is_half_the_bust_and_5_cm(self, dress):
        front, back = dress.piece("front bodice"), dress.piece("back bodice")
        underarm = folded_about(front, "side dart", front.landmark("bust point"), front.edge("side").end)
        half = underarm[0] - min(back.edge("side").start[0], back.edge("side").end[0])
        assert half == pytest.approx(BUST[dress.size] * INCH / 2 + 50.0, abs=0.5)  # [MET]

    def test_waist_seam_is_the_waist_and_an_inch(self, dress):
        half = sum(dress.piece(name).sewn_length_mm("waist") for name in ("front bodice", "back bodice"))
        assert 2 * half == pytest.approx((WAIST[dress.size] + 1.0) * INCH, abs=0.2)  # [D5585]

    def test_neck_seam_is_the_neck_base_and_a_quarter_inch(self, dress):
        half = sum(dress.piece(name).edge("neck").length_mm for name in ("front bodice", "back bodice"))
        assert 2 * half == pytest.approx((NECK[dress.size] + 0.25) * INCH, abs=0.2)  # [D5585]

    def test_half_skirt_at_the_hip_is_half_the_hip_and_2_5_cm(self, dress):
        hip_mm = BUST[dress.size] * INCH + 50.0
        widths = [
            abs(piece.notch_point(piece.notch("hip"))[0])
            for piece in (dress.piece("front skirt"), dress.piece("back skirt"))
        ]
        assert sum(widths) == pytest.approx(hip_mm / 2 + 25.0, abs=0.1)  # [MET]

    def test_sleeve_has_two_inches_of_ease_round_the_arm(self):
        sleeve = draft_nest().pattern("10").piece("sleeve")
        width = distance_mm(sleeve.landmark("biceps front"), sleeve.landmark("biceps back"))
        arm_mm = 285.0 + 0.25 * (BUST["10"] * INCH - 880.0)
        assert width - arm_mm == pytest.approx(2 * INCH)  # Threads, set-in sleeve solutions, 2021

    def test_bust_88_gives_the_figures_of_the_metric_draft(self):
        body = Figures("88", 880.0, 680.0, 370.0)
        back = draft_back_bodice(body)
        front = draft_front_bodice(body, side_mm=back.side_mm, back_neck_mm=polyline.length_mm(back.neck))
        nape, underarm = back.neck[-1], back.side[-1]
        assert nape[1] - back.waist.chain[0][1] == pytest.approx(400.0)  # nape to waist
        assert nape[1] - underarm[1] == pytest.approx(210.0 + 5.0)  # armhole depth
        assert back.neck[0][0] == pytest.approx(370.0 / 5 - 2.0)  # back neck width
        assert back.armhole[:, 0].min() == pytest.approx(344.0 / 2 + 5.0, abs=0.01)  # back width
        assert front.armhole[:, 0].min() == pytest.approx(324.0 / 2, abs=0.01)  # chest, bust dart closed
        assert polyline.length_mm(front.shoulder) == pytest.approx(122.5)
        assert polyline.length_mm(back.shoulder.chain) == pytest.approx(132.5, abs=0.01)  # with its dart
        assert back.shoulder.to_mm - back.shoulder.from_mm == pytest.approx(10.0)
        mouth = polyline.point_at(back.shoulder.chain, back.shoulder.from_mm)
        assert distance_mm(mouth, back.shoulder_tip) == pytest.approx(50.0)
        assert underarm[1] - front.bust_point[1] == pytest.approx(25.0)  # bust point below the chest line
        leg = distance_mm(front.bust_point, tuple(front.shoulder.mean(axis=0)))
        start, end = (polyline.point_at(front.side.chain, at) for at in (front.side.from_mm, front.side.to_mm))
        angle = angle_between(front.bust_point, start, end)
        # The dart, were it on the shoulder; trued to a tip 3 cm short of the bust point it subtends a little less.
        assert 2 * leg * math.sin(angle / 2) == pytest.approx(70.0, abs=3.0)


class TestPieces:
    def test_edges_run_counter_clockwise_and_join(self, dress):
        assert [piece.name for piece in dress.pieces] == list(EDGES)
        for piece in dress.pieces:
            assert {edge.id for edge in piece.edges} == EDGES[piece.name]
            assert all(edge.role is not EdgeRole.OTHER for edge in piece.edges)
            assert piece.area_mm2 > 0
            for before, after in pairwise([*piece.edges, piece.edges[0]]):
                assert before.end == pytest.approx(after.start, abs=1e-9)

    def test_allowances_are_15_mm_hems_more_and_the_fold_none(self, dress):
        for piece in dress.pieces:
            for edge in piece.edges:
                if edge.id == piece.fold:
                    assert edge.allowance_mm == 0.0
                elif edge.role is EdgeRole.HEM:
                    assert INCH <= edge.allowance_mm <= 1.6 * INCH
                else:
                    assert edge.allowance_mm in (15.0, 20.0)

    def test_front_pieces_lie_on_the_fold_and_the_others_are_cut_twice(self, dress):
        for piece in dress.pieces:
            on_fold = piece.name.startswith("front ")
            assert (piece.fold, piece.quantity) == (("centre front", 1) if on_fold else (None, 2))
            if on_fold:
                assert np.ptp(piece.edge("centre front").points[:, 0]) == 0.0

    def test_dart_legs_are_equal_and_tips_stop_short_of_the_bust(self, dress):
        for piece in dress.pieces:
            for dart in piece.darts:
                first, second = piece.legs_mm(dart)
                assert first == pytest.approx(second, abs=1e-6)
        front = dress.piece("front bodice")
        bust = front.landmark("bust point")
        assert INCH <= distance_mm(front.dart("side dart").tip, bust) <= 1.5 * INCH  # Threads 181
        assert 0.5 * INCH <= distance_mm(front.dart("waist dart").tip, bust) <= INCH  # from memory

    def test_skirt_darts_are_as_wide_and_long_as_skirt_darts_are(self, dress):
        bands = {"front skirt": ((12.7, 21.0), (76.0, 102.0)), "back skirt": ((19.0, 38.5), (114.0, 140.0))}
        for name, (width, length) in bands.items():  # from memory: 1/2-3/4 by 3-4 in, 3/4-1 1/2 by 4 1/2-5 1/2 in
            piece = dress.piece(name)
            dart = piece.dart("waist dart")
            assert width[0] <= piece.intake_mm(dart) <= width[1]
            assert length[0] <= piece.legs_mm(dart)[0] <= length[1]

    def test_a_hole_is_drilled_inside_every_dart(self, dress):
        for piece in dress.pieces:
            holes = {mark.id: mark.at for mark in piece.marks if mark.kind is MarkKind.DRILL}
            assert set(holes) == {dart.id for dart in piece.darts}
            for dart in piece.darts:
                a, b = piece.mouth(dart)
                assert distance_mm(holes[dart.id], dart.tip) == pytest.approx(12.0)
                assert polyline.contains(np.array([a, b, dart.tip]), np.array([holes[dart.id]]))[0]

    def test_curves_are_smooth_and_densely_drawn(self, dress):
        for piece in dress.pieces:
            for edge in piece.edges:
                mouths = [at for dart in piece.darts_on(edge.id) for at in (dart.from_mm, dart.to_mm)]
                if (
                    edge.is_straight
                    or edge.role is EdgeRole.SHOULDER
                    or (piece.name, edge.id) == ("front bodice", "side")
                ):
                    assert len(edge.points) == 2 + len(mouths)
                    continue
                steps = np.diff(edge.points, axis=0)
                turns = np.abs(np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0]))))
                at = polyline.stations_mm(edge.points)[1:-1]
                inner = np.array([min([abs(s - m) for m in mouths], default=9.0) > 1e-6 for s in at])
                assert turns[inner].max() < math.radians(9.0)

    def test_outlines_and_darts_pass_every_check_before_cutting(self, dress):
        assert check_pattern(dress) == ()


class TestSeams:
    def test_side_seams_are_equal_with_the_bust_dart_folded(self, dress):
        for part in ("bodice", "skirt"):
            front, back = dress.piece(f"front {part}"), dress.piece(f"back {part}")
            assert front.sewn_length_mm("side") == pytest.approx(back.sewn_length_mm("side"), abs=SEAM_MM)

    def test_side_dart_folded_leaves_the_side_seam_straight(self, dress):
        front = dress.piece("front bodice")
        tip = front.dart("side dart").tip
        waist, lower, _, underarm = (as_point(point) for point in front.edge("side").points)
        underarm = folded_about(front, "side dart", tip, underarm)
        assert distance_mm(waist, lower) + distance_mm(lower, underarm) == pytest.approx(distance_mm(waist, underarm))

    def test_shoulders_match_with_the_back_dart_folded(self, dress):
        front, back = dress.piece("front bodice"), dress.piece("back bodice")
        ease = back.sewn_length_mm("shoulder") - front.edge("shoulder").length_mm
        assert -SEAM_MM <= ease <= 6.35  # back longer by up to 1/4 in is safe, from memory

    def test_waist_seams_are_equal_with_all_darts_folded(self, dress):
        for half in ("front", "back"):
            bodice, skirt = dress.piece(f"{half} bodice"), dress.piece(f"{half} skirt")
            assert bodice.sewn_length_mm("waist") == pytest.approx(skirt.sewn_length_mm("waist"), abs=SEAM_MM)

    def test_bodice_darts_land_on_skirt_darts(self, dress):
        for half in ("front", "back"):
            bodice, skirt = dress.piece(f"{half} bodice"), dress.piece(f"{half} skirt")
            places = [from_centre(p, "waist", p.dart("waist dart").from_mm) for p in (bodice, skirt)]
            assert places[0] == pytest.approx(places[1], abs=0.5)

    def test_underarm_seams_of_the_sleeve_are_equal(self, dress):
        sleeve = dress.piece("sleeve")
        assert sleeve.edge("front underarm").length_mm == pytest.approx(sleeve.edge("back underarm").length_mm)

    def test_cap_is_an_inch_to_an_inch_and_a_half_longer_than_the_armhole_more_at_the_back(self, dress):
        sleeve = dress.piece("sleeve")
        back_mm = sleeve.notch("shoulder").at_mm
        front_mm = sleeve.edge("cap").length_mm - back_mm
        front_ease = front_mm - dress.piece("front bodice").edge("armhole").length_mm
        back_ease = back_mm - dress.piece("back bodice").edge("armhole").length_mm
        assert INCH <= front_ease + back_ease <= 1.5 * INCH  # textbooks, 1 to 1 1/2 in
        assert back_ease >= front_ease > 0

    def test_no_ease_lies_below_the_armhole_notches(self, dress):
        sleeve, front, back = (dress.piece(name) for name in ("sleeve", "front bodice", "back bodice"))
        cap_mm, hole_mm = sleeve.edge("cap").length_mm, back.edge("armhole").length_mm
        below = cap_mm - sleeve.notch("front armhole").at_mm
        assert below == pytest.approx(front.notch("front armhole").at_mm, abs=SEAM_MM)
        for number in (1, 2):
            below = sleeve.notch(f"back armhole {number}").at_mm
            assert below == pytest.approx(hole_mm - back.notch(f"back armhole {number}").at_mm, abs=SEAM_MM)

    def test_side_notches_land_together(self, dress):
        for part, notch in (("bodice", "bust"), ("skirt", "hip")):
            front, back = dress.piece(f"front {part}"), dress.piece(f"back {part}")
            stations = []
            for piece in (front, back):
                edge, at = piece.edge("side"), piece.sewn_station_mm("side", piece.notch(notch).at_mm)
                rising = edge.end[1] > edge.start[1]
                stations.append(at if rising else piece.sewn_length_mm("side") - at)
            assert stations[0] == pytest.approx(stations[1], abs=SEAM_MM)


class TestCorners:
    @pytest.mark.parametrize(
        ("first", "second", "edges"),
        [
            ("front bodice", "back bodice", ("shoulder", "armhole")),
            ("front bodice", "back bodice", ("shoulder", "neck")),
            ("front bodice", "back bodice", ("side", "waist")),
            ("front skirt", "back skirt", ("side", "waist")),
            ("front skirt", "back skirt", ("side", "hem")),
        ],
    )
    def test_edges_run_straight_through_where_seams_end(self, dress, first, second, edges):
        total = sum(corner(dress.piece(name), *edges) for name in (first, second))
        assert total == pytest.approx(math.pi, abs=2 * DEGREE)

    def test_armhole_runs_straight_through_under_the_arm(self, dress):
        total = sum(corner(dress.piece(name), "side", "armhole") for name in ("front bodice", "back bodice"))
        assert total == pytest.approx(math.pi, abs=3 * DEGREE)
        sleeve = dress.piece("sleeve")
        cap = corner(sleeve, "front underarm", "cap") + corner(sleeve, "back underarm", "cap")
        assert cap == pytest.approx(math.pi, abs=3 * DEGREE)

    def test_sleeve_hem_runs_straight_through(self, dress):
        sleeve = dress.piece("sleeve")
        hem = corner(sleeve, "front underarm", "hem") + corner(sleeve, "back underarm", "hem")
        assert hem == pytest.approx(math.pi, abs=2 * DEGREE)

    @pytest.mark.parametrize(
        ("name", "centre"),
        [
            ("front bodice", "centre front"),
            ("back bodice", "centre back"),
            ("front skirt", "centre front"),
            ("back skirt", "centre back"),
        ],
    )
    def test_neck_waist_and_hem_are_square_to_the_centre_line(self, dress, name, centre):
        piece = dress.piece(name)
        for edge in {"neck", "waist", "hem"} & {edge.id for edge in piece.edges}:
            assert corner(piece, centre, edge) == pytest.approx(math.pi / 2, abs=2 * DEGREE)

    def test_seams_run_straight_through_where_darts_are_folded(self, dress):
        for piece in dress.pieces:
            for dart in piece.darts:
                points = piece.edge(dart.edge).points
                stations = polyline.stations_mm(points)
                at = [int(np.argmin(np.abs(stations - s))) for s in (dart.from_mm, dart.to_mm)]
                before = angle_between(as_point(points[at[0]]), as_point(points[at[0] - 1]), dart.tip)
                after = angle_between(as_point(points[at[1]]), dart.tip, as_point(points[at[1] + 1]))
                assert abs(before + after) == pytest.approx(math.pi, abs=2 * DEGREE)
