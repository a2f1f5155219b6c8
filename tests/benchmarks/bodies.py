"""Two thousand made-up bodies through size choice, blend, advice, replay and checks, on two processes."""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace

from geometry.fitting.blending import blend
from geometry.fitting.levels import SizeBlend
from geometry.fitting.nest_stack import stacked
from geometry.model.pattern import Nest, Pattern
from samples.draft_dress import draft_nest
from tests.benchmarks.measuring import Figure, median_s
from tests.geometry.fitting.generated_bodies import Passage, generated_bodies, taken_through

BODIES, PROCESSES, CHUNK = 2_000, 2, 50


def figures() -> Iterator[Figure]:
    """A blend as it is dragged, then all the bodies."""
    yield from blend_figures()
    yield from body_figures()


def blend_figures() -> Iterator[Figure]:
    """Seven sizes of a dress of twelve pieces, laid up once and then blended at ever other levels."""
    nest = Nest("lined", tuple(_lined(pattern) for pattern in draft_nest().patterns), draft_nest().sample_size)
    levels = iter(range(1, 1000))

    def dragged() -> None:
        more = next(levels) / 500
        blend(nest, SizeBlend(1.0, 4.0 + more, 2.0, 5.5, 4.0, 3.0))

    stacked(nest)
    yield Figure("blend of 7 sizes over a 12-piece dress", median_s(dragged, runs=15), None, 0.020)


def body_figures(count: int = BODIES) -> Iterator[Figure]:
    """How long all of them take, and how many need more than figures alone."""
    start = time.perf_counter()
    chunks = [(first, min(CHUNK, count - first)) for first in range(0, count, CHUNK)]
    with ProcessPoolExecutor(PROCESSES) as pool:
        passages = [passage for chunk in pool.map(_passages, chunks) for passage in chunk]
    taken = time.perf_counter() - start
    yield Figure(f"{count} bodies through the engine on {PROCESSES} processes", taken, None, 0.030 * count)
    unsound = sum(not passage.is_sound and not passage.stops for passage in passages)
    yield Figure("of them unsound without a finding that says why", float(unsound), None, 0.0, "")
    reasons = Counter(code for passage in passages for code in set(passage.stops))
    for code, often in reasons.most_common():
        yield Figure(f"of them told to stop: {code}", float(often), None, math.inf, "")  # to know, not to reach


def _passages(chunk: tuple[int, int]) -> list[Passage]:
    """One part of the bodies, each with a seed of its own, every second one with fractions of sizes."""
    first, count = chunk
    return [
        taken_through(next(generated_bodies(1, seed=number)), fractions=number % 2 == 1)
        for number in range(first, first + count)
    ]


def _lined(pattern: Pattern) -> Pattern:
    """The dress with linings and neck facings: twelve pieces."""
    linings = tuple(replace(piece, name=f"{piece.name} lining") for piece in pattern.pieces)
    facings = tuple(replace(piece, name=f"{piece.name.split()[0]} facing") for piece in pattern.pieces[:2])
    return replace(pattern, pieces=(*pattern.pieces, *linings, *facings))
