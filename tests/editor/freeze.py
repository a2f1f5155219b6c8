"""``python -m tests.editor.freeze WORD`` saves a project with every field and every kind of step as a frozen sample.

Done when something new is in the format: ``frozen/version-1-WORD-everything.dartwise`` is kept and never changed again.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

from hypothesis import HealthCheck, Phase, given, settings

from editor.document.journal import plain_record, records_from
from editor.document.project import FitNote, Measurement, Project
from editor.document.project_file import load_project, save_project
from editor.document.rounds import with_note, with_photo
from editor.document.statements import as_said, with_seam
from editor.document.upgrades import FORMAT_VERSION
from geometry.alterations.kinds import STEP_KINDS
from geometry.alterations.replay import Record
from geometry.alterations.step import Step
from geometry.checks.limits import DEFAULT_LIMITS
from geometry.checks.stretches import with_gap
from geometry.errors import PatternError
from geometry.fitting.body import Hand
from geometry.fitting.ease import GarmentEase
from geometry.fitting.levels import CornerPull, EdgeTransition, SizeBlend, Transition
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import ChartLine, SizeChart
from geometry.fitting.size_choice import Bones
from tests.editor.test_hostile_pictures import png
from tests.gui.choir import choir
from tests.walk.random_steps import steps

PATTERN = choir().base.nest.sample


def fullest(kind: type[Step]) -> Step:
    """Of many random steps of a kind the one with the most in it."""
    found: list[Step] = []

    @settings(
        max_examples=400, database=None, derandomize=True, suppress_health_check=list(HealthCheck),
        phases=[Phase.generate], deadline=None,
    )  # fmt: skip
    @given(steps(PATTERN, kinds=(kind,)))
    def collect(step: Step) -> None:
        try:
            if type(step) is kind and records_from([plain_record(Record("1", step))], at=""):
                found.append(step)
        except PatternError:
            return

    collect()
    return max(found, key=lambda step: len(str(plain_record(Record("1", step)))))


def everything() -> Project:
    """The choir's project with all there can be in one."""
    kinds = enumerate(STEP_KINDS.values(), 1)
    records = tuple(Record(str(n), fullest(kind), n % 2 == 0, "" if n % 3 else "as it was") for n, kind in kinds)
    project = with_photo(choir().with_records("2", "1", records), "2", "1", png(3, 2))
    pulls = FitNote("pulls here", "front skirt", 12.5, -3.0)
    for note in (FitNote("too long"), pulls, replace(pulls, is_on_base=True)):
        project = with_note(project, "2", "1", note)
    measured = (
        Measurement("bust girth", 955.5, "2026-05-01", "Maren"),
        Measurement("upper arm girth", 301.0, "2026-05-02", "Ida", Hand.LEFT),
    )
    over = EdgeTransition("front skirt", "side", list(Transition)[-1])
    blend = SizeBlend(0.0, 0.5, 1.0, 1.0, 0.25, 0.5, (over,), (CornerPull("front skirt", "hem", 1.0),))
    odile = replace(project.wearer("2"), measurements=measured, bones=Bones.LARGE, sizes=blend)
    first, second, *_ = as_said(project, "12").seams
    project = with_seam(project.with_wearer(odile), with_gap(first))
    sizes = project.base.nest.sizes
    body, made = ChartLine(Measure.BUST, (880.0, None)), ChartLine(Measure.HIP, (1000.0, 1040.0))
    return replace(
        with_seam(project, replace(second, ease_mm=(1.0, 6.5))),
        forgotten_seams=("side",),
        limits=replace(DEFAULT_LIMITS, seam_stop_mm=9.5, cap_dress_mm=(10.0, 30.0)),
        chart=SizeChart(sizes, (body,), (made,), 70.0),
        ease=GarmentEase(((Measure.BUST, 60.0),)),
    )


def main(word: str) -> None:
    """Write it, never over one that is there."""
    path = Path(__file__).parent / "frozen" / f"version-{FORMAT_VERSION}-{word}-everything.dartwise"
    if path.exists():
        raise SystemExit(f"{path.name} is frozen; choose another word.")
    made = everything()
    save_project(made, path)
    assert load_project(path) == made
    sys.stdout.write(f"{path.name}\n")


if __name__ == "__main__":
    main(sys.argv[1])
