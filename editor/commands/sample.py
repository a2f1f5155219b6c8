"""The choir's dress, to try things on."""

from __future__ import annotations

from editor.commands.registry import Desk


def open_sample(desk: Desk) -> None:
    """Put it on the table as a project of its own that was never saved."""
    desk.before_leaving(lambda: _open(desk))


def _open(desk: Desk) -> None:
    from editor.dialogs.waiting import waiting
    from samples.choir import choir_project

    with waiting():
        desk.session.open_project(choir_project())
    desk.table.fit_all()
