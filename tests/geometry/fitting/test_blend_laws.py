"""What must hold of sizes blended level by level, whatever the levels."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.affine import Affine, distance_mm
from geometry.checks.pairing import propose_seams
from geometry.checks.run import check_pattern
from geometry.checks.walking import walk
from geometry.curves import polyline
from geometry.errors import PatternError
from geometry.findings import Level
from geometry.fitting.blending import blend
from geometry.fitting.corner_pull import level_at_corner, position_at, pulled
from geometry.fitting.finished import finished
from geometry.fitting.levels import BodyLevel, CornerPull, EdgeTransition, SizeBlend, Transition, one_size
from geometry.fitting.measures import Measure
from geometry.model.edge import EdgeRole
from geometry.model.marks import Notch
from geometry.model.pattern import EdgePlace, Nest, Pattern, Seam, Stretch
from geometry.regions import is_simple
from samples import draft_dress, draft_gored_skirt, draft_trousers
from samples.draft_dress import draft_nest
from tests.geometry import plain_dress

NEST = draft_nest()
EQUAL = Nest("same", tuple(replace(NEST.sample, size=size) for size in NEST.sizes), NEST.sample_size)
LAST = len(NEST.sizes) - 1
PLACE = st.floats(0.0, float(LAST)) | st.integers(0, LAST).map(float)
LEVELS = st.builds(SizeBlend, PLACE, PLACE, PLACE, PLACE, PLACE, PLACE)
NEAR = st.integers(0, LAST).flatmap(
    lambda middle: st.builds(SizeBlend, *[st.floats(max(middle - 1.5, 0.0), min(middle + 1.5, float(LAST)))] * 6)
)
SEAMS = propose_seams(NEST.sample)
GROWS_WITH = (
    (BodyLevel.SHOULDER, (Measure.NECK, Measure.SHOULDER_LENGTH)),
    (BodyLevel.BUST, (Measure.BUST,)),
    (BodyLevel.WAIST, (Measure.WAIST,)),
    (BodyLevel.HIP, (Measure.HIP,)),
    (BodyLevel.UPPER_ARM, (Measure.UPPER_ARM,)),
)


@pytest.mark.parametrize("number", range(LAST + 1))
def test_one_size_at_every_level_is_that_very_pattern(number) -> None:
    assert blend(NEST, one_size(float(number))).pattern is NEST.patterns[number]


@given(choice=LEVELS)
def test_a_blend_of_equal_sizes_is_that_size(choice) -> None:
    blended = blend(EQUAL, choice).pattern
    assert tuple(replace(piece, size="") for piece in blended.pieces) == tuple(
        replace(piece, size="") for piece in NEST.sample.pieces
    )


@given(choice=LEVELS)
def test_seams_that_match_in_every_size_match_in_the_blend(choice) -> None:
    """Every seam of the dress matches in every size, the cap by 32 mm of ease; to 0.5 mm, or a finding says so."""
    blended = blend(NEST, choice)
    told = {finding.text for finding in blended.findings if finding.code == "blend-seam"}
    for seam in SEAMS:
        ease = walk(blended.pattern, seam).ease_mm
        wanted = walk(NEST.sample, seam).ease_mm
        assert abs(ease - wanted) <= 0.5 or any(seam.id in text for text in told)
    assert not told  # this dress's levels all go together


@given(choice=LEVELS)
def test_notches_and_darts_meet_in_the_blend_as_in_the_sizes(choice) -> None:
    pattern = blend(NEST, choice).pattern
    for seam in SEAMS:
        walked, sample = walk(pattern, seam), walk(NEST.sample, seam)
        for ours, theirs in zip(walked.meetings, sample.meetings, strict=True):
            assert (ours.offset_from_start_mm is None) == (theirs.offset_from_start_mm is None)
            assert abs(walked.miss_mm(ours)) <= abs(sample.miss_mm(theirs)) + 1.5  # what a fitter works to


@given(choice=LEVELS)
def test_every_blend_is_closed_and_simple_and_keeps_what_is_marked(choice) -> None:
    for piece in blend(NEST, choice).pattern.pieces:
        sample = NEST.sample.piece(piece.name)
        for edge, following in zip(piece.edges, (*piece.edges[1:], piece.edges[0]), strict=True):
            assert distance_mm(edge.end, following.start) == 0.0
        assert is_simple(piece.outline)
        assert piece.area_mm2 > 0
        for kind in ("edges", "darts", "notches", "marks", "inner_lines"):
            assert [each.id for each in getattr(piece, kind)] == [each.id for each in getattr(sample, kind)]
        for dart in piece.darts:
            legs = piece.legs_mm(dart)
            assert legs[0] == pytest.approx(legs[1], abs=0.01)
        own, grain = piece.grain, sample.grain
        assert own.start[0] == pytest.approx(own.end[0])  # as it was drafted: parallel to the centre
        assert distance_mm(own.start, own.end) == pytest.approx(distance_mm(grain.start, grain.end), abs=12.0)


@given(choice=NEAR)
@settings(max_examples=30)
def test_a_blend_of_neighbouring_sizes_passes_the_checks(choice) -> None:
    found = check_pattern(blend(NEST, choice).pattern)
    assert [finding for finding in found if finding.level is Level.STOP] == []


@pytest.mark.parametrize(("level", "measures"), GROWS_WITH)
@given(choice=LEVELS, more=st.floats(0.05, 6.0))
@settings(max_examples=30)
def test_a_larger_size_at_a_level_makes_the_garment_larger_there(level, measures, choice, more) -> None:
    larger = choice.with_level(level, min(choice.at(level) + more, float(LAST)))
    before, after = (finished(blend(NEST, each).pattern) for each in (choice, larger))
    for measure in measures:
        assert after.mm(measure) >= before.mm(measure) - 0.5  # half a pencil line for what seams were matched by


@given(choice=LEVELS)
def test_widths_are_those_of_the_sizes_chosen_at_their_levels(choice) -> None:
    """Neck, waist seam and sleeve by interpolating the drafted sizes; corners give way by a hair's breadth."""
    made = finished(blend(NEST, choice).pattern)
    sizes = [finished(pattern) for pattern in NEST.patterns]
    for level, measure, within_mm in (
        (BodyLevel.WAIST, Measure.WAIST, 1.5),
        (BodyLevel.UPPER_ARM, Measure.UPPER_ARM, 0.5),
        (BodyLevel.HIP, Measure.HIP, 4.0),
        (BodyLevel.SHOULDER, Measure.SHOULDER_LENGTH, 1.5),
    ):
        drafted = np.interp(choice.at(level), range(len(sizes)), [size.mm(measure) for size in sizes])
        assert made.mm(measure) == pytest.approx(drafted, abs=within_mm), measure


@given(share=st.floats(0.0, float(LAST)))
def test_the_same_fraction_everywhere_is_plain_interpolation(share) -> None:
    """Corners by interpolating those of the two sizes next to it; seams are matched by less than a pencil line."""
    low, part = int(share), share - int(share)
    blended = blend(NEST, one_size(share)).pattern
    for piece in blended.pieces:
        below = NEST.patterns[low].piece(piece.name)
        above = NEST.patterns[min(low + 1, LAST)].piece(piece.name)
        for edge in piece.edges:
            a, b = np.array(below.edge(edge.id).start), np.array(above.edge(edge.id).start)
            assert np.allclose(edge.start, a + part * (b - a), atol=0.3)


@given(choice=NEAR, dx=st.floats(-500.0, 500.0), dy=st.floats(-500.0, 500.0))
@settings(max_examples=25)
def test_it_does_not_matter_how_the_sizes_lie_on_one_another(choice, dx, dy) -> None:
    """One size of every piece is shifted on the table: lengths of all edges stay what they are."""
    shifted = replace(
        NEST.patterns[2], pieces=tuple(piece.moved(Affine.moved(dx, dy)) for piece in NEST.patterns[2].pieces)
    )
    other = replace(NEST, patterns=(*NEST.patterns[:2], shifted, *NEST.patterns[3:]))
    for piece, again in zip(blend(NEST, choice).pattern.pieces, blend(other, choice).pattern.pieces, strict=True):
        for edge in piece.edges:
            assert again.edge(edge.id).length_mm == pytest.approx(edge.length_mm, abs=0.01)


@pytest.mark.parametrize("draft", [draft_dress, draft_trousers, draft_gored_skirt])
@given(choice=LEVELS)
@settings(max_examples=30)
def test_what_is_level_in_every_size_is_level_in_the_blend(draft, choice) -> None:
    """Hip, knee, hems and the lines to lengthen at, however far length and hip are apart; hems to a pencil line."""
    nest = draft.draft_nest()
    blended = blend(nest, choice).pattern
    checked = 0
    for piece in blended.pieces:
        sizes = [pattern.piece(piece.name) for pattern in nest.patterns]
        for line in piece.inner_lines:
            own = [next(each for each in size.inner_lines if each.id == line.id).points for size in sizes]
            if all(np.ptp(points[:, 1]) < 0.01 for points in own):
                assert np.ptp(line.points[:, 1]) < 0.01, (piece.name, line.id)
                checked += 1
        for edge in piece.edges_with_role(EdgeRole.HEM):
            if all(np.ptp(size.edge(edge.id).points[:, 1]) < 0.01 for size in sizes):
                assert np.ptp(edge.points[:, 1]) < 0.5, (piece.name, edge.id)
                checked += 1
    assert checked > 2


def test_a_pulled_corner_takes_along_what_is_sewn_to_it() -> None:
    choice = replace(one_size(3.0), corners=(CornerPull("front bodice", "side", 5.0),))
    pattern = blend(NEST, choice).pattern
    by_level = blend(NEST, replace(one_size(3.0), waist=5.0)).pattern
    for name, edge in (("front bodice", "side"), ("front skirt", "waist")):
        pulled = pattern.piece(name).edge(edge).start
        assert pulled[0] == pytest.approx(by_level.piece(name).edge(edge).start[0], abs=1.0)
    for seam in SEAMS:
        assert walk(pattern, seam).ease_mm == pytest.approx(walk(NEST.sample, seam).ease_mm, abs=0.5)


@given(position=st.floats(0.0, float(LAST)), name=st.sampled_from(["front bodice", "back bodice", "sleeve"]))
def test_a_corner_is_pulled_to_the_size_whose_line_it_lies_on(position, name) -> None:
    edge = {"front bodice": "armhole", "back bodice": "side", "sleeve": "front underarm"}[name]
    places = np.array([pattern.piece(name).edge(edge).start for pattern in NEST.patterns])
    place = tuple(float(np.interp(position, range(len(places)), column)) for column in places.T)
    found = position_at(NEST, name, edge, place)
    choice = pulled(pulled(one_size(2.0), name, edge, 0.0), name, edge, found)
    assert [pull.position for pull in choice.corners] == [pytest.approx(position, abs=1e-6)]


def test_corners_know_their_level() -> None:
    assert level_at_corner(NEST, "front bodice", "side") is BodyLevel.WAIST
    assert level_at_corner(NEST, "front bodice", "armhole") is BodyLevel.BUST
    assert level_at_corner(NEST, "front bodice", "neck") is BodyLevel.SHOULDER
    assert level_at_corner(NEST, "back skirt", "hem") is BodyLevel.HIP
    assert level_at_corner(NEST, "sleeve", "hem") is BodyLevel.UPPER_ARM


@pytest.mark.parametrize("sample", [draft_trousers, draft_gored_skirt], ids=["trousers", "gored skirt"])
@given(choice=LEVELS)
@settings(max_examples=25)
def test_other_garments_blend_as_well(sample, choice) -> None:
    """Seams match as in the sizes, outlines do not cross themselves, the waist is that of its size."""
    nest = sample.draft_nest()
    blended = blend(nest, choice)
    for seam in propose_seams(nest.sample):
        wanted = walk(nest.sample, seam).ease_mm
        assert walk(blended.pattern, seam).ease_mm == pytest.approx(wanted, abs=0.5)
    for own in blended.pattern.pieces:
        assert is_simple(own.outline)
        assert own.area_mm2 > 0
    sizes = [finished(pattern).mm(Measure.WAIST) for pattern in nest.patterns]
    waist = np.interp(choice.waist, range(len(sizes)), sizes)
    assert finished(blended.pattern).mm(Measure.WAIST) == pytest.approx(waist, abs=2.5)


def test_a_side_seam_goes_over_straight_or_smoothly_as_it_is_asked_to() -> None:
    choice = replace(one_size(2.0), hip=5.0)
    smooth = blend(NEST, choice).pattern.piece("back skirt").edge("side").points
    asked = (EdgeTransition("front skirt", "side", Transition.STRAIGHT),)
    straight = blend(NEST, replace(choice, transitions=asked)).pattern.piece("back skirt").edge("side").points
    assert np.allclose(smooth[[0, -1]], straight[[0, -1]], atol=1.5)
    gap = polyline.distances_mm(straight, smooth).max()
    assert 1.0 < gap < 20.0


def test_a_sleeve_wider_than_its_armhole_gets_a_lower_cap_and_keeps_its_seam() -> None:
    """As the cross slash of the upper arm does: wider, and shallower by about half the width over the cap's slope."""
    wide = blend(NEST, replace(one_size(3.0), upper_arm=5.0))
    sleeve, plain = wide.pattern.piece("sleeve"), NEST.patterns[3].piece("sleeve")
    height = [piece.landmark("cap top")[1] - piece.edge("cap").start[1] for piece in (sleeve, plain)]
    assert height[0] < height[1] - 5.0
    assert any(finding.code == "blend-matched" for finding in wide.findings)
    armholes = [wide.pattern.piece(name) for name in ("front bodice", "back bodice")]
    assert sleeve.sewn_length_mm("cap") == pytest.approx(
        sum(piece.sewn_length_mm("armhole") for piece in armholes) + 32.0, abs=0.5
    )


def test_pieces_that_only_one_size_goes_into_are_the_pieces_of_that_size() -> None:
    pattern = blend(NEST, replace(one_size(3.0), upper_arm=4.0)).pattern
    for name in ("front skirt", "back skirt"):
        assert replace(pattern.piece(name), size="10") == NEST.patterns[3].piece(name)


def test_a_size_beyond_the_nest_is_refused() -> None:
    with pytest.raises(PatternError, match=r"choose from 0 \(4\) to 6 \(16\)"):
        blend(NEST, replace(one_size(3.0), waist=7.0))


def test_sizes_that_are_built_differently_are_refused_by_name() -> None:
    front = NEST.patterns[0].piece("front bodice")
    other = NEST.patterns[0].with_piece(replace(front, darts=front.darts[:1]))
    nest = replace(NEST, patterns=(other, *NEST.patterns[1:]))
    with pytest.raises(PatternError, match='"front bodice" has other darts in size 4 than in size 10'):
        blend(nest, one_size(2.5))


def test_what_is_not_in_every_size_is_left_out_and_told() -> None:
    front = NEST.patterns[0].piece("front bodice")
    other = NEST.patterns[0].with_piece(replace(front, inner_lines=()))
    nest = replace(NEST, patterns=(other, *NEST.patterns[1:]))
    blended = blend(nest, one_size(2.5))
    assert blended.pattern.piece("front bodice").inner_lines == ()
    (finding,) = (each for each in blended.findings if each.code == "blend-left-out")
    assert 'the line "lengthen or shorten"' in finding.text


def test_a_straight_skirt_side_takes_the_hip_size_at_the_hip() -> None:
    """A rectangle with a waist, one size 40 mm wider than the other: at the hip notch the width is the hip size's."""
    nest = Nest("skirt", tuple(_straight_skirt(width, size) for width, size in ((200.0, "S"), (240.0, "L"))), "S")
    skirt = blend(nest, replace(one_size(0.0), hip=1.0)).pattern.piece("front skirt")
    notch = skirt.notch_point(skirt.notch("hip"))
    assert notch == pytest.approx((240.0, -180.0), abs=0.01)
    assert skirt.edge("waist").start == pytest.approx((200.0, 0.0), abs=0.01)
    assert skirt.edge("hem").length_mm == pytest.approx(240.0, abs=0.01)


def _straight_skirt(width: float, size: str) -> Pattern:
    skirt = plain_dress.piece(
        "front skirt",
        {"hem": [(0, -600)], "side": [(width, -600)], "waist": [(width, 0)], "centre front": [(0, 0)]},
        fold="centre front",
        size=size,
        notches=(Notch("hip", "side", 420.0, partner="hip"),),
    )
    return Pattern((skirt,), size=size)


def walked_stretch(backward: bool, start: float | str, end: float | str) -> Stretch:
    """The stretch of an edge from one place to another as it is walked: notches, or shares of its length."""
    low, high = (EdgePlace(at) if isinstance(at, str) else EdgePlace(share=at) for at in (start, end))
    if not backward:
        return Stretch(low, high)
    return Stretch(*(place if place.notch else EdgePlace(share=1.0 - place.share) for place in (high, low)))


def open_between(seam: Seam, start: float | str, end: float | str) -> tuple[Seam, Seam]:
    """A seam of one edge with another, sewn up to a place and on from a second one."""
    found = []
    for name, bounds in (("one", (0.0, start)), ("two", (end, 1.0))):
        first, second = (walked_stretch(side.backward[0], *bounds) for side in seam.sides)
        found.append(replace(seam, id=f"{seam.id}, {name}", first_stretches=(first,), second_stretches=(second,)))
    return found[0], found[1]


def nest_with(seams: tuple[Seam, ...]) -> Nest:
    return replace(NEST, patterns=tuple(replace(pattern, seams=seams) for pattern in NEST.patterns))


BODICE_SIDE, SKIRT_SIDE = (
    next(seam for seam in SEAMS if seam.id.startswith(name)) for name in ("front bodice side", "front skirt side")
)
OTHERS = tuple(seam for seam in SEAMS if seam not in (BODICE_SIDE, SKIRT_SIDE))
IN_PARTS = {
    "two parts that end at the notches": nest_with(
        (*OTHERS, *open_between(BODICE_SIDE, "bust", "bust"), *open_between(SKIRT_SIDE, "hip", "hip"))
    ),
    "an opening that no notch marks": nest_with((*OTHERS, BODICE_SIDE, *open_between(SKIRT_SIDE, 0.1, 0.3))),
}


@pytest.mark.parametrize("name", IN_PARTS)
@given(choice=LEVELS)
@settings(max_examples=30)
def test_seams_over_part_of_an_edge_match_as_those_over_the_whole(name, choice) -> None:
    nest = IN_PARTS[name]
    blended = blend(nest, choice)
    assert not [finding for finding in blended.findings if finding.code == "blend-seam"]
    for seam in blended.pattern.seams:
        if seam.is_partial:
            eases = [walk(pattern, seam).ease_mm for pattern in nest.patterns]
            assert min(eases) - 0.5 <= walk(blended.pattern, seam).ease_mm <= max(eases) + 0.5, seam.id


def test_a_seam_that_ends_at_a_notch_which_a_size_lacks_is_left_to_its_edges() -> None:
    nest = IN_PARTS["two parts that end at the notches"]
    back = nest.patterns[0].piece("back skirt")
    bare = replace(back, notches=tuple(notch for notch in back.notches if notch.id != "hip"))
    patterns = (nest.patterns[0].with_piece(bare), *nest.patterns[1:])
    choice = SizeBlend(1.0, 2.0, 2.0, 1.5, 2.0, 2.0)
    without = tuple(seam for seam in nest.sample.seams if not seam.id.startswith(SKIRT_SIDE.id))
    alone = tuple(replace(pattern, seams=without) for pattern in patterns)
    kept, left = (blend(replace(nest, patterns=each), choice).pattern for each in (patterns, alone))
    assert kept.pieces == left.pieces
