"""SVG in true millimetres, read back with the general-purpose XML parser of the standard library."""

import itertools
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from editor.formats.svg_writer import write_svg
from geometry.allowance import cutting_line
from geometry.curves.polyline import length_mm
from samples.draft_dress import draft_nest

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def root(tmp_path_factory):
    path = tmp_path_factory.mktemp("svg") / "dress.svg"
    write_svg(draft_nest().sample, path)
    return ET.parse(path).getroot()


def points(path):
    return np.array([float(number) for number in re.findall(r"-?\d+\.\d+", path.get("d"))]).reshape(-1, 2)


def test_one_user_unit_is_one_millimetre(root):
    _, _, width, height = (float(number) for number in root.get("viewBox").split())
    assert root.get("width") == f"{width:.4f}mm"
    assert root.get("height") == f"{height:.4f}mm"


def test_lines_are_as_long_as_the_pieces(root):
    pieces = {piece.name: piece for piece in draft_nest().sample.pieces}
    groups = {group.find(f"{SVG}title").text: group for group in root.findall(f"{SVG}g")}
    assert set(groups) == set(pieces)
    for name, piece in pieces.items():
        for kind, ring in (("cutting line", cutting_line(piece)), ("stitching line", piece.outline)):
            drawn = points(groups[name].find(f".//{SVG}g[@class='{kind}']/{SVG}path"))
            assert length_mm(drawn) == pytest.approx(length_mm(ring), abs=1e-3)


def test_pieces_lie_inside_the_sheet_and_clear_of_one_another(root):
    spans = []
    for group in root.findall(f"{SVG}g"):
        x, y = (float(number) for number in re.search(r"translate\((\S+) (\S+)\)", group.get("transform")).groups())
        drawn = np.vstack([points(path) for path in group.iter(f"{SVG}path")])
        spans.append((drawn[:, 0].min() + x, drawn[:, 0].max() + x))
        assert (y - drawn[:, 1]).min() > 0
    assert all(a[1] < b[0] for a, b in itertools.pairwise(spans))
    assert spans[-1][1] < float(root.get("viewBox").split()[2])


def test_sizes_laid_over_one_another_differ_in_dashes_not_only_in_hue(tmp_path):
    write_svg(draft_nest(), tmp_path / "nest.svg")
    group = ET.parse(tmp_path / "nest.svg").getroot().find(f"{SVG}g")
    cutting = [
        lines.get("stroke-dasharray", "") for lines in group.iter(f"{SVG}g") if lines.get("class") == "cutting line"
    ]
    assert len(cutting) == len(set(cutting)) == len(draft_nest().sizes)
