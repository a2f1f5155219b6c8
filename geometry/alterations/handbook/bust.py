"""Full and small bust (D01 to D05)."""

from __future__ import annotations

from geometry.affine import distance_mm
from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.dart_release import Release, ReleaseDart
from geometry.alterations.dart_steps import AimDart, MoveDart
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.full_bust import FullBust
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import spread, wedge
from geometry.alterations.handbook.dart_moves import dart_angle_rad, restore_dart
from geometry.alterations.handbook.entry import HALF_FRONT, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.fairing import fair
from geometry.alterations.handbook.landmarks import ARMHOLE_NOTCH, BUST_POINT, UNDERARM, WAIST_AT_SIDE, landmark
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.princess import fuller_princess
from geometry.alterations.handbook.shoulders import keep_shoulder, widen_shoulder
from geometry.alterations.handbook.waistline import keep_waist
from geometry.alterations.redraw import Pull, Redraw
from geometry.errors import StepError
from geometry.findings import Level
from geometry.model.edge import EdgeRole
from geometry.tolerance import ON_EDGE_MM

FRONT = (PieceRole.FRONT_BODICE,)

NEW_DART_MM = 50.0
"""A new side dart opens 1 to 3 in below the underarm: 2 in, common practice, from memory."""

CENTRE_CUT_SHARE = 0.4
"""The strip at the centre is cut this far up from the waist to the bust point: below the dart tips, own choice."""

EASED_MM = 9.5
"""A side seam eases in at most 1/4 to 3/8 in: common practice, from memory."""


def spread_bust(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Spread a half front at the bust point, the armhole staying joined; the darts it meets grow."""
    bust = bench.place(panel, BUST_POINT, landmark(panel, BUST_POINT))
    waist = bench.place(panel, "slash at waist", _slash_foot(panel, bust))
    (x, y), (bx, by) = panel.point(waist), panel.point(bust)
    inside = x + (bx - x) * CENTRE_CUT_SHARE, y + (by - y) * CENTRE_CUT_SHARE
    bench.do(
        FullBust(
            panel.name,
            by_mm,
            bust_point=bust,
            armhole=bench.place(panel, "hinge on armhole", landmark(panel, ARMHOLE_NOTCH)),
            side=bench.place(panel, "dart on side", _side_place(panel)),
            waist=waist,
            centre=bench.place(panel, "cut at centre front", panel.level(inside)[0]),
        )
    )
    _aim_anew(bench, panel, bench.now(panel))


def _aim_anew(bench: Bench, before: Panel, panel: Panel) -> None:
    """Let the bust darts point at the marked bust point again, which lies in the middle of the spread."""
    bust, old = landmark(panel, BUST_POINT), before.point(landmark(before, BUST_POINT))
    if bust.on is not On.LANDMARK:
        return
    for dart in panel.piece.darts:
        known = next((each for each in before.piece.darts if each.id == dart.id), dart)
        if (
            dart.aim is not None
            and known.aim is not None
            and (known is dart or distance_mm(known.aim, old) < ON_EDGE_MM)
        ):
            bench.do(AimDart(panel.name, dart.id, bust, distance_mm(known.tip, known.aim)))


def _slash_foot(panel: Panel, bust: Anchor) -> Anchor:
    dart = panel.dart_on(EdgeRole.WAIST)
    return panel.mouth(dart) if dart else panel.plumb(panel.below(bust, 1.0))[0]


def _side_place(panel: Panel) -> Anchor:
    dart = panel.dart_on(EdgeRole.SIDE)
    return panel.mouth(dart) if dart else panel.along_mm(EdgeRole.SIDE, NEW_DART_MM, EdgeRole.ARMHOLE)


def _darted(bench: Bench, by_mm: float) -> None:
    for panel in bench.needed(*FRONT):
        side, waist = panel.dart_on(EdgeRole.SIDE), panel.dart_on(EdgeRole.WAIST)
        if side is None and by_mm < 0:
            raise StepError(
                f'On "{panel.name}" there is no side dart to close: use the entry for a front without darts.'
            )
        angles = {dart: dart_angle_rad(panel, dart) for dart in (side, waist) if dart}
        spread_bust(bench, panel, by_mm)
        if bench.variant == "waist dart":
            _into_waist(bench, bench.now(panel), side, waist, angles)
        elif bench.variant == "side dart":
            _into_side(bench, bench.now(panel), waist, angles, by_mm)


def _into_waist(bench: Bench, panel: Panel, side: str | None, waist: str | None, angles: dict[str, float]) -> None:
    """The side dart as it was, or none if there was none: the waist dart takes the rest."""
    grown = side or panel.dart_on(EdgeRole.SIDE)
    if grown is None:
        return
    if side is not None and waist is not None:
        restore_dart(bench, panel, side, waist, angles[side])
    else:
        place = panel.mouth(waist) if waist else _slash_foot(panel, landmark(panel, BUST_POINT))
        before = angles.get(grown, 0.0)
        share = (dart_angle_rad(panel, grown) - before) / dart_angle_rad(panel, grown)
        bench.do(DartTransfer(panel.name, grown, (place,), share=share, new_dart="" if waist else "waist dart"))


def _into_side(bench: Bench, panel: Panel, waist: str | None, angles: dict[str, float], by_mm: float) -> None:
    """The waist dart as it was; without one the width at the waist is taken off at the side."""
    side = panel.dart_on(EdgeRole.SIDE)
    if waist is not None and side is not None:
        restore_dart(bench, panel, waist, side, angles[waist])
        return
    corner = landmark(panel, WAIST_AT_SIDE)
    holds = (panel.next_stop(EdgeRole.SIDE, EdgeRole.WAIST), panel.along(EdgeRole.WAIST, 1 / 2, EdgeRole.SIDE))
    bench.do(Redraw(panel.name, (panel.pull(corner, out_mm=-by_mm), *map(Pull, holds))))


def _dartless(bench: Bench) -> None:
    for panel in bench.needed(*FRONT):
        if panel.dart_on(EdgeRole.SIDE) is not None:
            raise StepError(f'The front "{panel.name}" has a side dart: use the entry for a darted front.')
        if bench.amount_mm < 0:
            _smaller_without_dart(bench, panel, -bench.amount_mm)
            continue
        spread_bust(bench, panel, bench.amount_mm)
        _settle_new_dart(bench, bench.now(panel))


def _settle_new_dart(bench: Bench, panel: Panel) -> None:
    dart = panel.dart_on(EdgeRole.SIDE)
    if dart is None:
        return
    into = {"eased": Release.EASE, "gathered": Release.GATHERS}.get(bench.variant)
    if into is not None:
        bench.do(ReleaseDart(panel.name, dart, into))
        width_mm = panel.piece.intake_mm(panel.piece.dart(dart))
        if into is Release.EASE and width_mm > EASED_MM:
            text = (
                f'The side of "{panel.name}" would have to ease in {width_mm:.0f} mm, more than 3/8 in: keep the dart.'
            )
            bench.say(Level.WARN, "much-ease", text, piece=panel.name, measured_mm=width_mm)
        return
    places = {"shoulder dart": (EdgeRole.SHOULDER, EdgeRole.NECK), "neck dart": (EdgeRole.NECK, EdgeRole.SHOULDER)}
    if bench.variant in places:
        place = bench.place(panel, "new dart", panel.along(places[bench.variant][0], 0.5, places[bench.variant][1]))
        bench.do(DartTransfer(panel.name, dart, (place,), new_dart=bench.variant))


def _smaller_without_dart(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Length folded out from the centre to the side, width taken off the side seam from the bust level down.

    Length and width go together as in the full bust: by the place of the bust point seen from the armhole.
    """
    bust = bench.place(panel, BUST_POINT, landmark(panel, BUST_POINT))
    out, up = panel.frame.seen(panel.point(landmark(panel, ARMHOLE_NOTCH)), panel.point(bust))
    centre, side = panel.level(panel.below(bust, up / 4))
    line = bench.place(panel, "fold at centre front", centre), bench.place(panel, "hinge at side", side)
    bench.do(wedge(panel, *line, -by_mm * out / up, still=landmark(panel, UNDERARM)))
    panel = bench.now(panel)
    seam, underarm = panel.edge(EdgeRole.SIDE, EdgeRole.ARMHOLE), panel.corner(EdgeRole.SIDE, EdgeRole.ARMHOLE)
    _, at_bust = panel.level(panel.point(landmark(panel, BUST_POINT)))
    way = panel.frame.step(-by_mm, 0.0)
    fade = fair(panel, seam, underarm, on_edge(seam.id, at_bust.share)).pulls(way)
    rest = Pull(landmark(panel, WAIST_AT_SIDE), *way), Pull(panel.along(EdgeRole.WAIST, 1 / 2, EdgeRole.SIDE))
    bench.do(Redraw(panel.name, (*fade, *rest)))


def _full_and_narrow(bench: Bench) -> None:
    for panel in bench.needed(*FRONT):
        if bench.variant == "full chest":
            _fuller_chest(bench, panel, bench.amount_mm / 2)
            spread_bust(bench, bench.now(panel), bench.amount_mm / 2)
        else:
            spread_bust(bench, panel, bench.amount_mm)
    if bench.variant == "narrow shoulders":
        for panel in bench.needed(PieceRole.FRONT_BODICE, PieceRole.BACK_BODICE):
            widen_shoulder(bench, panel, -bench.amount_mm / 2)


def _fuller_chest(bench: Bench, panel: Panel, by_mm: float) -> None:
    """Spread a half front evenly from the shoulder down; shoulder and waist are sewn as long as before.

    What the shoulder gains comes off its tip, what the waist gains goes into its dart.
    """
    low, high = panel.plumb(panel.below(panel.clear(EdgeRole.SHOULDER, 0.5, EdgeRole.NECK), 1.0))
    line = bench.place(panel, "cut on shoulder", high), bench.place(panel, "cut at waist", low)
    bench.do(spread(panel, *line, by_mm, still=panel.centre))
    keep_shoulder(bench, bench.now(panel), panel.sewn_mm(EdgeRole.SHOULDER))
    keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST), held=UNDERARM)
    _keep_dart_place(bench, panel)


def _keep_dart_place(bench: Bench, before: Panel) -> None:
    """Slide the waist dart back to where it was sewn, so that it meets the dart below the waist seam."""
    panel, dart_id = bench.now(before), before.dart_on(EdgeRole.WAIST)
    if dart_id is None:
        return
    starts_outside = panel.corner(EdgeRole.WAIST, EdgeRole.SIDE).share == 0.0
    old, new = (
        each.piece.sewn_station_mm(dart.edge, dart.from_mm) - (each.sewn_mm(EdgeRole.WAIST) if starts_outside else 0.0)
        for each in (before, panel)
        for dart in (each.piece.dart(dart_id),)
    )
    bench.do(MoveDart(panel.name, dart_id, old - new))


_TOO_BIG = Caution(
    25.4, "More than 1 in on each half makes deep darts: share them, or choose the size by the high bust."
)
_DARTS = (
    Variant("waist and side dart", "both darts grow"),
    Variant("waist dart", "the side dart stays as it was, the waist dart takes all"),
    Variant("side dart", "the waist dart stays as it was, the side dart takes all"),
)
_DART_KEEPS = kept(FRONT, EdgeRole.SHOULDER, EdgeRole.NECK, EdgeRole.ARMHOLE)
_DART_CHECKS = (
    "See that each dart points at the bust and stops short of it.",
    "Walk the side seam with the dart folded.",
    "Change facing and lining as well.",
)
_SHARE = "what each half front gains at the bust point"

ENTRIES = (
    Entry(
        "D01",
        "Full bust, darted front",
        Region.BUST,
        symptom="Strain across the bust with diagonals from shoulder or side; the waist rises at the centre front.",
        does="The front is cut from the waist over the bust point to the armhole seam, from the side dart to the bust "
        "point, and across the strip at the centre front. The side turns about the armhole until the bust point has "
        "moved out by the amount, so width, length and dart grow together while shoulder, neck and armhole stay.",
        inverse="Takes the same out for a small bust.",
        needs=("bust point", "armhole", "side edge", "waist edge", "centre front"),
        touches=FRONT,
        keeps=(*_DART_KEEPS, *kept(FRONT, EdgeRole.SIDE)),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=_DART_CHECKS,
        source="An early dressmaking text, part 7 (fashion-design-drawing.com), for the historic form; own arithmetic",
        amount=Amount(_SHARE, HALF_FRONT, 12.7, -40.0, 60.0, (_TOO_BIG,)),
        plan=lambda bench: _darted(bench, bench.amount_mm),
        variants=_DARTS,
    ),
    Entry(
        "D02",
        "Small bust",
        Region.BUST,
        symptom="Cloth bubbles above and below the bust and folds drop below it.",
        does="The lines of the full bust are lapped instead of opened: the front loses width and length, and the darts "
        "close by so much. Lap until it lies smooth, never until it is snug.",
        inverse="Spreads the front for a full bust.",
        needs=("bust point", "armhole", "side dart", "waist edge", "centre front"),
        touches=FRONT,
        keeps=(*_DART_KEEPS, *kept(FRONT, EdgeRole.SIDE)),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=_DART_CHECKS,
        source="An early dressmaking text, part 7 (fashion-design-drawing.com)",
        amount=Amount("what each half front loses at the bust point", HALF_FRONT, 6.35, -60.0, 40.0),
        plan=lambda bench: _darted(bench, -bench.amount_mm),
        variants=_DARTS,
    ),
    Entry(
        "D03",
        "Full bust, front without darts",
        Region.BUST,
        symptom="As for a full bust, on a front that has no dart.",
        does="As the full bust, with the second line drawn to the side where a dart may go. The new dart is kept, "
        "turned to another edge, or let out as ease or gathers; the waist gets wider by the amount.",
        inverse="Folds width and length out for a small bust, without a dart.",
        needs=("bust point, marked by you", "armhole", "side edge", "centre front"),
        touches=FRONT,
        keeps=_DART_KEEPS,
        matches=(EdgeRole.SHOULDER, EdgeRole.ARMHOLE),
        check_after=(*_DART_CHECKS, "Take the width at the waist in at the side if the style fits there."),
        source="common practice, from memory; own arithmetic",
        amount=Amount(_SHARE, HALF_FRONT, 12.7, -30.0, 60.0, (_TOO_BIG,)),
        plan=_dartless,
        variants=(
            Variant("side dart", "a new side dart"),
            Variant("shoulder dart", "turned to the shoulder"),
            Variant("neck dart", "turned to the neck"),
            Variant("eased", "let out as ease in the side seam, for 1/4 to 3/8 in at most"),
            Variant("gathered", "let out as gathers in the side seam"),
        ),
    ),
    Entry(
        "D04",
        "Full bust, princess seam",
        Region.BUST,
        symptom="As for a full bust, on a front with a seam over the bust.",
        does="The centre panel is cut level at the bust and spread evenly, the side panel is cut at the same level and "
        "opens as far at the princess seam, to nothing at the side. Both get rounder at the bust, the side panel more, "
        "so that the seam stays over the bust point.",
        inverse="Laps both panels for a small bust.",
        needs=("an edge called princess on both panels", "a bust notch on it", "side edge", "centre front"),
        touches=(PieceRole.FRONT_BODICE, PieceRole.SIDE_FRONT),
        begins_on=(PieceRole.FRONT_BODICE,),
        keeps=kept((PieceRole.SIDE_FRONT,), EdgeRole.SIDE, EdgeRole.ARMHOLE),
        check_after=("Walk the princess seam from notch to notch.", "Ease at most 1/2 in between the bust notches."),
        source="Resting Motion, princess front drafts (restingmotion.com), for the worked figures",
        amount=Amount("what both panels of a half front gain together at the bust", HALF_FRONT, 12.7, -30.0, 60.0),
        plan=fuller_princess,
    ),
    Entry(
        "D05",
        "Large bust with narrow shoulders or full chest",
        Region.BUST,
        symptom="As for a full bust; the shoulders are too wide as well, or the chest above is too narrow.",
        does="With narrow shoulders: the full bust by the amount, and each shoulder lapped by half as much. With a "
        "full chest: half of the amount is spread evenly from shoulder to waist, the other half as for a full bust; "
        "the shoulder is brought back to its length at the tip, the waist by its dart. Take it apart to give each its "
        "own figure.",
        inverse="Small bust with broad shoulders, or with a hollow chest.",
        needs=("bust point", "armhole", "side edge", "waist edge", "shoulder edge"),
        touches=(PieceRole.FRONT_BODICE, PieceRole.BACK_BODICE),
        keeps=kept(FRONT, EdgeRole.NECK, EdgeRole.ARMHOLE, EdgeRole.SIDE),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=_DART_CHECKS,
        source="USDA Home Economics Research Report 32 lists it; the shares: own choice",
        amount=Amount(_SHARE, HALF_FRONT, 12.7, -30.0, 50.0, (_TOO_BIG,)),
        plan=_full_and_narrow,
        variants=(
            Variant("narrow shoulders", "full bust, shoulders lapped by half as much"),
            Variant("full chest", "half spread from the shoulder down, half as a full bust"),
        ),
    ),
)
