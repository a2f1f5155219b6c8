"""Each limit holds to a tenth of a millimetre, at the figures that were published or are common practice."""

import math

import pytest

from geometry.checks.limits import Limits
from geometry.findings import Finding, Level
from geometry.model.marks import Grain
from geometry.model.pattern import Pattern
from geometry.units import MM_PER_INCH
from tests.geometry.plain_dress import (
    BACK_ARMHOLE_MM,
    FRONT_ARMHOLE_MM,
    SKIRT_SIDE_MM,
    checked,
    dress,
    lengthened,
    notch_moved,
    with_dart,
    with_edge,
    with_piece,
)

DRESS = dress()

FITTER = [(1.4, None), (1.6, Level.WARN), (2.9, Level.WARN), (3.1, Level.STOP)]
"""1/16 in is the accuracy of a professional fitter, 1/8 in suits many (Threads, 10 patternwork skills, 2020)."""


def only(pattern: Pattern, code: str, *, base: Pattern | None = None) -> Finding | None:
    """The one finding there may be; it must carry the code."""
    found = checked(pattern, base=base)
    assert [finding.code for finding in found] == [code] * len(found)
    assert len(found) <= 1
    return found[0] if found else None


def level(finding: Finding | None) -> Level | None:
    return finding.level if finding else None


def test_the_fitters_limits_are_a_sixteenth_and_an_eighth_of_an_inch_to_a_tenth() -> None:
    limits = Limits()
    assert limits.seam_warn_mm == pytest.approx(MM_PER_INCH / 16, abs=0.1)
    assert limits.seam_stop_mm == pytest.approx(MM_PER_INCH / 8, abs=0.2)


@pytest.mark.parametrize(("by_mm", "expected"), FITTER)
def test_paired_seams(by_mm: float, expected: Level | None) -> None:
    finding = only(lengthened(DRESS, "back bodice", "side", by_mm, from_mm=80, to_mm=160), "seam-lengths")
    assert level(finding) == expected
    if finding:
        assert finding.measured_mm == pytest.approx(200)
        assert finding.expected_mm == pytest.approx(200 + by_mm)
        assert f"{by_mm:g} mm too short" in finding.text
        assert '"back bodice"' in finding.text


@pytest.mark.parametrize(("by_mm", "expected"), FITTER)
def test_dart_legs(by_mm: float, expected: Level | None) -> None:
    """Legs of 110 and 110 + d mm from a mouth 30 mm wide, laid out by the cosine law from its first point."""
    long_mm, mouth_mm = 110 + by_mm, 30
    along = (long_mm**2 - 110**2 + mouth_mm**2) / (2 * mouth_mm)
    tip = (-80 - along, -math.sqrt(long_mm**2 - along**2))
    finding = only(with_dart(DRESS, "back skirt", "waist dart", tip=tip), "dart-legs")
    assert level(finding) == expected
    if finding:
        assert (finding.measured_mm, finding.expected_mm) == pytest.approx((long_mm, 110))
        assert finding.where == pytest.approx((-80, 0))


@pytest.mark.parametrize(("by_mm", "expected"), FITTER)
@pytest.mark.parametrize("way", [1, -1])
def test_notches_of_a_plain_seam(by_mm: float, expected: Level | None, way: int) -> None:
    finding = only(notch_moved(DRESS, "front skirt", "hip notch", way * by_mm), "notch-landing")
    assert level(finding) == expected
    if finding:
        assert f"{by_mm:g} mm nearer the {'waist' if way > 0 else 'hem'}" in finding.text
        assert finding.measured_mm == pytest.approx(200 - way * by_mm)
        assert finding.expected_mm == pytest.approx(200)


def test_a_notch_may_land_from_either_end_of_a_seam_whose_sides_differ() -> None:
    """Both notches 200 mm below the waist, then both as far above the hem: only the length is wrong."""
    longer = lengthened(DRESS, "back skirt", "side", 5, from_mm=300, to_mm=500)
    assert only(longer, "seam-lengths")
    assert only(notch_moved(longer, "back skirt", "hip notch", 5), "seam-lengths")
    both = checked(notch_moved(longer, "back skirt", "hip notch", 7))
    assert sorted(finding.code for finding in both) == ["notch-landing", "seam-lengths"]


@pytest.mark.parametrize(("by_mm", "expected"), [(2.9, None), (3.1, Level.STOP)])
@pytest.mark.parametrize("way", [1, -1])
def test_bodice_and_skirt_darts_meet_within_an_eighth(by_mm: float, expected: Level | None, way: int) -> None:
    """1/8 in: common practice, from memory. The skirt's waist runs from its side, so plus is nearer the centre."""
    moved = way * by_mm
    spoilt = with_dart(
        DRESS, "front skirt", "waist dart", from_mm=110 + moved, to_mm=130 + moved, tip=(100 - moved, -90)
    )
    finding = only(spoilt, "waist-darts")
    assert level(finding) == expected
    if finding:
        assert f"{by_mm:g} mm nearer the {'centre front' if way > 0 else 'side'}" in finding.text
        assert finding.measured_mm == pytest.approx(90 - moved)
        assert finding.expected_mm == pytest.approx(90)


@pytest.mark.parametrize(
    ("ease_mm", "expected"),
    [(-0.5, Level.STOP), (0.5, Level.WARN), (19.0, Level.WARN), (19.1, None), (38.0, None), (38.2, Level.WARN)],
)
def test_cap_ease_of_a_dress(ease_mm: float, expected: Level | None) -> None:
    """3/4 to 1 1/2 in for a dress or blouse, never shorter than the armhole: common practice, from memory."""
    finding = only(dress(ease_mm), "cap-ease")
    assert level(finding) == expected
    if finding:
        assert finding.measured_mm == pytest.approx(ease_mm)
        assert finding.expected_mm == pytest.approx(38.1 if ease_mm > 30 else 19.05)


@pytest.mark.parametrize("ease_mm", [25.4, 38.1, 1.375 * 25.4])
def test_published_cap_ease_is_in_the_band(ease_mm: float) -> None:
    """Textbooks ask for 1 to 1 1/2 in; 1 3/8 in looked right in a woven (madalynne.com, sleeve cap ease)."""
    assert checked(dress(round(ease_mm, 6))) == ()


@pytest.mark.parametrize(("by_mm", "expected"), FITTER)
def test_no_ease_lies_below_the_notches(by_mm: float, expected: Level | None) -> None:
    """All ease lies between front and back notches over the top: common practice, from memory."""
    finding = only(notch_moved(DRESS, "sleeve", "front notch", by_mm), "cap-ease-low")
    assert level(finding) == expected
    if finding:
        assert (finding.measured_mm, finding.expected_mm) == pytest.approx((by_mm, 0))


def test_ease_below_a_double_notch_is_told_once() -> None:
    both = notch_moved(notch_moved(DRESS, "sleeve", "upper notch", -4), "sleeve", "lower notch", -4)
    assert level(only(both, "cap-ease-low")) is Level.STOP


@pytest.mark.parametrize(("towards_back_mm", "expected"), [(0, None), (0.7, None), (0.8, Level.WARN)])
def test_the_back_of_the_cap_has_as_much_ease_as_the_front(towards_back_mm: float, expected: Level | None) -> None:
    """Back 1/2 to 5/8 in, front 3/8 to 1/2 in, so back at least as much as front: common practice, from memory."""
    finding = only(notch_moved(DRESS, "sleeve", "top notch", towards_back_mm), "cap-ease-split")
    assert level(finding) == expected
    if finding:
        assert finding.measured_mm == pytest.approx(15 + towards_back_mm)
        assert finding.expected_mm == pytest.approx(15 - towards_back_mm)


@pytest.mark.parametrize(
    ("ease_mm", "code", "expected"),
    [
        (6.3, "shoulder-ease", None),
        (6.4, "shoulder-ease", Level.NOTE),
        (12.6, "shoulder-ease", Level.NOTE),
        (14.3, "seam-lengths", Level.WARN),
        (15.8, "seam-lengths", Level.STOP),
    ],
)
def test_back_shoulder_without_a_dart(ease_mm: float, code: str, expected: Level | None) -> None:
    """Back longer by 0 to 1/2 in, up to 1/4 in is safe: common practice, from memory. The plain back is 135 mm."""
    undarted = with_piece(DRESS, "back bodice", darts=DRESS.piece("back bodice").darts[:1])
    change_mm = ease_mm - 10
    name = "back bodice" if change_mm > 0 else "front bodice"
    spoilt = lengthened(undarted, name, "shoulder", abs(change_mm), from_mm=30, to_mm=90)
    assert level(only(spoilt, code)) == expected


@pytest.mark.parametrize(
    ("bend_mm", "expected"), [(0.4, None), (0.6, Level.WARN), (1.4, Level.WARN), (1.6, Level.STOP)]
)
def test_an_edge_on_the_fold_is_straight(bend_mm: float, expected: Level | None) -> None:
    spoilt = with_edge(DRESS, "front skirt", "centre front", [(0, 0), (-bend_mm, -250), (0, -600)])
    finding = only(spoilt, "fold-bent")
    assert level(finding) == expected
    if finding:
        assert finding.measured_mm == pytest.approx(bend_mm)
        assert finding.where == pytest.approx((-bend_mm, -250))


@pytest.mark.parametrize(("angle_deg", "expected"), [(0.9, None), (1.1, Level.WARN), (-1.1, Level.WARN)])
def test_grain_stays_parallel_within_a_degree(angle_deg: float, expected: Level | None) -> None:
    """1 degree over 60 cm is 10.5 mm (own arithmetic): 600 sin 1 degree = 10.47."""
    lean = math.radians(angle_deg)
    grain = Grain((60, -600), (60 + 600 * math.sin(lean), -600 + 600 * math.cos(lean)))
    finding = only(with_piece(DRESS, "front skirt", grain=grain), "grain-turned", base=DRESS)
    assert level(finding) == expected
    if finding:
        assert finding.measured_mm == pytest.approx(600 * math.sin(abs(lean)))
        assert finding.expected_mm == pytest.approx(10.47, abs=0.005)


def test_limits_can_be_changed() -> None:
    spoilt = lengthened(DRESS, "back bodice", "side", 5, from_mm=80, to_mm=160)
    assert checked(spoilt, seam_warn_mm=6, seam_stop_mm=8) == ()
    (finding,) = checked(DRESS, cap_dress_mm=(0, 10))
    assert finding.code == "cap-ease"
    assert finding.measured_mm == pytest.approx(30)


def test_the_good_dress_measures_what_it_says() -> None:
    assert DRESS.piece("front bodice").sewn_length_mm("armhole") == pytest.approx(FRONT_ARMHOLE_MM)
    assert DRESS.piece("back bodice").sewn_length_mm("armhole") == pytest.approx(BACK_ARMHOLE_MM)
    assert DRESS.piece("front skirt").sewn_length_mm("side") == pytest.approx(SKIRT_SIDE_MM)
