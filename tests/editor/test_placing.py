from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from editor.canvas.placing import GAP_MM, placed

Box = tuple[float, float, float, float]
boxes = st.lists(
    st.tuples(st.floats(-500, 500), st.floats(-500, 500), st.floats(10, 900), st.floats(10, 900)).map(
        lambda row: (row[0], row[1], row[0] + row[2], row[1] + row[3])
    ),
    max_size=12,
).map(lambda found: {f"piece {index}": box for index, box in enumerate(found)})


def shifted(box: Box, by: tuple[float, float]) -> Box:
    return (box[0] + by[0], box[1] + by[1], box[2] + by[0], box[3] + by[1])


@given(boxes)
def test_no_two_sheets_overlap_and_a_gap_stays_between(given_boxes: dict[str, Box]) -> None:
    lying = [shifted(box, placed(given_boxes)[name]) for name, box in given_boxes.items()]
    for a, b in combinations(lying, 2):
        apart = max(a[0] - b[2], b[0] - a[2], a[1] - b[3], b[1] - a[3])
        assert apart >= GAP_MM - 1e-6


@given(boxes)
def test_every_piece_has_a_place(given_boxes: dict[str, Box]) -> None:
    assert list(placed(given_boxes)) == list(given_boxes)


def test_a_wide_table_takes_one_row_and_a_tall_one_a_column() -> None:
    same = {f"piece {index}": (0.0, 0.0, 100.0, 100.0) for index in range(4)}
    wide, tall = placed(same, aspect=10.0), placed(same, aspect=0.1)
    assert len({y for _, y in wide.values()}) == 1
    assert len({x for x, _ in tall.values()}) == 1


def test_pieces_of_a_row_stand_on_one_line() -> None:
    given_boxes = {"low": (0.0, -20.0, 100.0, 80.0), "tall": (0.0, 30.0, 100.0, 400.0)}
    shifts = placed(given_boxes, aspect=10.0)
    assert -20.0 + shifts["low"][1] == 30.0 + shifts["tall"][1]
