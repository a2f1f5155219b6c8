"""The words shown for levels, kinds of findings and steps. No Qt."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Any, Final

from geometry.alterations.anchors import Anchor, On
from geometry.alterations.handbook.registry import entry_of
from geometry.alterations.step import Step
from geometry.findings import Finding, Level
from geometry.units import Unit, format_length

LEVEL_WORDS: Final = {Level.STOP: "Stop", Level.WARN: "Check", Level.NOTE: "Note"}
LEVEL_HELP: Final = {
    Level.STOP: "Do not cut yet: cloth would be wasted.",
    Level.WARN: "Look at it before you cut.",
    Level.NOTE: "Good to know.",
}
LEVEL_COUNTS: Final = {Level.STOP: ("stop", "stops"), Level.WARN: ("check", "checks"), Level.NOTE: ("note", "notes")}

CAUTIONS: Final = (
    "Measure the printed test square before you cut any paper.",
    "Sew a toile before you cut good cloth.",
    "Keep cutting tools away from children.",
    "What the checks say is a starting point: a body is not a chart. For medical or post-operative garments follow"
    " the fitter or clinician in charge.",
)

SEEN_MM: Final = 0.05
"""A change below this is none to a person with a ruler."""

UNIT_WORDS: Final = {Unit.CM: "centimetres", Unit.MM: "millimetres", Unit.INCH: "inches"}
UNIT_SHORT: Final = {Unit.CM: "cm", Unit.MM: "mm", Unit.INCH: "in"}


_MILLIMETRES: Final = re.compile(r"(?<![\w.,])([-−]?\d+(?:\.\d+)?) mm\b")


def counted(count: int, one: str, many: str) -> str:
    """A number with its noun: "1 piece", "2 pieces"."""
    return f"{count} {one if count == 1 else many}"


def listed(names: Iterable[str]) -> str:
    """Names as a sentence has them: "a, b and c"."""
    words = list(names)
    return " and ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


COLUMN_UNITS: Final = {Unit.CM: "cm", Unit.MM: "mm", Unit.INCH: "in, to 1/16"}
"""What stands above a column of lengths without their unit."""


def column_length(length_mm: float, unit: Unit) -> str:
    """A length without its unit and with as many digits as the others of its column."""
    if unit is Unit.INCH:
        return format_length(length_mm, unit).removeprefix("~").removesuffix('"')
    return f"{length_mm / unit.mm:.{2 if unit is Unit.CM else 1}f}"


def column_change(length_mm: float, unit: Unit) -> str:
    """A change for such a column, with its sign."""
    if abs(length_mm) < SEEN_MM:
        return "±0"
    words = column_length(abs(length_mm), unit)
    return f"{'+' if length_mm > 0 else '−'}{words if words != '0' else '< 1/16'}"


def signed_length(length_mm: float, unit: Unit) -> str:
    """A change with its sign, ``"±0"`` where there is none to be seen."""
    if abs(length_mm) < SEEN_MM:
        return "±0"
    words = format_length(abs(length_mm), unit).replace('~0"', '< 1/16"')
    near = "~" if words.startswith("~") else ""
    return f"{near}{'+' if length_mm > 0 else '−'}{words.removeprefix('~')}"


def in_unit(sentence: str, unit: Unit) -> str:
    """A sentence whose lengths are told in millimetres ("6.1 mm") with each of them in the person's unit."""
    if unit is Unit.MM:
        return sentence
    return _MILLIMETRES.sub(lambda found: format_length(float(found[1].replace("−", "-")), unit), sentence)


def findings_summary(findings: Iterable[Finding]) -> str:
    """How much was found: "1 stop, 2 checks, 3 notes", or "Nothing found"."""
    levels = [finding.level for finding in findings]
    counts = [
        counted(levels.count(level), *LEVEL_COUNTS[level])
        for level in (Level.STOP, Level.WARN, Level.NOTE)
        if level in levels
    ]
    return ", ".join(counts) or "Nothing found"


def step_words(step: Step) -> str:
    """A step in words, without its amount: "Slash the front skirt from the waist, hinge at the hem"."""
    words = _STEP_WORDS.get(step.kind)
    if words is not None:
        return words(step)
    return f"{_capital(step.kind.replace('-', ' '))}, {listed(step.piece_names)}"


def amount_word(step: Step) -> str:
    """The word before the amount: "open", "fold out", "add", "take out", "move"."""
    more, less = _AMOUNT_WORDS.get(step.kind, ("by", "by"))
    return less if step.amount_mm < 0 else more


def is_share(step: Step) -> bool:
    """Whether its amount is a share in hundredths and not a length."""
    return step.kind == "dart-transfer"


def is_unsigned(step: Step) -> bool:
    """Whether its words say which way its amount goes, so that the figure needs no sign."""
    return step.kind in _AMOUNT_WORDS


def has_amount(step: Step) -> bool:
    """Whether there is a figure to change."""
    return step.with_amount_mm(step.amount_mm + 1.0) != step


def amount_words(step: Step, unit: Unit) -> str:
    """Its amount as a person reads it after ``amount_word``: "1.2 cm", "100 %"."""
    amount = abs(step.amount_mm) if is_unsigned(step) else step.amount_mm
    words = f"{amount:g} %" if is_share(step) else format_length(amount, unit)
    return words.replace("-", "\N{MINUS SIGN}")


def step_sentence(step: Step, unit: Unit) -> str:
    """A step in one sentence with its amount: "Slash the front skirt ..., hinge at the hem, open 1.2 cm"."""
    amount = f", {amount_word(step)} {amount_words(step, unit)}" if has_amount(step) else ""
    return step_words(step) + amount


def place_words(anchor: Anchor) -> str:
    """Where an anchor is, in words: "the hem", "the tip of the side dart"."""
    match anchor.on:
        case On.EDGE:
            return f"the {anchor.name}"
        case On.TIP:
            return f"the tip of the {anchor.name}"
        case On.AIM:
            return f"the point the {anchor.name} aims at"
        case On.NOTCH:
            return f"the {anchor.name} notch"
        case On.LANDMARK:
            return f"the {anchor.name}"
        case On.FREE:
            return "a point inside"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _grain_words(step: Any) -> str:
    return f"{abs(step.turn_deg):.1f}° off" if abs(step.turn_deg) % 180 > 0.05 else "along"


def _slash_words(step: Any) -> str:
    verb = "Fold out" if step.amount_mm < 0 else "Slash"
    cuts = step.cuts
    if len(cuts) > 1:
        return f"{verb} the {step.piece} along {len(cuts)} cuts"
    start, end = place_words(cuts[0].line[0]), place_words(cuts[0].line[-1])
    if cuts[0].hinge == "none" and start == end:
        return f"{verb} the {step.piece} evenly across at {start}"
    if cuts[0].hinge == "none":
        return f"{verb} the {step.piece} evenly from {start} to {end}"
    hinge, other = (start, end) if cuts[0].hinge == "start" else (end, start)
    return f"{verb} the {step.piece} from {other}, hinge at {hinge}"


def _dart_words(step: Any) -> str:
    return f"Move the {step.dart} of the {step.piece} to {place_words(step.line[0])}"


def _bust_words(step: Any) -> str:
    return f"{'Small' if step.amount_mm < 0 else 'Full'} bust on the {step.piece}"


def _arm_words(step: Any) -> str:
    return f"{'Slim' if step.amount_mm < 0 else 'Full'} upper arm on the {step.piece}"


def _alteration_words(step: Any) -> str:
    entry = entry_of(step.entry)
    how = entry.variant(step.variant)
    return f"{entry.name}{f': {how}' if how else ''}"


def _join_words(step: Any) -> str:
    if step.piece != step.other_piece:
        return f"Draw the {step.edge} of the {step.piece} on into the {step.other_edge} of the {step.other_piece}"
    if step.edge != step.other_edge:
        return f"Draw the {step.edge} of the {step.piece} on into its {step.other_edge}"
    return f"Draw the {step.edge} of the {step.piece} in one smooth line where its ends are sewn together"


def _of_dart(verb: str, opposite: str = "") -> Callable[[Any], str]:
    def words(step: Any) -> str:
        return f"{opposite if opposite and step.amount_mm < 0 else verb} the {step.dart} of the {step.piece}"

    return words


_RELEASED: Final[dict[str, str]] = {"ease": "ease", "gathers": "gathers", "tuck": "a tuck"}
_STEP_WORDS: Final[dict[str, Callable[[Any], str]]] = {
    "slash": _slash_words,
    "dart-transfer": _dart_words,
    "full-bust": _bust_words,
    "upper-arm": _arm_words,
    "make-dart": lambda step: f"Draw a dart into the {step.piece} from {place_words(step.at)}",
    "move-dart": _of_dart("Slide"),
    "widen-dart": _of_dart("Widen", "Narrow"),
    "lengthen-dart": _of_dart("Lengthen", "Shorten"),
    "aim-dart": lambda step: f"Aim the {step.dart} of the {step.piece} at {place_words(step.aim)}",
    "press-dart": _of_dart("Press"),
    "split-dart": _of_dart("Split"),
    "merge-darts": lambda step: f"Merge the {step.dart} of the {step.piece} into the {step.into}",
    "release-dart": lambda step: f"Release the {step.dart} of the {step.piece} into {_RELEASED[step.into]}",
    "make-double-dart": lambda step: f"Draw a dart with two tips into the {step.piece}",
    "move-double-dart": _of_dart("Move"),
    "widen-double-dart": _of_dart("Widen", "Narrow"),
    "straighten-edge": lambda step: f"Straighten the {step.edge} of the {step.piece}",
    "blend-edge": lambda step: f"Blend the {step.edge} of the {step.piece}",
    "square-corner": lambda step: f"Square the {step.edge} of the {step.piece} at its {step.at}",
    "join-corner": _join_words,
    "level-hem": lambda step: f"Level the {step.edge} of the {step.piece}",
    "straighten-centre": lambda step: f"Straighten the {step.edge} of the {step.piece}",
    "move-notch": lambda step: f"Move the {step.notch} notch of the {step.piece}",
    "add-notch": lambda step: f"Notch the {step.piece} at {place_words(step.at)}",
    "remove-notch": lambda step: f"Take the {step.notch} notch off the {step.piece}",
    "share-difference": lambda step: (
        f"Make the {step.edge} of the {step.piece} and the {step.other_edge} of the {step.other_piece} equal"
    ),
    "match-dart": lambda step: (
        f"Bring the {step.dart} of the {step.piece} to the {step.other_dart} of the {step.other_piece}"
    ),
    "match-notch": lambda step: (
        f"Bring the {step.notch} notch of the {step.piece} to its partner on the {step.other_piece}"
    ),
    "set-allowance": lambda step: f"Allowance of the {step.edge} of the {step.piece}",
    "cut-corner": lambda step: f"Allowance of the {step.edge} of the {step.piece}, {step.shape} at its {step.at}",
    "alteration": _alteration_words,
    "place-landmark": lambda step: f"Mark the {step.landmark} on the {step.piece}",
    "draw-grain": lambda step: f"Draw the grain of the {step.piece} {_grain_words(step)} its {step.edge}",
    "set-quantity": lambda step: f"Cut {step.quantity} of the {step.piece}, and say so on it",
    "place-hole": lambda step: f"Put the {step.hole} hole of the {step.piece} into the {step.dart}",
    "follow-edge": lambda step: f"Let the {step.edge} of the {step.piece} follow what it is sewn to",
    "follow-piece": lambda step: f"Cut the {step.piece} like the {step.other_piece}",
    "cut-single": lambda step: f"Cut the {step.piece} single",
    "true-dart": lambda step: f"Draw the legs of the {step.dart} of the {step.piece} equal",
    "redraw": lambda step: f"Redraw the {step.piece}",
}
_AMOUNT_WORDS: Final = {
    "slash": ("open", "fold out"),
    "dart-transfer": ("move", "move"),
    "full-bust": ("add", "take out"),
    "upper-arm": ("add", "take out"),
    "make-dart": ("take in", "take in"),
    "widen-dart": ("by", "by"),
    "lengthen-dart": ("by", "by"),
    "aim-dart": ("stop short by", "stop short by"),
    "split-dart": ("apart by", "apart by"),
    "release-dart": ("over", "over"),
    "make-double-dart": ("take in", "take in"),
    "widen-double-dart": ("by", "by"),
    "blend-edge": ("reach", "reach"),
    "square-corner": ("for", "for"),
    "join-corner": ("reach", "reach"),
    "level-hem": ("difference", "difference"),
    "share-difference": ("difference", "difference"),
    "match-dart": ("beyond by", "short by"),
    "match-notch": ("beyond by", "short by"),
    "set-allowance": ("make it", "make it"),
    "follow-edge": ("longer by", "shorter by"),
    "place-hole": ("inside its tip by", "inside its tip by"),
}
