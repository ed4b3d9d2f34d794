"""Columns hold every box once, what belongs together together, and heads come again."""

from collections.abc import Iterable
from itertools import pairwise, repeat

from hypothesis import given
from hypothesis import strategies as st

from publisher.layout.boxes import Box, Placed
from publisher.layout.paginate import Area, even, fill

COLUMN = Area(0.0, 10.0, 110.0)
BOXES = st.lists(
    st.builds(
        Box,
        height_mm=st.floats(1, 60),
        before_mm=st.floats(0, 10),
        keep=st.booleans(),
    ),
    min_size=1,
    max_size=40,
)


def columns(boxes: list[Box]) -> list[list[tuple[float, Box]]]:
    return [[(item.y_mm, item.box) for item in placed] for placed in fill(boxes, repeat(COLUMN))]


@given(BOXES)
def test_every_box_is_placed_once_and_in_order(boxes: list[Box]) -> None:
    placed = [box for column in columns(boxes) for _, box in column]
    assert placed == boxes


@given(BOXES)
def test_nothing_stands_below_a_column(boxes: list[Box]) -> None:
    for column in columns(boxes):
        for y, box in column:
            assert y + box.height_mm <= COLUMN.bottom_mm + 1e-5


@given(BOXES)
def test_boxes_do_not_overlap(boxes: list[Box]) -> None:
    for column in columns(boxes):
        for (y, box), (below, _) in pairwise(column):
            assert y + box.height_mm <= below + 1e-9


@given(BOXES)
def test_a_heading_is_not_left_alone_at_the_foot(boxes: list[Box]) -> None:
    """Unless what it belongs to would fill more than a whole column."""
    chain = 0.0
    tallest = 0.0
    for box in boxes:
        chain += box.height_mm + box.before_mm
        tallest = max(tallest, chain)
        if not box.keep:
            chain = 0.0
    if tallest > COLUMN.height_mm:
        return
    for column in columns(boxes)[:-1]:
        assert not column[-1][1].keep


def test_a_tables_head_comes_again_on_the_next_page() -> None:
    head = Box(10.0, "head", keep=True)
    rows = [Box(30.0, "row", head=head if n else None) for n in range(5)]
    first, second = columns([head, *rows])
    assert [box.macro for _, box in first] == ["head", "row", "row", "row"]
    assert [box.macro for _, box in second] == ["head", "row", "row"]


def test_a_head_that_comes_again_takes_its_room() -> None:
    """Two rows of 45 mm fill a column of 100 mm; with a head of 15 mm above them they do not."""
    head = Box(15.0, "head", keep=True)
    rows = [Box(45.0, "row", head=head if n else None, keep=n % 2 == 1) for n in range(5)]
    for column in columns([head, *rows]):
        assert all(y + box.height_mm <= COLUMN.bottom_mm + 1e-5 for y, box in column)


def test_a_rule_between_rows_is_left_out_at_the_top() -> None:
    rule = Box(2.0, "rule", keep=True, between=True)
    row = Box(45.0, "row")
    found = columns([rule, row, rule, row, rule, row])
    assert [[box.macro for _, box in column] for column in found] == [
        ["row", "rule", "row"],
        ["row"],
    ]


def test_room_above_is_dropped_at_the_top_of_a_column() -> None:
    ((y, _),) = columns([Box(10.0, before_mm=7.5)])[0]
    assert y == COLUMN.top_mm


SIDE_BY_SIDE = [Area(0.0, 10.0, 110.0), Area(60.0, 10.0, 110.0)]


@given(BOXES)
def test_columns_are_made_even_with_every_box_in_order(boxes: list[Box]) -> None:
    filled = list(fill(boxes, repeat(COLUMN)))
    if len(filled) > len(SIDE_BY_SIDE):
        return
    made = even(boxes, SIDE_BY_SIDE)
    assert [item.box for column in made for item in column] == boxes
    assert len(made) <= len(SIDE_BY_SIDE)
    assert longest(made) <= longest(filled) + 1e-6


def longest(columns: Iterable[tuple[Placed, ...]]) -> float:
    return max(column[-1].y_mm + column[-1].box.height_mm for column in columns)


def test_columns_that_could_be_even_are() -> None:
    made = even([Box(15.0) for _ in range(6)], SIDE_BY_SIDE)
    assert [len(column) for column in made] == [3, 3]
    assert [len(column) for column in even([Box(15.0)], SIDE_BY_SIDE)] == [1]
