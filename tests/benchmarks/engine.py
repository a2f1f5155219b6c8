"""Import, replay, checks and one update of a drag, without a window."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import ezdxf

from editor.formats.import_pattern import import_pattern
from geometry.alterations.replay import Record, replay
from geometry.checks.run import check_pattern
from geometry.units import Unit
from samples.draft_dress import draft_pattern
from tests.benchmarks.dress import fresh, handbook_sets, ten_steps, twelve_pieces
from tests.benchmarks.made_files import write_nest
from tests.benchmarks.measuring import Figure, median_s, paired_s


def figures() -> Iterator[Figure]:
    """The figures of the engine, one after the other as they are measured."""
    yield from import_figures()
    yield from replay_figures()
    dress = twelve_pieces()
    yield Figure("all checks on a 12-piece dress", median_s(lambda: check_pattern(fresh(dress))), None, 0.050)


def import_figures() -> Iterator[Figure]:
    """Import against a bare ``ezdxf.readfile`` of the same file."""
    with tempfile.TemporaryDirectory() as folder:
        small = write_nest(Path(folder, "small.dxf"), pieces=12, sizes=1)
        large = write_nest(Path(folder, "large.dxf"), pieces=40, sizes=12)
        for work, path, target, runs in (
            ("import of 12 pieces in one size", small, 0.5, 5),
            ("import of 40 pieces in 12 sizes", large, 0.2, 3),
        ):
            bare = partial(ezdxf.readfile, path)
            yield Figure(work, *paired_s(partial(import_pattern, path, unit=Unit.MM), bare, runs=runs), target)


def replay_figures() -> Iterator[Figure]:
    """Ten steps from nothing, and one changed amount in the fifth."""
    dress, records = twelve_pieces(), ten_steps()
    yield Figure("replay of 10 steps on a 12-piece dress", median_s(lambda: replay(fresh(dress), records)), None, 0.015)
    base = fresh(dress)
    replay(base, records)
    amounts = iter(range(1, 1000))

    def changed() -> None:
        step = records[4].step.with_amount_mm(3.0 + next(amounts) / 50)
        replay(base, (*records[:4], Record(records[4].id, step), *records[5:]))

    yield Figure("change of one amount in step 5", median_s(changed), None, 0.006)
    for singer, alterations in handbook_sets().items():
        draft = draft_pattern("10")
        seconds = median_s(lambda records=alterations, pattern=draft: replay(fresh(pattern), records))
        yield Figure(f"seven alterations of the handbook for {singer}", seconds, None, 0.030)
