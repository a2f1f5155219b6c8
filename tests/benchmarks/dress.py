"""The demo's dress, its two wearers and their journals, as the benchmarks use them."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from editor.document.journal import read_journal
from editor.document.project import Base, Project, Round, Wearer
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.replay import Record
from geometry.model.pattern import Pattern
from geometry.units import Unit
from samples import journals
from samples.draft_dress import draft_nest

PLAIN_STEPS = Path(__file__).parent / "plain_steps.json"


def demo_project() -> Project:
    """The two singers, each with one round."""

    def wearer(name: str, size: str, records: tuple[Record, ...]) -> Wearer:
        return Wearer(name.lower(), name, size, (Round("1", "toile 1", "2026-05-17", records),))

    odile = wearer("Odile", journals.ODILE_SIZE, journals.odile())
    maren = wearer("Maren", journals.MAREN_SIZE, journals.maren())
    return Project(Base("dress.dxf", b"", Unit.MM, draft_nest()), (maren, odile))


def twelve_pieces() -> Pattern:
    """The sample dress with its pieces repeated under other names, as linings and facings would be."""
    pattern = draft_nest().pattern(journals.ODILE_SIZE)
    more = tuple(replace(piece, name=f"{piece.name} {number}") for number in (2, 3) for piece in pattern.pieces)
    return replace(pattern, pieces=(*pattern.pieces, *more)[:12])


def fresh(pattern: Pattern) -> Pattern:
    """An equal pattern that no cache knows."""
    return replace(pattern, pieces=tuple(replace(piece) for piece in pattern.pieces))


def ten_steps() -> tuple[Record, ...]:
    """Five plain steps twice over: a full bust, a full upper arm and three slashes."""
    records = read_journal(PLAIN_STEPS.read_bytes(), name=PLAIN_STEPS.name)
    return (*records, *(Record(f"{record.id} again", record.step.with_amount_mm(5.0)) for record in records))


def handbook_sets() -> dict[str, tuple[Record, ...]]:
    """A full set of alterations of the handbook for each of the demo's singers: bodice, sleeve and skirt."""
    sets = {
        "Odile": {"D01": 12.7, "A01": 15.0, "I01": 20.0, "C01": 6.0, "A04": 30.0, "H01": 8.0, "E02": 10.0},
        "Maren": {"A01": -20.0, "C02": 5.0, "A04": -40.0, "A06": -20.0, "D02": 6.0, "B09": 5.0, "G01": -4.0},
    }
    return {
        name: tuple(Record(code, Alteration(code, by_mm)) for code, by_mm in steps.items())
        for name, steps in sets.items()
    }
