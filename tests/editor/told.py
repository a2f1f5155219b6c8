"""What the command line says when it is run."""

from collections.abc import Callable

Run = Callable[..., tuple[int, str, str]]
"""Words in; the status, and what was said on the terminal and as trouble."""
