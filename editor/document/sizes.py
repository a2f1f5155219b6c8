"""The sizes of a project for export: as bought, or each with the steps of a round carried out on it."""

from __future__ import annotations

from editor.document.project import Project
from editor.document.statements import as_said
from geometry.alterations.replay import Record, replay
from geometry.errors import PatternError
from geometry.model.pattern import Nest


def altered_nest(project: Project, records: tuple[Record, ...]) -> Nest:
    """Every size with the records carried out.

    Raises:
        PatternError: a step does not fit in some size; the sentence says which size and why.
    """
    nest = project.base.nest
    patterns = []
    for size in nest.sizes:
        done = replay(as_said(project, size), records)
        for number, outcome in enumerate(done.outcomes, start=1):
            trouble = next((finding for finding in outcome.findings if finding.code == "step-does-not-fit"), None)
            if trouble is not None:
                raise PatternError(
                    f"In size {size} step {number} does not fit: {trouble.text} Export one size, or turn the step off.",
                    code="step-does-not-fit",
                )
        patterns.append(done.pattern)
    return Nest(nest.name, tuple(patterns), nest.sample_size)
