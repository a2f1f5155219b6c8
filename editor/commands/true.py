"""Trueing chosen from a menu: small forms about edges, corners, hems and darts."""

from __future__ import annotations

from collections.abc import Callable

from editor.commands.registry import Command, Desk, Menu, when_open


def _form(kind: str) -> Callable[[Desk], None]:
    return lambda desk: desk.show_form(kind)


def _allowances(desk: Desk) -> None:
    from editor.dialogs.allowances import AllowancesDialog

    desk.show_dialog(AllowancesDialog(desk.session))


TRUE = Menu(
    "&Trueing",
    (
        Command(
            "straighten", "&Straighten an edge…", "Draw an edge straight from end to end", _form("straighten"),
            enabled=when_open,
        ),
        Command(
            "blend-edge", "&Blend an edge…", "Smooth an edge round a place, darts folded", _form("blend-edge"),
            enabled=when_open,
        ),
        Command(
            "square-corner", "S&quare corner…", "Let an edge leave the fold or centre line squarely",
            _form("square-corner"), enabled=when_open,
        ),
        Command(
            "join-corner", "Line &across a seam…", "Draw an edge on in one smooth line over a seam",
            _form("join-corner"), enabled=when_open,
        ),
        Command(
            "level-hem", "Level a &hem…", "Bring a hem to where its seam is right", _form("level-hem"),
            enabled=when_open,
        ),
        None,
        Command(
            "split-dart", "Split a &dart…", "Make two darts of one", _form("split-dart"), enabled=when_open,
        ),
        Command(
            "release-dart", "&Let a dart out…", "Into ease, gathers or a tuck", _form("release-dart"),
            enabled=when_open,
        ),
        None,
        Command(
            "allowances", "Allo&wances…", "Give the whole pattern its allowances, hems apart", _allowances,
            enabled=when_open,
        ),
    ),
)  # fmt: skip
