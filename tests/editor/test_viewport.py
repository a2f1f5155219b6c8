import pytest
from hypothesis import given
from hypothesis import strategies as st

from editor.canvas.viewport import LEAST_PX_PER_MM, MOST_PX_PER_MM, Viewport, fitted, is_seen

places_px = st.tuples(st.floats(-2000, 4000), st.floats(-2000, 4000))
viewports = st.builds(Viewport, st.floats(0.05, 30.0), st.floats(-1e4, 1e4), st.floats(-1e4, 1e4))


@given(viewports, places_px, st.floats(0.2, 5.0))
def test_zoom_keeps_the_place_under_the_pointer(viewport: Viewport, at_px: tuple[float, float], factor: float) -> None:
    assert viewport.zoomed(factor, at_px).to_mm(at_px) == pytest.approx(viewport.to_mm(at_px), abs=1e-6)


@given(viewports, places_px, st.lists(st.floats(0.5, 2.0), max_size=40))
def test_many_zooms_do_not_drift(viewport: Viewport, at_px: tuple[float, float], factors: list[float]) -> None:
    zoomed = viewport
    for factor in factors:
        zoomed = zoomed.zoomed(factor, at_px)
    assert zoomed.to_px(viewport.to_mm(at_px)) == pytest.approx(at_px, abs=0.01)


@given(viewports, places_px)
def test_pixels_and_millimetres_are_inverse(viewport: Viewport, at_px: tuple[float, float]) -> None:
    assert viewport.to_px(viewport.to_mm(at_px)) == pytest.approx(at_px, abs=1e-6)


def test_up_on_the_table_is_up_on_the_screen() -> None:
    low, high = Viewport().to_px((0.0, 0.0)), Viewport().to_px((0.0, 100.0))
    assert high[1] < low[1]


def test_zoom_stops_at_its_limits_and_still_keeps_the_place() -> None:
    near = Viewport().zoomed(1e9, (10.0, 20.0))
    far = Viewport().zoomed(1e-9, (10.0, 20.0))
    assert (near.px_per_mm, far.px_per_mm) == (MOST_PX_PER_MM, LEAST_PX_PER_MM)
    assert near.to_mm((10.0, 20.0)) == pytest.approx(Viewport().to_mm((10.0, 20.0)))


@given(
    st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4), st.floats(1.0, 5e3), st.floats(1.0, 5e3)),
    st.floats(200, 3000),
    st.floats(200, 3000),
)
def test_fitted_shows_the_whole_box_and_touches_the_margin(
    box: tuple[float, float, float, float], width: float, height: float
) -> None:
    x0, y0, wide, high = box
    viewport = fitted((x0, y0, x0 + wide, y0 + high), width, height, margin_px=20.0)
    left, bottom = viewport.to_px((x0, y0))
    right, top = viewport.to_px((x0 + wide, y0 + high))
    slack = 1e-6
    assert left >= 20 - slack
    assert right <= width - 20 + slack
    assert top >= 20 - slack
    assert bottom <= height - 20 + slack
    fills = min(left - 20, top - 20) < 1e-3
    assert fills or viewport.px_per_mm == MOST_PX_PER_MM


def test_pan_moves_what_is_seen_by_the_pixels_asked_for() -> None:
    assert Viewport(2.0).panned(7.0, -3.0).to_px((5.0, 5.0)) == (17.0, -13.0)


@pytest.mark.parametrize(
    ("box", "seen"),
    [
        ((10.0, 10.0, 90.0, 90.0), True),
        ((-50.0, 10.0, 50.0, 90.0), True),
        ((-80.0, 10.0, 20.0, 90.0), False),
        ((-200.0, 10.0, -10.0, 90.0), False),
        ((-200.0, -200.0, -10.0, -10.0), False),
        ((-1000.0, -1000.0, 1000.0, 1000.0), True),
    ],
    ids=["within", "half", "a fifth", "beside", "beyond a corner", "all round"],
)
def test_a_third_of_a_box_or_of_the_widget_is_enough_to_see(box: tuple[float, ...], seen: bool) -> None:
    assert is_seen(box, Viewport(1.0, 0.0, 100.0), 100.0, 100.0) is seen
