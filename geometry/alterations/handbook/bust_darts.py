"""Bust darts moved, lengthened and turned (D06 to D12)."""

from __future__ import annotations

from geometry.affine import distance_mm
from geometry.alterations.anchors import Anchor, On, free
from geometry.alterations.dart_steps import AimDart, LengthenDart, MoveDart
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.handbook.across_waist import BELOW_FRONT, darts_met, follow
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.bust import FRONT, spread_bust
from geometry.alterations.handbook.chest import chest_level
from geometry.alterations.handbook.cuts import wedge
from geometry.alterations.handbook.dart_moves import close_into_dart, widest_dart
from geometry.alterations.handbook.entry import HALF_FRONT, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.landmarks import ARMHOLE_NOTCH, BUST_POINT, UNDERARM, landmark
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.alterations.notch_steps import MoveNotch
from geometry.errors import StepError
from geometry.findings import Level
from geometry.model.dart import Dart
from geometry.model.edge import EdgeRole
from geometry.tolerance import SAME_POINT_MM

_REAIMED_MM = 12.7
"""Below 1/2 in it is enough to aim the tips anew: common practice, from memory."""

_TARGETS = {
    "to the waist": EdgeRole.WAIST,
    "to the side": EdgeRole.SIDE,
    "to the shoulder": EdgeRole.SHOULDER,
    "to the neck": EdgeRole.NECK,
    "to the armhole": EdgeRole.ARMHOLE,
    "to the centre front": EdgeRole.CENTRE_FRONT,
}


def _bust_darts(panel: Panel) -> tuple[Dart, ...]:
    """The darts that turn about the bust point, or that open where bust darts do and aim at nothing known."""
    bust = panel.point(landmark(panel, BUST_POINT))
    return tuple(
        dart
        for dart in panel.piece.darts
        if dart.aim is None or distance_mm(dart.aim, bust) <= max(distance_mm(dart.tip, bust), 1.0)
    )


def _bust_point_moved(bench: Bench, panel: Panel, out_mm: float, up_mm: float, *, slide: EdgeRole | None) -> None:
    """Move the bust point and aim every dart at it anew; darts on one edge slide along it by as much."""
    darts, bust = _bust_darts(panel), landmark(panel, BUST_POINT)
    (x, y), (dx, dy) = panel.point(bust), panel.frame.step(out_mm, up_mm)
    new = free((x + dx, y + dy))
    if bust.on is On.LANDMARK:
        bench.do(PlaceLandmark(panel.name, bust.name, new))
    for dart in darts:
        if slide is not None and panel.piece.edge(dart.edge).role is slide:
            _slide(bench, panel, dart, _along(panel, slide, out_mm, up_mm))
        stand_off = distance_mm(dart.tip, dart.aim) if dart.aim is not None else distance_mm(dart.tip, (x, y))
        bench.do(AimDart(panel.name, dart.id, new, stand_off))


def _slide(bench: Bench, panel: Panel, dart: Dart, by_mm: float) -> None:
    """Slide a dart along its edge; the notches it passes stay where they are when the seam is sewn."""
    sewn = {each.id: panel.piece.sewn_station_mm(dart.edge, each.at_mm) for each in panel.piece.notches_on(dart.edge)}
    bench.do(MoveDart(panel.name, dart.id, by_mm))
    piece = bench.now(panel).piece
    for notch in piece.notches_on(dart.edge):
        passed_mm = sewn[notch.id] - piece.sewn_station_mm(dart.edge, notch.at_mm)
        if abs(passed_mm) > SAME_POINT_MM:
            bench.do(MoveNotch(panel.name, notch.id, passed_mm))


def _along(panel: Panel, role: EdgeRole, out_mm: float, up_mm: float) -> float:
    """How far a dart moves along a side or waist edge, positive towards the end of the edge."""
    if role is EdgeRole.SIDE:
        return up_mm if panel.corner(EdgeRole.SIDE, EdgeRole.WAIST).share == 0.0 else -up_mm
    return out_mm if panel.corner(EdgeRole.WAIST, EdgeRole.SIDE).share == 1.0 else -out_mm


def _height(bench: Bench, up_mm: float) -> None:
    slide = None if bench.variant == "aim anew" else EdgeRole.SIDE
    for panel in bench.needed(*FRONT):
        _bust_point_moved(bench, panel, 0.0, up_mm, slide=slide)


def _span(bench: Bench) -> None:
    for panel in bench.needed(*FRONT):
        darts_below = darts_met(bench, panel, BELOW_FRONT)
        _bust_point_moved(bench, panel, bench.amount_mm, 0.0, slide=EdgeRole.WAIST)
        follow(bench, darts_below)


def _dart_length(bench: Bench) -> None:
    for panel in bench.needed(*FRONT):
        roles = {"side dart": (EdgeRole.SIDE,), "waist dart": (EdgeRole.WAIST,)}.get(bench.variant, tuple(EdgeRole))
        darts = [dart for dart in _bust_darts(panel) if panel.piece.edge(dart.edge).role in roles]
        if not darts:
            raise StepError(f'On "{panel.name}" there is no such bust dart; choose another one.')
        for dart in darts:
            if dart.aim is not None and -bench.amount_mm > distance_mm(dart.tip, dart.aim):
                raise StepError(
                    f'The dart "{dart.id}" on "{panel.name}" stops {distance_mm(dart.tip, dart.aim):.0f} mm short of '
                    "the bust point and must not pass it; give a smaller amount."
                )
            bench.do(LengthenDart(panel.name, dart.id, -bench.amount_mm))


def _relocate(bench: Bench) -> None:
    role = _TARGETS[bench.variant]
    for panel in bench.needed(*FRONT):
        others = tuple(each for each in (EdgeRole.SIDE, EdgeRole.WAIST, *_TARGETS.values()) if each is not role)
        source, target = widest_dart(panel, others), panel.dart_on(role)
        if bench.amount_mm < 0:
            source, target, role = target, source, _role_of(panel, source)
        if role is EdgeRole.CENTRE_FRONT and panel.piece.fold == panel.edge(role).id:
            raise StepError(f'The centre front of "{panel.name}" is on the fold; a dart there needs a seam.')
        if source is None or (bench.amount_mm < 0 and target is None):
            raise StepError(f'On "{panel.name}" there is no dart to close for that; choose another way.')
        _transfer(bench, panel, source, target, role)


def _role_of(panel: Panel, dart_id: str | None) -> EdgeRole:
    return panel.piece.edge(panel.piece.dart(dart_id).edge).role if dart_id else EdgeRole.SIDE


def _transfer(bench: Bench, panel: Panel, source: str, target: str | None, role: EdgeRole) -> None:
    width_mm = panel.piece.intake_mm(panel.piece.dart(source))
    share = min(abs(bench.amount_mm) / width_mm, 1.0)
    if abs(bench.amount_mm) > width_mm:
        text = f'The dart "{source}" on "{panel.name}" is {width_mm:.0f} mm wide; all of it was moved.'
        bench.say(Level.NOTE, "whole-dart-moved", text, piece=panel.name, measured_mm=width_mm)
    place = bench.place(panel, "new dart", panel.mouth(target) if target else _new_place(panel, role))
    bench.do(DartTransfer(panel.name, source, (place,), share=share, new_dart="" if target else f"{role.value} dart"))


def _new_place(panel: Panel, role: EdgeRole) -> Anchor:
    """Where a dart opens by itself: below the bust on the waist, level with it at the centre, else half-way."""
    bust = landmark(panel, BUST_POINT)
    if role is EdgeRole.WAIST:
        return panel.plumb(panel.below(bust, 1.0))[0]
    if role is EdgeRole.CENTRE_FRONT:
        return panel.level(panel.point(bust))[0]
    return panel.clear(role, 0.5, EdgeRole.ARMHOLE if role in (EdgeRole.SIDE, EdgeRole.SHOULDER) else EdgeRole.SHOULDER)


def _armhole_gape(bench: Bench) -> None:
    for panel in bench.needed(*FRONT):
        at = bench.place(panel, "fold on armhole", landmark(panel, ARMHOLE_NOTCH))
        close_into_dart(bench, panel, at, bench.amount_mm, landmark(panel, BUST_POINT))


def _low_bust(bench: Bench) -> None:
    for panel in bench.needed(*FRONT):
        _bust_point_moved(bench, panel, 0.0, -bench.amount_mm, slide=EdgeRole.SIDE)
        if bench.variant == "low and small":
            spread_bust(bench, bench.now(panel), -bench.amount_mm / 2)


def _high_bust(bench: Bench) -> None:
    for panel in bench.needed(*FRONT):
        _bust_point_moved(bench, panel, 0.0, bench.amount_mm, slide=EdgeRole.SIDE)
        if bench.variant == "shorter above the bust":
            panel = bench.now(panel)
            centre, armhole = panel.level(chest_level(panel))
            opening = bench.place(panel, "fold at centre front", centre)
            hinge = bench.place(panel, "hinge on armhole", armhole)
            bench.do(wedge(panel, opening, hinge, -bench.amount_mm / 2, still=landmark(panel, UNDERARM)))


_KEEPS = kept(FRONT, EdgeRole.SHOULDER, EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.SIDE, EdgeRole.WAIST)
_MATCHES = (EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST)
_POINTS = "See on the toile where the darts point, with the arms hanging."
_FAR = Caution(
    38.1, "A bust point 1 1/2 in from where the pattern has it: see whether another size or bodice length is meant."
)
_SLIDE = (
    Variant("slide", "the side dart slides along its seam, all tips are aimed anew"),
    Variant("aim anew", "only the tips are aimed anew, for less than 1/2 in"),
)

ENTRIES = (
    Entry(
        "D06",
        "Raise or lower the bust point",
        Region.BUST,
        symptom="The darts point above or below the fullest place.",
        does="The bust point moves straight down and the side dart slides along its seam by as much; every dart that "
        "turns about the bust point is aimed at its new place with the distance it kept before. The side seam is sewn "
        "as long as it was.",
        inverse="Raises the bust point.",
        needs=("bust point", "a bust dart"),
        touches=FRONT,
        keeps=_KEEPS,
        matches=_MATCHES,
        check_after=(_POINTS, "Walk the side seam: the notches above and below the dart."),
        source="common practice, from memory",
        amount=Amount(
            "how much lower the bust point lies: from the shoulder, body less pattern", None, 15.0, -60.0, 60.0, (_FAR,)
        ),
        plan=lambda bench: _height(bench, -bench.amount_mm),
        variants=_SLIDE,
    ),
    Entry(
        "D07",
        "Distance of the bust points",
        Region.BUST,
        symptom="The darts point inside or outside the fullest place.",
        does="The bust point moves out from the centre front by half of the difference between the two bust points. "
        "The waist dart slides out as a whole, and the dart that meets it below the waist seam with it; the other "
        "darts are aimed anew. Every dart takes in what it took in before.",
        inverse="Brings the bust points nearer together.",
        needs=("bust point", "a bust dart"),
        touches=(*FRONT, *BELOW_FRONT),
        begins_on=FRONT,
        keeps=(*_KEEPS, *kept(BELOW_FRONT, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.HEM)),
        matches=_MATCHES,
        check_after=(_POINTS, "See that the skirt dart has come under the bodice dart and ends above the hip."),
        source="common practice, from memory",
        amount=Amount("how far each bust point moves out", HALF_FRONT, 8.0, -40.0, 40.0),
        plan=_span,
    ),
    Entry(
        "D08",
        "Dart length",
        Region.BUST,
        symptom="A dart ends in a peak on the bust, or stops so far away that it leaves fullness between.",
        does="The tips move back from the bust point while the mouths stay, and both legs are redrawn. A small bust "
        "wants a tip about 1 in from the bust point, a large one up to 2 1/2 in.",
        inverse="Makes the darts longer, up to the bust point.",
        needs=("a bust dart",),
        touches=FRONT,
        keeps=_KEEPS,
        matches=_MATCHES,
        check_after=("Measure both legs of each dart: they must be equal.",),
        source="Threads 181, Where to place bust-dart points",
        amount=Amount(
            "how much further the tips stop from the bust point",
            None,
            8.0,
            -40.0,
            60.0,
            (Caution(38.1, "A dart more than 2 1/2 in away from the bust point shapes another place."),),
        ),
        plan=_dart_length,
        variants=(
            Variant("all darts", "every bust dart"),
            Variant("side dart", "the side dart only"),
            Variant("waist dart", "the waist dart only"),
        ),
    ),
    Entry(
        "D09",
        "Dart relocation",
        Region.BUST,
        symptom="The dart fits but would look or sew better somewhere else.",
        does="The front is cut from the new place to the bust point and turned about it until the old dart is closed. "
        "The angle stays; a longer leg only makes a wider mouth. Every seam keeps its sewn length.",
        inverse="Turns the dart back from that place.",
        needs=("bust point", "a bust dart"),
        touches=FRONT,
        keeps=_KEEPS,
        matches=_MATCHES,
        check_after=("Let the new dart stop short of the bust point.", "True the cap of the new dart."),
        source="common practice, from memory; width by length of leg: own arithmetic",
        amount=Amount(
            "how much of the old dart's width is closed; more than it has means all of it", None, 200.0, -300.0, 300.0
        ),
        plan=_relocate,
        variants=tuple(Variant(name, f"{name.removeprefix('to ')}, from the widest other dart") for name in _TARGETS),
    ),
    Entry(
        "D10",
        "Large bust with armhole gape",
        Region.BUST,
        symptom="The armhole of a sleeveless front stands away from the body.",
        does="The pinned width is folded out of the armhole to nothing at the bust point, and the bust dart opens by "
        "the same angle. So the gape becomes bust shaping; neck and shoulder stay.",
        inverse="Lets a dart out into the armhole as ease.",
        needs=("bust point", "armhole", "a bust dart"),
        touches=FRONT,
        keeps=kept(FRONT, EdgeRole.SHOULDER, EdgeRole.NECK, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.WAIST),
        check_after=("With a sleeve, take as much from its cap.", "Change the armhole facing or binding."),
        source="common practice, from memory",
        amount=Amount(
            "what was pinned at the armhole",
            None,
            9.5,
            -30.0,
            40.0,
            (Caution(19.05, "About 3/8 in is usual here: with more, look at the full-bust alteration first."),),
        ),
        plan=_armhole_gape,
    ),
    Entry(
        "D11",
        "Low bust",
        Region.BUST,
        symptom="The darts point above the fullest place; with a small bust the cloth bubbles there as well.",
        does="The bust point and the side dart go down by the amount. For a low and small bust the front is then "
        "lapped by half as much as for a small bust; take it apart to give each its own figure.",
        inverse="Raises the bust point; with the second way it adds to the bust as well.",
        needs=("bust point", "a side dart", "armhole", "waist edge"),
        touches=FRONT,
        keeps=kept(FRONT, EdgeRole.SHOULDER, EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.SIDE),
        matches=_MATCHES,
        check_after=(_POINTS,),
        source="USDA Home Economics Research Report 32 lists it; the share: own choice",
        amount=Amount("how much lower the bust point lies", None, 15.0, -50.0, 50.0, (_FAR,)),
        plan=_low_bust,
        variants=(Variant("low", "lower only"), Variant("low and small", "lower, and lapped by half as much")),
    ),
    Entry(
        "D12",
        "High, firm bust",
        Region.BUST,
        symptom="The darts point below the fullest place and the front stands off above it.",
        does="The bust point and the side dart go up by the amount. If the chest above is loose as well, a wedge of "
        "half the amount is folded out at the centre front to nothing at the armhole.",
        inverse="Lowers the bust point; with the second way it lengthens the front above it.",
        needs=("bust point", "a bust dart", "armhole"),
        touches=FRONT,
        keeps=kept(FRONT, EdgeRole.SHOULDER, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=_MATCHES,
        check_after=(_POINTS, "Walk collar or facing along the neck."),
        source="USDA Home Economics Research Report 32 lists it; the share: own choice",
        amount=Amount("how much higher the bust point lies", None, 12.0, -40.0, 40.0, (_FAR,)),
        plan=_high_bust,
        variants=(
            Variant("higher", "higher only"),
            Variant("shorter above the bust", "higher, and half as much folded out above the bust"),
        ),
    ),
)
