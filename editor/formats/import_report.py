"""What an import has to say: findings as they come up, and every shape that was not used, counted by kind."""

from collections import Counter

from editor.formats.drawing import Shape
from geometry.affine import Point
from geometry.findings import Finding, Level


class ImportReport:
    """Collects findings and unused shapes while pieces are recognised."""

    def __init__(self) -> None:
        self._findings: list[Finding] = []
        self._unused: Counter[tuple[str, str, str]] = Counter()

    def note(
        self,
        code: str,
        text: str,
        *,
        level: Level = Level.NOTE,
        piece: str | None = None,
        where: Point | None = None,
        measured_mm: float | None = None,
        expected_mm: float | None = None,
    ) -> None:
        """Add a finding."""
        self._findings.append(Finding(code, level, text, piece, where, measured_mm, expected_mm))

    def unused(self, shape: Shape, why: str) -> None:
        """Count a shape that no piece uses."""
        self.unused_entities(shape.entity or shape.kind.upper(), shape.layer, why)

    def unused_entities(self, entity: str, layer: str, why: str, *, count: int = 1) -> None:
        """Count entities that no piece uses."""
        self._unused[entity, layer, why] += count

    def findings(self) -> tuple[Finding, ...]:
        """All findings, gravest first and else in the order they came up; unused entities at the end."""
        order = list(Level)
        ranked = sorted(self._findings, key=lambda finding: -order.index(finding.level))
        return (*ranked, *(self._left_out(*row, count) for row, count in sorted(self._unused.items())))

    @staticmethod
    def _left_out(entity: str, layer: str, why: str, count: int) -> Finding:
        times = "entity was" if count == 1 else "entities were"
        place = f' on layer "{layer}"' if layer else ""
        return Finding("not-used", Level.NOTE, f"{count} {entity} {times} not used{place}: {why}.")
