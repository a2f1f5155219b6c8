"""Reading a toile: what folds, gapes or rides up, its likely causes in order, and the alteration each leads to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from geometry.alterations.handbook.panels import role_of
from geometry.alterations.handbook.registry import entry_of
from geometry.fitting.symptoms_above_waist import ABOVE_WAIST
from geometry.fitting.symptoms_below_waist import BELOW_WAIST
from geometry.fitting.toile_signs import Place, Sign, Symptom
from geometry.model.garment import Part, part_of
from geometry.model.pattern import Pattern

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


_SEEN_ON: dict[Place, Part] = {
    **dict.fromkeys(
        (Place.NECK, Place.SHOULDER, Place.ARMHOLE, Place.CHEST, Place.BUST, Place.UPPER_BACK), Part.BODICE
    ),
    **dict.fromkeys((Place.SKIRT_FRONT, Place.HIP, Place.SEAT, Place.HEM), Part.SKIRT),
    **dict.fromkeys((Place.CROTCH, Place.LEG), Part.TROUSERS),
    Place.SLEEVE: Part.SLEEVE,
}
"""The part of a garment that a place is seen on; what shows at the waist shows on every garment."""


def places(pattern: Pattern | None = None) -> tuple[Place, ...]:
    """The places that something is known about, from the top down; with a pattern, those of the pieces it has."""
    known = {symptom.place for symptom in _offered(pattern)}
    return tuple(place for place in Place if place in known)


def signs_at(place: Place) -> tuple[Sign, ...]:
    """What can be seen at a place."""
    known = {symptom.sign for symptom in symptoms(place)}
    return tuple(sign for sign in Sign if sign in known)


def symptoms(place: Place, sign: Sign | None = None, *, pattern: Pattern | None = None) -> tuple[Symptom, ...]:
    """What is known of a place, of one kind of sign or of all; with a pattern, causes that its pieces can have."""
    return tuple(each for each in _offered(pattern) if each.place is place and sign in (None, each.sign))


def _offered(pattern: Pattern | None) -> Iterator[Symptom]:
    """The symptoms that a garment can show, each with the causes whose alteration has a piece there.

    All of them where nothing is known of the pieces.
    """
    if pattern is None or not any(role_of(piece) for piece in pattern.pieces):
        yield from SYMPTOMS
        return
    parts = {None, *(part_of(piece) for piece in pattern.pieces)}
    for symptom in SYMPTOMS:
        causes = tuple(each for each in symptom.causes if entry_of(each.entry).fits(pattern))
        if causes and _SEEN_ON.get(symptom.place) in parts:
            yield replace(symptom, causes=causes)


def in_order(found: tuple[Symptom, ...]) -> tuple[Symptom, ...]:
    """Several symptoms in the order in which they are put right: from the top down."""
    order = list(Place)
    return tuple(sorted(found, key=lambda symptom: order.index(symptom.place)))
