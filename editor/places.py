"""Where Dartwise keeps what is its own on this computer; the one door to platformdirs."""

from __future__ import annotations

from pathlib import Path

import platformdirs


def sittings_folder() -> Path:
    """Where the records of sittings are, from which a crash is made good."""
    return Path(platformdirs.user_state_dir("dartwise", appauthor=False)) / "sittings"


def log_file() -> Path:
    """Where the places are noted at which something broke."""
    return Path(platformdirs.user_log_dir("dartwise", appauthor=False)) / "trouble.log"
