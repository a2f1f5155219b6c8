"""A project of two wearers on a plain dress, for the window's tests."""

from __future__ import annotations

from dataclasses import replace

from editor.document.project import Base, Project, Round, Wearer
from geometry.alterations.anchors import on_edge
from geometry.alterations.replay import Record
from geometry.alterations.slash import Hinge, Side, Slash, SlashCut
from geometry.model.pattern import Nest, Pattern
from geometry.units import Unit
from tests.geometry.plain_dress import dress

HEM_MM = 25.4


def slash(piece: str = "front skirt", amount_mm: float = HEM_MM) -> Slash:
    """From the hem to the waist beside its dart, hinged at the waist; the side moves."""
    cut = SlashCut((on_edge("hem", 0.5), on_edge("waist", 0.25)), amount_mm, Hinge.END, Side.RIGHT)
    return Slash(piece, (cut,))


def nest() -> Nest:
    plain = dress()
    front = plain.piece("front bodice")
    aimed = tuple(replace(dart, aim=(105.0, 162.5)) for dart in front.darts)
    twelve = plain.with_piece(replace(front, darts=aimed))
    larger = Pattern(tuple(replace(piece, size="14") for piece in twelve.pieces), twelve.seams, "14")
    return Nest("choir dress", (twelve, larger), "12")


def choir() -> Project:
    """Maren without steps, Odile with two."""
    records = (Record("1", slash()), Record("2", slash("back skirt", 12.7), note="The hem swings better."))
    wearers = (
        Wearer("1", "Maren", "12", (Round("1", "toile 1", "2026-05-17"),)),
        Wearer("2", "Odile", "14", (Round("1", "toile 1", "2026-05-24", records),)),
    )
    return Project(Base("dress.dxf", b"", Unit.CM, nest()), wearers)
