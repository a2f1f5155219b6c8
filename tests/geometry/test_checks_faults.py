"""A good dress has no findings; each planted fault gives exactly one, at its place."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from geometry.affine import frozen_points
from geometry.checks.limits import LIMITS_TOLD, Limits
from geometry.checks.run import CHECKS, check_pattern
from geometry.findings import Level
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Notch
from geometry.model.pattern import EdgeRef, Pattern, Seam
from geometry.model.piece import Piece
from samples.draft_dress import draft_nest
from tests.geometry.plain_dress import (
    checked,
    dress,
    lengthened,
    notch_moved,
    with_dart,
    with_edge,
    with_notch,
    with_piece,
)
from tests.geometry.spoiling import traced_by_hand

DRESS = dress()

Spoil = Callable[[Pattern], Pattern]


def hem_apart(pattern: Pattern) -> Pattern:
    return with_edge(pattern, "front skirt", "hem", [(1, -600), (260, -600)])


def neck_across_the_fold(pattern: Pattern) -> Pattern:
    return with_edge(pattern, "front bodice", "neck", [(70, 410), (-40, 200), (0, 340)])


def dart_on_a_lost_edge(pattern: Pattern) -> Pattern:
    return with_dart(pattern, "front skirt", "waist dart", edge="yoke")


def notch_on_a_lost_edge(pattern: Pattern) -> Pattern:
    return with_notch(pattern, "sleeve", "top notch", edge="upper cap")


def fold_on_a_lost_edge(pattern: Pattern) -> Pattern:
    return with_piece(pattern, "front bodice", fold="yoke")


def tip_outside(pattern: Pattern) -> Pattern:
    return with_dart(pattern, "back skirt", "waist dart", tip=(-95, 120))


def legs_unequal(pattern: Pattern) -> Pattern:
    return with_dart(pattern, "back skirt", "waist dart", tip=(-85, -120))


def back_side_longer(pattern: Pattern) -> Pattern:
    return lengthened(pattern, "back bodice", "side", 5, from_mm=80, to_mm=160)


def back_shoulder_longer(pattern: Pattern) -> Pattern:
    return lengthened(pattern, "back bodice", "shoulder", 4, from_mm=90, to_mm=130)


def front_underarm_longer(pattern: Pattern) -> Pattern:
    return lengthened(pattern, "sleeve", "front underarm", 4, from_mm=100, to_mm=200)


def skirt_waist_longer(pattern: Pattern) -> Pattern:
    return lengthened(pattern, "back skirt", "waist", 6, from_mm=140, to_mm=200)


def skirt_dart_off(pattern: Pattern) -> Pattern:
    return with_dart(pattern, "front skirt", "waist dart", from_mm=105, to_mm=125, tip=(105, -90))


def hip_notch_off(pattern: Pattern) -> Pattern:
    return notch_moved(pattern, "front skirt", "hip notch", 5)


def hip_notch_lost(pattern: Pattern) -> Pattern:
    return with_piece(pattern, "back skirt", notches=())


def shoulder_notch_far_back(pattern: Pattern) -> Pattern:
    return notch_moved(pattern, "sleeve", "top notch", 12)


def cap_low(pattern: Pattern) -> Pattern:
    return pattern.with_piece(dress(cap_ease_mm=10).piece("sleeve"))


def ease_under_the_front_notch(pattern: Pattern) -> Pattern:
    return notch_moved(pattern, "sleeve", "front notch", 4)


def armhole_notch_high(pattern: Pattern) -> Pattern:
    return notch_moved(pattern, "front bodice", "armhole notch", 4)


def no_grain(pattern: Pattern) -> Pattern:
    return with_piece(pattern, "sleeve", grain=None)


def bent_fold(pattern: Pattern) -> Pattern:
    return with_edge(pattern, "front skirt", "centre front", [(0, 0), (-2, -300), (0, -600)])


FAULTS: list[tuple[Spoil, str, Level, str]] = [
    (hem_apart, "outline-open", Level.STOP, "front skirt"),
    (neck_across_the_fold, "outline-crosses", Level.STOP, "front bodice"),
    (dart_on_a_lost_edge, "part-missing", Level.STOP, "front skirt"),
    (notch_on_a_lost_edge, "part-missing", Level.STOP, "sleeve"),
    (fold_on_a_lost_edge, "part-missing", Level.STOP, "front bodice"),
    (tip_outside, "dart-tip-outside", Level.STOP, "back skirt"),
    (legs_unequal, "dart-legs", Level.WARN, "back skirt"),
    (back_side_longer, "seam-lengths", Level.STOP, "front bodice"),
    (back_shoulder_longer, "seam-lengths", Level.STOP, "back bodice"),
    (front_underarm_longer, "seam-lengths", Level.STOP, "sleeve"),
    (skirt_waist_longer, "seam-lengths", Level.STOP, "back skirt"),
    (skirt_dart_off, "waist-darts", Level.STOP, "front skirt"),
    (hip_notch_off, "notch-landing", Level.STOP, "front skirt"),
    (hip_notch_lost, "notch-alone", Level.WARN, "front skirt"),
    (cap_low, "cap-ease", Level.WARN, "sleeve"),
    (ease_under_the_front_notch, "cap-ease-low", Level.STOP, "sleeve"),
    (armhole_notch_high, "notch-landing", Level.STOP, "sleeve"),
    (shoulder_notch_far_back, "cap-ease-split", Level.WARN, "sleeve"),
    (no_grain, "grain-missing", Level.WARN, "sleeve"),
    (bent_fold, "fold-bent", Level.STOP, "front skirt"),
]


def test_a_good_dress_has_no_findings() -> None:
    assert checked(DRESS) == ()
    assert checked(DRESS, base=dress()) == ()


def test_a_good_dress_whose_notches_carry_no_words_has_no_findings() -> None:
    pieces = tuple(replace(p, notches=tuple(replace(n, partner="") for n in p.notches)) for p in DRESS.pieces)
    assert checked(Pattern(pieces)) == ()


@pytest.mark.parametrize("pattern", draft_nest().patterns, ids=lambda pattern: f"size {pattern.size}")
def test_the_drafted_dress_has_no_findings_in_any_size(pattern: Pattern) -> None:
    assert check_pattern(pattern, base=pattern) == ()


def traced(old: Piece, hand: np.random.Generator) -> Piece:
    """The piece as a hand leaves it on a digitiser, its notches without words."""
    piece = traced_by_hand(old, hand)
    return replace(piece, notches=tuple(replace(notch, partner="") for notch in piece.notches))


@pytest.mark.parametrize("seed", range(3))
def test_of_the_drafted_dress_traced_by_hand_only_the_shake_is_told(seed: int) -> None:
    hand = np.random.default_rng(seed)
    found = check_pattern(Pattern(tuple(traced(old, hand) for old in draft_nest().sample.pieces)))
    assert [(finding.code, finding.level) for finding in found] == [("outline-rough", Level.NOTE)] * 5


@pytest.mark.parametrize(("spoil", "code", "level", "piece"), FAULTS, ids=[fault[0].__name__ for fault in FAULTS])
def test_a_planted_fault_gives_exactly_its_own_finding(spoil: Spoil, code: str, level: Level, piece: str) -> None:
    (finding,) = checked(spoil(DRESS))
    assert (finding.code, finding.level, finding.piece) == (code, level, piece)
    assert finding.text[0].isupper() or finding.text[0] == '"'
    assert finding.text.endswith(".")
    assert f'"{piece}"' in finding.text


@pytest.mark.parametrize("fault", FAULTS, ids=[fault[0].__name__ for fault in FAULTS])
def test_two_faults_of_different_pieces_are_both_found(fault: tuple[Spoil, str, Level, str]) -> None:
    """A spoilt neighbour hides nothing: the toile's own fault, on a piece that nothing is sewn to, stays."""
    loose = with_piece(DRESS, "sleeve", grain=None).piece("sleeve")
    pocket = replace(loose, name="pocket", edges=tuple(Edge(e.id, e.points) for e in loose.edges), notches=())
    spoilt = fault[0](DRESS)
    codes = sorted(finding.code for finding in checked(replace(spoilt, pieces=(*spoilt.pieces, pocket))))
    assert codes == sorted([fault[1], "grain-missing"])


def test_findings_come_gravest_first_and_then_by_piece() -> None:
    pattern = no_grain(hip_notch_lost(back_side_longer(DRESS)))
    found = [(finding.level, finding.code) for finding in checked(pattern)]
    assert found == [
        (Level.STOP, "seam-lengths"),
        (Level.WARN, "grain-missing"),
        (Level.WARN, "notch-alone"),
    ]


def test_a_crossing_is_placed_where_the_lines_meet() -> None:
    """Neck from (-40, 200) to (0, 340) against the neck from (70, 410): both leave the fold at x = 0."""
    (finding,) = checked(neck_across_the_fold(DRESS))
    assert finding.where is not None
    assert finding.where[0] == pytest.approx(0)
    assert finding.where[1] == pytest.approx(410 - 70 / 110 * 210)


def test_an_outline_without_area_is_told_too() -> None:
    out_and_back = (Edge("a", frozen_points([(0, 0), (10, 0)])), Edge("b", frozen_points([(10, 0), (0, 0)])))
    strip = replace(DRESS.piece("sleeve"), edges=out_and_back, notches=())
    (finding,) = checked(DRESS.with_piece(strip))
    assert (finding.code, finding.piece, finding.where) == ("outline-crosses", "sleeve", None)
    assert "encloses nothing" in finding.text


def test_a_pattern_of_unnamed_edges_says_that_no_seam_was_checked() -> None:
    old = DRESS.piece("sleeve")
    piece = replace(old, edges=tuple(Edge(edge.id, edge.points) for edge in old.edges), notches=())
    (finding,) = checked(Pattern((piece,)))
    assert (finding.code, finding.level, finding.piece) == ("no-seams-known", Level.NOTE, None)


def test_seams_that_the_pattern_tells_are_used_instead_of_proposals() -> None:
    seam = Seam("hems", (EdgeRef("front skirt", "hem"),), (EdgeRef("back skirt", "hem"),), (False,), (True,))
    assert checked(replace(back_side_longer(DRESS), seams=(seam,))) == ()


def test_a_told_seam_of_a_lost_edge_stops_and_the_others_are_still_checked() -> None:
    lost = Seam("belt", (EdgeRef("front skirt", "belt"),), (EdgeRef("back skirt", "hem"),), (False,), (True,))
    sides = Seam("side", (EdgeRef("front bodice", "side"),), (EdgeRef("back bodice", "side"),), (True,), (False,))
    found = checked(replace(back_side_longer(DRESS), seams=(lost, sides)))
    assert [finding.code for finding in found] == ["seam-lengths", "part-missing"]
    assert '"belt"' in found[1].text


def test_a_notch_without_a_word_that_meets_nothing_is_only_a_note() -> None:
    piece = DRESS.piece("back bodice")
    extra = Notch("pocket notch", "side", 150)
    (finding,) = checked(DRESS.with_piece(replace(piece, notches=(*piece.notches, extra))))
    assert (finding.code, finding.level, finding.where) == ("notch-alone", Level.NOTE, (-215, 50))


def test_an_empty_pattern_has_no_findings() -> None:
    assert checked(Pattern(())) == ()


def test_every_check_names_the_source_of_its_limits_and_codes_are_unique() -> None:
    codes = [check.code for check in CHECKS]
    assert len(set(codes)) == len(codes)
    assert all(check.source and check.title for check in CHECKS)
    assert set(LIMITS_TOLD) == set(Limits.__dataclass_fields__)
    assert {fault[1] for fault in FAULTS} <= set(codes)


def test_a_piece_with_a_doubled_edge_point_is_still_simple() -> None:
    points = DRESS.piece("sleeve").edge("hem").points
    pattern = with_edge(DRESS, "sleeve", "hem", np.repeat(points, 2, axis=0).tolist())
    assert checked(pattern) == ()


def test_grain_is_not_asked_to_be_parallel_where_it_never_was() -> None:
    bias = with_piece(DRESS, "front skirt", grain=Grain((60, -300), (160, -200)))
    turned = with_piece(DRESS, "front skirt", grain=Grain((60, -300), (160, -300)))
    assert checked(turned, base=bias) == ()


def test_edges_of_role_other_do_not_disturb() -> None:
    strap = replace(DRESS.piece("sleeve"), name="strap", fold=None, notches=(), grain=Grain((5, 1), (5, 9)))
    square = [(0, 0), (10, 0), (10, 10), (0, 10), (0, 0)]
    edges = tuple(Edge(f"edge {k}", frozen_points(square[k : k + 2]), EdgeRole.OTHER) for k in range(4))
    assert checked(replace(DRESS, pieces=(*DRESS.pieces, replace(strap, edges=edges)))) == ()
