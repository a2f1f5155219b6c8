"""Body points and levels on the pieces: as the person marked them, else as the piece tells."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from geometry.affine import Point, midpoint
from geometry.alterations.anchors import Anchor, On, free, on_edge, resolve
from geometry.alterations.handbook.levels import level_through
from geometry.alterations.handbook.panels import Panel, PieceRole, hands_of
from geometry.errors import PatternError, StepError
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, part_of
from geometry.model.marks import MarkKind, Notch
from geometry.model.piece import Piece

BUST_POINT = "bust point"
SHOULDER_BLADE = "shoulder blade"
SHOULDER_POINT = "shoulder point"
NECK_POINT = "neck point"
CENTRE_NECK = "centre neck"
UNDERARM = "underarm"
ARMHOLE_NOTCH = "armhole notch"
WAIST_AT_CENTRE = "waist at centre"
WAIST_AT_SIDE = "waist at side"
HIP_AT_SIDE = "hip at side"
HIP_AT_CENTRE = "hip at centre"
CAP_TOP = "cap top"
BICEPS_FRONT = "biceps front"
BICEPS_BACK = "biceps back"
ELBOW = "elbow"
CROTCH_POINT = "crotch point"
KNEE = "knee"

HIP_BELOW_WAIST_MM = 178.0
"""7 in below the waist (The New Dressmaker, 1921, p. 15)."""

_NOTCH_SHARE = 0.4
"""Where an armhole notch is taken to be if none is drawn, from the underarm: common practice, no source."""

_ELBOW_SHARE = 0.45
"""Elbow level, down the underarm seam from the underarm, if none is marked: from memory."""

_KNEE_ABOVE_MIDDLE_MM = 50.0
"""The knee lies about 2 in above the middle of the inside leg, if none is marked: from memory."""


def landmark(panel: Panel, name: str) -> Anchor:
    """Where a landmark is on a piece: a landmark mark of that name if there is one, else what the piece tells.

    Raises:
        StepError: it is not marked and the piece does not tell.
    """
    for mark in panel.piece.marks:
        if mark.kind is MarkKind.LANDMARK and mark.id.lower() == f"{panel.hand} {name}".strip():
            return Anchor(On.LANDMARK, mark.id)
    anchor = _told(panel, name)
    if anchor is None:
        raise StepError(f'On "{panel.name}" the {name} is not known; place a landmark called "{name}" first.')
    return anchor


def detected(panel: Panel) -> tuple[tuple[str, Anchor], ...]:
    """Every landmark that is marked on a piece or told by it, with its name."""
    found = []
    for name in _FINDERS:
        try:
            found.append((name, landmark(panel, name)))
        except PatternError:
            continue
    return tuple(found)


def _told(panel: Panel, name: str) -> Anchor | None:
    finder = _FINDERS.get(name)
    try:
        return finder(panel) if finder else None
    except PatternError:
        return None


def _aimed_at(panel: Panel, *roles: EdgeRole) -> Anchor | None:
    """The body point that darts on edges of some roles aim at: what the first with an aim says, else their tips."""
    darts = [dart for role in roles for edge in panel.edges(role) for dart in panel.piece.darts_on(edge.id)]
    for dart in darts:
        if dart.aim is not None:
            return Anchor(On.AIM, dart.id)
    if len(darts) < 2:
        return Anchor(On.TIP, darts[0].id) if darts else None
    return free((sum(dart.tip[0] for dart in darts) / len(darts), sum(dart.tip[1] for dart in darts) / len(darts)))


def _bust_point(panel: Panel) -> Anchor | None:
    if not panel.has(EdgeRole.CENTRE_FRONT) or part_of(panel.piece) is not Part.BODICE:
        return None
    return _aimed_at(
        panel, EdgeRole.SIDE, EdgeRole.WAIST, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.NECK, EdgeRole.CENTRE_FRONT
    )


def _shoulder_blade(panel: Panel) -> Anchor | None:
    if not panel.has(EdgeRole.CENTRE_BACK):
        return None
    aimed = _aimed_at(panel, EdgeRole.SHOULDER, EdgeRole.NECK, EdgeRole.ARMHOLE)
    if aimed is not None:
        return aimed
    shoulder = panel.point(panel.along(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK))
    notch = panel.point(_armhole_notch(panel))
    return free((shoulder[0], notch[1] + (shoulder[1] - notch[1]) * 0.1))


def _armhole_notch(panel: Panel) -> Anchor:
    """The notch of the armhole nearest the underarm's third, else a share of the armhole's length."""
    edge = panel.edge(EdgeRole.ARMHOLE)
    default = panel.along(EdgeRole.ARMHOLE, _NOTCH_SHARE, EdgeRole.SIDE)
    wanted = default.share * edge.length_mm

    def gap(notch: Notch) -> float:
        return abs(notch.at_mm - wanted)

    nearest = min(panel.piece.notches_on(edge.id), key=gap, default=None)
    return Anchor(On.NOTCH, nearest.id) if nearest else default


def _top_of_cap(panel: Panel) -> Anchor:
    edge = panel.edge(EdgeRole.CAP)
    for notch in panel.piece.notches_on(edge.id):
        if "shoulder" in f"{notch.id} {notch.partner}".lower():
            return Anchor(On.NOTCH, notch.id)
    up = panel.frame.up
    heights = [x * up[0] + y * up[1] for x, y in edge.points.tolist()]
    x, y = edge.points[heights.index(max(heights))].tolist()
    return free((x, y))


def _biceps(panel: Panel, half: str) -> Anchor | None:
    """The end of the cap beside the underarm edge that has "front" or "back" in its name."""
    for edge in panel.edges(EdgeRole.UNDERARM):
        if half in edge.id.lower():
            ring = panel.piece.edges
            follows = ring[ring.index(edge) - 1].role is EdgeRole.CAP
            return on_edge(edge.id, 0.0 if follows else 1.0)
    return None


def _elbow(panel: Panel) -> Anchor | None:
    """Half-way between both underarm seams; the edge before the hem runs down to it, the one after it runs up."""
    seams = panel.edges(EdgeRole.UNDERARM)
    if len(seams) != 2:
        return None
    ring = panel.piece.edges
    down = [edge for edge in seams if ring[ring.index(edge) - 1].role is EdgeRole.CAP]
    shares = {edge.id: _ELBOW_SHARE if edge in down else 1 - _ELBOW_SHARE for edge in seams}
    front, back = (edge.point_at(shares[edge.id] * edge.length_mm) for edge in seams)
    return free(midpoint(front, back))


def _crotch_point(panel: Panel) -> Anchor:
    return panel.corner(EdgeRole.INSEAM, EdgeRole.CROTCH)


def _hip(panel: Panel) -> Anchor | None:
    if panel.has(EdgeRole.ARMHOLE):
        return None
    edge = panel.edge(EdgeRole.SIDE, EdgeRole.WAIST)
    for notch in panel.piece.notches_on(edge.id):
        if "hip" in f"{notch.id} {notch.partner}".lower():
            return Anchor(On.NOTCH, notch.id)
    return panel.along_mm(EdgeRole.SIDE, HIP_BELOW_WAIST_MM, EdgeRole.WAIST)


def _hip_at_centre(panel: Panel) -> Anchor:
    return level_through(panel, panel.point(landmark(panel, HIP_AT_SIDE)))[0]


def _knee(panel: Panel) -> Anchor:
    leg_mm = panel.edge(EdgeRole.INSEAM).length_mm
    return panel.along_mm(EdgeRole.INSEAM, max(leg_mm / 2 - _KNEE_ABOVE_MIDDLE_MM, leg_mm / 4), EdgeRole.CROTCH)


def _centre(panel: Panel, beside: EdgeRole) -> Anchor | None:
    """The end of the centre line at an edge; on trousers the centre line is the upper part of the crotch seam."""
    for role in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK, EdgeRole.CROTCH):
        if panel.has(role):
            return panel.corner(role, beside)
    return None


_FINDERS: dict[str, Callable[[Panel], Anchor | None]] = {
    NECK_POINT: lambda panel: panel.corner(EdgeRole.SHOULDER, EdgeRole.NECK),
    CENTRE_NECK: lambda panel: _centre(panel, EdgeRole.NECK),
    SHOULDER_POINT: lambda panel: panel.corner(EdgeRole.SHOULDER, EdgeRole.ARMHOLE),
    UNDERARM: lambda panel: panel.corner(EdgeRole.ARMHOLE, EdgeRole.SIDE),
    ARMHOLE_NOTCH: _armhole_notch,
    BUST_POINT: _bust_point,
    SHOULDER_BLADE: _shoulder_blade,
    WAIST_AT_CENTRE: lambda panel: _centre(panel, EdgeRole.WAIST),
    WAIST_AT_SIDE: lambda panel: panel.corner(EdgeRole.SIDE, EdgeRole.WAIST),
    HIP_AT_SIDE: _hip,
    HIP_AT_CENTRE: _hip_at_centre,
    CAP_TOP: _top_of_cap,
    BICEPS_FRONT: lambda panel: _biceps(panel, "front"),
    BICEPS_BACK: lambda panel: _biceps(panel, "back"),
    ELBOW: _elbow,
    CROTCH_POINT: _crotch_point,
    KNEE: _knee,
}
"""How a piece tells each landmark where it is not marked."""

LANDMARKS = tuple(_FINDERS)
"""The names of all landmarks."""


_UPPER = (NECK_POINT, CENTRE_NECK, SHOULDER_POINT, UNDERARM, ARMHOLE_NOTCH)
_WAIST = (WAIST_AT_CENTRE, WAIST_AT_SIDE)
_LOWER = (*_WAIST, HIP_AT_SIDE, HIP_AT_CENTRE)
_LEG = (*_LOWER, CROTCH_POINT, KNEE)
_OF_ROLE: dict[PieceRole, tuple[str, ...]] = {
    PieceRole.FRONT_BODICE: (*_UPPER, BUST_POINT, *_WAIST),
    PieceRole.BACK_BODICE: (*_UPPER, SHOULDER_BLADE, *_WAIST),
    PieceRole.FRONT_SKIRT: _LOWER,
    PieceRole.BACK_SKIRT: _LOWER,
    PieceRole.SLEEVE: (CAP_TOP, BICEPS_FRONT, BICEPS_BACK, ELBOW),
    PieceRole.FRONT_TROUSERS: _LEG,
    PieceRole.BACK_TROUSERS: _LEG,
}


def landmarks_on(roles: Iterable[PieceRole]) -> tuple[str, ...]:
    """The names of the landmarks that pieces of such roles may have, in their order; all if they have none."""
    known = {name for role in roles for name in _OF_ROLE.get(role, ())}
    return tuple(name for name in LANDMARKS if name in known) or LANDMARKS


@dataclass(frozen=True, slots=True)
class Landmark:
    """A landmark on a piece.

    Attributes:
        piece: Name of the piece.
        name: What it is called there; with "left" or "right" on a piece that holds both halves of the body.
        anchor: What it holds on to.
        at: Where it is, mm.
        is_marked: Whether somebody marked it; else the piece tells it.
    """

    piece: str
    name: str
    anchor: Anchor
    at: Point
    is_marked: bool


def landmarks_of(piece: Piece) -> tuple[Landmark, ...]:
    """Every landmark of a piece: those that handbook entries go by, then what else is marked under a name."""
    known = {
        f"{hand} {name}".strip(): anchor for hand in hands_of(piece) for name, anchor in detected(Panel(piece, hand))
    }
    marked = {mark.id: Anchor(On.LANDMARK, mark.id) for mark in piece.marks if mark.kind is MarkKind.LANDMARK}
    taken = {anchor.name for anchor in known.values() if anchor.on is On.LANDMARK}
    every = known | {name: anchor for name, anchor in marked.items() if name not in taken}
    return tuple(
        Landmark(piece.name, name, anchor, resolve(piece, anchor), anchor.on is On.LANDMARK)
        for name, anchor in every.items()
    )
