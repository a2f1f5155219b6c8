"""What the entries below the waist and of the sleeve promise, to the last digit, by all amounts and on all sizes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.affine import Affine, frozen_points
from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.alteration import Alteration, alteration
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.entry import Entry
from geometry.alterations.handbook.fairing import even, fair, grow_corner, redraw, sheared
from geometry.alterations.handbook.landmarks import CROTCH_POINT, HIP_AT_CENTRE, HIP_AT_SIDE, KNEE, detected, landmark
from geometry.alterations.handbook.panels import Panel, role_of
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.single_pieces import CutSingle
from geometry.checks.run import check_pattern
from geometry.errors import StepError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.regions import is_simple
from samples import draft_gored_skirt, draft_trousers
from samples.draft_dress import draft_nest
from samples.size_table import SIZES
from tests.geometry.drawn_pieces import rectangle

EXACT_MM = 1e-6
AGREE_MM = 0.05
"""Half a hairline: what is made equal by trying agrees to that."""

HINGED = {("I08", "tuck down the middle"): 0.05}
"""Where a hinge lies on a kept edge: its blend may change it by half a hairline here."""

CODES = [f"A{n:02d}" for n in range(4, 9)] + [
    f"{letter}{n:02d}" for letter, count in (("G", 4), ("H", 9), ("I", 9), ("J", 13)) for n in range(1, count + 1)
]
BY_VARIANT = [
    pytest.param(entry_of(code), name, id=f"{code} {name}".strip())
    for code in CODES
    for name in ([variant.name for variant in entry_of(code).variants] or [""])
]
ON_GORES = [
    pytest.param(entry_of(code), id=code)
    for code in ("A04", "A05", "G01", "G03", "G04", "H01", "H03", "H05", "H06", "H07", "H08", "H09")
]
PARTNERS = {
    EdgeRole.SIDE: (
        ("front skirt", "side", "back skirt", "side"),
        ("front trousers", "side", "back trousers", "side"),
        ("front bodice", "side", "back bodice", "side"),
    ),
    EdgeRole.INSEAM: (("front trousers", "inseam", "back trousers", "inseam"),),
    EdgeRole.UNDERARM: (("sleeve", "front underarm", "sleeve", "back underarm"),),
    EdgeRole.WAIST: (
        ("front bodice", "waist", "front skirt", "waist"),
        ("back bodice", "waist", "back skirt", "waist"),
    ),
}


def everything(size: str) -> Pattern:
    """Dress and trousers on one table, so that every entry finds its pieces."""
    dress, trousers = draft_nest().pattern(size), draft_trousers.draft_nest().pattern(size)
    return replace(dress, pieces=dress.pieces + trousers.pieces)


def gores(size: str) -> Pattern:
    return draft_gored_skirt.draft_nest().pattern(size)


def sewn(pattern: Pattern, piece: str, edge: str) -> float:
    return pattern.piece(piece).sewn_length_mm(edge)


def kept_lengths(entry: Entry, pattern: Pattern) -> dict[tuple[str, str], float]:
    return {
        (piece.name, kept.edge.value): Panel(piece).sewn_mm(kept.edge)
        for piece in pattern.pieces
        for kept in entry.keeps
        if role_of(piece) is kept.piece and Panel(piece).has(kept.edge)
    }


def seam_differences(entry: Entry, pattern: Pattern) -> dict[tuple[str, ...], float]:
    return {
        names: sewn(pattern, *names[:2]) - sewn(pattern, *names[2:])
        for role in entry.matches
        for names in PARTNERS.get(role, ())
    }


@pytest.mark.parametrize(("entry", "variant"), BY_VARIANT)
@settings(max_examples=4)
@given(size=st.sampled_from(SIZES), amount=st.one_of(st.sampled_from([-40.0, 60.0, 0.3]), st.floats(-40.0, 60.0)))
def test_what_is_kept_is_kept_seams_agree_darts_have_equal_everything(
    entry: Entry, variant: str, size: str, amount: float
):
    before = everything(size)
    try:
        after = Alteration(entry.code, amount, variant).apply(before).pattern
    except StepError:  # beyond its range, or more than this piece can give; told in a sentence
        return
    for piece in after.pieces:
        assert is_simple(piece.outline), piece.name
        for dart in piece.darts:
            assert abs(np.subtract(*piece.legs_mm(dart))) <= AGREE_MM, (piece.name, dart.id)
    if entry.code == "H04":  # cut single: the pieces go by other names
        return
    now = kept_lengths(entry, after)
    for edge, length in kept_lengths(entry, before).items():
        assert now[edge] == pytest.approx(length, abs=HINGED.get((entry.code, variant), EXACT_MM)), edge
    differences = seam_differences(entry, after)
    for names, difference in seam_differences(entry, before).items():
        assert differences[names] == pytest.approx(difference, abs=AGREE_MM), names


@pytest.mark.parametrize(("entry", "variant"), BY_VARIANT)
def test_its_usual_amount_can_be_done_on_every_size(entry: Entry, variant: str):
    for size in SIZES:
        after = Alteration(entry.code, entry.amount.default_mm, variant).apply(everything(size)).pattern
        assert after is not everything(size)


GORE_SEAMS = (
    ("front gore", "side", "side front gore", "panel side"),
    ("side front gore", "side", "side back gore", "side"),
    ("side back gore", "panel side", "back gore", "side"),
)


@pytest.mark.parametrize("entry", ON_GORES)
@pytest.mark.parametrize("size", ["4", "10", "16"])
def test_gores_are_altered_together_and_all_seams_still_meet(entry: Entry, size: str):
    for variant in [each.name for each in entry.variants if each.name != "darts"] or [""]:
        after = Alteration(entry.code, entry.amount.default_mm, variant).apply(gores(size)).pattern
        assert any(after.piece(name) != gores(size).piece(name) for name in ("side front gore", "side back gore"))
        for one_piece, one_edge, other_piece, other_edge in GORE_SEAMS:
            one, other = sewn(after, one_piece, one_edge), sewn(after, other_piece, other_edge)
            assert one == pytest.approx(other, abs=AGREE_MM), variant


@pytest.mark.parametrize("variant", [each.name for each in entry_of("H04").variants])
@pytest.mark.parametrize("amount", [-10.0, 15.0])
def test_one_hip_of_a_gored_skirt_is_altered_on_its_side_alone_and_its_seams_still_meet(variant: str, amount: float):
    after = Alteration("H04", amount, variant).apply(gores("10")).pattern
    for hand in ("left", "right"):
        seams = (
            ("front gore", f"{hand} side", f"{hand} side front gore", "panel side"),
            (f"{hand} side front gore", "side", f"{hand} side back gore", "side"),
            (f"{hand} side back gore", "panel side", "back gore", f"{hand} side"),
        )
        for one_piece, one_edge, other_piece, other_edge in seams:
            one, other = sewn(after, one_piece, one_edge), sewn(after, other_piece, other_edge)
            assert one == pytest.approx(other, abs=AGREE_MM)
        is_altered = variant.startswith(hand)
        grown = sewn(after, f"{hand} side front gore", "side") - sewn(gores("10"), "side front gore", "side")
        assert grown == pytest.approx(amount if is_altered and "higher" in variant else 0.0, abs=2.5)
        wider = sewn(after, f"{hand} side front gore", "hem") - sewn(gores("10"), "side front gore", "hem")
        assert wider == pytest.approx(amount if is_altered and "larger" in variant else 0.0, abs=0.5)


@pytest.mark.parametrize(("code", "sign"), [("G03", 1.0), ("H05", 1.0), ("H06", -1.0), ("H07", -1.0)])
def test_the_waist_of_gores_is_drawn_in_one_line_across_the_seam(code: str, sign: float):
    entry, half = entry_of(code), "front" if code == "G03" else "back"
    after = alteration(entry).apply(gores("10")).pattern
    centre, beside = f"{half} gore", f"side {half} gore"
    risen = [
        after.piece(piece).edge(edge).length_mm - gores("10").piece(piece).edge(edge).length_mm
        for piece, edge in ((centre, f"centre {half}"), (centre, "side"), (beside, "panel side"), (beside, "side"))
    ]
    amount = sign * entry.amount.default_mm
    # half a wave from the side to the centre: the seam lies two thirds of the way, (1 - cos 120 degrees) / 2 = 3/4
    assert risen[0] == pytest.approx(amount, abs=0.1)
    assert risen[1:3] == pytest.approx([0.75 * amount] * 2, abs=0.5)
    assert risen[3] == pytest.approx(0.0, abs=0.01)


@pytest.mark.parametrize("code", ["G03", "G04"])
@pytest.mark.parametrize("amount", [-12.0, 15.0])
@pytest.mark.parametrize(("pattern", "front"), [(everything("10"), "front skirt"), (gores("10"), "front gore")])
def test_the_waist_of_a_front_cut_single_is_raised_alike_on_both_sides(code, amount, pattern, front):
    single = CutSingle(front).apply(pattern).pattern
    before, after = single.piece(front), Alteration(code, amount).apply(single).pattern.piece(front)
    for edge in ("waist", "side", "hem"):
        left, right = (after.sewn_length_mm(f"{hand} {edge}") for hand in ("left", "right"))
        assert left == pytest.approx(right, abs=1e-3)
        if edge == "waist":
            assert left == pytest.approx(before.sewn_length_mm("left waist"), abs=0.05)
    centre = [
        edge.end for piece in (before, after) for edge in piece.edges if "waist" in edge.id and abs(edge.end[0]) < 1
    ]
    assert centre[1][1] - centre[0][1] == pytest.approx(amount, abs=0.01)


def test_a_gored_skirt_is_not_slashed_inside_but_widened_at_its_seams():
    with pytest.raises(StepError, match="every seam"):
        Alteration("H02", 10.0).apply(gores("10"))


@pytest.mark.parametrize("half", ["front trousers", "back trousers"])
def test_landmarks_of_trousers_are_told_where_nothing_is_marked(half: str):
    marked = draft_trousers.draft_nest().sample.piece(half)
    panel = Panel(replace(marked, marks=(), notches=()))
    names = {name for name, _ in detected(panel)}
    assert {CROTCH_POINT, KNEE, HIP_AT_SIDE, HIP_AT_CENTRE, "waist at centre", "waist at side"} <= names
    # the knee lies about 2 in above the middle of the inside leg (from memory), which is how the sample is drafted
    assert panel.point(landmark(panel, KNEE))[1] == pytest.approx(marked.landmark("knee")[1], abs=12.0)
    hip = panel.point(landmark(panel, HIP_AT_SIDE))
    assert panel.point(landmark(panel, HIP_AT_CENTRE))[1] == pytest.approx(hip[1])


@pytest.mark.parametrize("variant", ["left higher", "right higher", "left larger", "right larger"])
def test_one_hip_changes_one_side_only(variant: str):
    pattern = draft_nest().sample
    single = pattern
    for name in ("front skirt", "back skirt"):
        single = CutSingle(name).apply(single).pattern
    after = Alteration("H04", 10.0, variant).apply(pattern).pattern
    hand, other = variant.split()[0], {"left": "right", "right": "left"}[variant.split()[0]]
    assert after.piece(f"{other} back skirt") == single.piece(f"{other} back skirt")
    assert after.piece(f"{hand} back skirt") != single.piece(f"{hand} back skirt")
    front, before = after.piece("front skirt"), single.piece("front skirt")
    assert front.edge(f"{other} side") == before.edge(f"{other} side")
    for each in ("left waist", "right waist"):
        assert front.sewn_length_mm(each) == pytest.approx(before.sewn_length_mm(each), abs=EXACT_MM)
    higher = front.edge(f"{hand} side").points[:, 1].max() - before.edge(f"{hand} side").points[:, 1].max()
    assert higher == pytest.approx(10.0 if "higher" in variant else 0.0, abs=0.5)


def test_a_band_that_is_not_on_the_fold_gets_a_quarter_in_each_quarter():
    pattern = draft_trousers.draft_nest().sample
    band = replace(pattern.piece("waistband"), fold=None)
    after = Alteration("G01", 6.0).apply(pattern.with_piece(band)).pattern.piece("waistband")
    assert after.edge("waist").length_mm - band.edge("waist").length_mm == pytest.approx(24.0)


def test_entries_say_what_they_cannot_find():
    with pytest.raises(StepError, match='known as "front trousers" or "back trousers"'):
        Alteration("A07", 10.0).apply(draft_nest().sample)
    with pytest.raises(StepError, match="no elbow dart"):
        Alteration("I06", -10.0).apply(draft_nest().sample)
    bare = draft_nest().sample.piece("front skirt")
    with pytest.raises(StepError, match='The waist of "front skirt" has no dart'):
        Alteration("G01", 6.0, "darts").apply(Pattern((replace(bare, darts=()),)))


# --- edges drawn fair


def panel_of(piece: Piece) -> Panel:
    return Panel(replace(piece, name="front skirt"))


def test_a_fair_run_begins_and_ends_without_a_bend_and_an_even_one_stays_straight():
    panel = panel_of(rectangle())
    side = panel.edge(EdgeRole.SIDE)
    held, moved = on_edge("side", 0.2), on_edge("side", 1.0)
    for run, first, last in ((fair(panel, side, held, moved), 0.02, 0.98), (even(panel, side, held, moved), 0.0, 1.0)):
        assert run.shares[0] == 0.0
        assert run.shares[-1] == 1.0
        assert all(a < b for a, b in zip(run.shares, run.shares[1:], strict=False))
        assert run.shares[1] <= max(first, 1.0 / (len(run.shares) - 1))
        assert run.shares[-2] >= min(last, 0.0 if len(run.shares) == 2 else last)


@given(dx=st.floats(-40, 60), dy=st.floats(-40, 60))
@settings(max_examples=20)
def test_a_run_tells_beforehand_how_much_its_edge_grows(dx: float, dy: float):
    panel = Panel(draft_trousers.draft_nest().sample.piece("back trousers"))
    inseam = panel.edge(EdgeRole.INSEAM)
    point = landmark(panel, CROTCH_POINT)
    run = fair(panel, inseam, on_edge("inseam", 0.5), point)
    rest = on_edge("crotch", 0.5)
    after = redraw(panel, *run.pulls((dx, dy)), *even(panel, panel.edge(EdgeRole.CROTCH), rest, point).pulls((dx, dy)))
    piece = after.apply(Pattern((panel.piece,))).pattern.pieces[0]
    assert piece.edge("inseam").length_mm - inseam.length_mm == pytest.approx(run.growth()((dx, dy)), abs=1e-7)


@given(first=st.floats(-30, 40), second=st.floats(-30, 40))
@settings(max_examples=20)
def test_a_corner_is_moved_so_that_both_edges_grow_by_just_what_is_asked(first: float, second: float):
    piece = replace(rectangle(), name="front skirt")
    panel, bench = Panel(piece), Bench(Pattern((piece,)), 1.0)
    corner = on_edge("side", 1.0)
    runs = (
        even(panel, panel.edge(EdgeRole.WAIST), on_edge("waist", 1.0), on_edge("waist", 0.0)),
        fair(panel, panel.edge(EdgeRole.SIDE), on_edge("side", 0.5), corner),
    )
    grow_corner(bench, panel, *runs, first_mm=first, second_mm=second)
    after = bench.now(panel).piece
    assert after.edge("waist").length_mm == pytest.approx(400.0 + first, abs=EXACT_MM)
    assert after.edge("side").length_mm == pytest.approx(600.0 + second, abs=EXACT_MM)
    assert after.edge("centre front") is piece.edge("centre front")


def test_a_corner_that_cannot_be_found_is_told():
    piece = replace(rectangle(), name="front skirt")
    panel, bench = Panel(piece), Bench(Pattern((piece,)), 1.0)
    runs = (
        even(panel, panel.edge(EdgeRole.WAIST), on_edge("waist", 1.0), on_edge("waist", 0.0)),
        even(panel, panel.edge(EdgeRole.SIDE), on_edge("side", 0.9), on_edge("side", 1.0)),
    )
    with pytest.raises(StepError, match='No corner on "front skirt"'):
        grow_corner(bench, panel, *runs, second_mm=-90.0)
    with pytest.raises(StepError, match="the place that moves is the one that stays"):
        even(panel, panel.edge(EdgeRole.SIDE), on_edge("side", 0.5), on_edge("side", 0.5))


@pytest.mark.parametrize("turned", [False, True])
def test_two_edges_sheared_alike_keep_their_distance_at_every_level(turned: bool):
    piece = replace(rectangle(), name="front skirt")
    if turned:  # whichever way it lies on the table
        piece = piece.moved(Affine.turned(0.7))
    panel = Panel(piece)
    runs = (
        sheared(panel, panel.edge(EdgeRole.SIDE), on_edge("side", 0.6), on_edge("side", 0.0)),
        sheared(panel, panel.edge(EdgeRole.CENTRE_FRONT), on_edge("centre front", 0.4), on_edge("centre front", 1.0)),
    )
    way = panel.frame.step(20.0, 0.0)
    after = redraw(panel, *(pull for run in runs for pull in run.pulls(way))).apply(Pattern((piece,))).pattern.pieces[0]
    base = after.edge("waist").start
    for share in (0.0, 0.2, 0.4, 0.6, 0.9):
        right = panel.frame.seen(after.edge("side").point_at(share * after.edge("side").length_mm), base)
        left_edge = after.edge("centre front")
        line = frozen_points(left_edge.points[::-1])
        heights = [panel.frame.seen((x, y), base)[1] for x, y in line.tolist()]
        outs = [panel.frame.seen((x, y), base)[0] for x, y in line.tolist()]
        left = float(np.interp(right[1], heights, outs))
        assert right[0] - left == pytest.approx(400.0, abs=1e-6)


@pytest.mark.parametrize(
    ("code", "variant", "amount"), [("J03", "", 20.0), ("J13", "wedge", -12.0), ("J11", "slashed", 10.0)]
)
def test_a_crease_lies_on_the_grain_again_after_a_part_of_the_leg_was_turned(code, variant, amount):
    after = Alteration(code, amount, variant).apply(everything("10")).pattern.piece("back trousers")
    crease = next(line for line in after.inner_lines if line.id == "crease")
    assert crease.points[:, 0] == pytest.approx([after.grain.start[0]] * 2, abs=1e-6)
    hem = after.edge("hem")
    assert (hem.start[0] + hem.end[0]) / 2 == pytest.approx(crease.points[0][0], abs=0.1)


@pytest.mark.parametrize(
    ("code", "variant", "amount"),
    [
        ("J06", "", -8.0),
        ("J06", "", 30.0),
        ("J01", "back", -30.0),
        ("J01", "back", 60.0),
        ("J07", "inner thigh", -15.0),
    ],
)
@pytest.mark.parametrize("size", ["4", "10", "16"])
def test_a_fork_taken_in_or_let_out_leaves_no_corner_in_the_curve(code, variant, amount, size):
    before = everything(size)
    after = Alteration(code, amount, variant).apply(before).pattern
    assert not [each for each in check_pattern(after, base=before) if each.code in ("edge-kinked", "allowance-trimmed")]
