"""Where only one line is drawn round a piece: what it is, and the allowance taken off it or added to it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from editor.formats.import_report import ImportReport
from geometry.allowance import HEM_MM, stitching_from_cutting, with_allowances
from geometry.errors import PatternError
from geometry.model.edge import EdgeRole
from geometry.model.piece import Piece


@dataclass(frozen=True, slots=True)
class OnlyLine:
    """What is said about it.

    Attributes:
        allowance_mm: That it is the cutting line, this far outside the stitching line.
        add_mm: That it is the stitching line and gets this allowance.
        hem_mm: The allowance of hems, if it is another one than that of seams.
        edges_mm: Allowances of single edges, by name of piece and id of edge.
        asked: Whether a person was asked and has answered.
    """

    allowance_mm: float | None = None
    add_mm: float | None = None
    hem_mm: float | None = None
    edges_mm: Mapping[tuple[str, str], float] = field(default_factory=dict)
    asked: bool = False

    def widths_on(self, piece: Piece) -> dict[str, float]:
        """The allowance of every edge of a piece, by id: none on the fold, hems theirs unless the edge is named."""
        seam_mm = self.allowance_mm if self.allowance_mm is not None else self.add_mm or 0.0
        usual_hem_mm = HEM_MM if self.allowance_mm is None else seam_mm
        usual = with_allowances(piece, seam_mm=seam_mm, hem_mm=usual_hem_mm if self.hem_mm is None else self.hem_mm)
        return {edge.id: self.edges_mm.get((piece.name, edge.id), edge.allowance_mm) for edge in usual.edges}


def with_only_line(
    pieces: Sequence[Piece], single: Sequence[bool], said: OnlyLine, report: ImportReport
) -> list[Piece]:
    """Pieces with only one line round them: an allowance taken off or added as was said, else a note."""
    names = list(dict.fromkeys(piece.name for piece, alone in zip(pieces, single, strict=True) if alone))
    if said.allowance_mm is not None and said.add_mm is not None:
        raise PatternError("The line drawn is the cutting line or the stitching line: state one allowance, not both.")
    if said.allowance_mm is not None and len(names) < len({piece.name for piece in pieces}):
        text = "Where a stitching line is drawn, its distance to the cutting line counts, not the stated allowance."
        report.note("allowance-measured", text)
    if names and said.allowance_mm is None:
        _tell(names, said, report)
    take = _off if said.allowance_mm is not None else _added if said.add_mm is not None else _left
    return [take(piece, said, report) if alone else piece for piece, alone in zip(pieces, single, strict=True)]


def _tell(names: Sequence[str], said: OnlyLine, report: ImportReport) -> None:
    quoted = ", ".join(f'"{name}"' for name in names)
    only = f"Only one line is drawn round {quoted}; "
    if said.add_mm is not None:
        hem_mm = HEM_MM if said.hem_mm is None else said.hem_mm
        single = ", single edges as stated" if said.edges_mm else ""
        report.note(
            "allowance-added",
            f"{only}it was given {said.add_mm:g} mm of allowance, {hem_mm:g} mm at hems{single}.",
            expected_mm=said.add_mm,
        )
        return
    how = (
        "allowances can be set at any time, for the whole pattern or edge by edge."
        if said.asked
        else "if it is the cutting line, import again and state its allowance (--allowance 15); if it is the stitching "
        "line, one can be added (--add-allowance 15)."
    )
    report.note("no-stitching-line", f"{only}it is taken as the stitching line, without allowance; {how}")


def _left(piece: Piece, _: OnlyLine, __: ImportReport) -> Piece:
    return piece


def _added(piece: Piece, said: OnlyLine, _: ImportReport) -> Piece:
    widths = said.widths_on(piece)
    return replace(piece, edges=tuple(replace(edge, allowance_mm=widths[edge.id]) for edge in piece.edges))


def _off(piece: Piece, said: OnlyLine, report: ImportReport) -> Piece:
    """The stitching line derived inwards, once."""
    widths = said.widths_on(piece)
    inner, findings = stitching_from_cutting(piece, widths)
    for finding in findings:
        report.note(finding.code, finding.text, level=finding.level, piece=finding.piece, where=finding.where)
    seam_mm = said.allowance_mm
    hems = {widths[edge.id] for edge in piece.edges_with_role(EdgeRole.HEM)} - {seam_mm}
    at_hems = f" ({hems.pop():g} mm at its hem)" if hems else ""
    single = ", single edges as stated" if any(name == piece.name for name, _ in said.edges_mm) else ""
    report.note(
        "stitching-derived",
        f'The stitching line of the piece "{piece.name}" lies {seam_mm:g} mm inside the line that was drawn'
        f"{at_hems}{single}.",
        piece=piece.name,
        expected_mm=seam_mm,
    )
    return inner
