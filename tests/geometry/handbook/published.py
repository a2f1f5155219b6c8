"""Check values with their sources: what is published or worked out by hand beside what the program makes of it.

"worked out" marks closed forms computed from the inputs stated beside them; everything else names its publication.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from geometry.affine import angle_between
from geometry.alterations.anchors import free, on_edge
from geometry.alterations.dart_steps import MakeDart
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.full_bust import FullBust, bust_spread, bust_turn
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.handbook.back_width import overhang_mm
from geometry.alterations.handbook.landmarks import BICEPS_BACK, BICEPS_FRONT, CAP_TOP, landmark
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.handbook.registry import entry_of
from geometry.fitting import shares
from geometry.fitting.ease import CupRule, crotch_depth_ease_mm, cup_letter
from geometry.model.pattern import Pattern
from geometry.model.piece import Piece
from geometry.units import MM_PER_INCH as IN
from tests.geometry.drawn_pieces import ARMHOLE_HINGE, BUST, SIDE_MOUTH, half_front, rectangle, sleeve
from tests.geometry.handbook.drawn_bodice import bodice
from tests.geometry.handbook.patterns import untrued

WORKED_OUT = "worked out"
FULL_BUST = f"{WORKED_OUT}: turn about the armhole hinge until the bust point has moved by the spread"
TRANSFER = f"{WORKED_OUT}: width 2 = width 1 x leg 2 / leg 1"
WEDGE = f"{WORKED_OUT}: angle = 2 asin(opening / 2 length), lean = height x sin(angle)"
UPPER_ARM = f"{WORKED_OUT}: quarters of the cap turn about its top, asin(spread / 2 / cap height)"
TEXTBOOK_TAPER = "Threads, tapering trousers"
NEW_DRESSMAKER = "The New Dressmaker (1921), chapters 3 to 27"
C209 = "NMSU Guide C-209, Measurements for Fitting Pants"
CIRCULAR = "Posture and Foundation Garments circular, page 8"
HOFFMANN = "Hoffmann, Choosing the right size"
EN_13402 = "EN 13402, from memory"


@dataclass(frozen=True, slots=True)
class Value:
    """One figure: what it is of, what it should be, within what, who says so, and what the program makes of it."""

    what: str
    expected: float
    within: float
    source: str
    made: Callable[[], float]


def values() -> tuple[Value, ...]:
    """All of them."""
    parts = (
        _cup_differences(),
        _shared(),
        _given_by_the_book(),
        _full_bust(),
        _transfers(),
        _wedges(),
        _upper_arm(),
        _shoulders(),
        _crotch_depth(),
        _cups(),
    )
    return tuple(value for part in parts for value in part)


def _inches(what: str, expected: float, source: str, made: Callable[[], float]) -> Value:
    return Value(what, expected, 1e-9, source, made)


def _cup_differences() -> Iterator[Value]:
    """Full bust on high bust and what the pattern was drafted for: what is wanted in all and on each half front."""
    for full, wanted in ((37, 1.0), (38, 2.0), (35, -1.0)):
        yield _inches(
            f"cup: {full} on 34, drafted for 2",
            wanted,
            WORKED_OUT,
            lambda full=full: shares.cup_difference_mm(full * IN, 34 * IN, 2 * IN) / IN,
        )
        yield _inches(f"full bust of {wanted:g}, each half front", wanted / 2, WORKED_OUT, _amount_in("D01", wanted))


def _amount_in(code: str, difference_in: float) -> Callable[[], float]:
    return lambda: entry_of(code).from_difference(difference_in * IN) / IN


def _shared() -> Iterator[Value]:
    """How a difference becomes what each piece or edge gets, inches."""
    textbook = "a clothing textbook, adjusting a pattern"
    yield _inches("a hip of 2 more, each of 4 edges", 0.5, WORKED_OUT, _amount_in("H01", 2.0))
    yield _inches("a hip of 2 more, each of 12 edges", 1 / 6, WORKED_OUT, lambda: shares.per_edge_mm(2 * IN, 12) / IN)
    yield _inches("a waist of 1 more, each of 4 edges", 0.25, textbook, _amount_in("G01", 1.0))
    yield _inches(
        "a biceps of 13 with 2 on a sleeve of 14", 1.0, "Threads, set-in sleeves (2021)", _amount_in("I01", 1)
    )
    yield _inches("a neckline that gapes by 1", 0.5, "Threads, neckline (2019)", _amount_in("B01", 1.0))
    yield _inches("bust 93 wanted 102, out 2.25 on 4 edges", 0.0, WORKED_OUT, lambda: shares.left_over_mm(9, 2.25, 4))
    yield _inches("under-bust 80 wanted 82, out the same", -7.0, WORKED_OUT, lambda: shares.left_over_mm(2, 2.25, 4))
    yield _inches("those 7 on 8 princess edges", 0.875, WORKED_OUT, lambda: shares.per_edge_mm(7.0, 8))


def _given_by_the_book() -> Iterator[Value]:
    """Tuck, skirt, back shoulder and hem of a leg, inches."""
    band = "Central Washington University, costume text, ch. 17"
    yield _inches("a tuck that shortens by 1", 0.5, band, lambda: shares.tuck_depth_mm(IN) / IN)
    for part, name in enumerate(("below the hip", "at the hem")):
        made = lambda part=part: shares.skirt_length_mm(5 * IN)[part] / IN  # noqa: E731
        yield _inches(f"a skirt 5 longer, {name}", 2.5, NEW_DRESSMAKER, made)
    for part, name in enumerate(("taken off the back", "added in front")):
        made = lambda part=part: shares.broad_back_armhole_mm(IN / 2)[part] / IN  # noqa: E731
        yield _inches(f"a back shoulder 1/2 longer, {name}", 0.25, NEW_DRESSMAKER, made)
    for hem, front, back in ((17.0, 4.0, 4.5), (16.0, 3.75, 4.25), (20.0, 4.75, 5.25)):
        for part, (name, half) in enumerate((("front", front), ("back", back))):
            made = lambda hem=hem, part=part: shares.leg_half_widths_mm(hem * IN)[part] / IN  # noqa: E731
            yield _inches(f"a hem of {hem:g}, half {name}", half, TEXTBOOK_TAPER, made)


def _full_bust() -> Iterator[Value]:
    """Half front with bust point (90, 190), armhole hinge (165, 300), side-dart mouth (235, 170)."""
    to_hinge = BUST[0] - ARMHOLE_HINGE[0], BUST[1] - ARMHOLE_HINGE[1]
    for spread, degrees, longer, opening in (
        (6.35, 3.247, 4.07, 8.29),
        (12.7, 6.386, 7.66, 16.31),
        (19.05, 9.437, 10.81, 24.08),
        (25.4, 12.414, 13.55, 31.65),
    ):
        rule = f"full bust, spread {spread:g}"
        turned = lambda spread=spread: math.degrees(bust_turn(to_hinge, spread).angle_rad)  # noqa: E731
        yield Value(f"{rule}: turn in degrees", degrees, 0.0006, FULL_BUST, turned)
        yield Value(f"{rule}: length added", longer, 0.006, FULL_BUST, lambda by=spread: _bust(by)[0])
        yield Value(f"{rule}: side dart wider by", opening, 0.006, FULL_BUST, lambda by=spread: _bust(by)[1])


def _bust(spread: float) -> tuple[float, float]:
    """What the centre front gains, and how wide the new side dart of a front without one is."""
    before = half_front()
    plain = Piece(
        before.name, before.edges, fold=before.fold, grain=before.grain, darts=before.darts[1:], marks=before.marks
    )
    step = FullBust(
        "front bodice",
        spread,
        bust_point=free(BUST),
        armhole=free(ARMHOLE_HINGE),
        side=free(SIDE_MOUTH),
        waist=free((90.0, 0.0)),
        centre=on_edge("centre front", 0.8),
    )
    after = bust_spread(plain, step)[1].piece
    return after.edge("centre front").length_mm - 350.0, after.intake_mm(after.dart("side dart"))


def _transfers() -> Iterator[Value]:
    """Width and leg of a dart, leg of the new one; its width and both angles."""
    for width, leg, new_leg, expected, degrees in (
        (70.0, 250.0, 150.0, 42.00, 16.096),
        (70.0, 250.0, 130.0, 36.40, 16.096),
        (30.0, 175.0, 120.0, 20.57, 9.834),
        (25.4, 150.0, 200.0, 33.87, 9.714),
        (20.0, 130.0, 130.0, 20.00, 8.823),
    ):
        rule = f"dart {width:g} on legs of {leg:g} to legs of {new_leg:g}"
        figures = (width, leg, new_leg)
        yield Value(f"{rule}: width", expected, 0.006, TRANSFER, lambda f=figures: _transferred(*f)[0])
        yield Value(f"{rule}: angle before", degrees, 0.0006, TRANSFER, lambda f=figures: _transferred(*f)[1])
        yield Value(f"{rule}: angle after", degrees, 0.0006, TRANSFER, lambda f=figures: _transferred(*f)[2])


def _transferred(width: float, leg: float, new_leg: float) -> tuple[float, float, float]:
    """A dart on the waist turned to the side, level with its tip: new width, old angle, new angle."""
    tip = (200.0, 600.0 - math.sqrt(leg**2 - (width / 2) ** 2))
    end = (tip[0] + new_leg, tip[1])
    pattern = Pattern((rectangle(end[0]),))
    before = MakeDart("panel", free((200.0, 600.0)), free(tip), width, dart="old").apply(pattern).pattern
    after = DartTransfer("panel", "old", (free(end),), new_dart="new").apply(before).pattern.piece("panel")
    return after.intake_mm(after.dart("new")), _angle_deg(before.piece("panel"), "old"), _angle_deg(after, "new")


def _angle_deg(piece: Piece, dart_id: str) -> float:
    dart = piece.dart(dart_id)
    return abs(math.degrees(angle_between(dart.apex, *piece.mouth(dart))))


def _wedges() -> Iterator[Value]:
    """Length of a slash from the centre back, its opening; its angle, and the lean at three heights above it."""
    for length, opening, degrees, leans in (
        (170.0, 13.0, 4.383, (7.64, 30.57, 45.85)),
        (170.0, 10.0, 3.371, (5.88, 23.52, 35.28)),
        (180.0, 12.7, 4.043, (7.05, 28.20, 42.31)),
        (200.0, 20.0, 5.732, (9.99, 39.95, 59.92)),
        (230.0, 25.4, 6.331, (11.03, 44.11, 66.16)),
    ):
        rule = f"wedge {opening:g} on {length:g}"
        for height, lean in zip((100.0, 400.0, 600.0), leans, strict=True):
            figures = (length, opening, height)
            yield Value(f"{rule}: lean at {height:g}", lean, 0.01, WEDGE, lambda f=figures: _lean(*f))
        yield Value(
            f"{rule}: degrees",
            degrees,
            0.0006,
            WEDGE,
            lambda f=(length, opening): math.degrees(math.asin(_lean(*f, 100.0) / 100.0)),
        )


def _lean(length: float, opening: float, height: float) -> float:
    panel, low = Panel(rectangle(length, height + 100.0)), 100.0 / (height + 100.0)
    cut, hinge, end = on_edge("centre front", 1 - low), on_edge("side", low), on_edge("centre front", 0.0)
    return overhang_mm(panel, cut, hinge, end, opening)


def _upper_arm() -> Iterator[Value]:
    """Sleeve with half a biceps of 150: cap height, spread; turn, new biceps, cap height lost."""
    for cap, spread, degrees, biceps, lost in (
        (130.0, 12.7, 2.800, 312.3, 7.5),
        (130.0, 25.4, 5.606, 324.0, 15.3),
        (130.0, 38.1, 8.426, 334.9, 23.4),
        (150.0, 25.4, 4.857, 324.3, 13.2),
    ):
        rule, figures = f"upper arm, cap {cap:g}, spread {spread:g}", (cap, spread)
        yield Value(f"{rule}: biceps", biceps, 0.06, UPPER_ARM, lambda f=figures: _arm(*f)[0])
        yield Value(f"{rule}: cap lower by", lost, 0.06, UPPER_ARM, lambda f=figures: _arm(*f)[1])
        yield Value(f"{rule}: turn in degrees", degrees, 0.02, UPPER_ARM, lambda f=figures: _arm(*f)[2])


def _arm(cap: float, spread: float) -> tuple[float, float, float]:
    """Biceps after, height of cap lost, and the turn that the line from its top to the underarm made, in degrees.

    Before the cap is blended, which moves its top by up to 1 1/2 mm more.
    """
    before = Panel(sleeve(cap_mm=cap))
    pattern = Pattern((before.piece,))
    after = Panel(untrued(Alteration("I01", spread).parts(pattern)[0], pattern).pieces[0])
    found = []
    for panel in (before, after):
        top, front, back = (panel.point(landmark(panel, name)) for name in (CAP_TOP, BICEPS_FRONT, BICEPS_BACK))
        slope = math.degrees(math.atan2(top[1] - front[1], abs(top[0] - front[0])))
        found.append((math.dist(front, back), top[1] - (front[1] + back[1]) / 2, slope))
    return found[1][0], found[0][1] - found[1][1], found[0][2] - found[1][2]


def _shoulders() -> Iterator[Value]:
    """Shoulder with a run of 120 and a drop of 40: slope and length after the armhole slid down or up by 10."""
    for code, degrees, length in (("C04", 22.62, 130.000), ("C03", 14.04, 123.693)):
        for name in ("front bodice", "back bodice"):
            rule, figures = f"{code} by 10, {name}", (code, name)
            yield Value(f"{rule}: slope", degrees, 0.006, WORKED_OUT, lambda f=figures: _shoulder(*f)[0])
            yield Value(f"{rule}: length", length, 0.001, WORKED_OUT, lambda f=figures: _shoulder(*f)[1])
    neck = lambda: sum(  # noqa: E731
        2 * change.change_mm
        for change in Alteration("B02", IN / 8).apply(bodice(drop_mm=0.0)).changes
        if change.edge == "neck"
    )
    yield Value("a neck lowered by 1/8 in all round", 19.9, 0.06, f"{WORKED_OUT}: 2 pi d", neck)


def _shoulder(code: str, name: str) -> tuple[float, float]:
    edge = Alteration(code, 10.0).apply(bodice()).pattern.piece(name).edge("shoulder")
    (x0, y0), (x1, y1) = sorted((edge.start, edge.end), key=lambda place: place[1])
    return math.degrees(math.atan2(y1 - y0, abs(x1 - x0))), edge.length_mm


def _crotch_depth() -> Iterator[Value]:
    """Hip and the ease on the seated depth, inches."""
    for hip, ease in ((34.0, 0.5), (35.0, 0.5), (36.0, 0.75), (37.0, 0.75), (38.0, 0.75), (39.0, 1.0), (42.0, 1.0)):
        yield Value(f"crotch depth, hip {hip:g}", ease, 1e-9, C209, lambda hip=hip: crotch_depth_ease_mm(hip * IN) / IN)


def _cups() -> Iterator[Value]:
    """Differences with the letter that each rule gives them; 1 where it is given."""
    for rule, source, unit, rows in (
        (CupRule.CIRCULAR, CIRCULAR, IN, ((0.5, "AA"), (1.5, "A"), (2.5, "B"), (3.5, "C"), (4.5, "D"))),
        (CupRule.TEXTBOOK, HOFFMANN, IN, ((4.0, "B"), (5.0, "C"), (6.0, "D"))),
        (CupRule.EN_13402, EN_13402, 10.0, ((11.0, "AA"), (13.0, "A"), (15.0, "B"), (17.0, "C"), (19.0, "D"))),
    ):
        for difference, letter in rows:
            figures = (difference * unit, rule, letter)
            yield Value(
                f"{rule.value}: {difference:g} is {letter}",
                1.0,
                0.0,
                source,
                lambda f=figures: float(cup_letter(f[0], f[1]) == f[2]),
            )
