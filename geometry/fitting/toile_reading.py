"""Reading a toile: what folds, gapes or rides up, its likely causes in order, and the alteration each leads to."""

from __future__ import annotations

from geometry.fitting.symptoms_above_waist import ABOVE_WAIST
from geometry.fitting.symptoms_below_waist import BELOW_WAIST
from geometry.fitting.toile_signs import Place, Sign, Symptom

SYMPTOMS = ABOVE_WAIST + BELOW_WAIST
"""The guide, in the order of the body."""

GENERAL = (
    "Tight creases across, or a garment that rides up, mean too little width; loose upright folds mean too much.",
    "A slanting fold points at the place it comes from. Take that as a first guess only.",
    "Cloth that does not fit at one level slides to a smaller one: folds at the waist usually come from just above or "
    "below it.",
    "Trust the grain more than folds: crosswise threads level at bust, back and hip, side seams plumb, the grain of a "
    "sleeve along the hanging arm.",
    "Shoulders and neck first, then bust, back, waist, hip and sleeve; lengths before widths.",
    "Change one thing for each toile: changes act on one another.",
)
"""How folds are read: university e-courses on garment fitting; USDA Fitting Dresses, 1946; Washington State E.M. 2246;
sewing pages for the rules of thumb; the order from a sewing reference book and from memory."""


def places() -> tuple[Place, ...]:
    """The places that something is known about, from the top down."""
    known = {symptom.place for symptom in SYMPTOMS}
    return tuple(place for place in Place if place in known)


def signs_at(place: Place) -> tuple[Sign, ...]:
    """What can be seen at a place."""
    known = {symptom.sign for symptom in SYMPTOMS if symptom.place is place}
    return tuple(sign for sign in Sign if sign in known)


def symptoms(place: Place, sign: Sign | None = None) -> tuple[Symptom, ...]:
    """What is known of a place, of one kind of sign or of all."""
    return tuple(each for each in SYMPTOMS if each.place is place and sign in (None, each.sign))


def in_order(found: tuple[Symptom, ...]) -> tuple[Symptom, ...]:
    """Several symptoms in the order in which they are put right: from the top down."""
    order = list(Place)
    return tuple(sorted(found, key=lambda symptom: order.index(symptom.place)))
