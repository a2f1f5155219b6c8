"""One fault for each check, planted in the drafted dress or trousers, which have none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from geometry.findings import Level
from geometry.model.pattern import Pattern
from samples.neck_facings import with_neck_facings
from tests.geometry.spoiling import (
    bumped,
    kinked,
    rectangle,
    tilted,
    turned_grain,
    with_notch,
    with_parts,
    with_piece,
)
from tests.geometry.spoilt_pieces import (
    across_the_side_dart,
    aim_beside_the_bust_point,
    allowance,
    biceps_line_aslant,
    bodice_longer_than_its_lining,
    button_lower,
    buttoned,
    collar,
    crease_aside,
    dart_at_a_corner,
    dart_beside_its_aim,
    dart_beyond_its_edge,
    dart_of_a_lost_edge,
    dart_too_long,
    edge_without_length,
    extra_dart,
    hem_apart,
    high_cap,
    hip_notch_behind,
    hole_aside,
    inseam_let_out,
    landmark_outside,
    legs_unequal,
    lined,
    longer,
    mitred,
    nameless,
    neck_across_the_fold,
    no_armhole_notches,
    no_back_skirt,
    notch_off,
    notches_all_round_the_neck,
    notches_at_a_corner,
    nothing_known,
    one_mitred_hem,
    one_sleeve,
    only_a_left_sleeve,
    other_way,
    right_sleeve_longer,
    rough_sleeve,
    short_waistband,
    shoulder_eased,
    skirt_dart_moved,
    skirt_dart_split,
    towards_the_armhole,
    two_cuts_in_one,
    two_single_sleeves,
    two_sleeves,
    uneven_double_dart,
    wide_dart,
    without_notches,
    wrong_words,
)
from tests.geometry.spoilt_seams import neck_lowered, without_notch, zip_open

Spoil = Callable[[Pattern], Pattern]


@dataclass(frozen=True)
class Fault:
    """A fault.

    Attributes:
        code: What finds it.
        level: How grave it is.
        piece: Where it is told.
        spoil: Plants it.
        before: What is done to the good pattern first; the result is still good.
        knows_base: Whether the checks are given the pattern before the fault was planted.
        is_fixable: Whether a step puts it right.
        style: "dress" or "trousers".
    """

    code: str
    level: Level
    piece: str | None
    spoil: Spoil
    before: Spoil = lambda pattern: pattern
    knows_base: bool = False
    is_fixable: bool = False
    style: str = "dress"


FAULTS = (
    Fault("name-missing", Level.WARN, " ", nameless),
    Fault("name-twice", Level.STOP, "sleeve", two_sleeves),
    Fault("cut-words", Level.WARN, "front bodice", wrong_words, is_fixable=True),
    Fault("cut-once", Level.WARN, "sleeve", one_sleeve, is_fixable=True),
    Fault("hand-missing", Level.WARN, "left sleeve", only_a_left_sleeve),
    Fault("hands-differ", Level.NOTE, "left sleeve", right_sleeve_longer, two_single_sleeves),
    Fault("part-missing", Level.STOP, "front skirt", dart_of_a_lost_edge),
    Fault("outline-open", Level.STOP, "front skirt", hem_apart),
    Fault("outline-crosses", Level.STOP, "front bodice", neck_across_the_fold),
    Fault("outline-rough", Level.NOTE, "sleeve", rough_sleeve),
    Fault("edge-empty", Level.STOP, "sleeve", edge_without_length),
    Fault("edge-kinked", Level.WARN, "back bodice", lambda p: kinked(p, "back bodice", "side", 4.5), is_fixable=True),
    Fault("curve-turned", Level.WARN, "back bodice", lambda p: bumped(p, "back bodice", "side", 5.0), knows_base=True),
    Fault(
        "centre-bent",
        Level.WARN,
        "back bodice",
        lambda p: bumped(p, "back bodice", "centre back", -4.0),
        knows_base=True,
        is_fixable=True,
    ),
    Fault("edge-added", Level.WARN, "front trousers", inseam_let_out, knows_base=True, style="trousers"),
    Fault("seam-lengths", Level.STOP, "front bodice", lambda p: longer(p, "back bodice", 5.0), is_fixable=True),
    Fault("shoulder-ease", Level.NOTE, "back bodice", shoulder_eased),
    Fault("seam-end-lost", Level.STOP, "back skirt", lambda p: without_notch(p, "back skirt", "zip end"), zip_open),
    Fault("edge-unsewn", Level.NOTE, "front skirt", no_back_skirt),
    Fault("no-seams-known", Level.NOTE, None, nothing_known),
    Fault(
        "neighbour-not-changed",
        Level.STOP,
        "front bodice",
        lambda p: longer(p, "back bodice", 8.0),
        knows_base=True,
        is_fixable=True,
    ),
    Fault("collar-length", Level.STOP, "collar", lambda p: collar(p, 12.0), is_fixable=True),
    Fault("band-length", Level.STOP, "waistband", short_waistband, is_fixable=True, style="trousers"),
    Fault("facing-fit", Level.STOP, "front neck facing", neck_lowered, with_neck_facings, is_fixable=True),
    Fault(
        "layer-not-changed",
        Level.STOP,
        "front bodice lining",
        bodice_longer_than_its_lining,
        lined,
        knows_base=True,
        is_fixable=True,
    ),
    Fault("cap-ease", Level.WARN, "sleeve", high_cap),
    Fault(
        "cap-ease-low",
        Level.STOP,
        "sleeve",
        lambda p: notch_off(p, "sleeve", "front armhole", -4.0),
        is_fixable=True,
    ),
    Fault("cap-ease-split", Level.WARN, "sleeve", lambda p: notch_off(p, "sleeve", "shoulder", -14.0), is_fixable=True),
    Fault(
        "corner-across-seam",
        Level.WARN,
        "back bodice",
        lambda p: tilted(p, "front bodice", "neck", 12.0, at_start=True, over_mm=45.0),
        is_fixable=True,
    ),
    Fault(
        "fold-square",
        Level.WARN,
        "front bodice",
        lambda p: tilted(p, "front bodice", "neck", -14.0, at_start=False, over_mm=60.0),
        is_fixable=True,
    ),
    Fault("dart-mouth", Level.STOP, "front skirt", dart_beyond_its_edge),
    Fault("darts-overlap", Level.STOP, "front skirt", extra_dart),
    Fault("darts-cross", Level.STOP, "front bodice", across_the_side_dart),
    Fault("dart-legs", Level.WARN, "back skirt", legs_unequal, is_fixable=True),
    Fault("dart-tip-outside", Level.STOP, "front bodice", lambda p: towards_the_armhole(p, 30.0), is_fixable=True),
    Fault("dart-clear", Level.WARN, "front bodice", lambda p: towards_the_armhole(p, -6.0), is_fixable=True),
    Fault("dart-uncapped", Level.WARN, "front bodice", dart_at_a_corner),
    Fault("dart-wide", Level.NOTE, "back trousers", wide_dart, style="trousers"),
    Fault("double-dart", Level.STOP, "back bodice", uneven_double_dart),
    Fault("dart-stand-off", Level.WARN, "front bodice", dart_too_long, is_fixable=True),
    Fault("dart-aim", Level.WARN, "back bodice", dart_beside_its_aim, is_fixable=True),
    Fault("dart-landmark", Level.WARN, "front bodice", aim_beside_the_bust_point, is_fixable=True),
    Fault(
        "dart-pressed", Level.NOTE, "front bodice", lambda p: other_way(p, "front bodice", "side dart"), is_fixable=True
    ),
    Fault("darts-nest", Level.NOTE, "front skirt", lambda p: other_way(p, "front skirt", "waist dart")),
    Fault(
        "waist-darts",
        Level.STOP,
        "front skirt",
        skirt_dart_moved,
        is_fixable=True,
    ),
    Fault(
        "dart-alone",
        Level.NOTE,
        "front skirt",
        skirt_dart_split,
    ),
    Fault(
        "notch-landing",
        Level.STOP,
        "front bodice",
        lambda p: notch_off(p, "front bodice", "bust", -6.0),
        is_fixable=True,
    ),
    Fault(
        "notch-alone", Level.WARN, "front bodice", lambda p: without_notches(p, "back bodice", "side"), is_fixable=True
    ),
    Fault("notch-crowd", Level.WARN, "back skirt", two_cuts_in_one, is_fixable=True),
    Fault("notch-many", Level.NOTE, "front bodice", notches_all_round_the_neck),
    Fault("notch-corner", Level.WARN, "front bodice", notches_at_a_corner, is_fixable=True),
    Fault("notch-deep", Level.WARN, "front bodice", lambda p: with_notch(p, "front bodice", "bust", depth_mm=14.0)),
    Fault("ease-notches", Level.NOTE, "sleeve", no_armhole_notches),
    Fault(
        "level-notch",
        Level.WARN,
        "back skirt",
        lambda p: notch_off(p, "back skirt", "hip behind", -6.0),
        hip_notch_behind,
        is_fixable=True,
    ),
    Fault("level-tilted", Level.WARN, "sleeve", biceps_line_aslant),
    Fault("buttons-uneven", Level.WARN, "front bodice", button_lower, buttoned),
    Fault(
        "zip-length", Level.NOTE, "back skirt", lambda p: notch_off(p, "back skirt", "zip end", -20.0), knows_base=True
    ),
    Fault("grain-missing", Level.WARN, "sleeve", lambda p: with_parts(p, "sleeve", grain=None)),
    Fault(
        "grain-turned",
        Level.WARN,
        "sleeve",
        lambda p: with_parts(p, "sleeve", grain=turned_grain(p.piece("sleeve"), 2.0)),
        knows_base=True,
        is_fixable=True,
    ),
    Fault(
        "fold-off-grain",
        Level.WARN,
        "front skirt",
        lambda p: with_parts(p, "front skirt", grain=turned_grain(p.piece("front skirt"), -5.0), inner_lines=()),
        is_fixable=True,
    ),
    Fault("crease-off", Level.WARN, "front trousers", crease_aside, knows_base=True, style="trousers"),
    Fault(
        "fold-bent",
        Level.STOP,
        "front skirt",
        lambda p: bumped(p, "front skirt", "centre front", -2.0),
        is_fixable=True,
    ),
    Fault(
        "allowance-on-fold",
        Level.WARN,
        "front bodice",
        lambda p: allowance(p, "front bodice", "centre front", 15.0),
        is_fixable=True,
    ),
    Fault(
        "allowance-missing",
        Level.WARN,
        "front bodice",
        lambda p: allowance(p, "front bodice", "shoulder", 0.0),
        is_fixable=True,
    ),
    Fault(
        "allowance-narrow",
        Level.WARN,
        "front bodice",
        lambda p: allowance(p, "front bodice", "neck", 4.0),
        is_fixable=True,
    ),
    Fault(
        "allowance-differs",
        Level.WARN,
        "front bodice",
        lambda p: allowance(p, "front bodice", "side", 12.0),
        is_fixable=True,
    ),
    Fault(
        "hem-differs", Level.WARN, "front skirt", lambda p: allowance(p, "front skirt", "hem", 30.0), is_fixable=True
    ),
    Fault("hem-full", Level.NOTE, "sleeve", lambda p: allowance(p, "sleeve", "hem", 75.0)),
    Fault("hem-mirrored", Level.NOTE, "front trousers", mitred, one_mitred_hem, is_fixable=True, style="trousers"),
    Fault(
        "allowance-trimmed",
        Level.WARN,
        "front bodice",
        lambda p: allowance(p, "front bodice", "neck", 80.0),
        is_fixable=True,
    ),
    Fault("mark-outside", Level.WARN, "sleeve", landmark_outside),
    Fault("drill-hole", Level.WARN, "back skirt", hole_aside, is_fixable=True),
    Fault(
        "mark-lost",
        Level.NOTE,
        "front skirt",
        lambda p: with_parts(p, "front skirt", inner_lines=p.piece("front skirt").inner_lines[1:]),
        knows_base=True,
    ),
    Fault("cloth-width", Level.WARN, "curtain", lambda p: with_piece(p, rectangle("curtain", 1500, 300))),
)
