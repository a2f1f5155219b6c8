"""Every menu in its order."""

from __future__ import annotations

from editor.commands.alter import ALTER
from editor.commands.edit import EDIT
from editor.commands.file import FILE
from editor.commands.fit import FIT
from editor.commands.help import HELP
from editor.commands.registry import Menu
from editor.commands.true import TRUE
from editor.commands.view import VIEW

MENUS: tuple[Menu, ...] = (FILE, EDIT, VIEW, ALTER, TRUE, FIT, HELP)
