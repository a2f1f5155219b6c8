"""Notches cut into a traced outline: excursions of a few millimetres from a course that runs straight on.

They are too small for the search for corners, which looks at a centimetre on either side, and too sharp to be smoothed.
"""

from collections.abc import Callable

import numpy as np

from editor.formats.recognise_slits import LARGEST_NICK_MM, Wedge
from geometry.affine import Points, as_point, frozen_points
from geometry.curves.corners import resampled

WIDEST_NICK_MM = 10.0
SHALLOWEST_NICK_MM = 2.0
"""What is shallower is a slip of the hand (nicks are 2 to 6 mm deep; common practice, no source)."""

_LEAST_DETOUR_MM = 2.0
_LEAST_DEPTH = 0.5
"""Depth of a nick, in widths: what is flatter is a blunt corner of the piece."""

_COURSE_MM = 8.0
"""The course beside a nick is judged over this much of the outline."""

_STRAIGHT_ON_DEG = 30.0
_SHORTER_PREFERRED = 0.1
"""Of two stretches with the same detour the one that begins and ends at the nick's own feet is taken."""


def without_nicks(ring: Points, takes: Callable[[Wedge], bool]) -> tuple[Points, tuple[Wedge, ...], tuple[Wedge, ...]]:
    """A traced closed ring that runs straight across the nicks that are taken, these in ring order, and the others.

    Args:
        ring: The traced points, shape (n, 2), mm.
        takes: Whether a nick found is to be a notch.
    """
    samples, step_mm = resampled(ring)
    nicks: list[tuple[int, Wedge]] = []
    declined: list[Wedge] = []
    gone = np.zeros(len(ring), dtype=np.bool_)
    for start, length in _stretches(samples, step_mm):
        inner = samples[np.arange(start, start + length + 1) % len(samples)]
        tip = inner[int(np.argmax(_off_chord(inner)))]
        first, last = (_nearest(ring, place) for place in (inner[0], inner[-1]))
        wedge = Wedge(as_point(ring[first]), as_point(ring[_nearest(ring, tip)]), as_point(ring[last]))
        if max(wedge.legs_mm) > LARGEST_NICK_MM:
            continue
        if not takes(wedge):
            declined.append(wedge)
        else:
            between = np.arange(first + 1, last if last > first else last + len(ring)) % len(ring)
            gone[between] = True
            nicks.append((first, wedge))
    nicks.sort(key=lambda nick: nick[0])
    straight = frozen_points(ring[~gone]) if nicks else ring
    return straight, tuple(wedge for _, wedge in nicks), tuple(declined)


def _stretches(samples: Points, step_mm: float) -> list[tuple[int, int]]:
    """Where an evenly sampled ring makes a short detour: first sample and number of steps, none over another."""
    count = len(samples)
    found: list[tuple[float, int, int]] = []
    for length in range(round(2 * SHALLOWEST_NICK_MM / step_mm), round(2 * LARGEST_NICK_MM / step_mm) + 1):
        if length + 2 * round(_COURSE_MM / step_mm) >= count:
            break
        chord = np.roll(samples, -length, axis=0) - samples
        wide = np.hypot(*chord.T)
        detour = length * step_mm - wide
        for start in np.flatnonzero(
            (wide <= WIDEST_NICK_MM) & (wide > step_mm) & (detour >= _LEAST_DETOUR_MM)
        ).tolist():
            found.append((float(detour[start]) - _SHORTER_PREFERRED * length * step_mm, start, length))
    taken: list[tuple[int, int]] = []
    used = np.zeros(count, dtype=np.bool_)
    for _, start, length in sorted(found, reverse=True):
        index = np.arange(start, start + length + 1) % count
        if not used[index].any() and _runs_straight_on(samples, step_mm, start, length):
            used[index] = True
            taken.append((start, length))
    return taken


def _runs_straight_on(samples: Points, step_mm: float, start: int, length: int) -> bool:
    """Whether the outline before and after a detour runs in the direction straight across it, and it is deep enough."""
    count, reach = len(samples), round(_COURSE_MM / step_mm)
    inner = samples[np.arange(start, start + length + 1) % count]
    chord = inner[-1] - inner[0]
    arriving = inner[0] - samples[(start - reach) % count]
    leaving = samples[(start + length + reach) % count] - inner[-1]
    straight = all(_turn_deg(course, chord) <= _STRAIGHT_ON_DEG for course in (arriving, leaving))
    deep_mm = float(_off_chord(inner).max())
    return straight and deep_mm >= max(SHALLOWEST_NICK_MM, _LEAST_DEPTH * float(np.hypot(*chord)))


def _off_chord(inner: Points) -> Points:
    chord = inner[-1] - inner[0]
    x, y = (inner - inner[0]).T
    off: Points = np.abs(x * chord[1] - y * chord[0]) / float(np.hypot(*chord))
    return off


def _turn_deg(one: Points, other: Points) -> float:
    return abs(float(np.degrees(np.arctan2(one[0] * other[1] - one[1] * other[0], one @ other))))


def _nearest(ring: Points, place: Points) -> int:
    return int(np.argmin(np.hypot(*(ring - place).T)))
