"""What a pattern measures, against closed forms and against the figures the sample dress was drafted from."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely.geometry import LineString, Polygon

from geometry.affine import Affine, Points, frozen_points
from geometry.fitting.finished import finished
from geometry.fitting.garment import Garment, bust_level, hip_level
from geometry.fitting.level_line import level_line
from geometry.fitting.measures import Measure
from geometry.model.dart import Dart, DoubleDart
from geometry.model.marks import InnerLine, Mark, MarkKind
from geometry.model.pattern import Pattern
from samples.draft_dress import draft_nest
from samples.size_table import figures
from tests.geometry.plain_dress import dress, piece

PLAIN = dress()
NEST = draft_nest()


@pytest.mark.parametrize(
    ("measure", "mm"),
    [
        (Measure.WAIST, 2 * (200.0 + 190.0)),  # sewn waists of front and back, darts folded, both halves
        (Measure.SHOULDER_LENGTH, 125.0),
        (Measure.SHOULDER_DROP, (35.0 + 37.8) / 2),  # front 410 to 375, back 410 to 372.2
        (Measure.BACK_LENGTH, 390.0),
        (Measure.FRONT_LENGTH, 340.0),
        (Measure.ARMHOLE_DEPTH, 390.0 - 200.0),
        (Measure.BACK_WIDTH, 2 * 199.6),
        (Measure.CHEST_WIDTH, 2 * 190.0),
        (Measure.UPPER_ARM, 300.0),
        (Measure.WRIST, 200.0),
        (Measure.WAIST_TO_HEM, math.hypot(40.0, 600.0)),
        (Measure.WAIST_TO_HIP, 200.0 * 600.0 / math.hypot(40.0, 600.0)),  # 200 down the side from the waist
        (Measure.HIP, 4 * (220.0 + 200.0 * 40.0 / math.hypot(40.0, 600.0))),
        (Measure.NECK, 2 * (70.0 + 70.0 + math.hypot(70.0, 20.0))),
    ],
)
def test_a_dress_of_straight_lines_measures_what_its_corners_say(measure, mm) -> None:
    assert finished(PLAIN).mm(measure) == pytest.approx(mm, abs=0.01)


def test_the_sample_dress_measures_what_it_was_drafted_from_in_every_size() -> None:
    """A metric draft: half bust and 5 cm at the underarm, hip bust + 5 cm and 5 cm of ease, nape to waist ..."""
    for pattern in NEST.patterns:
        body, made = figures(pattern.size), finished(pattern)
        assert made.mm(Measure.WAIST) == pytest.approx(2 * body.half_waist_mm, abs=0.2)
        assert made.mm(Measure.HIP) == pytest.approx(2 * body.half_width_at_hip_mm, abs=0.5)
        assert made.mm(Measure.NECK) == pytest.approx(body.neck_seam_mm, abs=0.2)
        assert made.mm(Measure.SHOULDER_LENGTH) == pytest.approx(body.shoulder_mm, abs=0.01)
        assert made.mm(Measure.BACK_LENGTH) == pytest.approx(body.nape_to_waist_mm, abs=0.01)
        assert made.mm(Measure.ARMHOLE_DEPTH) == pytest.approx(body.armhole_depth_mm, abs=0.01)
        assert made.mm(Measure.UPPER_ARM) == pytest.approx(body.upper_arm_mm + 50.8, abs=0.01)


def test_the_bust_is_measured_where_the_closed_front_has_it() -> None:
    """The side dart is closed with shapely's help: the cloth above it is turned about the bust point, and the chord at
    the height of the bust point is measured; the back at the same height below its underarm."""
    for pattern in NEST.patterns:
        front, back = pattern.piece("front bodice"), pattern.piece("back bodice")
        (apex_x, apex_y), dart = front.landmark("bust point"), front.dart("side dart")
        lower, upper = front.mouth(dart)
        turn = math.atan2(lower[1] - apex_y, lower[0] - apex_x) - math.atan2(upper[1] - apex_y, upper[0] - apex_x)
        above = Affine.turned(turn, (apex_x, apex_y))
        side_above = [above.point(upper), above.point(front.edge("side").end)]
        seam = LineString(side_above)
        level = LineString([(apex_x, apex_y), (apex_x + 500.0, apex_y)])
        width = level.intersection(seam).x
        front_line = next(each for each in bust_level(Garment(pattern)) if each.piece == "front bodice")
        assert front_line.width_mm == pytest.approx(width, abs=0.01)

        drop = math.hypot(*(a - b for a, b in zip(level.intersection(seam).coords[0], side_above[1], strict=True)))
        side = back.edge("side")
        y = side.point_at(drop)[1]
        inside = LineString([(-500.0, y), (0.0, y)]).intersection(Polygon(back.outline))
        tip, (a, b) = back.dart("waist dart").tip, back.mouth(back.dart("waist dart"))
        folded = inside.intersection(Polygon([tip, a, b])).length
        back_line = next(each for each in bust_level(Garment(pattern)) if each.piece == "back bodice")
        assert back_line.width_mm == pytest.approx(inside.length - folded, abs=0.05)


def test_a_level_leaves_out_what_darts_fold_away() -> None:
    """A rectangle with a dart 20 wide at the bottom and 100 long, and one with two tips, 16 wide at its middle."""
    plain = piece(
        "front skirt", {"hem": [(0, 0)], "side": [(300, 0)], "waist": [(300, 200)], "centre front": [(0, 200)]}
    )
    darted = replace(
        plain,
        darts=(Dart("dart", "hem", 90.0, 110.0, (100.0, 100.0)),),
        double_darts=(DoubleDart("double", (200.0, 10.0), (200.0, 190.0), (192.0, 100.0), (208.0, 100.0)),),
    )
    for y, width in ((50.0, 300.0 - 10.0 - 16.0 * 40 / 90), (100.0, 300.0 - 16.0), (150.0, 300.0 - 16.0 * 40 / 90)):
        line = level_line(darted, (300.0, y), (-1.0, 0.0))
        assert line is not None
        assert line.length_mm == pytest.approx(width, abs=1e-6)
        assert line.edge.id == "centre front"


def test_nothing_lies_ahead_outside_a_piece() -> None:
    assert level_line(PLAIN.piece("front skirt"), (1000.0, -100.0), (1.0, 0.0)) is None


def test_a_piece_on_the_fold_and_one_cut_twice_both_count_twice() -> None:
    skirt = hip_level(Garment(PLAIN))
    assert [(each.piece, each.times) for each in skirt] == [("front skirt", 2), ("back skirt", 2)]


def test_linings_and_facings_are_not_measured() -> None:
    lined = replace(
        PLAIN, pieces=(*PLAIN.pieces, *(replace(each, name=f"{each.name} lining") for each in PLAIN.pieces))
    )
    assert finished(lined) == finished(PLAIN)


def test_a_dress_without_waist_seam_is_measured_at_the_lines_drawn_on_it() -> None:
    corners = {
        "hem": [(0, -600)],
        "side": [(260, -600), (200, 0)],
        "armhole": [(230, 225), (190, 225)],
        "shoulder": [(190, 375)],
        "neck": [(70, 410), (70, 340)],
        "centre front": [(0, 340)],
    }
    lines = (InnerLine("waist line", _line(0.0)), InnerLine("hip line", _line(-300.0)))
    front = piece("front", corners, fold="centre front", inner_lines=lines)
    made = finished(Pattern((front,)))
    assert made.mm(Measure.WAIST) == pytest.approx(2 * 200.0)
    assert made.mm(Measure.HIP) == pytest.approx(2 * 230.0)


def _line(y: float) -> Points:
    return frozen_points([(20.0, y), (150.0, y)])


def test_a_princess_front_is_measured_across_both_its_panels() -> None:
    """Half the front is 230 wide at the underarm: 120 in the middle panel and 110 in the side panel."""
    middle = piece(
        "front bodice",
        {
            "waist": [(0, 0)],
            "princess": [(120, 0)],
            "shoulder": [(120, 390)],
            "neck": [(70, 410), (70, 340)],
            "centre front": [(0, 340)],
        },
        fold="centre front",
    )
    beside = piece(
        "side front",
        {"waist": [(0, 0)], "side": [(110, 0)], "armhole": [(110, 200), (70, 200)], "princess": [(0, 380)]},
        quantity=2,
    )
    level = bust_level(Garment(Pattern((middle, beside))))
    assert [(each.piece, each.times) for each in level] == [("side front", 2), ("front bodice", 2)]
    assert [each.width_mm for each in level] == pytest.approx([110.0, 120.0])


def test_trousers_are_measured_where_they_are_sewn() -> None:
    def half(name: str, out: float) -> object:
        corners = {
            "hem": [(-100, 0)],
            "inseam": [(100, 0)],
            "crotch": [(150, 700), (out, 760)],
            "waist": [(out, 960)],
            "side": [(-110, 960)],
        }
        return piece(name, corners, quantity=2)

    made = finished(Pattern((half("front trousers", 110.0), half("back trousers", 110.0))))  # type: ignore[arg-type]
    assert made.mm(Measure.WAIST) == pytest.approx(4 * 220.0)
    assert made.mm(Measure.CROTCH_DEPTH) == pytest.approx(260.0)
    assert made.mm(Measure.CROTCH_LENGTH) == pytest.approx(2 * (math.hypot(40, 60) + 200.0))
    assert made.mm(Measure.INSIDE_LEG) == pytest.approx(math.hypot(50, 700))
    assert made.mm(Measure.OUTSIDE_LEG) == pytest.approx(math.hypot(10, 960))
    assert made.mm(Measure.THIGH) == pytest.approx(2 * (150.0 + 100.0 + 10.0 * 700 / 960))


def test_bust_points_are_measured_from_the_mark() -> None:
    front = PLAIN.piece("front bodice")
    marked = replace(front, marks=(Mark("bust point", (95.0, 180.0), MarkKind.LANDMARK),))
    made = finished(PLAIN.with_piece(marked))
    assert made.mm(Measure.BUST_SPAN) == pytest.approx(190.0)
    assert made.mm(Measure.BUST_DEPTH) == pytest.approx(math.hypot(25.0, 230.0))
