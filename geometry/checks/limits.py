"""Every limit of the checks in one value, each with what it means and where its figure comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from geometry.findings import Level
from geometry.tolerance import FLOAT_MM, STOP_MM, WARN_MM

_FITTER = "Threads, 10 patternwork skills, 2020: 1/16 in for a professional fitter, 1/8 in suits many"
_MEMORY = "common practice, from memory"
_OWN = "own choice"

Band = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Limits:
    """What is still right; a project may change any of it. ``LIMITS_TOLD`` says what each one means.

    Beyond a ``warn`` limit a finding warns, beyond a ``stop`` limit it stops. A band holds the least and the most.
    """

    seam_warn_mm: float = WARN_MM
    seam_stop_mm: float = STOP_MM
    shoulder_ease_mm: Band = (0.0, 12.7)
    shoulder_safe_mm: float = 6.35
    inseam_ease_mm: Band = (0.0, 12.7)
    cap_dress_mm: Band = (19.05, 38.1)
    cap_shirt_mm: Band = (0.0, 19.05)
    cap_tailored_mm: Band = (31.75, 50.8)
    cap_knit_mm: Band = (0.0, 12.7)
    collar_short_mm: Band = (0.0, 3.175)
    band_over_mm: Band = (0.0, 50.8)
    facing_off_mm: float = STOP_MM
    dart_legs_warn_mm: float = WARN_MM
    dart_legs_stop_mm: float = STOP_MM
    waist_darts_mm: float = STOP_MM
    dart_stand_off_mm: Band = (12.7, 63.5)
    dart_aim_mm: float = 9.525
    dart_clear_mm: float = 12.7
    dart_widest_mm: float = 40.0
    notch_warn_mm: float = WARN_MM
    notch_stop_mm: float = STOP_MM
    notch_reach_mm: float = 25.4
    notch_apart_mm: float = 3.0
    notch_corner_mm: float = 12.7
    notch_room_mm: float = 25.4
    notch_left_mm: float = 3.0
    ease_notch_mm: float = STOP_MM
    level_mm: float = STOP_MM
    level_turn_deg: float = 1.0
    button_mm: float = STOP_MM
    zip_mm: float = 12.7
    fold_warn_mm: float = 0.5
    fold_stop_mm: float = WARN_MM
    square_mm: float = 0.8
    square_run_mm: float = 6.35
    peak_mm: float = WARN_MM
    peak_reach_mm: float = 50.8
    hollow_mm: float = STOP_MM
    edge_added_mm: float = 12.7
    grain_turn_deg: float = 1.0
    crease_mm: float = STOP_MM
    allowance_least_mm: float = 6.35
    allowance_differ_mm: float = 1.0
    hem_full_percent: float = 10.0
    hem_mirror_mm: float = STOP_MM
    hands_mm: float = WARN_MM
    cloth_mm: float = 1400.0


DEFAULT_LIMITS = Limits()


class Told(NamedTuple):
    """What a limit means, for a person who changes it, and where its figure comes from."""

    words: str
    source: str


LIMITS_TOLD = {
    "seam_warn_mm": Told("Two sides of a seam may differ by this, ease apart", _FITTER),
    "seam_stop_mm": Told("Beyond this they cannot be sewn without stretching or puckering", _FITTER),
    "shoulder_ease_mm": Told("Back shoulder longer than the front, without a dart", f"up to 1/2 in, {_MEMORY}"),
    "shoulder_safe_mm": Told("Shoulder ease up to this goes into any cloth", f"1/4 in, {_MEMORY}"),
    "inseam_ease_mm": Told(
        "Front inseam of trousers longer than the back, which is stretched to it", f"up to 1/2 in, {_MEMORY}"
    ),
    "cap_dress_mm": Told(
        "Sleeve cap longer than the armhole: dress or blouse", f"3/4 to 1 1/2 in, {_MEMORY}; textbooks 1 to 1 1/2 in"
    ),
    "cap_shirt_mm": Told("Sleeve cap longer than the armhole: shirt", f"0 to 3/4 in, {_MEMORY}"),
    "cap_tailored_mm": Told("Sleeve cap longer than the armhole: jacket or coat", f"1 1/4 to 2 in, {_MEMORY}"),
    "cap_knit_mm": Told("Sleeve cap longer than the armhole: knitted cloth", f"0 to 1/2 in, {_MEMORY}"),
    "collar_short_mm": Told("Collar shorter than the neck seam", f"0 to 1/8 in, {_MEMORY}"),
    "band_over_mm": Told("Waistband longer than the waist, for its overlap", f"up to 2 in, {_MEMORY}"),
    "facing_off_mm": Told("A facing may lie this far beside the edge it is sewn to", "1/8 in as for seams, own choice"),
    "dart_legs_warn_mm": Told("The legs of a dart may differ by this", _FITTER),
    "dart_legs_stop_mm": Told("Beyond this the dart puckers or twists its seam", _FITTER),
    "waist_darts_mm": Told("Darts may miss each other across the waist seam by this", f"1/8 in, {_MEMORY}"),
    "dart_stand_off_mm": Told(
        "A bust dart ends this far short of the bust point",
        "1 to 2 1/2 in for side darts (Threads 181, Q&A on bust-dart points); waist darts from 1/2 in, from memory",
    ),
    "dart_aim_mm": Told("A dart may miss the body point it aims at by this", f"3/8 in, {_OWN}"),
    "dart_clear_mm": Told("A dart ends at least this far from the next seam", f"1/2 in, {_OWN}"),
    "dart_widest_mm": Told("Widest waist dart of a skirt or trousers", f"1 1/2 in, rounded up, {_MEMORY}"),
    "notch_warn_mm": Told("A notch may land this far from its partner", _FITTER),
    "notch_stop_mm": Told("Beyond this the seam would be sewn out of place", _FITTER),
    "notch_reach_mm": Told("Unnamed notches further apart are not taken for partners", f"1 in, {_OWN}"),
    "notch_apart_mm": Told("Notches nearer each other than this are one cut", f"1/8 in, {_OWN}"),
    "notch_corner_mm": Told(
        "Notches this near a corner on both its sides are mistaken for each other",
        f"not on both sides of a corner: {_MEMORY}; 1/2 in, {_OWN}",
    ),
    "notch_room_mm": Told(
        "An edge with less length than this to each notch has too many",
        f"too many notches are a fault (fashion-incubator.com); 1 in, {_OWN}",
    ),
    "notch_left_mm": Told(
        "Cloth left between the end of a notch and the stitching line",
        f"a notch stays well inside the allowance (handout Notch Notes); 1/8 in, {_OWN}",
    ),
    "ease_notch_mm": Told(
        "Ease beyond this is marked by notches on both its sides", f"notches on both sides: {_MEMORY}; 1/8 in, {_OWN}"
    ),
    "level_mm": Told("A level notch may lie this far from its level line", f"1/8 in, {_OWN}"),
    "level_turn_deg": Told("A level line may lean by this against the square of the grain", f"1 degree, {_OWN}"),
    "button_mm": Told("Distances between buttons may differ by this", f"1/8 in, {_OWN}"),
    "zip_mm": Told("The opening for a zip may change by this", f"1/2 in, {_OWN}"),
    "fold_warn_mm": Told(
        "An edge on the fold may leave the straight line by this",
        f"{_OWN}: a digitiser's cross-hair is read to about half a millimetre",
    ),
    "fold_stop_mm": Told(
        "Beyond this the opened piece shows a peak or a hollow",
        f"1/16 in, {_MEMORY}: no peak or dip where a seam or fold is crossed",
    ),
    "square_mm": Told("An edge may leave the square of the fold by this", f"1/32 in, {_OWN}: half of 1/16 in"),
    "square_run_mm": Told("An edge runs square to the fold for this", f"1/4 to 1/2 in, {_MEMORY}"),
    "peak_mm": Told("A line may stand out or dip in by this inside an edge or where a seam crosses it",
                    f"1/16 in, {_MEMORY}: no peak or dip where a seam or fold is crossed"),
    "peak_reach_mm": Told(
        "Length on either side over which such a peak is judged", f"blended over 1 to 3 in on each side, {_MEMORY}"
    ),
    "hollow_mm": Told("An edge that was not hollow may become so by this", f"1/8 in, {_OWN}"),
    "edge_added_mm": Told("What may be added at an edge without a slash", f"1/2 in to each seam edge, {_MEMORY}"),
    "grain_turn_deg": Told(
        "The grain may turn by this", "own arithmetic: 1 degree over 60 cm is 10.5 mm"
    ),
    "crease_mm": Told("The crease of trousers may miss the middle of the hem by this", f"1/8 in, {_OWN}"),
    "allowance_least_mm": Told("Narrowest seam allowance", 'range 1/4 to 5/8 in: Wikipedia, "Seam allowance"'),
    "allowance_differ_mm": Told("Allowances that are sewn together may differ by this", _OWN),
    "hem_full_percent": Told("How much fuller a hem may be than where it is sewn down, in hundredths", _OWN),
    "hem_mirror_mm": Told("A turned-up hem may miss the side it is sewn down to by this", f"1/8 in, {_OWN}"),
    "hands_mm": Told("Left and right edges that differ by more are told apart", _FITTER),
    "cloth_mm": Told("Width of the cloth", f"{_OWN}: dress cloth is commonly 1.12 to 1.5 m wide"),
}  # fmt: skip
"""Each limit by its name."""


def level_beyond(amount_mm: float, warn_mm: float, stop_mm: float) -> Level | None:
    """Which level an amount deserves: nothing up to ``warn_mm``, a warning up to ``stop_mm``, else a stop."""
    if amount_mm > stop_mm + FLOAT_MM:
        return Level.STOP
    return Level.WARN if amount_mm > warn_mm + FLOAT_MM else None
