"""What a piece is called and how often it is cut: names, quantities, left and right."""

from __future__ import annotations

import re
from collections.abc import Iterator

from geometry.checks.subject import Check, Subject, doubled, doubled_ids
from geometry.checks.wording import mm
from geometry.findings import Finding, Level
from geometry.model.edge import EdgeRole
from geometry.model.garment import Part, hand_in, part_of
from geometry.model.piece import Piece
from geometry.tolerance import FLOAT_MM

_CUT = re.compile(r"\bcut\s+(\d+|one|two)\b", re.IGNORECASE)
_FOLD = re.compile(r"\bfold\b", re.IGNORECASE)
_NUMBERS = {"one": 1, "two": 2}
_OTHER_HAND = {"left": "right", "right": "left"}


def name_missing(subject: Subject) -> Iterator[Finding]:
    """Pieces without a name."""
    for number, piece in enumerate(subject.pattern.pieces, start=1):
        if not piece.name.strip():
            text = (
                f"Piece {number} of the pattern has no name; give it one (front bodice, sleeve ...), or it cannot be "
                "told from the others once it is cut."
            )
            yield Finding("name-missing", Level.WARN, text, piece.name, about=(str(number),))


def name_twice(subject: Subject) -> Iterator[Finding]:
    """Pieces, and parts of one piece, that share a name."""
    for name in doubled(piece.name for piece in subject.pattern.pieces):
        text = (
            f'Two pieces are called "{name}"; only the first was checked, and steps reach no other. Give one of them '
            "another name."
        )
        yield Finding("name-twice", Level.STOP, text, name)
    for piece in subject.pattern.pieces:
        for what, name in doubled_ids(piece):
            text = (
                f'Two {what}{"es" if what == "notch" else "s"} of "{piece.name}" are called "{name}", so steps cannot '
                "tell them apart, and the piece was not checked further; give one another name."
            )
            yield Finding("name-twice", Level.STOP, text, piece.name, about=(what, name))


def cut_words(subject: Subject) -> Iterator[Finding]:
    """Pieces whose words to the cutter contradict their quantity or fold; the place is the words."""
    for piece in subject.pieces:
        for label in piece.labels:
            cut = _CUT.search(label.text)
            if cut is None:
                continue
            count = _NUMBERS.get(cut[1].lower()) or int(cut[1])
            wanted = "on the fold" if piece.fold else "single"
            is_fold_wrong = bool(_FOLD.search(label.text)) is not (piece.fold is not None)
            if count != piece.quantity or is_fold_wrong:
                text = (
                    f'"{piece.name}" says "{label.text}", but it is to be cut {_times(piece.quantity)}, {wanted}; put '
                    "the words right, or the number and the fold."
                )
                yield Finding("cut-words", Level.WARN, text, piece.name, label.at)


def cut_once(subject: Subject) -> Iterator[Finding]:
    """Half pieces, sleeves and legs of which only one is to be cut."""
    for piece in subject.pieces:
        has_hand = hand_in(piece.name) or any(hand_in(edge.id) for edge in piece.edges)
        if piece.quantity >= 2 or piece.fold is not None or has_hand:
            continue
        says = any(_CUT.search(label.text) for label in piece.labels)
        is_half = any(edge.role in (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK) for edge in piece.edges)
        if (is_half or part_of(piece) in (Part.SLEEVE, Part.TROUSERS)) and not says:
            text = (
                f'"{piece.name}" is half of a pair, not on the fold, and to be cut {_times(piece.quantity)}; cut two, '
                "one of them turned over, or call it left or right."
            )
            yield Finding("cut-once", Level.WARN, text, piece.name)


def hand_missing(subject: Subject) -> Iterator[Finding]:
    """Left pieces without a right one, and the other way round."""
    names = {piece.name.lower() for piece in subject.pattern.pieces}
    for piece in subject.pieces:
        hand = hand_in(piece.name)
        if hand and piece.name.lower().replace(hand, _OTHER_HAND[hand]) not in names and piece.quantity < 2:
            text = (
                f'There is a "{piece.name}" but no {_OTHER_HAND[hand]} one; draw its partner, or call it by a name '
                "without a hand and cut two."
            )
            yield Finding("hand-missing", Level.WARN, text, piece.name)


def hands_differ(subject: Subject) -> Iterator[Finding]:
    """Left and right pieces, or halves of one piece, that are not alike; about the edges that differ most."""
    for piece in subject.pieces:
        other = _right_of(subject, piece)
        if other is None:
            continue
        worst = max(_differences(piece, other), default=None)
        if worst is not None and worst[0] > subject.limits.hands_mm + FLOAT_MM:
            _, left_mm, right_mm, edge = worst
            text = (
                f'The {edge} measures {mm(left_mm)} on the left and {mm(right_mm)} on the right of "{piece.name}" and '
                f'"{other.name}"; if the body is so, write left and right on the pieces, face up, before you cut.'
                if other is not piece
                else f'The {edge} of "{piece.name}" measures {mm(left_mm)} on the left and {mm(right_mm)} on the '
                "right; if the body is so, write left and right on the piece, face up, before you cut."
            )
            yield Finding("hands-differ", Level.NOTE, text, piece.name, None, left_mm, right_mm, (edge,))


def _times(count: int) -> str:
    return {1: "once", 2: "twice"}.get(count, f"{count} times")


def _right_of(subject: Subject, piece: Piece) -> Piece | None:
    """The right partner of a left piece; an opened piece is its own."""
    if hand_in(piece.name) == "left":
        name = piece.name.lower().replace("left", "right")
        return next((other for other in subject.pieces if other.name.lower() == name), None)
    return piece if any(hand_in(edge.id) == "left" for edge in piece.edges) else None


def _differences(left: Piece, right: Piece) -> Iterator[tuple[float, float, float, str]]:
    """How much each edge of the left differs from that of the right, both lengths, and what it is called."""
    known = {edge.id: edge for edge in right.edges}
    for edge in left.edges:
        name = edge.id if left is not right else edge.id.replace("left", "right", 1)
        if name not in known or (left is right and name == edge.id):
            continue
        lengths = left.sewn_length_mm(edge.id), right.sewn_length_mm(name)
        yield abs(lengths[0] - lengths[1]), *lengths, edge.id.replace("left ", "", 1)


CHECKS = (
    Check("name-missing", "Every piece has a name", name_missing, rule="common practice, no source"),
    Check("name-twice", "No name is used twice", name_twice, rule="closed-form"),
    Check("cut-words", "The words on a piece agree with how it is cut", cut_words, rule="closed-form"),
    Check("cut-once", "Halves of pairs are cut twice", cut_once, rule="common practice, no source"),
    Check("hand-missing", "Every left piece has a right one", hand_missing, rule="common practice, no source"),
    Check("hands-differ", "Left and right are alike, or told apart", hands_differ, ("hands_mm",)),
)
