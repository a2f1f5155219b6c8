from dataclasses import replace

import pytest

from geometry.affine import Affine, frozen_points
from geometry.checks.pairing import propose_seams
from geometry.checks.walking import walk
from geometry.model.edge import Edge, EdgeRole
from geometry.model.garment import half_of, part_of
from geometry.model.pattern import EdgeRef, Pattern, SeamKind
from geometry.model.piece import Piece
from samples import draft_gored_skirt
from tests.geometry.plain_dress import dress, piece, with_piece

DRESS = dress()


def sewn(pattern: Pattern) -> set[tuple[str, str]]:
    """Each seam as the edges of its two sides."""
    sides = (
        ("+".join(f"{r.piece} {r.edge}" for r in refs) for refs in (s.first, s.second)) for s in propose_seams(pattern)
    )
    return {(first, second) for first, second in sides}


def mirrored(old: Piece) -> Piece:
    """The piece turned face down: its ring runs the other way along every seam."""
    flip = Affine(a=-1.0)
    edges = tuple(
        Edge(edge.id, frozen_points(flip.points(edge.points)[::-1]), edge.role) for edge in reversed(old.edges)
    )
    lengths = {edge.id: edge.length_mm for edge in edges}
    return replace(
        old,
        edges=edges,
        darts=tuple(
            replace(d, from_mm=lengths[d.edge] - d.to_mm, to_mm=lengths[d.edge] - d.from_mm, tip=flip.point(d.tip))
            for d in old.darts
        ),
        notches=tuple(replace(n, at_mm=lengths[n.edge] - n.at_mm) for n in old.notches),
    )


def unnamed(old: Piece) -> Piece:
    """The piece with edges that say nothing."""
    names = {edge.id: f"edge {k}" for k, edge in enumerate(old.edges, 1)}
    return replace(
        old,
        edges=tuple(Edge(names[edge.id], edge.points) for edge in old.edges),
        fold=names[old.fold] if old.fold else None,
        darts=tuple(replace(dart, edge=names[dart.edge]) for dart in old.darts),
        notches=tuple(replace(notch, edge=names[notch.edge]) for notch in old.notches),
    )


def test_the_seams_of_a_dress_are_proposed() -> None:
    assert sewn(DRESS) == {
        ("back bodice shoulder", "front bodice shoulder"),
        ("front bodice side", "back bodice side"),
        ("front skirt side", "back skirt side"),
        ("front skirt waist", "front bodice waist"),
        ("back skirt waist", "back bodice waist"),
        ("sleeve cap", "back bodice armhole+front bodice armhole"),
        ("sleeve front underarm", "sleeve back underarm"),
        ("back bodice centre back", "back bodice centre back"),
        ("back skirt centre back", "back skirt centre back"),
    }


def test_names_of_seams_are_unique_and_the_order_is_stable() -> None:
    names = [seam.id for seam in propose_seams(DRESS)]
    assert len(set(names)) == len(names)
    assert names == [seam.id for seam in propose_seams(dress())]


@pytest.mark.parametrize("turned", [[], ["back bodice"], ["sleeve"], ["front skirt", "front bodice"], ["back skirt"]])
def test_both_sides_start_from_the_same_end_however_a_piece_is_drawn(turned: list[str]) -> None:
    pattern = Pattern(tuple(mirrored(p) if p.name in turned else p for p in DRESS.pieces))
    assert sewn(pattern) == sewn(DRESS)
    for seam in propose_seams(pattern):
        walked = walk(pattern, seam)
        assert [walked.miss_mm(meeting) for meeting in walked.meetings] == pytest.approx([0] * len(walked.meetings))


def test_the_cap_runs_from_the_back_even_if_only_its_notches_tell() -> None:
    for sleeve in (DRESS.piece("sleeve"), mirrored(DRESS.piece("sleeve"))):
        names = {"front underarm": "one underarm", "back underarm": "other underarm"}
        edges = tuple(replace(edge, id=names.get(edge.id, edge.id)) for edge in sleeve.edges)
        pattern = DRESS.with_piece(replace(sleeve, edges=edges))
        seam = next(seam for seam in propose_seams(pattern) if seam.kind is SeamKind.ARMHOLE)
        words = [meeting.first.partner for meeting in walk(pattern, seam).meetings if meeting.first]
        assert words == ["back armhole", "back armhole", "shoulder", "front armhole"]


def test_edges_without_roles_propose_nothing() -> None:
    assert propose_seams(Pattern(tuple(unnamed(old) for old in DRESS.pieces))) == ()


def test_one_piece_without_roles_only_loses_its_own_seams() -> None:
    pattern = DRESS.with_piece(unnamed(DRESS.piece("sleeve")))
    assert sewn(pattern) == {pair for pair in sewn(DRESS) if "sleeve" not in pair[0]}


def test_a_panel_with_a_princess_seam_has_no_waist_or_armhole_proposed() -> None:
    front = DRESS.piece("front bodice")
    edges = tuple(replace(e, role=EdgeRole.OTHER) if e.id == "side" else e for e in front.edges)
    pattern = DRESS.with_piece(replace(front, edges=edges))
    assert not any("front bodice" in second for first, second in sewn(pattern) if "shoulder" not in first)


def test_a_lining_is_sewn_to_the_lining() -> None:
    linings = tuple(replace(p, name=f"{p.name} lining") for p in DRESS.pieces)
    names = sewn(Pattern((*DRESS.pieces, *linings)))
    assert len(names) == 2 * len(sewn(DRESS))
    assert all(("lining" in first) == ("lining" in second) for first, second in names)


def test_left_goes_with_left_and_a_left_back_to_a_right_back() -> None:
    front, back = DRESS.piece("front bodice"), DRESS.piece("back bodice")
    pieces = (
        replace(front, name="left front"),
        replace(mirrored(front), name="right front"),
        replace(back, name="left back"),
        replace(mirrored(back), name="right back"),
    )
    names = sewn(Pattern(pieces))
    assert ("left front side", "left back side") in names
    assert ("right front side", "right back side") in names
    assert ("left back centre back", "right back centre back") in names
    assert not any(
        {"left", "right"} <= {first.split()[0], second.split()[0]} for first, second in names if "centre" not in first
    )


def test_whole_pieces_drawn_face_up_meet_where_their_rings_run_against_each_other() -> None:
    def whole(name: str) -> Piece:
        return piece(
            name,
            {
                "waist": [(-200, 0)],
                "x+ side": [(200, 0)],
                "x+ armhole": [(210, 200)],
                "x+ shoulder": [(160, 350)],
                "neck": [(60, 400), (-60, 400)],
                "x- shoulder": [(-60, 400)],
                "x- armhole": [(-160, 350)],
                "x- side": [(-210, 200)],
            },
        )

    names = sewn(Pattern((whole("front"), whole("back"))))
    assert names == {
        ("front x+ side", "back x- side"),
        ("front x- side", "back x+ side"),
        ("back x+ shoulder", "front x- shoulder"),
        ("back x- shoulder", "front x+ shoulder"),
    }


SIX_GORES = {
    ("front gore side", "side front gore panel side"),
    ("side front gore side", "side back gore side"),
    ("side back gore panel side", "back gore side"),
}


def test_each_gore_is_sewn_to_the_next_one_only() -> None:
    skirt = draft_gored_skirt.draft_nest().sample
    assert {pair for pair in sewn(skirt) if "waistband" not in pair[0]} == SIX_GORES


def test_gores_whose_edges_say_nothing_are_sewn_as_they_are_drawn() -> None:
    def plain(old: Piece) -> Piece:
        names = {"side": "side 1", "panel side": "side 2"}
        edges = tuple(replace(edge, id=names.get(edge.id, edge.id)) for edge in old.edges)
        return replace(old, edges=edges, notches=())

    skirt = draft_gored_skirt.draft_nest().sample
    pairs = sewn(Pattern(tuple(plain(old) for old in skirt.pieces if old.name != "waistband")))
    assert pairs == {
        ("front gore side 1", "side front gore side 2"),
        ("side front gore side 1", "side back gore side 1"),
        ("side back gore side 2", "back gore side 1"),
    }


def test_a_skirt_gored_in_front_alone_meets_its_plain_back_at_the_side() -> None:
    gored, plain = draft_gored_skirt.draft_nest().sample, DRESS.piece("back skirt")
    pattern = Pattern((gored.piece("front gore"), gored.piece("side front gore"), plain))
    assert {pair for pair in sewn(pattern) if "centre" not in pair[0]} == {
        ("front gore side", "side front gore panel side"),
        ("side front gore side", "back skirt side"),
    }


def test_an_edge_in_two_parts_is_walked_in_order() -> None:
    back = DRESS.piece("back bodice")
    side = back.edge("side")
    parts = (
        Edge("upper side", frozen_points([(-215, 200), (-215, 80)]), EdgeRole.SIDE),
        Edge("lower side", frozen_points([(-215, 80), (-215, 0)]), EdgeRole.SIDE),
    )
    pattern = DRESS.with_piece(
        replace(back, edges=tuple(part for edge in back.edges for part in (parts if edge is side else (edge,))))
    )
    seam = next(seam for seam in propose_seams(pattern) if seam.first == (EdgeRef("front bodice", "side"),))
    assert [ref.edge for ref in seam.second] == ["upper side", "lower side"]
    assert walk(pattern, seam).second_mm == pytest.approx(200)


def ease_of(pattern: Pattern, kind: SeamKind) -> tuple[float, float]:
    return next(seam for seam in propose_seams(pattern) if seam.kind is kind).ease_mm


@pytest.mark.parametrize(
    ("changes", "band"),
    [
        ({}, (19.05, 38.1)),
        ({"material": "cotton jersey"}, (0, 12.7)),
        ({"name": "shirt sleeve"}, (0, 19.05)),
        ({"name": "jacket sleeve"}, (31.75, 50.8)),
    ],
)
def test_cap_ease_bands_by_garment(changes: dict[str, str], band: tuple[float, float]) -> None:
    """3/4 to 1 1/2 in dress, 0 to 1/2 knit, 0 to 3/4 shirt, 1 1/4 to 2 tailored: common practice, from memory."""
    sleeve = replace(DRESS.piece("sleeve"), **changes)
    pieces = tuple(sleeve if old.name == "sleeve" else old for old in DRESS.pieces)
    assert ease_of(Pattern(pieces), SeamKind.ARMHOLE) == band


def test_a_back_shoulder_may_be_eased_by_half_an_inch_only_without_a_dart() -> None:
    """Back longer by 0 to 1/2 in of ease, or a dart: common practice, from memory."""
    assert ease_of(DRESS, SeamKind.SHOULDER) == (0, 0)
    darts = DRESS.piece("back bodice").darts[:1]
    assert ease_of(with_piece(DRESS, "back bodice", darts=darts), SeamKind.SHOULDER) == (0, 12.7)


def test_parts_and_halves_are_told_from_edges_where_the_name_is_silent() -> None:
    front = replace(DRESS.piece("front bodice"), name="no 1")
    assert (part_of(front), half_of(front)) == ("bodice", "front")
    assert [part_of(old) for old in DRESS.pieces] == ["bodice", "bodice", "sleeve", "skirt", "skirt"]
    assert part_of(unnamed(front)) is None


def test_pieces_that_differ_only_in_a_number_are_sewn_to_those_of_the_same_number() -> None:
    """Two dresses on one table: as many seams again, none from one dress to the other."""
    one = dress()
    again = tuple(replace(piece, name=f"{piece.name} 2") for piece in one.pieces)
    both = propose_seams(replace(one, pieces=(*one.pieces, *again)))
    assert len(both) == 2 * len(propose_seams(one))
    for seam in both:
        assert len({ref.piece.endswith("2") for ref in (*seam.first, *seam.second)}) == 1
