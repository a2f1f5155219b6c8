"""Tools in which nothing is typed, all on one base."""

import pytest

from editor.tools.base import ToolWithoutAmount
from editor.tools.landmark import LandmarkTool
from editor.tools.measure import MeasureTool
from editor.tools.seam import SeamTool
from editor.tools.select import SelectTool
from editor.tools.walk import WalkTool
from tests.editor.tool_scenes import scene


@pytest.mark.parametrize("kind", [LandmarkTool, MeasureTool, SeamTool, SelectTool, WalkTool])
def test_nothing_is_typed_and_nothing_is_held_before_something_is_begun(kind) -> None:
    tool = kind()
    tool.set_amount(12.0, scene())
    assert isinstance(tool, ToolWithoutAmount)
    assert (tool.amount_mm, tool.is_busy, tool.holds_change) == (None, False, False)
