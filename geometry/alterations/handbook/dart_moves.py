"""Fullness turned about a body point: a wedge closed at an edge opens a dart, one dart restores another."""

from __future__ import annotations

from geometry.affine import angle_between
from geometry.alterations.anchors import Anchor, On
from geometry.alterations.dart_steps import MakeDart, WidenDart
from geometry.alterations.dart_transfer import DEFAULT_STAND_OFF_MM, DartTransfer
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import cut
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.slash import Hinge, Slash, SlashCut
from geometry.errors import StepError
from geometry.model.edge import EdgeRole

NECK_DART = "neck dart"

BUST_DARTS = (EdgeRole.SIDE, EdgeRole.WAIST, EdgeRole.SHOULDER)
"""Where a bust dart is looked for first."""


def widest_dart(panel: Panel, roles: tuple[EdgeRole, ...]) -> str | None:
    """The id of the widest dart on the first edge of some roles that has one."""
    return next((dart for role in roles if (dart := panel.dart_on(role)) is not None), None)


def apex_of(panel: Panel, dart_id: str) -> Anchor:
    """The point a dart turns about."""
    return Anchor(On.AIM if panel.piece.dart(dart_id).aim is not None else On.TIP, dart_id)


def dart_angle_rad(panel: Panel, dart_id: str) -> float:
    """The angle of a dart at the point it turns about, above 0."""
    dart = panel.piece.dart(dart_id)
    return abs(angle_between(dart.apex, *panel.piece.mouth(dart)))


def close_into_dart(
    bench: Bench,
    panel: Panel,
    at: Anchor,
    closed_mm: float,
    apex: Anchor,
    *,
    on: tuple[EdgeRole, ...] = BUST_DARTS,
) -> None:
    """Fold a wedge out of an edge to a body point; the dart there grows by its angle, or a new one opens.

    A negative amount opens the edge and takes the angle from the dart.

    Raises:
        StepError: there is no dart to take from.
    """
    dart_id = widest_dart(panel, on)
    if dart_id is not None:
        mouth, end = panel.mouth(dart_id), apex_of(panel, dart_id)
        # Both cuts together part the piece from edge to edge; that says on which side of the first the centre lies.
        moving = cut(panel, (at, mouth), 0.0, Hinge.END, still=panel.centre).moving
        closed = SlashCut((at, end), -closed_mm, Hinge.END, moving)
        bench.do(Slash(panel.name, (closed, SlashCut((mouth, end), None))))
        return
    if closed_mm < 0:
        words = " or ".join(role.value for role in on)
        raise StepError(f'On "{panel.name}" no dart on the {words} can give the width; give an amount above 0.')
    fold = "gape"
    bench.do(MakeDart(panel.name, at, apex, closed_mm, dart=fold, aims=True, stand_off_mm=DEFAULT_STAND_OFF_MM))
    panel = bench.now(panel)
    place = next(role for role in on if panel.has(role))
    start = bench.place(panel, "new dart", panel.middle(place))
    bench.do(DartTransfer(panel.name, fold, (start,), new_dart=f"{place.value} dart"))


def neck_dart(bench: Bench, panel: Panel, at: Anchor, tip: Anchor, width_mm: float) -> str:
    """Take in the neck by a dart that points at a body point, and return its id; one that is there is widened instead.

    Raises:
        StepError: the neck is to be let out and has no dart.
    """
    known = panel.dart_on(EdgeRole.NECK)
    if known is not None:
        bench.do(WidenDart(panel.name, known, width_mm))
        return known
    if width_mm <= 0:
        raise StepError(f'The neck of "{panel.name}" has no dart that could be let out; give an amount above 0.')
    bench.do(MakeDart(panel.name, at, tip, width_mm, dart=NECK_DART, aims=True))
    return NECK_DART


def restore_dart(bench: Bench, panel: Panel, dart_id: str, donor_id: str, angle_rad: float) -> None:
    """Turn a dart back to an angle it had: the rest goes to another dart about the same point, or comes from it.

    Raises:
        StepError: the other dart is too small.
    """
    panel = bench.now(panel)
    now = dart_angle_rad(panel, dart_id)
    if now > angle_rad:
        _transfer(bench, panel, dart_id, donor_id, (now - angle_rad) / now)
    elif now < angle_rad:
        has = dart_angle_rad(panel, donor_id)
        if angle_rad - now >= has:
            raise StepError(f'The dart "{donor_id}" on "{panel.name}" is too small to give so much; give less.')
        _transfer(bench, panel, donor_id, dart_id, (angle_rad - now) / has)


def _transfer(bench: Bench, panel: Panel, source: str, target: str, share: float) -> None:
    bench.do(DartTransfer(panel.name, source, (panel.mouth(target),), share=share))
