"""All that a person can say about a project beside altering: under the name that undo shows, how to say it at random.

A test holds this list against the program: what can be said there must be said here.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import strategies as st

from editor.commands.take_apart import take_apart
from editor.document.project import FitNote, Project, next_id
from editor.document.rounds import (
    with_changed_note,
    with_note,
    with_photo,
    with_round,
    without_photo,
    without_round,
    without_wearer,
)
from editor.document.statements import (
    proposed_ids,
    with_allowances,
    with_edge_named,
    with_edge_role,
    with_seam,
    without_seam,
)
from editor.document.wearing import with_chart, with_ease, with_measurements, with_sizes, without_latest
from editor.refining import put_before, put_in_place
from editor.session import Session
from geometry.checks.chosen_limits import limits_from
from geometry.checks.sewing import turned
from geometry.checks.stretches import with_gap
from geometry.fitting.body import Hand, Taken
from geometry.fitting.levels import CornerPull, EdgeTransition, SizeBlend, Transition
from geometry.fitting.measures import Measure
from geometry.fitting.size_chart import chart_off_pieces
from geometry.fitting.size_choice import Bones
from geometry.model.edge import EdgeRole
from geometry.model.pattern import EdgePlace, EdgeRef, Seam, Stretch
from tests.editor.test_hostile_pictures import png
from tests.walk.random_steps import steps

if TYPE_CHECKING:
    from hypothesis.strategies import DataObject

Saying = Callable[["DataObject", Session], None]
TEXTS = st.text(max_size=5)
SHARES = st.sampled_from([0.0, 0.25, 0.5, 1.0])


def _said(label: str, change: Callable[[DataObject, Session], Project]) -> tuple[str, Saying]:
    return label, lambda data, session: session.state(label, change(data, session))


def _ref(data: DataObject, session: Session) -> tuple[str, str]:
    piece = data.draw(st.sampled_from(session.project.base.nest.sample.pieces))
    return piece.name, data.draw(st.sampled_from(piece.edges)).id


def _seam(data: DataObject, session: Session) -> Seam:
    if session.base.seams and data.draw(st.booleans()):
        return data.draw(st.sampled_from(session.base.seams))
    sides = [(EdgeRef(*_ref(data, session)),) for _ in range(2)]
    return Seam(data.draw(st.sampled_from(["a", "b"])), *sides, (False,), (True,))


def _shown(session: Session) -> tuple[Project, str, str]:
    return session.project, session.wearer.id, session.round.id


def _named(data: DataObject, session: Session) -> Project:
    name = data.draw(st.text(max_size=3))
    return with_edge_named(session.project, *_ref(data, session), data.draw(st.sampled_from([name, f"a {name}"])))


def _known_as(data: DataObject, session: Session) -> Project:
    return with_edge_role(session.project, *_ref(data, session), data.draw(st.sampled_from(EdgeRole)))


def _allowances(data: DataObject, session: Session) -> Project:
    return with_allowances(session.project, {EdgeRef(*_ref(data, session)): data.draw(st.floats(-1, 30))})


def _all_seams(_: DataObject, session: Session) -> Project:
    project = session.project
    proposed = proposed_ids(project, session.base)
    for seam in session.base.seams:
        project = with_seam(project, seam) if seam.id in proposed else project
    return project


def _with_seam(change: Callable[[Seam, DataObject], Seam]) -> Callable[[DataObject, Session], Project]:
    return lambda data, session: with_seam(session.project, change(_seam(data, session), data))


def _stretched(seam: Seam, data: DataObject) -> Seam:
    parts = tuple(
        Stretch(EdgePlace(share=data.draw(SHARES)), EdgePlace(share=data.draw(SHARES))) for _ in range(len(seam.first))
    )
    return replace(seam, first_stretches=data.draw(st.sampled_from([(), parts])))


def _ease(data: DataObject, session: Session) -> Project:
    if data.draw(st.booleans()):
        band = data.draw(st.sampled_from([(0.0, 0.0), (-3.0, 12.7)]))
        return with_seam(session.project, replace(_seam(data, session), ease_mm=band))
    measure = data.draw(st.sampled_from(Measure))
    return with_ease(session.project, measure, data.draw(st.none() | st.floats(-20, 120)))


def _bones(data: DataObject, session: Session) -> Project:
    return session.project.with_wearer(replace(session.wearer, bones=data.draw(st.sampled_from(Bones))))


def _sizes(data: DataObject, session: Session) -> Project:
    """Only whole sizes and halves of this small nest, whose sizes are alike."""
    levels = [data.draw(st.sampled_from([0.0, 0.5, 1.0, 1.5])) for _ in range(6)]
    piece, edge = _ref(data, session)
    blend = SizeBlend(
        *levels,
        transitions=data.draw(
            st.sampled_from([(), (EdgeTransition(piece, edge, data.draw(st.sampled_from(Transition))),)])
        ),
        corners=data.draw(st.sampled_from([(), (CornerPull(piece, edge, 1.0),)])),
    )
    return with_sizes(session.project, session.wearer.id, blend)


def _limits(data: DataObject, session: Session) -> Project:
    warn, stop = data.draw(st.sampled_from([(1.0, 3.0), (2.0, 6.0), (7.0, 3.0)]))
    return replace(session.project, limits=limits_from({"seam_warn_mm": warn, "seam_stop_mm": stop}))


def _chart(data: DataObject, session: Session) -> Project:
    made = replace(chart_off_pieces(session.project.base.nest), cup_mm=data.draw(st.none() | st.floats(0, 200)))
    wrong = replace(made, sizes=(*made.sizes[:-1], "99"))
    return with_chart(session.project, data.draw(st.sampled_from([None, made, wrong])))


def _taken_over(data: DataObject, session: Session) -> Project:
    wearer = session.wearer
    other = data.draw(st.sampled_from(session.project.wearers))
    begun = replace(data.draw(st.sampled_from(other.rounds)), id=next_id(each.id for each in wearer.rounds))
    return with_round(session.project, wearer.id, replace(begun, notes=(), photos=()))


def _measured(data: DataObject, session: Session) -> Project:
    measure, hand = data.draw(st.sampled_from([Measure.BUST, Measure.UPPER_ARM])), data.draw(st.sampled_from(Hand))
    project = session.project
    if data.draw(st.booleans()) and any(each.name == measure.value for each in session.wearer.measurements):
        return without_latest(project, session.wearer.id, measure, Hand(session.wearer.measurements[-1].hand))
    length_mm = data.draw(st.sampled_from([-1.0, 300.0, 955.5]))
    day = data.draw(st.sampled_from(["", "2026-05-17", "2026-06-01"]))
    return with_measurements(project, session.wearer.id, (Taken(measure, length_mm, day, "Ida", hand),))


def _photo(data: DataObject, session: Session) -> Project:
    """A part of its own in the project file: more than the record of a sitting can tell by a small change."""
    return with_photo(*_shown(session), png(data.draw(st.integers(1, 3)), 1))


def _noted(data: DataObject, session: Session) -> Project:
    piece, _ = _ref(data, session)
    note = data.draw(st.sampled_from([FitNote("", ""), FitNote("pulls", piece, 10.0, -20.5)]))
    return with_note(*_shown(session), replace(note, text=data.draw(TEXTS)))


def _other_note(data: DataObject, session: Session) -> Project:
    shown = session.round
    number = data.draw(st.integers(0, max(0, len(shown.notes) - 1)))
    note = None if not shown.notes else replace(shown.notes[number], text=data.draw(TEXTS))
    return with_changed_note(*_shown(session), number, data.draw(st.sampled_from([None, note])))


def _photo_taken_out(data: DataObject, session: Session) -> Project:
    return without_photo(*_shown(session), data.draw(st.sampled_from(session.round.photos or ("none",))))


def _other_name(data: DataObject, session: Session) -> Project:
    changed = replace(session.round, name=data.draw(TEXTS), date=data.draw(st.sampled_from(["", "2026-06-01"])))
    return with_round(session.project, session.wearer.id, changed)


def _another_step(data: DataObject, session: Session) -> None:
    if session.records:
        record = data.draw(st.sampled_from(session.records))
        put_in_place(session, record.id, data.draw(steps(session.pattern)))


def _step_before(data: DataObject, session: Session) -> None:
    record = data.draw(st.sampled_from(["", *(each.id for each in session.records)]))
    put_before(session, record, data.draw(steps(session.pattern)))


def _taken_apart(data: DataObject, session: Session) -> None:
    if session.records:
        take_apart(session, data.draw(st.sampled_from(session.records)).id)


SAYINGS: dict[str, Saying] = dict(
    (
        _said("Name edge", _named),
        _said("Say what an edge is", _known_as),
        _said("Set allowances", _allowances),
        _said("Accept seams", _all_seams),
        _said("Accept seam", _with_seam(lambda seam, _: seam)),
        _said("Say what is sewn together", _with_seam(lambda seam, _: seam)),
        _said("Turn seam round", _with_seam(lambda seam, _: turned(seam))),
        _said("Leave a gap in a seam", _with_seam(lambda seam, _: with_gap(seam))),
        _said("Say from where to where it is sewn", _with_seam(_stretched)),
        _said("Forget seam", lambda data, session: without_seam(session.project, _seam(data, session).id)),
        _said("Change ease", _ease),
        _said("Choose sizes", _sizes),
        _said("Say how the bones are", _bones),
        _said("Change limits", _limits),
        _said("Change size chart", _chart),
        _said("Take over steps", _taken_over),
        _said("Measure", _measured),
        _said("Add photo", _photo),
        _said("Add note", _noted),
        _said("Change note", _other_note),
        _said("Remove note", _other_note),
        _said("Remove photo", _photo_taken_out),
        _said("Change toile", _other_name),
        _said("Remove toile", lambda _, session: without_round(*_shown(session))),
        _said("Remove wearer", lambda _, session: without_wearer(session.project, session.wearer.id)),
        ("Change step", _another_step),
        ("Add step", _step_before),
        ("Take apart", _taken_apart),
    )
)
