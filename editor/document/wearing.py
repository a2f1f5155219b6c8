"""Changes to what is known of a wearer and of the pattern's sizes; each gives a whole new project."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from editor.document.project import Measurement, Project, Round, Wearer
from editor.document.statements import as_said, start_as_said
from geometry.alterations.replay import Replay, replay
from geometry.errors import PatternError
from geometry.fitting.advice import Case
from geometry.fitting.body import Body, Hand, Taken
from geometry.fitting.ease import GarmentEase
from geometry.fitting.levels import SizeBlend, one_size
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import SizeChart, chart_off_pieces
from geometry.model.pattern import Pattern


def body_of_wearer(wearer: Wearer) -> Body:
    """The wearer's body; what has no name of the standard or could not be a length is left out."""
    body = Body()
    for each in wearer.measurements:
        if each.name in set(Measure):
            try:
                body = body.with_taken(taken_of(each))
            except PatternError:
                continue
    return body


def taken_of(measurement: Measurement) -> Taken:
    """A measurement of the project as one of the standard's; its name must be known."""
    return Taken(
        Measure(measurement.name), measurement.length_mm, measurement.date, measurement.taken_by, measurement.hand
    )


def with_measurements(project: Project, wearer_id: str, taken: Iterable[Taken]) -> Project:
    """The project with further measurements; one of the same day, place and side takes the earlier one's place.

    Raises:
        PatternError: a length is none of a body.
    """
    wearer, kept = project.wearer(wearer_id), list(project.wearer(wearer_id).measurements)
    for each in taken:
        Body().with_taken(each)
        new = Measurement(each.measure.value, each.length_mm, each.date, each.taken_by, each.hand)
        kept = [old for old in kept if (old.name, old.date, old.hand) != (new.name, new.date, new.hand)] + [new]
    return project.with_wearer(replace(wearer, measurements=tuple(kept)))


def without_latest(project: Project, wearer_id: str, measure: Measure, hand: Hand) -> Project:
    """The project with the latest value of one measurement taken away: the one before counts again."""
    wearer = project.wearer(wearer_id)
    latest = body_of_wearer(wearer).latest(measure, hand)
    kept = tuple(old for old in wearer.measurements if old.name not in set(Measure) or taken_of(old) != latest)
    return project.with_wearer(replace(wearer, measurements=kept))


def with_sizes(project: Project, wearer_id: str, sizes: SizeBlend) -> Project:
    """The project with a wearer's sizes; one whole size throughout is kept as that size."""
    wearer, first = project.wearer(wearer_id), sizes.shoulder
    sizes.refuse_beyond(project.base.nest.sizes)
    nearest = project.base.nest.sizes[round(first)]
    whole = sizes == one_size(first) and float(first).is_integer()
    return project.with_wearer(replace(wearer, size=nearest, sizes=None if whole else sizes))


def sizes_of(project: Project, wearer: Wearer) -> SizeBlend:
    """The size at every level that a wearer's rounds start from."""
    return wearer.sizes or one_size(float(project.base.nest.sizes.index(wearer.size)))


def chart_of(project: Project) -> SizeChart:
    """The project's size chart with finished measurements; without one, what the pieces measure."""
    nest = project.base.nest
    if project.chart is None or project.chart.sizes != nest.sizes:
        return chart_off_pieces(nest)
    return project.chart if project.chart.finished else project.chart.with_finished_of(nest)


def with_chart(project: Project, chart: SizeChart | None) -> Project:
    """The project with another size chart; one of other sizes than the pattern's is refused."""
    sizes = project.base.nest.sizes
    if chart is not None and not set(sizes) <= set(chart.sizes):
        raise PatternError(
            f"The chart has the sizes {', '.join(chart.sizes)} and the pattern {', '.join(sizes)}; "
            "give a column for each size of the pattern.",
            code="chart-sizes",
        )
    return replace(project, chart=None if chart is None else _only(chart, sizes))


def _only(chart: SizeChart, sizes: tuple[str, ...]) -> SizeChart:
    """The columns of some sizes in their order."""
    at = [chart.sizes.index(size) for size in sizes]
    body, made = (
        tuple(replace(line, lengths_mm=tuple(line.lengths_mm[place] for place in at)) for line in lines)
        for lines in (chart.body, chart.finished)
    )
    return SizeChart(sizes, body, made, chart.cup_mm)


def with_ease(project: Project, measure: Measure, ease_mm: float | None) -> Project:
    """The project with another ease asked for at one measurement; ``None`` asks for nothing there."""
    return replace(project, ease=project.ease.with_mm(measure, ease_mm))


def start_for(project: Project, wearer: Wearer | None) -> Pattern:
    """What a wearer's rounds start from; the sample size where there is no wearer."""
    return as_said(project, project.base.nest.sample_size) if wearer is None else start_as_said(project, wearer)


def replayed(project: Project, wearer: Wearer, shown: Round) -> Replay:
    """The pattern of one round."""
    return replay(start_for(project, wearer), shown.records)


def case_of(project: Project, wearer: Wearer, pattern: Pattern) -> Case:
    """All that advice for a wearer on a pattern rests on."""
    ease: GarmentEase = project.ease
    return Case(body_of_wearer(wearer), pattern, chart_of(project), sizes_of(project, wearer), ease)
