"""Edges in a drawing: their names, what they are, their allowances, which one lies on the fold."""

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from editor.formats import piece_texts as texts
from editor.formats.drawing import Shape
from editor.formats.edge_ruler import EdgeRuler, first_hits_mm
from editor.formats.import_report import ImportReport
from editor.formats.recognise_darts import FoundDart
from geometry.affine import Points, as_point, midpoint
from geometry.findings import Level
from geometry.model.edge import Edge
from geometry.tolerance import ON_EDGE_MM

WIDEST_MM = 150.0
"""A cutting line further outside than the deepest hem is not looked for."""

_ROUNDED_TO = 6
"""Digits kept of a measured allowance, so that 15 mm comes back as 15 and not as 15.000000000002."""

AGREE_MM = 0.001
"""Distances this near each other are the same allowance."""

_SAMPLES = 7
_MOUTH_MM = 1.0
_ON_LINE_MM = 2 * ON_EDGE_MM


def edge_ids(count: int, names: Mapping[int, str], piece: str, report: ImportReport) -> tuple[str, ...]:
    """The id of every edge: its name, numbered where two edges share one; "edge n" in ring order without one."""
    ids: list[str] = []
    for index in range(count):
        wanted = names.get(index) or texts.numbered("edge", index + 1)
        name, number = wanted, 1
        while name in ids:
            number += 1
            name = texts.numbered(wanted, number)
        if name != wanted:
            text = f'The piece "{piece}" has more than one edge called "{wanted}"; one is now "{name}".'
            report.note("edge-renamed", text, piece=piece)
        ids.append(name)
    return tuple(ids)


def edges_of(
    ruler: EdgeRuler, ids: Sequence[str], cutting: Points | None, darts: Sequence[FoundDart]
) -> tuple[Edge, ...]:
    """The edges with their roles and with the allowances measured to the cutting line; 0 where there is none."""
    widths = [0.0] * len(ids) if cutting is None else _allowances_mm(ruler, cutting, darts)
    return tuple(
        Edge(name, chain, texts.role_of(name), width)
        for name, chain, width in zip(ids, ruler.chains, widths, strict=True)
    )


def _allowances_mm(ruler: EdgeRuler, cutting: Points, darts: Sequence[FoundDart]) -> list[float]:
    """For each edge the distance outwards to the cutting line that most of a few places on it agree on."""
    at_mm, places, outwards = ruler.sampled(_SAMPLES)
    found = first_hits_mm(places, outwards, cutting, within_mm=WIDEST_MM).reshape(at_mm.shape)
    for dart in darts:  # the cap of a dart is no measure of the allowance
        on_edge = at_mm[dart.edge]
        found[dart.edge, (on_edge > dart.from_mm - _MOUTH_MM) & (on_edge < dart.to_mm + _MOUTH_MM)] = np.nan
    agreeing = np.count_nonzero(np.abs(found[:, :, None] - found[:, None, :]) <= AGREE_MM, axis=2)
    return [_commonest_mm(*rows) for rows in zip(found, agreeing, strict=True)]


def _commonest_mm(found_mm: NDArray[np.float64], agreeing: NDArray[np.intp]) -> float:
    """The distance with most agreement, of several the middle one; 0 where nothing was met."""
    if agreeing.max() == 0:
        return 0.0
    best = np.sort(found_mm[agreeing == agreeing.max()])
    return round(float(best[len(best) // 2]), _ROUNDED_TO)


def fold_of(
    lines: Sequence[Shape], named: Sequence[int], chains: Sequence[Points], piece: str, report: ImportReport
) -> int | None:
    """The edge along which a mirror line runs, or on which a text says so; ``None`` for a whole piece."""
    for line in lines:
        start, end = as_point(line.points[0]), as_point(line.points[-1])
        ux, uy = end[0] - start[0], end[1] - start[1]
        size = float(np.hypot(ux, uy)) or 1.0
        for index, chain in enumerate(chains):
            x, y = (chain - start).T
            off = np.abs(x * uy - y * ux) / size
            middle = midpoint(as_point(chain[0]), as_point(chain[-1]))
            between = 0.0 <= (middle[0] - start[0]) * ux + (middle[1] - start[1]) * uy <= size * size
            if float(off.max()) <= _ON_LINE_MM and between:
                return index
        report.note(
            "mirror-line",
            f'The mirror line of the piece "{piece}" runs along none of its straight edges, so the piece is taken as '
            "whole; check whether it is a half.",
            level=Level.WARN,
            piece=piece,
            where=start,
        )
    return named[0] if named else None
