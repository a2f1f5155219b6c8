"""What can be measured of a body, and where each tape goes.

The terms follow ISO 8559-1 (names from memory), each in our own words; where tapes go is from the landmarks of
ASTM D5219 and cooperative-extension bulletins named below.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Measure(StrEnum):
    """One measurement of a body or, under the same name, of a garment at the same place."""

    HEIGHT = "height"
    NECK = "neck base girth"
    HIGH_BUST = "upper chest girth"
    BUST = "bust girth"
    UNDER_BUST = "under-bust girth"
    WAIST = "waist girth"
    ABDOMEN = "abdomen girth"
    HIP = "hip girth"
    SHOULDER_LENGTH = "shoulder length"
    SHOULDER_DROP = "shoulder drop"
    CHEST_WIDTH = "front chest width"
    BACK_WIDTH = "back width"
    BACK_LENGTH = "back waist length"
    FRONT_LENGTH = "centre front length"
    BUST_DEPTH = "side neck to bust point"
    FRONT_OVER_BUST = "side neck over bust to waist"
    BUST_SPAN = "bust point to bust point"
    ARMHOLE_DEPTH = "armscye depth"
    UPPER_ARM = "upper arm girth"
    ELBOW = "elbow girth"
    WRIST = "wrist girth"
    ARM_LENGTH = "arm length"
    UPPER_ARM_LENGTH = "shoulder to elbow"
    WAIST_TO_HIP = "waist to hip"
    WAIST_TO_HEM = "waist to hem"
    CROTCH_DEPTH = "body rise"
    CROTCH_LENGTH = "total crotch length"
    THIGH = "thigh girth"
    KNEE = "knee girth"
    CALF = "calf girth"
    INSIDE_LEG = "inside leg length"
    OUTSIDE_LEG = "outside leg length"


class Kind(StrEnum):
    """How a measurement runs."""

    GIRTH = "round the body"
    WIDTH = "across the body"
    LENGTH = "along the body"


@dataclass(frozen=True, slots=True)
class Tape:
    """How a measurement is taken.

    Attributes:
        measure: Which one.
        kind: How it runs.
        how: Where the tape goes, one or two sentences.
        used_for: What it decides on the pattern.
        usual_mm: Smallest and largest value of a grown body that is believed without a question; own choice, wide.
        is_sided: Whether left and right may differ.
    """

    measure: Measure
    kind: Kind
    how: str
    used_for: str
    usual_mm: tuple[float, float]
    is_sided: bool = False


PREPARATION = (
    "Wear well-fitting underwear, and the shoes that will be worn for lengths to the floor.",
    "Tie a cord round the waist, lay one round the base of the neck and one high round the chest under the arms.",
    "Let someone else measure, with a tape that does not stretch, snug but not tight, breathing normally.",
    "Write down the date; measure again after half a year or after a change.",
)
"""Extension bulletins: New Mexico C-220 Check your pattern for proper fit; Texas E-372 Principles of pattern
alteration."""

_G, _W, _L = Kind.GIRTH, Kind.WIDTH, Kind.LENGTH

TAPES: tuple[Tape, ...] = (
    Tape(
        Measure.HEIGHT,
        _L,
        "From the crown of the head straight down to the floor, standing upright without shoes.",
        "which length class of a pattern to buy",
        (1200, 2200),
    ),
    Tape(
        Measure.NECK,
        _G,
        "Round the base of the neck: over the bone at the nape, where the neck runs into the shoulders at the sides, "
        "to the hollow between the collar bones. A fine chain lies best.",
        "neck edge and collar",
        (280, 560),
    ),
    Tape(
        Measure.HIGH_BUST,
        _G,
        "Round the chest above the breasts, high up under the arms, snug. Home sewing calls it the high bust.",
        "the size of bodices",
        (600, 1600),
    ),
    Tape(
        Measure.BUST,
        _G,
        "Level round the fullest part of the bust, under the arms; the tape must not press the breasts flat.",
        "the width at the bust, and together with the upper chest the cup",
        (600, 1800),
    ),
    Tape(
        Measure.UNDER_BUST,
        _G,
        "Level round the ribs just below the breasts.",
        "bodices that fit below the bust",
        (500, 1600),
    ),
    Tape(
        Measure.WAIST,
        _G,
        "Round the waist where a belt settles (the natural waist), or level midway between the lowest rib and the top "
        "of the hip bone as the standard says. The two differ: write down which one was taken.",
        "waist seam and waistband",
        (450, 1700),
    ),
    Tape(
        Measure.ABDOMEN,
        _G,
        "Level round the fullest part of the abdomen, 8 to 10 cm below the waist.",
        "skirts and trousers over a full abdomen",
        (550, 1800),
    ),
    Tape(
        Measure.HIP,
        _G,
        "Level round the fullest part of the seat; write down how far below the waist that is.",
        "the size of skirts and trousers",
        (650, 1900),
    ),
    Tape(
        Measure.SHOULDER_LENGTH,
        _W,
        "From the side of the neck base along the top of the shoulder to the bone at its end.",
        "broad and narrow shoulders",
        (80, 190),
        True,
    ),
    Tape(
        Measure.SHOULDER_DROP,
        _L,
        "How far the end bone of the shoulder lies below the side of the neck base, measured straight down.",
        "square and sloping shoulders",
        (0, 110),
        True,
    ),
    Tape(
        Measure.CHEST_WIDTH,
        _W,
        "Across the chest from arm crease to arm crease, midway between shoulder bone and armpit.",
        "narrow and broad chests",
        (240, 560),
    ),
    Tape(
        Measure.BACK_WIDTH,
        _W,
        "Across the back from arm crease to arm crease, midway between shoulder bone and armpit, arms hanging.",
        "broad and narrow backs",
        (260, 600),
    ),
    Tape(
        Measure.BACK_LENGTH,
        _L,
        "From the bone at the nape down the middle of the back to the waist.",
        "the length of a bodice",
        (300, 560),
    ),
    Tape(
        Measure.FRONT_LENGTH,
        _L,
        "From the hollow between the collar bones straight down to the waist.",
        "the length of the centre front",
        (240, 520),
    ),
    Tape(
        Measure.BUST_DEPTH,
        _L,
        "From the side of the neck base down to the bust point.",
        "the height of the bust dart",
        (180, 480),
        True,
    ),
    Tape(
        Measure.FRONT_OVER_BUST,
        _L,
        "From the side of the neck base over the bust point and straight down to the waist.",
        "the length of a front over a full bust",
        (320, 700),
        True,
    ),
    Tape(
        Measure.BUST_SPAN,
        _W,
        "Straight across from bust point to bust point.",
        "how far the darts lie from the centre front",
        (120, 320),
    ),
    Tape(
        Measure.ARMHOLE_DEPTH,
        _L,
        "From the bone at the nape straight down to the level of the armpits: lay a strip level under the arms.",
        "the depth of the armhole",
        (140, 320),
    ),
    Tape(
        Measure.UPPER_ARM,
        _G,
        "Round the fullest part of the upper arm, the arm hanging.",
        "the width of sleeves",
        (180, 600),
        True,
    ),
    Tape(Measure.ELBOW, _G, "Round the bent elbow.", "narrow sleeves", (180, 500), True),
    Tape(Measure.WRIST, _G, "Round the wrist over its bone.", "cuffs and sleeve hems", (120, 280), True),
    Tape(
        Measure.ARM_LENGTH,
        _L,
        "From the end bone of the shoulder over the bent elbow to the wrist bone.",
        "the length of sleeves",
        (420, 820),
        True,
    ),
    Tape(
        Measure.UPPER_ARM_LENGTH,
        _L,
        "From the end bone of the shoulder to the point of the bent elbow.",
        "where the shaping of the elbow lies",
        (230, 480),
        True,
    ),
    Tape(
        Measure.WAIST_TO_HIP,
        _L,
        "Down the side from the waist to the level of the fullest hip.",
        "where the hip of a skirt lies",
        (100, 360),
    ),
    Tape(
        Measure.WAIST_TO_HEM,
        _L,
        "Down the side from the waist to where the hem is wanted.",
        "the length of skirts and dresses",
        (200, 1300),
    ),
    Tape(
        Measure.CROTCH_DEPTH,
        _L,
        "Seated on a hard chair: down the side from the waist to the seat.",
        "the depth of the crotch of trousers",
        (180, 450),
    ),
    Tape(
        Measure.CROTCH_LENGTH,
        _L,
        "From the waist at the centre front between the legs to the waist at the centre back; note both parts.",
        "the crotch seam of trousers",
        (450, 1150),
    ),
    Tape(Measure.THIGH, _G, "Level round the thigh just below the crotch.", "trousers", (350, 1000), True),
    Tape(Measure.KNEE, _G, "Round the knee, slightly bent.", "narrow trousers", (250, 700), True),
    Tape(Measure.CALF, _G, "Round the fullest part of the calf.", "narrow trousers", (220, 650), True),
    Tape(
        Measure.INSIDE_LEG,
        _L,
        "From the crotch down the inside of the leg to the floor.",
        "the length of trousers",
        (500, 1050),
        True,
    ),
    Tape(
        Measure.OUTSIDE_LEG,
        _L,
        "From the waist at the side down over the hip to the floor.",
        "the length of trousers, and a tilted waist",
        (700, 1400),
        True,
    ),
)
"""Every measurement in the order in which it is taken, from the top down. Where the tape goes: New Mexico C-209
(trousers), C-220, C-228 (upper chest); The New Dressmaker, 1921, p. 15; ASTM D5219 (landmarks); EN 13402 (bust)."""

_BY_MEASURE = {tape.measure: tape for tape in TAPES}


def tape_of(measure: Measure) -> Tape:
    """How a measurement is taken."""
    return _BY_MEASURE[measure]


_OTHER_NAMES = {
    "high bust": Measure.HIGH_BUST,
    "upper chest": Measure.HIGH_BUST,
    "upper bust": Measure.HIGH_BUST,
    "chest": Measure.HIGH_BUST,
    "full bust": Measure.BUST,
    "underbust": Measure.UNDER_BUST,
    "under bust": Measure.UNDER_BUST,
    "hips": Measure.HIP,
    "neck": Measure.NECK,
    "neck base": Measure.NECK,
    "shoulder": Measure.SHOULDER_LENGTH,
    "biceps": Measure.UPPER_ARM,
    "bicep": Measure.UPPER_ARM,
    "back length": Measure.BACK_LENGTH,
    "nape to waist": Measure.BACK_LENGTH,
    "back neck to waist": Measure.BACK_LENGTH,
    "front length": Measure.FRONT_LENGTH,
    "front waist length": Measure.FRONT_LENGTH,
    "bust depth": Measure.BUST_DEPTH,
    "bust span": Measure.BUST_SPAN,
    "armhole depth": Measure.ARMHOLE_DEPTH,
    "sleeve length": Measure.ARM_LENGTH,
    "hip depth": Measure.WAIST_TO_HIP,
    "skirt length": Measure.WAIST_TO_HEM,
    "crotch depth": Measure.CROTCH_DEPTH,
    "rise": Measure.CROTCH_DEPTH,
    "crotch length": Measure.CROTCH_LENGTH,
    "inseam": Measure.INSIDE_LEG,
    "inside leg": Measure.INSIDE_LEG,
    "outseam": Measure.OUTSIDE_LEG,
    "stature": Measure.HEIGHT,
}


def measure_named(text: str) -> Measure | None:
    """The measurement that a word of the trade means, whatever its case; ``None`` if it is not known.

    "girth", "circumference" and "round" may be left out or added: "waist", "waist girth" and "round the waist" are one.
    """
    words = " ".join(text.lower().replace("-", " ").replace("_", " ").split())
    for extra in ("girth", "circumference", "round the", "body"):
        words = " ".join(words.replace(extra, " ").split())
    return _PLAIN_NAMES.get(words)


def _plain(name: str) -> str:
    return name.replace(" girth", "").replace("-", " ").replace("body ", "")


_PLAIN_NAMES = {_plain(measure.value): measure for measure in Measure} | _OTHER_NAMES
