"""Neck and neckline (B01 to B05)."""

from __future__ import annotations

from collections.abc import Callable

from geometry.alterations.anchors import Anchor, on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.collar import lengthen_collar
from geometry.alterations.handbook.cuts import wedge
from geometry.alterations.handbook.dart_moves import close_into_dart, neck_dart
from geometry.alterations.handbook.entry import HALF_BACK, HALF_FRONT, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.fairing import Run, fair, sheared
from geometry.alterations.handbook.landmarks import BUST_POINT, CENTRE_NECK, NECK_POINT, SHOULDER_BLADE, landmark
from geometry.alterations.handbook.matching import do_until_long
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.redraw import Pull, Redraw
from geometry.alterations.step import Step
from geometry.findings import Level
from geometry.model.edge import EdgeRole

_BODICES = (PieceRole.FRONT_BODICE, PieceRole.BACK_BODICE)

FROM_CENTRE_MM = 51.0
"""A neck wedge to the hem runs about 2 in from the centre front (Threads, removing excess at the neckline, 2019)."""

_DRAWN_FLATTER = 0.8
"""Up to this share of its depth a raised back neck is drawn flatter alike all along; what is more bends it upwards."""

_NECK_PULLS = 9
"""Places at which a neck is pulled square to itself; between two of them it follows evenly."""


def _front_gape(bench: Bench) -> None:
    for panel in bench.needed(PieceRole.FRONT_BODICE):
        if bench.variant == "to the bust dart":
            at = bench.place(panel, "fold at neck", panel.along(EdgeRole.NECK, 0.5, EdgeRole.SHOULDER))
            close_into_dart(bench, panel, at, bench.amount_mm, landmark(panel, BUST_POINT))
            continue
        opening, hinge = _neck_line(bench, panel)
        bench.do(wedge(panel, opening, hinge, -bench.amount_mm, still=landmark(panel, CENTRE_NECK)))


def _neck_line(bench: Bench, panel: Panel) -> tuple[Anchor, Anchor]:
    if bench.variant == "to the waist":
        x, y = panel.point(landmark(panel, CENTRE_NECK))
        dx, dy = panel.frame.step(FROM_CENTRE_MM, -FROM_CENTRE_MM)
        low, high = panel.plumb((x + dx, y + dy))
        return bench.place(panel, "fold at neck", high), bench.place(panel, "hinge at waist", low)
    opening = bench.place(panel, "fold at neck", panel.along(EdgeRole.NECK, 0.5, EdgeRole.SHOULDER))
    return opening, bench.place(panel, "hinge on armhole", panel.along(EdgeRole.ARMHOLE, 0.5, EdgeRole.SHOULDER))


def neck_lowered(panel: Panel, by_mm: float) -> Redraw:
    """The neck seam lowered evenly all along (negative: raised), its ends along the shoulder and the centre line."""
    neck = panel.edge(EdgeRole.NECK)
    centre = EdgeRole.CENTRE_FRONT if panel.has(EdgeRole.CENTRE_FRONT) else EdgeRole.CENTRE_BACK
    pulls = [
        panel.towards(panel.corner(EdgeRole.NECK, role), panel.next_stop(role, EdgeRole.NECK), by_mm)
        for role in (EdgeRole.SHOULDER, centre)
    ]
    for number in range(1, _NECK_PULLS - 1):
        share = number / (_NECK_PULLS - 1)
        nx, ny = panel.inward(EdgeRole.NECK, share)
        pulls.append(Pull(on_edge(neck.id, share), nx * by_mm, ny * by_mm))
    stops = (panel.next_stop(role, EdgeRole.NECK) for role in (EdgeRole.SHOULDER, centre))
    return Redraw(panel.name, (*pulls, *(Pull(stop) for stop in stops)))


def _neck_round(bench: Bench, lower_mm: float) -> None:
    half_mm = 0.0
    for panel in bench.needed(*_BODICES):
        before_mm = panel.sewn_mm(EdgeRole.NECK)
        bench.do(neck_lowered(panel, lower_mm))
        grown_mm = bench.now(panel).sewn_mm(EdgeRole.NECK) - before_mm
        half_mm += grown_mm
    bench.say(
        Level.NOTE,
        "neck-seam-changed",
        f"The neck seam is {abs(half_mm):.1f} mm {'longer' if half_mm > 0 else 'shorter'} on each half.",
        measured_mm=half_mm,
    )
    for collar in bench.panels(PieceRole.COLLAR):
        lengthen_collar(bench, collar, 2 * half_mm)


def _back_gape(bench: Bench) -> None:
    for panel in bench.needed(PieceRole.BACK_BODICE):
        at = bench.place(panel, "dart on neck", panel.along(EdgeRole.NECK, 0.5, EdgeRole.SHOULDER))
        blade = bench.place(panel, SHOULDER_BLADE, landmark(panel, SHOULDER_BLADE))
        if bench.variant == "shoulder dart":
            close_into_dart(bench, panel, at, bench.amount_mm, blade, on=(EdgeRole.SHOULDER,))
        else:
            neck_dart(bench, panel, at, blade, bench.amount_mm)


def _forward_head(bench: Bench) -> None:
    grown_mm = 0.0
    for panel in bench.needed(PieceRole.BACK_BODICE):
        _raise_back_neck(bench, panel)
        grown_mm += bench.now(panel).sewn_mm(EdgeRole.NECK) - panel.sewn_mm(EdgeRole.NECK)
    by_mm = bench.amount_mm
    for panel in bench.needed(PieceRole.FRONT_BODICE):
        if bench.variant == "front lowered as much":
            bench.do(_centre_neck_moved(panel, -by_mm))
        else:
            by_mm = -do_until_long(bench, panel, EdgeRole.NECK, -grown_mm, _front_neck(panel))


def _raise_back_neck(bench: Bench, panel: Panel) -> None:
    ends = panel.point(landmark(panel, NECK_POINT)), panel.point(landmark(panel, CENTRE_NECK))
    flatter_mm = min(bench.amount_mm, _DRAWN_FLATTER * abs(panel.frame.seen(*ends)[1]))
    bench.do(_centre_neck_moved(panel, flatter_mm))
    if bench.amount_mm > flatter_mm:
        bench.do(_centre_neck_moved(bench.now(panel), bench.amount_mm - flatter_mm, drawn=fair))


def _front_neck(panel: Panel) -> Callable[[float], Step]:
    def moved(up_mm: float) -> Step:
        return _centre_neck_moved(panel, up_mm)

    return moved


def _centre_neck_moved(panel: Panel, up_mm: float, drawn: Callable[..., Run] = sheared) -> Redraw:
    """The neck moved at the centre line along it, to nothing at the shoulder; it stays square to the centre."""
    centre = EdgeRole.CENTRE_FRONT if panel.has(EdgeRole.CENTRE_FRONT) else EdgeRole.CENTRE_BACK
    stop, corner = panel.next_stop(centre, EdgeRole.NECK), panel.corner(EdgeRole.NECK, centre)
    pull = panel.towards(corner, stop, -up_mm)
    neck = drawn(panel, panel.edge(EdgeRole.NECK), panel.corner(EdgeRole.NECK, EdgeRole.SHOULDER), corner)
    return Redraw(panel.name, (*neck.pulls((pull.dx_mm, pull.dy_mm)), Pull(stop)))


ENTRIES = (
    Entry(
        "B01",
        "Front neckline gapes",
        Region.NECK,
        symptom="The neck edge stands away from the chest in vertical folds.",
        does="A wedge is folded out at the neck to nothing at the armhole, the waist or the bust point. Half of what "
        "was pinned is taken from each half front, and the facing gets the same fold. Towards the bust point the width "
        "moves into the bust dart, which is right where the cause is too little bust shaping.",
        inverse="Opens a neck that is too tight across the chest.",
        needs=("neck edge", "armhole", "bust point for the bust dart"),
        touches=(PieceRole.FRONT_BODICE, PieceRole.FRONT_FACING),
        keeps=kept((PieceRole.FRONT_BODICE,), EdgeRole.SHOULDER, EdgeRole.WAIST),
        check_after=("Walk the collar or binding along the new neck.", "See that the neck curve is even."),
        source="Threads, Remove excess fabric at the neckline (2019)",
        amount=Amount(
            "what is folded out of each half front at the neck",
            HALF_FRONT,
            6.0,
            -20.0,
            30.0,
            (Caution(12.7, "So much at the neck usually means too little bust shaping: try the bust dart."),),
        ),
        plan=_front_gape,
        variants=(
            Variant("to the armhole", "a wedge to half-way down the armhole"),
            Variant("to the waist", "a wedge 2 in from the centre front to the waist; the bust becomes smaller"),
            Variant("to the bust dart", "a wedge to the bust point that opens in the bust dart"),
        ),
    ),
    Entry(
        "B02",
        "Full neck",
        Region.NECK,
        symptom="The neck seam is tight, with level folds round the neck.",
        does="The neck seam is lowered evenly all round, on front, back and facings. Round the whole neck it grows by "
        "about six times as much, so a little is plenty; the shoulder gets shorter by what was taken off.",
        inverse="Raises the neck seam of a neckline that is too large.",
        needs=("neck edge", "shoulder edge", "centre front or back"),
        touches=(*_BODICES, PieceRole.FRONT_FACING, PieceRole.BACK_FACING, PieceRole.COLLAR),
        keeps=kept(_BODICES, EdgeRole.ARMHOLE, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Lengthen collar and facing by the growth of the neck seam.",),
        source="The New Dressmaker (1921), p. 26, for the collar; growth of a circle: own arithmetic",
        amount=Amount(
            "how far the neck seam is lowered",
            None,
            3.0,
            -12.7,
            40.0,
            (Caution(12.7, "1/2 in all round makes the neck seam about 3 in longer: measure the neck once more."),),
        ),
        plan=lambda bench: _neck_round(bench, bench.amount_mm),
    ),
    Entry(
        "B03",
        "Thin neck, neckline too large",
        Region.NECK,
        symptom="The neck seam lies away from the neck all round.",
        does="The neck seam is raised evenly on front, back and facings, the reverse of a full neck. The shoulder gets "
        "longer at the neck by what was added.",
        inverse="Lowers the neck seam of a full neck.",
        needs=("neck edge", "shoulder edge", "centre front or back"),
        touches=(*_BODICES, PieceRole.FRONT_FACING, PieceRole.BACK_FACING, PieceRole.COLLAR),
        keeps=kept(_BODICES, EdgeRole.ARMHOLE, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Shorten collar and facing by as much as the neck seam.",),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount(
            "how far the neck seam is raised",
            None,
            3.0,
            -40.0,
            12.7,
            (Caution(12.7, "1/2 in all round makes the neck seam about 3 in shorter: it must still pass the neck."),),
        ),
        plan=lambda bench: _neck_round(bench, -bench.amount_mm),
    ),
    Entry(
        "B04",
        "Back neck gapes",
        Region.NECK,
        symptom="The back neck stands away from the nape.",
        does="The surplus becomes a neck dart that points at the shoulder blade, or it is turned about the blade into "
        "the shoulder dart. So the neck is drawn in while the back keeps its room over the blades.",
        inverse="Lets out a neck dart that is there, or opens the neck out of the shoulder dart.",
        needs=("neck edge", "shoulder blade"),
        touches=(PieceRole.BACK_BODICE,),
        keeps=kept((PieceRole.BACK_BODICE,), EdgeRole.ARMHOLE, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Shorten the back neck facing and the collar by as much.",),
        source="common practice, from memory",
        amount=Amount(
            "what is pinned on each half back",
            HALF_BACK,
            6.0,
            -10.0,
            25.0,
            (Caution(12.7, "More than 1/2 in on one side is a large neck dart: share it with the shoulder dart."),),
        ),
        plan=_back_gape,
        variants=(
            Variant("neck dart", "a dart in the neck"),
            Variant("shoulder dart", "turned about the blade into the shoulder dart"),
        ),
    ),
    Entry(
        "B05",
        "Forward head",
        Region.NECK,
        symptom="The cloth pushes at the nape while the centre front chokes.",
        does="The back neck is raised at the centre back, to nothing at the shoulder, and the front neck is lowered at "
        "the centre front. By default just so far that the whole neck seam keeps its length and the collar still fits.",
        inverse="For an erect neck: lower at the back, higher in front.",
        needs=("neck edge", "centre front", "centre back"),
        touches=(*_BODICES, PieceRole.FRONT_FACING, PieceRole.BACK_FACING),
        keeps=kept(_BODICES, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.SIDE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=(
            "Walk the collar: within 1/8 in of the neck seam.",
            "See whether the shoulder seam must come forward.",
        ),
        source="common practice, from memory",
        amount=Amount(
            "how far the back neck is raised at the centre back",
            None,
            8.0,
            -25.0,
            40.0,
            (
                Caution(
                    25.4, "More than 1 in at the nape is usually a rounded upper back: see the entries of the back."
                ),
            ),
        ),
        plan=_forward_head,
        variants=(
            Variant("collar kept", "the front lowered until the whole neck seam is as long as before"),
            Variant("front lowered as much", "the front lowered by the same amount"),
        ),
    ),
)
