"""Sound files made unsound: by tags in a drawing, by values in JSON, by bytes in anything."""

from __future__ import annotations

import copy
import io
import json
import random
import re
import zipfile
from collections.abc import Callable
from typing import Any

Tags = list[tuple[str, str]]

NUMBERS = (
    "0",
    "-0.0",
    "1",
    "-1",
    "1e-320",
    "1e-9",
    "1e6",
    "1000001",
    "1e15",
    "1e154",
    "1e308",
    "-1e308",
    "1e309",
    "nan",
    "inf",
    "-inf",
    "1,5",
    "",
    " ",
    "0x10",
    "1_0",
    "٣",
    "12abc",
    "+5",
    ".",
    "1e",
    "2147483648",
    "-99999",
    "65536",
    "9" * 400,
)
TEXTS = (
    "",
    " ",
    "\x00",
    "Size: ",
    "Piece Name: ",
    "Quantity: 99999999999",
    "Units: ENGLISH",
    "Units: METRIC",
    "%%",
    "\\U+D800",
    "\\U+",
    "\\M+1FFFF",
    "%%d%%",
    "a" * 5000,
    "\u202e",
    "é",
    "side",
    "armhole",
    "fold",
    "*U1",
    "../../x",
    "<svg>",
    "{",
    "}",
)
KINDS = (
    "LINE",
    "POINT",
    "TEXT",
    "POLYLINE",
    "VERTEX",
    "SEQEND",
    "INSERT",
    "BLOCK",
    "ENDBLK",
    "SECTION",
    "ENDSEC",
    "EOF",
    "ARC",
    "CIRCLE",
    "ELLIPSE",
    "SPLINE",
    "LWPOLYLINE",
    "MTEXT",
    "ATTRIB",
    "HATCH",
    "DIMENSION",
    "3DFACE",
    "",
)
CODES = (
    "0",
    "1",
    "2",
    "5",
    "8",
    "10",
    "11",
    "20",
    "21",
    "30",
    "39",
    "40",
    "41",
    "42",
    "43",
    "44",
    "50",
    "51",
    "62",
    "66",
    "67",
    "70",
    "71",
    "72",
    "73",
    "90",
    "100",
    "101",
    "102",
    "210",
    "220",
    "230",
    "999",
    "1000",
    "1071",
    "1072",
    "-1",
    "x",
)
VALUES: tuple[Any, ...] = (
    None,
    True,
    False,
    0,
    -1,
    1,
    1e-320,
    1e15,
    1e154,
    -1e308,
    10**30,
    "",
    "a" * 3000,
    "\u202e",
    "front skirt",
    "hem",
    "end",
    [],
    {},
    [[]],
    [0, 0],
    {"on": "edge", "name": "hem", "share": 0.5},
    {"on": "free", "x": 1e300, "y": 0},
    -0.0,
    0.5,
    2.0,
)


def mutated_drawing(data: bytes, others: tuple[bytes, ...], rng: random.Random) -> bytes:
    """A drawing with one to eight faults in its tags, and now and then in its bytes."""
    tags = _tags(data)
    for _ in range(rng.choice((1, 1, 1, 2, 3, 5, 8))):
        rng.choice(_TAG_FAULTS)(tags, rng)
        if rng.random() < 0.03:
            other = _tags(rng.choice(others))
            start = rng.randrange(len(other))
            tags[rng.randrange(len(tags) + 1) : 0] = other[start : start + rng.choice((3, 30, 300))]
        if not tags:
            break
    text = "\n".join(f"{code}\n{value}" for code, value in tags) + "\n"
    made = text.encode("utf-8", errors="surrogatepass")
    return mutated_bytes(made, rng) if rng.random() < 0.1 else made


def _tags(data: bytes) -> Tags:
    lines = data.decode("utf-8", errors="replace").split("\n")
    return [(code.strip(), value.rstrip("\r")) for code, value in zip(lines[::2], lines[1::2], strict=False)]


def _any(tags: Tags, rng: random.Random) -> int:
    return rng.randrange(len(tags)) if tags else 0


def _other_number(tags: Tags, rng: random.Random) -> None:
    places = [at for at, (code, _) in enumerate(tags) if code.isdigit() and 10 <= int(code) < 80]
    if places:
        at = rng.choice(places)
        tags[at] = (tags[at][0], rng.choice(NUMBERS))


def _scaled_number(tags: Tags, rng: random.Random) -> None:
    places = [at for at, (code, _) in enumerate(tags) if code in ("10", "20", "11", "21")]
    if places:
        at = rng.choice(places)
        try:
            tags[at] = (
                tags[at][0],
                repr(float(tags[at][1]) * rng.choice((0, -1, 1e-6, 1e3, 1e9)) + rng.uniform(-1, 1)),
            )
        except ValueError:
            return


def _same_places(tags: Tags, rng: random.Random) -> None:
    """A run of vertices on top of each other."""
    places = [at for at, (code, _) in enumerate(tags) if code == "10"]
    if places:
        first = rng.randrange(len(places))
        for at in places[first : first + rng.choice((2, 5, 50))]:
            tags[at] = tags[places[first]]


def _other_text(tags: Tags, rng: random.Random) -> None:
    places = [at for at, (code, _) in enumerate(tags) if code in ("1", "2", "8", "3", "7")]
    if places:
        at = rng.choice(places)
        tags[at] = (tags[at][0], rng.choice((*TEXTS, *map(str, range(1, 15)), tags[rng.choice(places)][1])))


def _other_kind(tags: Tags, rng: random.Random) -> None:
    places = [at for at, (code, _) in enumerate(tags) if code == "0"]
    if places:
        tags[rng.choice(places)] = ("0", rng.choice(KINDS))


def _other_code(tags: Tags, rng: random.Random) -> None:
    if tags:
        at = _any(tags, rng)
        tags[at] = (rng.choice(CODES), tags[at][1])


def _without(tags: Tags, rng: random.Random) -> None:
    at = _any(tags, rng)
    del tags[at : at + rng.choice((1, 1, 1, 2, 5, 20, 200))]


def _twice(tags: Tags, rng: random.Random) -> None:
    at = _any(tags, rng)
    run = tags[at : at + rng.choice((1, 4, 20, 100))]
    tags[at:at] = run * rng.choice((1, 1, 2, 10))


def _moved(tags: Tags, rng: random.Random) -> None:
    at = _any(tags, rng)
    run = tags[at : at + rng.choice((1, 4, 20))]
    del tags[at : at + len(run)]
    to = rng.randrange(len(tags) + 1)
    tags[to:to] = run


def _inserted(tags: Tags, rng: random.Random) -> None:
    """A block placed once more, perhaps in itself, perhaps many times, perhaps bent."""
    names = [value for at, (code, value) in enumerate(tags) if code == "2" and at and tags[at - 1][1] == "BLOCK"]
    names += [value for code, value in tags if code == "2"][:5]
    if names:
        extra = [("0", "INSERT"), ("8", "1"), ("2", rng.choice(names)), ("10", "0"), ("20", "0")]
        extra += [(code, rng.choice(NUMBERS)) for code in rng.sample(["41", "42", "50", "70", "71", "44", "45"], 2)]
        ends = [at for at, (code, value) in enumerate(tags) if code == "0" and value in ("ENDBLK", "ENDSEC")]
        at = rng.choice(ends) if ends else _any(tags, rng)
        tags[at:at] = extra


def _cut_off(tags: Tags, rng: random.Random) -> None:
    del tags[_any(tags, rng) :]


_TAG_FAULTS: tuple[Callable[[Tags, random.Random], None], ...] = (
    _other_number, _other_number, _other_number, _scaled_number, _scaled_number, _same_places, _other_text, _other_text,
    _other_kind, _other_code, _without, _without, _twice, _moved, _inserted, _inserted, _cut_off,
)  # fmt: skip


# -- JSON and containers


def mutated_json(data: bytes, rng: random.Random) -> bytes:
    """JSON with one to five faults in its values."""
    plain = json.loads(data)
    for _ in range(rng.choice((1, 1, 1, 2, 3, 5))):
        plain = _spoilt(plain, rng)
    text = json.dumps(plain)
    if rng.random() < 0.05:
        text = text.replace(rng.choice("0123456789"), rng.choice(("NaN", "1e999", "-", "00", "9" * 50)), 1)
    made = text.encode("utf-8", errors="surrogatepass")
    return mutated_bytes(made, rng) if rng.random() < 0.05 else made


def _spoilt(plain: Any, rng: random.Random) -> Any:
    owners = list(_owners(plain))
    if not owners:
        return copy.deepcopy(rng.choice(VALUES))
    owner = rng.choice(owners)
    key = rng.choice(list(owner) if isinstance(owner, dict) else range(len(owner)))
    fault = rng.randrange(6)
    if fault <= 1:
        owner[key] = copy.deepcopy(rng.choice(VALUES))
    elif fault == 2 and isinstance(owner[key], int | float) and not isinstance(owner[key], bool):
        owner[key] = owner[key] * rng.choice((0, -1, 1e-9, 10, 1e9)) + rng.choice((0, 0.1, -300))
    elif fault == 3:
        del owner[key]
    elif fault == 4 and isinstance(owner, list):
        owner.insert(rng.randrange(len(owner) + 1), owner[key])
    else:
        other = rng.choice(owners)
        found = rng.choice(list(other) if isinstance(other, dict) else range(len(other)))
        owner[key] = copy.deepcopy(other[found])
    return plain


def _owners(plain: Any) -> list[Any]:
    """Every list and dict that holds something."""
    found, level = [], [plain]
    while level:
        each = level.pop()
        if isinstance(each, dict | list) and each:
            found.append(each)
            level.extend(each.values() if isinstance(each, dict) else each)
    return found


def mutated_project(data: bytes, rng: random.Random) -> bytes:
    """A project with a fault in one of its texts, or in the container."""
    if rng.random() < 0.1:
        return mutated_bytes(data, rng)
    with zipfile.ZipFile(io.BytesIO(data)) as opened:
        parts = {name: opened.read(name) for name in opened.namelist()}
    part = rng.choice(("project.json", "project.json", "pattern.json"))
    parts[part] = mutated_json(parts[part], rng)
    if rng.random() < 0.05:
        parts[rng.choice(("x", "../x", "/x", "photos/1.jpg", "a\\b", "project.json/"))] = b"x" * rng.randrange(50)
    if rng.random() < 0.03:
        del parts[rng.choice(list(parts))]
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", rng.choice((zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED))) as made:
        for name, content in parts.items():
            made.writestr(name, content)
    return out.getvalue()


def mutated_text(data: bytes, rng: random.Random) -> bytes:
    """A text with words, numbers and lines changed, lost, twice or elsewhere."""
    lines = data.decode("utf-8", errors="replace").splitlines(keepends=True)
    for _ in range(rng.choice((1, 1, 2, 3, 8))):
        at = rng.randrange(len(lines)) if lines else 0
        fault = rng.randrange(6)
        if not lines or fault == 0:
            lines.insert(at, rng.choice((*TEXTS, *NUMBERS)) + "\n")
        elif fault == 1:
            del lines[at]
        elif fault == 2:
            lines[at:at] = lines[at : at + rng.choice((1, 5))] * rng.choice((1, 20))
        else:
            words = re.split(r"([^\w.+-]+)", lines[at])
            words[rng.randrange(len(words))] = rng.choice((*NUMBERS, *TEXTS, "\t", ";", ",", '"', "\n"))
            lines[at] = "".join(words)
    made = "".join(lines).encode("utf-8", errors="surrogatepass")
    return mutated_bytes(made, rng) if rng.random() < 0.1 else made


def mutated_bytes(data: bytes, rng: random.Random) -> bytes:
    """Any file with a few bytes wrong, lost or twice, or cut short."""
    made = bytearray(data)
    for _ in range(rng.choice((1, 1, 2, 5, 20))):
        if not made:
            break
        at = rng.randrange(len(made))
        fault = rng.randrange(4)
        if fault == 0:
            made[at] = rng.randrange(256)
        elif fault == 1:
            del made[at : at + rng.choice((1, 10, 500))]
        elif fault == 2:
            made[at:at] = made[at : at + rng.choice((1, 10, 500))]
        else:
            made[at] ^= 1 << rng.randrange(8)
    return bytes(made[: rng.randrange(len(made) + 1)]) if rng.random() < 0.1 else bytes(made)
