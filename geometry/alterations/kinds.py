"""Every kind of step by its name: what a journal may hold."""

from geometry.alterations.allowance_steps import CutCorner, SetAllowance
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.cutting_marks import DrawGrain, PlaceHole, SetQuantity
from geometry.alterations.dart_release import ReleaseDart
from geometry.alterations.dart_sharing import MergeDarts, SplitDart
from geometry.alterations.dart_steps import AimDart, LengthenDart, MakeDart, MoveDart, PressDart, WidenDart
from geometry.alterations.dart_transfer import DartTransfer
from geometry.alterations.dart_truing import TrueDart
from geometry.alterations.double_dart_steps import MakeDoubleDart, MoveDoubleDart, WidenDoubleDart
from geometry.alterations.edge_steps import BlendEdge, SquareCorner, StraightenCentre, StraightenEdge
from geometry.alterations.follow_edge import FollowEdge
from geometry.alterations.follow_piece import FollowPiece
from geometry.alterations.full_bust import FullBust
from geometry.alterations.handbook.alteration import Alteration
from geometry.alterations.mark_steps import PlaceLandmark
from geometry.alterations.notch_steps import AddNotch, MoveNotch, RemoveNotch
from geometry.alterations.redraw import Redraw
from geometry.alterations.seam_steps import LevelHem, MatchDart, MatchNotch, ShareDifference
from geometry.alterations.single_pieces import CutSingle
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
        WidenDart,
        LengthenDart,
        AimDart,
        PressDart,
        TrueDart,
        SplitDart,
        MergeDarts,
        ReleaseDart,
        MakeDoubleDart,
        MoveDoubleDart,
        WidenDoubleDart,
        StraightenEdge,
        BlendEdge,
        SquareCorner,
        JoinCorner,
        LevelHem,
        StraightenCentre,
        MoveNotch,
        AddNotch,
        RemoveNotch,
        ShareDifference,
        MatchDart,
        MatchNotch,
        SetAllowance,
        CutCorner,
        PlaceLandmark,
        CutSingle,
        DrawGrain,
        SetQuantity,
        PlaceHole,
        FollowEdge,
        FollowPiece,
        Alteration,
    )
}
