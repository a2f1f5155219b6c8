"""A PDF of some sixty pages against bare reportlab drawing the same paths once and placing them on each page."""

from __future__ import annotations

import io
import tempfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from editor.printing.compose import Ticket, piece_picture
from editor.printing.job import PrintJob
from editor.printing.pdf import write_pdf
from editor.printing.planning import plan
from tests.benchmarks.measuring import Figure, paired_s
from tests.geometry.drawn_pieces import disc

PIECES, VERTICES, RADIUS_MM = 40, 300, 124.0
MM = 72 / 25.4


def figures() -> Iterator[Figure]:
    """Time and size of the file."""
    pieces = [replace(disc(RADIUS_MM, steps=VERTICES // 4), name=f"piece {index + 1}") for index in range(PIECES)]
    sheets = plan([piece_picture(piece, Ticket()) for piece in pieces], PrintJob(title="benchmark"))
    pages = len(sheets.pages)
    outlines = [piece.outline for piece in pieces]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "sheets.pdf")
        ours, bare = paired_s(lambda: write_pdf(sheets, path), lambda: bare_file(outlines, pages))
        yield Figure(f"PDF of {pages} pages", ours, bare, 2.0)
        yield Figure("size of that file", path.stat().st_size / 1e3, None, 300.0, "kB")


def bare_file(outlines: list, pages: int) -> bytes:
    """The floor: the outlines in one form, placed on every page."""
    target = io.BytesIO()
    canvas = Canvas(target, pagesize=(595, 842))
    canvas.beginForm("all")
    for outline in outlines:
        path = canvas.beginPath()
        path.moveTo(*(outline[0] * MM))
        for x, y in outline[1:] * MM:
            path.lineTo(x, y)
        path.close()
        canvas.drawPath(path)
    canvas.endForm()
    for page in range(pages):
        canvas.translate(-page * 10, 0)
        canvas.doForm("all")
        canvas.showPage()
    canvas.save()
    return target.getvalue()
