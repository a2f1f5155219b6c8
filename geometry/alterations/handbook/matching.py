"""The amount that makes an edge as long as what it is sewn to."""

from __future__ import annotations

from collections.abc import Callable

from geometry.alterations.handbook.bench import Bench
from geometry.alterations.handbook.panels import Panel
from geometry.alterations.step import Step
from geometry.errors import StepError
from geometry.model.edge import EdgeRole

_CLOSE_MM = 0.02
"""An edge this near the wanted length will do: less than half a hairline."""

_TRIES = 6
"""Cap on the tries. Lengths change nearly in proportion to the amount, so that two or three come close enough."""

_MISSED_MM = 0.1
"""An edge further than this from the length asked for is not just as long: a hairline."""


def do_until_long(bench: Bench, panel: Panel, role: EdgeRole, grown_mm: float, make: Callable[[float], Step]) -> float:
    """Do the step that makes the edges of a role longer by ``grown_mm`` in all, and return its amount.

    ``make`` gives the step for an amount; the first amount tried is the growth itself.
    """
    panel = bench.now(panel)
    before_mm = panel.sewn_mm(role)
    if grown_mm == 0.0:
        return 0.0
    amounts, errors = [0.0], [-grown_mm]
    amount = grown_mm / max(len(panel.edges(role)), 2)
    for _ in range(_TRIES):
        after = Panel(make(amount).apply(bench.pattern).pattern.piece(panel.name), panel.hand)
        amounts.append(amount)
        errors.append(after.sewn_mm(role) - before_mm - grown_mm)
        if abs(errors[-1]) <= _CLOSE_MM or errors[-1] == errors[-2]:
            break
        amount -= errors[-1] * (amounts[-1] - amounts[-2]) / (errors[-1] - errors[-2])
    best = min(zip(errors, amounts, strict=True), key=lambda pair: abs(pair[0]))[1]
    bench.do(make(best))
    return best


def do_just_as_long(bench: Bench, panel: Panel, role: EdgeRole, grown_mm: float, make: Callable[[float], Step]) -> None:
    """The same where the growth is what was asked for.

    Raises:
        StepError: no amount makes the edge that long.
    """
    before_mm = bench.now(panel).sewn_mm(role)
    do_until_long(bench, panel, role, grown_mm, make)
    if abs(bench.now(panel).sewn_mm(role) - before_mm - grown_mm) > _MISSED_MM:
        verb = "longer" if grown_mm > 0 else "shorter"
        raise StepError(
            f'The {role.value} of "{panel.name}" cannot be made {abs(grown_mm):.0f} mm {verb} in this way; '
            "give a smaller amount or choose another way."
        )
