"""Lengths of the bodice (A01 to A03)."""

from __future__ import annotations

from geometry.alterations.anchors import Anchor
from geometry.alterations.handbook.across_waist import BELOW_FRONT, darts_met, follow
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import CAP_REACH_MM, spread, wedge
from geometry.alterations.handbook.entry import WHOLE, Amount, Caution, Entry, Region, kept
from geometry.alterations.handbook.landmarks import CAP_TOP, NECK_POINT, UNDERARM, landmark
from geometry.alterations.handbook.matching import do_until_long
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.handbook.waistline import keep_waist
from geometry.alterations.step import Step
from geometry.findings import Level
from geometry.model.edge import EdgeRole
from geometry.model.garment import is_lengthen_line

ABOVE_WAIST_MM = 64.0
"""A bodice is lengthened 2 1/2 in above the waist where no line is printed (an early dressmaking text, part 4)."""

BODICES = (PieceRole.FRONT_BODICE, PieceRole.BACK_BODICE)


def lengthen_line(panel: Panel) -> tuple[Anchor, Anchor]:
    """The ends of the level line above the waist: through the line printed for it if there is one."""
    for line in panel.piece.inner_lines:
        if is_lengthen_line(line.id):
            (x0, y0), (x1, y1) = line.points[[0, -1]].tolist()
            return panel.level(((x0 + x1) / 2, (y0 + y1) / 2))
    waist = panel.edge(EdgeRole.WAIST)
    x, y = waist.point_at(waist.length_mm / 2)
    dx, dy = panel.frame.step(0.0, ABOVE_WAIST_MM)
    return panel.level((x + dx, y + dy))


def _bodice_length(bench: Bench) -> None:
    for panel in bench.needed(*BODICES):
        centre, side = lengthen_line(panel)
        line = bench.place(panel, "line at centre", centre), bench.place(panel, "line at side", side)
        bench.do(spread(panel, *line, bench.amount_mm, still=landmark(panel, UNDERARM)))


def _armhole_depth(bench: Bench) -> None:
    grown_mm = 0.0
    for panel in bench.needed(*BODICES):
        centre, armhole = panel.level(_between_underarm_and_neck(panel))
        line = bench.place(panel, "line at centre", centre), bench.place(panel, "line at armhole", armhole)
        bench.do(spread(panel, *line, bench.amount_mm, still=landmark(panel, NECK_POINT)))
        grown_mm += bench.now(panel).sewn_mm(EdgeRole.ARMHOLE) - panel.sewn_mm(EdgeRole.ARMHOLE)
    for sleeve in bench.panels(PieceRole.SLEEVE):
        deepen_cap(bench, sleeve, grown_mm)


def _between_underarm_and_neck(panel: Panel) -> tuple[float, float]:
    """A place half-way up between underarm and neck, well inside the piece."""
    frame, neck = panel.frame, panel.point(landmark(panel, NECK_POINT))
    _, drop = frame.seen(panel.point(landmark(panel, UNDERARM)), neck)
    dx, dy = frame.step(0.0, drop / 2)
    return neck[0] + dx, neck[1] + dy


def deepen_cap(bench: Bench, sleeve: Panel, grown_mm: float) -> None:
    """Spread a cap across at half its height until its seam has grown by so much."""
    frame, top = sleeve.frame, sleeve.point(landmark(sleeve, CAP_TOP))
    _, drop = frame.seen(sleeve.edge(EdgeRole.CAP).start, top)
    dx, dy = frame.step(0.0, drop / 2)
    one, other = sleeve.level((top[0] + dx, top[1] + dy))
    line = bench.place(sleeve, "cap line, front", one), bench.place(sleeve, "cap line, back", other)
    still = sleeve.corner(EdgeRole.HEM, EdgeRole.UNDERARM)

    def opened(amount_mm: float) -> Step:
        return spread(sleeve, *line, amount_mm, still=still, reach_mm=CAP_REACH_MM)

    by_mm = do_until_long(bench, sleeve, EdgeRole.CAP, grown_mm, opened)
    bench.say(
        Level.NOTE,
        "cap-matched",
        f'The cap of "{sleeve.name}" was {"opened" if by_mm > 0 else "folded"} by {abs(by_mm):.1f} mm, '
        f"so that its seam changes by {grown_mm:.1f} mm as both armholes together do.",
        piece=sleeve.name,
        measured_mm=by_mm,
    )


def _front_length(bench: Bench) -> None:
    for panel in bench.needed(PieceRole.FRONT_BODICE):
        centre, side = lengthen_line(panel)
        opening, hinge = bench.place(panel, "line at centre", centre), bench.place(panel, "hinge at side", side)
        darts_below = darts_met(bench, panel, BELOW_FRONT)
        bench.do(wedge(panel, opening, hinge, bench.amount_mm, still=landmark(panel, UNDERARM)))
        keep_waist(bench, panel, panel.sewn_mm(EdgeRole.WAIST), held=UNDERARM)
        follow(bench, darts_below)


_BUTTONS = "Space buttons and buttonholes anew, one of them at the bust or the waist."

ENTRIES = (
    Entry(
        "A01",
        "Bodice length below the armhole",
        Region.LENGTHS,
        symptom="The waist seam sits above or below the natural waist all the way round.",
        does="Front and back are cut level above the waist and moved apart, or folded over one another, by the same "
        "amount. The line lies below the dart tips, so the darts keep pointing at the bust and only get longer legs.",
        inverse="Shortens a bodice whose waist lies too low.",
        needs=("waist edge", "side edge"),
        touches=BODICES,
        keeps=kept(BODICES, EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=(_BUTTONS, "Change lining and facings by the same amount at the same level."),
        source="An early dressmaking text on altering patterns, part 4 (fashion-design-drawing.com)",
        amount=Amount("how much longer front and back become", WHOLE, 15.0, -60.0, 100.0),
        plan=_bodice_length,
    ),
    Entry(
        "A02",
        "Armhole depth",
        Region.LENGTHS,
        symptom="The armhole cuts under the arm or hangs low, while the length from underarm to waist is right.",
        does="Front and back are cut level half-way between underarm and neck and spread by the full difference. The "
        "sleeve cap is cut across as well and opened until its seam has grown by as much as both armholes, because a "
        "sloping cap gains less than a steep armhole from the same opening.",
        inverse="Folds out length where the armhole hangs low.",
        needs=("neck point", "underarm"),
        touches=(*BODICES, PieceRole.SLEEVE),
        keeps=kept(BODICES, EdgeRole.NECK, EdgeRole.SHOULDER, EdgeRole.SIDE, EdgeRole.WAIST)
        + kept((PieceRole.SLEEVE,), EdgeRole.UNDERARM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Walk the sleeve notches round the armhole.", "Look at the armhole curve: it must be even."),
        source="An early dressmaking text on altering patterns, part 4 (fashion-design-drawing.com)",
        amount=Amount("how much deeper the armhole becomes", WHOLE, 10.0, -40.0, 60.0),
        plan=_armhole_depth,
    ),
    Entry(
        "A03",
        "Front length only",
        Region.LENGTHS,
        symptom="The waist rises at the centre front with drags to the bust, or the front sags below the bust.",
        does="A level cut from the centre front opens by the full difference and closes to nothing at the side seam, "
        "which keeps its length. The centre front is drawn straight again; what the waist gains or loses by that its "
        "dart takes in or gives, so that it still fits the skirt. Its dart moves only if the two would not meet.",
        inverse="Takes a wedge out of a front that sags.",
        needs=("waist edge", "side edge", "centre front"),
        touches=(PieceRole.FRONT_BODICE, *BELOW_FRONT),
        begins_on=(PieceRole.FRONT_BODICE,),
        keeps=kept(
            (PieceRole.FRONT_BODICE,),
            EdgeRole.NECK,
            EdgeRole.SHOULDER,
            EdgeRole.ARMHOLE,
            EdgeRole.SIDE,
            EdgeRole.WAIST,
        )
        + kept(BELOW_FRONT, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.SHOULDER, EdgeRole.ARMHOLE, EdgeRole.WAIST),
        check_after=("Walk the waist seam along the skirt's.", "See that the side seam hangs plumb."),
        source="USDA, Fitting Dresses (1946), for the same fault; the wedge: common practice, from memory",
        amount=Amount(
            "how much longer the centre front becomes",
            WHOLE,
            10.0,
            -40.0,
            60.0,
            (
                Caution(
                    25.4, "So much length is usually wanted by a fuller bust: think of a full-bust alteration first."
                ),
            ),
        ),
        plan=_front_length,
    ),
)
