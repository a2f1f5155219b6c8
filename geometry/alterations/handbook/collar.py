"""Collars (B06, B07)."""

from __future__ import annotations

from geometry.alterations.anchors import on_edge
from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.cuts import cut, spread
from geometry.alterations.handbook.entry import HALF_COLLAR, WHOLE, Amount, Caution, Entry, Region, Variant, kept
from geometry.alterations.handbook.panels import Panel, PieceRole
from geometry.alterations.slash import Hinge, Slash
from geometry.model.edge import EdgeRole

_BESIDE_CENTRE_MM = 10.0
"""A half collar is cut this far from its centre back: near enough to leave its shape alone, own choice."""

_HINGE_REACH_MM = 8.0
"""A blend over a hinge cuts its corner: a short one leaves the neck edge its length; own choice."""


def is_half(panel: Panel) -> bool:
    """Whether a collar is drawn as half of it, from the centre back."""
    return panel.piece.fold is not None or panel.has(EdgeRole.CENTRE_BACK)


def lengthen_collar(bench: Bench, panel: Panel, change_mm: float) -> None:
    """Spread a collar at the centre back by a change of the whole neck seam; a half collar by half of it."""
    neck = panel.edge(EdgeRole.NECK)
    if is_half(panel):
        share, by_mm = _from_centre(panel, _BESIDE_CENTRE_MM / neck.length_mm), change_mm / 2
    else:
        share, by_mm = 0.5, change_mm
    if by_mm == 0.0:
        return
    start = bench.place(panel, "cut at neck edge", on_edge(neck.id, share))
    end = bench.place(panel, "cut at outer edge", panel.across(EdgeRole.NECK, share))
    still = on_edge(neck.id, 1.0 if share < 1 / 2 else 0.0)
    bench.do(spread(panel, start, end, by_mm, still=still))


def _from_centre(panel: Panel, share: float) -> float:
    """A share of the neck edge counted from the centre back, as a share in ring order."""
    ring = panel.piece.edges
    before = ring[ring.index(panel.edge(EdgeRole.NECK)) - 1]
    centre_is_before = before.id == panel.piece.fold or before.role is EdgeRole.CENTRE_BACK
    return share if centre_is_before else 1.0 - share


def _length(bench: Bench) -> None:
    for panel in bench.needed(PieceRole.COLLAR):
        lengthen_collar(bench, panel, bench.amount_mm)


def _outer_edge(bench: Bench) -> None:
    for panel in bench.needed(PieceRole.COLLAR):
        count = int(bench.variant.split()[0]) * (1 if is_half(panel) else 2)
        by_mm = bench.amount_mm / count * (1.0 if is_half(panel) else 2.0)
        shares = [number / (count + 1) for number in range(1, count + 1)]
        neck = panel.edge(EdgeRole.NECK)
        hinges = [bench.place(panel, f"hinge {n}", on_edge(neck.id, share)) for n, share in enumerate(shares, start=1)]
        outer = [panel.across(EdgeRole.NECK, share) for share in shares]
        opened = [bench.place(panel, f"cut {n}", place) for n, place in enumerate(outer, start=1)]
        # The centre back stays with the grain, so that both halves of a whole collar come out alike.
        still = on_edge(neck.id, _from_centre(panel, 0.0) if is_half(panel) else 0.5)
        cuts = (cut(panel, (a, b), by_mm, Hinge.END, still=still) for a, b in zip(opened, hinges, strict=True))
        bench.do(Slash(panel.name, tuple(cuts), reach_mm=_HINGE_REACH_MM))


ENTRIES = (
    Entry(
        "B06",
        "Collar or neckband length",
        Region.NECK,
        symptom="The neck seam was altered, or the collar does not meet at the centre front.",
        does="The collar is cut through at the centre back and spread, or lapped, by the change of the neck seam. So "
        "both ends, and the shape that is seen from the front, stay as they were drawn.",
        inverse="Lays a pleat at the centre back to shorten the collar.",
        needs=("neck edge of the collar",),
        touches=(PieceRole.COLLAR,),
        keeps=(),
        check_after=("Walk the collar along the neck seam.", "Move the shoulder notches to the shoulder seams."),
        source="The New Dressmaker (1921), p. 26",
        amount=Amount("change of the whole neck seam; a half collar gets half of it", WHOLE, 10.0, -60.0, 80.0),
        plan=_length,
    ),
    Entry(
        "B07",
        "Collar outer edge",
        Region.NECK,
        symptom="The collar's outer edge rolls up because it is too short, or stands off because it is too long.",
        does="Cuts from the outer edge to the neck edge, which stays joined, open or lap by equal parts. The outer "
        "edge changes, the neck edge keeps its length and still fits the neck seam.",
        inverse="Laps the outer edge of a collar that stands off.",
        needs=("neck edge of the collar",),
        touches=(PieceRole.COLLAR,),
        keeps=kept((PieceRole.COLLAR,), EdgeRole.NECK),
        check_after=("See that the outer edge is an even curve.", "Change the under collar as well."),
        source="USDA Home Economics Research Report 32 lists it; details: common practice, from memory",
        amount=Amount(
            "change of the outer edge on each half",
            HALF_COLLAR,
            10.0,
            -40.0,
            60.0,
            (Caution(40.0, "So much turns a collar into a ruffle: see on the toile how it lies."),),
        ),
        plan=_outer_edge,
        variants=(
            Variant("3 cuts", "three cuts on each half"),
            Variant("2 cuts", "two cuts on each half"),
            Variant("4 cuts", "four cuts on each half"),
        ),
    ),
)
