"""The sample files are what the scripts write, look the way such files do, and the journals do what they say."""

import re
from itertools import groupby
from pathlib import Path

import numpy as np
import pytest

import samples
from editor.document.journal import read_journal
from editor.document.wearing import case_of
from editor.formats.drawing import Shape
from editor.formats.dxf_reader import read_drawing
from editor.formats.import_pattern import import_pattern
from editor.formats.pattern_to_drawing import drawing_of
from geometry.affine import distance_mm, midpoint
from geometry.alterations.replay import replay
from geometry.checks.pairing import propose_seams
from geometry.checks.run import check_pattern
from geometry.curves import polyline
from geometry.findings import Level
from geometry.fitting.advice import advise
from geometry.model.marks import MarkKind
from geometry.model.pattern import EdgeRef
from geometry.units import Unit
from samples.choir import choir_project
from samples.digitiser import trace_text
from samples.draft_dress import draft_nest
from samples.journals import MAREN_SIZE, ODILE_SIZE, maren, odile
from samples.write_samples import write_samples

FOLDER = Path(samples.__file__).parent
LAST_DIGIT_IN = 1e-5


def key(shape: Shape) -> tuple:
    return (shape.layer, shape.kind, shape.closed, shape.text, len(shape.points))


def tags(text: str) -> list[tuple[int, str]]:
    lines = text.splitlines()
    return [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]


class TestStandardFile:
    def test_it_is_the_drafted_nest(self):
        written, drafted = read_drawing(FOLDER / "dress.dxf"), drawing_of(draft_nest())
        assert (written.units_hint, written.units_stated, written.unused, written.notes) == ("mm", True, (), ())
        assert len(written.blocks) == 35
        for old, new in zip(written.blocks, drafted.blocks, strict=True):
            assert old.name.casefold().replace("_", " ") == new.name.casefold().replace("_", " ")
            assert [key(shape) for shape in old.shapes] == [key(shape) for shape in new.shapes]
            for mine, theirs in zip(old.shapes, new.shapes, strict=True):
                assert mine.points == pytest.approx(theirs.points, abs=1e-6)

    def test_layers_hold_what_the_pattern_standard_puts_there(self):
        # ASTM D6673, numbers from memory: boundary, turn and curve points, notches, mirror, grain, internal lines,
        # drill holes, sew lines, annotation.
        for block in read_drawing(FOLDER / "dress.dxf").blocks:
            layers = {shape.layer for shape in block.shapes}
            assert {"1", "2", "3", "4", "7", "8", "13", "14", "15"} <= layers
            assert ("6" in layers) == block.name.upper().startswith("FRONT")
            assert [shape.closed for shape in block.shapes if shape.layer == "1" and shape.kind == "path"] == [True]


class TestTrace:
    text = (FOLDER / "dress-trace.dxf").read_text(encoding="ascii")

    def test_it_is_the_traced_sample_size(self):
        for mine, theirs in zip(tags(self.text), tags(trace_text(draft_nest().sample)), strict=True):
            if re.fullmatch(r"-?\d+\.\d{5}", mine[1]):
                assert mine[0] == theirs[0]
                assert float(mine[1]) == pytest.approx(float(theirs[1]), abs=2 * LAST_DIGIT_IN)
            else:
                assert mine == theirs

    def test_it_has_no_header_no_layers_and_only_loose_entities(self):
        found = tags(self.text)
        assert "HEADER" not in self.text
        assert "TABLES" not in self.text
        assert {value for code, value in found if code == 8} == {"0"}
        assert {value for code, value in found if code == 0} == {"SECTION", "LINE", "POINT", "TEXT", "ENDSEC", "EOF"}

    def test_segments_are_short_unordered_and_their_ends_lie_apart(self):
        lines = [s for s in read_drawing(FOLDER / "dress-trace.dxf").loose if s.entity == "LINE"]
        segments = np.array([shape.points for shape in lines]) * 25.4
        lengths = np.hypot(*(segments[:, 1] - segments[:, 0]).T)
        assert np.median(lengths) == pytest.approx(0.8, abs=0.02)  # 1 mm sampling less a gap of 0.2 mm
        assert lengths.max() < 1.5
        between = np.hypot(*(segments[1:, 0] - segments[:-1, 1]).T)
        assert np.median(between) > 100.0
        ends = segments.reshape(-1, 2)
        sample = ends[:: len(ends) // 400]
        gaps = np.sort(np.hypot(*(ends[None, :] - sample[:, None]).transpose(2, 0, 1)), axis=1)[:, 1]
        assert np.median(gaps) == pytest.approx(0.2, abs=0.005)
        assert gaps.min() > 0.05

    def test_everything_is_named_at_the_thing_itself(self):
        texts = [shape.text for shape in read_drawing(FOLDER / "dress-trace.dxf").loose if shape.kind == "text"]
        pattern = draft_nest().sample
        for name, count in (("bust point", 1), ("side dart", 1), ("waist dart", 4), ("grain", 5), ("fold", 2)):
            assert texts.count(name) == count
        assert {f"Piece Name: {piece.name}" for piece in pattern.pieces} <= set(texts)
        assert all(edge.id in texts for piece in pattern.pieces for edge in piece.edges)


class TestJournals:
    @pytest.mark.parametrize(("name", "records"), [("odile.json", odile), ("maren.json", maren)])
    def test_files_are_the_planned_records(self, name, records):
        assert read_journal((FOLDER / name).read_bytes(), name=name) == records()

    @pytest.mark.parametrize(
        ("size", "records", "told"), [(ODILE_SIZE, odile, ["cap-height"]), (MAREN_SIZE, maren, [])]
    )
    def test_every_step_is_carried_out_and_nothing_stops_the_cutting(self, size, records, told):
        base = draft_nest().pattern(size)
        done = replay(base, records())
        assert [finding.code for finding in done.findings] == told
        assert {finding.level for finding in done.findings} <= {Level.NOTE}
        findings = check_pattern(done.pattern, base=base)
        assert [finding for finding in findings if finding.level is Level.STOP] == []

    @pytest.mark.parametrize("size", draft_nest().sizes)
    @pytest.mark.parametrize("records", [odile, maren])
    def test_steps_fit_every_size(self, size, records):
        done = replay(draft_nest().pattern(size), records())
        assert [finding for finding in done.findings if finding.level is not Level.NOTE] == []

    def test_odiles_armhole_is_warned_about_since_her_cap_grew(self):
        base = draft_nest().pattern(ODILE_SIZE)
        findings = check_pattern(replay(base, odile()).pattern, base=base)
        assert [(finding.code, finding.level, finding.piece) for finding in findings] == [
            ("neighbour-not-changed", Level.WARN, "back bodice"),
            ("zip-length", Level.NOTE, "back skirt"),
        ]

    @pytest.mark.parametrize("records", [odile, maren])
    def test_all_but_one_free_slash_of_odile_are_alterations_of_the_handbook(self, records):
        kinds = [record.step.kind for record in records()]
        assert kinds == ["alteration"] * 3 + (["slash"] if records is odile else ["alteration"])

    def test_marens_pieces_are_shorter_and_narrower_by_what_her_journal_says(self):
        base = draft_nest().pattern(MAREN_SIZE)
        after = replay(base, maren()).pattern
        for piece, edge, by_mm in (
            ("front bodice", "centre front", -20.0),
            ("back bodice", "centre back", -20.0),
            ("front bodice", "shoulder", -5.0),
            ("back bodice", "shoulder", -5.0),
            ("front skirt", "centre front", -40.0),
            ("back skirt", "centre back", -40.0),
        ):
            grown_mm = after.piece(piece).sewn_length_mm(edge) - base.piece(piece).sewn_length_mm(edge)
            assert grown_mm == pytest.approx(by_mm, abs=0.05)
        heights = [each.bounds_mm[3] - each.bounds_mm[1] for each in (base.piece("sleeve"), after.piece("sleeve"))]
        assert heights[1] - heights[0] == pytest.approx(-20.0, abs=0.01)

    def test_odiles_bodice_is_wider_at_the_bust_and_longer_but_fits_its_neighbours(self):
        base = draft_nest().pattern(ODILE_SIZE)
        after = replay(base, odile()).pattern
        old, new = base.piece("front bodice"), after.piece("front bodice")
        grown = new.landmark("bust point")[0] - old.landmark("bust point")[0]
        assert 0.0 < grown < 12.7  # within its spread
        assert new.edge("centre front").length_mm - old.edge("centre front").length_mm == pytest.approx(24.4, abs=0.5)
        assert new.sewn_length_mm("waist") == pytest.approx(old.sewn_length_mm("waist"), abs=0.1)

    @pytest.mark.parametrize(("records", "expected"), [(odile, "neighbour-not-changed"), (maren, "corner-across-seam")])
    def test_a_journal_runs_on_the_traced_file_as_on_the_drafted_dress(self, records, expected):
        base = import_pattern(FOLDER / "dress-trace.dxf", unit=Unit.INCH).nest.sample
        done = replay(base, records())
        assert {finding.level for finding in done.findings} <= {Level.NOTE}
        findings = check_pattern(done.pattern, base=base)
        warned = [finding.code for finding in findings if finding.level is Level.WARN]
        assert warned == [expected]
        assert {finding.level for finding in findings} <= {Level.WARN, Level.NOTE}

    def test_toile_by_toile_less_is_advised_and_nothing_at_the_last(self):
        project = choir_project()
        for wearer in project.wearers:
            patterns = [project.replayed(wearer.id, each.id).pattern for each in wearer.rounds]
            advised = [len(advise(case_of(project, wearer, pattern))) for pattern in patterns]
            bought = len(advise(case_of(project, wearer, project.start(wearer.id))))
            assert len(advised) == 3
            assert bought > advised[0] > advised[-1] == 0

    def test_what_is_marked_along_a_cut_stays_in_its_middle(self):
        base = draft_nest().pattern(ODILE_SIZE)
        after = replay(base, odile()).pattern
        grain = after.piece("sleeve").grain
        assert grain is not None
        assert grain.start[0] == pytest.approx(grain.end[0], abs=0.05)
        front = after.piece("front bodice")
        for dart in front.darts:
            hole = next(mark.at for mark in front.marks if mark.kind is MarkKind.DRILL and mark.id == dart.id)
            middle = np.array([dart.tip, midpoint(*front.mouth(dart))])
            assert polyline.nearest(middle, hole)[1] < 0.1
            assert distance_mm(hole, dart.tip) == pytest.approx(12.0, abs=0.1)

    def test_lines_across_stay_level_when_cut_along(self):
        base = draft_nest().pattern(MAREN_SIZE)
        after = replay(base, maren()).pattern
        for piece in after.pieces:
            for line in piece.inner_lines:
                assert np.ptp(line.points[:, 1]) < 0.1


def test_blocks_of_one_piece_grow_from_size_to_size():
    drawing = read_drawing(FOLDER / "dress.dxf")
    blocks = sorted(drawing.blocks, key=lambda block: block.name.rsplit("_", 1)[0])
    for _, group in groupby(blocks, key=lambda block: block.name.rsplit("_", 1)[0]):
        rows = sorted(group, key=lambda block: int(block.name.rsplit("_", 1)[1]))
        areas = [
            abs(polyline.signed_area_mm2(shape.points))
            for block in rows
            for shape in block.shapes
            if shape.layer == "14"
        ]
        assert areas == sorted(areas)
        assert len(areas) == 7


@pytest.mark.parametrize("name", ["dress.dxf", "trousers.dxf", "gored-skirt.dxf", "dress-trace.dxf"])
def test_sample_files_are_what_the_scripts_write_now(written, name):
    """The same tags; numbers to 1e-9, since the last digit is the computer's own."""
    kept, now = ((folder / name).read_text(encoding="ascii").split() for folder in (FOLDER, written))
    assert len(kept) == len(now)
    for mine, theirs in zip(kept, now, strict=True):
        assert mine == theirs or float(mine) == pytest.approx(float(theirs), rel=1e-12, abs=1e-9)


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    folder = tmp_path_factory.mktemp("samples")
    write_samples(folder)
    return folder


class TestFacedDress:
    def test_its_facings_are_paired_from_the_file_and_nothing_is_wrong(self):
        pattern = import_pattern(FOLDER / "faced-dress.dxf").nest.sample
        assert check_pattern(pattern) == ()
        faced = {seam.first[0].piece: seam.second[0] for seam in propose_seams(pattern) if seam.kind == "facing"}
        assert faced == {
            "front neck facing": EdgeRef("front bodice", "neck"),
            "back neck facing": EdgeRef("back bodice", "neck"),
        }
