"""What the person says about the bought pattern: edge names and roles, seams, allowances."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from editor.cli import main
from editor.document.project import Base, Project, Round, Wearer
from editor.document.project_file import project_bytes, project_from_bytes, save_project
from editor.document.statements import (
    as_said,
    proposals,
    with_allowances,
    with_edge_named,
    with_edge_role,
    with_seam,
    without_seam,
)
from geometry.checks.limits import Limits
from geometry.errors import PatternError
from geometry.model.edge import EdgeRole
from geometry.model.pattern import EdgeRef, Pattern
from geometry.units import Unit
from samples.draft_dress import draft_nest
from samples.journals import MAREN_SIZE, ODILE_SIZE, maren, odile


@pytest.fixture(scope="module")
def choir() -> Project:
    wearers = (
        Wearer("1", "Odile", ODILE_SIZE, (Round("1", "toile 1", "", odile()),)),
        Wearer("2", "Maren", MAREN_SIZE, (Round("1", "toile 1", "", maren()),)),
    )
    return Project(Base("dress.dxf", b"", Unit.CM, draft_nest()), wearers)


@pytest.mark.parametrize(("piece", "edge"), [("front bodice", "armhole"), ("front bodice", "side"), ("sleeve", "cap")])
def test_a_renamed_edge_changes_no_shape_of_any_wearer(choir: Project, piece: str, edge: str) -> None:
    renamed = with_edge_named(choir, piece, edge, "  new   name ")
    for wearer in choir.wearers:
        before, after = choir.replayed(wearer.id, "1"), renamed.replayed(wearer.id, "1")
        assert after.findings == before.findings
        for old, new in zip(before.pattern.pieces, after.pattern.pieces, strict=True):
            assert np.array_equal(old.outline, new.outline)
        names = [each.id for each in after.pattern.piece(piece).edges]
        assert "new name" in names
        assert edge not in names
    assert with_edge_named(renamed, piece, "new name", edge) == choir


def test_a_name_another_edge_has_is_refused(choir: Project) -> None:
    with pytest.raises(PatternError, match="already"):
        with_edge_named(choir, "sleeve", "cap", "hem")
    with pytest.raises(PatternError, match="name"):
        with_edge_named(choir, "sleeve", "cap", "  ")


def test_a_role_is_stated_in_every_size(choir: Project) -> None:
    stated = with_edge_role(choir, "sleeve", "cap", EdgeRole.OTHER)
    assert {pattern.piece("sleeve").edge("cap").role for pattern in stated.base.nest.patterns} == {EdgeRole.OTHER}


def test_proposals_hold_until_something_is_said_about_their_edges(choir: Project) -> None:
    proposed = proposals(choir.base.nest.sample)
    assert as_said(choir, ODILE_SIZE).seams == proposed
    side = next(seam for seam in proposed if seam.id == "front bodice side + back bodice side")
    mine = replace(side, id="mine", ease_mm=(0.0, 6.0))
    stated = with_seam(choir, mine)
    assert [seam.id for seam in as_said(stated, ODILE_SIZE).seams] == [
        "mine",
        *(seam.id for seam in proposed if seam is not side),
    ]
    gone = without_seam(stated, "mine")
    assert side in as_said(gone, ODILE_SIZE).seams
    assert side not in as_said(without_seam(gone, side.id), ODILE_SIZE).seams


def test_the_command_line_checks_the_seams_that_were_said_and_those_proposed(
    choir: Project, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first, second = proposals(choir.base.nest.sample)[:2]
    said = without_seam(with_seam(choir, replace(first, ease_mm=(0.0, 1.0))), second.id)
    path = tmp_path / "choir.dartwise"
    save_project(said, path)
    seen: list[Pattern] = []
    monkeypatch.setattr("geometry.checks.run.check_pattern", lambda pattern, **_: seen.append(pattern) or ())
    main(["check", str(path), "--wearer", "Odile"])
    assert seen[0].seams == as_said(said, ODILE_SIZE).seams


def test_a_seam_that_was_forgotten_can_be_stated_after_all(choir: Project) -> None:
    side = proposals(choir.base.nest.sample)[0]
    back = with_seam(without_seam(choir, side.id), side)
    assert back.forgotten_seams == ()
    assert side in as_said(back, MAREN_SIZE).seams


def test_the_pattern_as_said_is_the_very_same_each_time(choir: Project) -> None:
    assert as_said(choir, ODILE_SIZE) is as_said(replace(choir), ODILE_SIZE)


def test_allowances_are_stated_in_every_size_and_leave_the_stitching_line(choir: Project) -> None:
    hem = EdgeRef("front skirt", "hem")
    stated = with_allowances(choir, {hem: 50.0})
    for before, after in zip(choir.base.nest.patterns, stated.base.nest.patterns, strict=True):
        assert after.piece("front skirt").edge("hem").allowance_mm == 50.0
        assert np.array_equal(before.piece("front skirt").outline, after.piece("front skirt").outline)
        assert after.piece("sleeve") is before.piece("sleeve")
    with pytest.raises(PatternError, match="below 0"):
        with_allowances(choir, {hem: -1.0})


def test_what_was_forgotten_and_other_limits_are_kept_in_the_file(choir: Project) -> None:
    said = replace(without_seam(choir, "a + b"), limits=Limits(seam_warn_mm=2.5, cap_dress_mm=(10.0, 20.0)))
    again = project_from_bytes(project_bytes(said))
    assert again.forgotten_seams == ("a + b",)
    assert again.limits == said.limits
    assert b"limits" not in project_bytes(choir)
