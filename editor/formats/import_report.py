"""What an import has to say: findings as they come up, suggestions, and every shape that was not used, by kind."""

from collections import Counter
from collections.abc import Sequence

from editor.formats.clean_up import ALL_TAKEN, CleanUp, Kind, Suggestion
from editor.formats.drawing import Shape
from geometry.affine import Point, Points
from geometry.findings import Finding, Level


class ImportReport:
    """Collects findings, suggestions and unused shapes while pieces are recognised, and knows the answers."""

    def __init__(self, clean_up: CleanUp = ALL_TAKEN) -> None:
        self.clean_up = clean_up
        self._findings: list[Finding] = []
        self._suggestions: dict[str, Suggestion] = {}
        self._unused: Counter[tuple[str, str, str]] = Counter()
        self._piece, self._size = "", ""

    def answered(self, clean_up: CleanUp) -> "ImportReport":
        """A report that goes on from here with other answers; this one stays as it is."""
        other = ImportReport(clean_up)
        other._findings, other._suggestions = list(self._findings), dict(self._suggestions)
        other._unused = Counter(self._unused)
        return other

    def about(self, piece: str, size: str) -> None:
        """Suggestions that follow are about this piece."""
        self._piece, self._size = piece, size

    def suggest(
        self,
        kind: Kind,
        text: str,
        at: Point,
        *,
        drawn: Sequence[Points] = (),
        moved_mm: float | None = None,
        guess: bool = False,
    ) -> bool:
        """Offer something; whether it is taken."""
        key = f"{self._piece}/{self._size}/{kind.value}/{at[0]:.1f},{at[1]:.1f}"
        offered = Suggestion(key, kind, self._piece, self._size, text, at, tuple(drawn), moved_mm, guess)
        self._suggestions.setdefault(key, offered)
        return self.clean_up.takes(offered)

    def added_corners(self) -> list[Point]:
        """Where somebody sees corners on this piece."""
        return [at for piece, size, at in self.clean_up.corners if (piece, size) == (self._piece, self._size)]

    def suggestions(self) -> tuple[Suggestion, ...]:
        """What was offered, in order."""
        return tuple(self._suggestions.values())

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
        were = counted(count, "entity was", "entities were")
        place = f' on layer "{layer}"' if layer else ""
        return Finding("not-used", Level.NOTE, f"{were} not used{place}: {why}.")


def counted(count: int, one: str, many: str) -> str:
    """A number with the words that go with it."""
    return f"{count} {one if count == 1 else many}"
