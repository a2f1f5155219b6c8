"""What can go wrong on the pieces of the drafted dress and trousers, one thing at a time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from geometry.affine import frozen_points
from geometry.alterations.anchors import on_edge
from geometry.alterations.dart_release import Release, ReleaseDart
from geometry.alterations.dart_sharing import SplitDart
from geometry.alterations.dart_steps import LengthenDart, MoveDart, WidenDart
from geometry.alterations.edge_steps import BlendEdge
from geometry.alterations.notch_steps import MoveNotch
from geometry.alterations.single_pieces import CutSingle
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.curves import polyline
from geometry.model.dart import Dart, DoubleDart, Pressed
from geometry.model.edge import CornerCut, Edge, EdgeRole
from geometry.model.marks import InnerLine, Label, Mark, MarkKind, Notch
from geometry.model.pattern import Pattern
from geometry.model.pressing import usual_pressed
from samples.piece_marks import LENGTHEN
from tests.geometry.spoiling import (
    across,
    along_dart,
    bumped,
    rectangle,
    row_of_marks,
    traced_by_hand,
    with_dart,
    with_edge,
    with_parts,
    with_piece,
)

Spoil = Callable[[Pattern], Pattern]


def longer(pattern: Pattern, name: str, by_mm: float) -> Pattern:
    """Cut along the line on which it is lengthened, and opened."""
    one, other, first, second = across(pattern, name, LENGTHEN)
    cut = SlashCut((on_edge(first, one), on_edge(second, other)), by_mm, Hinge.NONE, Side.RIGHT)
    return Slash(name, (cut,)).apply(pattern).pattern


def without_label(pattern: Pattern, name: str) -> Pattern:
    return with_parts(pattern, name, labels=())


def one_sleeve(pattern: Pattern) -> Pattern:
    return with_parts(without_label(pattern, "sleeve"), "sleeve", quantity=1)


def only_a_left_sleeve(pattern: Pattern) -> Pattern:
    sleeve = replace(pattern.piece("sleeve"), name="left sleeve", quantity=1, labels=())
    return replace(pattern, pieces=tuple(sleeve if p.name == "sleeve" else p for p in pattern.pieces))


def two_single_sleeves(pattern: Pattern) -> Pattern:
    return CutSingle("sleeve").apply(pattern).pattern


def right_sleeve_longer(pattern: Pattern) -> Pattern:
    piece = pattern.piece("right sleeve")
    cut = SlashCut((on_edge("front underarm", 0.5), on_edge("back underarm", 0.5)), 5.0, Hinge.NONE, Side.LEFT)
    return Slash(piece.name, (cut,)).apply(pattern).pattern


def nameless(pattern: Pattern) -> Pattern:
    return with_piece(pattern, rectangle(" ", 80, 100))


def two_sleeves(pattern: Pattern) -> Pattern:
    return with_piece(pattern, pattern.piece("sleeve"))


def wrong_words(pattern: Pattern) -> Pattern:
    return with_parts(pattern, "front bodice", labels=(Label("Cut 2", (60.0, 300.0)),))


def dart_of_a_lost_edge(pattern: Pattern) -> Pattern:
    return with_dart(pattern, "front skirt", "waist dart", edge="yoke")


def hem_apart(pattern: Pattern) -> Pattern:
    points = np.array(pattern.piece("front skirt").edge("hem").points)
    points[0] += (1.0, 0.0)
    return with_edge(pattern, "front skirt", "hem", points=frozen_points(points))


def neck_across_the_fold(pattern: Pattern) -> Pattern:
    points = pattern.piece("front bodice").edge("neck").points
    bent = frozen_points([points[0], points[-1] + (-40.0, -140.0), points[-1]])
    return with_edge(pattern, "front bodice", "neck", points=bent)


def rough_sleeve(pattern: Pattern) -> Pattern:
    return pattern.with_piece(traced_by_hand(pattern.piece("sleeve"), np.random.default_rng(1)))


def edge_without_length(pattern: Pattern) -> Pattern:
    edges = pattern.piece("sleeve").edges
    gap = Edge("gap", frozen_points([edges[2].end, edges[2].end]))
    return with_parts(pattern, "sleeve", edges=(*edges[:3], gap, *edges[3:]))


def inseam_let_out(pattern: Pattern) -> Pattern:
    return bumped(pattern, "front trousers", "inseam", -13.2, flat=0.5)


def shoulder_eased(pattern: Pattern) -> Pattern:
    """The dart let out into ease, without the notches that say where."""
    eased = ReleaseDart("back bodice", "shoulder dart", Release.EASE).apply(pattern).pattern
    return without_notches(eased, "back bodice", "shoulder")


def no_back_skirt(pattern: Pattern) -> Pattern:
    return replace(pattern, pieces=tuple(p for p in pattern.pieces if p.name != "back skirt"))


def nothing_known(pattern: Pattern) -> Pattern:
    return Pattern((rectangle("pocket", 120, 140),), size=pattern.size)


def collar(pattern: Pattern, short_mm: float) -> Pattern:
    """A straight collar on the fold; the neck is measured on the bodice, twice."""
    half_mm = sum(pattern.piece(f"{half} bodice").sewn_length_mm("neck") for half in ("front", "back"))
    band = rectangle("collar", half_mm - short_mm / 2, 60)
    edges = (
        replace(band.edges[0], id="neck", role=EdgeRole.NECK),
        band.edges[1],
        band.edges[2],
        replace(band.edges[3], id="centre back", role=EdgeRole.CENTRE_BACK, allowance_mm=0.0),
    )
    return with_piece(pattern, replace(band, edges=edges, fold="centre back"))


def short_waistband(pattern: Pattern) -> Pattern:
    piece = pattern.piece("waistband")
    share = (piece.bounds_mm[2] - 6.0) / piece.bounds_mm[2]
    edges = tuple(replace(e, points=frozen_points(e.points * (share, 1.0))) for e in piece.edges)
    notches = tuple(replace(n, at_mm=n.at_mm * share) for n in piece.notches)
    return with_parts(pattern, "waistband", edges=edges, notches=notches)


def lined(pattern: Pattern) -> Pattern:
    return with_piece(pattern, replace(pattern.piece("front bodice"), name="front bodice lining"))


def bodice_longer_than_its_lining(pattern: Pattern) -> Pattern:
    return longer(longer(pattern, "front bodice", 10.0), "back bodice", 10.0)


def high_cap(pattern: Pattern) -> Pattern:
    """The cap raised above its notches, which stay where they are; the one at the shoulder keeps its share."""
    piece = pattern.piece("sleeve")
    edge = piece.edge("cap")
    low = max(piece.notch_point(notch)[1] for notch in piece.notches if notch.id != "shoulder")
    rise = np.clip(edge.points[:, 1] - low, 0.0, None)
    points = frozen_points(edge.points + np.column_stack([0.0 * rise, 0.35 * rise**2 / rise.max()]))
    grown_mm = polyline.length_mm(points) - edge.length_mm
    notches = tuple(
        replace(
            notch,
            at_mm=notch.at_mm + grown_mm / 2
            if notch.id == "shoulder"
            else polyline.nearest(points, piece.notch_point(notch))[0],
        )
        for notch in piece.notches
    )
    return with_parts(with_edge(pattern, "sleeve", "cap", points=points), "sleeve", notches=notches)


def extra_dart(pattern: Pattern) -> Pattern:
    piece = pattern.piece("front skirt")
    known = piece.dart("waist dart")
    other = replace(known, id="second dart", from_mm=known.from_mm + 5, to_mm=known.to_mm + 5)
    return with_parts(pattern, "front skirt", darts=(*piece.darts, other))


def dart_beyond_its_edge(pattern: Pattern) -> Pattern:
    return with_dart(pattern, "front skirt", "waist dart", to_mm=1e4)


def neck_dart(pattern: Pattern, tip: tuple[float, float]) -> Pattern:
    """A dart of 3 mm from the middle of the front neck, which is sewn to nothing, to a place."""
    piece = pattern.piece("front bodice")
    middle_mm = piece.edge("neck").length_mm / 2
    dart = Dart("neck dart", "neck", middle_mm - 1.5, middle_mm + 1.5, tip)
    return usually_pressed(with_parts(pattern, "front bodice", darts=(*piece.darts, dart)), "front bodice", "neck dart")


def usually_pressed(pattern: Pattern, name: str, dart_id: str) -> Pattern:
    piece = pattern.piece(name)
    return with_dart(pattern, name, dart_id, pressed=usual_pressed(piece, piece.dart(dart_id)))


def across_the_side_dart(pattern: Pattern) -> Pattern:
    """To a place a little below the lower leg of the side dart, 40 mm from its mouth."""
    piece = pattern.piece("front bodice")
    dart = piece.dart("side dart")
    mouth = np.array(piece.mouth(dart))
    lower = mouth[np.argmin(mouth[:, 1])]
    along = (np.array(dart.tip) - lower) / np.hypot(*(np.array(dart.tip) - lower))
    x, y = lower + 60.0 * along + (0.0, -20.0)
    return neck_dart(pattern, (float(x), float(y)))


def towards_the_armhole(pattern: Pattern, beyond_mm: float) -> Pattern:
    """To a place that far beyond the armhole, half-way along it (negative: inside)."""
    piece = pattern.piece("front bodice")
    neck = np.array(piece.edge("neck").point_at(piece.edge("neck").length_mm / 2))
    place = np.array(piece.edge("armhole").point_at(piece.edge("armhole").length_mm / 2))
    x, y = place + (place - neck) / np.hypot(*(place - neck)) * beyond_mm
    return neck_dart(pattern, (float(x), float(y)))


def legs_unequal(pattern: Pattern) -> Pattern:
    x, y = pattern.piece("back skirt").dart("waist dart").tip
    return with_parts(with_dart(pattern, "back skirt", "waist dart", tip=(x + 8.0, y)), "back skirt", marks=())


def dart_at_a_corner(pattern: Pattern) -> Pattern:
    """A hair of a dart that opens at the very start of the neck, which is sewn to nothing."""
    piece = pattern.piece("front bodice")
    neck, shoulder = piece.edge("neck"), piece.edge("shoulder")
    beside = np.array(neck.point_at(40.0)), np.array(shoulder.point_at(shoulder.length_mm - 40.0))
    x, y = (beside[0] + beside[1]) / 2
    dart = Dart("neck dart", "neck", 0.0, 1.2, (float(x), float(y)))
    return usually_pressed(with_parts(pattern, "front bodice", darts=(*piece.darts, dart)), "front bodice", "neck dart")


def trued(pattern: Pattern, name: str, dart_id: str) -> Pattern:
    """The edge of a dart made smooth with the dart folded."""
    piece = pattern.piece(name)
    dart = piece.dart(dart_id)
    middle = on_edge(dart.edge, (dart.from_mm + dart.to_mm) / 2 / piece.edge(dart.edge).length_mm)
    return BlendEdge(name, dart.edge, middle).apply(pattern).pattern


def wide_dart(pattern: Pattern) -> Pattern:
    return trued(WidenDart("back trousers", "waist dart", 16.0).apply(pattern).pattern, "back trousers", "waist dart")


def skirt_dart_moved(pattern: Pattern) -> Pattern:
    return trued(MoveDart("front skirt", "waist dart", 5.0).apply(pattern).pattern, "front skirt", "waist dart")


def skirt_dart_split(pattern: Pattern) -> Pattern:
    split = SplitDart("front skirt", "waist dart", 30.0, 0.25).apply(pattern).pattern
    return with_parts(split, "front skirt", marks=())


def uneven_double_dart(pattern: Pattern) -> Pattern:
    dart = DoubleDart("waist shaping", (-150.0, 60.0), (-150.0, 160.0), (-158.0, 110.0), (-120.0, 110.0))
    return with_parts(pattern, "back bodice", double_darts=(dart,))


def dart_too_long(pattern: Pattern) -> Pattern:
    return LengthenDart("front bodice", "side dart", 22.0).apply(pattern).pattern


def dart_beside_its_aim(pattern: Pattern) -> Pattern:
    """The shoulder dart turned a little; without its drill hole, which would not be covered any more."""
    piece = pattern.piece("back bodice")
    dart = piece.dart("shoulder dart")
    a, b = (np.array(place) for place in piece.mouth(dart))
    aside = (b - a) / np.hypot(*(b - a))
    assert dart.aim is not None
    way = -np.sign((np.array(dart.aim) - dart.tip) @ aside)
    x, y = np.array(dart.tip) + way * aside * 3.0
    marks = tuple(mark for mark in piece.marks if mark.kind is not MarkKind.DRILL)
    turned = with_dart(pattern, "back bodice", "shoulder dart", tip=(float(x), float(y)))
    return with_parts(turned, "back bodice", marks=marks)


def aim_beside_the_bust_point(pattern: Pattern) -> Pattern:
    piece = pattern.piece("front bodice")
    dart = piece.dart("side dart")
    assert dart.aim is not None
    stand_off = float(np.hypot(dart.aim[0] - dart.tip[0], dart.aim[1] - dart.tip[1]))
    return with_dart(pattern, "front bodice", "side dart", aim=along_dart(piece, "side dart", stand_off + 12.0))


def other_way(pattern: Pattern, name: str, dart_id: str) -> Pattern:
    pressed = pattern.piece(name).dart(dart_id).pressed
    turned = Pressed.TO_END if pressed is Pressed.TO_START else Pressed.TO_START
    return with_dart(pattern, name, dart_id, pressed=turned)


def notch_off(pattern: Pattern, name: str, notch_id: str, by_mm: float) -> Pattern:
    return MoveNotch(name, notch_id, by_mm).apply(pattern).pattern


def with_notches(pattern: Pattern, name: str, *notches: Notch) -> Pattern:
    return with_parts(pattern, name, notches=(*pattern.piece(name).notches, *notches))


def without_notches(pattern: Pattern, name: str, *edges: str) -> Pattern:
    kept = tuple(notch for notch in pattern.piece(name).notches if notch.edge not in edges)
    return with_parts(pattern, name, notches=kept)


def no_armhole_notches(pattern: Pattern) -> Pattern:
    for name, edge in (("front bodice", "armhole"), ("back bodice", "armhole"), ("sleeve", "cap")):
        pattern = without_notches(pattern, name, edge)
    return pattern


def two_cuts_in_one(pattern: Pattern) -> Pattern:
    at_mm = pattern.piece("back skirt").notch("zip end").at_mm
    return with_notches(pattern, "back skirt", Notch("second zip end", "centre back", at_mm + 1.5))


def notches_all_round_the_neck(pattern: Pattern) -> Pattern:
    return with_notches(pattern, "front bodice", *(Notch(f"neck {k}", "neck", 15.0 + 12.0 * k) for k in range(6)))


def notches_at_a_corner(pattern: Pattern) -> Pattern:
    neck_mm = pattern.piece("front bodice").edge("neck").length_mm
    pair = Notch("neck end", "neck", neck_mm - 6.0), Notch("centre", "centre front", 6.0)
    return with_notches(pattern, "front bodice", *pair)


def hip_notch_behind(pattern: Pattern) -> Pattern:
    """A notch where the hip line meets the centre back, on both halves of it."""
    piece = pattern.piece("back skirt")
    line = next(line for line in piece.inner_lines if line.id == "hip line")
    edge = piece.edge("centre back")
    at_mm = polyline.nearest(edge.points, (0.0, float(line.points[0, 1])))[0]
    return with_notches(pattern, "back skirt", Notch("hip behind", edge.id, at_mm, partner="hip behind"))


def biceps_line_aslant(pattern: Pattern) -> Pattern:
    piece = pattern.piece("sleeve")
    old = next(line for line in piece.inner_lines if line.id == "biceps line")
    rise = 0.035 * (old.points - old.points.mean(axis=0))[:, 0]
    turned = InnerLine(old.id, frozen_points(old.points * (0.9, 1.0) + np.column_stack([0 * rise, rise])))
    return with_parts(pattern, "sleeve", inner_lines=(turned, *(x for x in piece.inner_lines if x is not old)))


def buttoned(pattern: Pattern) -> Pattern:
    piece = pattern.piece("front bodice")
    marks = row_of_marks("button", [(12.0, 40.0 + 60.0 * k) for k in range(4)])
    return with_parts(pattern, "front bodice", marks=(*piece.marks, *marks))


def button_lower(pattern: Pattern) -> Pattern:
    marks = tuple(
        replace(m, at=(m.at[0], m.at[1] - 9.0)) if m.id == "button 4" else m
        for m in pattern.piece("front bodice").marks
    )
    return with_parts(pattern, "front bodice", marks=marks)


def crease_aside(pattern: Pattern) -> Pattern:
    grain = pattern.piece("front trousers").grain
    assert grain is not None
    moved = replace(grain, start=(6.0, grain.start[1]), end=(6.0, grain.end[1]))
    return with_parts(pattern, "front trousers", grain=moved)


def one_mitred_hem(pattern: Pattern) -> Pattern:
    """Deep hems, mirrored at every corner but one; the legs are a little aslant at the hem."""
    for name in ("front trousers", "back trousers"):
        cut = CornerCut.MIRRORED
        pattern = with_edge(pattern, name, "hem", allowance_mm=60.0, start_cut=cut, end_cut=cut)
    return pattern


def mitred(pattern: Pattern) -> Pattern:
    return with_edge(pattern, "front trousers", "hem", end_cut=CornerCut.MITRED)


def landmark_outside(pattern: Pattern) -> Pattern:
    marks = tuple(
        Mark(m.id, (m.at[0], m.at[1] + 30.0), m.kind) if m.id == "cap top" else m for m in pattern.piece("sleeve").marks
    )
    return with_parts(pattern, "sleeve", marks=marks)


def hole_aside(pattern: Pattern) -> Pattern:
    marks = tuple(Mark(m.id, (m.at[0] + 12.0, m.at[1]), m.kind) for m in pattern.piece("back skirt").marks)
    return with_parts(pattern, "back skirt", marks=marks)


def allowance(pattern: Pattern, name: str, edge: str, wide_mm: float) -> Pattern:
    return with_edge(pattern, name, edge, allowance_mm=wide_mm)
