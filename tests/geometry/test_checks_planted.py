"""Each check finds the fault that is planted for it in a good pattern, in every size, and nothing else."""

import pytest

from geometry.checks.fixing import fixes
from geometry.checks.run import CHECKS, check_pattern
from geometry.findings import Finding, Level
from geometry.model.pattern import Pattern
from samples import draft_dress, draft_trousers
from tests.geometry.planted_faults import FAULTS, Fault

STYLES = {"dress": draft_dress.draft_nest(), "trousers": draft_trousers.draft_nest()}
SIZES = ("4", "10", "16")


def planted(fault: Fault, size: str) -> tuple[Pattern, Pattern | None]:
    """The spoilt pattern and what the checks are told it was before."""
    good = fault.before(STYLES[fault.style].pattern(size))
    return fault.spoil(good), good if fault.knows_base else None


def found(fault: Fault, size: str) -> tuple[Finding, ...]:
    spoilt, base = planted(fault, size)
    return check_pattern(spoilt, base=base)


@pytest.mark.parametrize("style", STYLES)
def test_good_patterns_have_no_findings_in_any_size(style: str) -> None:
    for pattern in STYLES[style].patterns:
        assert check_pattern(pattern, base=pattern) == ()
        assert check_pattern(pattern) == ()


@pytest.mark.parametrize("fault", [f for f in FAULTS if f.before.__name__ != "<lambda>"], ids=lambda f: f.code)
def test_what_a_fault_is_planted_in_is_good_too(fault: Fault) -> None:
    assert check_pattern(fault.before(STYLES[fault.style].sample)) == ()


def test_every_check_has_a_fault_planted_for_it_and_there_are_far_more_than_thirty() -> None:
    assert [check.code for check in CHECKS if check.code not in {fault.code for fault in FAULTS}] == []
    assert len({fault.code for fault in FAULTS}) == len(FAULTS) == len(CHECKS) > 60


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.code)
def test_a_planted_fault_gives_exactly_its_own_finding(fault: Fault, size: str) -> None:
    findings = found(fault, size)
    assert [(each.code, each.level, each.piece) for each in findings] == [(fault.code, fault.level, fault.piece)]
    (finding,) = findings
    assert finding.text.endswith(".")
    assert finding.text[0].isupper() or finding.text[0] == '"'


@pytest.mark.parametrize("fault", [fault for fault in FAULTS if fault.is_fixable], ids=lambda fault: fault.code)
def test_a_fix_puts_its_fault_right_and_a_second_one_what_it_left(fault: Fault) -> None:
    """A dart that is moved leaves a corner in its edge until that is trued as well; notes may stay."""
    pattern, base = planted(fault, "10")
    (finding,) = check_pattern(pattern, base=base)
    for _ in range(2):
        step = fixes(pattern, finding, base=base)
        assert step is not None
        pattern = step.apply(pattern).pattern
        left = [each for each in check_pattern(pattern, base=base) if each.level is not Level.NOTE]
        if not left:
            break
        (finding,) = left
        assert (finding.level, finding.code != fault.code) == (Level.WARN, True)
    assert left == []
    assert fault.code not in {each.code for each in check_pattern(pattern, base=base)}


@pytest.mark.parametrize("fault", [fault for fault in FAULTS if not fault.is_fixable], ids=lambda fault: fault.code)
def test_where_only_a_person_can_tell_no_step_is_offered(fault: Fault) -> None:
    spoilt, base = planted(fault, "10")
    (finding,) = check_pattern(spoilt, base=base)
    assert fixes(spoilt, finding, base=base) is None


def test_a_finding_of_import_or_replay_has_no_fix() -> None:
    told = Finding("unit-known", Level.NOTE, "The unit is mm.", "sleeve")
    assert fixes(STYLES["dress"].sample, told) is None
