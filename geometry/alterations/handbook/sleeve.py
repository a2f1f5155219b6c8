"""Sleeve: what is done to the upper arm, the elbow, the forearm, the cap and the pitch (entries in sleeve_entries)."""

from __future__ import annotations

import math
from collections.abc import Callable

from geometry.affine import Point, distance_mm, midpoint
from geometry.alterations.anchors import Anchor, free, on_edge
from geometry.alterations.dart_steps import MakeDart
from geometry.alterations.handbook.armhole import lowered_underarm, underarm_pulls
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import CAP_REACH_MM, cut, spread, wedge
from geometry.alterations.handbook.fairing import fair, redraw
from geometry.alterations.handbook.landmarks import BICEPS_BACK, BICEPS_FRONT, CAP_TOP, ELBOW, landmark
from geometry.alterations.handbook.levels import between, level_through
from geometry.alterations.handbook.matching import do_just_as_long
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.skirts import hem_corner
from geometry.alterations.notch_steps import MoveNotch
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.alterations.step import Step
from geometry.alterations.upper_arm import UpperArm
from geometry.curves import polyline
from geometry.errors import StepError
from geometry.findings import Level
from geometry.model.edge import EdgeRole

BODICES = (PieceRole.FRONT_BODICE, PieceRole.BACK_BODICE)

_CLOSE_MM = 0.02
"""Armholes this near the wanted length will do: less than half a hairline."""

_UNDERARM_MM = 12.7
"""An underarm is moved by 1/4 to 1/2 in: common practice, from memory."""

_TRIES = 8
"""Cap on the tries to find how far the underarm goes down."""

ELBOW_DART_MM = 75.0
"""Length of a new elbow dart: it points at the elbow and stops 1 to 1 1/2 in short of it, from memory."""


def upper_arm(bench: Bench, by_mm: float) -> None:
    """The three ways to give an upper arm room."""
    for panel in bench.needed(PieceRole.SLEEVE):
        if bench.variant == "whole width":
            widen(bench, panel, by_mm)
            continue
        top, hem = _middle_line(bench, panel)
        front = bench.place(panel, "underarm, front", landmark(panel, BICEPS_FRONT))
        back = bench.place(panel, "underarm, back", landmark(panel, BICEPS_BACK))
        bench.do(UpperArm(panel.name, by_mm, top, hem, front, back))
        lost_mm = cap_height_mm(panel) - cap_height_mm(bench.now(panel))
        if bench.variant == "cap height kept":
            _restore_cap(bench, panel, lost_mm)
        else:
            _say_cap_height(bench, panel, lost_mm)


def _say_cap_height(bench: Bench, panel: Panel, lost_mm: float) -> None:
    words, length = ("lower", "shorter") if lost_mm > 0 else ("higher", "longer")
    text = (
        f'The cap of "{panel.name}" is {abs(lost_mm):.1f} mm {words} now; its seam keeps its length. From shoulder to '
        f"hem the sleeve is about as much {length}, which the sleeve's length can give back."
    )
    bench.say(Level.NOTE, "cap-height", text, piece=panel.name, measured_mm=lost_mm)


def cap_height_mm(panel: Panel) -> float:
    """How far the cap's top lies above the line between the underarm points."""
    base = midpoint(panel.point(landmark(panel, BICEPS_FRONT)), panel.point(landmark(panel, BICEPS_BACK)))
    return panel.frame.seen(panel.point(landmark(panel, CAP_TOP)), base)[1]


def _restore_cap(bench: Bench, panel: Panel, lost_mm: float) -> None:
    raise_cap(bench, bench.now(panel), lost_mm)
    _say_cap_grown(bench, panel)


def raise_cap(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Cut a cap level at half its height and move its top up."""
    bench.do(spread(panel, *_cap_line(bench, panel), by_mm, still=hem_corner(panel), reach_mm=CAP_REACH_MM))


def _cap_line(bench: Bench, panel: Panel) -> tuple[Anchor, Anchor]:
    back, front = level_through(panel, _half_way_up(panel))
    return bench.place(panel, "cap line, back", back), bench.place(panel, "cap line, front", front)


def _half_way_up(panel: Panel) -> Point:
    base = between(panel, landmark(panel, BICEPS_FRONT), landmark(panel, BICEPS_BACK))
    return midpoint(panel.point(landmark(panel, CAP_TOP)), base)


def _say_cap_grown(bench: Bench, panel: Panel) -> None:
    grown_mm = bench.now(panel).sewn_mm(EdgeRole.CAP) - panel.sewn_mm(EdgeRole.CAP)
    bench.say(
        Level.NOTE,
        "cap-grown",
        f'The cap seam of "{panel.name}" became {abs(grown_mm):.1f} mm {"longer" if grown_mm > 0 else "shorter"}: '
        "ease it in, or let the armhole follow by moving the underarm.",
        piece=panel.name,
        measured_mm=grown_mm,
    )


def widen(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Spread a sleeve from cap to hem along the grain; the armhole may follow at the underarm."""
    top, hem = _middle_line(bench, panel)
    bench.do(spread(panel, top, hem, by_mm, still=landmark(panel, BICEPS_BACK)))
    grown_mm = bench.now(panel).sewn_mm(EdgeRole.CAP) - panel.sewn_mm(EdgeRole.CAP)
    if bench.variant != "armhole lowered":
        _say_cap_grown(bench, panel)
        return
    _lower_underarms(bench, grown_mm)


def _lower_underarms(bench: Bench, grown_mm: float) -> None:
    """Lower the underarm of front and back alike until both armholes together have grown by so much."""
    bodices = bench.needed(*BODICES)

    def too_long_mm(down_mm: float) -> float:
        after = (
            Panel(lowered_underarm(bodice, down_mm).apply(bench.pattern).pattern.piece(bodice.name), bodice.hand)
            for bodice in bodices
        )
        now_mm = sum(panel.sewn_mm(EdgeRole.ARMHOLE) for panel in after)
        return now_mm - sum(bodice.sewn_mm(EdgeRole.ARMHOLE) for bodice in bodices) - grown_mm

    last_mm, down_mm, error = 0.0, grown_mm, -grown_mm
    for _ in range(_TRIES):
        last_error, error = error, too_long_mm(down_mm)
        if abs(error) <= _CLOSE_MM or error == last_error:
            break
        last_mm, down_mm = down_mm, down_mm - error * (down_mm - last_mm) / (error - last_error)
    bench.do(*(lowered_underarm(bodice, down_mm) for bodice in bodices))
    _say_underarm_moved(bench, down_mm)


def _say_underarm_moved(bench: Bench, down_mm: float) -> None:
    level = Level.WARN if abs(down_mm) > _UNDERARM_MM else Level.NOTE
    harm = "ties the arm down when it is lifted" if down_mm > 0 else "cuts in under the arm"
    text = f"The underarm of front and back went {'down' if down_mm > 0 else 'up'} by {abs(down_mm):.0f} mm"
    advice = f"; so much {harm}: take a smaller amount, or accept the ease." if level is Level.WARN else "."
    bench.say(level, "underarm-moved", text + advice, measured_mm=down_mm)


def _middle_line(bench: Bench, panel: Panel) -> tuple[Anchor, Anchor]:
    top = bench.place(panel, "top of cap", landmark(panel, CAP_TOP))
    below, _ = panel.plumb(panel.below(top, 1.0))
    return top, bench.place(panel, "middle of hem", below)


def whole_width(bench: Bench) -> None:
    """The whole sleeve wider, cap and all."""
    for panel in bench.needed(PieceRole.SLEEVE):
        widen(bench, panel, bench.amount_mm)


def elbow(bench: Bench, by_mm: float) -> None:
    """Length given at the elbow on the back seam, to nothing at the front seam; a dart or ease takes it up."""
    for panel in bench.needed(PieceRole.SLEEVE):
        at_back, at_front = level_through(panel, panel.point(landmark(panel, ELBOW)))
        darts = panel.piece.darts_on(at_back.name)
        opening = bench.place(panel, "slash on back seam", panel.mouth(darts[0].id) if darts else at_back)
        hinge = bench.place(panel, "hinge on front seam", at_front)
        bench.do(wedge(panel, opening, hinge, by_mm, still=landmark(panel, CAP_TOP)))
        if bench.variant != "ease" and not darts:
            _take_up(bench, panel, opening, hinge)


def _take_up(bench: Bench, panel: Panel, opening: Anchor, hinge: Anchor) -> None:
    """Fold what the back seam has become too long for the front seam into a dart that points at the elbow."""
    now, number, share = bench.now(panel), *divmod(panel.ring_place(opening), 1.0)
    back, front = panel.piece.edges[int(number)].id, panel.piece.edges[int(panel.ring_place(hinge))].id
    too_long_mm = [each.piece.sewn_length_mm(back) - each.piece.sewn_length_mm(front) for each in (panel, now)]
    if too_long_mm[1] <= too_long_mm[0]:
        raise StepError(f'"{panel.name}" has no elbow dart that could be let out; give an amount above 0.')
    mouth, end = now.point(on_edge(back, share)), now.point(hinge)
    tip = between(now, free(mouth), free(end), min(ELBOW_DART_MM / distance_mm(mouth, end), 0.5))
    intake_mm = too_long_mm[1] - too_long_mm[0]
    bench.do(MakeDart(panel.name, on_edge(back, share), free(tip), intake_mm, dart="elbow dart"))


def forearm(bench: Bench) -> None:
    """Width at the hem that ends at the biceps."""
    for panel in bench.needed(PieceRole.SLEEVE):
        front, back = landmark(panel, BICEPS_FRONT), landmark(panel, BICEPS_BACK)
        _, hem = _middle_line(bench, panel)
        swing_below(bench, panel, (back, front), hem, bench.amount_mm, still=landmark(panel, CAP_TOP))


def swing_below(
    bench: Bench, panel: Panel, hinges: tuple[Anchor, Anchor], hem: Anchor, by_mm: float, *, still: Anchor
) -> None:
    """Slash from the hem up to the line between two places and out to both; what is below swings out about them.

    The hem opens by ``by_mm``; the line itself and what lies above it keep their width. ``hinges`` are the inner and
    the outer place of the outline, ``still`` is a place above.
    """
    inner, outer = hinges
    foot = panel.point(hem)
    centre = _foot_on_line(panel, panel.point(inner), panel.point(outer), foot)
    angles = [_swing_rad(panel, foot, panel.point(hinge), by_mm / 2) for hinge in (inner, outer)]
    first = cut(
        panel,
        (outer, free(centre), hem),
        2 * distance_mm(panel.point(outer), foot) * math.sin(angles[1] / 2),
        Hinge.START,
        still=still,
    )
    opening_mm = 2 * distance_mm(panel.point(inner), centre) * math.sin(angles[0] / 2)
    below = Side.RIGHT if panel.frame.handed > 0 else Side.LEFT
    second = SlashCut((inner, free(centre)), opening_mm, Hinge.START, below)
    bench.do(Slash(panel.name, (first, second)))


def _foot_on_line(panel: Panel, inner: Point, outer: Point, hem: Point) -> Point:
    """Where the plumb line from the hem meets the line between two places."""
    out, up = panel.frame.seen(outer, inner)
    at, _ = panel.frame.seen(hem, inner)
    dx, dy = panel.frame.step(at, up * at / out)
    return (inner[0] + dx, inner[1] + dy)


def _swing_rad(panel: Panel, foot: Point, hinge: Point, by_mm: float) -> float:
    """The turn about a hinge that carries the foot of the slash sideways by just so much."""
    across, up = panel.frame.seen(foot, hinge)
    reach = math.hypot(across, up)
    moved = (abs(across) - by_mm) / reach
    if abs(moved) >= 1:
        raise StepError(f'The lower part of "{panel.name}" is too short to open by so much; give a smaller amount.')
    return math.acos(moved) - math.acos(abs(across) / reach)


def cap_height(bench: Bench) -> None:
    """A higher or lower cap, spread half-way up."""
    for panel in bench.needed(PieceRole.SLEEVE):
        raise_cap(bench, panel, bench.amount_mm)
        _say_cap_grown(bench, panel)


def cap_ease(bench: Bench) -> None:
    """Length taken out of the cap seam, at the place that fits."""
    for panel in bench.needed(PieceRole.SLEEVE):
        do_just_as_long(bench, panel, EdgeRole.CAP, -bench.amount_mm, _CAP_CHANGES[bench.variant](bench, panel))


def _tuck_across(bench: Bench, panel: Panel) -> Callable[[float], Step]:
    line = _cap_line(bench, panel)
    return lambda amount_mm: spread(panel, *line, amount_mm, still=hem_corner(panel), reach_mm=CAP_REACH_MM)


def _tuck_down(bench: Bench, panel: Panel) -> Callable[[float], Step]:
    top, hem = _middle_line(bench, panel)
    return lambda amount_mm: wedge(panel, top, hem, amount_mm, still=landmark(panel, BICEPS_BACK))


def _lower_top(bench: Bench, panel: Panel) -> Callable[[float], Step]:
    return lambda amount_mm: _top_moved(panel, amount_mm)


def _narrow_underarm(bench: Bench, panel: Panel) -> Callable[[float], Step]:
    corners = landmark(panel, BICEPS_FRONT), landmark(panel, BICEPS_BACK)
    return lambda mm: redraw(panel, *(pull for at in corners for pull in underarm_pulls(panel, at, out_mm=mm)))


_CAP_CHANGES = {
    "tuck across": _tuck_across,
    "tuck down the middle": _tuck_down,
    "top lowered": _lower_top,
    "at the underarm": _narrow_underarm,
}


def _top_moved(panel: Panel, up_mm: float) -> Step:
    """The top of the cap moved, to nothing at the nearest notch on each side but that of the shoulder."""
    cap, top = panel.edge(EdgeRole.CAP), panel.point(landmark(panel, CAP_TOP))
    notches = [notch.at_mm for notch in panel.piece.notches_on(cap.id)]
    top_mm, _ = polyline.nearest(cap.points, top)
    low = max((at for at in notches if at < top_mm - 1.0), default=0.0)
    high = min((at for at in notches if at > top_mm + 1.0), default=cap.length_mm)
    way = panel.frame.step(0.0, up_mm)
    runs = (fair(panel, cap, on_edge(cap.id, at / cap.length_mm), free(top)) for at in (low, high))
    return redraw(panel, *(pull for run in runs for pull in run.pulls(way)))


def pitch(bench: Bench) -> None:
    """The sleeve turned in its armhole: every notch of the cap moves along it by the same length."""
    for panel in bench.needed(PieceRole.SLEEVE):
        cap = panel.edge(EdgeRole.CAP)
        back = panel.point(landmark(panel, BICEPS_BACK))
        starts_behind = distance_mm(back, cap.start) < distance_mm(back, cap.end)
        along_mm = -bench.amount_mm if starts_behind else bench.amount_mm
        notches = panel.piece.notches_on(cap.id)
        if not notches:
            raise StepError(
                f'The cap of "{panel.name}" has no notches to move; mark where it meets the shoulder first.'
            )
        # Those ahead go first, so that none is moved past another.
        for notch in notches if along_mm < 0 else notches[::-1]:
            bench.do(MoveNotch(panel.name, notch.id, along_mm))
        bench.say(
            Level.NOTE,
            "underarm-offset",
            f'The underarm seam of "{panel.name}" now meets the armhole {abs(along_mm):.0f} mm '
            f"{'in front of' if bench.amount_mm > 0 else 'behind'} the side seam.",
            piece=panel.name,
            measured_mm=bench.amount_mm,
        )
