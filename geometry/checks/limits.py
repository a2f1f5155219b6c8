"""Every limit of the checks in one value, each with where its figure comes from; a project may change them."""

from __future__ import annotations

from dataclasses import dataclass

from geometry.findings import Level
from geometry.tolerance import FLOAT_MM, STOP_MM, WARN_MM

_FITTER = "Threads, 10 patternwork skills, 2020: 1/16 in for a professional fitter, 1/8 in suits many"
_MEMORY = "common practice, from memory"

Band = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Limits:
    """What is still right. Beyond a ``warn`` limit a finding warns, beyond a ``stop`` limit it stops.

    Attributes:
        seam_warn_mm: Two sides of a seam may differ by this, its ease apart.
        seam_stop_mm: Beyond this they cannot be sewn without stretching or puckering.
        dart_legs_warn_mm: The legs of a dart may differ by this.
        dart_legs_stop_mm: Beyond this the dart puckers or twists the seam it opens on.
        notch_warn_mm: A notch may land this far from its partner.
        notch_stop_mm: Beyond this the seam would be sewn out of place.
        notch_reach_mm: Unnamed notches further apart than this are not taken for partners.
        waist_darts_mm: Darts that meet across the waist seam may miss each other by this.
        fold_warn_mm: An edge on the fold may leave the straight line by this.
        fold_stop_mm: Beyond this the opened piece shows a peak or a hollow.
        grain_turn_deg: The grain may turn by this against the edge it was parallel to.
        shoulder_ease_mm: The back shoulder may be longer than the front by this where no dart takes it up.
        shoulder_safe_mm: Shoulder ease up to this goes into any cloth.
        inseam_ease_mm: The front inseam of trousers may be longer than the back, which is stretched to it.
        cap_dress_mm: Sleeve cap longer than armhole: dress or blouse.
        cap_shirt_mm: The same for a shirt.
        cap_tailored_mm: The same for a jacket or coat.
        cap_knit_mm: The same for knitted cloth.
    """

    seam_warn_mm: float = WARN_MM
    seam_stop_mm: float = STOP_MM
    dart_legs_warn_mm: float = WARN_MM
    dart_legs_stop_mm: float = STOP_MM
    notch_warn_mm: float = WARN_MM
    notch_stop_mm: float = STOP_MM
    notch_reach_mm: float = 25.4
    waist_darts_mm: float = STOP_MM
    fold_warn_mm: float = 0.5
    fold_stop_mm: float = WARN_MM
    grain_turn_deg: float = 1.0
    shoulder_ease_mm: Band = (0.0, 12.7)
    shoulder_safe_mm: float = 6.35
    inseam_ease_mm: Band = (0.0, 12.7)
    cap_dress_mm: Band = (19.05, 38.1)
    cap_shirt_mm: Band = (0.0, 19.05)
    cap_tailored_mm: Band = (31.75, 50.8)
    cap_knit_mm: Band = (0.0, 12.7)


DEFAULT_LIMITS = Limits()

LIMIT_SOURCES = {
    "seam_warn_mm": _FITTER,
    "seam_stop_mm": _FITTER,
    "dart_legs_warn_mm": _FITTER,
    "dart_legs_stop_mm": _FITTER,
    "notch_warn_mm": _FITTER,
    "notch_stop_mm": _FITTER,
    "notch_reach_mm": "1 in, own choice",
    "waist_darts_mm": f"1/8 in, {_MEMORY}",
    "fold_warn_mm": "own choice: a digitiser's cross-hair is read to about half a millimetre",
    "fold_stop_mm": f"1/16 in, {_MEMORY}: no peak or dip where a seam or fold is crossed",
    "grain_turn_deg": "own arithmetic: 1 degree over 60 cm is 10.5 mm",
    "shoulder_ease_mm": f"back longer by up to 1/2 in, {_MEMORY}",
    "shoulder_safe_mm": f"1/4 in, {_MEMORY}",
    "inseam_ease_mm": f"back shorter by up to 1/2 in, {_MEMORY}",
    "cap_dress_mm": f"3/4 to 1 1/2 in, {_MEMORY}; textbooks 1 to 1 1/2 in",
    "cap_shirt_mm": f"0 to 3/4 in, {_MEMORY}",
    "cap_tailored_mm": f"1 1/4 to 2 in, {_MEMORY}",
    "cap_knit_mm": f"0 to 1/2 in, {_MEMORY}",
}
"""Where the figure of each limit comes from, by its name."""


def level_beyond(amount_mm: float, warn_mm: float, stop_mm: float) -> Level | None:
    """Which level an amount deserves: nothing up to ``warn_mm``, a warning up to ``stop_mm``, else a stop."""
    if amount_mm > stop_mm + FLOAT_MM:
        return Level.STOP
    return Level.WARN if amount_mm > warn_mm + FLOAT_MM else None
