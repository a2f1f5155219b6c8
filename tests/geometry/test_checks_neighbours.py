"""What an alteration changed on one piece and not on the one it is sewn to."""

import pytest

from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.full_bust import FullBust
from geometry.alterations.slash import Slash, SlashCut
from geometry.alterations.upper_arm import UpperArm
from geometry.checks.run import check_pattern
from geometry.findings import Finding, Level
from geometry.model.pattern import Pattern
from samples.draft_dress import draft_nest
from tests.geometry.plain_dress import checked, dress, lengthened

DRESS = dress()


def side_longer(pattern: Pattern, name: str, by_mm: float) -> Pattern:
    from_mm, to_mm = (80, 140) if name.startswith("back") else (180, 220)
    return lengthened(pattern, name, "side", by_mm, from_mm=from_mm, to_mm=to_mm)


def only(pattern: Pattern, base: Pattern = DRESS) -> Finding | None:
    found = [finding for finding in checked(pattern, base=base) if finding.code != "zip-length"]
    assert {finding.code for finding in found} <= {"neighbour-not-changed"}
    assert len(found) <= 1
    return found[0] if found else None


def test_a_side_seam_lengthened_in_front_only_is_told_on_the_back() -> None:
    finding = only(side_longer(DRESS, "front bodice", 10))
    assert finding is not None
    assert (finding.level, finding.piece) == (Level.STOP, "back bodice")
    assert (finding.measured_mm, finding.expected_mm) == pytest.approx((200, 210))
    assert finding.where == pytest.approx((-215, 100))
    assert 'side of "front bodice" grew by 10 mm' in finding.text
    assert 'side of "back bodice" did not change' in finding.text
    assert 'lengthen the side of "back bodice" by 10 mm' in finding.text


@pytest.mark.parametrize(("by_mm", "expected"), [(1.4, None), (1.6, "warn"), (2.9, "warn"), (3.1, "stop")])
def test_the_limits_are_those_of_a_seam(by_mm: float, expected: str | None) -> None:
    """1/16 in and 1/8 in (Threads, 10 patternwork skills, 2020)."""
    finding = only(side_longer(DRESS, "back bodice", by_mm))
    assert (finding.level if finding else None) == expected


def test_a_length_alteration_on_front_and_back_leaves_nothing_to_say() -> None:
    assert only(side_longer(side_longer(DRESS, "front bodice", 10), "back bodice", 10)) is None


def test_a_neighbour_that_followed_half_way_is_told_what_is_left() -> None:
    finding = only(side_longer(side_longer(DRESS, "front bodice", 10), "back bodice", 4))
    assert finding is not None
    assert 'lengthen the side of "back bodice" by 6 mm' in finding.text
    assert "grew by 4 mm" in finding.text
    assert (finding.measured_mm, finding.expected_mm) == pytest.approx((204, 210))


def test_a_shortened_side_asks_to_shorten_the_other() -> None:
    finding = only(DRESS, base=side_longer(side_longer(DRESS, "front bodice", 8), "back bodice", 8))
    assert finding is None
    finding = only(
        side_longer(DRESS, "back bodice", 8), base=side_longer(side_longer(DRESS, "front bodice", 8), "back bodice", 8)
    )
    assert finding is not None
    assert "shrank by 8 mm" in finding.text
    assert "shorten" in finding.text


def test_an_armhole_that_grew_past_the_caps_ease_names_the_sleeve() -> None:
    finding = only(lengthened(DRESS, "front bodice", "armhole", 15, from_mm=100, to_mm=180))
    assert finding is not None
    assert (finding.level, finding.piece) == (Level.WARN, "sleeve")
    assert "ease now 15 mm, wanted 19.1 mm to 38.1 mm" in finding.text
    assert 'armhole of "front bodice"' in finding.text
    assert "back bodice" not in finding.text


def test_an_armhole_longer_than_the_cap_stops() -> None:
    finding = only(lengthened(DRESS, "front bodice", "armhole", 31, from_mm=100, to_mm=180))
    assert finding is not None
    assert finding.level is Level.STOP


def test_a_change_that_stays_within_the_caps_ease_is_only_a_note() -> None:
    finding = only(lengthened(DRESS, "front bodice", "armhole", 5, from_mm=100, to_mm=180))
    assert finding is not None
    assert finding.level is Level.NOTE
    assert "ease now 25 mm" in finding.text


def test_a_waist_let_out_in_the_skirt_names_the_bodice() -> None:
    finding = only(lengthened(DRESS, "back skirt", "waist", 8, from_mm=140, to_mm=200))
    assert finding is not None
    assert (finding.level, finding.piece) == (Level.STOP, "back bodice")


def test_a_change_that_puts_a_fault_right_leaves_nothing_to_say() -> None:
    assert (
        only(
            side_longer(side_longer(DRESS, "front bodice", 6), "back bodice", 6),
            base=side_longer(DRESS, "front bodice", 6),
        )
        is None
    )


def test_a_fault_that_was_there_before_is_told_as_a_seam() -> None:
    spoilt = side_longer(DRESS, "front bodice", 6)
    (finding,) = checked(spoilt, base=spoilt)
    assert finding.code == "seam-lengths"


def test_a_piece_that_the_base_did_not_have_is_not_compared() -> None:
    base = Pattern(tuple(piece for piece in DRESS.pieces if piece.name != "back bodice"))
    (finding,) = checked(side_longer(DRESS, "front bodice", 6), base=base)
    assert finding.code == "seam-lengths"


def across(piece: str, start: Anchor, end: Anchor, opening_mm: float) -> Slash:
    return Slash(piece, (SlashCut((start, end), opening_mm),))


FRONT_SHORTER = across("front bodice", on_edge("centre front", 0.85), on_edge("side", 0.15), -15)
BACK_SHORTER = across("back bodice", on_edge("centre back", 0.15), on_edge("side", 0.85), -15)


def test_the_sample_shortened_in_front_only_is_told_on_the_back() -> None:
    sample = draft_nest().sample
    finding = only(FRONT_SHORTER.apply(sample).pattern, base=sample)
    assert finding is not None
    assert (finding.level, finding.piece) == (Level.STOP, "back bodice")
    assert 'shorten the side of "back bodice" by 15 mm' in finding.text


def test_the_sample_shortened_in_front_and_back_leaves_nothing_to_say() -> None:
    sample = draft_nest().sample
    assert only(BACK_SHORTER.apply(FRONT_SHORTER.apply(sample).pattern).pattern, base=sample) is None


def test_a_full_bust_and_a_full_upper_arm_leave_every_neighbour_as_it_was() -> None:
    """What both alterations are made for: seams with their darts folded keep their lengths (common practice)."""
    sample = draft_nest().sample
    front = sample.piece("front bodice")
    middles = {dart.edge: (dart.from_mm + dart.to_mm) / 2 / front.edge(dart.edge).length_mm for dart in front.darts}
    bust = FullBust(
        "front bodice",
        12.7,
        bust_point=Anchor(On.LANDMARK, "bust point"),
        armhole=on_edge("armhole", 0.35),
        side=on_edge("side", middles["side"]),
        waist=on_edge("waist", middles["waist"]),
        centre=on_edge("centre front", 0.8),
    )
    arm = UpperArm(
        "sleeve",
        25.4,
        top=Anchor(On.LANDMARK, "cap top"),
        hem=on_edge("hem", 0.5),
        front=on_edge("cap", 0),
        back=on_edge("cap", 1),
    )
    found = check_pattern(arm.apply(bust.apply(sample).pattern).pattern, base=sample)
    assert {finding.code for finding in found}.isdisjoint({"neighbour-not-changed", "seam-lengths", "notch-landing"})
