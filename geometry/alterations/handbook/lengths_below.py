"""Lengths below the waist and of the sleeve (A04 to A08)."""

from __future__ import annotations

from geometry.units import MM_PER_INCH

_SMALL_HIP_MM, _LARGE_HIP_MM = 36 * MM_PER_INCH, 38 * MM_PER_INCH


def crotch_depth_ease_mm(hip_mm: float) -> float:
    """Ease of the crotch depth for a hip: 1/2 in below 36 in, 1 in above 38 in, 3/4 in between (NMSU Guide C-209)."""
    if hip_mm < _SMALL_HIP_MM:
        return MM_PER_INCH / 2
    return MM_PER_INCH if hip_mm > _LARGE_HIP_MM else 3 * MM_PER_INCH / 4
