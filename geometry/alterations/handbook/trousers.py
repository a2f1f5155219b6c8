"""The entries of trousers (J01 to J13)."""

from __future__ import annotations

from geometry.alterations.handbook import trouser_leg as leg
from geometry.alterations.handbook import trouser_seat as seat
from geometry.alterations.handbook.back_width import HIPS_FIRST
from geometry.alterations.handbook.entry import (
    EDGE_ADDITION,
    IN_THE_SEAM,
    QUARTER,
    Amount,
    Caution,
    Entry,
    Region,
    Share,
    Variant,
    kept,
)
from geometry.alterations.handbook.panels import PieceRole
from geometry.alterations.handbook.skirts import TROUSERS
from geometry.model.edge import EdgeRole

_BOTH_FRONTS = Share(1 / 2, "half of the difference on each front")
_BOTH_BACKS = Share(1 / 2, "half of the difference on each back")
_TWO_EDGES = Share(1 / 2, "half of the difference on each of the two edges of the seam")
_SIT = "Sit and bend in the toile before cutting."
_WALK = "Walk the inseams: the back one may be 1/4 to 1/2 in shorter and stretched."
_HERR = "USDA Home Economics Research Report 32 lists it; details: common practice, from memory"
_TAILORS = "The Modern Tailor, Outfitter and Clothier, chapter 22"

_FORKS = (
    Variant("back", "all at the back fork"),
    Variant("front and back", "half at either fork"),
)
_FAR_FORK = Caution(25.4, "More than 1 in at one fork pulls across the thigh: look at a wedge for a full seat too.")

ENTRIES = (
    Entry(
        "J01",
        "Crotch length too short",
        Region.TROUSERS,
        symptom="Lines smile up from the fork, the seam cuts in and the waist is pulled down at the back.",
        does="The fork is let out until the crotch seam has grown by just the amount; the inseam is drawn fair from "
        "the knee and keeps its length, so both inseams still meet.",
        inverse="Shortens a fork that hangs in folds.",
        needs=("crotch point", "hip level", "knee"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "Measure the whole crotch seam against the body's, with its ease."),
        source="NMSU Guide C-209 for the measure; the redrawing: common practice, from memory",
        amount=Amount("how much longer the crotch seam becomes in all", IN_THE_SEAM, 15.0, -30.0, 60.0, (_FAR_FORK,)),
        plan=lambda bench: seat.extend_fork(bench, bench.amount_mm),
        variants=_FORKS,
    ),
    Entry(
        "J02",
        "Crotch length too long",
        Region.TROUSERS,
        symptom="Folds frown or hang at the fork.",
        does="The fork is taken in until the crotch seam is shorter by just the amount; the inseams keep their length.",
        inverse="Lets out a fork that binds.",
        needs=("crotch point", "hip level", "knee"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "Compare the crotch depth: it may be that which is too long."),
        source="NMSU Guide C-209 for the measure; the redrawing: common practice, from memory",
        amount=Amount("how much shorter the crotch seam becomes in all", IN_THE_SEAM, 12.0, -60.0, 30.0, (_FAR_FORK,)),
        plan=lambda bench: seat.extend_fork(bench, -bench.amount_mm),
        variants=_FORKS,
    ),
    Entry(
        "J03",
        "Full seat",
        Region.TROUSERS,
        symptom="Pulls run from the seat to side and inseam, the waist dips at the back and the fork is tight.",
        does="The back is slashed at the hip from the seat seam to nothing at the side and opened. The part above "
        "turns about the side, so waist and darts stay as they are and the seat seam leans more: tailors say more "
        "seat angle.",
        inverse="Folds the wedge out for a flat seat.",
        needs=("hip level", "seat seam", "side edge"),
        touches=seat.BACK,
        keeps=kept(seat.BACK, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "Where the seat is wide as well, let out the back fork (J01) and the hip (J10)."),
        source=f"{_TAILORS}; details: common practice, from memory",
        amount=Amount(
            "how far the seat seam opens at the hip",
            None,
            12.0,
            -40.0,
            50.0,
            (Caution(25.4, "Usually 1/4 to 1 in: for more, see whether a larger size fits the seat."),),
        ),
        plan=lambda bench: seat.wedge_at_hip(bench, bench.amount_mm),
    ),
    Entry(
        "J04",
        "Flat seat",
        Region.TROUSERS,
        symptom="Folds droop under the seat.",
        does="A wedge is folded out at the hip, from the seat seam to nothing at the side; or the seat seam is let out "
        "at its top and the side taken in by as much, which gives it less angle and leaves waist and side as "
        "long.",
        inverse="Opens the wedge, or gives more seat angle.",
        needs=("hip level", "seat seam", "side edge"),
        touches=seat.BACK,
        keeps=kept(seat.BACK, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "Shorten the back fork (J02) and narrow the dart where cloth is left."),
        source=f"{_TAILORS}; details: common practice, from memory",
        amount=Amount(
            "what is folded out at the seat seam, or how far its top goes out",
            None,
            10.0,
            -40.0,
            40.0,
            (Caution(25.4, "Usually 1/4 to 1 in: for more, see whether a smaller size fits the seat."),),
        ),
        plan=seat.flat_seat,
        variants=(
            Variant("tuck", "a wedge folded out at the hip"),
            Variant("seat angle", "out at the top of the seat seam, in at the side"),
        ),
    ),
    Entry(
        "J05",
        "Full abdomen, trousers",
        Region.TROUSERS,
        symptom="The front waist dips, and diagonals run from the fork to the sides in front.",
        does="The front waist is raised at the centre to nothing at the side, which is let out so that the waist stays "
        "its size; or the front is slashed from the waist to nothing at the hem and opened. Only the front "
        "changes.",
        inverse="Lowers or narrows the front for a flat abdomen.",
        needs=("waist edge", "hip level", "hem"),
        touches=(*seat.FRONT, PieceRole.WAISTBAND),
        begins_on=seat.FRONT,
        keeps=kept(seat.FRONT, EdgeRole.SIDE, EdgeRole.INSEAM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "The crease must still run straight down the front."),
        source="Hertzer, Garment Cutting in the Twentieth Century, diagram 15; details: common practice, from memory",
        amount=Amount(
            "how much higher the centre front lies, or what the waist of each front gains",
            None,
            12.0,
            -30.0,
            40.0,
            (Caution(25.4, "Usually 1/2 to 1 in: for more, use both ways, one after the other."),),
        ),
        plan=seat.full_abdomen,
        variants=(
            Variant("waist raised", "higher at the centre front, to nothing at the side"),
            Variant("wider", "slashed from the waist to nothing at the hem; the band grows in front", _BOTH_FRONTS),
        ),
    ),
    Entry(
        "J06",
        "Front fork",
        Region.TROUSERS,
        symptom="The front smiles up from the fork (too short), or frowns (too long).",
        does="The front fork alone is let out until its crotch seam has grown by just the amount; its inseam keeps its "
        "length.",
        inverse="Takes the front fork in where it frowns.",
        needs=("crotch point", "hip level", "knee"),
        touches=seat.FRONT,
        keeps=kept(seat.FRONT, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT,),
        source="common practice, from memory",
        amount=Amount("how much longer the front crotch seam becomes", None, 8.0, -15.0, 40.0, (EDGE_ADDITION,)),
        plan=seat.extend_front_fork,
    ),
    Entry(
        "J07",
        "Full or thin thigh",
        Region.TROUSERS,
        symptom="The leg strains round the thigh, at its inside or its outside, or hangs loose there.",
        does="Front and back are let out alike at the inseam, most at the fork and to nothing at the knee; or at the "
        "side seam, most half-way between hip and knee. Inseams and side seams stay as long as one another.",
        inverse="Takes in a leg that is too wide at the thigh.",
        needs=("crotch point", "hip level", "knee"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "At the inner thigh the crotch seam grows as well: measure it."),
        source="common practice, from memory",
        amount=Amount("what each of the two edges is let out", _TWO_EDGES, 10.0, -25.0, 40.0, (EDGE_ADDITION,)),
        plan=leg.thigh,
        variants=(
            Variant("inner thigh", "at both inseams, to nothing at the knee"),
            Variant("outer thigh", "at both side seams, between hip and knee"),
        ),
    ),
    Entry(
        "J08",
        "Knock knees, bow legs, leg that swings",
        Region.TROUSERS,
        symptom="Folds start at one side of the knee and the crease falls off the foot; they go when the feet move.",
        does="The leg below the knee, or from the crotch down, is moved sideways on front and back alike until the hem "
        "lies under the foot: outwards for knock knees, inwards for bow legs. It keeps its width at every level.",
        inverse="Moves the leg inwards.",
        needs=("knee", "hem"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.HEM, EdgeRole.CROTCH),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=("Draw the crease anew to the middle of the hem.", "The grain stays plumb on the part above."),
        source=f"Hertzer, Garment Cutting in the Twentieth Century, page 20; {_TAILORS}",
        amount=Amount(
            "how far the hem moves outwards",
            None,
            10.0,
            -40.0,
            40.0,
            (Caution(12.7, "Usually 1/4 to 1/2 in: 1 in goes a great way."),),
        ),
        plan=leg.swing,
        variants=(
            Variant("below the knee", "the leg bends at the knee"),
            Variant("from the crotch", "the whole leg leans"),
        ),
    ),
    Entry(
        "J09",
        "Sway back, trousers",
        Region.TROUSERS,
        symptom="Level folds lie under the waist at the back.",
        does="The waist is lowered at the centre back to nothing at the side; the dart gets as much deeper as keeps "
        "the waist its length.",
        inverse="Raises the waist at the centre back.",
        needs=("waist edge", "seat seam", "hip level"),
        touches=seat.BACK,
        keeps=kept(seat.BACK, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT,),
        source=_HERR,
        amount=Amount("how much lower the centre back waist lies", None, 8.0, -30.0, 40.0, (HIPS_FIRST,)),
        plan=seat.sway_back,
    ),
    Entry(
        "J10",
        "Waist and hip, trousers",
        Region.TROUSERS,
        symptom="Level folds lie round hip or waist, or the trousers hang loose there.",
        does="The side edges are let out at the hip, to nothing at the knee, and at the waist as well if it is to "
        "grow; or the seat seam is let out from waist to hip. A waistband grows with the waist.",
        inverse="Takes hip and waist in.",
        needs=("waist edge", "hip level", "knee"),
        touches=(*TROUSERS, PieceRole.WAISTBAND),
        begins_on=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "Hip ease of at least 2 in must be left."),
        source="Montana Extension Bulletin 265 (1950) for the shares; ease: NMSU Guide C-209",
        amount=Amount(
            "what each edge is let out",
            QUARTER,
            8.0,
            -25.0,
            40.0,
            (EDGE_ADDITION,),
        ),
        plan=seat.waist_and_hip,
        variants=(
            Variant("hip", "at the hip, to nothing at waist and knee"),
            Variant("waist and hip", "from the waist to the hip, to nothing at the knee"),
            Variant("seat seam", "at the centre back from waist to hip, to nothing at the fork", _BOTH_BACKS),
        ),
    ),
    Entry(
        "J11",
        "Large calf",
        Region.TROUSERS,
        symptom="The leg catches on the calf and pulls up behind.",
        does="Front and back are let out at both long seams where the calf is fullest, to nothing at knee and hem; or "
        "slashed from the hem up to the knee and opened at the hem.",
        inverse="Takes in a leg that is loose below the knee.",
        needs=("knee", "hem"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.CROTCH),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=("The crease must still lie in the middle of knee and hem.",),
        source="common practice, from memory",
        amount=Amount("what each of the four long edges gains", QUARTER, 6.0, -15.0, 30.0, (EDGE_ADDITION,)),
        plan=leg.calf,
        variants=(
            Variant("seams", "let out at both seams, to nothing at knee and hem"),
            Variant("slashed", "opened from the hem, to nothing at the knee"),
        ),
    ),
    Entry(
        "J12",
        "Leg width",
        Region.TROUSERS,
        symptom="The leg is wider or narrower at knee and hem than is wanted.",
        does="Knee and hem of front and back change by the same on both sides of the crease, which stays on the grain. "
        "So the front stays as much narrower than the back as it was: by the rule 1 in at knee and hem.",
        inverse="Tapers the leg.",
        needs=("knee", "hem", "crotch point"),
        touches=TROUSERS,
        keeps=kept(TROUSERS, EdgeRole.WAIST, EdgeRole.CROTCH),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=("See that the foot goes through the hem.", _WALK),
        source="Threads, easy ways to taper trousers (taunton.com/threads, t00068)",
        amount=Amount("what each of the four long edges gains at the hem", QUARTER, 10.0, -40.0, 60.0),
        plan=leg.width,
        variants=(
            Variant("hem and knee", "the same at knee and hem, drawn fair above the knee"),
            Variant("hem only", "straight from the knee to the hem"),
        ),
    ),
    Entry(
        "J13",
        "Roping at the seat seam",
        Region.TROUSERS,
        symptom="The seat seam twists like a rope because it is too short.",
        does="The seat seam is lengthened by just the amount: by a wedge at the hip, to nothing at the side, or by "
        "drawing its curve deeper between hip and fork.",
        inverse="Shortens a seat seam.",
        needs=("seat seam", "hip level", "crotch point"),
        touches=seat.BACK,
        keeps=kept(seat.BACK, EdgeRole.WAIST, EdgeRole.SIDE, EdgeRole.INSEAM, EdgeRole.HEM),
        matches=(EdgeRole.SIDE, EdgeRole.INSEAM),
        check_after=(_SIT, "Stretch the seat seam a little when it is sewn."),
        source=f"{_TAILORS}; details: common practice, from memory",
        amount=Amount("how much longer the seat seam becomes", IN_THE_SEAM, 10.0, -20.0, 30.0),
        plan=seat.roping,
        variants=(
            Variant("wedge", "opened at the hip"),
            Variant("curve hollowed", "the curve above the fork drawn deeper"),
        ),
    ),
)
