"""The colours of the table, as plain data: paper and chalk by day, and by lamp light."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours as "#rrggbb" or "#aarrggbb".

    Attributes:
        table: The table itself.
        ruling: Its lines, ten centimetres apart.
        fine_ruling: The lines between, one centimetre apart.
        shadow: Under a sheet; laid on a few times, so nearly clear.
        paper: A sheet.
        cutting: The cutting line.
        stitching: The stitching line.
        ink: Dart legs, notches, grain, inner lines.
        wedge: What a dart folds away.
        text: Names.
        faint_text: Sizes, quantities, hints.
        chalk: A slash line.
        opened: Paper that a slash brings in.
        folded: Paper that is folded away.
        before: The outline as it was.
        mark: Selection, focus, what the pointer catches, the tape.
        seams: Chalks of seams, one after the other; their lines differ in their dashes too.
        warning: What is refused or does not fit.
        card: Behind words beside the pointer.
        card_edge: Round them.
    """

    table: str
    ruling: str
    fine_ruling: str
    shadow: str
    paper: str
    cutting: str
    stitching: str
    ink: str
    wedge: str
    text: str
    faint_text: str
    chalk: str
    opened: str
    folded: str
    before: str
    mark: str
    seams: tuple[str, ...]
    warning: str
    card: str
    card_edge: str


DAYLIGHT = Palette(
    table="#d3c6b1",
    ruling="#c4b59d",
    fine_ruling="#cbbda7",
    shadow="#224a3520",
    paper="#fcf8ef",
    cutting="#453a30",
    stitching="#9a8672",
    ink="#6b5c4e",
    wedge="#f0e6d3",
    text="#33291f",
    faint_text="#7b6b5a",
    chalk="#bf3f2b",
    opened="#48e58a5c",
    folded="#50a98bb5",
    before="#646c8c",
    mark="#2f5d73",
    seams=("#2c7048", "#77429b", "#9c5a00", "#116a80", "#a02f66"),
    warning="#a3341c",
    card="#f6fffdf7",
    card_edge="#b9a98f",
)

LAMPLIGHT = Palette(
    table="#25211d",
    ruling="#38322b",
    fine_ruling="#2c2722",
    shadow="#38000000",
    paper="#403830",
    cutting="#eadfcc",
    stitching="#ad9c86",
    ink="#c4b5a0",
    wedge="#4d443a",
    text="#f7efe1",
    faint_text="#b9aa95",
    chalk="#ff9a7d",
    opened="#40ff9a7d",
    folded="#40b79cd6",
    before="#8f9ab8",
    mark="#9cc5d6",
    seams=("#8fd3a5", "#d3aeea", "#f0bd6a", "#84d1e4", "#f2a0c4"),
    warning="#ff8f70",
    card="#f02a2520",
    card_edge="#6a5d4e",
)
