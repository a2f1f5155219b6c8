"""What toiles show above the waist."""

from __future__ import annotations

from geometry.fitting.toile_signs import Cause, Place, Sign, Symptom

_MEMORY = "common practice, from memory"
_FD46 = "USDA Fitting Dresses, 1946"
_TAILOR = "The Modern Tailor, Outfitter and Clothier, ch. XXII"
_WSU = "Washington State E.M. 2246 Garment fitting, 1962"
_OLD = "an early dressmaking text on altering patterns (fashion-design-drawing.com)"
_ND = "The New Dressmaker, 1921"
_THREADS = "Threads magazine"

ABOVE_WAIST: tuple[Symptom, ...] = (
    Symptom(
        "neck-back-away",
        Place.NECK,
        Sign.GAPES,
        "The neck stands away at the back, or the collar sits low at the nape.",
        (
            Cause("a high round back", "E01", 10.0),
            Cause("the back neck is too wide", "B04", 6.0),
            Cause("the head is carried forward", "B05", 6.0),
        ),
        "The collar.",
        f"{_TAILOR}; {_MEMORY}",
    ),
    Symptom(
        "neck-front-gapes",
        Place.NECK,
        Sign.UPRIGHT,
        "The front neck edge stands away in upright folds.",
        (
            Cause("too much cloth along the neck", "B01", 6.35),
            Cause("a hollow chest", "B08", 6.35),
        ),
        "The neck facing: it gets the same cut.",
        "Threads, remove excess fabric from a neckline, 2019",
    ),
    Symptom(
        "collar-sinks",
        Place.NECK,
        Sign.ACROSS,
        "The collar sinks round the neck with creases below its fall, or folds run round the neck.",
        (
            Cause("the shoulders slope less than the pattern", "C03", 6.35),
            Cause("the neck seam is too small", "B02", 3.0),
        ),
        "The collar: lengthen it with the neck seam.",
        _TAILOR,
    ),
    Symptom(
        "collar-low",
        Place.NECK,
        Sign.LOW,
        "The collar lies too low all round.",
        (
            Cause("a long neck with sloping shoulders", "C04", 6.35),
            Cause("the neckline is too large", "B03", 6.35),
        ),
        "The collar.",
        _TAILOR,
    ),
    Symptom(
        "square-shoulder",
        Place.SHOULDER,
        Sign.SLANTING,
        "Slanting folds run from the shoulder tip to the centre; the seam stands up at the neck.",
        (Cause("square shoulders", "C03", 6.35),),
        "The sleeve cap.",
        f"{_WSU}; {_ND}",
    ),
    Symptom(
        "sloping-shoulder",
        Place.SHOULDER,
        Sign.LOOSE,
        "Folds run from neck to underarm, cloth sags below the armpit, the sleeve draws when the arm is raised.",
        (
            Cause("sloping shoulders", "C04", 6.35),
            Cause("the armhole is too low or too large", "F02", 6.35),
        ),
        "The side seam; a pad may do instead.",
        _FD46,
    ),
    Symptom(
        "long-shoulder",
        Place.SHOULDER,
        Sign.LOW,
        "The armhole seam hangs off the shoulder and pulls at the neck.",
        (Cause("the shoulder seam is too long", "C02", 6.35),),
        "The sleeve cap.",
        f"{_FD46}; {_WSU}",
    ),
    Symptom(
        "short-shoulder",
        Place.SHOULDER,
        Sign.RIDES_UP,
        "The armhole seam sits up on the shoulder and binds; the sleeve rides up.",
        (Cause("the shoulder seam is too short", "C01", 6.35),),
        "The sleeve cap.",
        "Weiland, Shoulder savvy (Sew News)",
    ),
    Symptom(
        "forward-shoulder",
        Place.SHOULDER,
        Sign.TWISTS,
        "The shoulder seam lies behind the bone, the garment pulls back, the sleeve drags from the front of its cap.",
        (Cause("shoulders carried forward", "C05", 10.0),),
        "The notch at the top of the sleeve.",
        f"Hertzer, Garment cutting in the twentieth century; {_MEMORY}",
    ),
    Symptom(
        "armhole-cuts",
        Place.ARMHOLE,
        Sign.STRAINED,
        "The armhole cuts in under the arm.",
        (
            Cause("the armhole is too high", "F01", 6.35),
            Cause("too short between shoulder and underarm", "A02", 10.0),
        ),
        "The sleeve: its underarm goes down with the armhole.",
        f"{_OLD}; {_MEMORY}",
    ),
    Symptom(
        "folds-beside-armhole",
        Place.ARMHOLE,
        Sign.UPRIGHT,
        "Upright folds stand beside the armhole, in front or behind.",
        (
            Cause("in front: the chest is too wide", "B09", 6.35),
            Cause("behind: the back is too wide", "E05", 6.35),
        ),
        "The shoulder seam.",
        _MEMORY,
    ),
    Symptom(
        "armhole-gapes",
        Place.ARMHOLE,
        Sign.GAPES,
        "The front armhole stands away between bust and shoulder.",
        (
            Cause("the bust is fuller than the pattern", "D01", 12.7),
            Cause("only the armhole is too long: close it into the dart", "D10", 9.5),
        ),
        "The height of the dart.",
        _MEMORY,
    ),
    Symptom(
        "hollow-chest",
        Place.CHEST,
        Sign.ACROSS,
        "Loose folds across above the bust.",
        (
            Cause("a hollow chest", "B08", 6.35),
            Cause("too long between shoulder and underarm", "A02", 10.0, sign=-1),
        ),
        "Neck and armhole lengths.",
        f"USDA Home Economics Research Report 32; {_MEMORY}",
    ),
    Symptom(
        "narrow-chest",
        Place.CHEST,
        Sign.UPRIGHT,
        "Upright folds in front of the armhole.",
        (
            Cause("a narrow chest", "B09", 6.35),
            Cause("chest and shoulders are both narrow", "C08", 6.35),
        ),
        "The shoulder seam.",
        f"USDA Home Economics Research Report 32; {_MEMORY}",
    ),
    Symptom(
        "full-bust",
        Place.BUST,
        Sign.STRAINED,
        "Strain across the bust; the waist or hem rises in front, side seams swing forward, the armhole gapes.",
        (
            Cause("the bust is fuller than the pattern", "D01", 12.7),
            Cause("it is fuller, and the front has no darts", "D03", 12.7),
            Cause("it is fuller, and the seam runs over the bust", "D04", 12.7),
        ),
        "Height of the dart, and the waist.",
        f"{_THREADS}; {_MEMORY}",
    ),
    Symptom(
        "small-bust",
        Place.BUST,
        Sign.LOOSE,
        "Cloth bubbles over the bust and folds drop below it.",
        (Cause("the bust is smaller than the pattern", "D02", 6.35), Cause("a low bust", "D11", 12.7)),
        "Height of the dart.",
        _OLD,
    ),
    Symptom(
        "dart-misses",
        Place.BUST,
        Sign.SLANTING,
        "The darts point above, below or beside the bust point.",
        (
            Cause("the bust lies lower", "D06", 12.7),
            Cause("the bust points lie further apart", "D07", 6.35),
            Cause("the dart ends too near the bust point", "D08", 12.7),
        ),
        "Side seam lengths, dart folded.",
        f"Threads 181, bust-dart points; {_MEMORY}",
    ),
    Symptom(
        "front-sags",
        Place.BUST,
        Sign.LOW,
        "The front sags below the bust.",
        (
            Cause("too long above a flat chest", "B08", 6.35),
            Cause("the front is too long", "A03", 10.0, sign=-1),
        ),
        "The grain at the centre front.",
        _FD46,
    ),
    Symptom(
        "front-short",
        Place.BUST,
        Sign.RIDES_UP,
        "The waist seam rises at the centre front with folds to the bust.",
        (Cause("the bust is fuller than the pattern", "D01", 12.7), Cause("the front is too short", "A03", 10.0)),
        "The waist.",
        _MEMORY,
    ),
    Symptom(
        "broad-back",
        Place.UPPER_BACK,
        Sign.STRAINED,
        "The back is tight; its armhole seams tear.",
        (Cause("a broad back", "E04", 6.35), Cause("a back that is large below the armholes", "E08", 6.35)),
        "Shoulder ease or dart.",
        "Threads, fitting the back",
    ),
    Symptom(
        "round-back",
        Place.UPPER_BACK,
        Sign.SLANTING,
        "Folds run from the underarm up to the back; it stands off at the lower back.",
        (Cause("round shoulders", "E02", 12.7), Cause("prominent shoulder blades", "E03", 12.7)),
        "The hem.",
        _OLD,
    ),
    Symptom(
        "erect-back",
        Place.UPPER_BACK,
        Sign.LOOSE,
        "The back sags below the blades.",
        (Cause("an over-erect back", "E07", 6.35), Cause("a sway back", "E06", 10.0)),
        "The waist at the centre back.",
        _FD46,
    ),
    Symptom(
        "sway-back",
        Place.BACK_WAIST,
        Sign.ACROSS,
        "Rolls across the back just above the seat.",
        (
            Cause("the hip is too narrow and pushes the cloth up: widen it first", "H01", 6.35),
            Cause("a sway back", "E06", 10.0),
            Cause("the back is too long", "A01", 10.0, sign=-1),
        ),
        "That the hem hangs level.",
        f"Sewing Artistry, the sway back alteration; {_MEMORY}",
    ),
)
