"""How much of each size goes into every point of a blended outline.

A weight of each size per point for widths, and per step from point to point for heights: heights are blended step by
step, so that it does not matter how the sizes lie on one another.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from geometry.fitting.levels import BodyLevel, SizeBlend, Transition, corner_level
from geometry.fitting.nest_stack import NestStack, Place, SeamStack, SideStack
from geometry.fitting.piece_stack import EdgeStack, Floats, PieceStack
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, part_of
from geometry.model.pattern import SeamKind

HIP_BELOW_WAIST_MM = 178.0
"""Where the hip is taken to be on a side seam without a hip notch: 7 in (The New Dressmaker, 1921, p. 15)."""

_LEVEL_OF = {"bust": BodyLevel.BUST, "waist": BodyLevel.WAIST, "hip": BodyLevel.HIP, "shoulder": BodyLevel.SHOULDER}
_LENGTH_ROLES = (EdgeRole.UNDERARM, EdgeRole.INSEAM, EdgeRole.CROTCH)
_LOWER = (Part.SKIRT, Part.TROUSERS)


@dataclass(frozen=True, slots=True, eq=False)
class PieceWeights:
    """Weights for one piece.

    Attributes:
        points: For each point of the ring the weight of each size, shape (points, sizes); rows sum to 1.
        steps: The same for each step to the next point, shape (points, sizes).
    """

    points: Floats
    steps: Floats


@dataclass(frozen=True, slots=True)
class _Anchor:
    share: float
    position: float


def size_weights(stack: NestStack, blend: SizeBlend) -> tuple[PieceWeights, ...]:
    """The weights for every piece of a nest."""
    corners = _corner_positions(stack, blend)
    rows = {
        (number, index): _edge_rows(stack, (number, index), corners, blend)
        for number, piece in enumerate(stack.pieces)
        for index in range(len(piece.edges))
    }
    heights = dict(rows)
    for seam in stack.seams:
        if seam.seam.kind is SeamKind.ARMHOLE:
            _follow_armhole(stack, seam, blend, rows, heights)
    return tuple(_piece_weights(stack, number, rows, heights, blend, corners) for number in range(len(stack.pieces)))


@lru_cache(maxsize=512)
def hat(position: float, sizes: int) -> Floats:
    """The weights of the two sizes next to a place between sizes, shape (sizes,), read-only."""
    weights: Floats = np.clip(1.0 - np.abs(np.arange(sizes) - position), 0.0, 1.0)
    weights.flags.writeable = False
    return weights


def mean_weights(side: SideStack, stack: NestStack, weights: tuple[PieceWeights, ...]) -> Floats:
    """How much of each size is in one side of a seam, shape (sizes,)."""
    rows = []
    for (piece, number), (low, high) in zip(side.edges, side.spans, strict=True):
        edge = stack.pieces[piece].edges[number]
        own = weights[piece].points[edge.first : edge.first + edge.count - 1]
        is_sewn = (edge.share[:-1] >= low) & (edge.share[:-1] <= high)
        rows.append(own[is_sewn] if is_sewn.any() else own)
    mean: Floats = np.concatenate(rows).mean(axis=0)
    return mean


def _corner_positions(stack: NestStack, blend: SizeBlend) -> dict[Place, float]:
    """The size at every corner: its level's, unless it or what it is sewn to was pulled."""
    positions = {
        (number, index): blend.at(corner_level(piece.piece, index))
        for number, piece in enumerate(stack.pieces)
        for index in range(len(piece.edges))
    }
    names = [piece.piece.name for piece in stack.pieces]
    for pull in blend.corners:
        piece = stack.sample.piece(pull.piece)
        corner = names.index(pull.piece), piece.edges.index(piece.edge(pull.edge))
        group = next((each for each in stack.joined if corner in each), {corner})
        positions |= dict.fromkeys(group, pull.position)
    return positions


def _edge_rows(stack: NestStack, place: Place, corners: dict[Place, float], blend: SizeBlend) -> Floats:
    """The weights at the points of an edge, from anchor to anchor; shape (count, sizes)."""
    edge, anchors = stack.edge(place), _anchors(stack, place, corners, blend)
    if len({anchor.position for anchor in anchors}) == 1:
        return np.tile(hat(anchors[0].position, _sizes(stack)), (edge.count, 1))
    table = np.array([hat(anchor.position, _sizes(stack)) for anchor in anchors])
    shares = np.array([anchor.share for anchor in anchors])
    section = np.clip(np.searchsorted(shares, edge.share, side="right") - 1, 0, len(anchors) - 2)
    width = np.maximum(shares[section + 1] - shares[section], np.finfo(float).tiny)
    along = np.clip((edge.share - shares[section]) / width, 0.0, 1.0)
    if _is_smooth(stack, place, blend):
        along = along * along * (3.0 - 2.0 * along)
    rows: Floats = table[section] * (1.0 - along)[:, None] + table[section + 1] * along[:, None]
    return rows


def _sizes(stack: NestStack) -> int:
    return len(stack.nest.patterns)


def _anchors(stack: NestStack, place: Place, corners: dict[Place, float], blend: SizeBlend) -> list[_Anchor]:
    """Where the size along an edge is settled: its corners, and levels in between."""
    number, index = place
    piece, edge = stack.pieces[number], stack.edge(place)
    following = (number, (index + 1) % len(piece.edges))
    ends = [_Anchor(0.0, corners[place]), _Anchor(1.0, corners[following])]
    words = dict(edge.words) | _words_across(stack, place)
    if edge.edge.role is EdgeRole.SIDE and part_of(piece.piece) in _LOWER and "hip" not in words:
        below = min(HIP_BELOW_WAIST_MM / edge.edge.length_mm, 1.0)
        starts_at_waist = piece.edges[index - 1].edge.role is EdgeRole.WAIST
        words["hip"] = below if starts_at_waist else 1.0 - below
    if edge.is_straight and set(words) <= {"bust"} and edge.edge.role is not EdgeRole.CAP:
        return ends  # a straight seam stays straight from corner to corner
    between = [_Anchor(share, blend.at(_LEVEL_OF[word])) for word, share in words.items()]
    between += [_Anchor(edge.share[start], blend.bust) for _, start, _ in edge.mouths if _opens_at_bust(piece, edge)]
    inner = sorted((each for each in between if 0.0 < each.share < 1.0), key=lambda each: each.share)
    return [ends[0], *inner, ends[1]]


def _opens_at_bust(piece: PieceStack, edge: EdgeStack) -> bool:
    return edge.edge.role is EdgeRole.SIDE and part_of(piece.piece) is Part.BODICE


def _words_across(stack: NestStack, place: Place) -> dict[str, float]:
    """Level notches of what an edge is sewn to, as shares of the edge; of what is sewn in part, those in that part."""
    found: dict[str, float] = {}
    for ours, theirs in stack.partners.get(place, ()):
        turned = ours.backward[0] != theirs.backward[0]
        (low, high), (their_low, their_high) = ours.spans[0], theirs.spans[0]
        for word, share in stack.edge(theirs.edges[0]).words:
            if their_low <= share <= their_high and their_low < their_high:
                along = (share - their_low) / (their_high - their_low)
                found[word] = low + (high - low) * (1.0 - along if turned else along)
    return found


def _is_smooth(stack: NestStack, place: Place, blend: SizeBlend) -> bool:
    """Smooth unless all that is sewn together here is straight, or as the person says for one of them."""
    together = [place, *(theirs.edges[0] for _, theirs in stack.partners.get(place, ()))]
    names = {(stack.pieces[piece].piece.name, stack.edge((piece, index)).edge.id) for piece, index in together}
    for asked in blend.transitions:
        if (asked.piece, asked.edge) in names:
            return asked.transition is Transition.SMOOTH
    return not all(stack.edge(each).is_straight for each in together)


def _follow_armhole(
    stack: NestStack, seam: SeamStack, blend: SizeBlend, rows: dict[Place, Floats], heights: dict[Place, Floats]
) -> None:
    """Give a cap the sizes of the armhole at the places that meet; its width goes over to the upper arm's size."""
    shares, armhole = _along(stack, seam.second, rows)
    for place, share in _own_shares(stack, seam.first):
        met = np.interp(share, seam.stops[0], seam.stops[1])
        followed = np.stack([np.interp(met, shares, column) for column in armhole.T], axis=1)
        top = dict(stack.edge(place).words).get("shoulder", 0.5)
        own = stack.edge(place).share
        ramp = np.clip(np.where(own < top, 1.0 - own / top, (own - top) / (1.0 - top)), 0.0, 1.0)
        ends = np.where((share < 0.5)[:, None], armhole[0], armhole[-1])
        heights[place] = followed
        rows[place] = followed + ramp[:, None] * (hat(blend.upper_arm, _sizes(stack)) - ends)


def _along(stack: NestStack, side: SideStack, rows: dict[Place, Floats]) -> tuple[Floats, Floats]:
    """The weights along a side of a seam: shares of its whole length, and a row for each."""
    shares = [share if not backward else share[::-1] for (_, share), backward in _walked(stack, side)]
    tables = [rows[place][::-1] if back else rows[place] for place, back in zip(side.edges, side.backward, strict=True)]
    return np.concatenate(shares), np.concatenate(tables)


def _own_shares(stack: NestStack, side: SideStack) -> list[tuple[Place, Floats]]:
    """For each edge of a side, the share of the whole side at each of its points."""
    return [row for row, _ in _walked(stack, side)]


def _walked(stack: NestStack, side: SideStack) -> list[tuple[tuple[Place, Floats], bool]]:
    sample = stack.nest.sizes.index(stack.sample.size)
    widths = [high - low for low, high in side.spans]
    lengths = [
        float(stack.edge(place).sewn_mm[sample]) * width for place, width in zip(side.edges, widths, strict=True)
    ]
    total, before, found = sum(lengths), 0.0, []
    for place, backward, length, (low, high) in zip(side.edges, side.backward, lengths, side.spans, strict=True):
        share = np.clip((stack.edge(place).share - low) / max(high - low, np.finfo(float).tiny), 0.0, 1.0)
        found.append(((place, (before + length * (1.0 - share if backward else share)) / total), backward))
        before += length
    return found


def _piece_weights(
    stack: NestStack,
    number: int,
    rows: dict[Place, Floats],
    heights: dict[Place, Floats],
    blend: SizeBlend,
    corners: dict[Place, float],
) -> PieceWeights:
    places = [(number, index) for index in range(len(stack.pieces[number].edges))]
    points = np.concatenate([rows[place][:-1] for place in places])
    steps = []
    for place in places:
        own = heights[place]
        steps.append(_step_rows(stack, place, (own[:-1] + own[1:]) / 2, blend, corners))
    return PieceWeights(points, np.concatenate(steps))


def _step_rows(stack: NestStack, place: Place, steps: Floats, blend: SizeBlend, corners: dict[Place, float]) -> Floats:
    """The steps of an edge, those below the underarm in the size chosen for lengths."""
    piece, edge = stack.pieces[place[0]], stack.edge(place)
    role, part = edge.edge.role, part_of(piece.piece)
    length = hat(blend.length, _sizes(stack))
    if role in _LENGTH_ROLES or (role is EdgeRole.SIDE and part in _LOWER):
        return np.tile(length, (len(steps), 1))
    if role is not EdgeRole.SIDE or part is not Part.BODICE:
        return steps
    down = piece.edges[place[1] - 1].edge.role is EdgeRole.ARMHOLE
    underarm = corners[place] if down else corners[(place[0], (place[1] + 1) % len(piece.edges))]
    words = dict(edge.words) | _words_across(stack, place)
    marks = [words["bust"]] if "bust" in words else []
    marks += [float(edge.share[start]) for _, start, _ in edge.mouths]
    middle = (edge.share[:-1] + edge.share[1:]) / 2
    reach = max((mark if down else 1.0 - mark for mark in marks), default=0.0)
    above = (middle if down else 1.0 - middle) <= reach + np.finfo(float).eps
    return np.where(above[:, None], hat(underarm, _sizes(stack)), length)
