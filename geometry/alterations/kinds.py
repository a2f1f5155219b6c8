"""Every kind of step by its name: what a journal may hold."""

from geometry.alterations.dart_steps import (
    AimDart,
    LengthenDart,
    MakeDart,
    MakeDoubleDart,
    MoveDart,
    PressDart,
    ReleaseDart,
)
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.full_bust import FullBust
from geometry.alterations.redraw import Redraw
from geometry.alterations.slash import Slash
from geometry.alterations.step import Step
from geometry.alterations.upper_arm import UpperArm

STEP_KINDS: dict[str, type[Step]] = {
    step.kind: step
    for step in (
        Slash,
        DartTransfer,
        FullBust,
        UpperArm,
        Redraw,
        MakeDart,
        MoveDart,
        LengthenDart,
        AimDart,
        PressDart,
        ReleaseDart,
        MakeDoubleDart,
    )
}
