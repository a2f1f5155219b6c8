"""The words written on a drawing: what keywords say, what an edge's name means, what things are called by default.

Both directions use it: what ``pattern_to_drawing`` writes, ``recognise`` understands.
"""

import re
from dataclasses import dataclass
from functools import lru_cache

from geometry.model.edge import EdgeRole
from geometry.model.marks import InnerKind, NotchKind

# Keywords of the piece and style texts as ASTM D6673 has them (from memory); compared without regard to case.
PIECE_NAME, SIZE, QUANTITY, MATERIAL = "Piece Name", "Size", "Quantity", "Material"
STYLE_NAME, SAMPLE_SIZE = "Style Name", "Sample Size"
ANNOTATION = "Annotation"
# Keywords of our own, written only where plain words would be read as something else.
EDGE, DART, LINE, LANDMARK, DRILL, NOTCH, PARTNER = (
    "Edge", "Dart", "Line", "Landmark", "Drill hole", "Notch", "Partner",
)  # fmt: skip
PRESSED, AIM, STITCHED = "Pressed", "Aim", "Stitched"
NO_AIM = "none"
NOT_STITCHED = "no"

OF_PIECE = (PIECE_NAME, SIZE, QUANTITY, MATERIAL)
OF_THINGS = (ANNOTATION, EDGE, DART, LINE, LANDMARK, DRILL, NOTCH, PARTNER, PRESSED, AIM, STITCHED)
KEPT_OF_STYLE = (STYLE_NAME, SAMPLE_SIZE, "Units")
OF_STYLE = (
    *KEPT_OF_STYLE, "Creation Date", "Creation Time", "Author", "Grading Rule Table", "Grade Rule Table", "Product",
    "Version", "ANSI/AAMA Version", "ASTM/D13Proposal 1 Version",
)  # fmt: skip
_KEYWORDS = {"".join(word.lower().split()): word for word in (*OF_PIECE, *OF_THINGS, *OF_STYLE, "Category")}
_FIELD = re.compile(r"\s*([^:]{1,40}?)\s*:\s*(.*?)\s*", re.DOTALL)
_RULE = re.compile(r"\s*#\s*\d{1,9}\s*")
_DIAMETER = re.compile(r"[^a-z]*\d[\d\s.,/]*(mm|cm|in|inch|\"|'')?\s*", re.IGNORECASE)
_FOLD = re.compile(r"(place |cut |lies )?(on )?(the )?fold")
_GRAIN = re.compile(r"grain( ?line)?|straight grain")
_CUT = re.compile(r"\bcut\s+(\d{1,4})\b", re.IGNORECASE)

NOTCH_LAYERS = {"4": NotchKind.SLIT, "80": NotchKind.T, "81": NotchKind.CASTLE, "82": NotchKind.CHECK,
                "83": NotchKind.U}  # fmt: skip
INNER_LAYERS = {"8": InnerKind.LINE, "9": InnerKind.STRIPE, "10": InnerKind.PLAID, "11": InnerKind.CUTOUT}


@dataclass(frozen=True, slots=True)
class Field:
    """A text of the form "Keyword: value"; the keyword in its usual spelling."""

    keyword: str
    value: str


def field_of(text: str) -> Field | None:
    """The keyword and value of a text, ``None`` for plain words."""
    match = _FIELD.fullmatch(text)
    if match is None:
        return None
    keyword = _KEYWORDS.get("".join(match[1].lower().split()))
    return Field(keyword, match[2]) if keyword else None


def field_text(keyword: str, value: object) -> str:
    """The text that says a field."""
    return f"{keyword}: {value}"


def is_rule_number(text: str) -> bool:
    """Whether a text is the number of a grade rule ("# 12")."""
    return _RULE.fullmatch(text) is not None


def is_measure(text: str) -> bool:
    """Whether a text is only a length, such as the diameter of a drill hole."""
    return _DIAMETER.fullmatch(text) is not None


def says_fold(text: str) -> bool:
    """Whether a text on an edge says that it lies on the fold."""
    return _FOLD.fullmatch(plain_name(text)) is not None


def says_grain(text: str) -> bool:
    """Whether a text on a line says that it is the grain line."""
    return _GRAIN.fullmatch(plain_name(text)) is not None


def quantity_in_words(text: str) -> int | None:
    """The number in "cut 2"; ``None`` for other words."""
    match = _CUT.search(text)
    return int(match[1]) if match else None


def quantity_of(value: str) -> int:
    """How many to cut: "2" is 2, "1,1" (as drawn, flipped; from memory) is 2; 1 where nothing is readable."""
    return sum(int(number[:4]) for number in re.findall(r"\d+", value)[:2]) or 1


_ROLE_WORDS: tuple[tuple[str, EdgeRole], ...] = (
    (r"cent(re|er) front|cf|front edge|front fold", EdgeRole.CENTRE_FRONT),
    (r"cent(re|er) back|cb|back fold", EdgeRole.CENTRE_BACK),
    (r"arm ?hole|arm ?scye|scye", EdgeRole.ARMHOLE),
    (r"under ?arm|sleeve seam", EdgeRole.UNDERARM),
    (r"in ?seam|inside leg|inner leg", EdgeRole.INSEAM),
    (r"crotch|crutch|rise|fork", EdgeRole.CROTCH),
    (r"neck|neck ?line", EdgeRole.NECK),
    (r"shoulder", EdgeRole.SHOULDER),
    (r"side|side ?seam|out ?seam", EdgeRole.SIDE),
    (r"waist|waist ?line", EdgeRole.WAIST),
    (r"hem|hem ?line", EdgeRole.HEM),
    (r"cap|sleeve ?head|sleeve cap|crown", EdgeRole.CAP),
)
_ROLES = tuple((re.compile(rf"\b(?:{words})\b"), role) for words, role in _ROLE_WORDS)


@lru_cache(maxsize=1024)
def role_of(words: str) -> EdgeRole:
    """What an edge is, from the words of its name; ``OTHER`` where they say nothing."""
    plain = " ".join(re.split(r"[\s_-]+", words.lower()))
    return next((role for pattern, role in _ROLES if pattern.search(plain)), EdgeRole.OTHER)


def plain_name(text: str) -> str:
    """The id a thing gets from plain words at it: lower case, single blanks."""
    return " ".join(text.lower().split())


def is_plain_name(name: str) -> bool:
    """Whether a name, written as plain words at a thing, comes back as its name."""
    if name != plain_name(name) or not name or field_of(name) is not None:
        return False
    return not (is_rule_number(name) or is_measure(name) or says_fold(name) or says_grain(name))


def numbered(kind: str, number: int) -> str:
    """What the n-th thing of a kind is called where the drawing does not name it."""
    return f"{kind} {number}"
