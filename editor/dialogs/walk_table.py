"""The table of differences of a walked seam as a PDF page, to be laid beside the paper."""

from __future__ import annotations

from html import escape
from pathlib import Path

from PySide6.QtCore import QBuffer, QMarginsF
from PySide6.QtGui import QPageLayout, QPageSize, QPdfWriter, QTextDocument

from editor.atomic_file import write_whole
from editor.session import Session
from editor.text import COLUMN_UNITS, column_change, column_length
from editor.tools.walk import Stand, distance_walked, end_words, mark_words, offset_mm
from geometry.checks.walking import Walk

_DOTS_PER_INCH = 96
_MARGIN_MM = 15.0


def write_walk_table(session: Session, walked: Walk, stand: Stand, path: Path) -> None:
    """Write the page.

    Raises:
        PatternError: the file cannot be written.
    """
    page = QBuffer()
    page.open(QBuffer.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(page)
    writer.setResolution(_DOTS_PER_INCH)
    margins = QMarginsF(_MARGIN_MM, _MARGIN_MM, _MARGIN_MM, _MARGIN_MM)
    writer.setPageLayout(
        QPageLayout(
            QPageSize(QPageSize.PageSizeId.A4), QPageLayout.Orientation.Portrait, margins, QPageLayout.Unit.Millimeter
        )
    )
    writer.setTitle("Walked seam")
    document = QTextDocument()
    document.setHtml(walk_html(session, walked, stand))
    document.print_(writer)
    write_whole(path, bytes(page.data().data()))


def walk_html(session: Session, walked: Walk, stand: Stand) -> str:
    """The page as text with tables."""
    unit, seam = session.unit, walked.seam
    upper, lower = (", ".join(f"{ref.piece} {ref.edge}" for ref in side) for side in (seam.first, seam.second))
    start = end_words(walked)[1 if stand.from_end else 0]
    rows: list[tuple[str, ...]] = [("Mark", "Upper", "Lower", "Off")]
    for meeting in sorted(walked.meetings, key=lambda each: distance_walked(each.stop, stand)):
        sides = [
            column_length(distance_walked(stop, stand), unit) if stop else "none"
            for stop in (meeting.first, meeting.second)
        ]
        off_mm = offset_mm(meeting, stand)
        rows.append((mark_words(meeting.stop), *sides, column_change(off_mm, unit) if off_mm is not None else ""))
    whole = (column_length(walked.first_mm, unit), column_length(walked.second_mm, unit))
    rows.append(("whole seam", *whole, column_change(walked.ease_mm, unit)))
    about = [session.wearer.name if session.wearer else "", session.round.name if session.round else ""]
    cells = "".join(_row(row, head=index == 0) for index, row in enumerate(rows))
    return (
        f"<h2>{escape(upper)}<br>walked with {escape(lower)}</h2>"
        f"<p>{escape(' · '.join(word for word in about if word))}</p>"
        f"<p>Distances along the stitching line from {escape(start)}, darts folded out, {COLUMN_UNITS[unit]}.</p>"
        f'<table cellpadding="5" cellspacing="0" border="0.5" width="100%">{cells}</table>'
    )


def _row(words: tuple[str, ...], *, head: bool) -> str:
    tag = "th" if head else "td"
    name, *figures = (escape(word) for word in words)
    cells = "".join(f'<{tag} align="right">{figure}</{tag}>' for figure in figures)
    return f'<tr><{tag} align="left">{name}</{tag}>{cells}</tr>'
