"""A pattern read and written again without a step: every text, notch and layer is there, to a millionth of a mm.

Both files are read by ezdxf, which knows nothing of ours.
"""

from collections import defaultdict
from pathlib import Path

import ezdxf
import numpy as np
import pytest

import samples
from editor.formats.dxf_writer import write_drawing
from editor.formats.import_pattern import import_pattern
from editor.formats.pattern_to_drawing import drawing_of

FOLDER = Path(samples.__file__).parent
WITHIN_MM = 1e-6


def contents(path):
    """By block, layer, kind of entity and text: the coordinates, in the order drawn."""
    found = defaultdict(list)
    for block in ezdxf.readfile(path).blocks:
        for entity in block:
            kind, layer = entity.dxftype(), entity.dxf.layer
            if kind == "POLYLINE":
                places, words = [vertex.dxf.location for vertex in entity.vertices], str(entity.is_closed)
            elif kind == "LINE":
                places, words = [entity.dxf.start, entity.dxf.end], ""
            elif kind == "POINT":
                places = [entity.dxf.location, (entity.dxf.thickness, entity.dxf.get("angle", 0.0), 0.0)]
                words = ""
            else:
                places, words = [entity.dxf.insert], entity.dxf.text if kind == "TEXT" else entity.dxf.name
            found[block.name, layer, kind, words].append(np.array([tuple(place) for place in places]))
    return found


@pytest.mark.parametrize("name", ["dress.dxf", "trousers.dxf", "gored-skirt.dxf"])
def test_an_untouched_pattern_comes_back_with_every_text_notch_and_layer(name, tmp_path):
    again = tmp_path / name
    write_drawing(drawing_of(import_pattern(FOLDER / name).nest), again, unit="mm")
    first, second = contents(FOLDER / name), contents(again)
    assert set(first) == set(second)
    layers = {layer for _, layer, _, _ in first}
    assert {"1", "14", "4", "7", "8"} <= layers
    assert any(kind == "TEXT" for _, _, kind, _ in first)
    for where, drawn in first.items():
        assert [len(places) for places in drawn] == [len(places) for places in second[where]], where
        for mine, theirs in zip(drawn, second[where], strict=True):
            np.testing.assert_allclose(theirs, mine, rtol=0, atol=WITHIN_MM, err_msg=str(where))
