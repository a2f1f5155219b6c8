"""One line round a piece: the cutting line, or the stitching line that is given an allowance."""

from pathlib import Path

import pytest

import samples
from editor.formats.import_pattern import import_pattern
from geometry.allowance import HEM_MM
from geometry.curves.polyline import signed_area_mm2
from geometry.errors import PatternError
from geometry.model.edge import EdgeRole
from geometry.units import Unit

TRACE = Path(samples.__file__).parent / "dress-trace.dxf"


@pytest.fixture(scope="module")
def traced():
    return import_pattern(TRACE, unit=Unit.INCH, add_mm=15.0)


def test_a_traced_stitching_line_is_given_seams_hems_and_no_allowance_on_the_fold(traced):
    for piece in traced.nest.sample.pieces:
        for edge in piece.edges:
            wanted = 0.0 if edge.id == piece.fold else HEM_MM if edge.role is EdgeRole.HEM else 15.0
            assert edge.allowance_mm == wanted, (piece.name, edge.id)


def test_the_stitching_line_itself_is_the_one_that_was_traced(traced):
    bare = import_pattern(TRACE, unit=Unit.INCH)
    areas = [signed_area_mm2(piece.outline) for piece in traced.nest.sample.pieces]
    assert areas == [signed_area_mm2(piece.outline) for piece in bare.nest.sample.pieces]
    assert "allowance-added" in {finding.code for finding in traced.findings}
    assert "no-stitching-line" in {finding.code for finding in bare.findings}


def test_a_line_cannot_be_both_lines():
    with pytest.raises(PatternError, match="not both"):
        import_pattern(TRACE, unit=Unit.INCH, add_mm=15.0, allowance_mm=15.0)
