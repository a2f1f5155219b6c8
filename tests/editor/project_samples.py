"""Projects for tests: one written out, and a strategy that makes any sound one."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
from hypothesis import strategies as st

from editor.document.project import Base, FitNote, Measurement, Project, Round, Wearer
from geometry.affine import frozen_points
from geometry.alterations.anchors import Anchor, On
from geometry.alterations.replay import Record
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.fitting.body import Hand
from geometry.fitting.ease import GarmentEase
from geometry.fitting.levels import CornerPull, EdgeTransition, SizeBlend, Transition
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart
from geometry.fitting.size_choice import Bones
from geometry.model.dart import Dart, DoubleDart, Pressed
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, InnerKind, InnerLine, Label, Mark, MarkKind, Notch, NotchKind
from geometry.model.pattern import EdgeRef, Nest, Pattern, Seam, SeamKind
from geometry.model.piece import Piece
from geometry.units import Unit

lengths_mm = st.floats(-1e5, 1e5, allow_nan=False)
points = st.tuples(lengths_mm, lengths_mm)
names = st.text(max_size=12)


def skirt(size: str = "38", *, hem_mm: float = 320.0) -> Piece:
    """A half front skirt with one dart, in whole millimetres."""
    corners = {"waist": (190, 600), "centre front": (0, 600), "hem": (0, 0), "side": (hem_mm, 0)}
    ends = [*list(corners.values())[1:], (190, 600)]
    edges = tuple(
        Edge(name, frozen_points([start, end]), EdgeRole(name))
        for (name, start), end in zip(corners.items(), ends, strict=True)
    )
    return Piece(
        "front skirt",
        edges,
        size=size,
        fold="centre front",
        grain=Grain((60, 100), (60, 500)),
        darts=(Dart("waist dart", "waist", 80.0, 104.0, (98.0, 490.0)),),
        notches=(Notch("hip", "side", 400.0, partner="hip"),),
        labels=(Label("front skirt", (100.0, 300.0)),),
    )


SLASH = Slash(
    "front skirt",
    (SlashCut((Anchor(On.EDGE, "hem", 0.5), Anchor(On.EDGE, "waist", 0.75)), 40.0, Hinge.END, Side.LEFT),),
)


def project() -> Project:
    """Two sizes, two wearers, one journal."""
    nest = Nest(
        "skirt",
        (Pattern((skirt("38"),), size="38"), Pattern((skirt("40", hem_mm=330.0),), size="40")),
        sample_size="38",
    )
    base = Base("skirt.dxf", b"  0\r\nEOF\r\n\xff", Unit.CM, nest)
    odile = Wearer(
        "2",
        "Odile",
        "40",
        (Round("1", "toile 1", "2026-05-17", (Record("1", SLASH, note="fuller hem"),)), Round("2", "toile 2")),
        (Measurement("waist girth", 801.5, "2026-05-01", "Maren"), Measurement("waist girth", 804.0, "2026-05-17")),
    )
    return Project(base, (Wearer("1", "Maren", "38", (Round("1", "toile 1"),)), odile))


@st.composite
def edges(draw: st.DrawFn) -> tuple[Edge, ...]:
    corners = draw(st.lists(points, min_size=1, max_size=5))
    ring = [*corners, corners[0]]
    made = []
    for index, (start, end) in enumerate(itertools.pairwise(ring)):
        between = draw(st.lists(points, max_size=4))
        made.append(
            Edge(
                f"{draw(names)} {index}",
                frozen_points([start, *between, end]),
                draw(st.sampled_from(EdgeRole)),
                draw(st.floats(0, 50)),
            )
        )
    return tuple(made)


@st.composite
def pieces(draw: st.DrawFn, name: str) -> Piece:
    ring = draw(edges())
    edge = draw(st.sampled_from(ring))
    shares = sorted(draw(st.lists(st.floats(0, 1), min_size=2, max_size=2)))
    marks = [
        Mark(f"{draw(names)} {i}", draw(points), draw(st.sampled_from(MarkKind)))
        for i in range(draw(st.integers(0, 2)))
    ]
    inside = draw(st.lists(points, min_size=2, max_size=5))
    return Piece(
        name,
        ring,
        size=draw(names),
        quantity=draw(st.integers(0, 9)),
        material=draw(names),
        fold=draw(st.none() | st.just(edge.id)),
        grain=draw(st.none() | st.builds(Grain, points, points)),
        darts=(
            Dart(
                draw(names),
                edge.id,
                shares[0] * edge.length_mm,
                shares[1] * edge.length_mm,
                draw(points),
                draw(st.none() | points),
                draw(st.sampled_from(Pressed)),
            ),
        ),
        double_darts=draw(
            st.lists(st.builds(DoubleDart, names, points, points, points, points), max_size=1).map(tuple)
        ),
        notches=(
            Notch("n", edge.id, shares[0] * edge.length_mm, draw(st.sampled_from(NotchKind)), 6.0, 0.1, draw(names)),
        ),
        inner_lines=(
            InnerLine("i", frozen_points(np.array(inside)), draw(st.sampled_from(InnerKind)), draw(st.booleans())),
        ),
        marks=tuple(marks),
        labels=draw(st.lists(st.builds(Label, names, points), max_size=2).map(tuple)),
    )


@st.composite
def nests(draw: st.DrawFn) -> Nest:
    sizes = draw(st.lists(names, min_size=1, max_size=3, unique=True))
    patterns = []
    for size in sizes:
        made = tuple(draw(pieces(f"piece {i}")) for i in range(draw(st.integers(1, 2))))
        ref = EdgeRef(made[0].name, made[0].edges[0].id)
        seam = Seam("s", (ref,), (ref,), (False,), (True,), draw(st.sampled_from(SeamKind)), draw(points))
        patterns.append(Pattern(made, (seam,) if draw(st.booleans()) else (), size))
    return Nest(draw(names), tuple(patterns), draw(st.sampled_from(sizes)))


anchors = st.builds(Anchor, st.sampled_from(On), names, st.floats(0, 1), lengths_mm, lengths_mm)
cuts = st.builds(
    SlashCut,
    st.lists(anchors, max_size=3).map(tuple),
    st.none() | lengths_mm,
    st.sampled_from(Hinge),
    st.sampled_from(Side),
)
steps = st.builds(Slash, names, st.lists(cuts, max_size=2).map(tuple), st.floats(0, 100))


@st.composite
def projects(draw: st.DrawFn) -> Project:
    nest = draw(nests())
    wearers = []
    for index in range(draw(st.integers(0, 3))):
        rounds = tuple(
            Round(
                str(number),
                draw(names),
                draw(st.dates().map(str) | st.just("")),
                tuple(
                    Record(str(i), draw(steps), draw(st.booleans()), draw(names))
                    for i in range(draw(st.integers(0, 3)))
                ),
                draw(st.lists(st.builds(FitNote, names, names, lengths_mm, lengths_mm), max_size=2).map(tuple)),
                draw(st.lists(names, max_size=2).map(tuple)),
            )
            for number in range(draw(st.integers(0, 2)))
        )
        tapes = st.builds(Measurement, names, lengths_mm, names, names, st.sampled_from(Hand))
        taken = draw(st.lists(tapes, max_size=2).map(tuple))
        size, sizes = draw(st.sampled_from(nest.sizes)), draw(st.none() | blends(len(nest.sizes)))
        bones = draw(st.sampled_from(Bones))
        wearers.append(Wearer(str(index), draw(names), size, rounds, taken, sizes, bones))
    base = Base(draw(names), draw(st.binary(max_size=40)), draw(st.sampled_from(Unit)), nest)
    return Project(
        base,
        tuple(wearers),
        forgotten_seams=draw(st.lists(names, max_size=2).map(tuple)),
        limits=replace(DEFAULT_LIMITS, seam_stop_mm=draw(st.sampled_from([6.0, 9.5]))),
        chart=draw(st.none() | charts(nest.sizes)),
        ease=draw(st.builds(GarmentEase, st.lists(st.tuples(measures, st.floats(-50, 99)), max_size=2).map(tuple))),
    )


measures = st.sampled_from(Measure)


@st.composite
def blends(draw: st.DrawFn, count: int) -> SizeBlend:
    levels = [draw(st.floats(0, count - 1)) for _ in range(6)]
    transitions = st.builds(EdgeTransition, names, names, st.sampled_from(Transition))
    corners = st.builds(CornerPull, names, names, st.floats(0, count - 1))
    return SizeBlend(
        *levels,
        transitions=draw(st.lists(transitions, max_size=2).map(tuple)),
        corners=draw(st.lists(corners, max_size=2).map(tuple)),
    )


@st.composite
def charts(draw: st.DrawFn, sizes: tuple[str, ...]) -> SizeChart:
    lengths = st.lists(st.none() | st.floats(1, 2000), min_size=len(sizes), max_size=len(sizes)).map(tuple)
    lines = st.lists(st.builds(ChartLine, measures, lengths), max_size=2, unique_by=lambda line: line.measure)
    return SizeChart(sizes, draw(lines.map(tuple)), draw(lines.map(tuple)), draw(st.none() | st.floats(0, 200)))
