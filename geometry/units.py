"""Lengths as people write them: "5/8", '1 1/2"', "12.7mm", "1,5 cm"; millimetres inside."""

from __future__ import annotations

import re
from enum import StrEnum
from fractions import Fraction

from geometry.errors import PatternError

MM_PER_INCH = 25.4
"""Exact by the international yard and pound agreement of 1959."""

_LARGEST_MM = 100_000.0
"""A length typed by hand above 100 m is a slip of the key, not a garment."""


class Unit(StrEnum):
    """A unit of length that people use for patterns."""

    MM = "mm"
    CM = "cm"
    INCH = "in"

    @property
    def mm(self) -> float:
        """How many millimetres one of it is."""
        return {"mm": 1.0, "cm": 10.0, "in": MM_PER_INCH}[self.value]


_UNIT_WORDS = {
    "mm": Unit.MM, "millimetre": Unit.MM, "millimetres": Unit.MM, "millimeter": Unit.MM, "millimeters": Unit.MM,
    "cm": Unit.CM, "centimetre": Unit.CM, "centimetres": Unit.CM, "centimeter": Unit.CM, "centimeters": Unit.CM,
    "in": Unit.INCH, "inch": Unit.INCH, "inches": Unit.INCH, '"': Unit.INCH, "″": Unit.INCH,
    "”": Unit.INCH, "''": Unit.INCH,
}  # fmt: skip

_VULGAR = {
    "½": " 1/2",
    "¼": " 1/4",
    "¾": " 3/4",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
    "⅓": " 1/3",
    "⅔": " 2/3",
}

_NUMBER = re.compile(
    r"""^(?P<sign>[-+−–]?)\s*
        (?:(?P<decimal>\d*[.,]\d+|\d+[.,]?)(?:(?:\s+|-|\s+-\s*)(?P<over>\d+)\s*[/⁄]\s*(?P<under>\d+))?
          |(?P<top>\d+)\s*[/⁄]\s*(?P<bottom>\d+))
        \s*(?P<unit>[^\d\s.,/]*)\.?$""",
    re.VERBOSE,
)

_LONGEST_TEXT = 60
"""Letters of the longest length that anybody types; digits without end would overflow."""


def parse_length_mm(text: str, *, default: Unit) -> float:
    """The length in millimetres that a person typed.

    Fractions and a decimal point or comma are both read; without a unit, a fraction means inches and a plain
    number means ``default``.

    Raises:
        PatternError: the text is not a length; the sentence quotes it and shows what can be typed.
    """
    if len(text) > _LONGEST_TEXT:
        raise _not_a_length(f"{text[:_LONGEST_TEXT]}…")
    plain = text.strip().lower()
    for mark, words in _VULGAR.items():
        plain = plain.replace(mark, words)
    match = _NUMBER.match(plain.strip())
    if match is None:
        raise _not_a_length(text)
    word = match["unit"]
    if word and word not in _UNIT_WORDS:
        raise _not_a_length(text)
    amount, has_fraction = _amount(match, text)
    unit = _UNIT_WORDS[word] if word else (Unit.INCH if has_fraction else default)
    length_mm = float(amount * Fraction(str(unit.mm)))
    if abs(length_mm) > _LARGEST_MM:
        raise PatternError(
            f'"{text.strip()}" is more than 100 m; type the length of a piece or a change.', code="bad-length"
        )
    return -length_mm if match["sign"] in ("-", "−", "–") else length_mm


def _amount(match: re.Match[str], text: str) -> tuple[Fraction, bool]:
    over, under = match["over"] or match["top"], match["under"] or match["bottom"]
    whole = Fraction(match["decimal"].replace(",", ".").rstrip(".") or "0") if match["decimal"] else Fraction(0)
    if over is None:
        return whole, False
    if int(under) == 0 or whole.denominator != 1:
        raise _not_a_length(text)
    return whole + Fraction(int(over), int(under)), True


def _not_a_length(text: str) -> PatternError:
    return PatternError(
        f'"{text.strip()}" is not a length; type for example 5/8, 1 1/2", 12.7mm or 1,5 cm.', code="bad-length"
    )


def format_length(length_mm: float, unit: Unit, *, inch_parts: int = 16) -> str:
    """A length for people: ``"12.7 mm"``, ``"1.27 cm"``, ``'1/2"'``.

    Inches are rounded to the nearest 1/``inch_parts`` and written as a reduced fraction; a length that is no
    multiple of it within 0.05 mm is marked with ``~``.
    """
    if unit is Unit.MM:
        return f"{_trim(length_mm, 1)} mm"
    if unit is Unit.CM:
        return f"{_trim(length_mm / 10, 2)} cm"
    parts = round(length_mm / MM_PER_INCH * inch_parts)
    near = "" if abs(parts * MM_PER_INCH / inch_parts - length_mm) <= 0.05 else "~"
    sign = "-" if parts < 0 else ""
    whole, rest = divmod(abs(parts), inch_parts)
    fraction = Fraction(rest, inch_parts)
    words = [str(whole)] if whole or not rest else []
    if rest:
        words.append(f"{fraction.numerator}/{fraction.denominator}")
    return f'{near}{sign}{" ".join(words)}"'


def _trim(number: float, digits: int) -> str:
    text = f"{number:.{digits}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
