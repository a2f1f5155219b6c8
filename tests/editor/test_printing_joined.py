"""Every sheet of the demo's dress, rendered at 200 dpi and put together by its marks, shows the pieces where they are.

0.15 mm is what a pixel and a half of such a picture is; a pencil line is twice as wide.
"""

from __future__ import annotations

import math
from functools import cache
from itertools import product
from pathlib import Path

import numpy as np
import pytest

import samples
from editor.formats.import_pattern import import_pattern
from editor.printing.choosing import Subject, pictures_of
from editor.printing.correction import NO_CORRECTION, Correction
from editor.printing.job import PrintJob
from editor.printing.paper import PAPERS
from editor.printing.pdf import write_pdf
from editor.printing.picture import PiecePicture, box_round
from editor.printing.planning import plan
from tests.editor.joined_pages import line_at, sheets_by_their_marks, stations
from tests.editor.pdf_reading import page_picture
from tests.editor.printed_pieces import TICKET

DPI = 200.0
MOST_OFF_MM = 0.15
OFF = Correction(98.4, 101.2)


@cache
def dress() -> tuple[PiecePicture, ...]:
    nest = import_pattern(Path(samples.__file__).parent / "dress.dxf").nest
    return pictures_of(Subject(nest.sample, TICKET))


@pytest.mark.slow
@pytest.mark.parametrize("correction", [NO_CORRECTION, OFF], ids=["as it is", "corrected"])
@pytest.mark.parametrize(("paper", "overlap_mm"), list(product(("a4", "letter"), (0.0, 10.0))))
def test_joined_sheets_show_every_outline_where_it_is(
    tmp_path: Path, paper: str, overlap_mm: float, correction: Correction
) -> None:
    made = plan(dress(), PrintJob(PAPERS[paper], overlap_mm=overlap_mm, correction=correction))
    path, usable = tmp_path / "dress.pdf", made.page.usable
    write_pdf(made, path)
    corners = sheets_by_their_marks(made, path)
    places, normals = zip(*(each for piece in made.pieces for each in stations(piece, every_mm=5.0)), strict=True)
    offsets, tried = [], 0
    for page in made.pages[1:]:
        picture = page_picture(path, page.number - 1, DPI, made.page.printed)
        on_sheet = np.array(places) - corners[page.tile]
        for index in np.flatnonzero(
            ((on_sheet > 2.0) & (on_sheet < [usable.width_mm - 2.0, usable.height_mm - 2.0])).all(1)
        ):
            x, y = on_sheet[index]
            tried += 1
            offset = line_at(picture, (x + usable.x0, y + usable.y0), normals[index])
            if not math.isnan(offset):
                offsets.append(offset)
    assert set(corners) == set(made.tiles)
    areas = [made.grid.area(tile) for tile in corners]
    drift = np.array(list(corners.values())) - [(area.x0, area.y0) for area in areas]
    box = box_round([area.ring for area in areas])
    assert max(box.width_mm, box.height_mm) > 900.0  # about a metre of joined sheets
    assert np.abs(drift).max() <= 0.1
    assert tried > 1200
    assert len(offsets) > 0.7 * tried
    assert np.abs(offsets).max() <= MOST_OFF_MM
