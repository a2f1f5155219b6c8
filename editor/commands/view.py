"""What is seen, and how."""

from __future__ import annotations

from editor.commands.registry import Command, Desk, Menu, when_open
from geometry.units import Unit


def _turn_notes(desk: Desk) -> None:
    desk.table.notes.is_shown = not desk.table.notes.is_shown
    desk.table.update()


def _change_light(desk: Desk) -> None:
    desk.look.set_dark(not desk.look.is_dark)
    desk.settings.setValue("dark", desk.look.is_dark)


VIEW = Menu(
    "&View",
    (
        Command(
            "fit-all", "&Fit all pieces", "Show every piece, as large as fits", lambda desk: desk.table.fit_all(),
            "Ctrl+0", "fit", enabled=when_open,
        ),
        Command(
            "zoom-in", "Zoom &in", "Show less, larger", lambda desk: desk.table.zoom_by(1.25), "Ctrl++", "zoom-in",
            enabled=when_open,
        ),
        Command(
            "zoom-out", "Zoom &out", "Show more, smaller", lambda desk: desk.table.zoom_by(0.8), "Ctrl+-", "zoom-out",
            enabled=when_open,
        ),
        Command(
            "sizes", "All &sizes", "Lay the outlines of the other sizes, as bought, over the pieces",
            lambda desk: desk.table.show_sizes(not desk.table.shows_sizes), "Ctrl+Shift+A",
            enabled=lambda session: session.project is not None and len(session.project.base.nest.sizes) > 1,
            is_on=lambda desk: desk.table.shows_sizes,
        ),
        Command(
            "note-marks", "Marks of fit no&tes", "Mark on the pieces where the notes of this toile were made",
            _turn_notes, enabled=when_open, is_on=lambda desk: desk.table.notes.is_shown,
        ),
        None,
        Command(
            "centimetres", "Lengths in &centimetres", "Show every length in centimetres",
            lambda desk: desk.session.set_unit(Unit.CM), is_on=lambda desk: desk.session.unit is Unit.CM,
        ),
        Command(
            "millimetres", "Lengths in &millimetres", "Show every length in millimetres",
            lambda desk: desk.session.set_unit(Unit.MM), is_on=lambda desk: desk.session.unit is Unit.MM,
        ),
        Command(
            "inches", "Lengths in i&nches", "Show every length in inches and fractions",
            lambda desk: desk.session.set_unit(Unit.INCH), is_on=lambda desk: desk.session.unit is Unit.INCH,
        ),
        None,
        Command(
            "dark", "&Dark", "Change between light and dark", _change_light,
            "Ctrl+Shift+D", "dark", is_on=lambda desk: desk.look.is_dark,
        ),
    ),
)  # fmt: skip
