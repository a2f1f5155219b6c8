"""What is picked out on the table and in the panels."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Selection:
    """A piece, at most one thing on it, or a record of the journal; "" where nothing is.

    Attributes:
        piece: Name of the piece.
        edge: Id of one of its edges.
        record: Id of a record.
        dart: Id of one of its darts, one with two tips included.
        notch: Id of one of its notches.
        seam: Id of a seam.
    """

    piece: str = ""
    edge: str = ""
    record: str = ""
    dart: str = ""
    notch: str = ""
    seam: str = ""


NOTHING_PICKED: Final = Selection()
