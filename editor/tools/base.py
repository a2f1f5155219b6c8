"""What a tool is, what it shows and what it asks for. A tool never changes the project: it proposes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Protocol

from editor.canvas.pointer import Key, Pointer
from editor.canvas.scene import Scene
from geometry.affine import Point, Points
from geometry.alterations.step import Step
from geometry.model.pattern import Seam
from geometry.model.piece import Piece


class ChalkKind(StrEnum):
    """How a line of a tool is drawn.

    Sewn and proposed edges are drawn in the style of their seam. A laid piece is paper one can see through. Opened and
    folded areas are filled: paper that comes in, and paper folded away.
    """

    CUT = "cut"
    RIM = "rim"
    LOOSE = "loose"
    GUIDE = "guide"
    TAPE = "tape"
    LAID = "laid"
    INK = "ink"
    SEWN = "sewn"
    PROPOSED = "proposed"
    OPENED = "opened"
    FOLDED = "folded"


@dataclass(frozen=True, slots=True, eq=False)
class Chalk:
    """A line of a tool: a chain on the table, mm; ``style`` tells one seam from another."""

    points: Points
    kind: ChalkKind = ChalkKind.CUT
    style: int = 0


@dataclass(frozen=True, slots=True)
class Tag:
    """A number or a few letters on a place on the table; a firm one is filled."""

    at: Point
    text: str
    style: int = 0
    is_firm: bool = True


class SpotKind(StrEnum):
    """How a point of a tool is drawn."""

    SNAP = "snap"
    VERTEX = "vertex"
    END = "end"
    HINGE = "hinge"
    HANDLE = "handle"
    KNOB = "knob"
    LANDMARK = "landmark"
    TAPE = "tape"


@dataclass(frozen=True, slots=True)
class Spot:
    """A point of a tool on the table, mm; ``towards`` is the direction a handle can be pulled in."""

    at: Point
    kind: SpotKind
    towards: Point = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Readout:
    """A few words beside a place on the table; the first line is the important one."""

    at: Point
    lines: tuple[str, ...]
    refused: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Preview:
    """What a tool shows at the moment.

    Attributes:
        piece: The piece as it would be, drawn instead of the one of the same name, which stays as a thin outline.
        chalk: Lines.
        spots: Points.
        readout: Words beside the pointer or the line.
        hint: One sentence on what can be done next.
        tags: Numbers on places.
    """

    piece: Piece | None = None
    chalk: tuple[Chalk, ...] = ()
    spots: tuple[Spot, ...] = ()
    readout: Readout | None = None
    hint: str = ""
    tags: tuple[Tag, ...] = ()


@dataclass(frozen=True, slots=True)
class Propose:
    """Do this step: it is the very object whose result was shown."""

    step: Step


@dataclass(frozen=True, slots=True)
class ChangeStep:
    """Record this step in the place of a recorded one: it is the very object whose result was shown."""

    record: str
    step: Step


@dataclass(frozen=True, slots=True)
class Adjust:
    """Do this step, or change the last one by as much where that did the same to the same thing."""

    step: Step


@dataclass(frozen=True, slots=True)
class Sew:
    """Say that edges are sewn together.

    Attributes:
        seam: The seam.
        replacing: Id of the seam it takes the place of, "" for none.
    """

    seam: Seam
    replacing: str = ""


@dataclass(frozen=True, slots=True)
class Pick:
    """Pick out a piece, something on it, a record or a seam; nothing, if all are ""."""

    piece: str = ""
    edge: str = ""
    record: str = ""
    dart: str = ""
    notch: str = ""
    seam: str = ""


@dataclass(frozen=True, slots=True)
class Reopen:
    """Take a recorded step in hand again."""

    record: str


@dataclass(frozen=True, slots=True)
class Lay:
    """Lay a sheet somewhere else on the table; the pattern stays as it is."""

    piece: str
    at: Point


@dataclass(frozen=True, slots=True)
class Taken:
    """A key was used; nothing else is asked for."""


Reply = Propose | Adjust | Sew | ChangeStep | Pick | Reopen | Lay | Taken


class Tool(Protocol):
    """A named state and a few transitions; the table owns the gesture.

    Between ``press`` and ``release`` come ``drag`` only; ``cancel`` may come at any time and leaves the tool as if
    nothing had been begun.
    """

    name: ClassVar[str]

    @property
    def is_busy(self) -> bool:
        """Whether something is begun that ``cancel`` would drop."""

    @property
    def holds_change(self) -> bool:
        """Whether ``cancel`` would lose something; a recorded step taken in hand and left as it was does not count."""

    @property
    def letters(self) -> str:
        """The letter keys it listens to now."""

    @property
    def amount_mm(self) -> float | None:
        """The amount that can be typed now, ``None`` if there is none."""

    def preview(self, scene: Scene) -> Preview:
        """What to show."""

    def hover(self, pointer: Pointer, scene: Scene) -> None:
        """The mouse moves with no button held."""

    def press(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """The first button goes down."""

    def drag(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """The mouse moves with it held, further than a twitch."""

    def release(self, pointer: Pointer, scene: Scene) -> Reply | None:
        """It comes up, dragged or not."""

    def key(self, key: Key, scene: Scene) -> Reply | None:
        """A key; ``None`` leaves it to the table."""

    def set_amount(self, amount_mm: float, scene: Scene) -> None:
        """An amount is typed; shown at once, done with Enter."""

    def cancel(self) -> Reply | None:
        """Drop whatever was begun; the reply may put something back."""


class ToolWithoutAmount:
    """What tools have in common in which no amount is typed and whatever is begun would be lost."""

    @property
    def is_busy(self) -> bool:
        """Whether something is begun; nothing is, unless a tool says so."""
        return False

    @property
    def holds_change(self) -> bool:
        """The same."""
        return self.is_busy

    @property
    def amount_mm(self) -> float | None:
        """There is no amount to type."""
        return None

    def set_amount(self, amount_mm: float, scene: Scene) -> None:
        """Nothing takes an amount here."""
