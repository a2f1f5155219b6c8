"""The entries of the sleeve (I01 to I09)."""

from __future__ import annotations

from geometry.alterations.handbook import sleeve
from geometry.alterations.handbook.entry import IN_THE_PIECE, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.panels import PieceRole
from geometry.model.edge import EdgeRole

_SLEEVE = (PieceRole.SLEEVE,)
_WITH_BODICES = (*_SLEEVE, *sleeve.BODICES)
_WALK = "Walk the cap round the armhole, notch to notch."
_HERR = "USDA Home Economics Research Report 32 lists it; details: common practice, from memory"

_ARM_WAYS = (
    Variant("cap seam kept", "the cap gets lower and its seam keeps its length, so the armhole still fits"),
    Variant("cap height kept", "the cap is raised again to its height, and its seam gets longer"),
    Variant("whole width", "the sleeve is wider from cap to hem"),
)
_FAR = Caution(
    38.1, "More than 1 1/2 in makes the cap very low: look at the whole width, or a larger armhole, as well."
)

ENTRIES = (
    Entry(
        "I01",
        "Full upper arm",
        Region.SLEEVE,
        symptom="Level pulls lie round the upper arm and the sleeve binds when the arm reaches out.",
        does="A cross of slashes, down the middle and across from underarm to underarm, lets the sleeve open at the "
        "biceps, half on each side of the middle. The quarters of the cap turn about its top, so its seam keeps its "
        "length and it gets lower; the height may be given back, at the price of a longer seam.",
        inverse="Laps the cross for a thin arm.",
        needs=("top of the cap", "biceps line", "hem"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.UNDERARM),
        matches=(EdgeRole.UNDERARM,),
        check_after=(_WALK, "The middle of the sleeve stays on the grain."),
        source="common practice; ease of at least 2 in: Threads, set-in sleeve solutions (2021)",
        amount=Amount("what the sleeve is opened at the biceps", IN_THE_PIECE, 20.0, -40.0, 60.0, (_FAR,)),
        plan=lambda bench: sleeve.upper_arm(bench, bench.amount_mm),
        variants=_ARM_WAYS,
    ),
    Entry(
        "I02",
        "Sleeve wider, cap and all",
        Region.SLEEVE,
        symptom="The sleeve is tight from cap to hem.",
        does="The sleeve is slashed from the top of the cap to the hem and spread evenly. The cap seam gets longer: "
        "that is eased in, or the underarm of front and back is lowered until the armhole is as much longer.",
        inverse="Folds a strip out of a sleeve that is too wide.",
        needs=("top of the cap", "hem", "underarm of the bodice where the armhole follows"),
        touches=_WITH_BODICES,
        keeps=kept(_SLEEVE, EdgeRole.UNDERARM),
        matches=(EdgeRole.UNDERARM, EdgeRole.SIDE),
        check_after=(_WALK,),
        source="common practice, from memory",
        amount=Amount("how much wider the sleeve becomes", IN_THE_PIECE, 15.0, -25.0, 60.0),
        plan=sleeve.whole_width,
        variants=(
            Variant("ease accepted", "the armhole is left as it is"),
            Variant("armhole lowered", "the underarm of front and back goes down, each by half of the growth"),
        ),
    ),
    Entry(
        "I03",
        "Thin arm",
        Region.SLEEVE,
        symptom="Folds run down the upper arm and the sleeve stands away from it.",
        does="The cross of the full upper arm is lapped instead of opened: the cap gets higher and its seam keeps its "
        "length, or the height is kept and the seam gets shorter.",
        inverse="Opens the cross for a full upper arm.",
        needs=("top of the cap", "biceps line", "hem"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.UNDERARM),
        matches=(EdgeRole.UNDERARM,),
        check_after=(_WALK, "Leave at least 2 in of ease round the upper arm."),
        source=_HERR,
        amount=Amount("what is lapped at the biceps", IN_THE_PIECE, 12.0, -60.0, 40.0, (_FAR,)),
        plan=lambda bench: sleeve.upper_arm(bench, -bench.amount_mm),
        variants=_ARM_WAYS,
    ),
    Entry(
        "I04",
        "Large elbow",
        Region.SLEEVE,
        symptom="The sleeve pulls at the elbow when the arm is bent.",
        does="The sleeve is slashed level at the elbow from the back seam to the front seam, which it only hinges on, "
        "and opened. The longer back seam is taken up by the elbow dart, or eased.",
        inverse="Makes an elbow dart smaller.",
        needs=("elbow", "front and back underarm seam"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.CAP, EdgeRole.HEM),
        check_after=("The dart points at the bent elbow and stops 1 to 1 1/2 in short of it.",),
        source=_HERR,
        amount=Amount(
            "how much longer the back seam becomes at the elbow",
            None,
            10.0,
            -30.0,
            40.0,
            (Caution(12.7, "Usually 1/4 to 1/2 in is enough; for more, widen the sleeve as well."),),
        ),
        plan=lambda bench: sleeve.elbow(bench, bench.amount_mm),
        variants=(
            Variant("dart", "a dart takes it up; one that is there grows"),
            Variant("ease", "the back seam stays longer and is eased in at the elbow"),
        ),
    ),
    Entry(
        "I05",
        "Large forearm",
        Region.SLEEVE,
        symptom="The sleeve pulls round the forearm while the upper arm fits.",
        does="A slash runs from the hem up the middle to the biceps line and along it to both underarm points; the two "
        "lower quarters swing out about these. Cap, biceps and both seams keep their length.",
        inverse="Takes in a sleeve that is wide below.",
        needs=("biceps line", "hem"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.CAP, EdgeRole.UNDERARM),
        matches=(EdgeRole.UNDERARM, EdgeRole.ARMHOLE),
        check_after=("Draw the hem even.", "Change a cuff by as much."),
        source=_HERR,
        amount=Amount("how much wider the hem becomes", IN_THE_PIECE, 15.0, -40.0, 60.0),
        plan=sleeve.forearm,
    ),
    Entry(
        "I06",
        "Elbow shaping for a straight sleeve",
        Region.SLEEVE,
        symptom="Folds lie at the elbow and the sleeve twists, because the seams have nothing to bend by.",
        does="The sleeve is slashed at the elbow and opened on the back seam, so that the forearm bends forward about "
        "the front seam. What the back seam has more becomes an elbow dart; both seams can be sewn as before.",
        inverse="Takes the bend out of a sleeve with an elbow dart.",
        needs=("elbow", "front and back underarm seam"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.CAP, EdgeRole.HEM),
        matches=(EdgeRole.UNDERARM, EdgeRole.ARMHOLE),
        check_after=("The dart points at the bent elbow and stops 1 to 1 1/2 in short of it.",),
        source=_HERR,
        amount=Amount("the width of the elbow dart", None, 20.0, -40.0, 60.0),
        plan=lambda bench: sleeve.elbow(bench, bench.amount_mm),
    ),
    Entry(
        "I07",
        "Cap height",
        Region.SLEEVE,
        symptom="Diagonal pulls run from the top of the cap down both sides, or a fold lies across it.",
        does="The cap is cut level at half its height and its top moved up. Its seam grows by about twice the amount "
        "times the sine of its slope there, which has to be eased in or given to the armhole.",
        inverse="Lowers a cap that is too tall.",
        needs=("top of the cap", "biceps line"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.UNDERARM, EdgeRole.HEM),
        matches=(EdgeRole.UNDERARM,),
        check_after=(_WALK, "Keep the ease within what the cloth takes."),
        source="Threads, set-in sleeve solutions (2021); details: common practice, from memory",
        amount=Amount(
            "how much higher the cap becomes",
            None,
            8.0,
            -30.0,
            40.0,
            (Caution(12.7, "Usually 1/4 to 1/2 in: more changes the cap seam by more than can be eased."),),
        ),
        plan=sleeve.cap_height,
    ),
    Entry(
        "I08",
        "Cap too wide or too full",
        Region.SLEEVE,
        symptom="The cap puckers: there is more ease in it than the cloth takes.",
        does="The cap seam is made shorter by just the amount asked for: by a tuck across, a tuck down the middle to "
        "nothing at the hem, a lower top, or less width at the underarm: wherever the sleeve is too full.",
        inverse="Gives a cap more ease.",
        needs=("top of the cap", "biceps line"),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.HEM),
        matches=(EdgeRole.UNDERARM,),
        check_after=(_WALK, "Measure the upper arm: 2 in of ease must be left."),
        source="common practice, from memory",
        amount=Amount(
            "how much shorter the cap seam becomes",
            None,
            8.0,
            -30.0,
            30.0,
            (Caution(19.05, "So much is seldom ease alone: see whether cap and armhole belong to the same size."),),
        ),
        plan=sleeve.cap_ease,
        variants=(
            Variant("tuck across", "level, half-way up the cap"),
            Variant("tuck down the middle", "from the top to nothing at the hem"),
            Variant("top lowered", "the top is drawn lower between the notches"),
            Variant("at the underarm", "both underarm points come in"),
        ),
    ),
    Entry(
        "I09",
        "Arm hangs forward or back",
        Region.SLEEVE,
        symptom="Folds lie at the back of the sleeve when the arm hangs forward, at its front when it hangs back.",
        does="The sleeve is turned in the armhole: all notches of the cap move along it by the same length, so the "
        "sleeve hangs further forward and meets the side seam further on. No line changes.",
        inverse="Turns the sleeve back.",
        needs=("notches on the cap",),
        touches=_SLEEVE,
        keeps=kept(_SLEEVE, EdgeRole.CAP, EdgeRole.UNDERARM, EdgeRole.HEM),
        matches=(EdgeRole.UNDERARM, EdgeRole.ARMHOLE),
        check_after=("Baste the sleeve in and look how the grain hangs.",),
        source="A menswear column on sleeve pitch (putthison.com); details: common practice, from memory",
        amount=Amount(
            "how far the sleeve turns forward",
            None,
            8.0,
            -30.0,
            30.0,
            (Caution(12.7, "Usually 1/4 to 1/2 in: for more, look at the shoulder seam first."),),
        ),
        plan=sleeve.pitch,
    ),
)
