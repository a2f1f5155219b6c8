"""The waistband that skirt and trousers share."""

from __future__ import annotations

from geometry.affine import frozen_points
from geometry.model.edge import Edge, EdgeRole
from geometry.model.marks import Grain, Label, Notch
from geometry.model.piece import Piece
from samples.size_table import Figures

BAND_MM = 35.0
"""Width of the waistband: own choice."""

SEAM_MM = 15.0
"""The home standard, 5/8 in."""


def waistband(body: Figures, material: str, *, back_mm: float | None = None) -> Piece:
    """Half the band of a size, its centre back on the fold, opening at the centre front.

    ``back_mm`` is how long the waist of the half back is; half of it all where nothing is said.
    """
    length = body.half_waist_mm
    corners = [(0.0, 0.0), (length, 0.0), (length, BAND_MM), (0.0, BAND_MM)]
    roles = (EdgeRole.WAIST, EdgeRole.CENTRE_FRONT, EdgeRole.OTHER, EdgeRole.CENTRE_BACK)
    edges = tuple(
        Edge(
            "upper edge" if role is EdgeRole.OTHER else role.value,
            frozen_points([corners[number], corners[(number + 1) % 4]]),
            role,
            0.0 if role is EdgeRole.CENTRE_BACK else SEAM_MM,
        )
        for number, role in enumerate(roles)
    )
    return Piece(
        "waistband",
        edges,
        size=body.size,
        quantity=2,
        material=material,
        fold=EdgeRole.CENTRE_BACK.value,
        grain=Grain((30.0, BAND_MM / 2), (length - 30.0, BAND_MM / 2)),
        notches=(Notch("side", "waist", length / 2 if back_mm is None else back_mm, partner="side"),),
        labels=(Label("Cut 2 on the fold", (60.0, 12.0)),),
    )
