"""A piece that goes out as a drawing and comes back is the same piece: the sample and invented ones."""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from editor.document.journal import read_journal
from editor.formats.dxf_writer import write_drawing
from editor.formats.import_pattern import import_pattern
from editor.formats.pattern_to_drawing import drawing_of
from editor.formats.piece_texts import role_of
from editor.formats.recognise import recognise
from geometry.affine import as_point, distance_mm, frozen_points
from geometry.alterations.replay import replay
from geometry.curves import polyline
from geometry.model.dart import Dart, DoubleDart, Pressed
from geometry.model.edge import Edge
from geometry.model.marks import Grain, InnerKind, InnerLine, Label, Mark, MarkKind, Notch, NotchKind
from geometry.model.pattern import Nest, Pattern
from geometry.model.piece import Piece
from geometry.units import Unit
from samples.draft_dress import draft_nest
from samples.write_samples import FOLDER

WITHIN_MM = 1e-6


def assert_same(one, other, where="nest"):
    """Every field equal, lengths and places to a millionth of a millimetre."""
    if dataclasses.is_dataclass(one):
        assert type(one) is type(other), where
        for field in dataclasses.fields(one):
            assert_same(getattr(one, field.name), getattr(other, field.name), f"{where}.{field.name}")
    elif isinstance(one, np.ndarray):
        np.testing.assert_allclose(other, one, rtol=0, atol=WITHIN_MM, err_msg=where)
    elif isinstance(one, tuple):
        assert isinstance(other, tuple), where
        assert len(one) == len(other), where
        for index, (mine, theirs) in enumerate(zip(one, other, strict=True)):
            assert_same(mine, theirs, f"{where}[{index}]")
    elif isinstance(one, float):
        assert other == pytest.approx(one, rel=0, abs=WITHIN_MM), where
    else:
        assert one == other, where


def test_sample_comes_back_from_its_file_in_every_size(tmp_path):
    nest = draft_nest()
    write_drawing(drawing_of(nest), tmp_path / "dress.dxf", unit="mm")
    found = import_pattern(tmp_path / "dress.dxf")
    assert_same(nest, found.nest)
    assert [finding.code for finding in found.findings] == ["unit"]


def test_second_round_trip_writes_the_same_file(tmp_path):
    first, second = tmp_path / "first.dxf", tmp_path / "second.dxf"
    write_drawing(drawing_of(draft_nest()), first, unit="mm")
    write_drawing(drawing_of(import_pattern(first).nest), second, unit="mm")
    again = import_pattern(second).nest
    assert_same(import_pattern(first).nest, again)


@pytest.mark.parametrize("singer", ["maren", "odile"])
def test_altered_pattern_comes_back(singer):
    records = read_journal((FOLDER / f"{singer}.json").read_bytes(), name=singer)
    altered = dataclasses.replace(replay(draft_nest().sample, records).pattern, seams=())
    assert_same(altered, recognise(drawing_of(altered), Unit.MM).nest.patterns[0])


# ---- invented pieces ----

WORDS = st.sampled_from(
    ["side", "Centre Front", "neck", "front armhole", "hem", "3", "fold", "grain line", "Size: 4", "# 2", "5 mm",
     "edge 2", "dart", "Aim: none", "notch 1", "drill hole 1", "cut 2", "a  b"]
).map(lambda words: " ".join(words.split()))  # fmt: skip


@st.composite
def pieces(draw):
    count = draw(st.integers(3, 6))
    turn = draw(st.floats(0, 2 * math.pi))
    spread = [draw(st.floats(-0.12, 0.12)) for _ in range(count)]
    radii = [draw(st.floats(220, 300)) for _ in range(count)]
    angles = [turn + 2 * math.pi * (i + spread[i]) / count for i in range(count)]
    corners = [(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]
    ids = draw(st.lists(WORDS, min_size=count, max_size=count, unique=True))
    edges, darts = [], []
    for index, name in enumerate(ids):
        chain = _chain(draw, corners[index], corners[(index + 1) % count])
        chain, dart = _with_dart(draw, chain, name, f"{name} dart")
        edges.append(Edge(name, chain, role_of(name), draw(st.sampled_from([0.0, 6.35, 10.0, 15.875, 40.0]))))
        darts.extend(dart)
    fold = draw(st.sampled_from([None, *(edge.id for edge in edges if len(edge.points) == 2)]))
    edges = [dataclasses.replace(edge, allowance_mm=0.0) if edge.id == fold else edge for edge in edges]
    return Piece(
        draw(st.sampled_from(["front bodice", "Yoke", "B 2"])),
        tuple(edges),
        size="12",
        quantity=draw(st.integers(1, 4)),
        material=draw(st.sampled_from(["", "lining"])),
        fold=fold,
        grain=draw(st.sampled_from([None, Grain((0.0, -40.0), (5.0, 60.0))])),
        darts=tuple(darts),
        double_darts=draw(st.sampled_from([(), (DoubleDart("waist", (0, -60), (0, 60), (-9, 5), (9, 5)),)])),
        notches=_notches(draw, edges),
        inner_lines=_inner_lines(draw),
        marks=_marks(draw),
        labels=_labels(draw, corners),
    )


def _chain(draw, start, end):
    bow = draw(st.sampled_from([0.0, 0.0, 0.1, -0.08]))
    if bow == 0.0:
        return frozen_points([start, end])
    t = np.linspace(0, 1, draw(st.integers(5, 30)))[:, None]
    across = np.array([end[1] - start[1], start[0] - end[0]])
    chain = np.array(start) * (1 - t) + np.array(end) * t + 4 * bow * t * (1 - t) * across
    chain[[0, -1]] = [start, end]
    return frozen_points(chain)


def _with_dart(draw, chain, edge, name):
    if not draw(st.booleans()):
        return chain, []
    length = polyline.length_mm(chain)
    middle, width = draw(st.floats(0.4, 0.6)) * length, draw(st.floats(10, 40))
    mouth = [as_point(polyline.point_at(chain, middle + side * width / 2)) for side in (-1, 1)]
    before = polyline.part_between(chain, 0, middle - width / 2)
    after = polyline.part_between(chain, middle + width / 2, length)
    ux, uy = polyline.direction_at(chain, middle)
    depth = draw(st.floats(60, 90))
    x, y = (mouth[0][0] + mouth[1][0]) / 2, (mouth[0][1] + mouth[1][1]) / 2
    from_mm = polyline.length_mm(before)
    aim = draw(st.sampled_from([None, (0.0, 0.0), (31.5, 7.25)]))
    pressed = draw(st.sampled_from(list(Pressed)))
    tip = (x - uy * depth, y + ux * depth)
    dart = Dart(name, edge, from_mm, from_mm + distance_mm(*mouth), tip, aim, pressed, draw(st.booleans()))
    return frozen_points(np.vstack([before, after])), [dart]


def _notches(draw, edges):
    notches = []
    for number in range(draw(st.integers(0, 5))):
        edge = draw(st.sampled_from(edges))
        kind = draw(st.sampled_from(list(NotchKind)))
        at_mm = (number + draw(st.floats(0.1, 0.9))) / 5 * edge.length_mm
        width_mm = 4.0 if kind is NotchKind.V else 0.0
        name = draw(st.sampled_from([f"notch {number + 1}", f"level {number}"]))
        notches.append(
            Notch(name, edge.id, at_mm, kind, 5.0, width_mm, draw(st.sampled_from(["", "hip", "Waist: low"])))
        )
    return tuple(notches)


def _inner_lines(draw):
    lines = [
        InnerLine("hip line", frozen_points([(-90, 20), (95, 22)])),
        InnerLine("line 2", frozen_points([(-60, -30), (0, -28), (40, -50), (60, -20)])),
        InnerLine("Pocket", frozen_points([(20, 20), (60, 20), (60, 55), (20, 55)]), InnerKind.CUTOUT, True),
        InnerLine("stripe 1", frozen_points([(-50, -100), (-50, 100)]), InnerKind.STRIPE),
    ]
    return tuple(draw(st.lists(st.sampled_from(lines), unique_by=id, max_size=4)))


def _marks(draw):
    places = [(0.0, 0.0), (10.5, -33.25), (-70.0, 12.0), (20.0, 20.0)]
    marks = []
    for place in draw(st.lists(st.sampled_from(places), unique=True)):
        kind = draw(st.sampled_from([MarkKind.DRILL, MarkKind.LANDMARK]))
        marks.append(Mark(draw(WORDS.filter(lambda name: name not in [mark.id for mark in marks])), place, kind))
    return tuple(marks)


def _labels(draw, corners):
    places = [(12.0, 34.0), (0.0, 0.0), corners[0], (-90.0, 20.0), (0.0, -60.0)]
    return tuple(Label(draw(WORDS), draw(st.sampled_from(places))) for _ in range(draw(st.integers(0, 3))))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(piece=pieces())
def test_piece_comes_back_from_its_drawing(piece):
    drawing = drawing_of(Nest("style", (Pattern((piece,), size="12"),), "12"))
    back = recognise(drawing, Unit.MM).nest.patterns[0].pieces
    assert len(back) == 1
    assert_same(piece, back[0], "piece")
