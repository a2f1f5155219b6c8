"""Steps that put findings right with one click, where that is safe."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache

from geometry.affine import distance_mm, frozen_points, midpoint
from geometry.allowance import allowance_findings
from geometry.alterations.allowance_steps import CutCorner, SetAllowance
from geometry.alterations.anchors import Anchor, On, on_edge
from geometry.alterations.corner_steps import JoinCorner
from geometry.alterations.cutting_marks import DrawGrain, PlaceHole, SetQuantity
from geometry.alterations.dart_steps import AimDart, LengthenDart, PressDart
from geometry.alterations.dart_truing import TrueDart
from geometry.alterations.edge_ends import End
from geometry.alterations.edge_steps import BlendEdge, SquareCorner, StraightenCentre
from geometry.alterations.follow_edge import follow_steps
from geometry.alterations.follow_piece import FollowPiece
from geometry.alterations.notch_steps import AddNotch, MoveNotch, RemoveNotch
from geometry.alterations.seam_steps import MatchDart, MatchNotch, ShareDifference, seam_between
from geometry.alterations.step import Step
from geometry.alterations.trueing import DEFAULT_REACH_MM
from geometry.checks.limits import DEFAULT_LIMITS, Limits
from geometry.checks.run import check_pattern
from geometry.checks.walking import side_mm, walk
from geometry.curves.crossing import crossings
from geometry.errors import PatternError
from geometry.findings import Finding, Level
from geometry.model.dart import Pressed
from geometry.model.edge import CornerCut, EdgeRole
from geometry.model.pattern import EdgeRef, Pattern, SeamKind
from geometry.model.piece import Piece

_SHARED_MM = 12.7
"""The largest difference of a seam that is put right at its edges alone: 1/2 in, from memory."""

_LEAST_DART_MM = 12.7
"""A dart is not shortened below this to bring its tip inside; own choice."""

_NARROWER_MM = (12.7, 10.0, 6.35)
"""Widths to which an allowance is narrowed at a tight bend: 1/2 in, 1 cm and 1/4 in, the usual narrow ones."""

_TIMES = (1.05, 1.5, 2.0, 3.0, 5.0)
"""A dart that nears a seam aslant must be shortened by more than its tip is too near."""

_REACHES_MM = (DEFAULT_REACH_MM, 50.0, 80.0)
"""How far a corner is blended: as usual, else as far as a curve ruler reaches (2 and 3 in, from memory)."""

_GRAVITY = tuple(Level)

_CENTRES = (EdgeRole.CENTRE_FRONT, EdgeRole.CENTRE_BACK)

Fixes = Callable[[Pattern, Finding], Iterator[Step]]


def fixes(
    pattern: Pattern, finding: Finding, *, base: Pattern | None = None, limits: Limits = DEFAULT_LIMITS
) -> Step | None:
    """A step after which a finding is gone; ``None`` where only a person can tell what to do.

    Each candidate is tried on the pattern first, and offered only if it can be done, the finding is gone after it and
    nothing as grave came up instead; what stops may leave a warning, which has a fix of its own. Takes as long as the
    checks do.

    Args:
        pattern: The pattern that was checked.
        finding: One of its findings.
        base: The pattern before it was altered, as it was given to the checks.
        limits: The limits that it was checked with.
    """
    candidates = _FIXES.get(finding.code)
    if candidates is None or finding.piece is None:
        return None
    try:
        for step in candidates(pattern, finding):
            if _puts_right(pattern, finding, step, base, limits):
                return step
    except PatternError:
        return None
    return None


def _puts_right(pattern: Pattern, finding: Finding, step: Step, base: Pattern | None, limits: Limits) -> bool:
    """Whether a step can be done, the finding is gone after it, and nothing as grave came up instead."""
    try:
        after = step.apply(pattern).pattern
    except PatternError:
        return False
    before = {_told(other) for other in _found(pattern, base, limits)}
    found = check_pattern(after, base=base, limits=limits)
    least = max(_GRAVITY.index(finding.level), 1)
    left = (other for other in found if other.code == finding.code or _GRAVITY.index(other.level) >= least)
    return all(_told(other) in before and _told(other) != _told(finding) for other in left)


@lru_cache(maxsize=4)
def _found(pattern: Pattern, base: Pattern | None, limits: Limits) -> tuple[Finding, ...]:
    return check_pattern(pattern, base=base, limits=limits)


def _told(finding: Finding) -> tuple[str, str | None, tuple[str, ...]]:
    return finding.code, finding.piece, finding.about[:1]


def _piece(pattern: Pattern, finding: Finding) -> Piece:
    return pattern.piece(finding.piece or "")


def _allowance(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    yield SetAllowance(finding.piece or "", finding.about[0], finding.expected_mm or 0.0)


def _narrower(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    piece, edge_id = _piece(pattern, finding), finding.about[0]
    for width_mm in _NARROWER_MM:
        if width_mm < piece.edge(edge_id).allowance_mm:
            step = SetAllowance(piece.name, edge_id, width_mm)
            told = allowance_findings(step.apply(pattern).pattern.piece(piece.name))
            if all(other.about[:1] != (edge_id,) for other in told):
                yield step


def _mirrored_hem(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    yield CutCorner(finding.piece or "", finding.about[0], End(finding.about[1]), CornerCut.MIRRORED)


def _join(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    edge, at, other_piece, other_edge, other_at = finding.about
    step = JoinCorner(finding.piece or "", edge, End(at), other_piece, other_edge, End(other_at), keep_corner=True)
    for reach_mm in _REACHES_MM:
        yield replace(step, amount_mm=reach_mm)
    yield replace(step, keep_corner=False)


def _square(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    for reach_mm in _REACHES_MM:
        yield SquareCorner(finding.piece or "", finding.about[0], End(finding.about[1]), reach_mm=reach_mm)


def _straighten(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    yield StraightenCentre(finding.piece or "", finding.about[0])


def _blend(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    edge, share = finding.about
    for reach_mm in _REACHES_MM:
        yield BlendEdge(finding.piece or "", edge, on_edge(edge, float(share)), reach_mm)


def _equal_legs(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    yield TrueDart(finding.piece or "", finding.about[0])


def _aim(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    dart = _piece(pattern, finding).dart(finding.about[0])
    yield AimDart(finding.piece or "", dart.id, Anchor(On.AIM, dart.id), distance_mm(dart.tip, dart.apex))


def _stand_off(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    dart = finding.about[0]
    yield AimDart(finding.piece or "", dart, Anchor(On.AIM, dart), finding.expected_mm or 0.0)


def _aim_at_landmark(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    piece = _piece(pattern, finding)
    dart = piece.dart(finding.about[0])
    yield AimDart(piece.name, dart.id, Anchor(On.LANDMARK, finding.about[1]), distance_mm(dart.tip, dart.apex))


def _press(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    yield PressDart(finding.piece or "", finding.about[0], Pressed(finding.about[1]))


def _bring_tip_in(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """Shorter until its tip lies inside, and then until it is clear of the seam."""
    piece = _piece(pattern, finding)
    dart = piece.dart(finding.about[0])
    middle = midpoint(*piece.mouth(dart))
    ring = frozen_points([*piece.outline.tolist(), piece.outline[0].tolist()])
    met = [crossing.first_mm for crossing in crossings(frozen_points([middle, dart.tip]), ring)]
    end_mm = next((at_mm for at_mm in met if at_mm > _LEAST_DART_MM), 0.0)
    for times in _TIMES:
        length_mm = end_mm - times * DEFAULT_LIMITS.dart_clear_mm
        if length_mm >= _LEAST_DART_MM:
            yield LengthenDart(piece.name, dart.id, length_mm - distance_mm(middle, dart.tip))


def _shorten(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    too_near_mm = (finding.expected_mm or 0.0) - (finding.measured_mm or 0.0)
    for times in _TIMES:
        yield LengthenDart(finding.piece or "", finding.about[0], -times * too_near_mm)


def _match_dart(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    dart, other_piece, other_dart = finding.about
    yield MatchDart(finding.piece or "", dart, other_piece, other_dart)


def _match_notch(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """To its partner where the seam has no ease, else only by as much as it is off."""
    notch, other_piece, other_notch, piece = finding.about
    off_mm = (finding.measured_mm or 0.0) - (finding.expected_mm or 0.0)
    yield MatchNotch(piece, notch, other_piece, other_notch)
    yield MoveNotch(piece, notch, off_mm)
    yield MoveNotch(piece, notch, -off_mm)


def _partner(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """A partner for a notch that has a word for one; one without is taken away."""
    piece = _piece(pattern, finding)
    notch = piece.notch(finding.about[0])
    if finding.level is Level.NOTE:
        yield RemoveNotch(piece.name, notch.id)
        return
    if len(finding.about) < 3:
        return
    other, edge = pattern.piece(finding.about[1]), finding.about[2]
    ours, theirs = EdgeRef(piece.name, notch.edge), EdgeRef(other.name, edge)
    seam = seam_between(pattern, ours, theirs)
    stops = (stop for meeting in walk(pattern, seam).meetings for stop in (meeting.first, meeting.second) if stop)
    mine = next(stop for stop in stops if (stop.piece, stop.edge, stop.id) == (ours.piece, ours.edge, notch.id))
    side = seam.sides[1 if ours in seam.first else 0]
    _, is_backward, stretch = side.parts[side.refs.index(theirs)]
    start = stretch.end if is_backward else stretch.start
    at = Anchor(On.NOTCH, start.notch) if start.notch else on_edge(edge, start.share)
    along_mm = -mine.from_start_mm if is_backward else mine.from_start_mm
    name = notch.id if all(each.id != notch.id for each in other.notches) else ""
    yield AddNotch(
        other.name,
        at,
        along_mm,
        notch=name,
        shape=notch.kind,
        partner=notch.partner,
        depth_mm=notch.depth_mm,
        width_mm=notch.width_mm,
    )


def _remove_notch(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """One of two notches, if one of them has no partner to meet."""
    piece = _piece(pattern, finding)
    for name in finding.about:
        if not piece.notch(name).partner:
            yield RemoveNotch(piece.name, name)


def _level_notch(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    notch, edge, share = finding.about
    yield MoveNotch(finding.piece or "", notch, to=on_edge(edge, float(share)))


def _match_low_notch(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    notch, other_piece, other_notch, end = finding.about
    yield MatchNotch(finding.piece or "", notch, other_piece, other_notch, End(end))


def _more_behind(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    half_mm = ((finding.measured_mm or 0.0) - (finding.expected_mm or 0.0)) / 2
    for sign in (1.0, -1.0):
        yield MoveNotch(finding.piece or "", finding.about[0], sign * half_mm)


def _share(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """Half of a small difference taken off the longer side of a seam and half put on the shorter one."""
    yield from _shared(pattern, finding, 0.5, (finding.measured_mm or 0.0) - (finding.expected_mm or 0.0))


def _follow(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """A small change made on the side that was left behind as well."""
    grows_mm = (finding.expected_mm or 0.0) - (finding.measured_mm or 0.0)
    is_second = finding.about[6] == "second"
    yield from _shared(pattern, finding, 0.0 if is_second else 1.0, grows_mm if is_second else -grows_mm)


def _shared(pattern: Pattern, finding: Finding, share: float, too_long_mm: float) -> Iterator[Step]:
    edge, at, other_piece, other_edge, other_at, piece = finding.about[:6]
    seam = seam_between(pattern, EdgeRef(piece, edge), EdgeRef(other_piece, other_edge))
    if seam.kind is SeamKind.ARMHOLE or abs(too_long_mm) > _SHARED_MM:
        return
    first, second = seam.sides
    ease_mm = side_mm(pattern, first) - side_mm(pattern, second) - too_long_mm
    yield ShareDifference(piece, edge, End(at), other_piece, other_edge, End(other_at), share, ease_mm)


def _grain(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """Along the fold, else along the centre line; what leads nowhere else only a person can tell."""
    piece = _piece(pattern, finding)
    for edge in piece.edges:
        if edge.id == piece.fold or (piece.fold is None and edge.role in _CENTRES):
            yield DrawGrain(piece.name, edge.id)


def _grain_back(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    edge, turn_deg = finding.about
    yield DrawGrain(finding.piece or "", edge, float(turn_deg))


def _cut_words(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    yield SetQuantity(finding.piece or "", _piece(pattern, finding).quantity)


def _cut_two(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    yield SetQuantity(finding.piece or "", 2)


def _hole(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    hole, dart = finding.about
    yield PlaceHole(finding.piece or "", hole, dart)


def _follow_seam(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """The facing or band drawn like what it is sewn to."""
    edge, other_piece, other_edge = finding.about
    seam = seam_between(pattern, EdgeRef(finding.piece or "", edge), EdgeRef(other_piece, other_edge))
    yield from follow_steps(pattern, seam)


def _follow_piece(pattern: Pattern, finding: Finding) -> Iterator[Step]:
    """The lining cut like its piece."""
    yield FollowPiece(finding.piece or "", finding.about[1])


_FIXES: dict[str, Fixes] = {
    "allowance-on-fold": _allowance,
    "allowance-missing": _allowance,
    "allowance-narrow": _allowance,
    "allowance-differs": _allowance,
    "hem-differs": _allowance,
    "allowance-trimmed": _narrower,
    "hem-mirrored": _mirrored_hem,
    "corner-across-seam": _join,
    "fold-square": _square,
    "fold-bent": _straighten,
    "centre-bent": _straighten,
    "edge-kinked": _blend,
    "dart-legs": _equal_legs,
    "dart-aim": _aim,
    "dart-stand-off": _stand_off,
    "dart-landmark": _aim_at_landmark,
    "dart-pressed": _press,
    "dart-tip-outside": _bring_tip_in,
    "dart-clear": _shorten,
    "waist-darts": _match_dart,
    "notch-landing": _match_notch,
    "notch-alone": _partner,
    "notch-crowd": _remove_notch,
    "notch-corner": _remove_notch,
    "level-notch": _level_notch,
    "cap-ease-low": _match_low_notch,
    "cap-ease-split": _more_behind,
    "seam-lengths": _share,
    "grain-missing": _grain,
    "fold-off-grain": _grain,
    "grain-turned": _grain_back,
    "cut-words": _cut_words,
    "cut-once": _cut_two,
    "drill-hole": _hole,
    "facing-fit": _follow_seam,
    "band-length": _follow_seam,
    "collar-length": _follow_seam,
    "layer-not-changed": _follow_piece,
    "neighbour-not-changed": _follow,
}
"""What may put right the findings of each check, safest first."""
