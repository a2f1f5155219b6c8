"""Which edges are sewn together, proposed from the names of pieces and the roles of their edges."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import product

from geometry.checks.faced_pairs import faced_seams
from geometry.checks.gores import panels_in_order
from geometry.checks.limits import DEFAULT_LIMITS, Band, Limits
from geometry.checks.runs import Run, directed, go_together, runs_of, seam_of_runs
from geometry.checks.walking import walk
from geometry.identity import Same
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, half_in, half_of, hand_in, layer_of, part_of
from geometry.model.pattern import Pattern, Seam, SeamKind
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class _Rule:
    """Edges of one role that are sewn together, and the roles of the edges at either end, from start to end."""

    role: EdgeRole
    part: tuple[Part, Part]
    half: tuple[str, str]
    starts: frozenset[EdgeRole]
    ends: frozenset[EdgeRole]
    kind: SeamKind = SeamKind.PLAIN


def _roles(*roles: EdgeRole) -> frozenset[EdgeRole]:
    return frozenset(roles)


_Panels = defaultdict[tuple[Part, str], list[Piece]]

_LAST_NUMBER = re.compile(r"\s*\d+\s*$")
_SIDE_SEAM = ("front", "back")
_LOWER_END = _roles(EdgeRole.WAIST, EdgeRole.HEM)
_CENTRES = _roles(EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)
_ARMHOLE_ENDS = _roles(EdgeRole.SIDE), _roles(EdgeRole.SHOULDER)

_RULES = (
    _Rule(
        EdgeRole.SHOULDER,
        (Part.BODICE, Part.BODICE),
        ("back", "front"),
        _roles(EdgeRole.NECK),
        _roles(EdgeRole.ARMHOLE),
        SeamKind.SHOULDER,
    ),
    _Rule(EdgeRole.SIDE, (Part.BODICE, Part.BODICE), _SIDE_SEAM, _roles(EdgeRole.ARMHOLE), _LOWER_END),
    _Rule(EdgeRole.SIDE, (Part.TROUSERS, Part.TROUSERS), _SIDE_SEAM, _roles(EdgeRole.WAIST), _roles(EdgeRole.HEM)),
    _Rule(EdgeRole.INSEAM, (Part.TROUSERS, Part.TROUSERS), _SIDE_SEAM, _roles(EdgeRole.CROTCH), _roles(EdgeRole.HEM)),
    *(
        _Rule(EdgeRole.WAIST, (Part.SKIRT, Part.BODICE), (half, half), _CENTRES, _roles(EdgeRole.SIDE), SeamKind.WAIST)
        for half in _SIDE_SEAM
    ),
)


def seams_of(pattern: Pattern) -> tuple[Seam, ...]:
    """What is sewn to what: as the pattern tells, else as the names suggest."""
    return pattern.seams or _suggested(Same(pattern))


@lru_cache(maxsize=16)
def _suggested(key: Same[Pattern]) -> tuple[Seam, ...]:
    """Asked several times about one pattern while a step is done."""
    return propose_seams(key.value)


def propose_seams(pattern: Pattern, *, limits: Limits = DEFAULT_LIMITS) -> tuple[Seam, ...]:
    """The seams that the names of the trade suggest, each walked from the same end on both sides.

    Told from the words of a piece's name (front, back, left, right, lining, facing) and the roles of its edges.
    A seam is proposed only where the edges at both its ends say how it runs, so that a panel with a princess seam
    gives none; edges without a role give none. Ease: a sleeve cap gets the band of its kind of garment, a back
    shoulder without a dart may be longer, every other seam is plain. Where several pieces differ only in the number
    their names end in, equal numbers are sewn together.
    """
    found: dict[str, Seam] = {}
    for pieces in _sets(pattern.pieces):
        for seam in _proposed(replace(pattern, pieces=pieces), limits):
            found.setdefault(seam.id, seam)
    return tuple(found.values())


def _sets(pieces: tuple[Piece, ...]) -> list[tuple[Piece, ...]]:
    """The pieces by the number their names end in, those that come without others of their name in every set."""
    words = {piece.name: _LAST_NUMBER.split(piece.name)[0] for piece in pieces}
    often = {word for word, count in Counter(words.values()).items() if count > 1}
    numbers = {
        piece.name: piece.name[len(words[piece.name]) :].strip() for piece in pieces if words[piece.name] in often
    }
    if not numbers:
        return [pieces]
    return [
        tuple(piece for piece in pieces if numbers.get(piece.name, number) == number)
        for number in dict.fromkeys(numbers.values())
    ]


def _proposed(pattern: Pattern, limits: Limits) -> tuple[Seam, ...]:
    panels = _panels(pattern)
    seams: list[Seam] = []
    for rule in _RULES:
        seams += _rule_seams(panels, rule, limits)
    seams += _skirt_sides(panels)
    seams += _armholes(pattern, panels, limits)
    seams += _underarms(pattern)
    seams += _centre_backs(pattern)
    seams += faced_seams(pattern, limits)
    return tuple(seams)


def _panels(pattern: Pattern) -> _Panels:
    """The pieces by part and half of the garment."""
    panels: _Panels = defaultdict(list)
    for piece in pattern.pieces:
        part = part_of(piece)
        if part is not None:
            panels[part, half_of(piece)].append(piece)
    return panels


def _rule_seams(panels: _Panels, rule: _Rule, limits: Limits) -> Iterator[Seam]:
    ours, theirs = (panels[part, half] for part, half in zip(rule.part, rule.half, strict=True))
    for first, second in product(ours, theirs):
        runs = (directed(piece, rule.role, rule.starts, rule.ends) for piece in (first, second))
        for one, other in _sewn_together(*runs):
            yield seam_of_runs((one,), (other,), rule.kind, _ease(rule.role, (one, other), limits))


def _skirt_sides(panels: _Panels) -> Iterator[Seam]:
    skirt = [piece for half in ("front", "", "back") for piece in panels[Part.SKIRT, half]]
    for first, second in panels_in_order(skirt):
        for one, other in _sewn_together(first, second):
            yield seam_of_runs((one,), (other,))


def _armholes(pattern: Pattern, panels: _Panels, limits: Limits) -> Iterator[Seam]:
    sleeves = [piece for piece in pattern.pieces if part_of(piece) is Part.SLEEVE]
    backs, fronts = (panels[Part.BODICE, half] for half in ("back", "front"))
    up, down = _ARMHOLE_ENDS, _ARMHOLE_ENDS[::-1]
    for sleeve, back, front in product(sleeves, backs, fronts):
        if not (go_together(sleeve, back) and go_together(sleeve, front)):
            continue
        caps = [run for run in runs_of(sleeve) if run.edges[0].role is EdgeRole.CAP]
        rising = directed(back, EdgeRole.ARMHOLE, *up)
        for below, above in _sewn_together(rising, directed(front, EdgeRole.ARMHOLE, *down), same_way=True):
            for cap in caps:
                band = cap_band(sleeve, limits)
                ways = [seam_of_runs((way,), (below, above), SeamKind.ARMHOLE, band) for way in _cap_ways(cap)]
                yield ways[0] if len(ways) == 1 else min(ways, key=lambda seam: _notch_gap_mm(pattern, seam, limits))


def _underarms(pattern: Pattern) -> Iterator[Seam]:
    for piece in pattern.pieces:
        runs = directed(piece, EdgeRole.UNDERARM, _roles(EdgeRole.CAP), _roles(EdgeRole.HEM))
        if len(runs) == 2:
            front, back = sorted(runs, key=lambda run: half_in(run.edges[0].id) == "back")
            yield seam_of_runs((front,), (back,))


def _centre_backs(pattern: Pattern) -> Iterator[Seam]:
    """A back cut twice is sewn to itself, a left back to a right back; one on the fold has no seam."""
    starts = _roles(EdgeRole.NECK, EdgeRole.WAIST)
    for first, second in product(pattern.pieces, repeat=2):
        hands = hand_in(first.name), hand_in(second.name)
        if (first is second and hands[0] == "") or (hands == ("left", "right") and _same_cut(first, second)):
            for one, other in product(
                *(directed(piece, EdgeRole.CENTRE_BACK, starts, _LOWER_END) for piece in (first, second))
            ):
                if first.fold not in {edge.id for edge in one.edges}:
                    yield seam_of_runs((one,), (other,))


def _sewn_together(first: list[Run], second: list[Run], *, same_way: bool = False) -> Iterator[tuple[Run, Run]]:
    """Runs of two pieces that meet. Whole pieces, drawn face up, meet where their rings run against each other.

    ``same_way``: the second is walked the other way round, so that there the rings run alike.
    """
    for one, other in product(first, second):
        if not go_together(one.piece, other.piece):
            continue
        is_single = all(len(runs) > 1 or hand_in(run.piece.name) for runs, run in ((first, one), (second, other)))
        if not is_single or (one.is_backward == other.is_backward) is same_way:
            yield one, other


def _same_cut(first: Piece, second: Piece) -> bool:
    return (part_of(first), half_of(first), layer_of(first)) == (part_of(second), half_of(second), layer_of(second))


def _cap_ways(cap: Run) -> tuple[Run, ...]:
    """The cap walked from its back end: told from its neighbours' or notches' words; both ways if they do not tell."""
    ways = cap, cap.walked(backward=True)
    halves = half_in(cap.before.id), half_in(cap.after.id)
    if "back" in halves or "front" in halves:
        return ways[:1] if halves[0] == "back" or halves[1] == "front" else ways[1:]
    return ways


def _notch_gap_mm(pattern: Pattern, seam: Seam, limits: Limits) -> float:
    """How badly the notches of a seam land, those without a partner counted as out of reach."""
    walked = walk(pattern, seam, reach_mm=limits.notch_reach_mm)
    offsets = [(meeting.offset_from_start_mm, meeting.offset_from_end_mm) for meeting in walked.meetings]
    return sum(
        limits.notch_reach_mm if start is None or end is None else min(abs(start), abs(end)) for start, end in offsets
    )


def cap_band(sleeve: Piece, limits: Limits) -> Band:
    """How much longer than its armhole the cap of a sleeve may be, told from the words of its name and cloth."""
    words = f"{sleeve.name} {sleeve.material}".lower()
    for names, band in (
        (("knit", "jersey"), limits.cap_knit_mm),
        (("shirt",), limits.cap_shirt_mm),
        (("jacket", "coat"), limits.cap_tailored_mm),
    ):
        if any(name in words for name in names):
            return band
    return limits.cap_dress_mm


def _ease(role: EdgeRole, runs: tuple[Run, Run], limits: Limits) -> Band:
    if role is EdgeRole.INSEAM:
        return limits.inseam_ease_mm
    if role is not EdgeRole.SHOULDER or any(run.piece.darts_on(edge.id) for run in runs for edge in run.edges):
        return (0.0, 0.0)
    return limits.shoulder_ease_mm
