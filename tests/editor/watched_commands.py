"""Runs verbs of the command line under Python's audit hooks (PEP 578) and tells what they should not have done.

Arguments: the one folder that may be written in, the file to print to, then the files to open.
"""

from __future__ import annotations

import importlib
import os
import sys
from pathlib import Path
from typing import Any

from editor.cli import main

REACHING_OUT = ("socket", "subprocess", "urllib", "http", "ftplib", "smtplib", "webbrowser", "pty", "ctypes")
STARTING = ("os.system", "os.exec", "os.posix_spawn", "os.spawn", "os.fork", "pickle.find_class")
LOADED_FIRST = (
    "editor.formats.ezdxf_door", "editor.formats.import_pattern", "editor.printing.pdf", "editor.document.project_file",
    "editor.commandline.show_info", "editor.commandline.check_pattern", "editor.commandline.print_sheets",
)  # fmt: skip


def watch(folder: Path) -> list[str]:
    """The list that grows by what is done against the rules from now on."""
    wrong: list[str] = []

    def hook(event: str, arguments: tuple[Any, ...]) -> None:
        if event == "open" and _is_outside(folder, *arguments):
            wrong.append(f"{event} {arguments[0]}")
        elif event.split(".")[0] in REACHING_OUT or event in STARTING:
            wrong.append(f"{event} {str(arguments)[:80]}")

    sys.addaudithook(hook)
    return wrong


def _is_outside(folder: Path, path: Any, mode: str | None, flags: int) -> bool:
    writes = set(mode) & set("wax+") if mode else flags & (os.O_WRONLY | os.O_RDWR)
    if not writes or isinstance(path, int):
        return False
    return folder not in Path(os.path.realpath(os.fsdecode(path))).parents


def run(folder: Path, out: str, names: list[str]) -> int:
    """Open and check each file and print the last; says what was wrong."""
    for module in LOADED_FIRST:
        importlib.import_module(module)
    sys.dont_write_bytecode = True
    wrong = watch(folder)
    for name in names:
        units = ["--units", "mm"] if name.endswith(".dxf") else []
        for verb in ("info", "check"):
            main([verb, name, *units])
    main(["print", name, *units, "--out", out])
    sys.stdout.write("".join(f"WRONG {each}\n" for each in wrong))
    return 0


if __name__ == "__main__":
    raise SystemExit(run(Path(sys.argv[1]).resolve(), sys.argv[2], sys.argv[3:]))
