"""Write the sample files beside this script: ``python -m samples.write_samples``.

dress.dxf, trousers.dxf and gored-skirt.dxf are the styles in seven sizes on the numbered layers, faced-dress.dxf is the
dress with neck facings in its sample size, dress-trace.dxf is that size of the dress as a digitiser leaves it,
odile.json and maren.json are the journals of the demo's two singers.
"""

from __future__ import annotations

from pathlib import Path

from editor.atomic_file import write_whole
from editor.document.journal import journal_bytes
from editor.formats.dxf_writer import write_drawing
from editor.formats.pattern_to_drawing import drawing_of
from samples import draft_gored_skirt, draft_trousers
from samples.digitiser import trace_text
from samples.draft_dress import draft_nest
from samples.journals import maren, odile
from samples.neck_facings import faced_nest

FOLDER = Path(__file__).parent
DRESS = "dress.dxf"
TROUSERS = "trousers.dxf"
SKIRT = "gored-skirt.dxf"
FACED = "faced-dress.dxf"
TRACE = "dress-trace.dxf"
JOURNALS = {"odile.json": odile, "maren.json": maren}


def write_samples(folder: Path) -> None:
    """Draft the styles and write all files into a folder."""
    nest = draft_nest()
    styles = {DRESS: nest, TROUSERS: draft_trousers.draft_nest(), SKIRT: draft_gored_skirt.draft_nest()}
    for name, style in styles.items():
        write_drawing(drawing_of(style), folder / name, unit="mm")
    write_drawing(drawing_of(faced_nest().sample), folder / FACED, unit="mm")
    write_whole(folder / TRACE, trace_text(nest.sample).encode("ascii"))
    for name, records in JOURNALS.items():
        write_whole(folder / name, journal_bytes(records()))


if __name__ == "__main__":
    write_samples(FOLDER)
    print(f"Written: {', '.join((DRESS, TROUSERS, SKIRT, FACED, TRACE, *JOURNALS))}")
